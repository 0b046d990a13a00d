"""The terminal app: one session, the board, and the tasks that open over it."""

from __future__ import annotations

import asyncio
import gc
import locale
import os
import sys
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import Any, ClassVar

from textual.screen import Screen, ScreenResultCallbackType
from textual.scrollbar import ScrollBar, ScrollBarRender
from textual.timer import Timer

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.tui import glyphs as glyph_tables
from forescale.tui import recovery
from forescale.tui.board.board import Board
from forescale.tui.config import THEMES, Config, load_config, remember_theme
from forescale.tui.keys import BOARD_KEYS
from forescale.tui.session import Session, open_session, reasons
from forescale.tui.themes import FORESCALE_THEMES
from forescale.tui.type_ahead import TypeAhead

KEEP_AFTER_S = 0.3


class PlainBar(ScrollBarRender):
    """A scroll bar of whole cells, since the console's font has no eighth blocks."""

    VERTICAL_BARS: ClassVar[list[str]] = [" "] * 8
    HORIZONTAL_BARS: ClassVar[list[str]] = [" "] * 8


ScrollBar.renderer = PlainBar
TASKS: dict[str, tuple[str, str]] = {
    "about": ("forescale.tui.tasks.files.about", "AboutScreen"),
    "bench": ("forescale.tui.tasks.bench.bench", "BenchScreen"),
    "explain": ("forescale.tui.tasks.explain", "ExplainScreen"),
    "findings": ("forescale.tui.tasks.findings", "FindingsScreen"),
    "help": ("forescale.tui.tasks.frame.help", "HelpScreen"),
    "keys": ("forescale.tui.tasks.frame.keys", "KeysScreen"),
    "kit": ("forescale.tui.tasks.kit.kit", "KitScreen"),
    "leaving": ("forescale.tui.tasks.files.leaving", "LeavingScreen"),
    "margins": ("forescale.tui.tasks.margins", "MarginsScreen"),
    "marks": ("forescale.tui.tasks.marks", "MarksScreen"),
    "moved": ("forescale.tui.tasks.moved.moved", "MovedScreen"),
    "open": ("forescale.tui.tasks.files.open", "OpenScreen"),
    "parts": ("forescale.tui.tasks.parts", "PartsScreen"),
    "save_as": ("forescale.tui.tasks.files.save_as", "SaveAsScreen"),
    "sheet": ("forescale.tui.tasks.sheet", "SheetScreen"),
    "stops": ("forescale.tui.tasks.stops", "StopsScreen"),
    "survey": ("forescale.tui.tasks.survey", "SurveyScreen"),
    "task_help": ("forescale.tui.tasks.frame.task_help_screen", "TaskHelpScreen"),
    "task_keys": ("forescale.tui.tasks.frame.task_keys", "TaskKeysScreen"),
    "takes": ("forescale.tui.tasks.takes", "TakesScreen"),
    "ways": ("forescale.tui.tasks.ways.ways", "WaysScreen"),
}


class ForescaleApp(TypeAhead[int]):
    """The board on one shot, and what opens over it."""

    CSS_PATH = "app.tcss"
    TITLE = "forescale"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[Any]] = []

    def __init__(self, session: Session, config: Config, glyphs: str | None = None, theme: str | None = None) -> None:
        # With NO_COLOR, the terminal's own two colours and no others: greys would be colours too.
        super().__init__(ansi_color=True if "NO_COLOR" in os.environ else None)
        self.animation_level = "none"
        self.session = session
        self.config = config
        self.glyphs = glyph_tables.choose(glyphs or config.glyphs, os.environ, locale.getpreferredencoding(False))
        for known in FORESCALE_THEMES:
            self.register_theme(known)
        self.set_class(self.glyphs.name == "ascii", "ascii")
        self.theme = theme or config.theme
        self.set_keymap(config.keys)
        self._keeper = recovery.Keeper()
        self._keep_timer: Timer | None = None
        self._came_from = session.path
        self.greeting = ""

    def get_default_screen(self) -> Screen[Any]:
        """Begin on the board."""
        return Board()

    @property
    def board(self) -> Board:
        """The board, which always lies undermost."""
        board = self.screen_stack[0]
        assert isinstance(board, Board)
        return board

    def on_ready(self) -> None:
        """Say what was brought back, and remember this shot as the last worked on."""
        gc.freeze()
        gc.enable()
        if self.greeting:
            self.board.say(self.greeting)
        self.run_worker(asyncio.to_thread(self._remember), exit_on_error=False)

    def _remember(self) -> None:
        """Keep which shot was last worked on; a home that cannot be written to is not worth a word."""
        try:
            recovery.remember_last(self.session.path)
        except BadInput:
            return

    def keys_in_force(self) -> dict[str, str]:
        """Return the keys by their ids, as the user has set them."""
        return {key.id: self.config.keys.get(key.id, key.key) for key in BOARD_KEYS}

    # Keeping work

    def changed(self) -> None:
        """Keep unsaved work for after a crash: at once in a task, on the board a moment after a step."""
        if self.screen is not self.board:
            self.keep_now()
        elif self._keep_timer is None:
            self._keep_timer = self.set_timer(KEEP_AFTER_S, self.keep)

    def keep(self) -> None:
        """Write the unsaved work beside the user's files, or take it away where there is none; no key waits for it."""
        self._want_kept()
        self.run_worker(asyncio.to_thread(self._keeper.write), exit_on_error=False)

    def keep_now(self) -> None:
        """Do the same before the key returns."""
        self._want_kept()
        self._write_kept()

    def _write_kept(self) -> None:
        """Write what is to be kept; a home that cannot be written to is not worth a word at every change."""
        with suppress(BadInput):
            self._keeper.write()

    def _want_kept(self) -> None:
        if self._keep_timer is not None:
            self._keep_timer.stop()
            self._keep_timer = None
        session = self.session
        self._keeper.want(session.path, session.state.shot if session.unsaved else None)

    def save(self, *, then_leave: bool = False) -> None:
        """Save the shot; a shipped one asks for a name first."""
        if self.session.shipped:
            self.open_task("save_as", then_leave)
            return
        try:
            self.session.save()
        except BadInput as fault:
            self.board.say(f"Not saved: {reasons(fault).removeprefix(f'{self.session.path}: ')}")
            return
        self.was_saved(then_leave=then_leave)

    def was_saved(self, *, then_leave: bool = False) -> None:
        """Forget what was kept for after a crash, also of the file that it came from, and say where the shot lies."""
        self._keeper.want(self._came_from, None)
        self._came_from = self.session.path
        self.keep_now()
        recovery.remember_last(self.session.path)
        if then_leave:
            self.exit(0)
            return
        self.board.redraw()
        self.board.say(f"Saved to {self.session.path}")

    def open_shot(self, path: Path) -> None:
        """Put another shot on the board; raises BadInput and keeps the present one where it cannot be read."""
        self.keep_now()
        self.session, self.greeting = start_session(path)
        self._came_from = path
        recovery.remember_last(path)
        self.board.redraw()
        if self.greeting:
            self.board.say(self.greeting)

    # Screens

    def open_task(self, name: str, *args: Any, then: ScreenResultCallbackType[Any] | None = None) -> None:
        """Open a task over what is shown, its code loaded now; `then` takes what it hands back."""
        module, screen = TASKS[name]
        self.push_screen(getattr(import_module(module), screen)(*args), then)

    def next_theme(self) -> None:
        """Go to the next theme, and begin with it the next time."""
        self.theme = THEMES[(THEMES.index(self.theme) + 1) % len(THEMES)] if self.theme in THEMES else THEMES[0]
        self.board.say(f"Theme: {self.theme}")
        try:
            remember_theme(self.theme)
        except BadInput as fault:
            self.board.say(f"Theme: {self.theme}, not kept for the next time: {reasons(fault)}")

    def next_glyphs(self) -> None:
        """Go to the next glyph table."""
        names = tuple(glyph_tables.GLYPHS)
        self.glyphs = glyph_tables.GLYPHS[names[(names.index(self.glyphs.name) + 1) % len(names)]]
        self.set_class(self.glyphs.name == "ascii", "ascii")
        self.board.redraw()
        self.board.say(f"Glyphs: {self.glyphs.name}")

    def leave(self) -> None:
        """Leave, asking once where work is not saved."""
        if self.session.unsaved:
            self.open_task("leaving")
        else:
            self.keep_now()
            self.exit(0)

    async def action_quit(self) -> None:
        """Leave by Ctrl+Q, which Textual binds to going at once."""
        self.leave()

    def action_help_quit(self) -> None:
        """Leave by Ctrl+C likewise."""
        self.leave()

    def discard(self) -> None:
        """Leave, and let the unsaved work go."""
        self._want_kept()
        self._keeper.want(self.session.path, None)
        self._write_kept()
        self.exit(0)


def start_session(path: Path) -> tuple[Session, str]:
    """Return a session on a file, with unsaved work that a crash left brought back, and what to say of it."""
    session = open_session(path)
    kept = recovery.kept_work(path)
    if kept is None or kept == session.state.shot:
        return session, ""
    try:
        session.move_to(recovery.solved(kept))
    except BadInput as fault:
        return session, f"Unsaved work was found but cannot be used: {reasons(fault)}"
    return session, "Unsaved work was brought back; undo returns to what the file holds"


def open_app(path: Path | None, glyphs: str | None, theme: str | None) -> int:
    """Open the app on a shot, or on the one last worked on; raises BadInput where it cannot be read."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):  # it reads keys from the one and draws on the other
        raise BadInput("forescale: the app needs a terminal; forescale sheet SHOT prints without one")
    config = load_config()
    session, greeting = start_session(path or recovery.last_path() or library.shot_path(library.DEMO))
    app = ForescaleApp(session, config, glyphs, theme)
    app.greeting = greeting
    return app.run(mouse=False) or 0
