"""The open catalogue of cameras and lenses, where it is installed: where its files lie, reading them, searching them.

The catalogue is a folder of XML files in the open format of a data set of lens corrections. It comes with a Python
package, whose folder is looked into and whose code is never run, or with the system.
"""

from __future__ import annotations

import math
import os
import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from importlib.util import find_spec
from pathlib import Path
from typing import Any, NamedTuple
from xml.etree import ElementTree

from forescale.engine.files.faults import BadInput, Fault, read_model
from forescale.engine.files.regular import files_in, read_bytes
from forescale.engine.kit.library import ONE_OF, PROFILES, Shelf
from forescale.engine.kit.profiles import Profile
from forescale.engine.shelf import catalogue_entry
from forescale.engine.shelf.catalogue_entry import CatalogueCamera, CatalogueLens, Found
from forescale.engine.units import number_text, parse_stop, stop_label

FOLDER_VARIABLE = "FORESCALE_CATALOGUE"
PACKAGE = "lensfunpy"
SYSTEM_FOLDERS = ("/usr/local/share/lensfun", "/usr/share/lensfun", "/opt/homebrew/share/lensfun")
ROOT = "lensdatabase"

FOCAL_LENGTHS_TO_FOCUS = 10
SMALLEST_LIKELY, WIDEST_LIKELY = 22.0, 4.0
LIKELY_LOSS = 0.3
SAME_FOCAL = 1.02  # two focal lengths closer than this are one, read twice
WIDTH_PX = 3840

Entry = CatalogueCamera | CatalogueLens


class Catalogue(NamedTuple):
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
    aspect = catalogue_entry.usual_aspect(lenses)
    for found in (
        (catalogue_entry.camera_entry(camera, aspect) for camera in cameras),
        map(catalogue_entry.lens_entry, lenses),
    ):
        entries: dict[Entry, None] = dict.fromkeys(found)
        yield from sorted(entries, key=lambda entry: entry.name.casefold())


def _root(path: Path) -> ElementTree.Element:
    """Return the root of a file; raises BadInput where it is no part of a catalogue."""
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
    names, asked = {entry.name.casefold(): entry.name for entry in entries}, " ".join(_folded(words))
    near = _nearest(asked, names, "leave a word out")
    return f'nothing in the catalogue has all of "{asked}" in its name; {near}'


def _nearest(word: str, known: Mapping[str, str], otherwise: str) -> str:
    close = get_close_matches(word, known, n=1)
    return f'did you mean "{known[close[0]]}"?' if close else otherwise


def _folded(words: Sequence[str]) -> list[str]:
    return " ".join(words).casefold().split()


# A profile started from an entry: the few numbers that it gives, and likely ones for all the rest. The catalogue is
# about how lenses draw: what it does not say has to be measured, and the notes of the profile name every such number.


class Value(NamedTuple):
    """A field of the profile, what it was set to as its file has it (None: left out), why, and whether to check it."""

    field: str
    value: Any
    why: str
    sure: bool = False

    @property
    def text(self) -> str:
        """The value as a reader has it."""
        if isinstance(self.value, dict):
            return ", ".join(f"{key} {value}" for key, value in self.value.items())
        return "not known" if self.value is None else str(self.value)


class Start(NamedTuple):
    """A profile, what of it the catalogue gave, and what is a guess or is not certain and must be checked."""

    shelf: Shelf
    profile: Profile
    taken: tuple[Value, ...]
    to_check: tuple[Value, ...]


def start(entry: CatalogueCamera | CatalogueLens, name: str | None = None) -> Start:
    """Return a profile started from an entry, under its own name or another; raises BadInput where neither will do."""
    shelf: Shelf
    if isinstance(entry, CatalogueLens):
        shelf, values = "lenses", tuple(_lens_values(entry))
        fields = _fields(values)
    else:
        shelf, values = "cameras", tuple(_camera_values(entry))
        fields = {"mode": [{"name": "whole sensor"} | _fields(values)]}
    to_check = tuple(value for value in values if not value.sure)
    own_name = plain_name(entry.name) or ONE_OF[shelf]
    head = {"schema": 1, "name": own_name if name is None else name, "title": entry.name, "notes": _notes(to_check)}
    profile = read_model(PROFILES[shelf], head | fields, f"{entry.name}, as the catalogue has it")
    return Start(shelf, profile, tuple(value for value in values if value.sure), to_check)


def _fields(values: tuple[Value, ...]) -> dict[str, Any]:
    """Return the fields of a profile, those that must be checked among its guesses."""
    given = [value for value in values if value.value is not None]
    guesses = [value.field for value in given if not value.sure]
    return {value.field: value.value for value in given} | {"guesses": guesses}


def _notes(to_check: tuple[Value, ...]) -> str:
    marked = "; ".join(f"{value.field}: {value.text} ({value.why})" for value in to_check)
    return f"Started from an open catalogue; check every number marked below: {marked}."


def plain_name(text: str) -> str:
    """Return a name for a file made of a text: small letters without accents, digits, and hyphens for all the rest."""
    letters = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return "-".join(re.findall(r"[a-z0-9]+", letters.lower()))


def _lens_values(lens: CatalogueLens) -> Iterator[Value]:
    if not lens.straight:
        raise BadInput(
            f"{lens.name}: is a fisheye or the like, and every formula here takes a lens that keeps lines straight"
        )
    if lens.focal is None:
        raise BadInput(f"{lens.name}: the catalogue has no focal length of it; make its profile by hand")
    low, high = lens.focal.low, lens.focal.high
    ends = {"focal_length": high} if high <= SAME_FOCAL * low else {"focal_min": low, "focal_max": high}
    for name, focal in ends.items():
        yield Value(name, _mm(focal), lens.focal.how, lens.focal.sure)
    widest = lens.widest or Found(WIDEST_LIKELY, WIDEST_LIKELY, "a guess: the catalogue does not say", sure=False)
    yield Value("marks", "f", "a guess: in f-stops, as most still lenses are")
    yield Value("widest", _stop(widest.low), widest.how, widest.sure)
    if lens.smallest is not None and lens.smallest > widest.low:
        yield Value("smallest", _stop(lens.smallest), "as its entry has it", sure=True)
    else:
        likely = max(SMALLEST_LIKELY, 2 * widest.low)
        yield Value("smallest", _stop(likely), "a guess: the catalogue does not say")
    yield Value(
        "transmission_loss", LIKELY_LOSS, "a guess: a usual loss in stops; measure it against an incident meter"
    )
    close = _mm(FOCAL_LENGTHS_TO_FOCUS * high)
    yield Value("close_focus", close, f"a guess: {FOCAL_LENGTHS_TO_FOCUS} focal lengths; read it off the lens")
    yield Value("squeeze", 1, "a guess: as a spherical lens")
    yield Value("pupil", None, "find it on the bench")


def _camera_values(camera: CatalogueCamera) -> Iterator[Value]:
    if camera.crop is None:
        raise BadInput(f"{camera.name}: the catalogue has no crop factor of it; make its profile by hand")
    sides = camera.aspect or catalogue_entry.USUAL_ASPECT
    ratio = catalogue_entry.sides_of(sides) or 1.5
    height = catalogue_entry.FULL_FRAME_DIAGONAL_MM / camera.crop / math.hypot(ratio, 1)
    known = "as most lenses on its mount were measured at" if camera.aspect else "a guess, as most still cameras have"
    from_crop = f"from the crop factor {number_text(camera.crop, 5)}, sides as {sides}"
    yield Value("width", _mm(ratio * height), f"{from_crop}: {known}", camera.aspect is not None)
    yield Value("height", _mm(height), f"{from_crop}: {known}", camera.aspect is not None)
    yield Value("width_px", WIDTH_PX, "a guess: a usual width of recording")
    yield Value("height_px", round(WIDTH_PX / ratio), "a guess: square pixels")
    yield Value("fps", {"min": 1, "max": 30}, "a guess: list the rates that it has")
    yield Value("iso_base", 100, "a guess")
    yield Value("iso_max", 6400, "a guess")


def _mm(mm: float) -> str:
    return f"{round(mm, 2):g} mm"


def _stop(number: float) -> str:
    """Return a stop as a file has it: a mark where the number is one of the series, else as written."""
    written = f"{number:g}"
    return f"f/{written}" if stop_label(parse_stop(written).value) == written else f"f/={written}"
