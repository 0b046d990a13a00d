"""What each of the four panes holds for an answer: its fields, its answers and its diagrams."""

import math
from collections.abc import Callable, Iterator
from textwrap import wrap

from forescale.engine.answer import Answer
from forescale.engine.findings.light import light_wanted, steady_rates
from forescale.engine.findings.words import Words, moves
from forescale.engine.formulas.lineup import SIZE_RIGHT
from forescale.engine.kit.pupil import rows_text
from forescale.engine.shot.sections import PANS, TILTS, WAYS
from forescale.engine.solve.record import Pane
from forescale.engine.solve.slip_check import ON_AXIS_MM, head_turns, slide_goal
from forescale.engine.units import angle_text, data_text, filter_text, number_text, ratio_text, rounded_up, speed_text
from forescale.engine.units.stops import LARGEST_STOP_NUMBER, SMALLEST_STOP_NUMBER, stops_text
from forescale.engine.units.text import time_text
from forescale.tui.diagrams import bars, curves, views
from forescale.tui.panes.content import AnswerRow, PaneContent, fields, length, set_here

FRAME = 31  # columns that one row of the narrowest pane of three has for the frame's size


def scale(answer: Answer) -> PaneContent:
    """Return what the pane holds: ratio, what it builds, where it stands, and the line-up."""
    ratio, scale = answer.lineup.reads_as_ratio, answer.scale
    reads_as = "no ratio" if ratio == float("inf") else ratio_text(float(f"{ratio:.3g}"))
    size, of = (1000 / scale.ratio, "mm/m") if answer.system == "metric" else (scale.inches_per_foot, "in/ft")
    hints = {"scale.ratio": f"{number_text(size, 3)} {of}", "place.model": f"as {reads_as}"}
    hints |= {"scale.rounding": scale.rounding}
    return PaneContent(
        fields=fields("scale.ratio place.model place.background place.lens_height place.feature_height", hints),
        more_fields=fields("place.aim place.seems_at place.fills place.mount scale.compare scale.rounding", hints),
        to_set=set_here(answer, "lineup.hang_height_mm" if answer.lineup.hang_height_mm else "lineup.foot_height_mm"),
        answers=tuple(_scale_answers(answer)),
        diagrams=(views.side,),
    )


def _scale_answers(answer: Answer) -> Iterator[AnswerRow]:
    lined, system, scale, words = answer.lineup, answer.system, answer.scale, Words(answer)
    wrong = lined.size_error - 1
    if lined.size_error == float("inf"):
        yield AnswerRow("no size to match at infinity", "lineup.size_error")
    else:
        size = "size right" if abs(wrong) < SIZE_RIGHT else f"{Words.off(wrong)} {'large' if wrong > 0 else 'small'}"
        yield AnswerRow(f"match at {words.length(lined.match_distance_mm)}: {size}", "lineup.match_distance_mm")
    if scale.build:
        first = scale.build[0]
        yield AnswerRow(first.shop, "scale.build.model_mm", name=first.part)
    wide, high = length(lined.frame_width_model_mm, system), length(lined.frame_height_model_mm, system)
    frame = f"frame {wide} × {high}"
    if len(frame) <= FRAME:
        yield AnswerRow(f"frame at model {wide} × {high}", "lineup.frame_width_model_mm", frame)
    else:
        yield AnswerRow(f"frame at model {wide} across", "lineup.frame_width_model_mm", f"frame {wide} across")
        yield AnswerRow(f"frame at model {high} up", "lineup.frame_height_model_mm", f"frame {high} up")
    if answer.setting.move.axis in PANS:
        yield AnswerRow(f"cover across {length(lined.cover_width_mm, system)}", "lineup.cover_width_mm")
    elif answer.setting.move.axis in TILTS:
        yield AnswerRow(f"cover up, down {length(lined.cover_height_mm, system)}", "lineup.cover_height_mm")
    yield AnswerRow(f"camera may drift {words.within(lined.drift_tolerance_mm)}", "lineup.drift_tolerance_mm")
    yield AnswerRow(f"model may be off {words.within(lined.place_tolerance_mm)}", "lineup.place_tolerance_mm")
    fine = scale.finest_model_mm or scale.detail_model_mm
    real = scale.finest_real_mm or scale.detail_real_mm
    yield AnswerRow(f"finest: {words.small(fine)} is {words.small(real)} real", "scale.finest_model_mm")
    if lined.hang_height_mm is not None and lined.foot_height_mm is not None:
        yield AnswerRow(f"table height {length(lined.foot_height_mm, system)}", "lineup.foot_height_mm")
    yield from (AnswerRow(item.shop, "scale.build.model_mm", name=item.part) for item in scale.build[1:])
    for stock in scale.stock:
        yield AnswerRow(f"reads as {length(stock.reads_as_mm, system)}", "scale.stock.reads_as_mm", name=stock.item)


def speed(answer: Answer) -> PaneContent:
    """Return what the pane holds: rate, weight, run and screen time, the move, and the light that all of it needs."""
    run, over = answer.speed, answer.light.over_stops
    exposure = f"1/{number_text(1 / run.exposure_s, 3)} s" if run.exposure_s < 0.5 else time_text(run.exposure_s)
    light = "" if over is None else "just right" if abs(over) < 0.05 else stops_text(f"{over:+.1f}")
    if any(lamp.lux for lamp in answer.light.lamps):
        light += " with lamps"
    lamps = {None: "", True: "flicker-free", False: "will flicker"}[answer.light.flicker_safe]
    hints = {"action.fps": f"ideal {number_text(run.ideal_fps, 4)}", "action.shutter": exposure}
    hints |= {"light.available": light, "light.mains": lamps}
    hints["action.kind"] = "caution: f" * any(one.code.startswith("caution-") for one in answer.findings)
    seldom = "light.nd light.mains action.screen_time action.playback_fps action.heft action.real_speed"
    return PaneContent(
        fields=fields("action.kind action.fps action.shutter light.iso light.available", hints),
        more_fields=fields(seldom, hints),
        to_set=set_here(answer, "speed.set_time_s", "speed.move_set_time_s"),
        answers=tuple(_speed_answers(answer)),
        diagrams=(bars.rates,),
    )


def _speed_answers(answer: Answer) -> Iterator[AnswerRow]:
    run, lit, action = answer.speed, answer.light, answer.setting.action
    drive = None if run.model_speed_mm_s is None else speed_text(run.model_speed_mm_s, answer.system)
    if action.scaled:
        yield AnswerRow(f"gravity looks {Words.weight(run.apparent_gravity)} × real", "speed.apparent_gravity")
    elif drive is None or "driven" not in action.kinds:
        yield AnswerRow("nothing falls: any rate serves", "speed.apparent_gravity")
    if drive is not None:
        yield AnswerRow(f"drive the model at {drive}", "speed.model_speed_mm_s")
    yield AnswerRow(f"for {time_text(run.screen_time_s)} on the screen", "speed.screen_time_s")
    fit = f", fit {filter_text(lit.fit_stops)}" if lit.fit_stops else ""
    yield AnswerRow(f"needs {light_wanted(answer)}{fit}", "light.lux_with_nd" if lit.nd_fitted else "light.lux_needed")
    if run.crossing_s is not None:
        yield AnswerRow(f"a thing crosses the frame in {time_text(run.crossing_s)}", "speed.crossing_s")
    if lit.flicker_safe is False:
        safe = [] if lit.safe_shutter_deg is None else [f"{number_text(lit.safe_shutter_deg, 4)}°"]
        safe += [f"{number_text(rate, 5)} fps" for rate in steady_rates(answer)[:1]]
        yield AnswerRow(f"flicker-free at {' or '.join(safe) or 'no rate or shutter'}", "light.safe_fps")
    yield AnswerRow(f"smallest scale, top rate {Words.ratio_at_most(run.largest_ratio)}", "speed.largest_ratio")
    if lit.iso_needed is not None:
        yield AnswerRow(f"this light asks for ISO {number_text(rounded_up(lit.iso_needed, 3), 3)}", "light.iso_needed")
    yield AnswerRow(f"{number_text(run.frames, 5)} frames", "speed.frames")
    if run.data_mb is not None:
        yield AnswerRow(f"{data_text(run.data_mb)} a take", "speed.data_mb")


def focus(answer: Answer) -> PaneContent:
    """Return what the pane holds: focus mark, stop, the zone they hold, and what contrast is left over it."""
    words = Words(answer)
    stop = f"f/{number_text(answer.focus.f_number, 3)}" if answer.kit.lens.marks == "T" else ""
    return PaneContent(
        fields=fields("focus.distance focus.stop place.model_near place.background_far", {"focus.stop": stop}),
        more_fields=fields("focus.sharpness kit.focal_length", {}),
        answers=tuple(_focus_answers(answer, words)),
        diagrams=(bars.distances, curves.contrast),
    )


def _focus_answers(answer: Answer, words: Words) -> Iterator[AnswerRow]:
    zone, contrast = answer.focus, answer.focus.contrast
    near, far = f"sharp {words.sharp_from(zone.near_mm)} to", words.sharp_to(zone.far_mm)
    yield AnswerRow(f"{near} {far}", "focus.near_mm", f"{near}\n  {far}")
    mark = "T" if answer.kit.lens.marks == "T" else "f/"
    needs, shot = map(answer.kit.lens.mark, (zone.stop_needed, zone.f_number))
    short = needs > shot and not zone.covers  # T13 stands for T12.7, which does not hold what needs T12.8
    digits = next((few for few in range(3, 6) if not short or number_text(needs, few) != number_text(shot, few)), 6)
    needed, at = number_text(needs, digits), number_text(shot, digits)
    needed += ".0" * (needed.isdigit() and needs > 0)  # nor is T13.0 that mark
    held = f"{mark}{at} does not hold it" if short else "held" if zone.covers else "not held"
    brief = f"needs {mark}{needed}, has {mark}{at}: not held" if short else ""
    if SMALLEST_STOP_NUMBER <= zone.stop_needed <= LARGEST_STOP_NUMBER:
        yield AnswerRow(f"the zone needs {mark}{needed}: {held}", "focus.stop_needed", brief)
    else:  # a number beyond all sense
        yield AnswerRow(f"{words.f_stop(zone.stop_needed)} holds the zone", "focus.stop_needed")
    if contrast is not None:
        best = f"best {words.stop(contrast.best_f_number)}, {words.percent(contrast.best_worst)}"
        yield AnswerRow(f"contrast {words.percent(contrast.worst)}; {best}", "focus.contrast.best_f_number")
        points = f"near {100 * contrast.near:.0f}, focus {100 * contrast.focus:.0f}, far {100 * contrast.far:.0f}"
        fineness = f"at {number_text(contrast.frequency_lpmm, 2)} lp/mm"
        yield AnswerRow(f"{fineness}: {points}", "focus.contrast.near", points)
    if zone.split_dioptres is not None:
        power = f"split-field +{zone.split_dioptres:g}"
        yield AnswerRow(f"no stop holds it: {power}, see f", "focus.split_dioptres", f"no stop: {power}, see f")
    yield AnswerRow(f"hyperfocal {length(zone.hyperfocal_mm, answer.system)}", "focus.hyperfocal_mm")
    blur = f"{1000 * zone.coc_mm:.1f} µm, Airy {1000 * zone.airy_mm:.1f} µm"
    yield AnswerRow(f"circle of confusion {blur}", "focus.coc_mm", f"CoC {blur}")


def slip(answer: Answer) -> PaneContent:
    """Return what the pane holds: where the lens turns, what that does, where to set the slide, the bench."""
    goal = slide_goal(answer)
    to_set = "" if goal is None else f"best {goal.to_set_text}{'' if goal.end_mm is None else ', its end'}"
    move, hints = answer.setting.move, {"move.slide": to_set, "move.tolerance": "px may pass"}
    (ends, begins), whole = WAYS[move.axis], angle_text(move.start + move.sweep)
    hints |= {"move.sweep": f"{ends}, {whole} in all", "move.start": begins} if move.start else {}
    return PaneContent(
        fields=fields("move.axis move.sweep move.slide move.tolerance", hints),
        more_fields=fields("move.screen_time move.start move.tilt_sweep move.travel", hints),
        answers=(*_slip_answers(answer), *_pupil(answer)),
        diagrams=(views.plan, curves.slip_in_move) if head_turns(answer) else (views.plan,),
    )


def _slip_answers(answer: Answer) -> Iterator[AnswerRow]:
    checked = answer.slip
    if not moves(answer):
        yield AnswerRow("locked off: nothing slips", "slip.slip_px")
    elif checked.slip_px is None:
        yield AnswerRow("slip not known", "slip.slip_px")
    else:
        yield _slips(checked.slip_px, checked.largest_slip_px or 0.0)
    yield from _slide(answer)
    yield from _bench(answer)


def _slips(at_end_px: float, most_px: float) -> AnswerRow:
    """Say what slips by the end of the move, or on the way where that is more."""
    on_the_way = abs(most_px) > max(1.01 * abs(at_end_px), 0.1)
    slips, when = (most_px, " on the way") if on_the_way else (at_end_px, "")
    by = "under 0.1" if abs(slips) < 0.1 else number_text(abs(slips), 2)
    key = "slip.largest_slip_px" if on_the_way else "slip.slip_px"
    return AnswerRow(f"model {'outruns' if slips > 0 else 'lags'} by {by} px{when}", key)


def _slide(answer: Answer) -> Iterator[AnswerRow]:
    """Say at which reading the move holds, whether or not the head reaches so far."""
    zero, goal = answer.slip.slide_for_zero_mm, slide_goal(answer)
    if goal is not None:
        within = "" if math.isinf(goal.within_mm) else f" ± {goal.scale.at_most(goal.within_mm)}"
        bare = goal.place_text.removesuffix(f" {goal.scale.unit}") if within else goal.place_text
        text = f"{'holds with' if goal.end_mm is None else 'would hold beyond'} the slide at {goal.place_text}{within}"
        yield AnswerRow(text, "slip.slide_for_zero_mm", f"slide {bare}{within}")
    elif zero is not None:
        text = f"no slip at the end at {Words(answer).on_slide.told(zero)}, too much on the way"
        yield AnswerRow(text, "slip.slide_for_zero_mm", "no place of the slide holds")


def _bench(answer: Answer) -> Iterator[AnswerRow]:
    found, scale = answer.slip.bench, Words(answer).on_slide
    if found is None:
        return
    if found.slide_for_zero_mm is not None:
        error = "" if found.band_mm is None else f" ± {scale.about(found.band_mm)}"
        zero = scale.number(found.slide_for_zero_mm) if error else scale.told(found.slide_for_zero_mm)
        text = f"bench: {'zero at' if found.bracket_mm is None else 'by eye at'} {zero}{error}"
        yield AnswerRow(text, "slip.bench.slide_for_zero_mm")
    elif found.try_next_mm is not None:
        yield AnswerRow(f"bench: try {scale.told(found.try_next_mm)} next", "slip.bench.try_next_mm")


def _pupil(answer: Answer) -> Iterator[AnswerRow]:
    checked, scale = answer.slip, Words(answer).on_slide
    known = f"{scale.told(checked.pupil_ahead_mm)} ahead of the sensor" if checked.pupil_known else "not known"
    yield AnswerRow(f"pupil {known}", "slip.pupil_ahead_mm")
    if checked.pupil_rows:
        text = rows_text(checked.pupil_rows, answer.system)
        yield AnswerRow(f"  {text}", "slip.pupil_ahead_mm", "\n".join(f"  {line}" for line in wrap(text, 34)))
    if (offset := checked.offset_mm) is not None:
        off = f"{'+' if offset > 0 else ''}{scale.told(offset)} from" if abs(offset) >= ON_AXIS_MM else "on"
        yield AnswerRow(f"pupil {off} the axis", "slip.offset_mm")
    if checked.model_from_axis_mm is not None:
        far = length(checked.model_from_axis_mm, answer.system)
        yield AnswerRow(f"model {far} from the axis", "slip.model_from_axis_mm")


CONTENTS: dict[Pane, Callable[[Answer], PaneContent]] = {"scale": scale, "speed": speed, "focus": focus, "slip": slip}
