"""Work that is not yet saved, kept for after a crash or a flat battery; and which shot was worked on last."""

from __future__ import annotations

import hashlib
from pathlib import Path

from engine import library
from engine.faults import BadInput
from engine.files import read_toml, write_text, write_toml
from engine.shot import Shot
from tui.session import State, solve


def _kept_path(path: Path) -> Path:
    name = hashlib.sha256(str(path.resolve()).encode()).hexdigest()[:16]
    return library.home() / "unsaved" / f"{name}.toml"


def keep(path: Path, shot: Shot | None) -> None:
    """Keep a shot's unsaved work, or forget it where `shot` is None; raises BadInput where it cannot be written."""
    kept = _kept_path(path)
    if shot is None:
        kept.unlink(missing_ok=True)
    else:
        write_toml(kept, shot.dump(), folders=True)


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
    """Return the file of the shot last worked on, if it is still there and can be read."""
    try:
        path = Path(_last_file().read_text(encoding="utf-8").strip())
        read_toml(path)
    except (OSError, UnicodeDecodeError, BadInput):
        return None
    return path
