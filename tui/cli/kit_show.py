"""`forescale kit show`: what stands on the shelves under a name, readable, with what each value means."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from typing import Any

from forescale.engine.files.faults import BadInput, nearest
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Camera, Head, Lens, Profile
from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.text import joined, section_lines
from forescale.engine.shot.records import Shot
from forescale.tui.cli.command_line import DONE, say
from forescale.tui.cli.kit_words import camera_sections, head_sections, lens_sections, shot_sections

DESCRIBED: dict[type[Any], Callable[[Any], Iterator[Section]]] = {
    Camera: camera_sections,
    Lens: lens_sections,
    Head: head_sections,
    Shot: shot_sections,
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the action takes."""
    parser.add_argument("name", metavar="NAME", help="a camera, lens, head or shot, as forescale kit list has it")


def run(arguments: argparse.Namespace) -> int:
    """Print what stands under the name, on every shelf that has it."""
    shelves = {shelf: library.shelf_files(shelf) for shelf in library.ONE_OF}
    found = [(shelf, entries[arguments.name]) for shelf, entries in shelves.items() if arguments.name in entries]
    if not found:
        known = [name for entries in shelves.values() for name in entries]
        raise BadInput(f'nothing on the shelves is called "{arguments.name}"; {nearest(arguments.name, known)}')
    lines = [line for shelf, entry in found for line in _shown(shelf, entry)]
    say(joined(lines))
    return DONE


def _shown(shelf: library.Shelf, entry: library.ShelfFile) -> Iterator[str]:
    record: Profile | Shot
    if shelf == "shots":
        record = library.load_shot(entry.path)
    else:
        record = library.load_profile(library.PROFILES[shelf], entry.path)
    for section in (_head(shelf, entry, record), *DESCRIBED[type(record)](record)):
        yield from section_lines(section)
        yield ""


def _head(shelf: library.Shelf, entry: library.ShelfFile, record: Profile | Shot) -> Section:
    hidden = not entry.shipped and (library.SHIPPED / shelf / entry.path.name).is_file()
    owner = "built-in" if entry.shipped else f"yours{', and hides the built-in one' if hidden else ''}"
    rows = [
        Row("Title", clean(record.title) or "none"),
        Row("Is", f"a {library.ONE_OF[shelf]}, {owner}"),
        Row("File", clean(str(entry.path))),
    ]
    if record.notes:
        rows.append(Row("Notes", clean(record.notes)))
    return Section(clean(entry.name), tuple(rows))
