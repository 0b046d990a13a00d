"""Shelves on which something is bad: the lists show the rest, name the bad one, and open it for nothing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from forescale.engine.kit import library
from tests.faults.test_files import HUGE
from tests.tui.app_pilot import press, running

DEEP = f"{'.'.join('a' * 500)} = 1"


@pytest.fixture
def bad_shelves(home: Path) -> Path:
    """Put one of each bad thing on every shelf."""
    for shelf in library.ONE_OF:
        (home / shelf).mkdir(parents=True)
        (home / shelf / "huge.toml").write_text(f"schema = {HUGE}")
        (home / shelf / "deep.toml").write_text(DEEP)
        (home / shelf / "latin.toml").write_bytes(b"title = '\xe9'")
        (home / shelf / "folder.toml").mkdir()
        (home / shelf / "gone.toml").symlink_to(home / "nowhere")
        os.mkfifo(home / shelf / "pipe.toml")
    return home


BAD = ("huge", "deep", "latin", "folder", "gone", "pipe")


@pytest.mark.usefixtures("bad_shelves")
async def test_open_lists_the_rest_and_names_the_bad() -> None:
    async with running(height=40) as pilot:
        text = await press(pilot, "o")
        assert "The lock gate gives way" in text
        assert text.count("cannot be read") == len(BAD)
        assert all(name in text for name in BAD)
        for _ in range(len(BAD)):
            await press(pilot, "enter")
            assert pilot.app.session.state.shot.title == "The kiln stack falls"
            await press(pilot, "down")


@pytest.mark.usefixtures("bad_shelves")
async def test_kit_lists_the_rest_and_names_the_bad() -> None:
    async with running(height=40) as pilot:
        await press(pilot, "k")
        for expected in ("demo-cine-35", "demo-prime-35", "demo-slide-head"):
            text = await press(pilot, *["up"] * 12)
            assert expected in text
            assert all(name in text for name in BAD)
            before = pilot.app.session.state.shot
            await press(pilot, "e", "enter", "tab")  # the first is bad: it is not edited, and not taken
            assert pilot.app.session.state.shot == before
        assert pilot.app.failed is None


@pytest.mark.usefixtures("bad_shelves")
async def test_ways_are_searched_with_the_rest() -> None:
    async with running(height=40) as pilot:
        await press(pilot, "g")
        await pilot.app.workers.wait_for_complete()
        text = await press(pilot, "down")
        assert "ways work" in " ".join(text.split())
        assert pilot.app.failed is None
