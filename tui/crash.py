"""What is told and kept where the program itself fails: one line for the person, a report for whoever mends it."""

import os
import platform
import sys
import tempfile
import traceback
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import write_text
from forescale.engine.kit import library

DEBUG = "FORESCALE_DEBUG"
PARTS = ("forescale", "textual", "pydantic", "tomlkit")


class AppFailed(Exception):
    """The app stopped by a fault of its own, which is the cause; the words say what became of unsaved work."""


def debugging() -> bool:
    """Tell whether the person wants to see all there is."""
    return os.environ.get(DEBUG, "") not in {"", "0"}


def told(error: Exception) -> str:
    """Keep a report of a failure, and return the one line that a person is told."""
    kept = f"; {error}" if isinstance(error, AppFailed) else ""
    cause = error.__cause__ if isinstance(error, AppFailed) and isinstance(error.__cause__, Exception) else error
    report = "\n".join(_report(cause))
    if debugging():
        with suppress(OSError, AttributeError):
            sys.stderr.write(report)
    return f"forescale: stopped by a fault of its own, not by your input{kept}; {_kept_as(report)}"


def _report(error: Exception) -> Iterator[str]:
    """Yield the report's lines: versions, where it happened, the last keys; of the shot only where it is wanted."""
    yield f"forescale stopped by a fault of its own, {datetime.now():%Y-%m-%d %H:%M:%S}"
    yield f"Python {platform.python_version()}, {platform.platform()}, TERM={os.environ.get('TERM', '')}"
    for part in PARTS:
        with suppress(PackageNotFoundError):  # it runs from its sources
            yield f"{part} {version(part)}"
    yield from getattr(error, "__notes__", [])
    trace = traceback.TracebackException.from_exception(error, capture_locals=debugging(), limit=-50)
    trace.__notes__ = None  # said above
    yield "".join(trace.format())
    if not debugging():
        yield f"{DEBUG}=1 adds the values that the program was working with, those of the shot among them."


def _kept_as(report: str) -> str:
    name = f"forescale-{datetime.now():%Y%m%d-%H%M%S}-{os.getpid()}.txt"
    for folder in (library.home() / "reports", Path(tempfile.gettempdir())):
        with suppress(BadInput):
            write_text(folder / name, report, folders=True)
            return f"what happened is kept in {folder / name}"
    return f"no report could be written, {DEBUG}=1 shows what happened"
