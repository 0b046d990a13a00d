"""The shot sheet on the screen, and saved as text, as a drawing, as a page to print."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.files.faults import BadInput
from forescale.engine.files.names import refuse_name
from forescale.engine.files.regular import expanded, is_folder, is_there, resolved
from forescale.engine.files.toml_files import write_text
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen

CARD = "scale.card"


class SheetScreen(TaskScreen[None]):
    """The sheet as `forescale sheet` prints it, in the columns that the screen has."""

    TASK = "Shot sheet"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("t", "save('txt')", "save text"),
        Binding("d", "save('svg')", "drawing"),
        Binding("p", "save('html')", "page to print"),
        Binding("y", "save('templates.html')", "templates", tooltip="outlines, parts, rules at true size, to print"),
        Binding("h", "card", "card at", tooltip="how far from the eye the survey cut-out is held up"),
        Binding("c", "save('csv')", "build list"),
        Binding("j", "save('json')", "numbers"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._form = "txt"
        self._warned: Path | None = None

    def body(self) -> ComposeResult:
        """One page."""
        yield TaskPage(id="sheet")

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the sheet out for the new width."""
        self.fill()

    def fill(self) -> None:
        """Show the sheet, laid out for the width there is."""
        from forescale.engine.sheet.text import LEAST, WIDTH, sheet_text

        state, columns = self.session.state, min(max(self.size.width - 1, LEAST), WIDTH)
        text = sheet_text(state.shot, state.answer, columns, lambda text: plain(text, self.forescale.glyphs))
        self.query_one(TaskPage).show(text)

    def sheet(self, form: str) -> str:
        """Return the present shot's sheet in a form; the code of a form is loaded when it is asked for."""
        shot, answer = self.session.state.shot, self.session.state.answer
        match form:
            case "svg":
                from forescale.engine.sheet.drawing.page import sheet_svg as write
            case "html":
                from forescale.engine.sheet.page import sheet_html as write
            case "templates.html":
                from forescale.engine.sheet.templates.pages import sheet_templates as write
            case "csv":
                from forescale.engine.sheet.data import build_csv as write
            case "json":
                from forescale.engine.sheet.data import sheet_json as write
            case _:
                from forescale.engine.sheet.text import sheet_text as write
        return write(shot, answer)

    def action_save(self, form: str) -> None:
        """Ask for a file, and write the sheet to it."""
        named = f"{self.session.path.stem}.{form}"
        self.ask("Save to", named, lambda text: str(resolved(expanded(text.strip()))), self._save_to)
        self._form = form

    def action_card(self) -> None:
        """Ask how far from the eye the survey cut-out is held up."""
        shot, quantity = self.session.state.shot, edit.quantity_of(Setting, CARD)
        held = edit.text_of(shot.scale.card, quantity, shot.units)
        label = FIELD_HELP[CARD].label
        self.ask(label, held, lambda text: edit.entry(CARD, text, shot, shot.units, None)[1], self._hold)

    def _hold(self, text: str) -> None:
        shot = self.session.state.shot
        self.session.apply({CARD: edit.entry(CARD, text, shot, shot.units, None)[0] if text.strip() else None})
        self.forescale.changed()
        self.fill()

    def _save_to(self, text: str) -> None:
        path = expanded(text.strip())
        if not text.strip() or is_folder(path):
            raise BadInput(f"a file's name is needed, such as {self.session.path.stem}.{self._form}")
        refuse_name(path.name)
        if is_there(path) and self._warned != path:
            self._warned = path
            raise BadInput(f"Enter once more writes over it: {path} is there already")
        write_text(path, self.sheet(self._form))
        self._warned = None
        self.say(f"Saved to {resolved(path)}")
