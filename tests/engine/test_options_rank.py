"""Ranking: the front against its definition, a bounded ranking against an unbounded one, and the trades in words."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from options_kit import KIT, ONE, SHORT, TWO, WIDE, ZOOM, open_shot

from forescale.engine.options import option as ways
from forescale.engine.options.option import Option, front, taken
from forescale.engine.options.outcome import Gathering, find_options
from forescale.engine.options.printed import order_text, trade
from forescale.engine.options.search import search
from forescale.engine.options.to_try import Shelves, plan

POINTS = st.integers(1, 5).flatmap(lambda goals: st.lists(st.tuples(*[st.integers(-3, 3)] * goals), max_size=60))


@given(POINTS)
def test_front_is_what_nothing_beats(points: list[tuple[int, ...]]) -> None:
    """The definition of a Pareto front, written as it stands: none is as good in all and better in one."""

    def beaten(own: tuple[int, ...]) -> bool:
        return any(other != own and all(a >= b for a, b in zip(other, own, strict=True)) for other in points)

    assert front(points) == {point for point in points if not beaten(point)}


def test_front_of_a_grid_is_its_far_corner_and_of_a_slope_all_of_it() -> None:
    assert front(product(range(4), repeat=3)) == {(3, 3, 3)}
    slope = [(step, 9 - step) for step in range(10)]
    assert front(slope) == set(slope)


@pytest.mark.parametrize("keep", [1, 5, 40])
def test_a_bounded_ranking_loses_only_what_stands_last(keep: int) -> None:
    """`keep` bounds what is held: the front is whole, and the rest is the beginning of the rest."""
    setting = open_shot({"limits.order": ["contrast", "model", "tolerance", "light"]})
    to_try = plan(setting, "metric", KIT)
    everything, bounded = Gathering(to_try), Gathering(to_try, keep)
    for batch in search(to_try):
        everything.add(batch)
        bounded.add(batch)
    whole, part = everything.outcome(), bounded.outcome()
    on_front = sum(row.front for row in whole.options)
    assert part.options == whole.options[: max(keep, on_front)]
    assert find_options(setting, "metric", KIT, keep=keep).options == part.options
    assert (part.searched, part.working, part.dropped) == (whole.searched, whole.working, whole.dropped)
    assert len(part.options) < part.working


def test_ranking_may_be_read_at_any_time_and_does_not_change_what_comes() -> None:
    to_try = plan(open_shot(), "metric", KIT)
    watched, left_alone = Gathering(to_try, 20), Gathering(to_try, 20)
    for batch in search(to_try):
        watched.add(batch)
        left_alone.add(batch)
        assert len(watched.outcome().options) <= watched.working
    assert watched.outcome() == left_alone.outcome()


def test_a_search_may_be_left_half_way() -> None:
    to_try = plan(open_shot(), "metric", KIT)
    batches: Any = search(to_try)
    first = next(batches)
    batches.close()
    assert 0 < first.tried < to_try.ways


def test_the_own_kit_comes_first_among_equals() -> None:
    """Two lenses alike in all but their names: the one that the shot names wins, whichever it is."""
    twin = SHORT.model_copy(update={"name": "another"})
    for own in ("short", "another"):
        found = find_options(open_shot({"kit.lens": own}), "metric", Shelves((ONE,), (twin, SHORT)))
        assert found.options[0].option.lens_at.lens.name == own


def test_the_order_decides_what_comes_first() -> None:
    def first(*order: str) -> Option:
        found = find_options(open_shot({"limits.order": list(order)}), "metric", KIT)
        return found.options[0].option

    working = [row.option for row in find_options(open_shot(), "metric", KIT).options]
    assert first("model").ratio <= min(option.ratio for option in working) * 1.1**0.5
    assert first("build").ratio >= max(option.ratio for option in working) / 1.1**0.5
    assert first("contrast").worst_contrast >= max(option.worst_contrast for option in working) - 0.03
    assert first("light").base_lux <= min(option.base_lux for option in working) * 2 ** (1 / 3)
    widest = max(option.drift_tolerance_mm for option in working)
    assert first("tolerance").drift_tolerance_mm >= widest / 1.25


def test_the_tolerance_of_the_slide_goes_with_that_of_drift() -> None:
    """Both are t·d / (v·(1 − d/D)) but for the sweep: that is why one goal speaks for the two.

    Slip near zero is v·(1 − d/D)·e·sin θ / (d·cos θ·cos θ) for an offset e, so the slide's tolerance over the drift's
    is cos² θ / sin θ; the axis stands up to 0.1 m from the pupil, which 2 % of the nearest model allows for, and the
    second order in e for as much again.
    """
    pan = {"kit.head": "head", "move.axis": "pan", "move.sweep": "15 deg"}
    found = find_options(open_shot(pan | {"limits.build_max": "1.5 m"}), "metric", KIT)
    cos, sin = 0.9659258, 0.2588190
    assert len(found.options) > 20
    for row in found.options[::5]:
        answer = taken(row.option)[1]
        assert answer.slip.tolerance_mm is not None
        ratio = answer.slip.tolerance_mm / answer.lineup.drift_tolerance_mm
        assert ratio == pytest.approx(cos**2 / sin, rel=0.04)


def best_and(ratio: float, **changes: object) -> tuple[Option, Option]:
    """The way of the plain kit at 1:12, and the one at another ratio or with other kit."""
    limits = {"limits.ratios": [ratio], "limits.build_max": "5 m"}
    found = find_options(open_shot(limits | changes), "metric", Shelves((ONE, TWO), (SHORT, WIDE, ZOOM)))
    crop = [row.option for row in found.options if row.option.in_mode.mode.name == "crop"]
    short = {option.ratio: option for option in crop if option.lens_at.lens is SHORT}
    return short[12.0], short[ratio]


def test_trades_name_what_is_gained_and_lost_in_words() -> None:
    """1:18 after 1:12 is a third smaller: 9 m are 500 mm instead of 750 mm; 1:6 is twice as large."""
    top, smaller = best_and(18.0)
    said = trade(smaller, top)
    gains, costs = said.split(", but ")
    assert gains == "500 mm to build instead of 750 mm"
    assert "the model is a third smaller" in costs
    assert f"contrast {100 * smaller.worst_contrast:.0f} % instead of {100 * top.worst_contrast:.0f} %" in costs
    top, larger = best_and(6.0)
    said = trade(larger, top)
    assert "he model is 2 times as large" in said.split(", but ")[0]
    assert said.endswith("1.5 m to build instead of 750 mm")


def test_a_trade_with_nothing_gained_or_nothing_lost_says_so() -> None:
    order = {"limits.order": ["model"]}
    top, smaller = best_and(18.0, **order)
    assert trade(smaller, top) == "The model is a third smaller, and nothing gained on the best"
    assert trade(top, smaller) == "The model is 1.5 times as large"
    assert trade(top, top) == "Best by what counts here: a large model in tenths"


def test_a_trade_in_light_counts_stops_the_right_way_round() -> None:
    """At 1:24 the crop runs at 120 fps and not at 96: a third of a stop for the rate, more for the nearer model."""
    top, faster = best_and(24.0, **{"limits.order": ["light"]})
    assert faster.base_lux > top.base_lux
    assert trade(faster, top).endswith("stops more light, and nothing gained on the best")
    assert trade(top, faster).endswith("stops less light")


def test_a_trade_says_what_falls_too_hard() -> None:
    top, _ = best_and(18.0)
    assert trade(replace(top, gravity=1.386), top).endswith("; it falls 1.39 times as hard as wanted")
    for gravity in (1.15, 1.0, None):
        assert "it falls" not in trade(replace(top, gravity=gravity), top)


def test_what_falls_right_under_steady_lamps_comes_first() -> None:
    """On 50 Hz mains 96 and 120 fps flicker at 180 degrees; whatever a way gains, it does not make up for that."""
    found = find_options(open_shot({"light.mains": 50, "action.shutter": "180 deg"}), "metric", KIT)
    amiss = [row.option.heavy or row.option.flickers for row in found.options if row.front]
    assert amiss == sorted(amiss)
    codes = [{one.code for one in taken(row.option)[1].findings} for row in found.options]
    flickers = [row.option.flickers for row in found.options]
    assert flickers == ["flicker" in one for one in codes]
    assert [row.option.heavy for row in found.options] == ["rate-low" in one for one in codes]
    assert any(flickers)  # else nothing was put behind


def test_equals_are_called_so() -> None:
    found = find_options(open_shot({"limits.order": ["model"], "scale.ratio": "1:12"}), "metric", KIT)
    top = found.options[0].option
    assert {trade(row.option, top).partition(";")[0] for row in found.options[1:]} == {
        "As good as the best in all that counts, small differences aside"
    }


def test_the_steps_are_told_as_they_are_taken() -> None:
    """3 % of contrast, a tenth of size, a quarter of what may be off, a third of a stop."""
    assert (ways.CONTRAST_STEP, ways.SIZE_STEP, ways.TOLERANCE_STEP, ways.LIGHT_STEPS) == (0.03, 1.1, 1.25, 3)
    assert order_text(("light", "contrast", "tolerance", "build", "model")) == (
        "little light in thirds of a stop, then contrast in steps of 3 %, then room for drift and slide in quarters, "
        "then a small build in tenths, then a large model in tenths"
    )


def test_each_part_of_the_order_falls_in_the_steps_that_are_told() -> None:
    """What stands with * and what does not: in each the steps of what counts first never rise from row to row."""
    found = find_options(open_shot({"limits.order": ["contrast", "light"]}), "metric", KIT)
    rows = [(row.front, not row.option.heavy, round(row.option.worst_contrast / 0.03)) for row in found.options]
    assert rows == sorted(rows, reverse=True)
    assert {front for front, _, _ in rows} == {True, False}


def test_a_trade_says_where_hardly_any_contrast_is_left() -> None:
    found = find_options(open_shot(), "metric", KIT)
    top = found.options[0].option
    for option in (row.option for row in found.options):
        percent = 100 * option.worst_contrast
        told = f"; at {percent:.{0 if percent >= 3 else 1}f} % contrast fine detail is all but lost"
        assert trade(option, top).endswith(told) is (option.worst_contrast < 0.1)
    faint = next(row.option for row in found.options if row.option.faint)
    assert trade(faint, faint).startswith("Best by what counts here: contrast in steps of 3 %, then ")
    assert " in tenths; at " in trade(faint, faint)
