"""`forescale kit list`: every shelf with names, titles and owners."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.sheet.cells import clean, pad, width, wrap
from forescale.engine.sheet.text import WIDTH
from forescale.tui.cli.command_line import DONE, say

OWNER = 8


def add_arguments(_parser: argparse.ArgumentParser) -> None:
    """Say what the action takes: nothing."""


def run(_arguments: argparse.Namespace) -> int:
    """Print the shelves."""
    lines: list[str] = []
    for shelf in library.ONE_OF:
        lines.extend([shelf.capitalize(), *_shelf(shelf), ""])
    lines.append(f"Yours are kept in {library.home()}")
    say("\n".join(lines) + "\n")
    return DONE


def _shelf(shelf: library.Shelf) -> Iterator[str]:
    entries = library.shelf_files(shelf)
    if not entries:
        yield "  nothing yet"
    column = min(max(map(width, entries), default=0), WIDTH // 2)
    for entry in entries.values():
        try:
            record = (
                library.load_shot(entry.path)
                if shelf == "shots"
                else library.load_profile(library.PROFILES[shelf], entry.path)
            )
            title = clean(record.title)
        except BadInput:
            title = f"(not right: forescale kit check {clean(entry.name)})"
        name, *rest = wrap(clean(entry.name), column)
        first, *titles = wrap(title, WIDTH - column - OWNER - 5) or [""]
        yield f"  {pad(name, column)}  {pad('built-in' if entry.shipped else 'yours', OWNER)} {first}".rstrip()
        yield from (f"  {line}" for line in rest)
        yield from (" " * (column + OWNER + 5) + line for line in titles)
