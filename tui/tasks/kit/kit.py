"""The shelves of cameras, lenses and heads: what each would change of the shot, taking one, making one of one's own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import ClassVar

from textual import events, on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.compare.differences import EffectLine, effect
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.kit.library import ONE_OF, Shelf
from forescale.engine.kit.profiles import Lens, Profile
from forescale.engine.shelf import profile_draft, profile_edit
from forescale.engine.shelf.kit_shelf import SHELVES, KitChange, OnShelf, choices, saved_users, users, with_focal_length
from forescale.engine.shelf.profile_draft import Draft, free_name, hides, open_draft
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.pages import WholeScreen
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key, listed
from forescale.tui.tasks.frame.widgets import Said
from forescale.tui.tasks.kit.kit_table import NO_HEAD, kit_columns
from forescale.tui.tasks.kit.profile import ProfileScreen


class KitScreen(RowsScreen[None]):
    """One shelf at a time; Tab goes to the next. Enter puts the row in hand into the shot."""

    ENTER = "take"
    BY_ROW = True
    TALL = 0
    LEAST = 40
    BINDINGS: ClassVar[list[BindingType]] = [
        key("next view", "next shelf", "go on from cameras to lenses, heads, and back"),
        key("edit", "edit", "edit the selected profile; a built-in one is copied first"),
        key("focal length"),
        key("new", "new", "make a new profile from likely values"),
        key("copy", "copy", "make a new profile from the selected one"),
        key("details", "in full", "read all that the selected choice would change"),
        key("delete", "delete", "delete a profile of your own that is not in use"),
        *UNDO,
        listed("strips", "test strips", "find one's own sharpness in the shot's mode, from test strips"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.shelf: Shelf = "cameras"
        self.choices: tuple[OnShelf, ...] = ()
        self.to_delete = ""

    # What is shown

    def columns(self) -> list[Column]:
        """Return the shelf as it is now."""
        self.choices, self.TASK = choices(self.shelf), f"Kit: {self.shelf}"
        return kit_columns(self.shelf, self.choices, self.shot, self.glyphs.point)

    def filled(self) -> None:
        """Put what the shot is set to in hand."""
        self._go_to(lambda choice: choice.in_shot(self.shot))

    @property
    def choice(self) -> OnShelf:
        """The row in hand."""
        return self.choices[self.table.place]

    def gives(self) -> Iterable[Said]:
        """Return what taking the row in hand would change, or why it cannot be taken."""
        choice = self.choice
        if choice.name and "whose" not in self.table.ids:
            yield f"{choice.name}: {choice.whose}"
        if choice.in_shot(self.shot):
            yield from self._described()
            return
        try:
            change = choice.change(self.shot, self.session.state.kit)
            yield from (("warn", said) for said in change.said)
            yield from said_of(self._numbers(change))
        except BadInput as fault:
            yield "stop", reasons(fault)

    def _described(self) -> Iterable[Said]:
        profile = self.choice.profile
        zoom = isinstance(profile, Lens) and profile.is_zoom
        at = f", at {Words.focal(self.session.state.kit.focal_mm)}" if zoom else ""
        yield "ok", f"The shot is set to this{at}"
        yield from (text for text in (() if profile is None else (profile.title, profile.notes)) if text)

    def _numbers(self, change: KitChange) -> tuple[EffectLine, ...]:
        return effect(self.answer, self.session.propose(change.fields).answer)

    def action_next_view(self, step: int = 1) -> None:
        """Go on to the next shelf, or back to the one before; the keys are the list's, whatever had them."""
        self.shelf = SHELVES[(SHELVES.index(self.shelf) + step) % len(SHELVES)]
        self.say("")
        self.refill()
        self.filled()
        self.focus_body()

    def _go_to(self, wanted: Callable[[OnShelf], bool]) -> None:
        self.table.move_cursor(row=next((row for row, choice in enumerate(self.choices) if wanted(choice)), 0))

    def action_details(self) -> None:
        """Read the preview whole."""
        self.app.push_screen(WholeScreen(self.gives(), "What it changes"))

    def action_strips(self) -> None:
        """Go to the test strips of the shot's mode."""
        self.forescale.open_task("strips", then=lambda _: self.refill())

    # Taking

    @on(DataTable.RowSelected)
    def _take_in_hand(self) -> None:
        """Put the row in hand into the shot."""
        choice = self.choice
        if choice.in_shot(self.shot):
            self.say("The shot is set to this already")
            return
        name = f"{choice.name}, {choice.mode.name}" if choice.mode else choice.name or NO_HEAD

        def take() -> None:
            change = choice.change(self.shot, self.session.state.kit)
            self.change(change.fields, "; ".join((f"The shot is set to {name}", *change.said, "u undoes it")))

        self.attempt(take)

    def action_focal(self) -> None:
        """Ask for the focal length of the zoom in hand; it is taken with the lens."""
        lens = self.choice.profile
        if not isinstance(lens, Lens) or not lens.is_zoom:
            self.say("A focal length is set on a zoom: select one on the shelf of lenses")
            return

        def read(text: str) -> str:
            change, mm = with_focal_length(lens, text)
            return f"{mm}: {self._numbers(change)[0].text}"

        def take(text: str) -> None:
            change, mm = with_focal_length(lens, text)
            self.change(change.fields, f"The shot is set to {lens.name} at {mm}; u undoes it")

        now = Words.focal(self.session.state.kit.focal_mm) if self.choice.in_shot(self.shot) else ""
        self.ask(f"Focal length, {lens.shortest:g} to {lens.longest:g} mm", now, read, take)

    # Making and editing

    def action_new(self) -> None:
        """Make a profile from likely values."""
        self._ask_name(f"Name of the new {ONE_OF[self.shelf]}", "", lambda name: profile_edit.new(self.shelf, name))

    def _some_profile(self, to_do: str) -> Profile | None:
        """Return the profile in hand, or say why there is none."""
        if self.choice.profile is None:
            self.say(self.choice.fault_text or f"There is no profile here to {to_do}", refused=True)
        return self.choice.profile

    def action_copy(self) -> None:
        """Make a profile from the selected one."""
        if profile := self._some_profile("copy"):
            self._ask_copy(profile, "Copy as")

    def _ask_copy(self, profile: Profile, label: str) -> None:
        self._ask_name(label, profile.name, lambda name: profile_edit.copied(profile, name))

    def _ask_name(self, label: str, text: str, make: Callable[[str], Profile]) -> None:
        def read(text: str) -> str:
            name = make(free_name(self.shelf, text)).name
            return f"{name}, which will hide the built-in one of that name" if hides(self.shelf, name) else name

        self.ask(label, text, read, lambda text: self._open(Draft(self.shelf, make(free_name(self.shelf, text)))))

    def action_edit(self) -> None:
        """Edit the profile in hand; a shipped one is copied first."""
        choice = self.choice
        if (profile := self._some_profile("edit")) is None:
            return
        if choice.shipped and not choice.kept:
            self._ask_copy(profile, "Built-in, so copy as")
            return
        self.attempt(lambda: self._open(*open_draft(self.shelf, choice.name)))

    def _open(self, draft: Draft, said: str = "") -> None:
        def back(name: str | None) -> None:
            self.refill()
            self._go_to(lambda choice: choice.name == name)
            if draft.unsaved and self.choice.kept:
                self.say(f"{name} is kept as it is, and not saved: e goes on with it")

        self.say("")
        self.end_entry()
        self.app.push_screen(ProfileScreen(draft, said), back)

    # Deleting

    def on_key(self, event: events.Key) -> None:
        """Any key but a second x answers the question whether to delete with no."""
        if event.key != "x":
            self.to_delete = ""

    def action_delete(self) -> None:
        """Delete a profile of one's own; the key pressed a second time answers the question."""
        name = self.choice.name
        if refusal := self._why_not_delete():
            self.say(refusal, refused=True)
        elif self.to_delete != name:
            self.to_delete = name
            others = saved_users(self.shelf, name)
            used = f" (used by the shot {', '.join(others)})" if others else ""
            self.say(f"Delete {name}{used} for good? x once more deletes it, any other key does not")
        elif self.attempt(lambda: profile_draft.delete(self.shelf, name)):
            self.changed(f"{name} was deleted")

    def _why_not_delete(self) -> str:
        choice = self.choice
        if not choice.name:
            return "There is no profile here to delete"
        if choice.shipped and not choice.kept:
            return f"{choice.name} is built in and read-only"
        using = users(self.shot, self.shelf, choice.name)
        if using and choice.saved and not choice.shipped:
            return f"{choice.name} is used by {' and '.join(using)}: choose another first"
        return ""


def said_of(lines: Iterable[EffectLine]) -> list[Said]:
    """Return what is made of a shot as sentences with their marks."""
    return [(line.level, line.text) if line.level else line.text for line in lines]
