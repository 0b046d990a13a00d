"""Saving the shot under another name."""

from __future__ import annotations

from os.path import exists, expanduser
from pathlib import Path

from forescale.engine.files.faults import BadInput, ChangedElsewhere
from forescale.engine.files.names import refuse_name
from forescale.engine.files.regular import resolved
from forescale.engine.kit import library
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.pages import PageScreen
from forescale.tui.tasks.frame.widgets import Said


class SaveAsScreen(PageScreen[None]):
    """A name among the user's own shots, or a path."""

    TASK = "Save as"

    def __init__(self, then_leave: bool = False) -> None:
        super().__init__()
        self.then_leave = then_leave
        self._asked_about: Path | None = None

    def said(self) -> list[Said]:
        """Say where a name leads."""
        return [
            f"A plain name is kept among your own shots, in {library.home() / 'shots'}.",
            "A path, such as ./night.toml, is a file anywhere else.",
        ]

    def filled(self) -> None:
        """Ask for a name."""
        self.ask("Name or path", self.session.path.stem, lambda text: str(target_of(text)), self._save)

    def _save(self, text: str) -> None:
        target = target_of(text)
        if exists(target) and resolved(target) != resolved(self.session.path) and not self._warned(target):
            return
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

    def on_entry_left(self) -> None:
        """There is nothing here but the entry: leave with it."""
        self.dismiss()

    def _warned(self, target: Path) -> bool:
        """Say once that a file would be written over; the second Enter does it."""
        if self._asked_about == target:
            return True
        self._asked_about = target
        raise BadInput(f"Enter once more writes over it: {target} is there already")


def new_target(text: str) -> Path:
    """Return the file that a name or path stands for, where none is yet; raises BadInput."""
    if exists(target := target_of(text)):
        raise BadInput(f"{target} is there already: give another name")
    return target


def target_of(text: str) -> Path:
    """Return the file that a name or path stands for; raises BadInput."""
    name = text.strip()
    if not name:
        raise BadInput("a name is needed, such as night-2")
    path = Path(expanduser(name))
    if path.parent == Path() and "/" not in name:
        path = library.home() / "shots" / f"{name.removesuffix('.toml')}.toml"
    elif path.suffix != ".toml":
        path = path.with_name(f"{path.name}.toml")
    refuse_name(path.stem)
    library.refuse_shipped(path)
    return path
