"""One camera or lens of the open catalogue: what a profile begins with, and how far each number can be relied upon.

Most entries give focal length and stop in the model's name, as engraved, and in the rows that were measured. The
catalogue is about how lenses draw: what it does not say is a likely value, and has to be measured.
"""

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple
from xml.etree.ElementTree import Element

from forescale.engine.kit.library import Shelf
from forescale.engine.units import number_text, parse_stop, stop_label

Range = tuple[float, float]  # the least and the greatest
Crops = Mapping[str, Sequence[tuple[float, str]]]  # crop factors and sides at which the lenses of a mount were measured

FOCAL_MM = (1.0, 5000.0)  # what a lens or camera may have at all
F_NUMBER = (0.5, 256.0)
CROP = (0.1, 50.0)

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_SPAN = rf"{_NUMBER}(?:\s*-\s*{_NUMBER})?"
_START = r"(?<!\d)(?<!\d[.,])"
_FOCAL = re.compile(rf"{_START}{_SPAN}\s*mm")
_F = r"(?:f/|(?<=mm)f|(?<=mm )f|(?<=/)f|(?<![a-z])f(?=\s*\d+[.,]\d))"  # an f and whole digits alone may be a model's
_STOP = re.compile(rf"{_F}\s*{_SPAN}(?![\d.,]|\s*mm)")
_RATIO = re.compile(rf"(?<!\d)1:{_SPAN}(?![\d.,]|\s*mm)")
_STOP_OVER_FOCAL = re.compile(rf"{_START}{_SPAN}\s*/\s*(\d{{2,4}})(?:\s*-\s*(\d{{2,4}}))?(?![\d.,])")
_ADDED = re.compile(r"conver|\bconv\b|\bexten|\bext\b|reducer|adapter")
_FISHEYE = re.compile(r"fish.?eye")
FULL_FRAME_DIAGONAL_MM = math.hypot(36, 24)  # what a crop factor is counted from
USUAL_ASPECT = "3:2"  # of a lens's entry that gives none, by the format
SAME_CROP = 0.02
SAME_FOCAL = 1.02  # two focal lengths closer than this are one, read twice
BEYOND = 1.1  # rows that reach farther than this beyond the name are of the lens with something before or behind it
FOCAL_LENGTHS_TO_FOCUS = 10
LIKELY_LOSS = 0.3
WIDTH_PX = 3840
SMALLEST_LIKELY, WIDEST_LIKELY = 22.0, 4.0
GUESS = "a guess: the catalogue does not say"
CONVERTED = "a converter may change it"
ITS_ENTRY = "as its entry has it"
ITS_NAME = "as its name has it"


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


class CatalogueEntry(NamedTuple):
    """A camera or lens: its name, what a search looks in, and what a profile begins with, or why there can be none."""

    shelf: Shelf
    name: str
    searched: str
    values: tuple[Value, ...]
    refused: str = ""


def entry_of(shelf: Shelf, element: Element, values: Iterator[Value]) -> CatalogueEntry:
    """Return a camera or lens with the values that its profile begins with, or with why these raise ValueError."""
    maker = " ".join((element.findtext("maker") or "").split())
    model, *_ = [*_models(element), "without a name"]
    variant = (element.findtext("variant") or "").strip()
    said = maker.casefold().split()[:1] == model.casefold().split()[:1]
    name = (model if said or not maker else f"{maker} {model}") + (f" ({variant})" if variant else "")
    texts = (part.text or "" for tag in ("maker", "model", "variant") for part in element.findall(tag))
    searched = " ".join(" ".join(texts).casefold().split())
    try:
        return CatalogueEntry(shelf, name, searched, tuple(values))
    except ValueError as refused:
        return CatalogueEntry(shelf, name, searched, (), str(refused))


def _models(element: Element) -> list[str]:
    """Return the names of a camera or lens, the one with the most figures first; translations are left out."""
    models = (model.text for model in element.findall("model") if model.get("lang") in {None, "en"})
    names = (" ".join(model.split()) for model in models if model)
    return sorted(names, key=lambda name: (sum(map(str.isdigit, name)), len(name)), reverse=True)


def crops(lenses: Sequence[Element]) -> Crops:
    """Return the crop factors and sides at which the lenses of each mount were measured."""
    seen: dict[str, list[tuple[float, str]]] = {}
    for lens in lenses:
        crop = number(lens.findtext("cropfactor"), *CROP)
        sides = (lens.findtext("aspect-ratio") or USUAL_ASPECT).strip()
        for mount in lens.findall("mount") if crop and sides_of(sides) else ():
            seen.setdefault(mount.text or "", []).append((crop or 0.0, sides))
    return seen


def sides_of(aspect: str) -> float | None:
    """Return width over height of "3:2", or of "1.5", which is the same; None where it is neither."""
    width, _, height = aspect.partition(":")
    across, up = number(width, 0.1, 100), number(height or "1", 0.1, 100)
    return across / up if across and up else None


def camera_values(camera: Element, measured: Crops) -> Iterator[Value]:
    """Yield a camera's, its sides those at which most lenses of its mount were measured at its crop factor."""
    crop = number(camera.findtext("cropfactor"), *CROP)
    if crop is None:
        raise ValueError("the catalogue has no crop factor of it; make its profile by hand")
    seen = measured.get(camera.findtext("mount") or "", ())
    found = Counter(sides for at, sides in seen if math.isclose(at, crop, rel_tol=SAME_CROP)).most_common(1)
    sides = found[0][0] if found else USUAL_ASPECT
    ratio = sides_of(sides) or 1.5
    height = FULL_FRAME_DIAGONAL_MM / crop / math.hypot(ratio, 1)
    known = "as most lenses on its mount were measured at" if found else "a guess, as most still cameras have"
    from_crop = f"from the crop factor {number_text(crop, 5)}, sides as {sides}: {known}"
    yield Value("width", _mm(ratio * height), from_crop, bool(found))
    yield Value("height", _mm(height), from_crop, bool(found))
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


def lens_values(lens: Element) -> Iterator[Value]:
    """Yield a lens's, each number from where it is best known."""
    names = [name.casefold() for name in _models(lens)]
    if (lens.findtext("type") or "rectilinear").strip() != "rectilinear" or any(map(_FISHEYE.search, names)):
        raise ValueError("is a fisheye or the like, and every formula here takes a lens that keeps lines straight")
    named, rows = named_focal(names), span((row.get("focal") for row in lens.iter()), FOCAL_MM)
    beyond = bool(rows and named and (rows[1] > BEYOND * named[1] or rows[0] * BEYOND < named[0]))
    added = any(map(_ADDED.search, names)) or beyond
    (low, high), how, sure = _focal(lens, named, rows, added)
    ends = {"focal_length": high} if high <= SAME_FOCAL * low else {"focal_min": low, "focal_max": high}
    yield from (Value(name, _mm(focal), how, sure) for name, focal in ends.items())
    yield Value("marks", "f", "a guess: in f-stops, as most still lenses are")
    widest, how, sure = _widest(lens, named_stop(names), added, prime=low == high)
    yield Value("widest", _stop(widest), how, sure)
    smallest = number(_own(lens, "aperture", "max"), *F_NUMBER)
    if smallest is not None and smallest > widest:
        yield Value("smallest", _stop(smallest), ITS_ENTRY, sure=True)
    else:
        yield Value("smallest", _stop(max(SMALLEST_LIKELY, 2 * widest)), GUESS)
    loss = "a guess: a usual loss in stops; measure it against an incident meter"
    yield Value("transmission_loss", LIKELY_LOSS, loss)
    close = f"a guess: {FOCAL_LENGTHS_TO_FOCUS} focal lengths; read it off the lens"
    yield Value("close_focus", _mm(FOCAL_LENGTHS_TO_FOCUS * high), close)
    yield Value("squeeze", 1, "a guess: as a spherical lens")
    yield Value("pupil", None, "find it on the bench")


def _focal(lens: Element, named: Range | None, rows: Range | None, added: bool) -> tuple[Range, str, bool]:
    if given := span((_own(lens, "focal", "value", "min"), _own(lens, "focal", "value", "max")), FOCAL_MM):
        return given, ITS_ENTRY, True
    if rows and (added or not named):
        return rows, CONVERTED if added else "as far as it was measured: it may reach farther", False
    if named:
        return named, CONVERTED if added else ITS_NAME, not added
    raise ValueError("the catalogue has no focal length of it; make its profile by hand")


def _widest(lens: Element, named: Range | None, added: bool, prime: bool) -> tuple[float, str, bool]:
    """Return the widest stop that the lens has at every focal length: a zoom that loses some counts at its worst."""
    given, row = number(_own(lens, "aperture", "value", "min"), *F_NUMBER), _widest_row(lens)
    if added and (known := row or given or (named and named[1])):
        return known, CONVERTED, False
    if named and (given is None or math.isclose(named[0], given, rel_tol=0.05)):
        ends = f"at the long end; f/{named[0]:g} at the short end"
        return named[1], ITS_NAME if named[0] == named[1] else ends, True
    if given:
        return given, ITS_ENTRY + ("" if prime else "; a zoom may lose some at its long end"), prime
    return (row, "the widest that it was measured at", False) if row else (WIDEST_LIKELY, GUESS, False)


def _widest_row(lens: Element) -> float | None:
    """Return the widest stop measured at every focal length that was measured at any stop."""
    widest: dict[str, float] = {}
    for row in lens.iter("vignetting"):
        focal = row.get("focal", "")
        if (stop := number(row.get("aperture"), *F_NUMBER)) is not None:
            widest[focal] = min(stop, widest.get(focal, stop))
    return max(widest.values(), default=None)


def _own(lens: Element, tag: str, *names: str) -> str | None:
    """Return what an entry's own field has under the first of these names, which is either one value or an end."""
    element = lens.find(tag)
    return None if element is None else next((text for name in names if (text := element.get(name))), None)


def named_focal(names: Iterable[str]) -> Range | None:
    """Return the focal lengths in mm that the names of a lens give, as "50 mm" or behind the stop, as "2/50"."""
    for name in names:
        if found := _FOCAL.search(name):
            return span(found.groups(), FOCAL_MM)
        if found := _STOP_OVER_FOCAL.search(name):
            return span(found.groups()[2:], FOCAL_MM)
    return None


def named_stop(names: Sequence[str]) -> Range | None:
    """Return the widest stop in the names of a lens, two where the zoom loses some, "f/3.5-5.6", "1:2" or "2/50"."""
    found = (pattern.search(name) for pattern in (_STOP, _RATIO, _STOP_OVER_FOCAL) for name in names)
    first = next(filter(None, found), None)
    return None if first is None else span(first.groups()[:2], F_NUMBER)


def number(text: str | None, low: float, high: float) -> float | None:
    """Return a number within its bounds, None for anything else."""
    try:
        value = float((text or "").replace(",", "."))
    except ValueError:
        return None
    return value if low <= value <= high else None


def span(texts: Iterable[str | None], bounds: Range) -> Range | None:
    """Return the least and the greatest of those texts that are numbers within their bounds, None for no number."""
    known = [value for text in texts if (value := number(text, *bounds)) is not None]
    return (min(known), max(known)) if known else None
