"""The foot of a task: what is said there, and one entry at a time, with what is understood of it as it is typed."""

from abc import abstractmethod
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any, NamedTuple

from textual import events, on
from textual.widget import Widget
from textual.widgets import Input, Label

from forescale.engine.files.faults import BadInput
from forescale.engine.units import quoted
from forescale.tui.app_screen import AppScreen, Result
from forescale.tui.entry import Entry
from forescale.tui.glyphs import in_lines, plain
from forescale.tui.runs import Rows
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.widgets import TaskTable

# One after another; what makes one is given the texts typed for those before it.
Questions = Sequence["Question | Callable[..., Question]"]
WHILE_TYPING = {"task_help", "theme", "glyphs", "entry_left"}
MOVES = {"up", "down", "left", "right", "pageup", "pagedown", "home", "end"}
SAYS_LINES, SAYS_MOST = 2, 4  # lines kept for what is said, and as many as it may take where the screen is narrow


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
    _again: Callable[[], None] | None = None  # asks the question before this one once more
    _first = ""  # what was typed in the list, with which its entry begins
    _entry: Entry | None = None
    _said = ("", False)
    _last_entry = ""  # what was said of the last entry, for as long as its row is in hand
    of_row = False  # whether the entry is of the row in hand, begun there by Enter or what Enter stands for

    @abstractmethod
    def show_lines(self) -> None:
        """Show the title and the keys that work now."""

    @property
    def table(self) -> TaskTable:
        return self.query_one(TaskTable)

    def focus_body(self) -> None:
        """Put the keys back to the body after an entry."""
        for first in [*self.query("TaskTable, TaskPage").results(Widget)][:1]:
            first.focus()

    def say(self, text: str, *, refused: bool = False) -> None:
        """Say something at the foot, in as many lines as it needs; empty says nothing."""
        self._said = (text, refused)
        glyphs, width = self.forescale.glyphs, max(self.size.width - 2, 10)
        lines = in_lines(text, width, SAYS_MOST, glyphs)
        says, height = self.query_one("#says", Rows), max(len(lines), SAYS_LINES)
        says.styles.height = height
        self.query_one("#asking").styles.margin = (0, 0, height + 1, 0)
        says.show(tuple(((f" {line}", "refused" if refused else "hint"),) for line in lines))

    def attempt(self, change: Callable[[], object]) -> bool:
        """Make a change that shows itself, or say why it cannot be; tells whether it was made."""
        try:
            change()
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)
            return False
        return True

    @property
    def typing(self) -> bool:
        return self._take is not None

    def asked(self) -> list[str]:
        """Return what is asked for now and what to type there, and a line between, for help; empty where nothing is."""
        asked = ": ".join(filter(None, ("Asked now", self._question.label, self._question.hint)))
        return [asked, ""] if self.typing else []

    def ask(self, question: Question, take: Callable[[str], None], again: Callable[[], None] | None = None) -> None:
        """Ask for a value; `take` takes it, or says in a ValueError why not. Esc leaves it, or does `again`."""
        choices = f"Up, Down: {', '.join(question.choices)}" if question.choices else ""
        self._question, self._take = question._replace(hint="; ".join(filter(None, (question.hint, choices)))), take
        self._again = again
        self.say(self._question.hint)
        self.query(Entry).remove()
        self.query_one("#asked", Label).update(plain(f" {question.label}:", self.forescale.glyphs))
        asking = self.query_one("#asking")
        asking.display = True
        self._entry = Entry(self._first or question.text, question.choices)
        self._entry.select_on_focus = not self._first  # else more is typed behind it
        asking.mount(self._entry)
        self._entry.focus()
        self.query("TaskTable:focus").add_class("typing")
        self.show_lines()

    def ask_each(self, questions: Questions, done: Callable[..., None], *texts: str, **typed: Any) -> None:
        """Ask one after another, the `texts` so far being typed, then do all; Esc goes back to the `text` there."""
        asked = questions[len(texts)]
        question = (asked if isinstance(asked, Question) else asked(*texts))._replace(**typed)

        def take(text: str) -> None:
            question.read(text)
            if len(texts) + 1 < len(questions):
                self.ask_each(questions, done, *texts, text)
            else:
                done(*texts, text)

        again = partial(self.ask_each, questions, done, *texts[:-1], text=texts[-1]) if texts else None
        self.ask(question, take, again)

    def pick(self, label: str, ways: Mapping[str, Callable[[], None]], hint: str = "") -> None:
        """Ask which of a few is meant, by its name or the beginning of it, and do it."""

        def meant(text: str) -> str:
            found = [way for way in ways if way == text.strip()] or [w for w in ways if w.startswith(text.strip())]
            if len(found) != 1:
                raise ValueError(f"{quoted(text)} is none of {', '.join(ways)}")
            return found[0]

        self.ask(Question(label, meant, next(iter(ways)), hint, tuple(ways)), lambda text: ways[meant(text)]())

    @on(Input.Changed)
    def _read_back(self, event: Input.Changed) -> None:
        if event.input is not self._entry:  # of an entry that another has followed
            return
        if not event.value.strip():
            self.say(self._question.hint)
            return

        def read_back() -> None:
            read, choices = str(self._question.read(event.value)), ", ".join(self._question.choices)
            told = f"Up, Down: {choices}" if read == event.value.strip() else f"read as {read}; Up, Down go on"
            self.say(told if choices else f"read as {read}")

        self.attempt(read_back)

    def go_on(self) -> None:
        """Go on to the next row, once an entry of the one in hand was taken, and say so."""
        row = self.table.cursor_row
        self.table.action_cursor_down()
        if self.table.cursor_row != row:
            said, refused = self._said
            self.say(f"{f'{said}; next' if said else 'Next'}: {self.table.name_in_hand()}", refused=refused)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        take = self._take
        if take is None or event.input is not self._entry:
            return
        if self.attempt(lambda: take(event.value)) and self.is_current and self._take is take:
            if self.of_row:
                self.go_on()
            self.end_entry()

    def action_entry_left(self) -> None:
        self.say("")
        (self._again or self.end_entry)()

    def end_entry(self) -> None:
        """Close the entry, and give the keys back to the body."""
        self._take, self.of_row, self._last_entry = None, False, self._said[0]
        self.query(Entry).remove()
        self.query_one("#asking").display = False
        self.query(".typing").remove_class("typing")
        self.show_lines()
        self.focus_body()

    def on_key(self, event: events.Key) -> None:
        """What was said of an entry goes where a key goes on to another row."""
        if event.key in MOVES and not self.typing and self._said[0] == self._last_entry:
            self.say("")

    def check_action(self, action: str, _parameters: tuple[object, ...]) -> bool | None:
        """Let no key of the task act while a value is being typed, but for help, how things look and leaving it."""
        return self._take is None or action in WHILE_TYPING
