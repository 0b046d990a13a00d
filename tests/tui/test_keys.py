"""Every key: unique, explained, in the footer where there is room, and the user's to change."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.binding import Binding

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.tui.board.board import Board
from forescale.tui.config import load_config
from forescale.tui.keys import BOARD_KEYS, NO_KEY, VALUE, footer_text
from tests.tui.app_pilot import press, running, screen_text

ALLOWED = re.compile(
    r"[a-z0-9]|f[1-5]|space|slash|up|down|left|right|home|end|pageup|pagedown|enter|tab|shift\+tab|escape"
)


def test_every_key_and_every_id_is_unique_and_can_be_typed_anywhere():
    with_key = [key for key in BOARD_KEYS if key.key]
    assert len({key.key for key in with_key}) == len(with_key)
    assert len({key.id for key in BOARD_KEYS}) == len(BOARD_KEYS)
    for key in BOARD_KEYS:
        assert not key.key or ALLOWED.fullmatch(key.key), key
        assert key.says


def test_every_binding_of_the_board_comes_from_the_one_list():
    bound = {binding.id: binding.key for binding in Board.BINDINGS if isinstance(binding, Binding)}
    also = {"keys": ",f2", "help": ",question_mark"}
    assert bound == {key.id: f"{key.key or NO_KEY}{also.get(key.id, '')}" for key in BOARD_KEYS}


@pytest.mark.parametrize("width", [80, 40])
def test_the_footer_fits_with_five_to_seven_keys_or_as_many_as_it_can(width):
    text = footer_text({}, width)
    assert len(text) + 1 <= width
    assert (5 if width == 80 else 4) <= len(text.split("  ")) <= 7


async def test_space_lists_everything_that_can_be_done():
    async with running(width=120, height=60) as pilot:
        text = await press(pilot, "space")
        for key in BOARD_KEYS:
            assert key.says in text
            assert key.id in text


async def test_what_is_typed_narrows_the_list_and_enter_does_it():
    async with running() as pilot:
        text = await press(pilot, "space", "text:light sink")
        assert "every stop beside the next" not in text
        assert "Nothing matches" in text
        assert "Backspace takes letters back" in text
        text = await press(pilot, *["backspace"] * 10, "text:gains")
        assert "every stop beside the next" in text
        assert "log a take" not in text
        assert "Stops" in (await press(pilot, "enter")).splitlines()[0]
        assert pilot.app.screen is not pilot.app.board
        text = await press(pilot, "escape", "space", "text:tilt by", "enter")  # a field, by its label
        assert pilot.app.screen is pilot.app.board
        assert pilot.app.board.in_hand() == "move.tilt_sweep"
        assert "Survey" in (await press(pilot, "space", "text:frame share", "enter")).splitlines()[0]
        text = await press(pilot, "escape", "space", "text:lens taken")  # which nobody types
        assert "taken lens is typed" not in text
        text = await press(pilot, "escape", "space", "text:hangs")  # by what it is for
        assert "go to mount" in text


async def test_keys_are_changed_in_the_configuration():
    (library.home()).mkdir(parents=True, exist_ok=True)
    (library.home() / "config.toml").write_text('theme = "daylight"\n[keys]\nundo = "z"\npane-alone = "u"\n')
    async with running() as pilot:
        assert pilot.app.theme == "daylight"
        await press(pilot, "right", "z")
        assert not pilot.app.session.unsaved
        assert "z undo" in screen_text(pilot).splitlines()[-1]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[keys]\nundoo = "z"', 'did you mean "undo"?'),
        ('[keys]\nundo = "q"', "already the key of"),
        ('[keys]\nundo = "ctrl+x"', "cannot be used"),
        ('theme = "pink"', "theme"),
        ('teme = "daylight"', 'did you mean "theme"?'),
    ],
)
def test_a_configuration_that_is_wrong_is_refused_in_one_line(text, says):
    library.home().mkdir(parents=True, exist_ok=True)
    (library.home() / "config.toml").write_text(text)
    with pytest.raises(BadInput) as caught:
        load_config()
    assert says in str(caught.value)
    assert len(str(caught.value).splitlines()) == 1


@pytest.mark.parametrize("word", ["wind", "ballast"])
async def test_whether_it_stands_is_found_by_what_it_is_about(word: str) -> None:
    async with running() as pilot:
        assert "will it stand" in await press(pilot, "space", f"text:{word}")
        assert "Will it stand" in (await press(pilot, "enter")).splitlines()[0]
        await press(pilot, "escape")
        assert pilot.app.screen is pilot.app.board


def test_the_readme_has_every_key_that_is_no_task() -> None:
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    table = text[text.index("| key | does |") : text.index("Whole tasks, a key each")]
    for one in BOARD_KEYS:
        if one.group == VALUE and one.key not in {"left", "right", "enter"}:
            assert f"`{one.key}`" in table, one.says
