"""The light is short, enough or too much: finding, sheet and the list after a move call it by one name."""

from __future__ import annotations

import re

import pytest
from cases import codes, shot, solve, text_of
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import logarithmic

from forescale.engine.formulas.light import light_state, nd_stops
from forescale.engine.moved.to_do import light_text
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot import edit

# 250 · (5.04 · 1.0033)² / (1/192 s · 800): what the plain shot needs.
NEEDED = 250 * (2 ** (7 / 3) * (1 + 25 / (7529.41 - 25))) ** 2 * 192 / 800


@pytest.mark.parametrize(
    ("over", "state"),
    [(-3, "short"), (-0.34, "short"), (-1 / 3, "enough"), (0, "enough"), (0.5, "enough"), (0.51, "over"), (4, "over")],
)
def test_a_third_short_is_enough_and_a_filter_is_too_much(over: float, state: str) -> None:
    assert light_state(over) == state
    assert (nd_stops(over) > 0) == (state == "over")


@given(st.floats(-2, 3))
def test_every_place_calls_it_by_one_name(over: float) -> None:
    assume(min(abs(over + 1 / 3), abs(over - 0.5)) > 0.001)
    changes = {"light.available": f"{NEEDED * 2**over!r} lx"}
    found = solve(changes)
    state = "short" if over < -1 / 3 else "over" if over > 0.5 else "enough"
    assert found.light.over_stops == pytest.approx(over, abs=1e-4)  # the focus above has six digits
    assert ("light-short" in codes(found)) == (state == "short")
    assert ("light-over" in codes(found)) == (state == "over")
    listed = light_text(found)
    assert {"short": "short", "over": "ND", "enough": "light enough"}[state] in listed
    paper = sheet_text(shot(changes), found).split("\nLIGHT -")[1]
    assert ("TOO LITTLE" in paper, "Too much" in paper, "Enough" in paper) == (
        state == "short",
        state == "over",
        state == "enough",
    )


@given(logarithmic(100, 1e4), st.sampled_from([3200, 3210, 3250, 100_000]))
def test_the_iso_told_gives_enough_light_wherever_the_mode_has_it(available: float, top: float) -> None:
    """The next speed that cameras have, within a third of a stop: at the set rate and stop, light goes with 1 / ISO."""
    found = solve({"light.available": f"{available} lx"}, mode={"iso_max": top})
    assume("light-short" in codes(found) and found.light.iso_needed <= top)
    told = re.search(r"set ISO ([\d.]+),", text_of(found, "light-short"))[1]
    wanted = 800 * NEEDED / available
    assert wanted * 0.99999 <= float(told) <= min(wanted * 1.3, top)
    held = edit.changed(found.setting, {"light.iso": float(told)})
    assert edit.value_at(held, "light.iso") == float(told)


def test_the_paper_rounds_no_iso_down() -> None:
    """800 · 1534 / 1234 is 994.6 and a little."""
    paper = sheet_text(shot({"light.available": "1234 lx"}), solve({"light.available": "1234 lx"}))
    told = float(re.search(r"ISO that would just do[ .]+(\d+)", paper)[1])
    assert 800 * NEEDED / 1234 <= told <= 800 * NEEDED / 1234 + 1
