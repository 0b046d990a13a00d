"""The shot sheet on the screen, and saved as text, as a drawing, as pages to print, as lists and numbers."""

from __future__ import annotations

from os.path import exists, expanduser, isdir
from pathlib import Path
from typing import ClassVar

from textual.binding import BindingType

from forescale.engine.field_help import prompt
from forescale.engine.files.faults import BadInput
from forescale.engine.files.names import refuse_name
from forescale.engine.files.regular import resolved
from forescale.engine.files.toml_files import write_text
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame.pages import PageScreen
from forescale.tui.tasks.frame.verbs import UNDO, key, listed
from forescale.tui.tasks.frame.widgets import TaskPage

CARD = "scale.card"
FORMS = {  # the ending of a file's name, and what is written into it
    ".txt": "text",
    ".svg": "the drawing",
    ".html": "pages to print",
    ".templates.html": "templates at true size",
    ".csv": "the build list",
    ".json": "every number",
}


class SheetScreen(PageScreen[None]):
    """The sheet as `forescale sheet` prints it, in the columns that the screen has."""

    TASK = "Shot sheet"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("save", "save", "save it as text, drawing, pages to print, templates, build list or numbers"),
        listed("card", "card at", "how far from the eye the survey cut-out of the templates is held up"),
        *UNDO,
    ]

    def __init__(self) -> None:
        super().__init__()
        self._warned: Path | None = None

    def fill(self) -> None:
        """Show the sheet, laid out for the width there is."""
        from forescale.engine.sheet.text import LEAST, WIDTH, sheet_text

        columns = min(max(self.size.width - 1, LEAST), WIDTH)
        self.query_one(TaskPage).show(
            sheet_text(self.shot, self.answer, columns, lambda text: plain(text, self.glyphs))
        )

    def sheet(self, ending: str) -> str:
        """Return the present shot's sheet in a form; the code of a form is loaded when it is asked for."""
        match ending:
            case ".svg":
                from forescale.engine.sheet.drawing.page import sheet_svg as write
            case ".html":
                from forescale.engine.sheet.page import sheet_html as write
            case ".templates.html":
                from forescale.engine.sheet.templates.pages import sheet_templates as write
            case ".csv":
                from forescale.engine.sheet.data import build_csv as write
            case ".json":
                from forescale.engine.sheet.data import sheet_json as write
            case _:
                from forescale.engine.sheet.text import sheet_text as write
        return write(self.shot, self.answer)

    def action_save(self) -> None:
        """Ask for a file whose name says what is to be written, and write the sheet to it."""
        names = [f"{self.session.path.stem}{ending}" for ending in FORMS]
        hint = "; ".join(f"{ending} is {what}" for ending, what in FORMS.items())

        def read(text: str) -> str:
            path, ending = _target(text)
            return f"{FORMS[ending]}, in {resolved(path)}"

        self.ask("Save to", names[0], read, self._save_to, hint, names)

    def _save_to(self, text: str) -> None:
        path, ending = _target(text)
        if exists(path) and self._warned != path:
            self._warned = path
            raise BadInput(f"Enter once more writes over it: {path} is there already")
        write_text(path, self.sheet(ending))
        self._warned = None
        self.say(f"Saved {FORMS[ending]} to {resolved(path)}")

    def action_card(self) -> None:
        """Ask how far from the eye the survey cut-out is held up."""
        shot = self.shot

        def hold(text: str) -> None:
            self.change({CARD: edit.entry(CARD, text, shot, shot.units, None)[0] if text.strip() else None})

        held = edit.text_of(shot.scale.card, edit.quantity_of(Setting, CARD), shot.units)
        read = lambda text: edit.entry(CARD, text, shot, shot.units, None)[1]  # noqa: E731
        self.ask(prompt(CARD, shot.units), held, read, hold)


def _target(text: str) -> tuple[Path, str]:
    """Return the file that a name stands for, and the ending that says what is written into it; raises BadInput."""
    path = Path(expanduser(text.strip()))
    endings = [ending for ending in FORMS if path.name.endswith(ending) and path.name != ending]
    if not endings or isdir(path):
        raise BadInput(f"a file's name is needed, ending in {', '.join(FORMS)}")
    refuse_name(path.name)
    return path, max(endings, key=len)
