"""A profile on the screen: its fields, what the one in hand is, and what the changes make of the shot."""

from __future__ import annotations

import textwrap
from collections.abc import Callable

from textual import events, on
from textual.app import ComposeResult
from textual.message import Message
from textual.widgets import DataTable

from forescale.engine.compare.kit_effect import EffectLine, effect
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.gauges import pixel_doubt
from forescale.engine.kit.library import ONE_OF
from forescale.engine.kit.profiles import Camera, Profile
from forescale.engine.shelf import profile_fields
from forescale.engine.shelf.profile_draft import Draft
from forescale.engine.shelf.profile_fields import FieldPlace
from forescale.engine.shelf.profile_use import answer_with, refuse_breaking, uses
from forescale.tui.glyphs import plain
from forescale.tui.runs import Rows, clipped
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.columns import SPELT_OUT, Column, show
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.tasks.kit.effect import LOW, EffectScreen, effect_height, effect_rows

LABEL = 16


class ProfileTable(TaskTable):
    """The fields; says when what stands below has taken room from them, or given some back."""

    class Resized(Message):
        """The fields have more room, or less."""

    def on_resize(self) -> None:
        """Tell the screen."""
        self.post_message(self.Resized())


class ProfileView(TaskScreen[str]):
    """A draft of a profile, a field a row; it is handed back by its name."""

    def __init__(self, draft: Draft, said: str = "") -> None:
        super().__init__()
        self.draft, self._said = draft, said
        self._elsewhere = False
        self.fields: tuple[FieldPlace, ...] = ()

    @property
    def profile(self) -> Profile:
        """The profile as it is now."""
        return self.draft.present

    def body(self) -> ComposeResult:
        """The fields, what the one in hand is, and what the changes make of the shot."""
        yield ProfileTable(id="fields")
        yield Rows(id="more")
        yield Rows(id="about")
        yield Rows(id="effect")

    def on_mount(self) -> None:
        """Say what was brought back."""
        table = self.query_one(TaskTable)
        table.show_header = False
        super().on_mount()
        self.say(self._said)
        self.watch(table, "scroll_y", self._show_more)

    # What is shown

    def on_resize(self, event: events.Resize) -> None:
        """Fit the fields to the new width."""
        super().on_resize(event)
        self.set_class(event.size.height < LOW, "low")
        self.fill()

    def fill(self) -> None:
        """Show the profile as it is now."""
        saved = "not saved" if self.draft.unsaved else "saved"
        self.TASK = f"{ONE_OF[self.draft.shelf].capitalize()} {self.profile.name} · {saved}"
        self.fields = profile_fields.places(self.profile)
        room = self.size.width - LABEL - 5
        labels = tuple(self._label(place) for place in self.fields)
        values = tuple(clipped(self._value(place), max(room - SPELT_OUT, 10)) for place in self.fields)
        show(
            self.query_one(TaskTable), [Column("label", "", labels), Column("value", "", values)], self.forescale.glyphs
        )
        self._lines = (*self._doubts(), *self._effect())
        self._show_lines()
        self._show_below()

    def _label(self, place: FieldPlace) -> str:
        if place.row is None:
            return place.field.label
        if place.field.name in {"name", "focal_length"}:
            return f"{place.field.label} {place.row + 1}"
        return f"  {place.field.label}"

    def _value(self, place: FieldPlace) -> str:
        return profile_fields.shown_text(self.profile, place, self.session.state.shot.units)

    @property
    def place(self) -> FieldPlace:
        """The field in hand."""
        return self.fields[min(self.query_one(TaskTable).cursor_row, len(self.fields) - 1)]

    @on(DataTable.RowHighlighted)
    def _show_below(self) -> None:
        """Say what the field in hand is, and what the changes make of the shot."""
        glyphs, width = self.forescale.glyphs, self.size.width
        about, says = self.query_one("#about", Rows), plain(self.place.field.says, glyphs)
        lines = textwrap.wrap(says, max(width - 2, 1))
        about.styles.height = len(lines)
        about.show(tuple(((f" {line}", "hint"),) for line in lines))
        box, low = self.query_one("#effect", Rows), self.size.height < LOW
        rows = effect_rows(self._lines, width, effect_height(self.size.height, 5), glyphs)
        box.styles.height = len(rows)
        box.styles.margin = (0 if low else 1, 0, 0, 0)
        box.show(rows)
        self.call_after_refresh(self._show_more)

    @on(ProfileTable.Resized)
    def _keep_in_sight(self) -> None:
        """Keep the field in hand in sight."""
        table = self.query_one(TaskTable)
        table.move_cursor(row=table.cursor_row)
        self._show_more()

    def _show_more(self) -> None:
        """Say how many fields lie above and below those in sight."""
        table, glyphs = self.query_one(TaskTable), self.forescale.glyphs
        above = round(table.scroll_y)
        below = max(table.row_count - above - table.scrollable_content_region.height, 0)
        signs = ((glyphs.up, above, "above"), (glyphs.down, below, "below"))
        text = "  ".join(f"{sign} {count} more {where}" for sign, count, where in signs if count)
        self.query_one("#more", Rows).show((((f" {text}", "hint"),),))

    def _doubts(self) -> tuple[EffectLine, ...]:
        """Return what is odd about a camera's modes."""
        modes = self.profile.mode if isinstance(self.profile, Camera) else ()
        return tuple(EffectLine("warn", f"Look again: {doubt}") for doubt in map(pixel_doubt, modes) if doubt)

    def _effect(self) -> tuple[EffectLine, ...]:
        """Return what the changes make of the shot."""
        state, draft = self.session.state, self.draft
        if not uses(state.shot, draft.shelf, draft.name):
            return (EffectLine(None, "The shot does not use it, so nothing changes there"),)
        try:
            return effect(state.answer, answer_with(state.shot, state.kit, self.profile)[1])
        except BadInput as fault:
            return (EffectLine("stop", reasons(fault)),)

    def action_in_full(self) -> None:
        """Read the preview whole."""
        self.app.push_screen(EffectScreen(self._lines))

    # Changing it

    def change(self, profile: Profile) -> None:
        """Make a change, unless it would break the shot or one of its marks; raises BadInput."""
        state, draft = self.session.state, self.draft
        name = profile.name if draft.saved is None else draft.saved.name
        refuse_breaking(state.shot, state.kit, draft.shelf, name, profile)
        draft.change(profile)
        self._changed()

    def _changed(self) -> None:
        self.draft.keep()
        self.fill()
        self.say("")

    def _attempt(self, change: Callable[[], object]) -> bool:
        """Make a change of the profile, or say why it cannot be; tells whether it was made."""
        try:
            change()
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)
            return False
        return True

    def action_undo(self) -> None:
        """Undo the last change of the profile."""
        self._take_step(self.draft.undo(), "Nothing to undo")

    def action_redo(self) -> None:
        """Take the undone change back."""
        self._take_step(self.draft.redo(), "Nothing to redo")

    def _take_step(self, moved: bool, otherwise: str) -> None:
        if moved:
            self._attempt(self._changed)
        else:
            self.say(otherwise)

    def action_leave(self) -> None:
        """Go back; what is not saved is kept."""
        self.dismiss(self.profile.name)
