"""What is typed for points and outlines, two places with a comma and a space between them, and for witness marks."""

import re
from typing import Any

from forescale.engine.fields.ways import ASIDE, LEVEL, FramePlace, read_corner
from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas.silhouette import Corner
from forescale.engine.shot import edit
from forescale.engine.shot.rows import PointRow, WitnessRow
from forescale.engine.units import EntryError, UnitSystem, quoted

_BETWEEN = re.compile(r"\s*;\s*|,\s+")
_BARE = re.compile(r"([-+]?[\d.,]+)(?=\s*(?:left|right|$))", re.IGNORECASE)
_SIDE = r"([\d.,]*\d\s*(?:px|%)?)"
_IN_FRAME = re.compile(rf"{_SIDE}(?:\s*;\s*|,?\s+){_SIDE}", re.IGNORECASE)  # 0.31, 0.62 or 635 px 714 px
_TIGHT = re.compile(r"(\.\d+|px|%),(?=[\d.])", re.IGNORECASE)  # 0.31,0.62; else a comma in digits is a decimal's
_RIGHT_AHEAD = re.compile(r"0[0.,]*(?=[\s,;])(?!\s*(?:px|%))", re.IGNORECASE)  # 0, 31 is no place in the picture
STEPS_MM: dict[UnitSystem, float] = {"imperial": 25.4, "metric": 50.0}
ROUND = 6  # decimals that a step leaves
STEP_SHARE, STEP_PX = 0.005, 1.0


def _two(text: str, wanted: str, typed: str = "") -> list[str]:
    parts = _BETWEEN.split(text.strip())
    if len(parts) != 2 or not all(parts):
        raise EntryError(f"{quoted(typed or text)} is not two places", wanted)
    return parts


def _with_unit(text: str, system: UnitSystem) -> str:
    return _BARE.sub(lambda number: f"{number[1]} {'ft' if system == 'imperial' else 'm'}", text, count=1)


def read_point(text: str, system: UnitSystem, frame_px: tuple[int, int] | None = None) -> dict[str, Any]:
    """Return a point's fields: aside and height, or its place in the frame; third its distance; raises ValueError."""
    example = "14 ft left, 31 ft" if system == "imperial" else "4.2 m left, 9.5 m"
    own: dict[str, Any] = {}
    text = _TIGHT.sub(r"\1, ", text)
    if len(parts := _BETWEEN.split(text.strip())) == 3:
        text = "; ".join(parts[:2])
        own["distance"] = edit.complete(edit.quantity_of(PointRow, "distance"), parts[2], system)
    places = None if _RIGHT_AHEAD.match(text.strip()) else _in_frame(text, frame_px)
    if places is not None:
        return {"frame_across": places[0].held(), "frame_up": places[1].held()} | own
    first, second = _two(text, f"write {example}, or where it stands in the picture: 0.31, 0.62 or 635 px, 714 px")
    aside, height = ASIDE.read(_with_unit(first, system)), LEVEL.read(_with_unit(second, system))
    return {"aside": ASIDE.show(aside, system), "height": LEVEL.show(height, system)} | own


def _in_frame(text: str, frame_px: tuple[int, int] | None) -> tuple[FramePlace, FramePlace] | None:
    """Return two places in the picture, across and up, None where the text is no such; raises ValueError."""
    if (typed := _IN_FRAME.fullmatch(_TIGHT.sub(r"\1, ", text.strip()))) is None:
        return None
    across, up = map(FramePlace.read, typed.groups())
    sides = (("wide", "left edge"), ("high", "bottom"))
    for place, most, (way, edge) in zip((across, up), frame_px or (), sides, strict=False):
        if place.in_pixels and place.value > most:  # shares beyond 1 are refused as they are read
            frame = f"the frame is {most} px {way}, counted from the {edge}"
            raise EntryError(f"{place.held()} lies outside the picture", frame)
    return across, up


def point_text(point: PointRow, system: UnitSystem) -> tuple[str, str]:
    """Return where a point stands as its file holds it: aside and height, or across and up in the picture."""
    if point.aside is not None and point.height is not None:
        return ASIDE.show(point.aside, system), LEVEL.show(point.height, system)
    assert point.frame_across is not None and point.frame_up is not None  # noqa: PT018
    return str(point.frame_across.held()), str(point.frame_up.held())


def read_corner_text(text: str, system: UnitSystem) -> Corner:
    """Return a corner, "2 ft left, 59 ft", with "arc" behind it the middle of an arc; raises ValueError."""
    arc = text.rstrip().lower().endswith("arc")
    body = re.sub(r",?\s*arc\s*$", "", text, flags=re.IGNORECASE)
    example = "2 ft left, 59 ft" if system == "imperial" else "0.6 m left, 18 m"
    wanted = f"write {example}, with arc behind the middle of an arc"
    return read_corner([*[_with_unit(part, system) for part in _two(body, wanted, text)], *(["arc"] if arc else [])])


def stepped_point(point: PointRow, across: float, up: float, system: UnitSystem) -> dict[str, Any]:
    """Return the fields of a point one step on: `across` and `up` are −1, 0 or 1."""
    if point.aside is not None and point.height is not None:
        corner = stepped_corner(Corner(point.aside, point.height), across, up, system)
        return {"aside": ASIDE.show(corner.x, system), "height": LEVEL.show(corner.h, system)}
    fields = {}
    for name, ways in (("frame_across", across), ("frame_up", up)):
        place: FramePlace = getattr(point, name)
        value = round(place.value + ways * (STEP_PX if place.in_pixels else STEP_SHARE), ROUND)
        fields[name] = FramePlace.read(f"{value} px" if place.in_pixels else value).held()
    return fields


def stepped_corner(corner: Corner, across: float, up: float, system: UnitSystem) -> Corner:
    """Return a corner one step on."""
    step = STEPS_MM[system]
    aside, height = round(corner.x + across * step, ROUND), round(corner.h + up * step, ROUND)
    return Corner(ASIDE.check(aside), LEVEL.check(height), corner.arc)


PICTURE = "picture"  # the cell with both places in the picture
PLACED = ("distance", "aside", "height")
CELLS = ("name", *PLACED, "taped", "taped_now", PICTURE)
BOTH_PLACES = "write both places in the picture, across and up: 0.31, 0.62 or 635 px, 714 px"
_IN_PICTURE = ("frame_across_now", "frame_up_now")
_SHOWN_MM = 3000.0  # a bare number is read in metres or feet, as a length of this size is shown


def read_cell(cell: str, text: str, system: UnitSystem, frame_px: tuple[int, int] | None = None) -> dict[str, Any]:
    """Return the fields of a mark that an entry stands for; raises EntryError saying what would be right."""
    if cell == PICTURE:
        if (places := _in_frame(text, frame_px)) is None:
            raise EntryError(f"{quoted(text)} is not two places", BOTH_PLACES)
        return dict(zip(_IN_PICTURE, places, strict=True))
    if cell == "name":
        if not text.split():
            raise EntryError("a mark needs a name", 'such as "kerb"')
        return {"name": " ".join(text.split())}
    quantity = edit.number_at(WitnessRow, cell)
    return {cell: quantity.read(edit.complete(quantity, text, system, _SHOWN_MM))}


def cleared(row: WitnessRow, cell: str) -> WitnessRow:
    """Return a mark without what stands in a cell; raises BadInput where it cannot go."""
    if cell in {"name", *PLACED}:
        raise BadInput(Fault("a mark needs its name and its place", "take the whole mark away instead"))
    return row.model_copy(update=dict.fromkeys(_IN_PICTURE if cell == PICTURE else (cell,)))


def entry_text(row: WitnessRow, cell: str, system: UnitSystem, *, exact: bool = True) -> str:
    """Return what stands in a cell as an entry that reads back as the same, or rounded; empty where nothing does."""
    if cell == PICTURE:
        return ", ".join(str(place.held()) for place in (row.frame_across_now, row.frame_up_now) if place is not None)
    value = getattr(row, cell)
    if cell == "name" or value is None:
        return value or ""
    quantity = edit.number_at(WitnessRow, cell)
    return quantity.show(value, system) if exact else quantity.shown(value, system)
