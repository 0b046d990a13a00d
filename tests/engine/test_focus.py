"""The focus zone against printed examples: each row of a table is one case, named after its source."""

import math

import pytest
from closed_forms import stop_for_zone

from forescale.engine.formulas.focus import (
    far_limit_mm,
    hyperfocal_mm,
    near_limit_mm,
    split_dioptres,
    split_power_dioptres,
    zone_focus_mm,
)

FOOT = 304.8
INCH = 25.4

# US Army subcourse SS0507, Principles of Photography. Learning event 10: 50 mm taken as 2 in, f/8, c = 0.002 in.
# Learning event 12: 3 in, f/8, c = 0.002 in, focused at 15 ft. It uses H = f²/(N·c) and H·s/(H ± s), both
# approximations, and cuts its digits off at the tenth of a foot.
TWO_INCH = (2 * INCH, 8.0, 0.002 * INCH)
THREE_INCH = (3 * INCH, 8.0, 0.002 * INCH)
FIFTEEN_FEET = 15 * FOOT


def approximate_hyperfocal_ft(focal_mm: float, f_number: float, coc_mm: float) -> float:
    return focal_mm**2 / (f_number * coc_mm) / FOOT


ARMY_APPROXIMATE = [
    # (step, value by the source's formula, printed)
    ("event 10, hyperfocal", approximate_hyperfocal_ft(*TWO_INCH), 20.8),
    ("event 10, near limit at the hyperfocal", approximate_hyperfocal_ft(*TWO_INCH) / 2, 10.4),
    ("event 12, hyperfocal", approximate_hyperfocal_ft(*THREE_INCH), 46.8),
    ("event 12, near limit", 1 / (1 / 15 + 1 / approximate_hyperfocal_ft(*THREE_INCH)), 11.3),
    ("event 12, far limit", 1 / (1 / 15 - 1 / approximate_hyperfocal_ft(*THREE_INCH)), 22.0),
]
ARMY_EXACT = [
    # (step, value by the engine, printed)
    ("event 10, hyperfocal", hyperfocal_mm(*TWO_INCH), 20.8),
    ("event 10, near limit at the hyperfocal", near_limit_mm(hyperfocal_mm(*TWO_INCH), *TWO_INCH), 10.4),
    ("event 12, hyperfocal", hyperfocal_mm(*THREE_INCH), 46.8),
    ("event 12, near limit", near_limit_mm(FIFTEEN_FEET, *THREE_INCH), 11.3),
    ("event 12, far limit", far_limit_mm(FIFTEEN_FEET, *THREE_INCH), 22.0),
]


@pytest.mark.parametrize(("step", "feet", "printed"), ARMY_APPROXIMATE, ids=[row[0] for row in ARMY_APPROXIMATE])
def test_army_example_by_its_own_formula(step: str, feet: float, printed: float) -> None:
    assert printed <= feet < printed + 0.1, f"{step}: cut off at the tenth of a foot"


@pytest.mark.parametrize(("step", "mm", "printed"), ARMY_EXACT, ids=[row[0] for row in ARMY_EXACT])
def test_army_example_by_the_exact_lens(step: str, mm: float, printed: float) -> None:
    # 1 %: what leaving out f in the source's approximation is worth, with its cut-off digits
    assert mm / FOOT == pytest.approx(printed, rel=0.01), step


def test_army_event_12_total_depth() -> None:
    depth = far_limit_mm(FIFTEEN_FEET, *THREE_INCH) - near_limit_mm(FIFTEEN_FEET, *THREE_INCH)
    # printed 10.7 ft; 1 % of each of the two limits that it is the difference of
    assert depth / FOOT == pytest.approx(10.7, abs=0.01 * (11.3 + 22.0))


def test_navy_focus_between_two_limits() -> None:
    # Source: US Navy NAVEDTRA 14209, Photography (Basic): sharp from 9.8 to 10.2 ft when focused at 10 ft.
    # 0.05 ft: the limits are printed to a tenth of a foot.
    assert zone_focus_mm(9.8 * FOOT, 10.2 * FOOT) / FOOT == pytest.approx(10, abs=0.05)


def test_encyclopedia_hyperfocal_distance() -> None:
    # Source: encyclopedia article "Hyperfocal distance", example: 50 mm, f/8, c = 0.03 mm; printed to the mm.
    hyperfocal = hyperfocal_mm(50, 8, 0.03)
    assert hyperfocal == pytest.approx(10467, abs=0.5)
    assert near_limit_mm(hyperfocal, 50, 8, 0.03) == pytest.approx(5233, abs=0.5)
    assert far_limit_mm(hyperfocal, 50, 8, 0.03) == math.inf


# Recomputed from the exact formulas outside this project; tolerance half of the last digit given.
RECOMPUTED = [
    ("25 mm, c 0.025, 900 mm to 30 m: focus", zone_focus_mm(900, 30_000), 1747.57, 0.005),
    ("25 mm, c 0.025, 900 mm to 30 m: stop", stop_for_zone(900, zone_focus_mm(900, 30_000), 25, 0.025), 13.668, 5e-4),
    ("35 mm, f/11.000, c 0.025, 1200 mm: near", near_limit_mm(1200, 35, 11.0, 0.025), 951.225, 5e-4),
    ("35 mm, f/11.000, c 0.025, 1200 mm: far", far_limit_mm(1200, 35, 11.0, 0.025), 1624.983, 5e-4),
    ("back: focus from those limits", zone_focus_mm(951.225, 1624.983), 1200, 5e-4),
    # dN/dn is 0.06 a mm here, so half of the limit's last digit is worth 3e-5 in the stop
    ("back: stop from the near limit", stop_for_zone(951.225, 1200, 35, 0.025), 11.0, 5e-5),
]


@pytest.mark.parametrize(("row", "value", "given", "within"), RECOMPUTED, ids=[row[0] for row in RECOMPUTED])
def test_recomputed_values(row: str, value: float, given: float, within: float) -> None:
    assert value == pytest.approx(given, abs=within), row


# A trade rule for a 40 mm lens focused at 15 ft; common practice, no source. One c gives all of it with the exact
# thin lens and exact stops (2.8 is 2√2, 22 is 16√2). Given to the inch, so to half an inch; the total at f/16 is
# given to the half inch but is the difference of two rounded lengths: an inch.
RULE_COC_MM = 0.01684
TRADE_RULE = [
    ("f/2.8 near, 13 ft 3 in", 2 * math.sqrt(2), "near", 13 * 12 + 3, 0.5),
    ("f/2.8 far, 17 ft 4 in", 2 * math.sqrt(2), "far", 17 * 12 + 4, 0.5),
    ("f/2.8 total, 4 ft 1.5 in", 2 * math.sqrt(2), "total", 4 * 12 + 1.5, 0.5),
    ("f/16 near, 8 ft 6 in", 16.0, "near", 8 * 12 + 6, 0.5),
    ("f/16 far, 63 ft 4 in", 16.0, "far", 63 * 12 + 4, 0.5),
    ("f/16 total, 54 ft 9.5 in", 16.0, "total", 54 * 12 + 9.5, 1.0),
    ("f/22 near, 7 ft 3 in", 16 * math.sqrt(2), "near", 7 * 12 + 3, 0.5),
    ("f/22 far, infinity", 16 * math.sqrt(2), "far", math.inf, 0.5),
]


@pytest.mark.parametrize(("row", "stop", "end", "inches", "within"), TRADE_RULE, ids=[row[0] for row in TRADE_RULE])
def test_trade_rule_for_40_mm_at_15_ft(row: str, stop: float, end: str, inches: float, within: float) -> None:
    near = near_limit_mm(FIFTEEN_FEET, 40, stop, RULE_COC_MM) / INCH
    far = far_limit_mm(FIFTEEN_FEET, 40, stop, RULE_COC_MM) / INCH
    assert {"near": near, "far": far, "total": far - near}[end] == pytest.approx(inches, abs=within), row


def test_close_up_lens_for_the_near_part() -> None:
    # 2 m against infinity is half a dioptre by definition (1/m); 800 mm against 5 m is 1.25 − 0.2.
    assert split_power_dioptres(2000, math.inf) == 0.5
    assert split_power_dioptres(800, 5000) == pytest.approx(1.05)


@pytest.mark.parametrize(
    ("near_mm", "background_mm", "power"),
    [(2000, math.inf, 0.5), (800, 5000, 1.0), (800, math.inf, 1.5), (2500, 3000, 0.5), (300, math.inf, 3.5)],
)
def test_close_up_lens_to_the_nearest_half_dioptre(near_mm: float, background_mm: float, power: float) -> None:
    assert split_dioptres(near_mm, background_mm) == power


@pytest.mark.parametrize("near_mm", [0.0, 3000.0, 4000.0, math.inf, math.nan])
def test_close_up_lens_is_no_help_beyond_the_background(near_mm: float) -> None:
    with pytest.raises(ValueError, match="must stand nearer than the focus on the background, 3000 mm"):
        split_dioptres(near_mm, 3000)
