"""The shelves of cameras, lenses and heads: what each would change of the shot, taking one, making one of one's own."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual import events

from forescale.engine.compare.differences import EffectLine, effect
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.kit.library import ONE_OF, Shelf
from forescale.engine.kit.profiles import Lens, Mode, Profile, Rates
from forescale.engine.shelf import profile_draft, profile_edit
from forescale.engine.shelf.kit_shelf import SHELVES, KitChange, OnShelf, choices, saved_users, users, with_focal_length
from forescale.engine.shelf.profile_draft import Draft, free_name, hides, open_draft
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem, length_text, number_text
from forescale.tui.session import reasons
from forescale.tui.tasks.frame import UNDO, Column, Question, RowsScreen, Said, key, listed, shortened
from forescale.tui.tasks.kit.profile import ProfileScreen, told_name

NO_HEAD = "no head"
NAME = 19  # columns of a camera's name beside its mode on a narrow screen


class KitScreen(RowsScreen[None]):
    ENTER, BY_ROW, TALL, LEAST = "take", True, 0, 40
    BINDINGS = [
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
    shelf: Shelf = "cameras"
    choices: tuple[OnShelf, ...] = ()
    to_delete = ""

    def columns(self) -> list[Column]:
        self.choices, self.TASK = choices(self.shelf), f"Kit: {self.shelf}"
        return kit_columns(self.shelf, self.choices, self.shot, self.glyphs.point, self.size.width - NAME)

    def filled(self) -> None:
        self._go_to(lambda choice: choice.in_shot(self.shot))

    @property
    def choice(self) -> OnShelf:
        return self.choices[self.table.place]

    @property
    def called(self) -> str:
        choice = self.choice
        return f"{choice.name}, {choice.mode.name}" if choice.mode else choice.name or NO_HEAD

    def gives(self) -> Iterable[Said]:
        choice = self.choice
        if choice.name and "whose" not in self.table.ids:
            yield f"{self.called}: {choice.whose}"
        if choice.in_shot(self.shot):
            profile = choice.profile
            zoom = isinstance(profile, Lens) and profile.is_zoom
            at = f", at {Words.focal(self.session.state.kit.focal_mm)}" if zoom else ""
            yield "ok", f"The shot is set to this{at}"
            yield from (text for text in (() if profile is None else (profile.title, profile.notes)) if text)
            return
        try:
            change = choice.change(self.shot, self.session.state.kit)
            yield from (("warn", said) for said in change.said)
            yield from self._numbers(change)
        except BadInput as fault:
            yield "stop", reasons(fault)

    def _numbers(self, change: KitChange) -> tuple[EffectLine, ...]:
        return effect(self.answer, self.session.propose(change.fields).answer)

    def action_next_view(self, step: int = 1) -> None:
        self.shelf = SHELVES[(SHELVES.index(self.shelf) + step) % len(SHELVES)]
        self.say("")
        self.refill()
        self.filled()
        self.focus_body()

    def _go_to(self, wanted: Callable[[OnShelf], bool]) -> None:
        self.table.move_cursor(row=next((row for row, choice in enumerate(self.choices) if wanted(choice)), 0))

    def action_strips(self) -> None:
        self.forescale.open_task("strips", then=lambda _: self.refill())

    def enter(self) -> None:
        choice = self.choice
        if choice.in_shot(self.shot):
            self.say("The shot is set to this already")
            return

        def take() -> None:
            change = choice.change(self.shot, self.session.state.kit)
            self.change(change.fields, "; ".join((f"The shot is set to {self.called}", *change.said, "u undoes it")))

        self.attempt(take)

    def action_focal(self) -> None:
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
        self.ask(Question(f"Focal length, {lens.shortest:g} to {lens.longest:g} mm", read, now), take)

    def action_new(self) -> None:
        self._ask_name(f"Name of the new {ONE_OF[self.shelf]}", "", lambda name: profile_edit.new(self.shelf, name))

    def action_copy(self, to_do: str = "copy", label: str = "Copy as") -> None:
        """Make a copy of the profile in hand, or say why there is none to copy."""
        if (profile := self.choice.profile) is None:
            self.say(str(self.choice.fault or f"There is no profile here to {to_do}"), refused=True)
        else:
            self._ask_name(label, profile.name, lambda name: profile_edit.copied(profile, name))

    def _ask_name(self, label: str, text: str, make: Callable[[str], Profile]) -> None:
        def take(text: str) -> None:
            name = free_name(self.shelf, text)
            said = f"Saved it is {told_name(self.shelf, name)}" if hides(self.shelf, name) else ""
            self._open(Draft(self.shelf, make(name)), said)

        self.ask(Question(label, lambda text: told_name(self.shelf, free_name(self.shelf, text)), text), take)

    def action_edit(self) -> None:
        choice = self.choice
        if choice.profile is None or (choice.shipped and not choice.kept):
            self.action_copy("edit", "Built-in, so copy as")
        else:
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

    def on_key(self, event: events.Key) -> None:
        if event.key != "x":
            self.to_delete = ""

    def action_delete(self) -> None:
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


def _ends(low: float, high: float, unit: str = " mm") -> str:
    return f"{' to '.join(number_text(end, 7) for end in dict.fromkeys((low, high)))}{unit}"


def _rates(mode: Mode, _: UnitSystem) -> str:
    return _ends(mode.fps.min if isinstance(mode.fps, Rates) else min(mode.fps), mode.top_fps, " fps")


# What each shelf shows of a mode, a lens or a head: a column's head, how soon it goes for want of room, and its cell.
_SHOWN: dict[Shelf, tuple[tuple[str, int, Callable[[Any, UnitSystem], str]], ...]] = {
    "cameras": (
        ("mode", 0, lambda mode, _: mode.name),
        ("frame", 4, lambda mode, _: f"{number_text(mode.width, 4)} × {number_text(mode.height, 4)} mm"),
        ("pixels", 5, lambda mode, _: f"{mode.width_px} × {mode.height_px}"),
        ("rates", 3, _rates),
        ("ISO", 6, lambda mode, _: f"{number_text(mode.iso_base, 7)} to {number_text(mode.iso_max, 7)}"),
    ),
    "lenses": (
        ("focal length", 0, lambda lens, _: _ends(lens.shortest, lens.longest)),
        ("stops", 2, lambda lens, _: lens.stop_range),
        ("close focus", 4, lambda lens, system: length_text(lens.close_focus, system, fraction=8)),
        ("pupil", 3, lambda lens, _: f"{len(lens.pupil)} measured" if lens.pupil else "not measured"),
    ),
    "heads": (
        ("slide", 2, lambda head, _: f"{number_text(head.slide_min, 6)} to {number_text(head.slide_max, 6)} mm"),
        ("sensor at 0", 3, lambda head, _: f"{number_text(head.sensor_at_zero, 6)} mm"),
    ),
}


def kit_columns(shelf: Shelf, choices: Sequence[OnShelf], shot: Shot, mark: str, room: int) -> list[Column]:
    """Return the columns of one shelf, a mode's name in so much room; what the shot is set to has the mark."""
    names = (f"{mark if choice.in_shot(shot) else ' '} {choice.name or NO_HEAD}" for choice in choices)
    columns, records = [Column("name", "  name", tuple(names))], [choice.mode or choice.profile for choice in choices]
    for head, goes, cell in _SHOWN[shelf]:
        cells = tuple("" if record is None else cell(record, shot.units) for record in records)
        if head == "mode":
            cells = tuple(shortened(text, room) for text in cells)
        columns.append(Column(head, head, cells, goes))
    return [*columns, Column("whose", "whose", tuple(choice.whose for choice in choices), goes=1)]
