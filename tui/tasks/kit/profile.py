"""Editing a camera, a lens or a head from the keyboard: its fields, its modes or pupil rows, and saving it."""

from collections.abc import Iterator
from functools import partial

from forescale.engine.compare.differences import effect
from forescale.engine.files.faults import BadInput, ChangedElsewhere
from forescale.engine.kit.gauges import pixel_doubt
from forescale.engine.kit.library import ONE_OF, Shelf
from forescale.engine.kit.profiles import Camera, Lens, Profile, PupilRow
from forescale.engine.kit.pupil import prime_doubt
from forescale.engine.shelf import profile_edit, profile_fields
from forescale.engine.shelf.kit_shelf import answer_with, refuse_breaking, uses
from forescale.engine.shelf.profile_draft import Draft, free_name, hides
from forescale.engine.shot import edit
from forescale.engine.units.stops import off_the_marks
from forescale.tui.session import reasons
from forescale.tui.tasks.frame import UNDO, Column, Question, RowsScreen, Said, key, shortened

PUPIL_NEEDS = {"focal_length": "Pupil at what focal length", "focus": "Focused at", "ahead": "Ahead of the sensor"}
LABEL, VALUE = 16, 40  # columns of a label, and of a value at the most


class ProfileScreen(RowsScreen[str]):
    """A draft of a profile, a field a row; it is handed back by its name."""

    ENTER, TALL, LEAST = "change", 0, LABEL
    BINDINGS = [
        key("save", "save", "save it among your own profiles"),
        key("add", "add", "add a mode, or a pupil row, below the selected one"),
        key("delete", "delete", "take away the selected mode or pupil row, or empty the field"),
        key("next view", "next", "go to the next mode or pupil row"),
        *UNDO,
        key("save as", "save as", "save it under another name, this one staying as it is"),
        key("details", "in full", "read all that the change makes of the shot"),
        key("earlier", "earlier", "move the mode or pupil row up"),
        key("later", "later", "move the mode or pupil row down"),
        key("get", "get", "take the file as someone else has changed it; u brings yours back"),
    ]

    def __init__(self, draft: Draft, said: str = "") -> None:
        super().__init__()
        self.draft, self._said = draft, (said, False)
        self._elsewhere = False
        self.fields: tuple[profile_fields.FieldPlace, ...] = ()

    @property
    def profile(self) -> Profile:
        return self.draft.present

    @property
    def place(self) -> profile_fields.FieldPlace:
        return self.fields[self.table.place]

    def columns(self) -> list[Column]:
        saved = "not saved" if self.draft.unsaved else "saved"
        self.TASK = f"{ONE_OF[self.draft.shelf].capitalize()} {self.profile.name} · {saved}"
        self.fields = profile_fields.places(self.profile)
        room = min(max(self.size.width - LABEL - 9, 10), VALUE)
        values = (shortened(profile_fields.shown_text(self.profile, one, self.system), room) for one in self.fields)
        return [Column("label", "field", tuple(map(_label, self.fields))), Column("value", "as set", tuple(values))]

    def how(self, place: int) -> list[Said]:
        return [self.fields[place].says]

    def gives(self) -> Iterator[Said]:
        modes = self.profile.mode if isinstance(self.profile, Camera) else ()
        yield from (("warn", f"Look again: {doubt}") for doubt in map(pixel_doubt, modes) if doubt)
        if isinstance(self.profile, Lens) and (doubt := prime_doubt(self.profile)):
            yield "warn", f"Look again: {doubt}"
        state, draft = self.session.state, self.draft
        if not uses(state.shot, draft.shelf, draft.name):
            yield "The shot does not use it, so nothing changes there"
            return
        try:
            yield from effect(state.answer, answer_with(state.shot, state.kit, self.profile))
        except BadInput as fault:
            yield "stop", reasons(fault)

    def put(self, profile: Profile, said: str = "", row: int | None = None) -> None:
        """Make a change, unless it would break the shot or a mark, and go to a mode or pupil row; raises BadInput."""
        state, draft = self.session.state, self.draft
        name = profile.name if draft.saved is None else draft.saved.name
        refuse_breaking(state.shot, state.kit, draft.shelf, name, profile)
        draft.change(profile)
        self._kept(said)
        if row is not None:
            self._go_to(row)

    def _kept(self, said: str = "") -> None:
        self.draft.keep()
        self.refill()
        self.say(said)

    def action_undo(self) -> None:
        self._take_step(self.draft.undo(), "Nothing to undo")

    def action_redo(self) -> None:
        self._take_step(self.draft.redo(), "Nothing to redo")

    def _take_step(self, moved: bool, otherwise: str) -> None:
        if moved:
            self.attempt(self._kept)
        else:
            self.say(otherwise)

    def action_leave(self) -> None:
        self.dismiss(self.profile.name)

    def enter(self) -> None:
        place, system = self.place, self.system
        named = place.row is None and place.name == "name"
        remark = off_the_marks if place.name in {"widest", "smallest"} else lambda _: ""

        def made(text: str) -> Profile:
            if named and text.strip() != self.profile.name:
                text = free_name(self.draft.shelf, text)
            return profile_edit.with_text(self.profile, place, text, system)

        def read(text: str) -> str:
            shown = profile_fields.shown_text(made(text), place, system)
            return told_name(self.draft.shelf, shown) if named else "; ".join(filter(None, (shown, remark(text))))

        unit = profile_fields.alone_means(self.profile, place, system)
        label = f"{place.label} ({unit})" if unit else place.label
        question = Question(label, read, profile_fields.entry_text(self.profile, place, system))
        self.ask(question, lambda text: self.put(made(text), remark(text)))

    def action_add(self) -> None:
        profile = self.profile
        row = len(profile_fields.rows_of(profile)) - 1 if self.place.row is None else self.place.row
        if isinstance(profile, Camera):
            self._ask_mode(profile, row)
        elif isinstance(profile, Lens):
            self._ask_pupil(profile, row + 1)
        else:
            self.say("A head has neither modes nor pupil rows: every field of it is here")

    def _ask_mode(self, camera: Camera, row: int) -> None:
        """Ask for the name of a new mode, then for its size and pixels in one entry, and add it below a row."""
        made = partial(profile_edit.with_mode, camera, row)

        def size(name: str) -> Question:
            stands = profile_edit.size_text(camera.mode[row])
            return Question("Size, pixels", lambda text: profile_edit.size_text(made(name, text).mode[row + 1]), stands)

        name = Question("Name of the new mode", lambda text: made(text).mode[row + 1].name, camera.mode[row].name)
        self.ask_each([name, size], lambda *typed: self.put(made(*typed), row=row + 1))

    def _ask_pupil(self, lens: Lens, row: int) -> None:
        known = {} if lens.is_zoom else {"focal_length": f"{lens.shortest!r} mm"}
        names = [name for name in PUPIL_NEEDS if name not in known]

        def question(name: str) -> Question:
            label = f"{PUPIL_NEEDS[name]} ({edit.alone_means(edit.quantity_of(PupilRow, name), self.system)})"
            return Question(label, lambda text: profile_edit.pupil_field(lens, name, text, self.system))

        def put(*texts: str) -> None:
            typed = known | dict(zip(names, texts, strict=True))
            self.put(profile_edit.with_pupil(lens, row, typed, self.system), row=row)

        self.ask_each([question(name) for name in names], put)

    def _go_to(self, row: int | None) -> None:
        """Put the first field of a mode or pupil row in hand."""
        self.table.move_cursor(row=next((at for at, place in enumerate(self.fields) if place.row == row), 0))

    def action_next_view(self, step: int = 1) -> None:
        """Go to the next mode or pupil row, or back to the one before; the top lies between last and first."""
        rows = (None, *range(len(profile_fields.rows_of(self.profile))))
        self._go_to(rows[(rows.index(self.place.row) + step) % len(rows)])

    def action_delete(self) -> None:
        """Take away the mode or pupil row whose first field is in hand; empty any other field."""
        place, row = self.place, self.place.row
        if row is None or next(other for other in self.fields if other.row == row) != place:
            self.attempt(lambda: self.put(profile_edit.with_text(self.profile, place, "", self.system)))
        else:
            said = f"{place.label} {row + 1} was taken away; u brings it back"
            self.attempt(lambda: self.put(profile_edit.without_row(self.profile, row), said))

    def action_move(self, step: int) -> None:
        row = self.place.row
        if row is not None and 0 <= row + step < len(profile_fields.rows_of(self.profile)):
            self.attempt(lambda: self.put(profile_edit.with_row_moved(self.profile, row, step), row=row + step))

    def action_save(self) -> None:
        """Save it among the user's own profiles; over what someone else has changed only when that was said before."""
        state, draft = self.session.state, self.draft
        try:
            refuse_breaking(state.shot, state.kit, draft.shelf, draft.name, self.profile)
            draft.save(over=self._elsewhere)
        except ChangedElsewhere as fault:
            self._elsewhere = True
            self.say(f"{fault}: w saves under another name, g gets that one, s once more saves over it", refused=True)
        except BadInput as fault:
            self.say(reasons(fault), refused=True)
        else:
            self._was_saved(f"Saved to {draft.path}")

    def _was_saved(self, said: str) -> None:
        """Solve the shot anew with what the shelves hold now."""
        self._elsewhere = False
        if uses(self.session.state.shot, self.draft.shelf, self.draft.name):
            self.attempt(self.session.reload_kit)
        self.refill()
        self.say(said)

    def action_save_as(self) -> None:
        shelf = self.draft.shelf

        def take(text: str) -> None:
            self.draft.save_as(free_name(shelf, text))
            self._was_saved(f"Saved to {self.draft.path}; a shot uses it once it is taken on the shelf")

        question = Question("Save as", lambda text: told_name(shelf, free_name(shelf, text)), self.profile.name)
        self.ask(question, take)

    def action_get(self) -> None:
        if not self._elsewhere:
            self.say("Nobody else has changed the file")
        elif self.attempt(self.draft.reload):
            self._was_saved("This is what the file holds now; u brings back what was here")


def _label(place: profile_fields.FieldPlace) -> str:
    if place.row is None:
        return place.label
    return f"{place.label} {place.row + 1}" if place.name in {"name", "focal_length"} else f"  {place.label}"


def told_name(shelf: Shelf, name: str) -> str:
    """Return the name of a profile, and whether it will hide a built-in one."""
    return f"{name}, which will hide the built-in one of that name" if hides(shelf, name) else name
