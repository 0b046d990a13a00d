"""What is typed wrong at any field of the four panes keeps its text and says what would be right, which then is."""

from __future__ import annotations

import re
import textwrap

import pytest

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.solve.record import Pane
from forescale.tui.board.board_view import PANES
from forescale.tui.entry import Entry
from forescale.tui.panes.arrange import paths_of
from tests.tui.app_pilot import AppPilot, press, running

WRONG = ("1e999", "-5", "0", "x" * 300, "3\x07\x1b[31m4")


def right_of(says: str) -> list[str]:
    """Return the examples that a refusal gives, in quotation marks or after "like"."""
    _, _, right = says.partition("; write ")
    quoted = re.findall(r"[\"'](.+?)[\"'](?=[ ,;]|$)", right)
    _, like, plain = right.partition("it like ")
    return quoted or (re.split(r", as measured, | or, as measured, |, | or ", plain) if like else [])


async def hand_to(pilot: AppPilot, pane: Pane, path: str) -> None:
    at = paths_of(pilot.app.board.contents()[pane]).index(path)
    await press(pilot, str(PANES.index(pane) + 1), "home", *["down"] * at, "enter")


@pytest.mark.parametrize("pane", PANES)
async def test_a_wrong_entry_keeps_its_text_and_says_what_is_taken(pane: Pane) -> None:
    async with running() as pilot:
        board = pilot.app.board
        shot = board.session.state.shot
        for path in paths_of(board.contents()[pane]):
            await hand_to(pilot, pane, path)
            entry = board.query_one("#entry", Entry)
            for wrong in WRONG:
                board._try(wrong)
                if not board.typing.refused:
                    continue
                entry.value = wrong
                await press(pilot, "enter")
                assert (entry.value, board.session.state.shot) == (wrong, shot), (path, wrong)
                says = board.typing.says
                assert len(textwrap.wrap(says, 36)) <= 4, (path, says)  # what the narrowest pane has room for
                assert says.isprintable(), (path, says)
                examples = right_of(says)
                assert examples or "off the slide" in says, (path, says)
                for example in examples[:2]:
                    board._try(example)
                    assert not board.typing.refused, (path, wrong, example, board.typing.says)
            await press(pilot, "escape")
        assert board.session.state.shot == shot


async def test_what_cannot_be_left_empty_says_what_is_right_there() -> None:
    async with running() as pilot:
        for path, held in (("place.background", "240 ft"), ("place.lens_height", "5 ft")):
            await hand_to(pilot, "scale", path)
            text = " ".join((await press(pilot, "delete", "enter")).split())
            assert f"write it like {held}" in text, (FIELD_HELP[path].label, text)
            await press(pilot, "escape")
