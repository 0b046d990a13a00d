"""Files that are files, since what has no end, or would keep the program waiting, is never opened; and their names."""

import os
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from forescale.engine.files.faults import BadInput, Fault

MOST_BYTES = 8_000_000  # a shot of thousands of takes and hundreds of marks takes a fifth of it
MOST_PROFILE_BYTES = 256_000  # a camera of a hundred modes takes a tenth of it
LOOK_S, LOOKS = 0.01, 100
WITHOUT_WAITING = getattr(os, "O_NONBLOCK", 0)

LONGEST_NAME = 60  # of one made here
MOST_NAME_BYTES = 200  # of any: systems stop at 255, and a file that is being written needs a few of its own
# What one system keeps for its devices, in any folder and before any ending (Microsoft, "Naming Files, Paths").
DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10))}
REFUSED = frozenset('<>:"|?*\\')


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


def name_of(text: str) -> str:
    """Return a plain name for a file made of a text, "my-field-cam" of "My field cam"; "" of one without letters."""
    name = "-".join("".join(c if c.isalnum() else " " for c in text.lower()).split())[:LONGEST_NAME].rstrip("-")
    return f"{name}-1" if name in DEVICES else name


def why_not(name: str) -> tuple[str, str] | None:
    """Return why a file should not be called so and what would be right, or None where it may."""
    if name.partition(".")[0].strip().lower() in DEVICES:
        return f'"{name}" is the name of a device on some systems', "choose another"
    if name.endswith((".", " ")):
        return f'"{name}" ends in a dot or a space, which some systems drop', "end it in a letter or a digit"
    if name.startswith("-"):
        return f'"{name}" begins with a dash, which commands take for an option', "begin it with a letter or a digit"
    if odd := next((char for char in name if char in REFUSED or not char.isprintable()), ""):
        shown = odd if odd.isprintable() else "a control character"
        return f"no file on some systems may have {shown} in its name", "leave it out"
    if len(name.encode("utf-8", "replace")) > MOST_NAME_BYTES:
        return f"a name of {len(name)} characters is longer than systems hold", "choose a shorter one"
    return None


def refuse_name(name: str) -> None:
    """Raise BadInput where a file should not be called so."""
    if reason := why_not(name):
        raise BadInput(Fault(*reason))
