"""What the cells of a table of witness marks hold: read as they are typed, and written out."""

from __future__ import annotations

from typing import Any

from forescale.engine.fields.kinds import Quantity
from forescale.engine.fields.ways import FramePlace
from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.readings import WitnessRow
from forescale.engine.units import UnitSystem

PICTURE = "picture"  # the cell with both places in the picture
PLACED = ("distance", "aside", "height")
CELLS = ("name", *PLACED, "taped", "taped_now", PICTURE)
BOTH_PLACES = "write both places in the picture, across and up: 0.31 0.62, or 635 px 714 px"
_IN_PICTURE = ("frame_across_now", "frame_up_now")
_SHOWN_MM = 3000.0  # a bare number is read in metres or feet, as a length of this size is shown


def read_cell(cell: str, text: str, system: UnitSystem) -> dict[str, Any]:
    """Return the fields of a mark that an entry stands for; raises ValueError saying what would be right."""
    if cell == PICTURE:
        words = [one.strip() for one in text.replace("px", " px ").replace(" px", "px").split()]
        if len(words) != len(_IN_PICTURE):
            raise ValueError(BOTH_PLACES)
        return dict(zip(_IN_PICTURE, map(FramePlace.read, words), strict=True))
    if cell == "name":
        name = " ".join(text.split())
        if not name:
            raise ValueError('a mark needs a name, such as "kerb"')
        return {"name": name}
    quantity = _quantity(cell)
    return {cell: quantity.read(edit.complete(quantity, text, system, _SHOWN_MM))}


def cleared(row: WitnessRow, cell: str) -> WitnessRow:
    """Return a mark without what stands in a cell; raises BadInput where it cannot go."""
    if cell in {"name", *PLACED}:
        raise BadInput("a mark needs its name and its place: take the whole mark away instead")
    return row.model_copy(update=dict.fromkeys(_IN_PICTURE if cell == PICTURE else (cell,)))


def entry_text(row: WitnessRow, cell: str, system: UnitSystem) -> str:
    """Return what stands in a cell as an entry that reads back as the same; empty where nothing does."""
    if cell == PICTURE:
        places = (row.frame_across_now, row.frame_up_now)
        return " ".join(str(place.held()) for place in places if place is not None)
    if cell == "name":
        return row.name
    return edit.text_of(getattr(row, cell), _quantity(cell), system)


def shown_text(row: WitnessRow, cell: str, system: UnitSystem) -> str:
    """Return what stands in a cell as people read it; empty where nothing does."""
    if cell in {"name", PICTURE}:
        return entry_text(row, cell, system)
    value = getattr(row, cell)
    return "" if value is None else _quantity(cell).shown(value, system)


def _quantity(cell: str) -> Quantity:
    found = edit.quantity_of(WitnessRow, cell)
    assert found is not None
    return found
