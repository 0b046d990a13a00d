"""The shot sheet on the screen, and saved as text, as a drawing, as pages to print, as lists and numbers."""

from os.path import expanduser, isdir
from pathlib import Path

from forescale.engine.files.disk import resolved
from forescale.engine.files.faults import BadInput
from forescale.engine.files.names import refuse_name
from forescale.engine.files.toml_files import write_text
from forescale.engine.sheet.forms import FORMS, sheet_as
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame import UNDO, PageScreen, Question, TaskPage, key, listed


class SheetScreen(PageScreen[None]):
    TASK = "Shot sheet"
    BINDINGS = [
        key("save", "save", "save it as text, drawing, pages to print, templates, build list or numbers"),
        listed("field('scale.card')", "card at", "how far from the eye the survey cut-out of the templates is held up"),
        *UNDO,
    ]

    def fill(self) -> None:
        from forescale.engine.sheet.text import LEAST, WIDTH, sheet_text

        wide = min(max(self.size.width - 1, LEAST), WIDTH)
        sheet = sheet_text(self.shot, self.answer, wide, lambda text: plain(text, self.glyphs))
        self.query_one(TaskPage).show_rows([((line, ""),) for line in sheet.split("\n")])

    def action_save(self) -> None:
        names = [f"{self.session.path.stem}{ending}" for ending in FORMS]
        hint = "; ".join(f"{ending} is {what}" for ending, (what, *_) in FORMS.items())

        def read(text: str) -> str:
            path, ending = _target(text)
            return f"{FORMS[ending][0]}, in {resolved(path)}"

        self.ask(Question("Save to", read, names[0], hint, names), self._save_to)

    def _save_to(self, text: str) -> None:
        path, ending = _target(text)
        self.warn_over(path)
        write_text(path, sheet_as(ending, self.shot, self.answer))
        self.warned_of = None
        self.say(f"Saved {FORMS[ending][0]} to {resolved(path)}")


def _target(text: str) -> tuple[Path, str]:
    """Return the file that a name stands for, and the ending that says what is written into it; raises BadInput."""
    path = Path(expanduser(text.strip()))
    endings = [ending for ending in FORMS if path.name.endswith(ending) and path.name != ending]
    if not endings or isdir(path):
        raise BadInput(f"a file's name is needed, ending in {', '.join(FORMS)}")
    refuse_name(path.name)
    return path, max(endings, key=len)
