"""Where the slide is told to go: within its own tolerance, never past the head's end, on paper as in a finding.

With the pupil a little ahead of the axis, a pan of θ slips by about v·e·sin θ/(d·cos² θ)·(1 − d/D): what may be off is
in proportion to the slip that may pass. Whether a place holds is told by solving the shot with the slide set there.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
from cases import codes, shot, solve, text_of
from hypothesis import assume, given
from hypothesis import strategies as st

from forescale.engine.answer import Answer
from forescale.engine.mends import mends
from forescale.engine.moved.moved import usual_choice, work_out
from forescale.engine.moved.to_do import what_to_do
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot import edit
from forescale.engine.solve.slip_check import slide_decimals

PAN: dict[str, Any] = {"move.axis": "pan", "move.sweep": "10 deg", "move.screen_time": "10 s"}
TILT = PAN | {"move.axis": "tilt", "move.sweep": "20 deg"}
# The model 4 m and the background 64 m from the pupil at its zero; the camera slides, they stay put.
MODEL, BACKGROUND = 4030.0, 64030.0


def slid(changes: dict[str, Any], from_mm: float, to_mm: float, head: dict[str, Any]) -> Answer:
    """The shot once the camera has slid: the tape to model and background is shorter by that."""
    gone = to_mm - from_mm
    tape = {"place.model": f"{MODEL - gone!r} mm", "place.background": f"{BACKGROUND - gone!r} mm"}
    return solve(changes | tape | {"move.slide": f"{to_mm!r} mm", "focus.distance": "7 m"}, head=head)


@given(st.floats(0.01, 2), st.floats(3, 40), st.floats(-3, 3))
def test_a_place_is_told_so_finely_that_it_holds_what_may_pass(passing: float, sweep: float, aside: float) -> None:
    head = {"sensor_at_zero": f"{-90 + aside!r} mm"}
    changes = PAN | {"move.tolerance": passing, "move.sweep": f"{sweep!r} deg", "focus.distance": "7 m"}
    found = solve(changes | {"move.slide": "20 mm"}, head=head)
    assume("slip-over" in codes(found))
    told, within = re.search(r"the slide holds at ([\d.]+) mm ± ([\d.]+) mm", text_of(found, "slip-over")).groups()
    after = slid(changes, 20, float(told), head)
    assert abs(after.slip.slip_px) <= passing * 0.11  # a tenth of what may be off, and the slip grows straight with it
    assert "slip-over" not in codes(after)
    assert abs(slid(changes, 20, float(told) + float(within) * 0.9, head).slip.slip_px) <= passing * 1.01
    by, to = re.search(r"slide the camera forward ([\d.]+) mm, to ([\d.]+) mm", text_of(found, "slip-over")).groups()
    assert float(to) == float(told)
    assert 20 + float(by) == pytest.approx(float(told), abs=1e-9)


@pytest.mark.parametrize(("within", "decimals"), [(9.4, 1), (0.5, 1), (0.49, 2), (0.026, 3), (0.0, 6), (None, 1)])
def test_decimals_leave_a_tenth_of_what_may_be_off(within: float | None, decimals: int) -> None:
    assert slide_decimals(within) == decimals
    assert not within or 0.5 * 10**-decimals <= within / 10 * (1 + 1e-9) or decimals == 1


SHORT: dict[str, Any] = {"sensor_at_zero": "-200 mm"}  # with the pupil 30 mm ahead the place is 170 mm; it ends at 120


def test_past_the_heads_end_the_end_is_told_and_what_slips_there() -> None:
    found = solve(PAN | {"move.slide": "85 mm", "focus.distance": "7 m"}, head=SHORT)
    text = text_of(found, "slip-over")
    assert "170" not in text
    assert "slide the camera" not in text  # it would not mend it
    way = re.search(r"the slide comes nearest at 120 mm, the end of its slide, where ([\d.]+) px is left", text)
    assert way is not None, text
    left = slid(PAN, 85, 120, SHORT).slip.slip_px
    assert float(way[1]) == pytest.approx(abs(left), abs=0.06)  # two digits
    assert "slide-out-of-reach" in codes(found)


def test_at_its_end_already_the_slide_is_told_nowhere() -> None:
    found = solve(PAN | {"move.slide": "120 mm"}, head=SHORT)
    text = text_of(found, "slip-over")
    assert "the slide stands at its end: turn" in text
    assert "slide the camera" not in text
    (reach,) = [finding for finding in found.findings if finding.code == "slide-out-of-reach"]
    assert "take another head" in {mend.text for mend in mends(found, reach)}


def test_an_end_where_what_is_left_may_pass_is_no_fault_of_the_head() -> None:
    head = {
        "sensor_at_zero": "-155 mm"
    }  # the place is 125 mm, and 5 mm short of it 25.1·0.938·5·sin 10°/(3940·cos² 10°) is left
    over = solve(PAN | {"move.slide": "60 mm"}, head=head)
    assert "slide-out-of-reach" not in codes(over)
    text = text_of(over, "slip-over")
    assert "the slide holds at 120 mm, the end of its slide, where 0.53 px is left" in text
    nearer = "(what was taped before it then stands 60 mm nearer)"
    assert text.endswith(f": slide the camera forward 60 mm, to 120 mm, then tape anew {nearer}")
    unset = solve(PAN, head=head)
    assert text_of(unset, "slide-to-set") == (
        "It is not said where the slide stands; it holds at 120 mm, the end of its slide, where 0.53 px is left: "
        "set the slide at 120 mm"
    )
    assert "slip-over" not in codes(solve(PAN | {"move.slide": "120 mm"}, head=head))


def test_a_moved_rig_goes_to_the_end_that_leaves_least() -> None:
    before = solve(PAN | {"move.slide": "60 mm", "kit.head": "plain-head"}, head=SHORT)
    step = next(
        s for s in what_to_do(work_out(before, {"place.model": 4050.0}, usual_choice(before))) if s.subject == "slide"
    )
    assert step.after_text == "120 mm"
    told = r"Slide the camera forward 60 mm, from 60 mm to 120 mm, the end of its slide, where [\d.]+ px is left"
    assert re.fullmatch(told, step.text)


@pytest.mark.parametrize("tolerance", [0.5, 0.6, 1.0])
def test_paper_and_finding_tell_one_place_for_a_tilt_that_strays(tolerance: float) -> None:
    changes = TILT | {"move.tolerance": tolerance, "kit.head": "plain-head"}
    head = {"tilt_drop": "120 mm"}
    found = solve(changes, head=head)
    assert found.slip.tolerance_mm == 0
    paper = re.sub(r"[ .]{2,}", "  ", sheet_text(shot(changes), found))
    assert "at the end of the tilt, but too much on the way" in " ".join(paper.split())
    if "slide-none-holds" in codes(found):
        assert "Best slide  no place" in paper
        return
    place, within = re.search(r"at ([\d.]+) mm ± ([\d.]+) mm", text_of(found, "slide-to-set")).groups()
    assert f"Best slide  {place} mm" in paper
    assert f"Slide may be off  ± {within} mm" in paper
    assert "slip-over" not in codes(solve(changes | {"move.slide": f"{place} mm"}, head=head))


def test_paper_tells_the_place_as_finely_as_the_finding() -> None:
    changes = PAN | {"move.tolerance": 0.01, "kit.head": "plain-head", "move.slide": "62.1 mm"}
    head = {"sensor_at_zero": "-92.068 mm"}
    paper = " ".join(sheet_text(shot(changes), solve(changes, head=head)).split())
    assert re.search(r"Slide for no slip \.+ 62\.07 mm ", paper)
    assert edit.value_at(solve(changes, head=head).setting, "move.slide") == 62.1


def test_the_best_slide_of_a_steep_tilt_slips_least_on_the_way() -> None:
    """From half a slide away: a little to either side the largest slip of the move is no less."""

    def stands(at_mm: float) -> Answer:
        tapes = {"place.model": f"{2140 - at_mm} mm", "place.background": f"{64140 - at_mm} mm"}
        steep = TILT | tapes | {"move.sweep": "25 deg", "move.slide": f"{at_mm} mm", "focus.distance": "7 m"}
        return solve(steep, head={"tilt_drop": "90 mm"})

    best = stands(110).slip.slide_best_mm or 0.0
    below, there, above = (abs(stands(best + off).slip.largest_slip_px or 0.0) for off in (-0.4, 0, 0.4))
    assert there <= 1.01 * min(below, above)
    assert there < abs(stands(110).slip.largest_slip_px or 0.0) / 9
