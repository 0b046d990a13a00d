"""Editing a camera, a lens or a head from the keyboard: its fields, its modes or pupil rows, and saving it."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.files.faults import BadInput, ChangedElsewhere
from forescale.engine.kit.profiles import Camera, Lens, Profile
from forescale.engine.shelf import profile_edit, profile_fields
from forescale.engine.shelf.profile_draft import free_name, hides
from forescale.engine.shelf.profile_fields import FieldPlace
from forescale.engine.shelf.profile_use import refuse_breaking, uses
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.task_screen import TaskTable
from forescale.tui.tasks.kit.profile_view import ProfileView

PUPIL_NEEDS = {"focal_length": "Pupil at what focal length", "focus": "Focused at", "ahead": "Ahead of the sensor"}


class ProfileScreen(ProfileView):
    """What the keys do to a profile."""

    ENTER = "change"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("s", "save", "save", tooltip="save it among your own profiles"),
        Binding("a", "add", "add", tooltip="add a mode, or a pupil row, below the selected one"),
        Binding("x", "delete", "delete", tooltip="take away the selected mode or pupil row, or empty the field"),
        Binding("tab", "next_row", "next", tooltip="go to the next mode or pupil row"),
        Binding("u", "undo", "undo", tooltip="undo the last change of the profile"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
        Binding("w", "save_as", "save as", tooltip="save it under another name, this one staying as it is"),
        Binding("v", "in_full", "in full", tooltip="read all that the change makes of the shot"),
        Binding("e", "move(-1)", "earlier", tooltip="move the mode or pupil row up"),
        Binding("l", "move(1)", "later", tooltip="move the mode or pupil row down"),
        Binding("g", "reload", "get", tooltip="take the file as someone else has changed it; u brings yours back"),
        Binding("o", "save_over", "over", tooltip="save over a file that someone else has changed"),
    ]

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        """Type a value for the field in hand."""
        place, system = self.place, self.session.state.shot.units
        named = place.row is None and place.field.name == "name"

        def made(text: str) -> Profile:
            if named and text.strip() != self.profile.name:
                text = free_name(self.draft.shelf, text)
            return profile_edit.with_text(self.profile, place, text, system)

        def read(text: str) -> str:
            shown = profile_fields.shown_text(made(text), place, system)
            hiding = named and hides(self.draft.shelf, shown)
            return f"{shown}, which will hide the built-in one of that name" if hiding else shown

        self.ask(
            place.field.label,
            profile_fields.entry_text(self.profile, place, system),
            read,
            lambda text: self.change(made(text)),
        )

    def action_add(self) -> None:
        """Add a mode or a pupil row below the one in hand."""
        profile = self.profile
        count = len(profile_fields.rows_of(profile))
        row = count - 1 if self.place.row is None else self.place.row
        if isinstance(profile, Camera):
            camera = profile
            self.ask(
                "Name of the new mode",
                camera.mode[row].name,
                lambda text: profile_edit.with_mode(camera, row, text).mode[row + 1].name,
                lambda text: self._ask_size(camera, row, text),
            )
        elif isinstance(profile, Lens):
            self._ask_pupil(profile, row + 1, {} if profile.is_zoom else {"focal_length": f"{profile.shortest!r} mm"})
        else:
            self.say("A head has neither modes nor pupil rows: every field of it is here")

    def _ask_size(self, camera: Camera, row: int, name: str) -> None:
        """Ask for the size and the pixels of a new mode in one entry, and then add it."""
        profile_edit.with_mode(camera, row, name)
        self.ask(
            "Size, pixels",
            profile_edit.size_text(camera.mode[row]),
            lambda text: profile_edit.size_text(profile_edit.with_mode(camera, row, name, text).mode[row + 1]),
            lambda text: self._add(profile_edit.with_mode(camera, row, name, text), row + 1),
        )

    def _ask_pupil(self, lens: Lens, row: int, typed: dict[str, str]) -> None:
        """Ask for one after another of the fields that a pupil row needs, and then add it."""
        system = self.session.state.shot.units
        name = next(name for name in PUPIL_NEEDS if name not in typed)

        def read(text: str) -> str:
            return str(profile_edit.pupil_field(name, text, system))

        def take(text: str) -> None:
            read(text)
            more = typed | {name: text}
            if set(PUPIL_NEEDS) <= set(more):
                self._add(profile_edit.with_pupil(lens, row, more, system), row)
            else:
                self._ask_pupil(lens, row, more)

        self.ask(PUPIL_NEEDS[name], "", read, take)

    def _add(self, profile: Profile, row: int) -> None:
        self.change(profile)
        self._go_to(row)

    def _go_to(self, row: int | None) -> None:
        """Put the first field of a mode or pupil row in hand."""
        at = next((at for at, place in enumerate(self.fields) if place.row == row), 0)
        self.query_one(TaskTable).move_cursor(row=at)

    def action_next_row(self) -> None:
        """Go to the next mode or pupil row, and from the last to the top."""
        count, row = len(profile_fields.rows_of(self.profile)), self.place.row
        following = 0 if row is None else row + 1
        self._go_to(following if following < count else None)

    def action_delete(self) -> None:
        """Take away the mode or pupil row whose first field is in hand; empty any other field."""
        place, system = self.place, self.session.state.shot.units
        if place.row is None or not self._is_first(place):
            self._attempt(lambda: self.change(profile_edit.with_text(self.profile, place, "", system)))
            return
        row, what = place.row, f"{place.field.label} {place.row + 1}"
        if self._attempt(lambda: self.change(profile_edit.without_row(self.profile, row))):
            self.say(f"{what} was taken away; u brings it back")

    def _is_first(self, place: FieldPlace) -> bool:
        return next(other for other in self.fields if other.row == place.row) == place

    def action_move(self, step: int) -> None:
        """Move the mode or pupil row in hand up or down."""
        row = self.place.row
        if row is None or not 0 <= row + step < len(profile_fields.rows_of(self.profile)):
            return
        if self._attempt(lambda: self.change(profile_edit.with_row_moved(self.profile, row, step))):
            self._go_to(row + step)

    # Saving it

    def action_save(self, over: bool = False) -> None:
        """Save it among the user's own profiles; never over what someone else has changed, unless told to."""
        state, draft = self.session.state, self.draft
        try:
            refuse_breaking(state.shot, state.kit, draft.shelf, draft.name, self.profile)
            draft.save(over=over)
        except ChangedElsewhere as fault:
            self._elsewhere = True
            self.say(f"{fault}: w saves under another name, g gets that one, o saves over it", refused=True)
        except BadInput as fault:
            self.say(reasons(fault), refused=True)
        else:
            self._was_saved(f"Saved to {draft.path}")

    def _was_saved(self, said: str) -> None:
        """Solve the shot anew with what the shelves hold now."""
        self._elsewhere = False
        if uses(self.session.state.shot, self.draft.shelf, self.draft.name):
            self._attempt(self.session.reload_kit)
        self.fill()
        self.say(said)

    def action_save_over(self) -> None:
        """Save over a file that someone else has changed, once that was said."""
        if self._elsewhere:
            self.action_save(over=True)
        else:
            self.say("Nobody else has changed the file: s saves")

    def action_save_as(self) -> None:
        """Save it under another name, the file that it came from staying as it is."""
        shelf = self.draft.shelf

        def read(text: str) -> str:
            name = profile_edit.copied(self.profile, free_name(shelf, text)).name
            return f"{name}, which will hide the built-in one of that name" if hides(shelf, name) else name

        def take(text: str) -> None:
            self.draft.save_as(free_name(shelf, text))
            self._was_saved(f"Saved to {self.draft.path}; a shot uses it once it is taken on the shelf")

        self.ask("Save as", self.profile.name, read, take)

    def action_reload(self) -> None:
        """Take the file as someone else has changed it; what was typed here can be brought back by undo."""
        if not self._elsewhere:
            self.say("Nobody else has changed the file")
        elif self._attempt(self.draft.reload):
            self._was_saved("This is what the file holds now; u brings back what was here")
