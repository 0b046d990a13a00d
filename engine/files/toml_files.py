"""TOML files: read with every fault in one line, written whole or not at all."""

from __future__ import annotations

import os
import tempfile
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from forescale.engine.files.faults import BadInput

LONGEST_NAME = 60
READ_AS = "utf-8-sig"  # some editors put a mark before the text


def name_of(text: str) -> str:
    """Return a plain name for a file made of a text, "my-field-cam" of "My field cam"; "" of one without letters."""
    return "-".join("".join(c if c.isalnum() else " " for c in text.lower()).split())[:LONGEST_NAME].rstrip("-")


def read_toml(path: Path) -> dict[str, Any]:
    """Return what a TOML file holds; raises BadInput where it is missing, unreadable or broken."""
    try:
        return tomllib.loads(path.read_bytes().decode(READ_AS))
    except FileNotFoundError:
        raise BadInput(f"{path}: there is no such file") from None
    except UnicodeDecodeError:
        raise BadInput(f"{path}: is not text in UTF-8, which TOML must be") from None
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"{path}: is not TOML: {str(error).splitlines()[0]}") from None
    except (ValueError, RecursionError):  # a number of thousands of digits, lists in lists without end
        raise BadInput(f"{path}: is not TOML that can be read: a number or a nesting in it has no bounds") from None
    except OSError as error:
        raise BadInput(f"{path}: cannot be read: {error.strerror}") from None


def write_toml(
    path: Path,
    data: Mapping[str, Any],
    canonical: Callable[[Mapping[str, Any]], Mapping[str, Any]] = dict,
    *,
    folders: bool = False,
) -> None:
    """Write `data` to `path` as TOML, so that a reader sees the old file or the new one, never a part.

    Comments that a person put into the old one stay; `canonical` returns what would be written for what a file holds.
    """
    import tomli_w

    text = tomli_w.dumps(data)
    write_text(path, _commented(path, text, canonical) or text, folders=folders)


def _commented(path: Path, text: str, canonical: Callable[[Mapping[str, Any]], Mapping[str, Any]]) -> str | None:
    """Return the text with the comments of the file that it is to replace; None where there are none."""
    from forescale.engine.files.comments import with_comments

    try:
        old = path.read_text(encoding=READ_AS) if path.is_file() else ""
    except (OSError, UnicodeDecodeError):
        return None
    return with_comments(old, text, canonical) if "#" in old else None


def write_text(path: Path, text: str, *, folders: bool = False) -> None:
    """Write `text` to `path` by way of a new file beside it; raises BadInput with the system's reason.

    What is there and is no file, such as a terminal or a pipe, is written to as it is, never replaced. With `folders`
    the folders that lead to it are made; else one that is not there is more likely a slip of the pen.
    """
    try:
        if folders:
            path.parent.mkdir(parents=True, exist_ok=True)
        elif not path.parent.is_dir():
            raise BadInput(f"{path}: cannot be written: there is no folder {path.parent}")
        target = path.resolve()
        if target.exists() and not target.is_file():
            target.write_text(text, encoding="utf-8", newline="\n")
            return
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(name, _mode(target))
            os.replace(name, target)
        except BaseException:
            os.unlink(name)
            raise
    except OSError as error:
        raise BadInput(f"{path}: cannot be written: {error.strerror}") from None


def _mode(target: Path) -> int:
    """Return the permissions that the file has, or those that a new file gets."""
    try:
        return target.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
