"""The present value of any number of the answer, as people read it."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from forescale.engine import units
from forescale.engine.answer.in_force import number_at
from forescale.engine.findings.words import Words
from forescale.engine.formulas.lineup import SIZE_RIGHT
from forescale.engine.kit.profiles import Rates
from forescale.engine.units import number_text
from forescale.engine.units.vocabulary import UnitKind
from forescale.engine.workings.figures import Figures, listed, true_minus

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

Writer = Callable[[Figures, Any], str]
NOT_KNOWN = "not known"
# What is said of None where that does not mean that nobody knows.
_ABSENT = {
    "focus.split_dioptres": "not needed",
    "lineup.cover_width_mm": "without end",
    "lineup.cover_height_mm": "without end",
}


def is_known(key: str, answer: Answer) -> bool:
    """Whether there is a number at a key: none is where it is None, or a list of parts has none of it."""
    value = number_at(key, answer)
    if _names(key) is None:
        return value is not None
    return value is not None and any(item is not None for item in value)


def value_text(key: str, answer: Answer) -> str:
    """Return the present value at a key for people: 'not known' for None, 'infinity' for an infinite one.

    None of which something is known says that: a split lens is 'not needed', a cover is 'without end'.
    """
    if not is_known(key, answer):
        return _ABSENT.get(key, NOT_KNOWN)
    say, value, names = Figures(answer), number_at(key, answer), _names(key)
    if names is None:
        return _written(key, say, value)
    labels = [getattr(item, names) for item in number_at(key.rpartition(".")[0], answer)]
    return listed([f"{label} {_written(key, say, one)}" for label, one in zip(labels, value, strict=True)])


def _names(key: str) -> str | None:
    """Return the field that names each row where a key stands for a list of rows."""
    rows = dict.fromkeys(("picture.points", "picture.outlines", "picture.pieces"), "name")
    return (rows | {"scale.build": "part", "scale.stock": "item"}).get(key.rpartition(".")[0])


def _written(key: str, say: Figures, value: Any) -> str:
    if value is None:
        return NOT_KNOWN
    if isinstance(value, float) and math.isinf(value):
        return true_minus(number_text(value))
    return true_minus(_writer(key)(say, value))


def _writer(key: str) -> Writer:
    if key in _BY_KEY:
        return _BY_KEY[key]
    if key.startswith("slip.") and key.endswith("_mm") and not key.endswith("_per_mm"):
        return _by("slide")
    return next((writer for suffix, writer in _BY_UNIT if key.endswith(suffix)), _plain)


def _plain(_: Figures, value: float) -> str:
    return number_text(value, 4)


def _times(_: Figures, value: float) -> str:
    return f"{number_text(value, 4)} times"


def _time(_: Figures, value: float) -> str:
    return units.time_text(value)


def _sensor_mm(_: Figures, value: float) -> str:
    return f"{number_text(value, 4)} mm"


def _counted(unit: str, digits: int = 4) -> Writer:
    return lambda _, value: f"{number_text(value, digits)} {unit}"


def _size_error(say: Figures, value: float) -> str:
    wrong = value - 1
    side = (
        "as it should be"
        if abs(wrong) < SIZE_RIGHT
        else f"{say.percent(abs(wrong))} too {'large' if wrong > 0 else 'small'}"
    )
    return f"{number_text(value, 5)} times, {side}"


def _shop_error(say: Figures, value: float) -> str:
    text = say.small(value)
    return "exact" if text in {"0 in", "0 mm"} else f"{text.removeprefix('−')} too {'large' if value > 0 else 'small'}"


def _exposure(_: Figures, value: float) -> str:
    return f"{units.time_text(value)}, 1/{number_text(1 / value, 4)} s"


def _over(say: Figures, value: float) -> str:
    return f"{say.stops(value)} {'over' if value >= 0 else 'short'}"


def _filter(_: Figures, value: float) -> str:
    return f"{value:.0f} stop{'' if value == 1 else 's'}, ND {0.3 * value:.1f}" if value else "0 stops, no filter"


def _slip_px(_: Figures, value: float) -> str:
    text = number_text(value, 3)
    side = {True: ", the model outruns", False: ", the model lags"}
    return f"{text} px{'' if text == '0' else side[value > 0]}"


def _rates(say: Figures, rates: tuple[float, ...]) -> str:
    if not rates:
        ends = say.of.kit.mode.fps
        low = ends.min if isinstance(ends, Rates) else 0
        return f"any whole rate from {number_text(low, 4)} to {say.rate(say.of.speed.top_fps)}"
    return f"{', '.join(number_text(rate, 4) for rate in rates)} fps"


def _bracket(say: Figures, ends: tuple[float | None, float | None]) -> str:
    low, high = ends
    if low is None and high is None:
        return "open on both sides"
    if low is None:
        return f"below {say.slide(high or 0)}"
    return f"beyond {say.slide(low)}" if high is None else f"{say.slide(low)} to {say.slide(high)}"


def _contradicting(_: Figures, indices: tuple[int, ...]) -> str:
    return "none" if not indices else f"reading {', '.join(str(index + 1) for index in indices)}"


def _by(name: str) -> Writer:
    """Return the writer that is a word of `Figures`."""
    return lambda say, value: str(getattr(say, name)(value))


def _taped(say: Figures, value: float) -> str:
    """Return a length as every other surface tells it."""
    return Words(say.of).length(value)


def _first_unit(quantity: UnitKind) -> Writer:
    """Return the writer of a value in the largest of its units, as sums have it."""

    def written(say: Figures, value: float) -> str:
        number, unit = units.measured_in(value, quantity, say.of.system)
        return f"{number_text(number)} {unit}"

    return written


def _text(_: Figures, value: Any) -> str:
    return str(value)


_BY_KEY: dict[str, Writer] = {
    "scale.ratio": _by("ratio"),
    "scale.compare_ratio": _by("ratio"),
    "scale.inches_per_foot": lambda _, value: f"{number_text(value, 4)} in to the foot",
    "scale.build.quantity": _text,
    "scale.build.model_mm": _by("exact"),
    "scale.build.shop": _text,
    "scale.build.compare_shop": _text,
    "scale.build.shop_error_real_mm": _shop_error,
    "scale.build.compare_shop_error_real_mm": _shop_error,
    "scale.stock.size_mm": _by("exact"),
    "scale.detail_model_mm": _by("small"),
    "scale.detail_real_mm": _by("small"),
    "scale.finest_model_mm": _by("small"),
    "scale.finest_real_mm": _by("small"),
    "lineup.reads_as_ratio": _by("ratio"),
    "lineup.size_error": _size_error,
    "lineup.drift_tolerance_mm": _by("small"),
    "lineup.place_tolerance_mm": _by("small"),
    "speed.time_factor": _times,
    "speed.rates": _rates,
    "speed.apparent_gravity": _times,
    "speed.gravity_as_read": _times,
    "slip.travel_mm": _taped,
    "slip.travel_allowed_mm": _taped,
    "picture.pieces.ratio": _by("ratio"),
    "picture.pieces.size_error": _size_error,
    "picture.pieces.apparent_gravity": _times,
    **{f"picture.outlines.{side}": _by("percent") for side in ("left", "right", "bottom", "top")},
    "picture.points.frame_across": _by("percent"),
    "picture.points.frame_up": _by("percent"),
    "picture.points.leaves_share": _by("percent"),
    "picture.horizon_up": _by("percent"),
    "picture.outlines.overlap_mm": _by("small"),
    "speed.largest_ratio": lambda _, value: f"1:{number_text(value, 3)}",
    "speed.frames": _counted("frames"),
    "speed.exposure_s": _exposure,
    "speed.model_speed_mm_s": lambda say, value: units.speed_text(value, say.of.system),
    "focus.near_mm": _by("sharp_from"),
    "focus.far_mm": _by("sharp_to"),
    "focus.coc_mm": _sensor_mm,
    "focus.focal_length_mm": _sensor_mm,
    "focus.airy_mm": _sensor_mm,
    "focus.f_number": _by("exact_stop"),
    "focus.stop_mark": lambda say, _: say.stop(say.of.focus.f_number),
    "focus.stop_needed": _by("exact_stop"),
    "focus.covers": lambda _, held: "held" if held else "not held",
    "focus.split_dioptres": _counted("dioptres"),
    "focus.contrast.best_f_number": _by("exact_stop"),
    **{f"focus.contrast.{field}": _by("percent") for field in ("near", "focus", "far", "worst", "best_worst")},
    "light.iso": lambda _, value: f"ISO {number_text(value, 5)}",
    "light.t_stop_working": lambda _, value: f"T{number_text(value, 4)}",
    "light.lux_needed": _counted("lx", 3),
    "light.footcandles_needed": _counted("fc", 3),
    "light.available_lux": lambda say, value: units.illuminance_text(value, say.of.system),
    "light.over_stops": _over,
    "light.at_background_lux": lambda say, value: units.illuminance_text(value, say.of.system),
    "light.background_stops": _over,
    "light.shift_mired": _counted("mireds"),
    "light.pulse_depth": _plain,
    "sun.shadow_per_height": _times,
    "sun.turns_deg_per_min": lambda _, value: f"{number_text(value, 3)}° a minute",
    "timing.fall_frames": _counted("frames"),
    "light.nd_stops": _filter,
    "light.nd_fitted": _filter,
    "light.flicker_stops": _counted("stops", 4),
    "light.iso_needed": lambda _, value: f"ISO {number_text(value, 3)}",
    "light.flicker_safe": lambda _, safe: "safe" if safe else "will flicker",
    "slip.slip_px": _slip_px,
    "slip.largest_slip_px": _slip_px,
    "slip.model_from_axis_mm": _taped,
    "slip.background_from_axis_mm": _taped,
    "slip.slip_mm": _sensor_mm,
    "slip.bench.readings": lambda _, count: f"{count} reading{'' if count == 1 else 's'}",
    "slip.bench.bracket_mm": _bracket,
    "slip.bench.contradicting": _contradicting,
    "survey.air_contrast": _by("percent"),
    "stand.strength_factor": _times,
    "stand.crack_factor": _times,
    "stand.unweighed": _text,
    **dict.fromkeys(("stand.sway_mm", "stand.sway_sudden_mm", "stand.sway_allowed_mm"), _by("small")),
}
# Where a key is not named above, the unit that its name carries says how it is written.
_BY_UNIT: tuple[tuple[str, Writer], ...] = (
    ("_px_per_mm", _counted("px a mm")),
    ("_lpmm", _counted("line pairs/mm")),
    ("_px", _counted("px")),
    ("fps", _by("rate")),
    ("_hz", _counted("Hz")),
    ("_mb", _counted("MB")),
    ("_deg", _by("degrees")),
    ("_kg", _first_unit(units.WEIGHT)),
    ("_n", _first_unit(units.FORCE)),
    ("_at_mm_s", lambda say, value: units.wind_text(value, say.of.system)),
    ("_gust_mm_s", lambda say, value: units.wind_text(value, say.of.system)),
    ("_mean_mm_s", lambda say, value: units.wind_text(value, say.of.system)),
    ("_reads_mm_s", lambda say, value: units.wind_text(value, say.of.system)),
    ("_s", _time),
    ("_mm", _taped),
)
