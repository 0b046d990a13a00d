"""Where unsaved work is kept: each running program has a folder of its own, which no other takes while it runs.

What an ended one left is whoever's finds it first. It holds its folder's lock open, so the system lets that go with it.
"""

import os
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from forescale.engine.files.disk import files_in, remove
from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import clear_parts
from forescale.engine.kit import library

LOCK, NEW = "lock", ".new-"
_ours: dict[Path, int] = {}  # folders that this program holds, its own and those left to it, with their locks
_own: dict[Path, Path] = {}  # this program's own folder, by the folder of all


def unsaved() -> Path:
    """Return the folder of all unsaved work; what lies in it directly is from before each program had its own."""
    return library.home() / "unsaved"


def own_place() -> Path:
    """Return this program's folder, made when it is first wanted; raises BadInput where it cannot be."""
    root = unsaved()
    with suppress(OSError):  # a folder that has been closed meanwhile is none
        if root in _own and _own[root].is_dir():
            return _own[root]
    new = root / f"{NEW}{os.getpid()}-{os.urandom(4).hex()}"
    place = root / new.name.removeprefix(NEW)
    try:
        new.mkdir(parents=True)
        lock = _locked(new)
        new.rename(place)
    except OSError as error:
        raise BadInput.of(place, f"cannot be made: {error.strerror}") from None
    _own[root] = place
    if lock is not None:
        _ours[place] = lock
    return place


def _locked(place: Path) -> int | None:
    """Lock a folder and return what holds the lock; None where another program has it."""
    handle = os.open(place / LOCK, os.O_RDWR | os.O_CREAT)
    try:
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except ImportError:  # a system without such locks: what lies there is anyone's
        return handle
    except OSError:
        os.close(handle)
        return None
    return handle


def _places() -> list[Path]:
    """Return every folder whose work is this program's: its own, what others left, and what lies with no folder."""
    root = unsaved()
    for place in files_in(root, "[0-9]*-*"):
        with suppress(OSError):
            if place not in _ours and (lock := _locked(place)) is not None:
                _ours[place] = lock
                clear_parts(place)
                _clear(place)
    return [root, *(place for place in _ours if place.parent == root)]


def _clear(place: Path) -> None:
    if any(path.is_file() and path.name != LOCK for path in place.rglob("*")):
        return
    (place / LOCK).unlink()
    for folder in sorted(place.glob("*")):
        folder.rmdir()
    place.rmdir()
    os.close(_ours.pop(place))


def let_go() -> None:
    """Leave what is kept to whichever program comes next, as the end of this one would."""
    for place in list(_ours):
        with suppress(OSError):
            _clear(place)
        if place in _ours:
            os.close(_ours.pop(place))
    _own.clear()


def kept(name: str) -> list[Path]:
    """Return the files in which work is kept under a name, such as "lenses/mine.toml", the oldest first."""
    found = [path for place in _places() if os.path.isfile(path := place / name)]
    with suppress(OSError):
        found.sort(key=lambda path: path.stat().st_mtime_ns)
    return found


def kept_in(folder: str) -> frozenset[str]:
    """Return the names, without their ending, under which anything is kept in a folder, such as "lenses"."""
    return frozenset(path.stem for place in _places() for path in files_in(place / folder, "*.toml"))


def forget(name: str) -> None:
    """Let go what is kept under a name; raises BadInput where it cannot be taken away."""
    for path in kept(name):
        remove(path)


def aside() -> Path:
    """Return the folder of work that cannot be used."""
    return unsaved() / "set-aside"


def set_aside(path: Path) -> Path:
    """Put work that cannot be used where nothing takes it away, and return where; raises BadInput."""
    place = aside() / f"{path.stem}-{datetime.now():%Y%m%d-%H%M%S-%f}.toml"
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        path.rename(place)
    except OSError as error:
        raise BadInput.of(path, f"cannot be put aside: {error.strerror}") from None
    return place
