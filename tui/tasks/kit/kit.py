"""Choosing the shot's camera, mode, lens and head from the shelves, and seeing first what each would change."""

from __future__ import annotations

from typing import ClassVar

from textual import events, on
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.compare.kit_effect import EffectLine, effect
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.profiles import Lens
from forescale.engine.shelf.kit_shelf import KitChange, with_focal_length
from forescale.engine.units import number_text
from forescale.tui.runs import Rows
from forescale.tui.session import reasons
from forescale.tui.tasks.kit.effect import EffectScreen, effect_height, effect_rows
from forescale.tui.tasks.kit.kit_table import NO_HEAD
from forescale.tui.tasks.kit.shelf_screen import ShelfScreen


class KitScreen(ShelfScreen):
    """One shelf at a time; Tab goes to the next. Enter puts the row in hand into the shot."""

    ENTER = "take"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "next_shelf", "next shelf", tooltip="go on from cameras to lenses, heads, and back"),
        Binding("e", "edit", "edit", tooltip="edit the selected profile; a built-in one is copied first"),
        Binding("f", "focal", "focal length", tooltip="set a zoom's focal length"),
        Binding("n", "new", "new", tooltip="make a new profile from likely values"),
        Binding("c", "copy", "copy", tooltip="make a new profile from the selected one"),
        Binding("v", "in_full", "in full", tooltip="read all that the selected choice would change"),
        Binding("t", "strips", "test strips", tooltip="find one's own sharpness in the shot's mode, from test strips"),
        Binding("x", "delete", "delete", tooltip="delete a profile of your own that is not in use"),
        Binding("u", "undo", "undo", tooltip="undo the last change of the shot"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def fill(self) -> None:
        """Show the shelf, and what the row in hand would change."""
        super().fill()
        self._show_effect()

    @on(DataTable.RowHighlighted)
    def _in_hand(self) -> None:
        self._show_effect()

    def on_key(self, event: events.Key) -> None:
        """Any key but a second x answers the question whether to delete with no."""
        if event.key != "x":
            self.to_delete = ""

    def _show_effect(self) -> None:
        box, height = self.query_one("#effect", Rows), effect_height(self.size.height, 3)
        box.styles.height = height
        lines = self._effect()
        if not self.whose_shown and self.choice.name:
            lines = (EffectLine(None, f"{self.choice.name}: {self.choice.whose}"), *lines)
        box.show(effect_rows(lines, self.size.width, height, self.forescale.glyphs))

    def _effect(self) -> tuple[EffectLine, ...]:
        """Return what taking the row in hand would change, or why it cannot be taken."""
        choice, setting = self.choice, self.session.state.shot
        if choice.in_shot(setting):
            return self._described()
        try:
            change = choice.change(setting, self.session.state.kit)
            return (*(EffectLine("warn", said) for said in change.said), *self._numbers(change))
        except BadInput as fault:
            return (EffectLine("stop", reasons(fault)),)

    def _described(self) -> tuple[EffectLine, ...]:
        profile = self.choice.profile
        texts = () if profile is None else (profile.title, profile.notes)
        zoom = isinstance(profile, Lens) and profile.is_zoom
        at = f", at {number_text(self.session.state.kit.focal_mm, 6)} mm" if zoom else ""
        return (EffectLine("ok", f"The shot is set to this{at}"), *(EffectLine(None, text) for text in texts if text))

    def _numbers(self, change: KitChange) -> tuple[EffectLine, ...]:
        return effect(self.session.state.answer, self.session.propose(change.fields).answer)

    def action_strips(self) -> None:
        """Go to the test strips of the shot's mode."""
        self.forescale.open_task("strips", then=lambda _: self.fill())

    def action_in_full(self) -> None:
        """Read the preview whole."""
        self.app.push_screen(EffectScreen(self._effect()))

    # Taking

    @on(DataTable.RowSelected)
    def _take_in_hand(self) -> None:
        """Put the row in hand into the shot."""
        choice = self.choice
        if choice.in_shot(self.session.state.shot):
            self.say("The shot is set to this already")
            return
        name = f"{choice.name}, {choice.mode.name}" if choice.mode else choice.name or NO_HEAD
        try:
            change = choice.change(self.session.state.shot, self.session.state.kit)
        except BadInput as fault:
            self.say(reasons(fault), refused=True)
            return
        self._put(change, name)

    def _put(self, change: KitChange, name: str) -> None:
        if self.attempt(lambda: self.session.apply(change.fields)):
            self.say("; ".join((f"The shot is set to {name}", *change.said, "u undoes it")))

    def action_focal(self) -> None:
        """Ask for the focal length of the zoom in hand; it is taken with the lens."""
        lens = self.choice.profile
        if not isinstance(lens, Lens) or not lens.is_zoom:
            self.say("A focal length is set on a zoom: select one on the shelf of lenses")
            return
        chosen = self.choice.in_shot(self.session.state.shot)

        def read(text: str) -> str:
            change, mm = with_focal_length(lens, text)
            return f"{mm}: {self._numbers(change)[0].text}"

        def take(text: str) -> None:
            change, mm = with_focal_length(lens, text)
            self.session.apply(change.fields)
            self.forescale.changed()
            self.fill()
            self.say(f"The shot is set to {lens.name} at {mm}; u undoes it")

        now = f"{self.session.state.kit.focal_mm:g} mm" if chosen else ""
        self.ask(f"Focal length, {lens.shortest:g} to {lens.longest:g} mm", now, read, take)
