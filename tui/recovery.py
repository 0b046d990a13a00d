"""Work that is not yet saved, kept for after a crash or a flat battery; and which shot was worked on last."""

from __future__ import annotations

import hashlib
from pathlib import Path
from threading import Lock

from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import write_text, write_toml
from forescale.engine.kit import library
from forescale.engine.shot.records import Shot
from forescale.tui.session import State, solve


def _kept_path(path: Path) -> Path:
    name = hashlib.sha256(str(path.resolve()).encode()).hexdigest()[:16]
    return library.home() / "unsaved" / f"{name}.toml"


def keep(path: Path, shot: Shot | None) -> None:
    """Keep a shot's unsaved work, or forget it where `shot` is None; raises BadInput where it cannot be written."""
    kept = _kept_path(path)
    if shot is not None:
        write_toml(kept, shot.dump(), folders=True)
        return
    try:
        kept.unlink(missing_ok=True)
    except OSError as error:
        raise BadInput(f"{kept}: cannot be taken away: {error.strerror}") from None


class Keeper:
    """Keeps unsaved work in the order in which it was wanted, whichever thread comes to write it.

    A write begun late finds what is wanted by then, so it never puts an older state over a newer one.
    """

    def __init__(self) -> None:
        self._wanted: dict[Path, Shot | None] = {}
        self._writing = Lock()

    def want(self, path: Path, shot: Shot | None) -> None:
        """Say what the next write is to keep for a file, None for nothing."""
        self._wanted[path] = shot

    def write(self) -> None:
        """Keep all that is wanted and not yet kept; raises BadInput where it cannot be written."""
        with self._writing:
            while self._wanted:
                keep(*self._wanted.popitem())


def kept_work(path: Path) -> Shot | None:
    """Return the unsaved work kept for a file, or None where there is none that can be read."""
    kept = _kept_path(path)
    if not kept.is_file():
        return None
    try:
        return library.load_shot(kept)
    except BadInput:
        return None


def solved(shot: Shot) -> State:
    """Return kept work with its answer; raises BadInput."""
    return solve(shot, None)


def _last_file() -> Path:
    return library.home() / "last-shot"


def remember_last(path: Path) -> None:
    """Remember which shot is worked on; a home that cannot be written to is not worth a word."""
    try:
        write_text(_last_file(), f"{path.resolve()}\n", folders=True)
    except BadInput:
        return


def last_path() -> Path | None:
    """Return the file of the shot last worked on, if it is still there; whether it is right shows when it is opened."""
    try:
        path = Path(_last_file().read_text(encoding="utf-8").strip())
    except (OSError, UnicodeDecodeError):
        return None
    return path if path.is_file() else None
