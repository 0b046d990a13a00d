"""Files on the disk: only those are opened that are files, since others may have no end or keep the program waiting."""

import os
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from forescale.engine.files.faults import BadInput

MOST_BYTES = 8_000_000  # a shot of thousands of takes and hundreds of marks takes a fifth of it
MOST_PROFILE_BYTES = 256_000  # a camera of a hundred modes takes a tenth of it
LOOK_S, LOOKS = 0.01, 100
WITHOUT_WAITING = getattr(os, "O_NONBLOCK", 0)


def read_bytes(path: Path, most: int = MOST_BYTES) -> bytes:
    """Return what a file holds; raises BadInput where it is none, cannot be read or holds more than `most` bytes."""
    size = f"{most // 1_000_000} MB" if most >= 1_000_000 else f"{most // 1000} KB"
    why = f"is too large: it holds more than {size}, and nobody writes so much by hand"
    try:
        info = os.stat(path)
        if not stat.S_ISREG(info.st_mode):
            kinds = ((stat.S_ISDIR, "a folder"), (stat.S_ISFIFO, "a pipe"), (stat.S_ISSOCK, "a socket"))
            kind = next((word for is_one, word in kinds if is_one(info.st_mode)), "a device")
            why = f"cannot be read: it is {kind} and not a file"
        elif info.st_size <= most:
            with open(os.open(path, os.O_RDONLY | WITHOUT_WAITING), "rb") as file:
                if len(held := file.read(most + 1)) <= most:
                    return held
    except (FileNotFoundError, ValueError):  # a name with a zero byte in it is no file's
        why = "there is no such file"
    except OSError as error:
        why = f"cannot be read: {error.strerror}"
    raise BadInput.of(path, why)


def digest(path: Path) -> str:
    """Return what tells a file's content from any other, "" where there is no file that can be read."""
    import hashlib

    try:
        return hashlib.sha256(read_bytes(path)).hexdigest()
    except BadInput:
        return ""


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Keep other programs of this kind from saving into a folder meanwhile, where the system can; never wait long."""
    handle = -1
    with suppress(ImportError, OSError):
        import fcntl

        handle = os.open(folder, os.O_RDONLY)
        for _ in range(LOOKS):
            with suppress(BlockingIOError):
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                break
            time.sleep(LOOK_S)
    try:
        yield
    finally:
        if handle >= 0:
            os.close(handle)


def remove(path: Path) -> None:
    """Take a file away, if it is there; raises BadInput where it cannot be."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise BadInput.of(path, f"cannot be taken away: {error.strerror}") from None


def files_in(folder: Path, pattern: str) -> list[Path]:
    """Return what lies in a folder by a pattern, by name; nothing where the folder is closed or there is none."""
    try:
        return sorted(folder.glob(pattern))
    except (OSError, ValueError):
        return []


def resolved(path: Path) -> Path:
    """Return a path with its links followed, or as it is where they lead in a circle or through what is closed."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError):
        return path.absolute()
