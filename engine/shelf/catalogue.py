"""The open catalogue of cameras and lenses, where it is installed: where its files lie, reading them, searching them.

The catalogue is a folder of XML files in the open format of a data set of lens corrections. It comes with a Python
package, whose folder is looked into and whose code is never run, or with the system.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from importlib.util import find_spec
from pathlib import Path
from xml.etree import ElementTree

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.files.regular import files_in, read_bytes
from forescale.engine.shelf.catalogue_entry import (
    CatalogueCamera,
    CatalogueLens,
    camera_entry,
    lens_entry,
    usual_aspect,
)

FOLDER_VARIABLE = "FORESCALE_CATALOGUE"
PACKAGE = "lensfunpy"
SYSTEM_FOLDERS = ("/usr/local/share/lensfun", "/usr/share/lensfun", "/opt/homebrew/share/lensfun")
ROOT = "lensdatabase"

Entry = CatalogueCamera | CatalogueLens


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All that the catalogue names, cameras first, then by name; a fault for each file that had to be skipped."""

    entries: tuple[Entry, ...]
    skipped: tuple[Fault, ...]


def read_catalogue() -> Catalogue:
    """Return what the catalogue holds; raises BadInput where there is none, saying how to add it."""
    elements: list[ElementTree.Element] = []
    skipped: list[Fault] = []
    for path in files_in(_folder(), "*.xml"):
        try:
            elements.extend(_root(path))
        except BadInput as fault:
            skipped.extend(fault.faults)
    return Catalogue(tuple(_entries(elements)), tuple(skipped))


def _entries(elements: Sequence[ElementTree.Element]) -> Iterator[Entry]:
    """Yield each camera and lens once, though files name some of them several times."""
    cameras = [element for element in elements if element.tag == "camera"]
    lenses = [element for element in elements if element.tag == "lens"]
    aspect = usual_aspect(lenses)
    for found in ((camera_entry(camera, aspect) for camera in cameras), map(lens_entry, lenses)):
        entries: dict[Entry, None] = dict.fromkeys(found)
        yield from sorted(entries, key=lambda entry: entry.name.casefold())


def _root(path: Path) -> ElementTree.Element:
    """Return the root of a file; raises BadInput where it is no part of a catalogue."""
    try:
        root = ElementTree.fromstring(read_bytes(path))
    except ElementTree.ParseError as error:
        raise BadInput(Fault(f"is skipped: it is not XML: {error}", file=str(path))) from None
    except BadInput as fault:
        raise BadInput(Fault(f"is skipped: it {fault.faults[0].wrong}", file=str(path))) from None
    except (ValueError, LookupError) as error:  # in an encoding that nobody knows
        raise BadInput(Fault(f"is skipped: it cannot be read: {error}", file=str(path))) from None
    if root.tag != ROOT:
        other = f"is skipped: it is a <{root.tag}>, and a catalogue's file is a <{ROOT}>"
        raise BadInput(Fault(other, file=str(path)))
    return root


def _folder() -> Path:
    """Return the folder of the catalogue's files; raises BadInput."""
    if chosen := os.environ.get(FOLDER_VARIABLE):
        if (folder := _with_files(Path(os.path.expanduser(chosen)))) is None:
            raise BadInput(f"{FOLDER_VARIABLE}: {chosen}: holds no catalogue, which is a folder of .xml files")
        return folder
    package = find_spec(PACKAGE)
    places = [*((package and package.submodule_search_locations) or ()), *SYSTEM_FOLDERS]
    folder = next((found for place in places if (found := _with_files(Path(place)))), None)
    if folder is None:
        raise BadInput("the open catalogue of cameras and lenses is not installed; pip install 'forescale[catalogue]'")
    return folder


def _with_files(place: Path) -> Path | None:
    """Return the folder or the one in it that has the files, the latest version first; None where none has."""
    try:
        inside = sorted((folder for folder in place.glob("*") if folder.is_dir()), reverse=True)
        return next((folder for folder in (place, *inside) if any(folder.glob("*.xml"))), None)
    except (OSError, ValueError):
        return None


def matching(entries: Sequence[Entry], words: Sequence[str]) -> list[Entry]:
    """Return the entries in whose maker and model every word occurs, large and small letters being the same."""
    return [entry for entry in entries if all(word in entry.searched for word in _folded(words))]


def none_found(entries: Sequence[Entry], words: Sequence[str]) -> str:
    """Return in one line that nothing matches these words, with the nearest spelling."""
    for word in _folded(words):
        if not any(word in entry.searched for entry in entries):
            known = {known: known for entry in entries for known in entry.searched.split()}
            return f'nothing in the catalogue has "{word}" in its name; {_nearest(word, known, "try fewer letters")}'
    names = {entry.name.casefold(): entry.name for entry in entries}
    asked = " ".join(_folded(words))
    near = _nearest(asked, names, "leave a word out")
    return f'nothing in the catalogue has all of "{asked}" in its name; {near}'


def _nearest(word: str, known: Mapping[str, str], otherwise: str) -> str:
    close = get_close_matches(word, known, n=1)
    return f'did you mean "{known[close[0]]}"?' if close else otherwise


def _folded(words: Sequence[str]) -> list[str]:
    return " ".join(words).casefold().split()
