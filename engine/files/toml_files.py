"""TOML files: read with every fault in one line, what no person writes refused; written whole or not at all."""

import os
import re
import tomllib
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from pydantic_core import from_json

from forescale.engine.files.disk import MOST_BYTES, files_in, read_bytes, resolved
from forescale.engine.files.faults import BadInput

Held = Mapping[str, Any]  # a table of a file
READ_AS = "utf-8-sig"  # some editors put a mark before the text
PART, PART_END = ".forescale-", ".part"  # a file that is being written, between them the number of its process
DEEPEST = 16  # tables in tables; a shot's marks stand four deep
MOST_VALUES, MOST_ROWS = 50_000, 5_000
LARGEST = 2**63  # TOML's own whole numbers go no further
SHORT = 4_000  # a text of fewer characters holds nothing that costs much
_STRINGS = re.compile(
    r'"""[^"\\]*+(?:(?:\\.|"(?!""))[^"\\]*+)*+"""|\'\'\'(?:[^\']|\'(?!\'\'))*+\'\'\''
    r'|"[^"\\\n]*+(?:\\.[^"\\\n]*+)*+"|\'[^\'\n]*+\'|#[^\n]*+',
    re.DOTALL,
)
_TABLE, _ROW = re.compile(r"^\[(\w+)\]$", re.MULTILINE), re.compile(r'^("[^"]+") =', re.MULTILINE)
_DEEP_KEY = re.compile(r"(?<![\w-])[\w-]++(?:[ \t]*+\.[ \t]*+[\w-]++){16}")


class BeyondBounds(ValueError):
    """A file holds more, or goes deeper, than can be worked with; the words follow the file's name."""


def read_toml(path: Path, most: int = MOST_BYTES) -> dict[str, Any]:
    """Return what a TOML file of at most so many bytes holds; raises BadInput where it cannot be read or is broken."""
    try:
        _check_text(text := read_bytes(path, most).decode(READ_AS))
        _check_data(data := tomllib.loads(text))
        return data
    except UnicodeDecodeError:
        why = "is not text in UTF-8, which TOML must be"
    except tomllib.TOMLDecodeError as error:
        why = f"is not TOML: {str(error).splitlines()[0]}"
    except BeyondBounds as error:
        why = f"cannot be worked with: {error}"
    except (ValueError, RecursionError):  # a number of thousands of digits, lists in lists without end
        why = "is not TOML that can be read: a number or a nesting in it has no bounds"
    raise BadInput.of(path, why)


def read_own(path: Path) -> dict[str, Any]:
    """Return a data file of the program's own: TOML whose rows are JSON too, read as that in a fifth of the time."""
    text = "".join(line for line in path.read_text("utf-8").splitlines(True) if not line.startswith("#"))
    first, *rest = _TABLE.split(text)
    return _rows(first) | {name: _rows(rows) for name, rows in zip(rest[::2], rest[1::2], strict=True)}


def _rows(text: str) -> dict[str, Any]:
    rows: dict[str, Any] = from_json("{" + _ROW.sub(r",\1:", text).strip().removeprefix(",") + "}")
    return rows


def _check_text(text: str) -> None:
    """Raise BeyondBounds where a TOML text would cost more to read than anything that a person writes."""
    if len(text) < SHORT:
        return
    bare = _STRINGS.sub("s", text)
    if _DEEP_KEY.search(bare):
        raise BeyondBounds(f"a key in it goes more than {DEEPEST} tables deep")
    if max(bare.count("="), bare.count(","), bare.count("[")) > MOST_VALUES:
        raise BeyondBounds(f"it has more than {MOST_VALUES} values")


def _check_data(data: Held) -> None:
    """Raise BeyondBounds where a file's data goes too deep, has too many rows, or a number beyond all use."""
    left: list[tuple[Any, int]] = [(data, 0)]
    while left:
        held, depth = left.pop()
        if depth > DEEPEST:
            raise BeyondBounds(f"it goes more than {DEEPEST} tables deep")
        if isinstance(held, Mapping):
            left += [(one, depth + 1) for one in held.values()]
        elif isinstance(held, list | tuple):
            if len(held) > MOST_ROWS:
                raise BeyondBounds(f"a list in it has {len(held)} rows, and at most {MOST_ROWS} can be worked with")
            left += [(one, depth + 1) for one in held]
        elif isinstance(held, int) and not -LARGEST <= held < LARGEST:
            raise BeyondBounds("a whole number in it has more digits than TOML allows")


def write_toml(
    path: Path, data: Held, canonical: Callable[[Held], Held] = dict, *, folders: bool = False, most: int = MOST_BYTES
) -> None:
    """Write `data`, with the comments of the old file, which `canonical` reads as it would be now; raises BadInput."""
    import tomli_w

    text = tomli_w.dumps(data)
    with suppress(BadInput, UnicodeDecodeError):
        old = read_bytes(path).decode(READ_AS) if os.path.isfile(path) else ""
        if "#" in old:
            from forescale.engine.files.comments import with_comments

            text = with_comments(old, text, canonical) or text
    try:
        _check_text(text)
        _check_data(data)
        if len(text.encode("utf-8", "replace")) > most:
            raise BeyondBounds(f"it would be larger than {most} bytes")
    except BeyondBounds as error:
        raise BadInput.of(path, f"is not written, since it could not be read again: {error}") from None
    write_text(path, text, folders=folders)


def write_text(path: Path, text: str, *, folders: bool = False, devices: bool = False) -> None:
    """Write `text` by way of a new file beside it, or straight to one of `devices`, which may wait; raises BadInput."""
    try:
        if folders:
            path.parent.mkdir(parents=True, exist_ok=True)
        elif not path.parent.is_dir():  # more likely a slip of the pen
            raise BadInput.of(path, f"cannot be written: there is no folder {path.parent}")
        target = resolved(path)
        if not target.exists() or target.is_file():
            _replace(target, text)
        elif devices and not target.is_dir():
            target.write_text(text, encoding="utf-8", newline="\n")
        else:
            raise BadInput.of(path, "cannot be written: what is there is not a file")
    except OSError as error:
        raise BadInput.of(path, f"cannot be written: {error.strerror}") from None
    except ValueError:  # a zero byte in the name, or half of a character in either
        why = "cannot be written: its name or its text has a character that no file holds"
        raise BadInput.of(path, why) from None


def _replace(target: Path, text: str) -> None:
    import tempfile  # with all that it needs, of use only to whoever saves

    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f"{PART}{os.getpid()}-", suffix=PART_END)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        try:
            mode = target.stat().st_mode & 0o777
        except FileNotFoundError:  # what a new file gets
            mask = os.umask(0)
            os.umask(mask)
            mode = 0o666 & ~mask
        os.chmod(name, mode)
        os.replace(name, target)
    except BaseException:
        os.unlink(name)
        raise


def clear_parts(folder: Path) -> None:
    """Take away what saves that were killed have left in a folder; one that is still under way keeps its own."""
    for part in files_in(folder, f"{PART}*{PART_END}"):
        owner = part.name.removeprefix(PART).partition("-")[0]
        with suppress(OSError, OverflowError):  # a process of another's, or beyond all numbers
            if owner.isdigit() and os.name == "posix":
                try:
                    os.kill(int(owner), 0)
                except ProcessLookupError:
                    part.unlink(missing_ok=True)
