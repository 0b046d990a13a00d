"""Lengths, angles, times, speeds, light, forces, weights, areas, ratios and stops: from text to floats, and back.

Inside the engine there are only floats, in mm, degrees, s, mm/s, lux, N, kg, m² and kg/m³. Here text becomes such a
float, exactly, and a float text again: for people (`..._text`, rounded) and for files (`exact_...`).
"""

# ruff: isort: skip_file
from forescale.engine.units.lengths import INCH_MM, MILE_MM, Rounding, ShopLength, exact_length, exact_ratio
from forescale.engine.units.lengths import length_at_most, length_text, parse_ratio, ratio_text, shop_length
from forescale.engine.units.lengths import tape_at_least, tape_at_most, tape_text
from forescale.engine.units.quantities import EntryError, Unlike, parse_number, quoted, rounded_down, rounded_up
from forescale.engine.units.quantities import parse_angle, parse_length, parse_quantity, parse_time, says_infinity
from forescale.engine.units.stops import LARGEST_STOP_NUMBER, SMALLEST_STOP_NUMBER, Marks, Stop, filter_text, stop_label
from forescale.engine.units.stops import off_the_marks, parse_filter, parse_stop, stop_text, stops_text, third_stops
from forescale.engine.units.text import angle_text, data_text, exact_angle, exact_text, exact_time, fixed_text
from forescale.engine.units.text import illuminance_text, measure_text, measured_in, no_less_text, number_text
from forescale.engine.units.text import road_speed_text, signed_text, speed_text, stopwatch_text, time_text, wind_text
from forescale.engine.units.text import with_plus
from forescale.engine.units.vocabulary import ANGLE, AREA, DENSITY, FORCE, ILLUMINANCE, LENGTH, SPEED, TIME, WEIGHT
from forescale.engine.units.vocabulary import UnitKind, UnitSystem
