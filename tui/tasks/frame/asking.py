"""One entry at a time at the foot of a task: what is understood of it is said as it is typed."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Mapping, Sequence

from textual import on
from textual.widgets import Input, Label

from forescale.engine.files.faults import BadInput
from forescale.tui.app_screen import AppScreen, Result
from forescale.tui.entry import Entry
from forescale.tui.glyphs import plain
from forescale.tui.session import reasons

Read = Callable[[str], str]
Take = Callable[[str], None]
WHILE_TYPING = {"task_help", "theme", "glyphs"}


class Asking(AppScreen[Result]):
    """A screen with an entry at its foot, and with no other key of the task while something is typed there."""

    def __init__(self) -> None:
        super().__init__()
        self._read: Read | None = None
        self._take: Take | None = None
        self._entry: Entry | None = None
        self._hint = ""
        self._said = ("", False)

    @abstractmethod
    def show_lines(self) -> None:
        """Show the title and the keys that work now."""

    @abstractmethod
    def focus_body(self) -> None:
        """Put the keys back to the body after an entry."""

    @abstractmethod
    def say(self, text: str, *, refused: bool = False) -> None:
        """Say something at the foot; empty says nothing."""

    @property
    def typing(self) -> bool:
        """Whether an entry is open."""
        return self._take is not None

    def ask(self, label: str, text: str, read: Read, take: Take, hint: str = "", choices: Sequence[str] = ()) -> None:
        """Ask for a value: `read` says what is understood of it, `take` takes it; each may raise ValueError.

        `hint` says what to type, as long as nothing stands there; Up and Down step through the `choices`.
        """
        self._read, self._take, self._hint = read, take, hint
        self.say(hint)
        self.query(Entry).remove()
        self.query_one("#asked", Label).update(plain(f" {label}: ", self.forescale.glyphs))
        asking = self.query_one("#asking")
        asking.display = True
        self._entry = Entry(text, choices)
        asking.mount(self._entry)
        self._entry.focus()
        self.add_class("typing")
        self.show_lines()

    def pick(self, label: str, ways: Mapping[str, Callable[[], None]], hint: str = "") -> None:
        """Ask which of a few is meant, by its name or the beginning of it, and do it."""

        def meant(text: str) -> str:
            found = [way for way in ways if way == text.strip()] or [w for w in ways if w.startswith(text.strip())]
            if len(found) != 1:
                raise ValueError(f'"{text.strip()}" is none of {", ".join(ways)}')
            return found[0]

        self.ask(label, next(iter(ways)), meant, lambda text: ways[meant(text)](), hint, tuple(ways))

    @on(Input.Changed)
    def _read_back(self, event: Input.Changed) -> None:
        if event.input is not self._entry:  # of an entry that another has followed
            return
        if self._read is None or not event.value.strip():
            self.say(self._hint)
            return
        try:
            read = self._read(event.value)
            choices = ", ".join(self._entry.choices)
            told = f"Up, Down: {choices}" if read == event.value.strip() else f"read as {read}; Up, Down go on"
            self.say(told if choices else f"read as {read}")
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        take = self._take
        if take is None or event.input is not self._entry:
            return
        try:
            take(event.value)
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)
            return
        if self.is_current and self._take is take:
            self.end_entry()

    def on_entry_left(self) -> None:
        """Give the entry up."""
        self.say("")
        self.end_entry()

    def end_entry(self) -> None:
        """Close the entry, and give the keys back to the body."""
        self._take = None
        self.query(Entry).remove()
        self.query_one("#asking").display = False
        self.remove_class("typing")
        self.show_lines()
        self.focus_body()

    def check_action(self, action: str, _parameters: tuple[object, ...]) -> bool | None:
        """Let no key of the task act while a value is being typed, but for help and how things look."""
        return self._take is None or action in WHILE_TYPING
