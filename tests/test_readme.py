"""The README is true: its commands, its screen, its table of formulas, its example."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from forescale.engine.answer import answer
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot.records import Shot
from forescale.tui.config import Config, check_keys
from forescale.tui.keys import BOARD_KEYS
from tests.refresh_readme import SCREENS, screen, table_markdown

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")


def test_the_table_of_formulas_is_that_of_the_program():
    assert table_markdown() in README


@pytest.mark.parametrize("shown", SCREENS)
async def test_the_screens_shown_are_the_screens(shown: tuple[str, int, int, tuple[str, ...]]):
    assert await screen(*shown) in README


def test_the_example_of_a_shot_can_be_shot():
    examples = re.findall(r"```toml\n(.*?)```", README, re.DOTALL)
    shot = Shot.read(tomllib.loads(examples[0]), "README.md")
    assert answer(shot, load_kit(shot.kit, "README.md"), shot.units).lineup.model_mm == 3048.0
    first, picture = tomllib.loads(examples[0]), tomllib.loads(examples[1])
    first["place"] |= picture.pop("place")
    seen = Shot.read(first | picture, "README.md")
    assert answer(seen, load_kit(seen.kit, "README.md"), seen.units).picture is not None
    day = Shot.read(tomllib.loads(examples[0] + examples[2]), "README.md")
    assert answer(day, load_kit(day.kit, "README.md"), day.units).sun is not None
    check_keys(Config.model_validate(tomllib.loads(examples[-1])), "README.md")


def test_every_key_that_it_names_does_what_it_says():
    keys = {key.key: key for key in BOARD_KEYS}
    for key, name in re.findall(r"^- `(\w)` \*\*(.*?)\.\*\*", README, re.MULTILINE):
        assert key in keys, name
    for word in re.findall(r"^- `(\w)`", README, re.MULTILINE):
        assert keys[word].group == "Whole tasks"
