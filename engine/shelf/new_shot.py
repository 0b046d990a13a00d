"""A new shot: the kit and units at hand and the first tape distance; all else is left open."""

import os
import re
from pathlib import Path

from forescale.engine.files.faults import BadInput, Fault, read_model
from forescale.engine.files.names import name_of
from forescale.engine.kit import library
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot, Sun
from forescale.engine.shot.sections import Action, KitChoice
from forescale.engine.units import LENGTH, UnitSystem, says_infinity

KEPT = {"latitude", "longitude", "utc_offset"}
METRIC = frozenset(word for word, unit in LENGTH.words.items() if unit.endswith("metre"))


def checked_title(text: str) -> str:
    """Return a title without what is blank around it; raises BadInput for none."""
    if not text.strip():
        raise BadInput("a title is needed, such as The water tower smokes")
    return " ".join(text.split())


def new_shot(
    title: str, far: str, kit: KitChoice, system: UnitSystem, last: Sun | None = None, model: str = "", moves: str = ""
) -> Shot:
    """Return a shot against a background `far` off, its place as of the `last`; raises BadInput or ValueError."""
    place = {"background": read_background(far, system)[0]}
    if model.strip():  # else it is left to the program
        place["model"] = read_model_place(model, far, system)[0]
    there = {} if last is None else last.model_dump(include=KEPT, exclude_none=True)
    head = {"schema": 1, "title": checked_title(title), "units": system, "kit": kit.model_dump(exclude_none=True)}
    body = {"place": place, "action": {"kind": read_kind(moves)}} | ({"sun": there} if there else {})
    return Shot.model_validate(head | body)


def read_background(text: str, system: UnitSystem) -> tuple[str, str]:
    """Return what a file would hold for a background's distance, and what was understood; raises ValueError."""
    if says_infinity(text):
        raise BadInput("tape or guess how far off the background is; one at infinity gives the model no place")
    return edit.understood(edit.number_at(Shot, "place.background")._replace(infinite=False), text, system)


def read_model_place(text: str, background: str, system: UnitSystem) -> tuple[str, str]:
    """Return what a file would hold for the model's place, nearer than the background, and what was understood."""
    quantity, (far, far_shown) = edit.number_at(Shot, "place.model"), read_background(background, system)
    held, shown = edit.understood(quantity, text, system)
    if quantity.read(held) >= edit.number_at(Shot, "place.background").read(far):
        raise BadInput(Fault("the model must stand nearer than the background", f"stand it before {far_shown}"))
    return held, shown


def read_kind(text: str) -> str:
    """Return a kind of action; raises BadInput with the kinds there are."""
    return str(read_model(Action, {"kind": text.strip() or "still"}).kind)


def units_of(text: str, otherwise: UnitSystem) -> UnitSystem:
    """Return the system of the last unit in an entry, the other for a bare number."""
    unit = re.search(r"[^\W\d_]+$|['\"′″’”]$", text.strip().casefold())
    return otherwise if unit is None else "metric" if unit[0] in METRIC else "imperial"


def free_path(title: str) -> Path:
    """Return a file among the user's own shots, named after a title, that is not there yet."""
    words = name_of(title) or "shot"
    names = (words if number == 1 else f"{words}-{number}" for number in range(1, 10_000))
    free = (library.own_path("shots", name) for name in names if name not in library.shelf_files("shots"))
    return next(path for path in free if not os.path.exists(path))
