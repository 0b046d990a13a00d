"""Lengths, angles, times, speeds, light, ratios and stops: from text to floats, and back.

Inside the engine there are only floats, in mm, degrees, s, mm/s and lux. This package is where text becomes
such a float, exactly, and where a float becomes text again: for people (`..._text`, rounded) and for files
(`exact_...`). Pint knows how large the units are; it is loaded by the first conversion, not by an import.
"""

from forescale.engine.units.errors import EntryError
from forescale.engine.units.lengths import (
    Rounding,
    ShopLength,
    exact_length,
    length_at_most,
    length_text,
    shop_length,
    tape_text,
)
from forescale.engine.units.numbers import parse_number
from forescale.engine.units.quantities import (
    parse_angle,
    parse_illuminance,
    parse_length,
    parse_speed,
    parse_time,
    says_infinity,
)
from forescale.engine.units.ratios import exact_ratio, parse_ratio, ratio_text
from forescale.engine.units.rounding import rounded_down, rounded_up
from forescale.engine.units.stops import Stop, parse_stop, stop_label, stop_text, third_stops
from forescale.engine.units.text import (
    angle_text,
    exact_angle,
    exact_illuminance,
    exact_speed,
    exact_time,
    illuminance_text,
    number_text,
    road_speed_text,
    speed_text,
    time_text,
)
from forescale.engine.units.vocabulary import UnitSystem

__all__ = [
    "EntryError",
    "Rounding",
    "ShopLength",
    "Stop",
    "UnitSystem",
    "angle_text",
    "exact_angle",
    "exact_illuminance",
    "exact_length",
    "exact_ratio",
    "exact_speed",
    "exact_time",
    "illuminance_text",
    "length_at_most",
    "length_text",
    "number_text",
    "parse_angle",
    "parse_illuminance",
    "parse_length",
    "parse_number",
    "parse_ratio",
    "parse_speed",
    "parse_stop",
    "parse_time",
    "ratio_text",
    "road_speed_text",
    "rounded_down",
    "rounded_up",
    "says_infinity",
    "shop_length",
    "speed_text",
    "stop_label",
    "stop_text",
    "tape_text",
    "third_stops",
    "time_text",
]
