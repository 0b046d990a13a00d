"""Running the app in a test: keys in, the screen's text out."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from textual.pilot import Pilot

from forescale.engine.kit import library
from forescale.tui.app import ForescaleApp, start_session
from forescale.tui.config import load_config


@asynccontextmanager
async def running(
    shot: str = "kiln-stack", width: int = 80, height: int = 24, glyphs: str = "full", theme: str | None = None
) -> AsyncIterator[Pilot[int]]:
    """Run the app on a shot, by name or path, as the program itself starts it."""
    session, greeting = start_session(library.shot_path(shot))
    app = ForescaleApp(session, load_config(), glyphs, theme)
    app.greeting = greeting
    async with app.run_test(size=(width, height)) as pilot:
        await pilot.pause()
        yield pilot


def screen_text(pilot: Pilot[int]) -> str:
    """Return what the screen shows, a line a row."""
    strips = pilot.app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


async def press(pilot: Pilot[int], *keys: str) -> str:
    """Press keys, `text:...` typing a text, and return what the screen then shows."""
    for key in keys:
        for one in key.removeprefix("text:") if key.startswith("text:") else [key]:
            await pilot.press(_name(one) if key.startswith("text:") else one)
    await pilot.pause()
    return screen_text(pilot)


def _name(character: str) -> str:
    names = {" ": "space", ".": "full_stop", "/": "slash", ":": "colon", "'": "apostrophe", '"': "quotation_mark"}
    return names.get(character, character)
