"""Changing a profile as its file would be changed: by text at a place or row by row, and checked as the file is."""

import re
from collections.abc import Mapping
from typing import Any

from forescale.engine.files.faults import BadInput, Fault, Sentence, field_path, read_model
from forescale.engine.kit.library import PROFILES, AnyProfile, Shelf
from forescale.engine.kit.profiles import Camera, Lens, Mode, Profile, PupilRow
from forescale.engine.shelf.profile_fields import FOCAL, FOCALS, FieldPlace, held, places, read_focal, rows_of
from forescale.engine.shot import edit
from forescale.engine.units import UnitSystem, number_text, parse_stop, quoted, stop_text

_SIZE = re.compile(r"([\d.]+)\s*x\s*([\d.]+)\s*(mm|in)?[\s,;]+(\d+)\s*x\s*(\d+)(?:\s*px)?")
STARTING = "Starting values: change what is not so."
_LIKELY: dict[Shelf, dict[str, Any]] = {
    "cameras": {"width": "24 mm", "height": "13.5 mm", "width_px": 3840, "height_px": 2160,
                "fps": [24, 25, 30, 50, 60], "iso_base": 800, "iso_max": 3200},
    "lenses": {"focal_length": "50 mm", "marks": "T", "widest": "T2", "smallest": "T22", "transmission_loss": 0.3,
               "close_focus": "500 mm"},
    "heads": {"slide_min": "0 mm", "slide_max": "100 mm", "slide_step": "1 mm", "sensor_at_zero": "0 mm"},
}  # fmt: skip


def new(shelf: Shelf, name: str) -> Profile:
    """Return a profile to begin from, its values likely ones, marked as such, and its notes saying so."""
    likely = _LIKELY[shelf] | {"guesses": [*_LIKELY[shelf]]}
    body = {"mode": [{"name": "full width"} | likely]} if shelf == "cameras" else likely
    return read_model(PROFILES[shelf], {"schema": 1, "name": name, "notes": STARTING} | body)


def copied(profile: Profile, name: str) -> Profile:
    """Return the same profile under another name; raises BadInput where the name cannot be a file's."""
    return read_model(type(profile), profile.model_dump(exclude_none=True) | {"name": name})


def with_text(profile: Profile, place: FieldPlace, text: str, system: UnitSystem) -> Profile:
    """Return the profile with what was typed at a place, or none, a guess no longer; raises ValueError, BadInput."""
    data = profile.model_dump(exclude_none=True)
    table = data if place.row is None else data[profile.rows][place.row]
    typed: dict[str, Any] = {}
    if place.is_focal and not text.strip():
        raise BadInput(Fault("is missing and is needed", of="focal length"))
    if place.is_focal:
        low, high = read_focal(" ".join(text.split()))
        ends = {FOCAL: low} if low == high else {"focal_min": low, "focal_max": high}
        typed = {name: f"{mm!r} mm" for name, mm in ends.items()}
    elif text.strip():
        typed = {place.name: held(profile, place, text, system)}
    names = FOCALS if place.is_focal else (place.name,)
    for name in names:
        table.pop(name, None)
    table |= typed
    _known(table, *names)
    if "marks" in typed:  # the numbers on the ring stay
        table |= {end: stop_text(parse_stop(table[end]).value, table["marks"]) for end in ("widest", "smallest")}
    try:
        made = read_model(type(profile), data)
        if isinstance(made, Lens) and place.name in {"focus", "close_focus"}:
            _refuse_nearer(made, *(row.focus for row in made.pupil))
        return made
    except BadInput as fault:
        raise BadInput(*(_by_label(one, profile, place) for one in fault.faults)) from None


def _refuse_nearer(lens: Lens, *focus: float) -> None:
    """Raise BadInput where a pupil is entered at a focus mark nearer than the lens has any."""
    if any(mark < lens.close_focus * (1 - 1e-6) for mark in focus):
        near = f"the close focus, {number_text(lens.close_focus, 5)} mm"
        raise BadInput(Fault(f"no pupil is found focused nearer than at {near}", "look at both again"))


def _by_label(fault: Fault, profile: Profile, place: FieldPlace) -> Fault:
    """Return a fault with fields called by their labels, and no more than that where it is the one being typed."""
    known = {other.name: other.label for other in places(profile) if "_" in other.name}
    row = () if place.row is None else (profile.rows, place.row + 1)
    typed = fault.path == (*row, place.name)
    called = place.label if typed else field_path(tuple(known.get(str(step), step) for step in fault.path))
    wrong = fault.wrong.spelt(lambda name: known.get(name, name)) if isinstance(fault.wrong, Sentence) else fault.wrong
    return Fault(wrong, fault.right, of=called)


def _known(table: dict[str, Any], *names: str) -> None:
    if guesses := table.get("guesses"):
        table["guesses"] = [guess for guess in guesses if guess not in names]


def size_text(mode: Mode) -> str:
    """Return a mode's active area and its pixels as one entry, "17.3 x 9.75 mm, 3072 x 1728"."""
    return f"{mode.width:.6g} x {mode.height:.6g} mm, {mode.width_px} x {mode.height_px}"


def read_size(text: str) -> dict[str, Any]:
    """Return the fields of a mode that such an entry stands for; ValueError saying what would be right."""
    found = _SIZE.fullmatch(text.strip().casefold().replace("×", "x"))
    if found is None:
        raise ValueError(f"{quoted(text)} is no size with pixels; write 17.3 x 9.75 mm, 3072 x 1728")
    wide, high, unit, across, up = found.groups("mm")
    return {"width": f"{wide} {unit}", "height": f"{high} {unit}", "width_px": int(across), "height_px": int(up)}


def with_mode(camera: Camera, row: int, name: str, size: str | None = None) -> Camera:
    """Return the camera with a copy of a mode after it, of another name and size; raises BadInput or ValueError."""
    data = camera.model_dump(exclude_none=True)
    typed = {} if size is None else read_size(size)
    copy = data["mode"][row] | {"name": " ".join(name.split())} | typed
    copy.pop("readout", None)
    _known(copy, *typed)
    return read_model(Camera, data | {"mode": edit.inserted(tuple(data["mode"]), row + 1, copy)})


def with_pupil(lens: Lens, row: int, typed: Mapping[str, str], system: UnitSystem) -> Lens:
    """Return the lens with a pupil row at `row`, its fields as typed by their names; raises ValueError or BadInput."""
    record = {name: pupil_field(lens, name, text, system) for name, text in typed.items()}
    return _with_rows(lens, edit.inserted(lens.pupil, row, read_model(PupilRow, record)))


def pupil_field(lens: Lens, name: str, text: str, system: UnitSystem) -> Any:
    """Return what a file would hold for an entry at a field of a new pupil row; raises ValueError or BadInput."""
    held = edit.complete(edit.quantity_of(PupilRow, name), text, system)
    if name == "focus":
        _refuse_nearer(lens, edit.number_at(PupilRow, name).read(held))
    return held


def without_row(profile: AnyProfile, row: int) -> AnyProfile:
    """Return the profile without one of its rows; raises BadInput where it needs that one."""
    if isinstance(profile, Camera) and len(profile.mode) == 1:
        raise BadInput("a camera needs one mode at least: change this one, or add another first")
    return _with_rows(profile, edit.without(rows_of(profile), row))


def with_row_moved(profile: AnyProfile, row: int, step: int) -> AnyProfile:
    """Return the profile with a row so many places on."""
    return _with_rows(profile, edit.moved(rows_of(profile), row, step))


def _with_rows(profile: AnyProfile, changed: tuple[Any, ...]) -> AnyProfile:
    return profile.model_copy(update={profile.rows: changed}) if profile.rows else profile
