"""One camera or lens of the open catalogue: what its entry gives, and how far each number can be relied upon.

Most entries give focal length and stop in the model's name, as engraved, and in the rows that were measured.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

Span = tuple[float, float]

FOCAL_MM, F_NUMBER = (1.0, 5000.0), (0.5, 256.0)  # what a lens may have at all

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
BEYOND = 1.1  # rows that reach farther than this beyond the name are of the lens with something before or behind it


@dataclass(frozen=True, slots=True)
class Found:
    """A number of the catalogue, or two where it runs from one to another; how it is known; whether that is enough."""

    low: float
    high: float
    how: str
    sure: bool = True


@dataclass(frozen=True, slots=True)
class CatalogueCamera:
    """A camera: its name, what a search looks in, its crop factor (None where it has none of use), its sides."""

    name: str
    searched: str
    crop: float | None
    aspect: str | None


@dataclass(frozen=True, slots=True)
class CatalogueLens:
    """A lens: its name, what a search looks in, focal length in mm, widest and smallest f-number, each if known."""

    name: str
    searched: str
    focal: Found | None
    widest: Found | None
    smallest: float | None
    straight: bool


def camera_entry(camera: Element, aspect: Callable[[str, float], str | None]) -> CatalogueCamera:
    """Return a camera; `aspect` tells the sides of the sensor behind a mount at a crop factor."""
    crop = number(camera.findtext("cropfactor"), 0.1, 50)
    sides = None if crop is None else aspect(camera.findtext("mount") or "", crop)
    return CatalogueCamera(_name(camera), _searched(camera), crop, sides)


def usual_aspect(lenses: Sequence[Element]) -> Callable[[str, float], str | None]:
    """Return what tells the sides at which most lenses of a mount were measured at a crop factor, None for no lens."""
    seen: dict[str, list[tuple[float, str]]] = {}
    for lens in lenses:
        crop = number(lens.findtext("cropfactor"), 0.1, 50)
        sides = (lens.findtext("aspect-ratio") or USUAL_ASPECT).strip()
        for mount in lens.findall("mount") if crop and sides_of(sides) else ():
            seen.setdefault(mount.text or "", []).append((crop or 0.0, sides))

    def aspect(mount: str, crop: float) -> str | None:
        found = Counter(sides for at, sides in seen.get(mount, ()) if math.isclose(at, crop, rel_tol=SAME_CROP))
        return found.most_common(1)[0][0] if found else None

    return aspect


def sides_of(aspect: str) -> float | None:
    """Return width over height of "3:2", or of "1.5", which is the same; None where it is neither."""
    width, _, height = aspect.partition(":")
    across, up = number(width, 0.1, 100), number(height or "1", 0.1, 100)
    return across / up if across and up else None


def lens_entry(lens: Element) -> CatalogueLens:
    """Return a lens, each number from where it is best known."""
    names = [name.casefold() for name in _models(lens)]
    named = named_focal(names)
    rows = span((row.get("focal") for row in lens.iter()), FOCAL_MM)
    beyond = bool(rows and named and (rows[1] > BEYOND * named[1] or rows[0] * BEYOND < named[0]))
    added = any(map(_ADDED.search, names)) or beyond
    given = span((_own(lens, "focal", "value", "min"), _own(lens, "focal", "value", "max")), FOCAL_MM)
    focal = _focal(given, named, rows, added)
    prime = focal is not None and focal.low == focal.high
    own = number(_own(lens, "aperture", "value", "min"), *F_NUMBER)
    widest = _widest(named_stop(names), own, _widest_row(lens), added, prime)
    smallest = number(_own(lens, "aperture", "max"), *F_NUMBER)
    bent = (lens.findtext("type") or "rectilinear").strip() != "rectilinear" or any(map(_FISHEYE.search, names))
    return CatalogueLens(_name(lens), _searched(lens), focal, widest, smallest, not bent)


def _focal(given: Span | None, named: Span | None, rows: Span | None, added: bool) -> Found | None:
    if given:
        return Found(*given, "as its entry has it")
    if rows and (added or not named):
        how = "a converter may change it" if added else "as far as it was measured: it may reach farther"
        return Found(*rows, how, sure=False)
    if named:
        return Found(*named, "a converter may change it" if added else "as its name has it", sure=not added)
    return None


def _widest(named: Span | None, given: float | None, row: float | None, added: bool, prime: bool) -> Found | None:
    """Return the widest stop that the lens has at every focal length: a zoom that loses some counts at its worst."""
    if added and (known := row or given or (named and named[1])):
        return Found(known, known, "a converter may change it", sure=False)
    if named and (given is None or math.isclose(named[0], given, rel_tol=0.05)):
        ends = f"at the long end; f/{named[0]:g} at the short end"
        return Found(named[1], named[1], "as its name has it" if named[0] == named[1] else ends)
    if given:
        loses = "" if prime else "; a zoom may lose some at its long end"
        return Found(given, given, f"as its entry has it{loses}", sure=prime)
    return Found(row, row, "the widest that it was measured at", sure=False) if row else None


def _widest_row(lens: Element) -> float | None:
    """Return the widest stop measured at every focal length that was measured at any stop."""
    widest: dict[str, float] = {}
    for row in lens.iter("vignetting"):
        stop = number(row.get("aperture"), *F_NUMBER)
        if stop is not None:
            focal = row.get("focal", "")
            widest[focal] = min(stop, widest.get(focal, stop))
    return max(widest.values(), default=None)


def _own(lens: Element, tag: str, *names: str) -> str | None:
    """Return what an entry's own field has under the first of these names, which is either one value or an end."""
    element = lens.find(tag)
    return None if element is None else next((text for name in names if (text := element.get(name))), None)


def _models(element: Element) -> list[str]:
    """Return the names of a camera or lens, the one with the most figures first; translations are left out."""
    models = (model.text for model in element.findall("model") if model.get("lang") in {None, "en"})
    names = (" ".join(model.split()) for model in models if model)
    return sorted(names, key=lambda name: (sum(map(str.isdigit, name)), len(name)), reverse=True)


def _name(element: Element) -> str:
    maker = " ".join((element.findtext("maker") or "").split())
    model, *_ = [*_models(element), "without a name"]
    variant = (element.findtext("variant") or "").strip()
    said = maker.casefold().split()[:1] == model.casefold().split()[:1]
    whole = model if said or not maker else f"{maker} {model}"
    return f"{whole} ({variant})" if variant else whole


def _searched(element: Element) -> str:
    texts = (part.text or "" for tag in ("maker", "model", "variant") for part in element.findall(tag))
    return " ".join(" ".join(texts).casefold().split())


# Names, as engraved, in small letters


def named_focal(names: Iterable[str]) -> Span | None:
    """Return the focal lengths in mm that the names of a lens give, as "50 mm" or behind the stop, as "2/50"."""
    for name in names:
        if found := _FOCAL.search(name):
            return span(found.groups(), FOCAL_MM)
        if found := _STOP_OVER_FOCAL.search(name):
            return span(found.groups()[2:], FOCAL_MM)
    return None


def named_stop(names: Sequence[str]) -> Span | None:
    """Return the widest stop in the names of a lens, two where the zoom loses some, "f/3.5-5.6", "1:2" or "2/50"."""
    for pattern in (_STOP, _RATIO, _STOP_OVER_FOCAL):
        for name in names:
            if found := pattern.search(name):
                return span(found.groups()[:2], F_NUMBER)
    return None


def number(text: str | None, low: float, high: float) -> float | None:
    """Return a number within its bounds, None for anything else."""
    try:
        value = float((text or "").replace(",", "."))
    except ValueError:
        return None
    return value if low <= value <= high else None


def span(texts: Iterable[str | None], bounds: Span) -> Span | None:
    """Return the least and the greatest of those texts that are numbers within their bounds, None for no number."""
    known = [value for text in texts if (value := number(text, *bounds)) is not None]
    return (min(known), max(known)) if known else None
