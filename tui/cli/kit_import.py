"""`forescale kit import`: start a profile of one's own from the open catalogue of cameras and lenses."""

import argparse
import os
from collections.abc import Iterator, Sequence

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.kit import library, unsaved
from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.cells import clean, hung
from forescale.engine.sheet.text import WIDTH, joined, section_lines
from forescale.engine.shelf.catalogue import Start, matching, none_found, read_catalogue, start
from forescale.engine.shelf.catalogue_entry import CatalogueEntry
from forescale.tui.cli.command_line import DONE, complain, say

MOST_LISTED = 40
NUMBER = 5


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("words", metavar="WORDS", nargs="+", help="parts of the maker's and the model's name")
    parser.add_argument("--pick", metavar="N", type=int, help="the one with this number, where several are found")
    parser.add_argument("--name", metavar="NAME", help="what to call the profile; left out: as the catalogue does")


def run(arguments: argparse.Namespace) -> int:
    """List what is found, or write a profile started from the one that is meant."""
    catalogue = read_catalogue()
    complain(catalogue.skipped)
    found = matching(catalogue.entries, arguments.words)
    if not found:
        raise BadInput(none_found(catalogue.entries, arguments.words))
    if arguments.pick is None and len(found) > 1:
        say("\n".join(_listed(found)) + "\n")
        return DONE
    number = arguments.pick or 1
    if arguments.pick is not None and not 1 <= arguments.pick <= len(found):
        finds = f"these words find {len(found)}; pick from 1 to {len(found)}"
        raise BadInput(f"forescale kit import: --pick {arguments.pick}: {finds}")
    begun = start(found[number - 1], arguments.name)
    name, place = begun.profile.name, library.own_path(begun.shelf, begun.profile.name)
    if os.path.lexists(place):
        right = "give another name with --name NAME"
        raise BadInput(Fault("is there already and is left as it is", right, file=str(place)))
    if name in unsaved.kept_in(begun.shelf):
        raise BadInput(f"{name}: is under work and not saved yet; give another name with --name NAME")
    path = library.save_profile(begun.shelf, begun.profile)
    say(joined([f"Written to {clean(str(path))}", "", *_said(begun)]))
    return DONE


def _listed(found: Sequence[CatalogueEntry]) -> Iterator[str]:
    for number, entry in enumerate(found[:MOST_LISTED], start=1):
        lead = f"{number:>{NUMBER - 1}} {library.ONE_OF[entry.shelf]:<8}"
        yield from hung(lead, clean(entry.name), len(lead), WIDTH)
    if len(found) > MOST_LISTED:
        yield f"and {len(found) - MOST_LISTED} more: another word leaves fewer"
    yield "Nothing is written yet: add --pick N to start a profile from number N"


def _said(begun: Start) -> Iterator[str]:
    guessed = "guesses, and what is not certain: measure each, then set it in the file or with k in the app"
    for title, values, note in (("From the catalogue", begun.taken, ""), ("To check", begun.to_check, guessed)):
        rows = tuple(Row(value.field, value.text, value.why) for value in values)
        yield from section_lines(Section(title, rows, note))
        yield ""
