"""A screen of the shelves: one at a time, and making, copying, editing and deleting what stands there."""

from __future__ import annotations

from collections.abc import Callable

from textual import events
from textual.app import ComposeResult

from forescale.engine.files.faults import BadInput
from forescale.engine.kit.library import ONE_OF, Shelf
from forescale.engine.kit.profiles import Profile
from forescale.engine.shelf import profile_draft, profile_edit
from forescale.engine.shelf.kit_shelf import SHELVES, OnShelf, choices
from forescale.engine.shelf.profile_draft import Draft, begin, free_name, hides, open_draft
from forescale.engine.shelf.profile_use import saved_users, users
from forescale.tui.runs import Rows
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.columns import fitted, show
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.tasks.kit.effect import LOW
from forescale.tui.tasks.kit.kit_table import kit_columns
from forescale.tui.tasks.kit.profile import ProfileScreen


class ShelfScreen(TaskScreen[None]):
    """Cameras, lenses or heads in a table."""

    def __init__(self) -> None:
        super().__init__()
        self.shelf: Shelf = "cameras"
        self.choices: tuple[OnShelf, ...] = ()
        self.to_delete = ""
        self.whose_shown = True

    def body(self) -> ComposeResult:
        """The table, and what is to be said of the row in hand."""
        yield TaskTable(id="shelf")
        yield Rows(id="effect")

    def on_mount(self) -> None:
        """Begin with what the shot is set to."""
        super().on_mount()
        self.go_to_chosen()

    def on_resize(self, event: events.Resize) -> None:
        """Fit the table to the new width."""
        super().on_resize(event)
        self.set_class(event.size.height < LOW, "low")
        self.fill()

    def fill(self) -> None:
        """Show the shelf as it is now."""
        self.choices = choices(self.shelf)
        self.TASK = f"Kit: {self.shelf}"
        shot, glyphs = self.session.state.shot, self.forescale.glyphs
        columns = kit_columns(self.shelf, self.choices, shot, shot.units, glyphs.point)
        kept = fitted(columns, self.size.width - 1, columns[0].width)
        self.whose_shown = columns[-1] in kept
        show(self.query_one(TaskTable), kept, glyphs)
        self._show_lines()

    @property
    def choice(self) -> OnShelf:
        """The row in hand."""
        return self.choices[min(self.query_one(TaskTable).cursor_row, len(self.choices) - 1)]

    def action_next_shelf(self) -> None:
        """Go on to the next shelf."""
        self.shelf = SHELVES[(SHELVES.index(self.shelf) + 1) % len(SHELVES)]
        self.say("")
        self.fill()
        self.go_to_chosen()

    def go_to_chosen(self) -> None:
        """Put what the shot is set to in hand."""
        setting = self.session.state.shot
        self._go_to(lambda choice: choice.in_shot(setting))

    def _go_to(self, wanted: Callable[[OnShelf], bool]) -> None:
        row = next((row for row, choice in enumerate(self.choices) if wanted(choice)), 0)
        self.query_one(TaskTable).move_cursor(row=row)

    # Making and editing

    def action_new(self) -> None:
        """Make a profile from likely values."""
        self._ask_name(f"Name of the new {ONE_OF[self.shelf]}", "", lambda name: profile_edit.new(self.shelf, name))

    def action_copy(self) -> None:
        """Make a profile from the one in hand."""
        profile = self.choice.profile
        if profile is None:
            self.say(self.choice.fault_text or "There is no profile here to copy", refused=True)
            return
        self._ask_copy(profile, "Copy as")

    def _ask_copy(self, profile: Profile, label: str) -> None:
        self._ask_name(label, profile.name, lambda name: profile_edit.copied(profile, name))

    def _ask_name(self, label: str, text: str, make: Callable[[str], Profile]) -> None:
        def read(text: str) -> str:
            name = make(free_name(self.shelf, text)).name
            return f"{name}, which will hide the built-in one of that name" if hides(self.shelf, name) else name

        self.ask(label, text, read, lambda text: self._open(begin(self.shelf, make(free_name(self.shelf, text)))))

    def action_edit(self) -> None:
        """Edit the profile in hand; a shipped one is copied first."""
        choice = self.choice
        if choice.profile is None:
            self.say(choice.fault_text or "There is no profile here to edit", refused=True)
            return
        if choice.shipped and not choice.kept:
            self._ask_copy(choice.profile, "Built-in, so copy as")
            return
        try:
            self._open(*open_draft(self.shelf, choice.name))
        except BadInput as fault:
            self.say(reasons(fault), refused=True)

    def _open(self, draft: Draft, said: str = "") -> None:
        def back(name: str | None) -> None:
            self.fill()
            self._go_to(lambda choice: choice.name == name)
            if draft.unsaved and self.choice.kept:
                self.say(f"{name} is kept as it is, and not saved: e goes on with it")

        self.say("")
        self._end_entry(closing=True)
        self.app.push_screen(ProfileScreen(draft, said), back)

    # Deleting

    def action_delete(self) -> None:
        """Delete a profile of one's own; the key pressed a second time answers the question."""
        name = self.choice.name
        refusal = self._why_not_delete()
        if refusal:
            self.say(refusal, refused=True)
        elif self.to_delete != name:
            self.to_delete = name
            others = saved_users(self.shelf, name)
            used = f" (used by the shot {', '.join(others)})" if others else ""
            self.say(f"Delete {name}{used} for good? x once more deletes it, any other key does not")
        elif self.attempt(lambda: profile_draft.delete(self.shelf, name)):
            self.say(f"{name} was deleted")

    def _why_not_delete(self) -> str:
        choice = self.choice
        if not choice.name:
            return "There is no profile here to delete"
        if choice.shipped and not choice.kept:
            return f"{choice.name} is built in and read-only"
        using = users(self.session.state.shot, self.shelf, choice.name)
        if using and choice.saved and not choice.shipped:
            return f"{choice.name} is used by {' and '.join(using)}: choose another first"
        return ""
