"""The ways to shoot it, keys only: found, sorted, filtered, failing ones explained, one put on the board and back."""

from __future__ import annotations

import re

import pytest

from engine import options
from tests.tui.app_pilot import press, running, screen_text


async def ways(pilot) -> str:
    """Open the ways and wait until the search is done."""
    await press(pilot, "g")
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()
    return screen_text(pilot)


def rows_of(text: str) -> list[str]:
    """Return the rows of the table that name a lens."""
    return [line for line in text.splitlines() if re.match(r" demo-[\w-]+ +\d", line)]


async def test_the_best_way_stands_first_with_what_it_trades_and_how_many_work():
    async with running() as pilot:
        text = await ways(pilot)
        shot = pilot.app.session.state.shot
        found = options.find_options(shot, shot.units, options.at_hand(shot.kit))
        assert rows_of(text)[0].split()[0] == found.options[0].option.glass.lens.name
        assert f"{found.working} of {found.searched} ways work" in text
        assert "Best by what counts here" in text


async def test_enter_puts_a_way_on_the_board_and_undo_brings_the_old_one_back():
    async with running() as pilot:
        before = pilot.app.session.state.shot
        await ways(pilot)
        await press(pilot, "enter")
        assert pilot.app.screen is pilot.app.board
        assert pilot.app.session.state.shot.kit.lens == "demo-prime-25"
        await press(pilot, "u")
        assert pilot.app.session.state.shot == before


async def test_a_column_sorts_and_turns_round():
    async with running(width=200, height=50) as pilot:
        await ways(pilot)
        head = screen_text(pilot).splitlines()[1]
        await press(pilot, *["right"] * head.split().index("contrast"), "s")
        best = [line.split("%")[0].split()[-1] for line in rows_of(screen_text(pilot))]
        assert [float(one) for one in best] == sorted(map(float, best), reverse=True)
        await press(pilot, "s")
        turned = [line.split("%")[0].split()[-1] for line in rows_of(screen_text(pilot))]
        assert turned == best[::-1]


async def test_words_keep_the_rows_that_hold_them_while_they_are_typed():
    async with running(width=200) as pilot:
        await ways(pilot)
        text = await press(pilot, "w", "text:small 25")
        kept = rows_of(text)
        assert kept
        assert all("25" in row for row in kept)
        assert len(kept) < 15
        assert len(rows_of(await press(pilot, "enter", "w", "backspace", "enter"))) == 15


async def test_the_ways_that_fail_say_why():
    async with running(width=120) as pilot:
        await ways(pilot)
        await press(pilot, "x")
        await pilot.app.workers.wait_for_complete()
        text = await press(pilot)
        assert "the mode is too slow for the model to look heavy" in text


async def test_what_the_shot_sets_can_be_left_open_for_the_search():
    async with running(width=120, height=40) as pilot:
        await ways(pilot)
        await press(pilot, "o", "text:all", "enter")
        await pilot.app.workers.wait_for_complete()
        text = await press(pilot)
        assert len({row.split()[2] if row.split()[2].startswith("1:") else row.split()[3] for row in rows_of(text)}) > 1
        await press(pilot, "enter")
        shot = pilot.app.session.state.shot
        assert shot.place.model is None
        assert shot.scale.ratio is not None


async def test_naming_something_that_is_not_set_is_refused():
    async with running() as pilot:
        await ways(pilot)
        text = await press(pilot, "o", "text:stop", "enter")
        assert "is not set in the shot" in " ".join(text.split())


async def test_limits_are_typed_checked_and_searched_with():
    async with running() as pilot:
        await ways(pilot)
        await press(pilot, "l")
        text = await press(pilot, *["down"] * 6, "enter", "text:lens mice", "enter")
        assert '"mice" is not known' in text
        await press(pilot, "escape", "enter", "backspace", "text:lens", "enter")
        assert pilot.app.session.state.shot.limits.hold == ("lens",)
        await press(pilot, "escape")
        await pilot.app.workers.wait_for_complete()
        text = await press(pilot)
        assert {row.split()[0] for row in rows_of(text)} == {"demo-prime-35"}


@pytest.mark.parametrize(("width", "height"), [(40, 15), (60, 20), (80, 24), (100, 30), (200, 60)])
async def test_the_table_fits_and_no_row_is_cut(width, height):
    async with running("lock-gate", width, height) as pilot:
        text = await ways(pilot)
        assert all(len(line) <= width for line in text.splitlines())
        assert "contrast" in text
        assert text.splitlines()[-1].rstrip().endswith("Esc back")


async def test_escape_ends_the_search_and_the_board_is_there_at_once():
    async with running() as pilot:
        await pilot.press("g")
        await press(pilot, "escape")
        assert pilot.app.screen is pilot.app.board
        await press(pilot, "right")
        assert pilot.app.session.unsaved
