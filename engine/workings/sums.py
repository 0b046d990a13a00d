"""Sums that a text of words.toml does not hold, of all but slip; as texts with braces."""

from collections.abc import Callable

from forescale.engine.answer import Answer
from forescale.engine.formulas import contrast, flicker, focus, lineup, optics, stand
from forescale.engine.shot.rows import SurveyRow
from forescale.engine.shot.sections import PANS, TILTS
from forescale.engine.solve.focus_zone import split_field
from forescale.engine.solve.speed_light import pulse_of
from forescale.engine.solve.survey_group import sighting
from forescale.engine.units import FORCE, WEIGHT, illuminance_text, measured_in, number_text
from forescale.engine.workings.figures import Figures


def _finest(of: Answer) -> str:
    say = Figures(of)
    seen = of.scale.finest_model_mm or 0.0
    lines = of.setup.model_mm / (2 * seen * of.setup.image_mm) if seen else 0.0
    distance, image = say.exact(of.setup.model_mm), say.exact(of.setup.image_mm)
    return f"{distance} / (2 × {say.number(lines)} line pairs/mm × {image}) = {{}}"


def _cover(of: Answer, axes: frozenset[str], side: str, side_mm: float) -> str:
    move = of.setting.move
    if (of.speed.move_set_time_s is not None and move.axis not in axes) or not Figures(of).plain:
        return "the corners of the frame, followed over the whole move: {}"
    half = Figures.degrees(optics.half_field_deg(side_mm, of.setup.image_mm))
    sides = f"2 × tan({half})"
    if move.axis in axes and move.sweep:
        sides = f"(tan({half}) + tan({half} + {{degrees setting.move.sweep}}))"
    return f"half the angle of view: atan({side} / (2 × {{v}})) = {half}; {{d}} × {sides} = {{}}"


class _Seen:
    """The first survey reading as it is worked with: what was read, the lens that it was read through, its pupil."""

    def __init__(self, of: Answer) -> None:
        rows = of.setting.survey
        self.row = rows[0] if rows else SurveyRow()
        self.read, self.lens, ahead_mm = sighting(self.row, of.setting, of.kit, of.setup)
        self.say = say = Figures(of)
        side = self.lens.height_mm if self.read.of_height else self.lens.width_mm
        self.picture = f"{say.number(self.read.share or 0.0)} × {say.mm(side)}"
        tape, ahead = say.length(of.survey.distance_mm or 0.0), say.small(abs(ahead_mm))
        self.away = tape if ahead_mm == 0 else f"({tape} {'−' if ahead_mm > 0 else '+'} {ahead})"
        self.to_tape = "" if ahead_mm == 0 else f" {'+' if ahead_mm > 0 else '−'} {ahead}"
        aimed = f" × cos({say.degrees(self.read.aim_deg)})" if self.read.aim_deg else ""
        self.image = f"({say.mm(self.lens.image_mm)}{aimed})" if aimed else say.mm(self.lens.image_mm)
        self.spans = f"{self.picture} × {self.away} / {self.image}"
        self.tilted = bool(aimed) and self.read.of_height  # then a share of the height is no plain product

    def tan(self, degrees: float | None) -> str:
        return f"tan({self.say.degrees(degrees or 0.0)})"


def _entered(of: Answer, field: str) -> bool:
    return bool(of.setting.survey) and getattr(of.setting.survey[0], field) is not None


def _survey_distance(of: Answer) -> str:
    by = of.survey.distance_by
    seen = _Seen(of)
    say, read = seen.say, seen.read
    if by == "share" and seen.tilted:
        return f"{say.length(read.height_mm or 0.0)} over its share of a tilted picture: {{}}"
    if by == "share":
        size = say.length((read.height_mm if read.of_height else read.width_mm) or 0.0)
        found = f"{size} × {seen.image} / ({seen.picture})"
    elif by == "height":
        rise = f"({say.length(read.height_mm or 0.0)} − {say.length(read.lens_height_mm or 0.0)})"
        found = f"{rise} / {seen.tan(read.elevation)}"
    else:
        apart = f"({seen.tan(read.elevation_nearer)} − {seen.tan(read.elevation)})"
        found = f"{say.length(read.nearer_mm or 0.0)} × {seen.tan(read.elevation_nearer)} / {apart}"
    return f"{found}{seen.to_tape} = {{}}"


def _survey_height(of: Answer) -> str:
    if _entered(of, "feature_height"):
        return "as entered: {}"
    seen = _Seen(of)
    rise = of.survey.rise_above_lens_mm
    if rise is None or seen.read.lens_height_mm is None:
        return "by its share of a tilted picture: {}" if seen.tilted else f"{seen.spans} = {{}}"
    return f"{seen.say.length(seen.read.lens_height_mm)} {'−' if rise < 0 else '+'} {seen.say.length(abs(rise))} = {{}}"


def _air(of: Answer) -> str:
    seen = _Seen(of)
    far = seen.say.length(seen.row.visibility or 0.0)
    return f"exp(−{seen.say.number(lineup.VISIBILITY[seen.row.visibility_by])} × {seen.away} / {far}) = {{}}"


def _crossing(of: Answer) -> str:
    pans = of.setting.move.axis in PANS
    side = of.setup.frame_width_mm if pans else of.kit.mode.height
    field = Figures.degrees(2 * optics.half_field_deg(side, of.setup.image_mm))
    width = "{w}" if pans else "{h}"
    turns = f"{field} / {{degrees setting.move.sweep}}"
    return f"angle of view: 2 × atan({width} / (2 × {{v}})) = {field}; {{move time}} × {turns} = {{}}"


def _available(of: Answer) -> str:
    lamps = [lamp.lux for lamp in of.light.lamps if lamp.lux is not None]
    if not lamps:
        return "as entered: {}"
    read, lit = (illuminance_text(lux, of.system) for lux in (of.setting.light.available or 0.0, sum(lamps)))
    return f"{read} read and {lit} by the lamps' inverse square: {{}}"


def _hz(of: Answer) -> float:
    pulse = pulse_of(of.setting, of.kit.mode)
    return 0.0 if pulse is None else pulse.hz


def _pulses(of: Answer) -> str:
    hz = _hz(of)
    mains = of.light.mains_hz
    on_mains = mains is not None and hz == 2 * mains
    return f"2 × {Figures.number(mains or 0.0)} Hz" if on_mains else f"{Figures.number(hz)} Hz"


def _ripple(of: Answer) -> str:
    pulse = pulse_of(of.setting, of.kit.mode)
    if pulse is None:
        return ""
    left = Figures.number(pulse.depth * flicker.share_left(pulse.hz, of.speed.exposure_s))
    if not flicker.meets_alike(pulse.hz, of.speed.fps):
        return f"log2((1 + {left}) / (1 − {left})) = {{}}"
    read = f"read in {Figures.seconds(pulse.readout_s)}" if pulse.readout_s else "read all at once"
    return f"{left} of the mean is left; every frame meets the pulse alike, its rows {read}: {{}}"


def _safe_fps(of: Answer) -> str:
    whole = _hz(of) / (of.light.safe_fps or 1.0)
    if abs(whole - round(whole)) < 1e-6:
        return f"{_pulses(of)} / {round(whole)} = {{}}"
    shutter = of.setting.action.shutter
    return f"{_pulses(of)} × {Figures.number(shutter)}° / (360° × {round(whole * shutter / 360)}) = {{}}"


def _safe_shutter(of: Answer) -> str:
    whole = round((of.light.safe_shutter_deg or 0.0) * _hz(of) / (360 * of.speed.fps))
    return f"{whole} × 360° × {{fps}} fps / ({_pulses(of)}) = {{}}"


def _wind(of: Answer) -> str:
    given = of.setting.stand
    unit_n, unit = measured_in(1.0, FORCE, of.system)
    into = "" if unit == "N" else f" / {Figures.number(1 / unit_n)}"
    speed, area = Figures.number((given.gust or 0.0) / 1000), Figures.number(given.area or 0.0)
    return f"{stand.BOARD} × 0.5 × {stand.AIR_KG_M3} × {speed}² × {area}{into} = {{}}"


def _held_needed(of: Answer) -> str:
    given = of.setting.stand
    number = Figures.number
    lee = given.lee if given.lee is not None else (given.foot_deep or 0.0) / 2
    if lee == 0:
        return "a foot without depth holds nothing: {}"
    height = given.area_height or 0.0
    tips = height / lee > 1 / given.friction
    grip = f" × {number(height)} / {number(lee)}" if tips else f" / {number(given.friction)}"
    per_kg = number(measured_in(1.0, WEIGHT, of.system)[0])
    return f"{stand.SAFETY} × {{number stand.wind_n}}{grip} / {number(stand.GRAVITY_M_S2)} × {per_kg} = {{}}"


def _f_number(of: Answer) -> str:
    chosen = ""
    if "focus.stop" in of.auto:
        needed = number_text(of.focus.stop_needed, 4)
        chosen = f", the first third of a stop at or past f/{needed}"
        if not of.focus.covers:
            chosen = f", the lens's smallest: none reaches f/{needed}"
    if of.kit.lens.marks == "T":
        return f"{{number focus.stop_mark}} / 2^({{number kit.lens.transmission_loss}} / 2) = {{}}{chosen}"
    return f"{{}}{chosen or ', as set'}"


def _split(of: Answer) -> str:
    say = Figures(of)
    split = split_field(of)
    power = number_text(focus.split_power_dioptres(of.setup.near_mm, of.setup.background_mm), 4)
    text = f"1 m / {{near}} − 1 m / {{from_pupil lineup.background_mm}} = {power} dioptres; to the nearest half, {{}}"
    if split is None:
        return text
    ends = f"{say.sharp_from(split.near_mm)} to {say.sharp_to(split.far_mm)}"
    mark = f"with the focus mark for the background at {say.length(split.focus_mm)}"
    return f"{text}; {mark}, sharp through it from {ends} at {say.stop(split.f_number)}"


def _end(of: Answer, tape_mm: float, distance_mm: float) -> str:
    """Return the contrast at an end of the zone, by its tape distance and its distance from the pupil."""
    say = Figures(of)
    setup = of.setup
    zone = of.focus
    working = "Nw = {N} × {1 + m/P} = {Nw}"
    frequency = "{wave} × {Nw} / (2 × {c})"
    if distance_mm == setup.focus_mm:
        return f"{working}; MTF({frequency}, 0) = {{}}"
    lens = (zone.focal_length_mm, zone.f_number, setup.pupil_magnification)
    blur = say.mm(contrast.blur_disk_mm(distance_mm, setup.focus_mm, *lens))
    (_, near), (_, far) = sorted([(distance_mm, say.from_pupil(tape_mm)), (setup.focus_mm, say.mark())])
    spread = f"{{f}} / {{N}} × {{v}} × (1 / {near} − 1 / {far})"
    return f"{working}; b = {spread} = {blur}; MTF({frequency}, {blur} / (8 × {{Nw}} × {{wave}})) = {{}}"


SUMS: dict[str, Callable[[Answer], str]] = {
    "scale.finest_model_mm": _finest,
    "lineup.cover_width_mm": lambda of: _cover(of, PANS, "{w}", of.setup.frame_width_mm),
    "lineup.cover_height_mm": lambda of: _cover(of, TILTS, "{h}", of.kit.mode.height),
    "survey.distance_mm": _survey_distance,
    "survey.feature_width_mm": lambda of: (
        "as entered: {}" if _entered(of, "feature_width") else f"{_Seen(of).spans} = {{}}"
    ),
    "survey.rise_above_lens_mm": lambda of: f"{(seen := _Seen(of)).away} × {seen.tan(seen.read.elevation)} = {{}}",
    "survey.feature_height_mm": _survey_height,
    "survey.air_contrast": _air,
    "speed.crossing_s": _crossing,
    "light.available_lux": _available,
    "light.flicker_stops": _ripple,
    "light.safe_fps": _safe_fps,
    "light.safe_shutter_deg": _safe_shutter,
    "stand.wind_n": _wind,
    "stand.held_needed_kg": _held_needed,
    "focus.f_number": _f_number,
    "focus.split_dioptres": _split,
    "focus.contrast.near": lambda of: _end(of, of.focus.near_needed_mm, of.setup.near_mm),
    "focus.contrast.far": lambda of: _end(of, of.focus.far_needed_mm, of.setup.far_mm),
}
