"""Work that is not yet saved, kept for after a crash or a flat battery; and which shot was worked on last."""

import hashlib
from contextlib import nullcontext, suppress
from os.path import isfile
from pathlib import Path
from threading import Lock
from typing import NamedTuple

from forescale.engine.files.disk import read_bytes, resolved
from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import clear_parts, read_toml, write_text, write_toml
from forescale.engine.kit import library, unsaved
from forescale.engine.shot.records import Shot
from forescale.engine.states.takes import with_takes_of
from forescale.tui.session import Session, differing, reasons, solve

LONGEST_PATH = 10_000
LAST = "last-shot"  # the file that says which shot was worked on last


class Work(NamedTuple):
    """Unsaved work on a shot, and the digest of the file that it began from."""

    shot: Shot
    found: str

    def write(self, path: Path) -> None:
        """Write it to a file; raises BadInput."""
        write_toml(path, {"found": self.found, "shot": self.shot.dump()}, folders=True)


def _kept_as(path: Path) -> str:
    return f"{hashlib.sha256(str(resolved(path)).encode('utf-8', 'surrogateescape')).hexdigest()[:16]}.toml"


def keep(path: Path, work: Work | None) -> None:
    """Keep the unsaved work on a file, or forget what is kept where there is none; raises BadInput."""
    if work is None:
        unsaved.forget(_kept_as(path))
    else:
        work.write(unsaved.own_place() / _kept_as(path))


class Keeper:
    """Keeps unsaved work in the order in which it was wanted: a late write never puts an older state over a newer."""

    def __init__(self) -> None:
        self._wanted: dict[Path, Work | None] = {}
        self._writing = Lock()

    def want(self, path: Path, work: Work | None) -> None:
        """Say what the next write is to keep for a file, None for nothing."""
        self._wanted[path] = work

    def write(self) -> None:
        """Keep all that is wanted and not yet kept; raises BadInput where it cannot be written."""
        with self._writing:
            while self._wanted:
                path, work = self._wanted.popitem()
                try:
                    keep(path, work)
                except BadInput:
                    self._wanted.setdefault(path, work)
                    raise


def read_work(kept: Path) -> Work:
    data = read_toml(kept)
    shot = data.get("shot", data)  # before the file's digest stood beside it, the shot was all there was
    return Work(Shot.read(shot if isinstance(shot, dict) else {}, str(kept)), str(data.get("found", "")))


def kept_work(path: Path) -> list[Path]:
    """Return the files of unsaved work on a shot that are this program's, or left to it, the newest last."""
    return unsaved.kept(_kept_as(path))


def bring_back(session: Session) -> str:
    """Make what a crash left the present state, a step of undo each, and say so; what cannot be used is set aside."""
    brought, said = 0, []
    for kept in kept_work(session.path):
        try:
            work = read_work(kept)
            state = solve(with_takes_of(session.state.shot, work.shot) if brought else work.shot, None)
        except BadInput as fault:
            unusable = f"Unsaved work was kept but cannot be used ({reasons(BadInput(fault.faults[0]), kept)})"
            try:
                said.append(f"{unusable}; it lies in {unsaved.set_aside(kept)}")
            except BadInput as closed:
                said.append(f"{unusable}, and {closed}")
            continue
        brought += state.shot != session.state.shot
        session.move_to(state)
        session.found = work.found or session.found
    if brought:
        said.insert(0, "Unsaved work was brought back; undo returns to what the file holds")
    if brought > 1:
        said[0] = f"Unsaved work of {brought} runs was brought back, the last on top; undo goes through all to the file"
    return ". ".join(said) or _bring_discarded(session)


def _discarded(path: Path) -> Path:
    return unsaved.unsaved() / "discarded" / _kept_as(path)


def discard(session: Session, keeper: Keeper, *, for_good: bool = False) -> None:
    """Lay unsaved work by until the next time, its takes in the file; raises BadInput, all kept, unless for good."""
    shot, path, saved = session.state.shot, session.path, session.saved
    with suppress(BadInput) if for_good else nullcontext():
        Work(shot, session.found).write(_discarded(path))
    keeper.want(path, None)
    if saved is not None and shot.take != saved.take:
        try:
            if session.shipped:
                raise BadInput("what is built in is not written to")
            session.take_theirs()
            Work(shot, session.found).write(_discarded(path))
        except BadInput:
            keeper.want(path, Work(with_takes_of(shot, saved), session.found))
    keeper.write()


def _bring_discarded(session: Session) -> str:
    """Let redo bring back what was discarded last, as long as nothing has been saved since; say so."""
    kept = _discarded(session.path)
    with suppress(BadInput):
        if isfile(kept) and (work := read_work(kept)).found == session.found and work.shot != session.state.shot:
            session.undone.append(differing(solve(work.shot, None).shot, session.state.shot))
            return "r brings back what was discarded last"
    return ""


def remember_last(path: Path) -> None:
    """Remember which shot is worked on; a home that cannot be written to is not worth a word."""
    with suppress(BadInput):
        write_text(library.home() / LAST, f"{resolved(path)}\n", folders=True)


def last_path() -> Path | None:
    """Return the file of the shot last worked on, if it is still there; whether it is right shows when it is opened."""
    try:
        path = Path(read_bytes(library.home() / LAST, LONGEST_PATH).decode("utf-8").strip())
    except (BadInput, UnicodeDecodeError):
        return None
    return path if isfile(path) else None


def clear_up(path: Path) -> None:
    """Take away what killed saves left among the user's files and beside this one."""
    home = library.home()
    for folder in {home, *(home / shelf for shelf in library.ONE_OF), path.parent}:
        clear_parts(folder)
