"""The guide for whoever works on it says what is so: its map has every room, and every place that it names is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
MAP = GUIDE.split("## The way through")[1].split("\n## ")[0]
LONGEST_NAME = 69
ROOMS = sorted(path.parent.relative_to(ROOT) for path in ROOT.glob("*/*/__init__.py") if path.parts[-3] != "tests")


@pytest.mark.parametrize("room", ROOMS, ids=str)
def test_every_room_is_on_the_map(room: Path) -> None:
    named = {part for name in re.findall(r"`([a-z_/.]+)`", MAP) for part in name.split("/")}
    assert room.name in named


def test_the_map_fits_one_screen() -> None:
    lines = MAP.strip().splitlines()
    assert len(lines) <= 40
    assert max(map(len, lines)) <= 140


@pytest.mark.parametrize("place", sorted(set(re.findall(r"`((?:engine|tui|tests|profiles)/[a-z_/.]+)`", GUIDE))))
def test_every_place_that_the_guide_names_is_there(place: str) -> None:
    assert (ROOT / place).exists()


def test_the_name_of_a_test_is_read_at_a_glance() -> None:
    sources = [path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("test_*.py")]
    names = [name for source in sources for name in re.findall(r"^\s*(?:async )?def (test_\w+)", source, re.MULTILINE)]
    assert len(names) > 1000
    assert [name for name in names if len(name) > LONGEST_NAME] == []


@pytest.mark.parametrize("name", sorted(set(re.findall(r"`([A-Z]\w*[a-z]\w*(?:\.\w+)?)`", GUIDE)) - {"None"}))
def test_every_type_that_the_guide_names_is_there(name: str) -> None:
    sources = [path.read_text(encoding="utf-8") for room in ("engine", "tui") for path in (ROOT / room).rglob("*.py")]
    called, _, part = name.partition(".")
    (source,) = [text for text in sources if re.search(rf"^(?:class {called}\b|{called} = )", text, re.MULTILINE)]
    assert re.search(rf"\b{part}\b", source)


def test_no_kept_text_says_where_the_checkout_lies() -> None:
    kept = [*(ROOT / "tests").rglob("*.ambr")]
    assert kept
    assert [path.name for path in kept if str(ROOT) in path.read_text(encoding="utf-8")] == []
