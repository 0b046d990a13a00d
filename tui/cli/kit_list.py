"""`forescale kit list`: every shelf with names, titles and owners."""

import argparse
from collections.abc import Iterator
from pathlib import Path

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Profile
from forescale.engine.sheet.cells import clean, pad, width, wrap
from forescale.engine.sheet.text import WIDTH
from forescale.engine.shot.records import Shot
from forescale.tui.cli.command_line import DONE, say

OWNER = 8


def add_arguments(_parser: argparse.ArgumentParser) -> None:
    """It takes nothing."""


def run(_arguments: argparse.Namespace) -> int:
    """Print the shelves."""
    shelves = (line for shelf in library.ONE_OF for line in (shelf.capitalize(), *_shelf(shelf), ""))
    say("\n".join([*shelves, f"Yours are kept in {library.home()}", ""]))
    return DONE


def loaded(shelf: library.Shelf, path: Path) -> Profile | Shot:
    """Return what a file of a shelf holds; raises BadInput."""
    return library.load_shot(path) if shelf == "shots" else library.load_profile(library.PROFILES[shelf], path)


def _shelf(shelf: library.Shelf) -> Iterator[str]:
    entries = library.shelf_files(shelf)
    if not entries:
        yield "  nothing yet"
    column = min(max(map(width, entries), default=0), WIDTH // 2)
    for entry in entries.values():
        try:
            title = clean(loaded(shelf, entry.path).title)
        except BadInput:
            title = f"(not right: forescale kit check {clean(entry.name)})"
        name, *rest = wrap(clean(entry.name), column)
        first, *titles = wrap(title, WIDTH - column - OWNER - 5) or [""]
        yield f"  {pad(name, column)}  {pad('built-in' if entry.shipped else 'yours', OWNER)} {first}".rstrip()
        yield from (f"  {line}" for line in rest)
        yield from (" " * (column + OWNER + 5) + line for line in titles)
