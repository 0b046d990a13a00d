"""F1 on a task: every screen has its help, true to its keys, over the task and also while a value is typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module
from pkgutil import walk_packages
from typing import Any

import pytest
from syrupy.assertion import SnapshotAssertion

import forescale.tui.tasks
from forescale.tui.entry import Entry
from forescale.tui.tasks.frame.help import HelpScreen, TaskHelpScreen, task_help
from forescale.tui.tasks.frame.task_screen import TaskScreen
from forescale.tui.tasks.frame.widgets import TaskTable
from tests.tui.app_pilot import back_to_board, press, running

HELP_ITSELF = {HelpScreen, TaskHelpScreen}
SAYS_WHERE_FILES_LIE = {"OpenScreen", "AboutScreen", "SaveAsScreen", "LeavingScreen", "KeysScreen"}
NO_KEY_LEADS_TO = {"ElsewhereScreen"}  # it opens where a file was changed elsewhere; tried in the trials of faults
WAYS_IN = {
    "FindingsScreen": "f",
    "ExplainScreen": "e",
    "KitScreen": "k",
    "ProfileScreen": "k tab e enter",
    "BenchScreen": "b",
    "SurveyScreen": "y",
    "PartsScreen": "p",
    "WaysScreen": "g",
    "LimitsScreen": "g e",
    "WholeScreen": "g v",
    "MarginsScreen": "d",
    "MarksScreen": "n",
    "CompareScreen": "n a enter enter",
    "TakesScreen": "t",
    "TaskKeysScreen": "t f2",
    "MovedScreen": "m",
    "WhatToDoScreen": "m 1 1 enter d",
    "SheetScreen": "f5",
    "PartScreen": "p v",
    "StandScreen": "p i",
    "StopsScreen": "c",
    "ViewScreen": "v",
    "DayScreen": "6",
    "StripsScreen": "space s t r i p s enter",
    "PointsScreen": "5",
    "LineUpScreen": "j",
    "ComeBackScreen": "j b",
    "OpenScreen": "o",
    "AboutScreen": "i",
    "SaveAsScreen": "w",
    "KeysScreen": "f2",
    "LeavingScreen": "right q",
}


def screens() -> list[Any]:
    """Return every screen of a task that is shown, those without a title that others are made of left out."""
    for module in walk_packages(forescale.tui.tasks.__path__, "forescale.tui.tasks."):
        import_module(module.name)
    return [kind for kind in _below(TaskScreen) if kind.TASK or not kind.__subclasses__()]


def _below(kind: Any) -> Iterator[Any]:
    for one in kind.__subclasses__():
        yield one
        yield from _below(one)


def as_kept(text: str) -> list[str]:
    """Return a screen's lines, but for blank ones, the hour and the day."""
    told = re.sub(r"\b\d\d:\d\d\b", "hh:mm", re.sub(r"\b\d{4}-\d\d-\d\d\b", "yyyy-mm-dd", text))
    return [line.rstrip() for line in told.splitlines() if line.strip()]


def words(text: str) -> str:
    return " ".join(text.split())


def test_every_screen_has_its_help_and_no_help_is_left_over() -> None:
    assert (
        {kind.__name__ for kind in screens() if kind not in HELP_ITSELF}
        == set(task_help())
        == set(WAYS_IN) | NO_KEY_LEADS_TO
    )


def test_help_is_short_and_names_only_keys_that_the_task_has() -> None:
    for kind in set(screens()) - HELP_ITSELF:
        what, *steps = task_help()[kind.__name__]
        assert 1 <= len(re.findall(r"\.(?: |$)", what)) <= 3
        assert steps
        assert all(step.endswith(".") for step in steps)
        keys = {binding.key for binding in kind.BINDINGS}
        letters = re.findall(r"(?<![\w'])[b-z](?![\w'])", " ".join((what, *steps)))
        assert set(letters) <= keys, kind


@pytest.mark.parametrize(("first", "back"), [*enumerate(("f1", "question_mark", "escape"))])
async def test_f1_shows_the_help_over_the_task_as_it_was_and_goes_back_to_it(
    first: int, back: str, snapshot: SnapshotAssertion
) -> None:
    """A task is kept as it stood, on a screen so high that all of it is seen."""
    async with running(height=80) as pilot:
        for name, keys in tuple(WAYS_IN.items())[first::3]:
            await press(pilot, *keys.split())
            task = pilot.shown
            await pilot.app.workers.wait_for_complete()
            if name not in SAYS_WHERE_FILES_LIE:
                assert as_kept(await press(pilot)) == snapshot(name=name)
            assert type(task).__name__ == name
            assert not any(table.max_scroll_x for table in task.query(TaskTable)), name  # no list goes on sideways
            text = words(await press(pilot, "f1"))
            assert all(part in text for part in task_help()[name]), name
            assert all(said in text for _, said in task.all_keys()), name
            await press(pilot, back)
            assert pilot.app.screen is task
            await back_to_board(pilot)


async def test_f1_while_typing_keeps_the_entry() -> None:
    async with running() as pilot:
        await press(pilot, "p", "a", "text:gate")
        assert "Help: Build list" in await press(pilot, "f1")
        await press(pilot, "escape", "text:post")
        assert pilot.app.screen.query_one(Entry).value == "gatepost"


async def test_f1_is_in_the_footer_where_it_has_room_else_among_the_keys() -> None:
    async with running() as pilot:
        assert "F1 help" in (await press(pilot, "f")).splitlines()[-1]
    async with running(width=40, height=15) as pilot:
        text = await press(pilot, "t")
        assert "F1" not in text
        text = await press(pilot, "f2", "text:what this task")
        assert "what this task is for" in " ".join(text.split())
        assert "Help: Takes" in await press(pilot, "enter")


async def test_the_boards_own_help_goes_back_by_the_key_that_opened_it() -> None:
    async with running() as pilot:
        for key in ("f1", "question_mark"):
            assert "F1 back" in (await press(pilot, "f1")).splitlines()[-1]
            await press(pilot, key)
            assert pilot.app.screen is pilot.app.board


@pytest.mark.parametrize(("width", "height"), [(40, 15), (60, 20), (80, 24), (120, 40)])
@pytest.mark.parametrize("glyphs", ["ascii", "full"])
async def test_help_fits_every_size(width: int, height: int, glyphs: str) -> None:
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        lines = (await press(pilot, "k", "f1")).splitlines()
        assert len(lines) == height
        assert all(len(line) <= width for line in lines)
        assert "The shelves of cameras, lenses" in words("\n".join(lines))
        assert words("\n".join(lines)).endswith("Esc back")
        assert "Esc back" in words(await press(pilot, "end"))
        if glyphs == "ascii":
            assert "".join(lines).isascii()


@pytest.mark.parametrize(("width", "heads"), [(70, "key kind"), (100, "key kind its name")])
async def test_the_list_of_keys_says_more_from_the_width_on_that_it_needs(width: int, heads: str) -> None:
    async with running(width=width) as pilot:
        lines = (await press(pilot, "f2")).splitlines()
        assert heads in next(words(line) for line in lines if "what it does" in line)
