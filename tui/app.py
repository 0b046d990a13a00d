"""The terminal app: one session, the board, and the tasks that open over it."""

import asyncio
import gc
import locale
import os
import sys
from collections.abc import Sequence
from contextlib import nullcontext, suppress
from importlib import import_module
from pathlib import Path
from time import monotonic
from typing import Any, ClassVar, cast

from textual.geometry import Region
from textual.screen import Screen, ScreenResultCallbackType
from textual.scrollbar import ScrollBar, ScrollBarRender
from textual.timer import Timer

from forescale.engine.files.faults import BadInput, ChangedElsewhere
from forescale.engine.kit import library, unsaved
from forescale.tui import glyphs as glyph_tables
from forescale.tui import recovery, signals
from forescale.tui.app_screen import AppScreen
from forescale.tui.board.board import Board
from forescale.tui.config import THEMES, Config, config_or_defaults, remember_theme
from forescale.tui.keys import BOARD_KEYS
from forescale.tui.session import Session, State, open_session, reasons
from forescale.tui.themes import FORESCALE_THEMES
from forescale.tui.type_ahead import TypeAhead

FIRST_START = "A built-in example: o, n for a shot of your own; F1 helps; Space lists all"
KEEP_AFTER_S = 0.2  # unsaved work is kept so long after the last step
KEEP_WITHIN_S = 3.0  # and so long after the first
COLLECT_FROM = 3_000  # new objects: a step makes a new state before the old one goes, which is no garbage
COPIED = 40  # columns of what was copied that are said


class PlainBar(ScrollBarRender):
    """A scroll bar of whole cells, since the console's font has no eighth blocks."""

    VERTICAL_BARS: ClassVar[list[str]] = [" "] * 8
    HORIZONTAL_BARS: ClassVar[list[str]] = [" "] * 8


ScrollBar.renderer = PlainBar
_MODULES = (
    "about bench come_back day explain findings line_up margins parts sheet stops survey files.open frame.help "
    "kit.kit kit.strips moved.moved picture.points picture.view ways.ways"
)
# The module of each task; its screen is called after it.
TASKS = {module.rpartition(".")[2]: module for module in _MODULES.split()}
TASKS |= dict.fromkeys(("keys", "task_help", "task_keys"), "frame.help") | dict.fromkeys(("marks", "takes"), "states")
TASKS |= dict.fromkeys(("elsewhere", "leaving", "save_as"), "files.saving") | {"stand": "parts"}


class ForescaleApp(TypeAhead[int]):
    """The board on one shot, and what opens over it."""

    CSS_PATH = "app.tcss"
    TITLE = "forescale"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[Any]] = [("ctrl+z", "suspend_process", "to the shell")]  # fg comes back

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
        self._keep_by_s = 0.0  # on the monotonic clock
        self._came_from = session.path
        self.greeting = ""
        self.failed: Exception | None = None
        self.unkept = ""  # why unsaved work could not be kept
        self._let_go: State | None = None

    def get_default_screen(self) -> Screen[Any]:
        """Begin on the board."""
        return Board()

    @property
    def board(self) -> Board:
        """The board, which always lies undermost."""
        return cast(Board, self.screen_stack[0])

    def on_ready(self) -> None:
        """Say what was brought back, and remember this shot as the last worked on."""
        gc.freeze()
        gc.set_threshold(COLLECT_FROM)
        gc.enable()
        if not self.is_headless:
            signals.listen(self.keep_now, self.exit, self.paint_all)
        self.board.say(self.greeting)
        self.run_worker(asyncio.to_thread(self._remember), exit_on_error=False)

    def _remember(self) -> None:
        with suppress(BadInput):
            recovery.remember_last(self.session.path)
            recovery.clear_up(self.session.path)

    def keys_in_force(self) -> dict[str, str]:
        """Return the keys by their ids, as the user has set them."""
        return {key.id: self.config.keys.get(key.id, key.key) for key in BOARD_KEYS}

    # Keeping work

    def changed(self) -> None:
        """Keep unsaved work for after a crash: at once in a task, on the board when step no longer follows step."""
        if self.screen is not self.board:
            self.keep_now()
        elif self._keep_timer is None:
            self._keep_timer = self.set_timer(KEEP_AFTER_S, self.keep)
            self._keep_by_s = monotonic() + KEEP_WITHIN_S
        elif monotonic() + KEEP_AFTER_S < self._keep_by_s:
            self._keep_timer.reset()

    def keep(self) -> None:
        """Write the unsaved work beside the user's files, or take it away where there is none; no key waits for it."""

        async def behind() -> None:
            self._tell_unkept(await asyncio.to_thread(self._write_kept))

        self._want_kept()
        self.run_worker(behind(), exit_on_error=False)

    def keep_now(self) -> str:
        """Do the same before the key returns; return why it cannot be kept, "" where it is."""
        self._want_kept()
        fault = self._write_kept()
        self.call_later(self._tell_unkept, fault)
        return fault

    def _write_kept(self) -> str:
        try:
            self._keeper.write()
        except BadInput as fault:
            return reasons(fault)
        return ""

    def _tell_unkept(self, fault: str) -> None:
        if fault and not self.unkept and isinstance(self.screen, AppScreen):
            self.screen.say(f"Not kept for after a crash, w on the board saves it to another place: {fault}")
        self.unkept = fault

    def _want_kept(self) -> None:
        if self._keep_timer is not None:
            self._keep_timer.stop()
            self._keep_timer = None
        session = self.session
        self._keeper.want(session.path, recovery.Work(session.state.shot, session.found) if session.unsaved else None)

    def save(self, *, then_leave: bool = False) -> None:
        """Save the shot; a shipped one asks for a name first."""
        if self.session.shipped:
            self.open_task("save_as", then_leave)
            return
        try:
            self.session.save()
        except ChangedElsewhere:
            self.open_task("elsewhere", self.session, then_leave)
        except BadInput as fault:
            self.board.say(f"Not saved, w saves elsewhere: {reasons(fault, self.session.path)}")
        else:
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
        self.board.say(f"Saved: {self.session.path.name}, in {self.session.path.parent}")

    def open_shot(self, path: Path) -> None:
        """Put another shot on the board; raises BadInput where it cannot be read, and once where changes get lost."""
        if (fault := self.keep_now()) and self.session.unsaved and self._let_go is not self.session.state:
            self._let_go = self.session.state
            mend = "w on the board saves them to another place, and the same once more lets them go"
            raise BadInput(f"the present shot's changes cannot be kept: {fault}; {mend}")
        self.session, self.greeting = start_session(path)
        self._came_from = path
        recovery.remember_last(path)
        self.board.redraw()
        self.board.say(self.greeting)

    # Screens

    def open_task(self, name: str, *args: Any, then: ScreenResultCallbackType[Any] | None = None) -> None:
        """Open a task over what is shown, its code loaded now; `then` takes what it hands back."""
        module = import_module(f"forescale.tui.tasks.{TASKS[name]}")
        self.push_screen(getattr(module, f"{name.title().replace('_', '')}Screen")(*args), then)

    def next_theme(self) -> None:
        """Go to the next theme, and begin with it the next time."""
        self.theme = _after(THEMES, self.theme)
        self.say(f"Theme: {self.theme}")
        try:
            remember_theme(self.theme)
        except BadInput as fault:
            self.say(f"Theme: {self.theme}, not kept for the next time: {reasons(fault)}")

    def next_glyphs(self) -> None:
        """Go to the next glyph table."""
        self.glyphs = glyph_tables.GLYPHS[_after(tuple(glyph_tables.GLYPHS), self.glyphs.name)]
        self.set_class(self.glyphs.name == "ascii", "ascii")
        self.board.redraw()
        self.say(f"Glyphs: {self.glyphs.name}")

    def leave(self) -> None:
        """Leave, asking once where work is not saved."""
        if self.session.unsaved:
            self.open_task("leaving")
        else:
            self.keep_now()
            self.exit(0)

    def say(self, text: str) -> None:
        """Say something on the screen that is shown."""
        cast(AppScreen[Any], self.screen).say(text)

    async def action_quit(self) -> None:
        """Leave by Ctrl+Q, which Textual binds to going at once."""
        self.leave()

    def action_help_quit(self) -> None:
        """Copy what is in hand, by Ctrl+C, which Textual binds to a word on leaving."""
        text = cast(AppScreen[Any], self.screen).text_in_hand()
        self.copy_to_clipboard(text)
        first = text.strip().partition("\n")[0]
        sent = f"Sent to the terminal's clipboard: {glyph_tables.fitted(first, COPIED, self.glyphs)}"
        if os.environ.get("TERM") == "linux":
            sent = "This console has no clipboard to copy to"
        self.say(sent if text else "Nothing here to copy")

    def discard(self, *, for_good: bool = False) -> None:
        """Leave, letting unsaved work go but its takes; raises BadInput where it cannot be laid by, unless for good."""
        self._want_kept()
        with suppress(BadInput) if for_good else nullcontext():
            recovery.discard(self.session, self._keeper, for_good=for_good)
        self.exit(0)

    # What ends or stops the program

    def on_resize(self) -> None:
        """Let go of what Textual worked out for another size: of a thousand sizes it is much."""
        for kept in vars(Region).values():
            getattr(kept, "cache_clear", str)()

    def paint_all(self) -> None:
        """Paint the whole screen again: what stood there has been written over meanwhile."""
        for screen in self.screen_stack:
            screen.refresh(layout=True)
        self.refresh(layout=True)

    def _handle_exception(self, error: Exception) -> None:
        """Keep the work and end; `open_app` raises the fault again, and no picture of the program's inside is shown."""
        if self.failed is None:
            self.failed = error
            error.add_note(f"last keys: {' '.join(self.last_keys)}; screen {type(self.screen).__name__} {self.size}")
            with suppress(Exception):
                self._want_kept()
                self.unkept = self._write_kept()
        super()._handle_exception(error)
        self._exit_renderables.clear()

    def _fatal_error(self) -> None:
        self._close_messages_no_wait()


def _after(names: Sequence[str], name: str) -> str:
    return names[(names.index(name) + 1) % len(names)]


def start_session(path: Path) -> tuple[Session, str]:
    """Return a session on a file, with unsaved work that a crash left brought back, and what to say of it."""
    session = open_session(path)
    return session, recovery.bring_back(session)


def open_app(path: Path | None, glyphs: str | None, theme: str | None) -> int:
    """Open the app on a shot, or on the one last worked on; raises BadInput where it cannot be read."""
    if not all(stream and stream.isatty() for stream in (sys.stdin, sys.stderr)):  # it reads one, draws on one
        raise BadInput("forescale: the app needs a terminal; forescale sheet SHOT prints without one")
    config, unread = config_or_defaults()
    session, greeting = start_session(path or recovery.last_path() or library.shot_path(library.DEMO))
    app = ForescaleApp(session, config, glyphs, theme)
    first = FIRST_START if path is None and recovery.last_path() is None else ""
    app.greeting = ". ".join(filter(None, (greeting, unread, first)))
    code = app.run(mouse=False)
    unsaved.let_go()
    if app.failed is not None:
        from forescale.tui.crash import AppFailed

        kept = f"could not be kept: {app.unkept}" if app.unkept else "is kept and comes back"
        raise AppFailed(f"unsaved work {kept}" if app.session.unsaved else "nothing was unsaved") from app.failed
    return code or 0
