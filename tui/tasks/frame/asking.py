"""One entry at a time at the foot of a task: what is understood of it is said as it is typed."""

from abc import abstractmethod
from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from textual import on
from textual.widgets import Input, Label

from forescale.engine.files.faults import BadInput
from forescale.tui.app_screen import AppScreen, Result
from forescale.tui.entry import Entry
from forescale.tui.glyphs import plain
from forescale.tui.session import reasons

WHILE_TYPING = {"task_help", "theme", "glyphs"}


class Question(NamedTuple):
    """What is asked: `read` says what is understood of an entry, or raises ValueError saying what would be right.

    `text` stands there to begin with, `hint` says what to type, Up and Down step through the `choices`.
    """

    label: str
    read: Callable[[str], object]
    text: str = ""
    hint: str = ""
    choices: Sequence[str] = ()


class Asking(AppScreen[Result]):
    """A screen with an entry at its foot, and with no other key of the task while something is typed there."""

    _question = Question("", str)
    _take: Callable[[str], None] | None = None
    _entry: Entry | None = None
    _said = ("", False)

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

    def ask(self, question: Question, take: Callable[[str], None]) -> None:
        """Ask for a value, which `take` takes; where it raises ValueError, why is said, and the entry stays."""
        self._question, self._take = question, take
        self.say(question.hint)
        self.query(Entry).remove()
        self.query_one("#asked", Label).update(plain(f" {question.label}: ", self.forescale.glyphs))
        asking = self.query_one("#asking")
        asking.display = True
        self._entry = Entry(question.text, question.choices)
        asking.mount(self._entry)
        self._entry.focus()
        self.add_class("typing")
        self.show_lines()

    def ask_each(self, questions: Sequence[Callable[..., Question]], done: Callable[..., None], *texts: str) -> None:
        """Ask one question after another, each made of the `texts` typed so far, and then do something with all."""
        question = questions[len(texts)](*texts)

        def take(text: str) -> None:
            question.read(text)
            if len(texts) + 1 < len(questions):
                self.ask_each(questions, done, *texts, text)
            else:
                done(*texts, text)

        self.ask(question, take)

    def pick(self, label: str, ways: Mapping[str, Callable[[], None]], hint: str = "") -> None:
        """Ask which of a few is meant, by its name or the beginning of it, and do it."""

        def meant(text: str) -> str:
            found = [way for way in ways if way == text.strip()] or [w for w in ways if w.startswith(text.strip())]
            if len(found) != 1:
                raise ValueError(f'"{text.strip()}" is none of {", ".join(ways)}')
            return found[0]

        self.ask(Question(label, meant, next(iter(ways)), hint, tuple(ways)), lambda text: ways[meant(text)]())

    @on(Input.Changed)
    def _read_back(self, event: Input.Changed) -> None:
        if event.input is not self._entry:  # of an entry that another has followed
            return
        if not event.value.strip():
            self.say(self._question.hint)
            return
        try:
            read = str(self._question.read(event.value))
            choices = ", ".join(self._question.choices)
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
