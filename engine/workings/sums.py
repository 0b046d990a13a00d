"""Which sum a number comes from, where a shot has it by one of several, but focus and slip; as texts with braces."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.formulas import light, optics, stand
from forescale.engine.formulas.light import meets_alike
from forescale.engine.formulas.lineup import VISIBILITY
from forescale.engine.shot.readings import SurveyRow
from forescale.engine.shot.sections import PANS, TILTS
from forescale.engine.solve.scale_lineup import sighting
from forescale.engine.solve.speed_light import pulse_of
from forescale.engine.units import FORCE, WEIGHT, illuminance_text, measured_in
from forescale.engine.workings.figures import Figures

if TYPE_CHECKING:
    from forescale.engine.answer import Answer


def _ratio(of: Answer) -> str:
    if "scale.ratio" not in of.auto:
        return "set to {}"
    if of.setting.place.model is not None and math.isfinite(of.setting.place.background):
        return "the taped places ask for {lineup.reads_as_ratio}, and the customary ratio nearest to it is {}"
    return "the smallest scale at the top rate is {speed.largest_ratio}; the largest customary S in it and in focus: {}"


def _finest(of: Answer) -> str:
    say, seen = Figures(of), of.scale.finest_model_mm or 0.0
    lines = of.setup.model_mm / (2 * seen * of.setup.image_mm) if seen else 0.0
    distance, image = say.exact(of.setup.model_mm), say.exact(of.setup.image_mm)
    return f"{distance} / (2 × {say.number(lines)} line pairs/mm × {image}) = {{}}"


def _ideal(ratio: str) -> Callable[[Answer], str]:
    def ideal(of: Answer) -> str:
        if of.setting.action.scaled:
            return f"{{playback}} fps × √{{{ratio}}} × {{heft}} = {{}}"
        return (
            f"a {of.setting.action.kind} thing does not move by its own weight, so the rate is that of playback: {{}}"
        )

    return ideal


def _hung(point: str) -> Callable[[Answer], str]:
    """Return the height at which a real height is met where the model stands."""

    def hung(of: Answer) -> str:
        if math.isinf(of.lineup.reads_as_ratio):
            return "what the model stands for is at infinity, where every line of sight is level: {}"
        return f"{{lens height}} + ({{{point}}} − {{lens height}}) / {{number lineup.reads_as_ratio}} = {{}}"

    return hung


def _cover(of: Answer, axes: frozenset[str], side: str, side_mm: float) -> str:
    move = of.setting.move
    moves = of.speed.move_set_time_s is not None
    if (moves and move.axis not in axes) or not Figures(of).plain:
        return "the corners of the frame, followed over the whole move: {}"
    half = Figures.degrees(optics.half_field_deg(side_mm, of.setup.image_mm))
    sides = f"2 × tan({half})"
    if move.axis in axes and move.sweep:
        sides = f"(tan({half}) + tan({half} + {{sweep}}))"
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
    seen, by = _Seen(of), of.survey.distance_by
    say, read = seen.say, seen.read
    if by == "tape":
        return "as taped: {}"
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


def _survey_rise(of: Answer) -> str:
    seen = _Seen(of)
    return f"{seen.away} × {seen.tan(seen.read.elevation)} = {{}}"


def _survey_height(of: Answer) -> str:
    if _entered(of, "feature_height"):
        return "as entered: {}"
    seen, rise = _Seen(of), of.survey.rise_above_lens_mm
    if rise is None or seen.read.lens_height_mm is None:
        return "by its share of a tilted picture: {}" if seen.tilted else f"{seen.spans} = {{}}"
    return f"{seen.say.length(seen.read.lens_height_mm)} {'−' if rise < 0 else '+'} {seen.say.length(abs(rise))} = {{}}"


def _air(of: Answer) -> str:
    seen = _Seen(of)
    far = seen.say.length(seen.row.visibility or 0.0)
    return f"exp(−{seen.say.number(VISIBILITY[seen.row.visibility_by])} × {seen.away} / {far}) = {{}}"


def _fps(of: Answer) -> str:
    if "action.fps" not in of.auto:
        return "set to {}; the ideal is {speed.ideal_fps}"
    if of.speed.fps < of.speed.ideal_fps * (1 - 1e-9):
        return "no rate of the mode reaches {speed.ideal_fps}, so its highest: {}"
    return "the lowest rate of the mode that serves {speed.ideal_fps}: {}"


def _crossing(of: Answer) -> str:
    pans = of.setting.move.axis in PANS
    if not Figures(of).plain:
        return "a thing in the frame's middle, followed from edge to edge: {}"
    side = of.setup.frame_width_mm if pans else of.kit.mode.height
    field = Figures.degrees(2 * optics.half_field_deg(side, of.setup.image_mm))
    width = "{w}" if pans else "{h}"
    return f"angle of view: 2 × atan({width} / (2 × {{v}})) = {field}; {{move time}} × {field} / {{sweep}} = {{}}"


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
    hz, mains = _hz(of), of.light.mains_hz
    on_mains = mains is not None and hz == 2 * mains
    return f"2 × {Figures.number(mains or 0.0)} Hz" if on_mains else f"{Figures.number(hz)} Hz"


def _ripple(of: Answer) -> str:
    pulse, say = pulse_of(of.setting, of.kit.mode), Figures
    if pulse is None:
        return ""
    left = say.number(pulse.depth * light.share_left(pulse.hz, of.speed.exposure_s))
    if not meets_alike(pulse.hz, of.speed.fps):
        return f"log2((1 + {left}) / (1 − {left})) = {{}}"
    read = f"read in {say.seconds(pulse.readout_s)}" if pulse.readout_s else "read all at once"
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
    given, (unit_n, unit) = of.setting.stand, measured_in(1.0, FORCE, of.system)
    into = "" if unit == "N" else f" / {Figures.number(1 / unit_n)}"
    speed, area = Figures.number((given.gust or 0.0) / 1000), Figures.number(given.area or 0.0)
    return f"{stand.BOARD} × 0.5 × {stand.AIR_KG_M3} × {speed}² × {area}{into} = {{}}"


def _held_needed(of: Answer) -> str:
    given, say = of.setting.stand, Figures
    lee = given.lee if given.lee is not None else (given.foot_deep or 0.0) / 2
    if lee == 0:
        return "a foot without depth holds nothing: {}"
    height = given.area_height or 0.0
    tips = height / lee > 1 / given.friction
    grip = f" × {say.number(height)} / {say.number(lee)}" if tips else f" / {say.number(given.friction)}"
    per_kg = say.number(measured_in(1.0, WEIGHT, of.system)[0])
    return f"{stand.SAFETY} × {{number stand.wind_n}}{grip} / {say.number(stand.GRAVITY_M_S2)} × {per_kg} = {{}}"


SUMS: dict[str, Callable[[Answer], str]] = {
    "scale.ratio": _ratio,
    "scale.finest_model_mm": _finest,
    "scale.compare_ideal_fps": _ideal("S2"),
    "lineup.model_mm": lambda of: (
        "left open, so where the ratio matches: {}" if "place.model" in of.auto else "taped: {}"
    ),
    "lineup.hang_height_mm": _hung("point height"),
    "lineup.foot_height_mm": _hung("ground"),
    "lineup.cover_width_mm": lambda of: _cover(of, PANS, "{w}", of.setup.frame_width_mm),
    "lineup.cover_height_mm": lambda of: _cover(of, TILTS, "{h}", of.kit.mode.height),
    "lineup.drift_tolerance_mm": lambda of: (
        "model and background stand at one distance, so no drift parts them: infinity"
        if math.isinf(of.lineup.drift_tolerance_mm)
        else "{t} px × {p across} / ({v} × (1 / {d} − 1 / {background})) = {}"
    ),
    "survey.distance_mm": _survey_distance,
    "survey.feature_width_mm": lambda of: (
        "as entered: {}" if _entered(of, "feature_width") else f"{_Seen(of).spans} = {{}}"
    ),
    "survey.rise_above_lens_mm": _survey_rise,
    "survey.feature_height_mm": _survey_height,
    "survey.air_contrast": _air,
    "speed.ideal_fps": _ideal("S"),
    "speed.fps": _fps,
    "speed.crossing_s": _crossing,
    "speed.readout_skew_px": lambda of: (
        "{v} × {sweep} × pi / 180° / {seconds speed.move_set_time_s} × {readout} / {p along} = {}"
        if Figures(of).plain
        else "the picture's pace at the line-up, over the readout: {}"
    ),
    "light.iso": lambda of: "the mode's base: {}" if "light.iso" in of.auto else "set to {}",
    "light.available_lux": _available,
    "light.pulse_depth": lambda of: (
        "the depth of each lamp by its share of the light: {}"
        if of.light.lamps
        else "no lamp is named, so all the light is taken to be of one whose pulse is not known: {}"
    ),
    "light.flicker_stops": _ripple,
    "light.safe_fps": _safe_fps,
    "light.safe_shutter_deg": _safe_shutter,
    "stand.wind_n": _wind,
    "stand.held_needed_kg": _held_needed,
    "stand.ballast_needed_kg": lambda of: (
        "{mass stand.held_needed_kg} − {model weight} = {}"
        if of.stand is not None and 0 < (of.stand.ballast_needed_kg or 0.0) < math.inf
        else "the weight alone, or none at all, decides: {}"
    ),
}
