"""What every task shares: keys that go to the ends, words found, where one is, a prompt that fits, what to do first."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module
from typing import Any

import pytest
from textual.screen import Screen

from forescale.engine.kit import library
from forescale.tui.app import TASKS, ForescaleApp
from forescale.tui.app_screen import BoardBelow, ShotApp
from forescale.tui.board.board import Board
from forescale.tui.entry import Entry
from forescale.tui.tasks.frame.asking import Asking
from tests.tui.app_pilot import press, running, screen_text


@pytest.mark.parametrize("task", ["f", "e", "c"])
async def test_home_and_end_go_to_the_ends_of_a_list_and_the_title_says_where(task: str) -> None:
    async with running() as pilot:
        await press(pilot, task)
        table = pilot.shown.table
        count = len(pilot.app.session.state.answer.findings) if task == "f" else table.row_count
        assert f"{count} of {count}" in (await press(pilot, "end")).splitlines()[0]
        assert f"1 of {count}" in (await press(pilot, "home")).splitlines()[0]
        assert f"1 of {count}" not in (await press(pilot, "pagedown")).splitlines()[0]


async def test_the_sheet_says_which_of_its_lines_are_in_sight() -> None:
    async with running() as pilot:
        await press(pilot, "f5")  # how many lines there are is known once they are laid out, and said after that
        assert " 1 to 20 of " in (await press(pilot)).splitlines()[0]
        assert " 1 to 20 of " not in (await press(pilot, "pagedown")).splitlines()[0]


async def test_up_and_down_go_through_the_list_of_all_that_can_be_done() -> None:
    async with running() as pilot:
        await press(pilot, "space", "down", "down")
        assert pilot.shown.table.cursor_row == 2
        await press(pilot, "end", "up")
        assert pilot.shown.table.cursor_row == pilot.shown.table.row_count - 2


async def test_a_prompt_is_wrapped_anew_for_another_size() -> None:
    async with running(width=120) as pilot:
        await press(pilot, "5", "a", "text:eaves", "enter")
        await pilot.resize_terminal(40, 15)
        text = " ".join((await press(pilot)).split())
        assert "aside and height at full size, or shares or pixels from the left edge and from the bottom" in text


async def test_glyphs_and_help_change_while_a_value_is_typed_and_it_stays() -> None:
    async with running() as pilot:
        await press(pilot, "p", "a", "text:gutter")
        assert "gutter" in await press(pilot, "f4")
        assert "gutter" in await press(pilot, "f1", "escape")


async def test_the_list_that_has_the_keys_has_the_cursor() -> None:
    async with running(height=40) as pilot:
        await press(pilot, "p")
        build, stock = (pilot.shown.query_one(f"#{name}") for name in ("build", "stock"))
        assert build.has_focus
        await press(pilot, "tab")
        assert stock.has_focus
        assert not build.has_focus


async def test_an_outline_that_crosses_itself_is_warned_of() -> None:
    corners = ("1 m left, 0 m", "1 m right, 2 m", "1 m left, 2 m", "1 m right, 0 m")
    async with running("lock-gate") as pilot:
        keys = [key for text in corners for key in (f"text:{text}", "enter")]
        assert "mast crosses itself" in await press(pilot, "5", "n", "text:mast", "enter", *keys, "enter")


async def test_a_new_shot_asks_for_the_name_of_its_file() -> None:
    async with running() as pilot:
        await press(pilot, "o", "n", "text:The mill burns", "enter", "text:200 ft", "enter", "enter", "enter")
        assert "Name of its file: the-mill-burns" in screen_text(pilot)
        await press(pilot, *["backspace"] * 20, "text:mill", "enter")
        assert pilot.app.session.path == library.home() / "shots" / "mill.toml"


@pytest.mark.parametrize("keys", [("6",), ("j",)])
async def test_a_page_with_little_room_is_shown_alone_where_one_goes_to_it(keys: tuple[str, ...]) -> None:
    async with running(width=60, height=20) as pilot:
        await press(pilot, *keys)
        page, table = pilot.shown.page, pilot.shown.table
        page.show_rows([((f"line {number}", ""),) for number in range(30)])
        pilot.shown.lay_out()
        await press(pilot, "tab")
        assert not table.display
        assert page.size.height >= 14
        await press(pilot, "tab" if keys == ("6",) else "shift+tab")
        assert table.display


async def test_what_is_taken_goes_on_to_the_next_row_and_says_so() -> None:
    async with running("lock-gate") as pilot:
        text = await press(pilot, "j", "enter", "text:4 -2", "enter")
        assert "left jamb misses by 4 right 2 down; next: B right jamb" in " ".join(text.split())
        assert "on to" not in await press(pilot, "up")


async def test_the_list_of_shots_wraps_no_name_beside_empty_columns() -> None:
    async with running(width=120) as pilot:
        name = "a-dam-with-quite-a-long-name-of-its-own"
        library.save_shot(library.home() / "shots" / f"{name}.toml", pilot.app.session.state.shot)
        assert name in await press(pilot, "o")


def test_the_app_and_the_board_have_what_the_screens_ask_of_them() -> None:
    kinds: tuple[type[ShotApp], type[BoardBelow]] = (ForescaleApp, Board)  # mypy holds what each takes and gives
    for asked, kind in zip((ShotApp, BoardBelow), kinds, strict=True):
        names = {name for name in vars(asked) if not name.startswith("_")}
        assert len(names) >= 3
        assert names <= set(dir(kind))


@pytest.mark.parametrize(
    "keys", [("s",), ("f5", "s"), ("f5", "slash"), ("o", "n"), ("p", "a"), ("enter",), ("5", "a")], ids=str
)
@pytest.mark.parametrize("tab", ["tab", "shift+tab"])
async def test_tab_leaves_no_entry_and_esc_does(keys: tuple[str, ...], tab: str) -> None:
    async with running() as pilot:
        await press(pilot, *keys, tab, "text:ab")
        (entry,) = pilot.app.screen.query(Entry)
        assert entry.has_focus
        assert entry.value.endswith("ab")
        await press(pilot, *["escape"] * len(keys))
        assert pilot.app.screen is pilot.app.board
        assert pilot.app.board.typing is None


async def test_help_on_a_question_says_what_is_asked_and_comes_back_to_it() -> None:
    async with running() as pilot:
        text = " ".join((await press(pilot, "o", "n", "text:The mill burns", "enter", "f1")).split())
        assert "Asked now: Background on the tape: from the camera to the real thing" in text
        assert "Press n to begin a new shot. It asks for its title" in text
        assert "Background on the tape: 90 ft" in await press(pilot, "f1", "text:90 ft")
        await press(pilot, "escape", "escape")
        assert "Asked now" not in await press(pilot, "f1")


async def test_a_number_typed_in_a_list_begins_the_entry_of_its_row() -> None:
    async with running(width=100, height=30) as pilot:
        for keys, asked in (
            (("6",), "latitude"),
            (("j",), "Misses at "),
            (("b",), "Slide at"),
        ):
            text = await press(pilot, *keys, "text:-.5 1")
            assert re.search(rf"{asked}[^:]*: -\.5 1", text)
            await press(pilot, "escape", "escape")
        await press(pilot, "5", "text:7")  # on a name, which is none
        assert not pilot.shown.typing
        await press(pilot, "escape", "p", *["right"] * 5, "text:7")  # on "off", which Enter turns over
        assert pilot.shown.table.column == "off"
        assert not pilot.shown.typing


async def test_esc_goes_back_one_question_with_what_was_typed_there() -> None:
    async with running() as pilot:
        text = await press(pilot, "o", "n", "text:The tower", "enter", "text:200 ft", "enter", "text:12", "escape")
        assert "Background on the tape: 200 ft" in text
        assert "Title of the new shot: The tower" in await press(pilot, "escape")
        assert "Background on the tape:" in await press(pilot, "enter")
        text = await press(pilot, "escape", "escape")
        assert "Title of the new shot" not in text
        assert "Esc back" in text


def screens_on(base: type[Any]) -> Iterator[type[Any]]:
    for one in base.__subclasses__():
        yield one
        yield from screens_on(one)


def test_no_screen_uses_a_private_name_of_its_base_for_something_else() -> None:
    """The first of two takes once stood where the text begins that is typed."""
    for module in TASKS.values():
        import_module(f"forescale.tui.tasks.{module}")
    screens = {*screens_on(Asking)}
    assert len(screens) > 30
    for screen in screens:
        for name, value in vars(screen).items():
            if name.startswith("_") and not hasattr(Screen, name) and not callable(value):
                bases = [vars(base)[name] for base in screen.__mro__[1:] if name in vars(base)]
                assert all(type(of_base) is type(value) for of_base in bases), (screen, name)
