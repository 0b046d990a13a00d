"""Stops side by side, keys only: the set one in hand, one set, one given back, and every width."""

from __future__ import annotations

import re

import pytest

from forescale.engine.compare.stop_words import against_set, stop_heads
from forescale.engine.solve.focus_zone import stop_table
from tests.tui.app_pilot import press, running
from tests.tui.sizes import every_size


def rows_of(text: str) -> list[str]:
    """The rows of the table: those that begin with a stop and have columns after it."""
    return [line.strip() for line in text.splitlines() if re.match(r" (T|f/)[\d.]+( set)?  ", line)]


def said(text: str) -> str:
    """What is said at the foot, on one line."""
    lines = text.splitlines()
    last = max(place for place, line in enumerate(lines) if re.match(r" (T|f/)[\d.]+( set)?  ", line))
    return " ".join(" ".join(lines[last + 1 : -1]).split())


async def test_the_stop_set_is_in_hand_and_said():
    async with running() as pilot:
        text = await press(pilot, "c")
        answer = pilot.app.session.state.answer
        table = stop_table(answer)
        (row,) = [row for row in table.rows if row.as_set]
        assert table.rows[pilot.shown.table.place] == row
        assert said(text) == against_set(answer, table, row)
        assert next(line for line in rows_of(text) if " set " in line).startswith("T20 set")
        assert [line.split()[0] for line in rows_of(text)][-2:] == ["T20", "T22"]


@pytest.mark.parametrize(("shot", "next_page"), [("lock-gate", set()), ("kiln-stack", {"focus"})])
async def test_columns_at_eighty_all_in_metres_all_but_one_in_feet(shot: str, next_page: set[str]):
    async with running(shot) as pilot:
        heads = (await press(pilot, "c")).splitlines()[1]
        assert {head for head in stop_heads(pilot.app.session.state.answer) if head not in heads} == next_page
        if next_page:
            assert "contrast focus" in await press(pilot, "right")


async def test_a_page_of_columns_that_had_no_room_says_what_they_are_of():
    async with running(width=50) as pilot:
        text = "".join([await press(pilot, key) for key in ("c", "right", "right", "right")])
        assert all(f"contrast {place}" in text for place in ("near", "focus", "far"))


async def test_moving_says_what_the_stop_in_hand_gains_and_loses():
    async with running() as pilot:
        text = await press(pilot, "c", "up", "up")
        assert said(text).startswith("T16: worst contrast up from")
        assert "0.7 stops more light, but the zone is short by" in said(text)
        assert said(await press(pilot, "down", "down", "down")).endswith("0.3 stops less light")


async def test_enter_sets_the_stop_in_hand_and_says_what_undo_brings():
    async with running() as pilot:
        before = pilot.app.session.state.shot
        text = await press(pilot, "c", "up", "up", "enter")
        assert pilot.app.screen is pilot.app.board
        assert "T16 is set; undo leaves it to the program again" in text
        assert pilot.app.session.state.answer.focus.stop_mark == pytest.approx(16)
        assert "focus.stop" not in pilot.app.session.state.answer.auto
        await press(pilot, "u")
        assert pilot.app.session.state.shot == before
        assert before.focus.stop is None
    async with running("lock-gate") as pilot:
        assert "T6.3 is set; undo brings T8 back" in await press(pilot, "c", "up", "up", "enter")


async def test_enter_on_the_programs_choice_keeps_it_as_set():
    async with running() as pilot:
        await press(pilot, "c", "enter")
        assert pilot.app.session.state.shot.focus.stop.value == pytest.approx(20.159, abs=5e-4)


async def test_enter_on_the_stop_set_changes_nothing():
    async with running("lock-gate") as pilot:
        await press(pilot, "c", "enter")
        assert pilot.app.screen is pilot.app.board
        assert not pilot.app.session.unsaved


async def test_the_stop_is_given_back_to_the_program():
    async with running("lock-gate") as pilot:
        text = await press(pilot, "c", "x")
        assert pilot.app.session.state.shot.focus.stop is None
        assert said(text).startswith("T6.3 is set, the program's choice; the first that holds the zone is T6.3")
        assert next(line for line in rows_of(text) if "first" in line).startswith("T6.3 set")


async def test_of_a_stop_that_the_lens_has_not_the_nearest_is_in_hand():
    async with running() as pilot:
        pilot.app.session.apply({"focus.stop": "T64"})
        text = await press(pilot, "c")
        assert not any(" set" in line for line in rows_of(text))
        assert said(text).startswith("T22: ")
        assert "more light" in said(text)


@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp"])
@every_size()
async def test_no_number_is_cut_at_any_size(shot: str, width: int, height: int):
    async with running(shot, width, height) as pilot:
        text = await press(pilot, "c")
        lines = text.splitlines()
        heads = lines[1].split()
        assert {"stop", "holds", "worst", "light"} <= set(heads)
        assert all(len(line) <= width for line in lines)
        assert "…" not in "".join(lines[1:])
        for line in rows_of(text):
            assert re.search(r"(yes|no|first)", line)
            assert re.search(r"[+-]\d+\.\d$", line)


async def test_without_colour_words_and_in_ascii_the_same():
    async with running(glyphs="ascii") as pilot:
        text = await press(pilot, "c")
        assert text.isascii()
        assert any("best" in line for line in rows_of(text))
