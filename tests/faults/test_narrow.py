"""Windows of a few columns or rows: every screen stays up, whatever it is given, and comes back when there is room."""

from __future__ import annotations

import gc
import weakref

import pytest

from forescale.tui.tasks.frame.widgets import TaskPage
from tests.tui.app_pilot import back_to_board, press, running, screen_text
from tests.tui.test_task_help import WAYS_IN

SMALLEST, NARROW = ((4, 3), (1, 1)), ((1, 24), (80, 1))


@pytest.mark.thorough
@pytest.mark.parametrize("sizes", [SMALLEST, NARROW], ids=["small", "narrow"])
async def test_every_screen_stands_every_size(sizes: tuple[tuple[int, int], ...]) -> None:
    async with running() as pilot:
        for keys in ("", "enter", *WAYS_IN.values()):
            await press(pilot, *keys.split())
            for size in (*sizes, (80, 24)):
                await pilot.resize_terminal(*size)
                await press(pilot, "down")
            assert "The kiln stack falls" in screen_text(pilot), keys
            await back_to_board(pilot)


@pytest.mark.parametrize("keys", ["n", "t"])
async def test_a_list_with_nothing_in_it_stands_every_key(keys: str) -> None:
    """Where there is no state and no take yet, a table has no row at all: up and down lead nowhere."""
    async with running() as pilot:
        await press(pilot, *keys.split())
        for key in ("up", "down", "home", "end", "pageup", "pagedown", "left", "right", "enter", "delete", "x", "c"):
            assert "yet" in await press(pilot, key), key
        assert pilot.app.failed is None


@pytest.mark.parametrize("keys", ["space", "t f2", "k"])
async def test_a_task_that_was_left_before_its_title_was_drawn_is_no_fault(keys: str) -> None:
    async with running() as pilot:
        await press(pilot, *keys.split())
        left = pilot.shown
        await press(pilot, *["escape"] * 3)
        assert pilot.app.screen is pilot.app.board
        left.show_title()
        assert pilot.app.failed is None


@pytest.mark.parametrize("keys", ["b", "5", "5 tab", "space text:sharpness enter"])
async def test_a_list_whose_rows_are_all_gone_stands_every_key(keys: str) -> None:
    async with running() as pilot:
        pilot.app.session.apply({"bench": (), "point": (), "outline": (), "miss": ()})
        await press(pilot, *keys.split())
        assert not pilot.shown.table.row_count
        for key in ("pagedown", "end", "up", "home", "down", "pageup", "left", "right", "h", "x", "tab", "shift+tab"):
            await press(pilot, key)
        assert pilot.app.failed is None


async def test_a_page_is_not_wrapped_narrower_than_it_is_read() -> None:
    """A sheet in a window of two columns was six thousand lines, each kept with all that Textual knows of it."""
    async with running() as pilot:
        await press(pilot, "f5")
        await pilot.resize_terminal(2, 20)
        await pilot.pause()
        page = pilot.shown.query_one(TaskPage)
        assert page.max_scroll_y < 10 * len(page.rows)


async def test_a_task_that_was_left_is_let_go_of() -> None:
    async with running() as pilot:
        await press(pilot, "f5")
        painted = weakref.ref(pilot.shown.query_one(TaskPage)._styles_cache)
        await press(pilot, "escape")
        gc.collect()
        assert painted() is None
