"""The present value of any number of the answer, as people read it."""

import math
from collections.abc import Callable
from functools import partial
from typing import Any

from forescale.engine import units
from forescale.engine.answer import Answer
from forescale.engine.answer.in_force import number_at
from forescale.engine.findings.words import Words
from forescale.engine.kit.profiles import Rates
from forescale.engine.units import UnitKind, data_text, number_text
from forescale.engine.workings.figures import Figures, listed, true_minus

Writer = Callable[[Figures, Any], str]
NOT_KNOWN = "not known"
# What is said of None where that does not mean that nobody knows.
_ABSENT = {"focus.split_dioptres": "none to use"}
_ABSENT |= dict.fromkeys(("lineup.cover_width_mm", "lineup.cover_height_mm"), "without end")
BUILT = {"scale.build": "part", "scale.stock": "item"}
# Groups of which the shot has several, and the field that tells them apart.
_ROWS = BUILT | dict.fromkeys(("picture.points", "picture.outlines", "picture.pieces"), "name")


def is_known(key: str, answer: Answer) -> bool:
    """Whether there is a number at a key: none is where it is None, or a list of parts has none of it."""
    value = number_at(key, answer)
    several = key.rpartition(".")[0] in _ROWS
    return value is not None and (not several or any(item is not None for item in value))


def value_text(key: str, answer: Answer) -> str:
    """Return the present value at a key for people: 'not known' for None, 'infinity' for an infinite one.

    None of which something is known says that: a split-field lens is 'none to use', a cover is 'without end'.
    """
    if not is_known(key, answer):
        return _ABSENT.get(key, NOT_KNOWN)
    say = Figures(answer)
    value = number_at(key, answer)
    group = key.rpartition(".")[0]
    if group not in _ROWS:
        return written(key, say, value)
    labels = [getattr(item, _ROWS[group]) for item in number_at(group, answer)]
    return listed([f"{label} {written(key, say, one)}" for label, one in zip(labels, value, strict=True)])


def written(key: str, say: Figures, value: Any) -> str:
    """Return a value as a key's values are written."""
    if value is None:
        return NOT_KNOWN
    if isinstance(value, float) and math.isinf(value):
        return true_minus(number_text(value))
    return true_minus(next(writer for ends, writer in _WRITERS if key.endswith(ends))(say, value))


def _counted(unit: str, digits: int = 4) -> Writer:
    return lambda _, value: f"{number_text(value, digits)} {unit}"


def _by(name: str) -> Writer:
    """Return the writer that is a word of `Figures`."""
    return lambda say, value: str(getattr(say, name)(value))


def _first_unit(say: Figures, value: float, quantity: UnitKind) -> str:
    """Return a value in the largest of its units, as sums have it."""
    number, unit = units.measured_in(value, quantity, say.of.system)
    return f"{number_text(number)} {unit}"


def _shop_error(say: Figures, value: float) -> str:
    text = say.small(value)
    return "exact" if text in {"0 in", "0 mm"} else f"{text.removeprefix('−')} too {'large' if value > 0 else 'small'}"


def _slip_px(_: Figures, value: float) -> str:
    text = number_text(value, 3)
    return f"{text} px" if text == "0" else f"{text} px, the model {'outruns' if value > 0 else 'lags'}"


def _rates(say: Figures, rates: tuple[float, ...]) -> str:
    if not rates:
        ends = say.of.kit.mode.fps
        low = ends.min if isinstance(ends, Rates) else 0
        return f"any whole rate from {number_text(low, 4)} to {say.rate(say.of.speed.top_fps)}"
    return f"{', '.join(number_text(rate, 4) for rate in rates)} fps"


def _bracket(say: Figures, ends: tuple[float | None, float | None]) -> str:
    low, high = (None if end is None else say.slide(end) for end in ends)
    if low and high:
        return f"{low} to {high}"
    return f"beyond {low}" if low else f"below {high}" if high else "open on both sides"


# How a key's values are written, by how it ends: by name first, then by the unit that the name carries.
_WRITERS: tuple[tuple[tuple[str, ...], Writer], ...] = (
    (("scale.ratio", "compare_ratio", "reads_as_ratio", "pieces.ratio"), _by("ratio")),
    (("inches_per_foot",), _counted("in to the foot")),
    (("build.model_mm", "stock.size_mm"), _by("exact")),
    ((".quantity", ".shop", ".compare_shop", "unweighed"), lambda _, value: str(value)),
    (("shop_error_real_mm",), _shop_error),
    (("scale.detail_model_mm", "detail_real_mm", "finest_model_mm", "finest_real_mm"), _by("small")),
    (("drift_tolerance_mm", "place_tolerance_mm", "overlap_mm"), _by("small")),
    (("sway_mm", "sway_sudden_mm", "sway_allowed_mm"), _by("small")),
    ((".size_error",), lambda say, value: f"{number_text(value, 5)} times, {say.too(value - 1)}"),
    (("time_factor", "gravity", "gravity_as_read", "per_height", "strength_factor", "crack_factor"), _counted("times")),
    (("frame_across", "frame_up", "leaves_share", "horizon_up", "air_contrast"), _by("percent")),
    (("outlines.left", "outlines.right", "outlines.bottom", "outlines.top"), _by("percent")),
    (("contrast.near", "contrast.focus", "contrast.far", "contrast.worst", "contrast.best_worst"), _by("percent")),
    (("largest_ratio",), lambda _, value: f"1:{number_text(value, 3)}"),
    (("speed.rates",), _rates),
    (("frames",), _counted("frames")),
    (("exposure_s",), lambda _, value: f"{units.time_text(value)}, 1/{number_text(1 / value, 4)} s"),
    (("model_speed_mm_s",), lambda say, value: units.speed_text(value, say.of.system)),
    (("focus.near_mm",), _by("sharp_from")),
    (("focus.far_mm",), _by("sharp_to")),
    (("focal_length_mm",), _by("focal")),
    (("sun.azimuth_deg", "elevation_deg"), _by("sky")),
    (("coc_mm", "airy_mm", "slip.slip_mm"), _counted("mm")),
    (("focus.f_number", "stop_needed", "best_f_number"), _by("exact_stop")),
    (("stop_mark",), lambda say, _: say.stop(say.of.focus.f_number)),
    (("covers",), lambda _, held: "held" if held else "not held"),
    (("split_dioptres",), _counted("dioptres")),
    (("light.iso", "iso_needed"), lambda _, value: f"ISO {number_text(value, 5)}"),
    (("t_stop_working",), lambda _, value: f"T{number_text(value, 4)}"),
    (("lux_needed", "lux_with_nd"), _counted("lx", 3)),
    (("footcandles_needed",), _counted("fc", 3)),
    (("available_lux", "at_background_lux"), lambda say, value: units.illuminance_text(value, say.of.system)),
    (("over_stops", "background_stops"), lambda say, value: f"{say.stops(value)} {'over' if value >= 0 else 'short'}"),
    (("nd_stops", "nd_fitted"), lambda _, value: units.filter_text(value)),
    (("flicker_stops",), lambda _, value: units.stops_text(number_text(value, 4))),
    (("flicker_safe",), lambda _, safe: "flicker-free" if safe else "will flicker"),
    (("shift_mired",), _counted("mireds")),
    (("turns_deg_per_min",), lambda _, value: f"{number_text(value, 3)} deg a minute"),
    (("slip.slip_px", "largest_slip_px"), _slip_px),
    (("bench.readings",), lambda _, count: f"{count} reading{'' if count == 1 else 's'}"),
    (("bracket_mm",), _bracket),
    (("contradicting",), lambda _, rows: f"reading {', '.join(str(row + 1) for row in rows)}" if rows else "none"),
    (("_px_per_mm",), _by("slope")),
    (("_lpmm",), _counted("line pairs/mm")),
    (("_px",), _counted("px")),
    (("fps",), _by("rate")),
    (("_hz",), _counted("Hz")),
    (("_mb",), lambda _, value: data_text(value)),
    (("leaves_deg",), lambda say, value: say.degrees(math.trunc(value * 100) / 100)),
    (("_deg",), _by("degrees")),
    (("ballast_needed_kg",), lambda say, value: units.no_less_text(value, units.WEIGHT, say.of.system)),
    (("_kg",), partial(_first_unit, quantity=units.WEIGHT)),
    (("_n",), partial(_first_unit, quantity=units.FORCE)),
    (("_at_mm_s", "_gust_mm_s", "_mean_mm_s"), lambda say, value: units.wind_text(value, say.of.system, limit=True)),
    (("_reads_mm_s",), lambda say, value: units.wind_text(value, say.of.system)),
    (("_s",), lambda _, value: units.time_text(value)),
    (("slide_for_zero_mm", "slip.slide_mm", "slide_best_mm", "best_within_mm", "slip.tolerance_mm"), _by("slide")),
    (("offset_mm", "pupil_ahead_mm", "pupil_uncertainty_mm", "band_mm", "try_next_mm"), _by("slide")),
    (("std_error_mm",), lambda say, value: say.on_slide.about(value)),
    (("_mm",), lambda say, value: Words(say.of).length(value)),  # as every other surface tells a length
    (("",), lambda _, value: number_text(value, 4)),
)
