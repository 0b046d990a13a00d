"""Saving the shot: under another name, over what someone else has changed, and on leaving with what is not saved."""

from collections.abc import Callable, Iterator
from os.path import exists, expanduser, isdir
from pathlib import Path

from forescale.engine.files.disk import resolved
from forescale.engine.files.faults import BadInput, ChangedElsewhere
from forescale.engine.files.names import refuse_name
from forescale.engine.kit import library
from forescale.tui.session import Session, reasons, solve
from forescale.tui.tasks.compare import Compared, CompareScreen
from forescale.tui.tasks.frame import PageScreen, Question, Said, key


class SaveAsScreen(PageScreen[None]):
    TASK = "Save as"

    def __init__(self, then_leave: bool = False) -> None:
        super().__init__()
        self.then_leave = then_leave

    def said(self) -> list[Said]:
        return [
            f"A plain name is kept among your own shots, in {library.home() / 'shots'}.",
            "A path, such as ./night.toml, is a file anywhere else.",
        ]

    def filled(self) -> None:
        self.ask(Question("Name or path", target_of, self.session.path.stem), self._save)

    def _save(self, text: str) -> None:
        target = target_of(text)
        if resolved(target) != resolved(self.session.path):
            self.warn_over(target)
        try:
            self.session.save(target)
        except ChangedElsewhere:
            self.dismiss()
            self.forescale.save(then_leave=self.then_leave)
            return
        except BadInput as fault:
            raise BadInput(f"not saved: {reasons(fault, target)}") from None
        self.dismiss()
        self.forescale.was_saved(then_leave=self.then_leave)

    def action_entry_left(self) -> None:
        self.dismiss()


def new_target(text: str) -> Path:
    """Return the file that a name or path stands for, where none is yet; raises BadInput."""
    if exists(target := target_of(text)):
        raise BadInput(f"{target} is there already: give another name")
    if target == library.own_path("shots", target.stem) and target.stem in library.shelf_files("shots"):
        raise BadInput(f"{target.stem} is the name of a built-in shot: give another name")
    return target


def target_of(text: str) -> Path:
    """Return the file that a name or path stands for; raises BadInput."""
    name = text.strip()
    if not name:
        raise BadInput("a name is needed, such as night-2")
    path = Path(expanduser(name))
    if path.parent == Path() and "/" not in name:
        path = library.home() / "shots" / f"{name.removesuffix('.toml')}.toml"
    elif isdir(path):
        raise BadInput(f"{path} is a folder: a file's name is needed, such as {path / 'night-2'}")
    elif path.suffix != ".toml":
        path = path.with_name(f"{path.name}.toml")
    refuse_name(path.stem)
    library.refuse_shipped(path)
    return path


class ElsewhereScreen(CompareScreen):
    TASK = "Changed elsewhere"
    BINDINGS = [
        key("save", "save yours", "save yours over the file, with the takes of both"),
        key("get", "get theirs", "take the file's, with the takes of both; u on the board brings yours back"),
        key("save as", "save as", "save yours under another name, the file staying as it is"),
    ]

    def __init__(self, session: Session, then_leave: bool = False) -> None:
        state = session.state
        try:
            shot = library.load_shot(session.path)
            theirs = Compared("the file", shot, solve(shot, None).answer)
        except BadInput as fault:
            theirs = Compared("the file", state.shot, None, reasons(fault))
        super().__init__(Compared("yours", state.shot, state.answer), theirs)
        self.then_leave = then_leave

    def fill(self) -> None:
        super().fill()
        if not self.second.fault:
            self.say(f"{self.session.path} was changed elsewhere since it was opened here: whose is to stand?")

    def action_save(self) -> None:
        self._settle(self.session.keep_mine)

    def action_get(self) -> None:
        self._settle(self.session.take_theirs)

    def action_save_as(self) -> None:
        self.dismiss()
        self.forescale.open_task("save_as", self.then_leave)

    def _settle(self, how: Callable[[], None]) -> None:
        if self.attempt(how):
            self.dismiss()
            self.forescale.was_saved(then_leave=self.then_leave)


class LeavingScreen(PageScreen[None]):
    TASK = "Not saved"
    BINDINGS = [
        key("save", "save and leave", "save and leave; a built-in example asks for a name first"),
        key("delete", "leave without saving", "leave without saving; its takes are saved all the same"),
        key("save as", "save as", "save under another name or in another place, and leave"),
    ]
    _warned = False

    def said(self) -> Iterator[Said]:
        yield from (f"The shot has changes that {self.session.path} does not hold.", "")
        yield from ((f"  {one.key:5}", one.tooltip) for one in self.own_keys())
        yield "  Esc  ", "stay"

    def action_save(self) -> None:
        self.dismiss()
        self.forescale.save(then_leave=True)

    def action_delete(self) -> None:
        """Leave, and let the changes go; where they cannot be kept for a second thought, that is said first."""
        try:
            self.forescale.discard(for_good=self._warned)
        except BadInput as fault:
            self._warned = True
            self.say(f"Not kept ({reasons(fault)}): w saves elsewhere, x once more lets it go for good", refused=True)

    def action_save_as(self) -> None:
        self.dismiss()
        self.forescale.open_task("save_as", True)
