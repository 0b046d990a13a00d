"""Test strips as the task tells them: what a new one begins with, and strips that contradict each other widely."""

from __future__ import annotations

import math

import pytest
from cases import solve

from forescale.engine.bench.strip_report import fresh, report
from forescale.engine.findings.words import Words
from forescale.engine.formulas.strip import Strip, fit
from forescale.engine.units import length_text, parse_stop

ZOOM = {"focal_length": None, "focal_min": "20 mm", "focal_max": "50 mm", "pupil": []}


def test_a_new_strip_begins_with_the_shots_own_lens_wide_open() -> None:
    found = solve({"kit.focal_length": "33.3333333 mm", "focus.distance": "7 m"}, lens=ZOOM)
    assert fresh(found) == {"lens": "plain-lens", "focal_length": "33.3333 mm", "focus": "7 m", "stop": "f/2"}
    assert fresh(solve({"focus.distance": "inf"}))["focus"] == "2.5 m"


def test_a_new_strip_goes_on_from_the_last_of_several() -> None:
    strips = [
        {"lens": "plain-lens", "focal_length": "25 mm", "focus": focus, "stop": "4", "sharp_near": near}
        for focus, near in (("3 m", "2900 mm"), ("4 m", "3900 mm"), ("5 m", "4900 mm"))
    ]
    assert fresh(solve(mode={"strip": strips}))["focus"] == "5 m"


@pytest.mark.parametrize(("changes", "mark"), [({}, "4.235 m"), ({"focus.distance": "0.7 m"}, "700 mm")])
def test_the_next_strip_is_focused_where_the_board_has_the_mark(changes: dict[str, str], mark: str) -> None:
    """A mark is read along the lens, so that an aimed one has it farther than a level tape."""
    found = solve({"place.aim": "15 deg up", "focus.distance": "4.235 m"} | changes)
    assert Words(found).length(found.focus.focus_mm) == mark
    assert f"focused at {mark}, markers" in report(found).advice
    assert fresh(found)["focus"] == mark


def test_the_next_strip_lies_where_its_formula_has_it() -> None:
    """At s from the pupil, 30 mm ahead: n = s·f²/(f² + N·c·(s − f)), unaimed as a strip is photographed."""
    found = solve({"place.aim": "15 deg up", "focus.distance": "3.03 m"})
    stop = parse_stop(report(found).advice.split()[1]).value
    reach = stop * found.setup.coc_mm * (3000 - 25)
    near, far = (3000 * 25**2 / (25**2 + way * reach) + 30 for way in (1, -1))
    assert f"about {length_text(near, 'metric')} and {length_text(far, 'metric')}" in report(found).advice


@pytest.mark.parametrize(("widest", "smallest"), [("f/2", "f/22"), ("f/5.6", "f/8")])
def test_the_first_strip_is_one_wide_open(widest: str, smallest: str) -> None:
    found = report(solve({"focus.distance": "7 m"}, lens={"widest": widest, "smallest": smallest}))
    assert found.advice.startswith(f"Next: {widest} focused at 7 m,")


def test_a_strip_with_a_decimal_place_too_few_is_the_one_that_is_named() -> None:
    """A near limit of 450 mm typed for 4500: 50² · (5000 − d)/(5.6 · d · 4950) is 0.01 mm, and 0.91."""
    right = [Strip(50, 5000, 5.6, near + 15, near - 15) for near in (4500, 4510)]
    wrong = Strip(50, 5000, 5.6, 453, 450)
    assert fit([*right, wrong]).contradicting == (2,)
    assert fit(right).contradicting == ()
    assert fit(right).coc_mm == pytest.approx(0.01, rel=0.02)
    assert fit([right[0], wrong]).contradicting == (0, 1)


def test_bounds_that_lie_far_apart_leave_a_band_as_wide() -> None:
    """Sharp at 4.6 m, soft at 3 m and nothing tried between: anything from 0.0078 to 0.0601 mm."""
    found = fit([Strip(50, 5000, 5.6, 4600, 3000)])
    assert found.low_mm < 50**2 * 400 / (5.6 * 4600 * 4950)
    assert found.high_mm > 50**2 * 2000 / (5.6 * 3000 * 4950)


def test_a_band_ends_where_no_more_is_looked_at() -> None:
    """0.00222 to 0.00376 mm by 50² · (5000 − d)/(5.6 · d · 4950); 0.5 in ln c beyond, a step of 1/60 begun."""
    least, greatest = (50**2 * (5000 - d) / (5.6 * d * 4950) for d in (4880, 4800))
    steps = math.ceil(60 * (0.5 + math.log(greatest / least) / 2))
    low = math.sqrt(least * greatest) * math.exp(-steps / 60)
    assert fit([Strip(50, 5000, 5.6, 4880, 4800)]).low_mm == pytest.approx(low, rel=1e-9)


def test_a_strip_whose_two_sides_cannot_both_be_is_refused() -> None:
    """From 0.9 mm on by the near side, under 0.005 mm by the far one."""
    with pytest.raises(ValueError, match="the limits of strip 2 contradict each other"):
        fit([Strip(50, 5000, 5.6, 4515, 4485), Strip(50, 5000, 5.6, 453, 450, 5100, 5200)])
