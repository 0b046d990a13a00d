"""The shot sheet on the screen, and saved as text, as a drawing, as pages to print, as lists and numbers."""

from os.path import exists, expanduser, isdir
from pathlib import Path

from forescale.engine.files.faults import BadInput
from forescale.engine.files.regular import refuse_name, resolved
from forescale.engine.files.toml_files import write_text
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame import UNDO, PageScreen, Question, TaskPage, key, listed

FORMS = {  # the ending of a file's name, and what is written into it
    ".txt": "text",
    ".svg": "the drawing",
    ".html": "pages to print",
    ".templates.html": "templates at true size",
    ".csv": "the build list",
    ".json": "every number",
}


class SheetScreen(PageScreen[None]):
    TASK = "Shot sheet"
    BINDINGS = [
        key("save", "save", "save it as text, drawing, pages to print, templates, build list or numbers"),
        listed("field('scale.card')", "card at", "how far from the eye the survey cut-out of the templates is held up"),
        *UNDO,
    ]
    _warned: Path | None = None

    def fill(self) -> None:
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
        names = [f"{self.session.path.stem}{ending}" for ending in FORMS]
        hint = "; ".join(f"{ending} is {what}" for ending, what in FORMS.items())

        def read(text: str) -> str:
            path, ending = _target(text)
            return f"{FORMS[ending]}, in {resolved(path)}"

        self.ask(Question("Save to", read, names[0], hint, names), self._save_to)

    def _save_to(self, text: str) -> None:
        path, ending = _target(text)
        if exists(path) and self._warned != path:
            self._warned = path
            raise BadInput(f"Enter once more writes over it: {path} is there already")
        write_text(path, self.sheet(ending))
        self._warned = None
        self.say(f"Saved {FORMS[ending]} to {resolved(path)}")


def _target(text: str) -> tuple[Path, str]:
    """Return the file that a name stands for, and the ending that says what is written into it; raises BadInput."""
    path = Path(expanduser(text.strip()))
    endings = [ending for ending in FORMS if path.name.endswith(ending) and path.name != ending]
    if not endings or isdir(path):
        raise BadInput(f"a file's name is needed, ending in {', '.join(FORMS)}")
    refuse_name(path.name)
    return path, max(endings, key=len)
