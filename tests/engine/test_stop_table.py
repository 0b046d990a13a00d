"""Every stop beside the next: each row is what the answer would be with that stop set."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import Any

import pytest
from cases import again, shipped, solve
from hypothesis import given, reject
from strategies import kits, shot_changes

from forescale.engine.answer import Answer, answer_file
from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.solve.focus_zone import StopRow, around, stop_table
from forescale.engine.units import Stop

DEMOS = ["kiln-stack", "lock-gate", "signal-lamp"]
IN_T = {"marks": "T", "widest": "T1.4", "smallest": "T32", "transmission_loss": 0.4}


def demo(name: str) -> Answer:
    return answer_file(shipped("shots", name))[1]


def with_stop(found: Answer, row: StopRow) -> Answer:
    """The answer with a row's stop set, as a person would write it."""
    stop = Stop(row.stop_mark, found.kit.lens.marks, marked=True)
    return again(found, edit.changed(found.setting, {"focus.stop": edit.text_of(stop, None, found.system)}))


def check(row: StopRow, told: Answer) -> None:
    zone, contrast = told.focus, told.focus.contrast
    assert contrast is not None
    for mine, theirs in (
        (row.stop_mark, zone.stop_mark),
        (row.f_number, zone.f_number),
        (row.near_mm, zone.near_mm),
        (row.far_mm, zone.far_mm),
        (row.lux_needed, told.light.lux_needed),
        (row.lux_with_nd, told.light.lux_with_nd),
    ):
        assert mine == pytest.approx(theirs, rel=1e-9)
    shares = (contrast.near, contrast.focus, contrast.far, contrast.worst)
    assert (row.near, row.focus, row.far, row.worst) == pytest.approx(shares, abs=1e-9)
    assert row.covers == zone.covers
    assert row.over_stops == pytest.approx(told.light.over_stops)


@pytest.mark.parametrize("name", DEMOS)
def test_every_row_is_the_answer_with_its_stop_set(name: str) -> None:
    found = demo(name)
    table = stop_table(found)
    assert [row.f_number for row in table.rows] == list(found.kit.lens.f_numbers)
    for row in table.rows:
        told = with_stop(found, row)
        check(row, told)
        assert [other.as_set for other in stop_table(told).rows] == [other is row for other in table.rows]


@given(shot_changes(), kits())
def test_every_row_is_the_answer_with_its_stop_set_whatever_the_shot(changes: dict[str, Any], kit: Any) -> None:
    try:
        found = solve(changes, mode=kit["mode"], lens=kit["lens"], head=kit["head"])
    except BadInput:
        reject()
    table = stop_table(found)
    check(table.as_shot, found)
    for row in table.rows[:: max(len(table.rows) // 5, 1)]:
        check(row, with_stop(found, row))
    assert sum(row.best for row in table.rows) == 1
    assert sum(row.first_to_hold for row in table.rows) == any(row.covers for row in table.rows if on_marks(found, row))
    marks = found.kit.lens.f_numbers
    inside = marks[0] * (1 - 1e-6) <= found.focus.f_number <= marks[-1] * (1 + 1e-6)
    assert sum(row.as_set for row in table.rows) == inside
    assert 1 <= len(around(table, 7)) <= 7


def on_marks(found: Answer, row: StopRow) -> bool:
    return row.f_number in found.kit.lens.f_numbers


@pytest.mark.parametrize("name", DEMOS)
def test_the_first_that_holds_is_the_one_that_the_program_chooses(name: str) -> None:
    found = demo(name)
    chosen = again(found, edit.changed(found.setting, {"focus.stop": None}))
    (first,) = [row for row in stop_table(found).rows if row.first_to_hold]
    assert first.f_number == chosen.focus.f_number
    assert all(row.covers == (row.f_number >= first.f_number) for row in stop_table(found).rows)


@pytest.mark.parametrize("name", DEMOS)
def test_the_best_is_that_of_the_answer_and_no_other_is_better(name: str) -> None:
    found = demo(name)
    rows = stop_table(found).rows
    (best,) = [row for row in rows if row.best]
    assert found.focus.contrast is not None
    assert best.f_number == found.focus.contrast.best_f_number
    assert best.worst == max(row.worst for row in rows)


def test_a_stop_between_two_marks_stands_among_them() -> None:
    table = stop_table(solve({"focus.stop": "f/=13.0"}))
    place = next(place for place, row in enumerate(table.rows) if row.as_set)
    before, here, after = table.rows[place - 1 : place + 2]
    assert here == table.as_shot
    assert (here.stop_mark, here.first_to_hold, here.best) == (13.0, False, False)
    assert (round(before.f_number, 2), round(after.f_number, 2)) == (12.70, 14.25)  # the marks f/13 and f/14


def test_a_stop_that_the_lens_has_not_is_no_row() -> None:
    table = stop_table(solve({"focus.stop": "f/64"}))
    assert not any(row.as_set for row in table.rows)
    assert table.as_shot.f_number == 64
    assert table.rows[-1].f_number == pytest.approx(22.627, abs=5e-4)


def test_a_lens_in_t_stops_is_told_by_its_marks() -> None:
    found = solve({"focus.stop": "T16"}, lens=IN_T)
    (row,) = [row for row in stop_table(found).rows if row.as_set]
    assert row.stop_mark == pytest.approx(16)
    assert row.f_number == pytest.approx(16 / 2**0.2)


def test_no_stop_is_first_where_none_holds() -> None:
    rows = stop_table(solve({}, lens={"smallest": "f/4"})).rows  # f/4.93 is needed
    assert not any(row.covers or row.first_to_hold for row in rows)


def test_without_light_there_is_only_what_is_needed() -> None:
    row, following = stop_table(solve({})).rows[:2]
    assert row.over_stops is None
    assert following.lux_with_nd / row.lux_with_nd == pytest.approx(2 ** (1 / 3))


def test_infinity_is_where_the_zone_has_no_end() -> None:
    assert math.isinf(stop_table(demo("kiln-stack")).rows[-1].far_mm)


def labels(changes: dict[str, Any], lens: dict[str, Any] | None = None) -> tuple[list[float], Callable[[str], float]]:
    """The marks of the shortened table, and what stands out in it."""
    rows = around(stop_table(solve(changes, lens=lens)), 7)
    return [row.stop_mark for row in rows], lambda name: next(row.stop_mark for row in rows if getattr(row, name))


def test_the_shortened_table_has_what_counts_in_even_steps() -> None:
    marks, mark_of = labels({"focus.stop": "f/6.3"})
    assert {mark_of("as_set"), mark_of("first_to_hold"), mark_of("best")} <= set(marks)
    steps = [round(6 * math.log2(after / before)) for before, after in itertools.pairwise(marks)]
    assert all(1 <= step <= 3 for step in steps)
    assert len(marks) >= 4


def test_the_shortened_table_spans_a_lens_wide_open() -> None:
    marks, mark_of = labels({"focus.stop": "f/1.4"}, {"widest": "f/1.4", "smallest": "f/64"})
    assert len(marks) <= 7
    assert marks[0] == mark_of("as_set") == pytest.approx(2**0.5)
    assert marks[-1] > max(mark_of("first_to_hold"), mark_of("best"))
