"""What may mend rate, weight and move, light and lamps, and what is timed."""

import math
from collections.abc import Iterator

from forescale.engine.findings.frame_rate import SKEW_NOTICED_PX, next_lower
from forescale.engine.findings.light import SOFTER, steady_rates
from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, light, lineup
from forescale.engine.kit.profiles import Rates
from forescale.engine.mends.focus import refocused
from forescale.engine.mends.taking import Changes, Offers, stood_at, turned
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.solve.speed_light import chosen_fps
from forescale.engine.solve.view import view_of
from forescale.engine.units import number_text, rounded_down, rounded_up
from forescale.engine.units.compass import DAY_S, clock_text, parse_clock

LEFT_NOTICED = 1 / 3  # stops over that a whole filter leaves and that are worth a word
STEP_S = 600.0


def rates(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the rate that serves the action, those at which lamps are steady, and the nearest that the mode has."""
    mode, now = of.kit.mode, of.speed.fps
    serves = chosen_fps(of.setting.action, mode, of.speed.ideal_fps)
    if isinstance(mode.fps, Rates):
        near = min(max(now, mode.fps.min), mode.fps.max)
    else:
        near = min(mode.fps, key=lambda fps: (abs(fps - now), fps))
    first = (serves, near) if of.setting.action.scaled else (near, serves)
    yield from set_rates(*first, *steady_rates(of))


def set_rates(*rates: float | None) -> Iterator[Mend]:
    """Yield each of the rates that there are."""
    yield from (Mend("", {"action.fps": number_text(fps, 6)}) for fps in rates if fps is not None)


def as_chosen(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the rate that was chosen, so that it stays, and the next lower one."""
    yield Mend(f"keep {Words.rate(of.speed.fps)}", {"action.fps": number_text(of.speed.fps, 6)})
    yield from set_rates(next_lower(of))


def heavier(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the rate that serves, a faster mode, and the larger model that the top rate serves."""
    yield from rates(of, finding)
    ideal, place = of.speed.ideal_fps, of.setting.place
    if of.speed.top_fps >= ideal * (1 - 1e-9):
        return
    for mode in of.kit.camera.mode:
        if mode.top_fps >= ideal and mode.name != of.kit.mode.name:
            fps = number_text(chosen_fps(of.setting.action, mode, ideal), 6)
            yield Mend("", {"kit.mode": mode.name, "action.fps": fps}, "another frame size: line up and focus anew")
    serves = rounded_down(of.speed.largest_ratio, 3)
    if serves >= 1:
        top = number_text(of.speed.top_fps, 6)
        changes: Changes = {"scale.ratio": f"1:{number_text(serves, 3)}", "action.fps": top}
        if place.model is not None and math.isfinite(of.setup.seems_mm):
            changes |= stood_at(of, of.setup.tape(lineup.match_distance_mm(of.setup.seems_mm, serves)), serves)
        yield Mend("", changes, "everything is built larger")


def slower_move(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the screen time, or the sweep, at which the move no longer shows it."""
    run, move, action = of.speed, of.setting.move, of.setting.action
    if run.crossing_s is None:
        return
    factor = frame_rate.judder_s(action.playback_fps) / run.crossing_s
    if finding.code == "readout-skew":
        factor = (run.readout_skew_px or 0.0) / SKEW_NOTICED_PX
    time = (move.screen_time or action.screen_time) * factor
    price = f"longer than the action's {number_text(action.screen_time)} s" if time > action.screen_time else None
    yield Mend("", {"move.screen_time": f"{number_text(rounded_up(time), 3)} s"}, price)
    whole = (move.start + move.sweep) / factor
    if (less := rounded_down(whole / 2 if move.start == move.sweep else max(whole - move.start, 0.0))) > 0:
        yield Mend("", turned(of, f"{number_text(less)} deg"), "a smaller turn")


def still_behind(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the ways out where the background moves too slowly."""
    yield Mend("keep all that moves out of the background", price="no people, trees in wind, smoke or water there")
    apart = "shoot the model on a locked rig in a pass of its own, and the place at the playback rate"
    yield Mend(apart, price="the two are joined later, not in the camera")
    if of.speed.time_factor > 2 and of.scale.ratio >= 4:
        built, larger = map(Words.ratio, (of.scale.ratio, of.scale.ratio / 4))
        yield Mend(f"build larger: {larger} takes half the frame rate of {built}, and the place moves half as slowly")


def longer(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the screen time that shows the move, the fall, or the last cue; a move as long as the action."""
    fall = 0.0 if of.timing is None else of.timing.fall_screen_s or 0.0
    cues = () if of.timing is None else of.timing.cues
    move = of.setting.move.screen_time or 0.0 if finding.code == "move-longer" else 0.0
    for time in (move, fall, max((cue.screen_s for cue in cues), default=0.0)):
        if time > of.speed.screen_time_s:
            yield Mend("", {"action.screen_time": f"{number_text(rounded_up(time, 3), 4)} s"}, "a longer shot")
    if move:
        yield Mend("", {"move.screen_time": f"{number_text(of.speed.screen_time_s)} s"})


def top_iso(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the nearest film speed of the mode, and its base."""
    mode = of.kit.mode
    yield Mend("", {"light.iso": number_text(min(max(of.light.iso, mode.lowest_iso), mode.iso_max), 5)})
    yield Mend("", {"light.iso": None})


def more_light(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the filter, the film speed and the stop that the light there is suffices for."""
    lit, words = of.light, Words(of)
    fitted = of.setting.light.nd or 0.0
    if fitted > 0:
        yield Mend("", {"light.nd": number_text(min(lit.nd_stops or 0.0, fitted))})
    if lit.iso_needed is not None and lit.iso_needed <= of.kit.mode.iso_max:
        iso = min(light.speed_to_set(lit.iso_needed), of.kit.mode.iso_max)
        yield Mend("", {"light.iso": number_text(iso, 5)})
    better = refocused(of)
    if better is not None and better[1] < of.focus.f_number:
        yield Mend("", {"focus.distance": better[0], "focus.stop": words.stop(better[1])})
    wide = of.focus.f_number * 2 ** ((lit.over_stops or 0) / 2)
    opened = max((mark for mark in of.kit.lens.f_numbers if mark <= wide * (1 + 1e-6)), default=None)
    if opened is not None and math.isfinite(wide):
        yield Mend("", {"focus.stop": words.stop(opened)})


def less_light(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield a raised film speed back at its base, with a filter if need be; the filter alone; a lower speed."""
    lit, mode = of.light, of.kit.mode
    stops, price, fitted = lit.nd_stops or 0, None, lit.nd_fitted or 0.0
    left = (lit.over_stops or 0.0) + fitted - stops
    if lit.iso > mode.iso_base and lit.iso_needed is not None:
        yield Mend("", {"light.iso": number_text(light.speed_to_set(max(lit.iso_needed, mode.iso_base)), 5)})
        rest = light.nd_stops((lit.over_stops or 0.0) + fitted - math.log2(lit.iso / mode.iso_base))
        if rest > fitted:
            yield Mend("", {"light.iso": number_text(mode.iso_base, 5), "light.nd": number_text(rest)})
    if left > LEFT_NOTICED:
        price = f"{Words(of).stops(left)} over are left: close down, or let a grade take it"
    yield Mend("", {"light.nd": number_text(stops)}, price)
    if lit.iso > mode.lowest_iso and lit.iso_needed is not None:
        yield Mend("", {"light.iso": number_text(light.speed_to_set(max(lit.iso_needed, mode.lowest_iso)), 5)})


def steady(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the shutter at which lamps are steady however the sensor reads out, and the rates."""
    if of.light.safe_shutter_deg is not None:
        yield Mend("", {"action.shutter": f"{number_text(of.light.safe_shutter_deg, 4)} deg"})
    for fps in steady_rates(of) if finding.code == "flicker" else ():
        price = "holds while the mains hold: on a generator no rate is flicker-free"
        yield Mend("", {"action.fps": number_text(fps, 5)}, price)


def lamp_farther(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield where a lamp would stand to be reckoned, to fall off no more than passes, or to read as the sun."""
    path = finding.field.replace(".size", ".stands")
    row = int(path.split(".")[1]) - 1
    lamp, found = of.setting.lamp[row], of.light.lamps[row]
    if lamp.stands is None:
        return
    wanted = found.point_from_mm or 0.0
    if finding.code == "lamp-falls-off":
        deep = lamp.stands * (2 ** ((found.fall_stops or 0.0) / 2) - 1)
        wanted = 1.01 * deep / (2 ** (light.STOPS_SEEN / 2) - 1)
    elif finding.code == "lamp-soft":
        wanted = 1.01 * (lamp.size or 0.0) / (SOFTER * light.SUN_WIDTH_SHARE)
    less = Words.stops(2 * math.log2(wanted / lamp.stands))
    yield Mend("", {path: Words(of).sharp_from(wanted)}, f"{less} less of its light")


def other_time(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the nearest times on either side, the nearer first, at which the sun is up and no sun or shadow is seen."""
    from forescale.engine.solve.sun_group import sun_group

    view, sun, ways = view_of(of.setting, of.kit, of.setup), of.setting.sun, [STEP_S, -STEP_S]
    for steps in range(1, int(DAY_S / STEP_S)):
        for way in [way for way in ways if 0 <= (sun.time or 0.0) + steps * way < DAY_S]:
            time = (sun.time or 0.0) + steps * way
            then = of.setting.model_copy(update={"sun": sun.model_copy(update={"time": time})})
            found = sun_group(then, of.setup, view)
            shadow = None if found is None else found.rig_shadow
            if found is not None and found.up and not found.in_frame and not (shadow and shadow.in_frame):
                ways.remove(way)
                yield Mend("", {"sun.time": clock_text(time // 60 * 60)})


def in_window(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the middle of each window in which the sun stands as in the plate."""
    for window in () if of.sun is None else of.sun.windows:
        begin, end = (DAY_S if clock == "24:00" else parse_clock(clock) for clock in window)
        yield Mend("", {"sun.time": clock_text((begin + end) // 120 * 60)})


def another_day(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the day of the next thirty on which the sun comes nearest to where it stood."""
    days = of.sun.nearest_on if of.sun else ()
    if known := [day for day in days if day.misses_deg is not None and day.time is not None]:
        day = min(known, key=lambda day: day.misses_deg or 0.0)
        yield Mend("", {"sun.date": day.date, "sun.time": day.time})


OFFERS: tuple[tuple[Offers, str], ...] = (
    (rates, "rate-missing rate-high"),
    (heavier, "rate-low"),
    (as_chosen, "rate-chosen"),
    (slower_move, "judder readout-skew"),
    (still_behind, "background-slow"),
    (longer, "fall-cut cue-late move-longer"),
    (top_iso, "iso-missing"),
    (more_light, "light-short"),
    (less_light, "light-over"),
    (steady, "flicker bands"),
    (lamp_farther, "lamp-near lamp-falls-off lamp-soft"),
    (other_time, "sun-down sun-in-frame rig-shadow"),
    (in_window, "light-not-now"),
    (another_day, "light-never-matches"),
)
