"""The open catalogue of cameras and lenses, where it is installed: where its files lie, reading them, searching them.

The catalogue is a folder of XML files in the open format of a data set of lens corrections. It comes with a Python
package, whose folder is looked into and whose code is never run, or with the system.
"""

import os
import re
import unicodedata
from collections.abc import Iterable, Sequence
from contextlib import suppress
from difflib import get_close_matches
from importlib.util import find_spec
from pathlib import Path
from typing import Any, NamedTuple
from xml.etree import ElementTree

from forescale.engine.files.disk import files_in, read_bytes
from forescale.engine.files.faults import BadInput, Fault, read_model
from forescale.engine.kit.library import ONE_OF, PROFILES, Shelf
from forescale.engine.kit.profiles import Profile
from forescale.engine.shelf.catalogue_entry import CatalogueEntry, Value, camera_values, crops, entry_of, lens_values

FOLDER_VARIABLE = "FORESCALE_CATALOGUE"
PACKAGE = "lensfunpy"
SYSTEM_FOLDERS = ("/usr/local/share/lensfun", "/usr/share/lensfun", "/opt/homebrew/share/lensfun")
ROOT = "lensdatabase"


class Catalogue(NamedTuple):
    """All that the catalogue names, cameras first, then by name; a fault for each file that had to be skipped."""

    entries: tuple[CatalogueEntry, ...]
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
    cameras = [element for element in elements if element.tag == "camera"]
    lenses = [element for element in elements if element.tag == "lens"]
    measured = crops(lenses)
    found = _by_name(entry_of("cameras", camera, camera_values(camera, measured)) for camera in cameras)
    found += _by_name(entry_of("lenses", lens, lens_values(lens)) for lens in lenses)
    return Catalogue(tuple(found), tuple(skipped))


def _by_name(entries: Iterable[CatalogueEntry]) -> list[CatalogueEntry]:
    return sorted({repr(entry): entry for entry in entries}.values(), key=lambda entry: entry.name.casefold())


def _root(path: Path) -> ElementTree.Element:
    try:
        root = ElementTree.fromstring(read_bytes(path))
        if root.tag == ROOT:
            return root
        why = f"is a <{root.tag}>, and a catalogue's file is a <{ROOT}>"
    except ElementTree.ParseError as error:
        why = f"is not XML: {error}"
    except BadInput as fault:
        why = str(fault.faults[0].wrong)
    except (ValueError, LookupError) as error:  # in an encoding that nobody knows
        why = f"cannot be read: {error}"
    raise BadInput.of(path, f"is skipped: it {why}")


def _folder() -> Path:
    if chosen := os.environ.get(FOLDER_VARIABLE):
        places = [os.path.expanduser(chosen)]
        none = f"{FOLDER_VARIABLE}: {chosen}: holds no catalogue, which is a folder of .xml files"
    else:
        package = find_spec(PACKAGE)
        places = [*((package and package.submodule_search_locations) or ()), *SYSTEM_FOLDERS]
        none = "the open catalogue of cameras and lenses is not installed; pip install 'forescale[catalogue]'"
    for place in map(Path, places):
        with suppress(OSError, ValueError):  # the latest version first
            inside = sorted((folder for folder in place.glob("*") if folder.is_dir()), reverse=True)
            if found := next((folder for folder in (place, *inside) if any(folder.glob("*.xml"))), None):
                return found
    raise BadInput(none)


def matching(entries: Sequence[CatalogueEntry], words: Sequence[str]) -> list[CatalogueEntry]:
    """Return the entries in whose maker and model every word occurs, large and small letters being the same."""
    return [entry for entry in entries if all(word in entry.searched for word in _folded(words))]


def none_found(entries: Sequence[CatalogueEntry], words: Sequence[str]) -> str:
    """Return in one line that nothing matches these words, with the nearest spelling."""
    asked, names = " ".join(_folded(words)), {entry.name.casefold(): entry.name for entry in entries}
    said, otherwise = f'all of "{asked}"', "leave a word out"
    for word in _folded(words):
        if not any(word in entry.searched for entry in entries):
            asked, said, otherwise = word, f'"{word}"', "try fewer letters"
            names = {known: known for entry in entries for known in entry.searched.split()}
            break
    close = get_close_matches(asked, names, n=1)
    near = f'did you mean "{names[close[0]]}"?' if close else otherwise
    return f"nothing in the catalogue has {said} in its name; {near}"


def _folded(words: Sequence[str]) -> list[str]:
    return " ".join(words).casefold().split()


class Start(NamedTuple):
    """A profile, what of it the catalogue gave, and what is a guess or is not certain and must be checked."""

    shelf: Shelf
    profile: Profile
    taken: tuple[Value, ...]
    to_check: tuple[Value, ...]


def start(entry: CatalogueEntry, name: str | None = None) -> Start:
    """Return a profile begun from an entry, of its own name or another, what to check in its notes; raises BadInput."""
    if entry.refused:
        raise BadInput(f"{entry.name}: {entry.refused}")
    to_check = tuple(value for value in entry.values if not value.sure)
    fields: dict[str, Any] = {value.field: value.value for value in entry.values if value.value is not None}
    fields |= {"guesses": [value.field for value in to_check if value.value is not None]}
    marked = "; ".join(f"{value.field}: {value.text} ({value.why})" for value in to_check)
    profile = {
        "schema": 1,
        "name": (plain_name(entry.name) or ONE_OF[entry.shelf]) if name is None else name,
        "title": entry.name,
        "notes": f"Started from an open catalogue; check every number marked below: {marked}.",
    } | (fields if entry.shelf == "lenses" else {"mode": [{"name": "whole sensor"} | fields]})
    begun = read_model(PROFILES[entry.shelf], profile, f"{entry.name}, as the catalogue has it")
    return Start(entry.shelf, begun, tuple(value for value in entry.values if value.sure), to_check)


def plain_name(text: str) -> str:
    """Return a name for a file made of a text: small letters without accents, digits, and hyphens for all the rest."""
    letters = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return "-".join(re.findall(r"[a-z0-9]+", letters.lower()))
