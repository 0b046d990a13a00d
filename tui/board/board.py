"""The board: the four panes, the field in hand, and every key that changes the shot."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import BindingType

from forescale.engine.answer.in_force import in_force
from forescale.engine.answer.natural_step import stepped
from forescale.engine.field_help import choices_of
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.mends import as_changes, mends, told
from forescale.engine.shot import edit
from forescale.engine.units import off_the_marks, parse_length
from forescale.tui.board.board_view import PANES, BoardView
from forescale.tui.keys import BOARD_KEYS
from forescale.tui.panes.arrange import Typing, entry_text, is_open, paths_of
from forescale.tui.session import State, reasons

if TYPE_CHECKING:
    from textual.widgets import Input

    from forescale.engine.compare.differences import Difference, UndoWord


class Board(BoardView):
    """The shot under the fingers; what each action does stands with its key in `BOARD_KEYS`."""

    BINDINGS: ClassVar[list[BindingType]] = [key.binding() for key in BOARD_KEYS]

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Let no key leave the field while a value is typed for it, or the value would land in another."""
        return self.typing is None or action in {"theme", "glyphs", "entry_left"} or parameters == ("help",)

    def change(self, changes: dict[str, Any], run: str = "") -> None:
        """Make a change and show its answer, or say why it cannot be; a run of the same key is undone in one step."""
        try:
            self.session.apply(changes, run=run)
        except BadInput as fault:
            self.say(reasons(fault))
            return
        self.page = 0
        if run:
            self.wait_for_rest()
        self.forescale.changed()
        self.redraw()

    def action_step(self, direction: int, large: bool = False) -> None:
        path = self.in_hand()
        held = stepped(self.session.state.answer, path, direction, large=large)
        if held is None:
            self.say("No step is natural here: press Enter and type")
            return
        self.change({path: held}, f"{path} {direction} {large}")

    def action_auto(self) -> None:
        self.change({self.in_hand(): None})

    def action_mend(self) -> None:
        answer = self.session.state.answer
        first = answer.findings[0]
        tried = ((one, mend) for one in answer.findings for mend in mends(answer, one) if mend.set)
        # What is not said below is mended where it costs nothing: what does might bring back what was mended before.
        one, can = next(((one, mend) for one, mend in tried if one is first or mend.price is None), (first, None))
        if can is None:
            self.say("No more is mended at no cost: f lists the rest and what a hand can do")
            return
        key = self.forescale.keys_in_force()["mend"]
        by_hand = "" if one is first else f". For a hand: {first.short or first.text}"
        offer = f"{key} again: {told(can)}, for: {one.short or one.text}{by_hand}"
        if (by_hand or self.last_message) and self.last_message != offer:  # nothing is done that has not been read
            self.say(offer)
            return
        self.change(as_changes(answer.setting, can.set))
        self.say(f"Done: {told(can)}. Undo takes it back")

    def stepped(self, step: "UndoWord", changes: Sequence["Difference"]) -> None:
        """Say what a step back or on changed; the field comes into hand where its pane is in sight."""
        from forescale.engine.compare.differences import step_words

        room, texts = self.size.width - 2, step_words(step, changes)
        self.message = next((text for text in texts if len(text) <= room), texts[-1])
        in_sight = (self.pane,) if self.one_pane else PANES
        if changes and any(changes[0].path in paths_of(self.contents()[pane]) for pane in in_sight):
            self.go_to(changes[0].path, self.pane)
        else:
            self.redraw()

    def action_edit(self) -> None:
        from forescale.tui.entry import Entry

        path, self.page = self.in_hand(), 0
        self.typing = Typing(path, self._hint(path))
        self.mount(Entry(entry_text(self.session.state, path), choices_of(path), id="entry"))
        self.redraw()
        self.query("#entry").focus()  # `query_one` keeps what it found for good

    def _hint(self, path: str) -> str:
        """Return what a number without a unit means there, what may be typed for a filter, or the choices."""
        answer, slide = self.session.state.answer, path == "move.slide"
        if path == "light.nd":
            return "stops as 2, or a density as ND 0.6"
        if choices := choices_of(path):
            return f"Up, Down: {', '.join(choices)}"
        quantity, number = edit.quantity_of(type(answer.setting), path), self._number(path)
        unit = Words(answer).on_slide.unit if slide else edit.alone_means(quantity, answer.system, number)
        return f"a number alone is in {unit}" if unit else ""

    def _number(self, path: str) -> float | None:
        value = in_force(path, self.session.state.answer)
        return float(value) if isinstance(value, int | float) else None

    def on_input_changed(self, event: "Input.Changed") -> None:
        """Show what is understood of an entry, and the answer that it leads to."""
        self._try(event.value)
        self.redraw()

    def _try(self, text: str) -> State | None:
        """Put what an entry leads to in sight and return it; None, with the reason, where it leads to none."""
        path = self.in_hand()
        try:
            self.proposed, says = self._tried(path, text)
        except (ValueError, BadInput) as fault:
            shot = self.session.state.shot
            quantity = edit.with_example(path, shot, shot.units, self._number(path))
            right = quantity.like(shot.units) if quantity is not None and not text.strip() else ""
            self.proposed = None
            self.typing = Typing(path, "; ".join(filter(None, (reasons(fault), right))), refused=True)
        else:
            self.typing = Typing(path, says)
        return self.proposed

    def _tried(self, path: str, text: str) -> tuple[State, str]:
        """Return the state that an entry leads to and what is understood of it; raises ValueError or BadInput."""
        state = self.session.state
        if not text.strip():
            state = self.session.propose({path: None})
            leaves = "gives it back to the program" if is_open(state, path) else "leaves it out"
            return state, "; ".join(filter(None, (f"empty: Enter {leaves}", self._hint(path))))
        slide = Words(state.answer).on_slide if path == "move.slide" else None
        text = text if slide is None else slide.with_unit(text)
        held, read = edit.entry(path, text, state.shot, state.shot.units, self._number(path))
        read = read if slide is None else slide.mark(parse_length(held))
        return self.session.propose({path: held}), self._hint(path) if choices_of(path) else f"read as {read}"

    def on_input_submitted(self, event: "Input.Submitted") -> None:
        """Take the entry, or keep it with the reason why not."""
        state = self._try(event.value)
        if state is not None and self.typing is not None:
            typed_stop = event.value.strip() if self.typing.path == "focus.stop" else ""
            self.session.move_to(state)
            self._end_entry()
            self.forescale.changed()
            self.message = off_the_marks(typed_stop) if typed_stop else ""
        self.redraw()

    def action_entry_left(self) -> None:
        """Leave the old value."""
        self._end_entry()
        self.redraw()

    def _end_entry(self) -> None:
        self.typing = self.proposed = None
        for entry in self.query("#entry"):
            self.text_selection_started_signal.unsubscribe(entry)  # or it would be kept for good
            entry.remove()
        self.set_focus(None)

    def action_task(self, name: str, *of_task: Any) -> None:
        self.forescale.open_task(name, *of_task)

    def action_save(self) -> None:
        self.forescale.save()

    def action_glyphs(self) -> None:
        self.forescale.next_glyphs()

    def action_leave(self) -> None:
        self.forescale.leave()
