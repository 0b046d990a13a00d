"""Running the app in a test: keys in, the screen's text out."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from textual import events
from textual.pilot import Pilot

from forescale.engine.kit import library
from forescale.tui.app import ForescaleApp, start_session
from forescale.tui.config import load_config
from forescale.tui.type_ahead import TypeAhead

WAIT_S, MOST_WAITS = 0.002, 10_000  # how often to look whether the keys are done, and how often at most
PASSES = 2  # of the app's messages, behind the last key


class AppPilot(Pilot[int]):
    """A pilot who knows which app it is."""

    app: ForescaleApp

    @property
    def shown(self) -> Any:
        """The screen in front, whichever it is."""
        return self.app.screen


@asynccontextmanager
async def running(
    shot: str = "kiln-stack", width: int = 80, height: int = 24, glyphs: str = "full", theme: str | None = None
) -> AsyncIterator[AppPilot]:
    """Run the app on a shot, by name or path, as the program itself starts it."""
    session, greeting = start_session(library.shot_path(shot))
    app = ForescaleApp(session, load_config(), glyphs, theme)
    app.greeting = greeting
    async with app.run_test(size=(width, height)):
        pilot = AppPilot(app)
        await pilot.pause()
        yield pilot


def screen_text(pilot: AppPilot) -> str:
    """Return what the screen shows, a line a row."""
    strips = pilot.app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


async def press(pilot: AppPilot, *keys: str) -> str:
    """Press keys, `text:...` typing a text, and return what the screen then shows.

    All are handed over at once: the app itself takes a key only when the one before has done all that it does.
    """
    app = pilot.app
    assert isinstance(app, TypeAhead)
    for key in keys:
        if key.startswith("text:"):
            for one in key.removeprefix("text:"):
                _send(app, _NAMES.get(one, one), one)
        else:
            _send(app, key, _CHARACTERS.get(key, key if len(key) == 1 else None))
    handed_over = asyncio.Event()
    app.call_later(handed_over.set)  # comes to the app behind the keys
    for _ in range(MOST_WAITS):
        await asyncio.sleep(0)
        if (handed_over.is_set() and not app.keys_wait) or not app.is_running:
            break
        await asyncio.sleep(WAIT_S)
    if app.is_running:
        pilot.app.board.at_rest()
    await pilot.wait_for_animation()
    for _ in range(PASSES):  # what the last key set going is laid out, then painted; nothing waits for a clock
        await pilot.pause(0)
    return screen_text(pilot)


def _send(app: TypeAhead[int], key: str, character: str | None) -> None:
    event = events.Key(key, character)
    event.set_sender(app)
    app.post_message(event)


_NAMES = {
    " ": "space",
    ".": "full_stop",
    "/": "slash",
    ":": "colon",
    "'": "apostrophe",
    '"': "quotation_mark",
    "[": "left_square_bracket",
    "]": "right_square_bracket",
}
_CHARACTERS = {name: character for character, name in _NAMES.items()}


async def back_to_board(pilot: AppPilot) -> None:
    """Leave whatever lies over the board."""
    for _ in range(4):
        if pilot.app.screen is not pilot.app.board:
            await press(pilot, "escape")
    assert pilot.app.screen is pilot.app.board
