"""What the shot is called, and the notes and units that it has."""

from forescale.engine.files.faults import BadInput
from forescale.engine.shelf.new_shot import checked_title
from forescale.engine.units import quoted
from forescale.tui.tasks.frame import UNDO, FieldsScreen, Question, Said

UNITS = ("imperial", "metric")


class AboutScreen(FieldsScreen):
    TASK, PATHS, HEAD = "About this shot", ("title", "notes", "units"), "as set"
    BINDINGS = [*UNDO]

    def label(self, path: str) -> str:
        return path

    def now(self, path: str) -> str:
        return str(getattr(self.shot, path))

    def how(self, place: int) -> list[Said]:
        return [self.now(self.PATHS[place]) or "-", f"File: {self.session.path}"]

    def enter(self) -> None:
        path, now = self.path, self.now(self.path)
        label, choices = (f"{path} (imperial or metric)", UNITS) if path == "units" else (path, ())
        question = Question(label, lambda text: read_about(path, text), now, choices=choices)
        self.ask(question, lambda text: self.change({path: read_about(path, text)}))


def read_about(name: str, text: str) -> str:
    """Return what an entry says of a shot; raises BadInput saying what would be right."""
    if name == "title":
        return checked_title(text)
    if name == "units":
        word = text.strip().lower()
        if word not in UNITS:
            raise BadInput(f"{quoted(text)} is not known; write imperial or metric")
        return word
    return " ".join(text.split())
