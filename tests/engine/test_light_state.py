"""The light is short, enough or too much: finding, sheet and the list after a move call it by one name."""

from __future__ import annotations

import math
import re

import pytest
from cases import codes, shot, solve, text_of
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import logarithmic

from forescale.engine.formulas.light import light_state, nd_stops
from forescale.engine.mends import mends
from forescale.engine.moved.to_do import light_text
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot import edit

# 250 · (5.04 · 1.0033)² / (1/192 s · 800): what the plain shot needs.
NEEDED = 250 * (2 ** (7 / 3) * (1 + 25 / (7529.41 - 25))) ** 2 * 192 / 800


@pytest.mark.parametrize(
    ("over", "state"),
    [
        (-3, "short"),
        (-0.34, "short"),
        (-1 / 3, "nearly"),
        (-0.11, "nearly"),
        (-0.1, "enough"),
        (0, "enough"),
        (0.89, "enough"),
        (0.9, "over"),
        (4, "over"),
    ],
)
def test_a_third_short_is_enough_and_a_filter_is_too_much(over: float, state: str) -> None:
    assert light_state(over) == state
    assert (nd_stops(over) > 0) == (state == "over")


@given(st.floats(-2, 3))
def test_every_place_calls_it_by_one_name(over: float) -> None:
    assume(min(abs(over + 1 / 3), abs(over - 0.9), abs(over + 0.1)) > 0.001)
    changes = {"light.available": f"{NEEDED * 2**over!r} lx"}
    found = solve(changes)
    state = "short" if over < -1 / 3 else "over" if over > 0.9 else "nearly" if over < -0.1 else "enough"
    assert found.light.over_stops == pytest.approx(over, abs=1e-4)  # the focus above has six digits
    assert {one.level for one in found.findings if one.code == "light-short"} == {
        "short": {"warn" if found.light.iso_needed <= 3200 else "stop"},
        "nearly": {"note"},
    }.get(state, set())
    assert ("light-over" in codes(found)) == (state == "over")
    listed = light_text(found)
    assert {"short": "short", "over": "ND", "enough": "light enough", "nearly": "light nearly enough"}[state] in listed
    paper = sheet_text(shot(changes), found).split("\nLIGHT -")[1]
    words = {"short": "TOO LITTLE", "over": "Too much", "enough": "Enough", "nearly": "A little short"}
    assert [name for name, word in words.items() if word in paper] == [state]


@given(logarithmic(100, 1e4), st.sampled_from([3200, 3210, 3250, 100_000]))
def test_the_iso_told_gives_enough_light_wherever_the_mode_has_it(available: float, top: float) -> None:
    """The next speed that cameras have, within a third of a stop: at the set rate and stop, light goes with 1 / ISO."""
    found = solve({"light.available": f"{available} lx"}, mode={"iso_max": top})
    assume("light-short" in codes(found) and found.light.over_stops < -1 / 3 and found.light.iso_needed <= top)
    told = re.search(r"set ISO ([\d.]+)", text_of(found, "light-short"))[1]
    wanted = 800 * NEEDED / available
    assert wanted * 0.99999 <= float(told) <= min(wanted * 1.3, top)
    held = edit.changed(found.setting, {"light.iso": float(told)})
    assert edit.value_at(held, "light.iso") == float(told)


def test_the_paper_rounds_no_iso_down() -> None:
    """800 · 1534 / 1234 is 994.6 and a little."""
    paper = sheet_text(shot({"light.available": "1234 lx"}), solve({"light.available": "1234 lx"}))
    told = float(re.search(r"ISO needed[ .]+(\d+)", paper)[1])
    assert 800 * NEEDED / 1234 <= told <= 800 * NEEDED / 1234 + 1


@given(st.floats(0.9, 6), st.integers(0, 4))
def test_the_filter_fitted_counts_and_the_one_advised_leaves_enough(over: float, fitted: int) -> None:
    changes = {"light.available": f"{NEEDED * 2**over!r} lx", "light.nd": fitted}
    lit = solve(changes).light
    assert lit.over_stops == pytest.approx(over - fitted, abs=1e-4)
    assert lit.nd_stops == math.floor(over + 0.1 + 1e-4) or abs(over + 0.1 - round(over + 0.1)) < 2e-4
    assert lit.nd_fitted == fitted
    assert lit.fit_stops is None
    assert -0.1001 <= solve(changes | {"light.nd": lit.nd_stops}).light.over_stops < 0.9001
    assert lit.iso_needed == pytest.approx(800 * 2 ** (fitted - over), rel=1e-4)


def test_light_lost_in_a_filter_is_got_back_by_taking_it_out() -> None:
    found = solve({"light.available": f"{NEEDED * 2} lx", "light.nd": 3})
    said = next(one for one in found.findings if one.code == "light-short")
    told = [dict(mend.set) for mend in mends(found, said)]
    assert {"light.nd": "1"} in told


def test_a_mode_has_a_lowest_iso() -> None:
    assert "iso-missing" not in codes(solve({"light.iso": 200}))
    found = solve({"light.iso": 200}, mode={"iso_min": 400})
    assert text_of(found, "iso-missing") == "plain-mode goes down to ISO 400, not to ISO 200: set ISO 400"
    assert "iso-missing" not in codes(solve({"light.iso": 400}, mode={"iso_min": 400}))
    assert solve(mode={"iso_min": 800, "iso_max": 800}).light.iso == 800
    with pytest.raises(ValueError, match="iso_min 801 is above iso_base 800"):
        solve(mode={"iso_min": 801})


def test_what_is_needed_counts_the_filter_that_is_fitted() -> None:
    # f/8, ISO 450, 132 fps at 180°, focus at infinity: 250 · 8² · 264 / 450 = 9386.7 lx, through a stop twice that.
    changes = {
        "action": {"kind": "still", "fps": 132},
        "focus": {"distance": "inf", "stop": "f/8"},
        "light": {"iso": 450, "nd": 1, "available": "9560 lx"},
    }
    found = solve(changes, mode={"fps": {"min": 1, "max": 150}})
    assert found.light.lux_needed == pytest.approx(9386.67, abs=0.01)
    assert found.light.lux_with_nd == pytest.approx(18773.33, abs=0.01)
    assert found.light.over_stops == pytest.approx(math.log2(9560 / 18773.33), abs=1e-6)
    (short,) = [one for one in found.findings if one.code == "light-short"]
    assert short.by_hand == "add light until the meter reads 18800 lx (more lamps, heat and power)"
    lamp = {"name": "key", "gives": "4000 lx", "at": "3 m"}
    (stands,) = solve(changes | {"lamp": [lamp]}, mode={"fps": {"min": 1, "max": 150}}).light.lamps
    assert stands.stands_mm == pytest.approx(3000 * math.sqrt(4000 / (18773.33 - 9560)), abs=0.01)
