"""What the test strips of a camera's mode say of one's own sharpness, and keeping that in the mode."""

import math
from collections.abc import Mapping, Sequence
from contextlib import suppress
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.files.faults import BadInput, read_model
from forescale.engine.formulas.strip import Strip, StripFit, diffraction_stop, fit
from forescale.engine.kit import library
from forescale.engine.kit.profiles import ON_TAPE, Camera, Mode, StripRow
from forescale.engine.kit.pupil import lens_pupil_at
from forescale.engine.shot import edit
from forescale.engine.units import EntryError, UnitSystem, length_text, number_text, parse_stop, stop_text, tape_text

_ENDS = (("Last", "sharp"), ("First", "soft"))
LABELS = {"lens": "Lens", "focal_length": "Focal length", "focus": "Focus mark", "stop": "Stop"}
LABELS |= {f"{how}_{side}": f"{which} {how}, {side}" for side in ("near", "far") for which, how in _ENDS}
PATHS = tuple(LABELS)
OPTIONAL = frozenset(ON_TAPE) - {"focus"}
DECIMALS = 5  # of a mm: no strip tells more of a circle of confusion


class StripReport(NamedTuple):
    """Each strip's least and greatest c in mm, or None; what fits, or a `fault`; which are `diffracted`; advice."""

    bounds: tuple[tuple[float | None, float | None], ...]
    fit: StripFit | None
    fault: str
    diffracted: tuple[int, ...]
    advice: str


def _strip(row: StripRow) -> Strip:
    """Return a strip with its distances from the lens's entrance pupil; from the tape where the lens is not at hand."""
    ahead = 0.0
    own = 1.0
    f_number = row.stop.value
    with suppress(BadInput):
        lens = library.lens(row.lens)
        pupil = lens_pupil_at(lens, row.focal_length, row.focus)
        ahead, own = pupil.ahead_mm, pupil.magnification or 1.0
        f_number = lens.f_number(row.stop.value, row.stop.marks)
    tapes = {f"{name}_mm": getattr(row, name) for name in OPTIONAL}
    markers = {name: tape - ahead for name, tape in tapes.items() if tape is not None}
    return Strip(row.focal_length, row.focus - ahead, f_number, pupil_magnification=own, **markers)


def report(answer: Answer) -> StripReport:
    """Return what the strips of the shot's mode say, and what to photograph next."""
    strips = [_strip(row) for row in answer.kit.mode.strip]
    found, fault = None, "" if strips else "no test strip yet: a adds one"
    if strips:
        try:
            found = fit(strips)
        except ValueError as error:
            fault = str(error)
    coc_mm = answer.setup.coc_mm if found is None else found.coc_mm
    past = diffraction_stop(coc_mm)
    bounds = []
    for strip in strips:
        least, most = ([end for end in ends if end is not None] for ends in zip(strip.near, strip.far, strict=True))
        bounds.append((max(least, default=None), min(most, default=None)))
    diffracted = tuple(place for place, strip in enumerate(strips) if strip.f_number > past)
    return StripReport(tuple(bounds), found, fault, diffracted, _next(answer, strips, coc_mm, past))


def _mark(answer: Answer) -> float:
    """Return the next strip's focus mark: the last one's, or the shot's, or 100 focal lengths for infinity."""
    rows = answer.kit.mode.strip
    mark = answer.focus.focus_mm
    return rows[-1].focus if rows else mark if math.isfinite(mark) else answer.kit.focal_mm * 100


def _next(answer: Answer, strips: list[Strip], coc_mm: float, past: float) -> str:
    """Say which strip would tell most: a stop unlike those taken, short of diffraction, and where its limits lie."""
    kit = answer.kit
    at = _mark(answer)
    pupil = lens_pupil_at(kit.lens, kit.focal_mm, at)
    marks = [mark for mark in kit.lens.f_numbers if mark <= past] or [kit.lens.f_numbers[0]]
    taken = [strip.f_number for strip in strips] or [marks[-1] * 2]
    unlike = max(marks, key=lambda mark: min(abs(math.log(mark / other)) for other in taken))
    focus_mm = at - pupil.ahead_mm
    limits = Strip(kit.focal_mm, focus_mm, unlike, pupil_magnification=pupil.magnification or 1.0).shows(coc_mm)
    tapes = " and ".join(tape_text(mm + pupil.ahead_mm, answer.system) for mm in limits if math.isfinite(mm))
    stop = f"{stop_text(kit.lens.mark(unlike), kit.lens.marks)} focused at {length_text(at, answer.system)}"
    return f"Next: {stop}, markers a hundredth of the distance apart about {tapes}"


def shown(row: StripRow, name: str, system: UnitSystem) -> str:
    """Return one field of a strip as people read it, a dash for none."""
    value = getattr(row, name)
    if value is None or name == "lens":
        return value or "-"
    if name == "stop":
        return stop_text(value.value, value.marks)
    return f"{number_text(value, 6)} mm" if name == "focal_length" else length_text(value, system)


def held(name: str, text: str, system: UnitSystem) -> Any:
    """Return what a file would hold for an entry; None for an empty one that may be left out. Raises ValueError."""
    if name in OPTIONAL and text.strip() in {"", "-"}:
        return None
    if name == "lens" and not text.strip():
        raise EntryError("no lens is named", "type its name, as the shelf of lenses has it")
    if name == "lens":
        return library.lens(text.strip()).name
    if name == "stop":
        stop = parse_stop(text)
        return stop_text(stop.value, stop.marks)
    quantity = edit.number_at(StripRow, name)
    return edit.complete(quantity, text, system, quantity.low if name == "focal_length" else None)


def check(texts: Mapping[str, str], system: UnitSystem) -> None:
    """Raise EntryError where the lens has not what is said of it, or the markers do not go along the tape."""
    lens = library.lens(texts["lens"].strip())
    given = {}
    if "focal_length" in texts:
        focal_mm = edit.number_at(StripRow, "focal_length").read(held("focal_length", texts["focal_length"], system))
        if not lens.shortest - 1e-9 <= focal_mm <= lens.longest + 1e-9:
            raise EntryError(f"{focal_mm:g} mm is not on {lens.name}", f"it has {lens.focal_range}")
    if "stop" in texts:
        stop = parse_stop(texts["stop"])
        widest, *_, smallest = lens.f_numbers
        if not widest * 0.99 <= lens.f_number(stop.value, stop.marks) <= smallest * 1.01:
            ends = " to ".join(stop_text(lens.mark(end), lens.marks) for end in (widest, smallest))
            raise EntryError(f"{stop_text(stop.value, stop.marks)} is not on {lens.name}", f"it has {ends}")
    for name in ON_TAPE:
        tape = held(name, texts[name], system) if name in texts else None
        if tape is not None:
            given[name] = edit.number_at(StripRow, name).read(tape)
    for nearer, farther in pairwise(given):
        if given[nearer] >= given[farther]:
            order = ", ".join(LABELS[name].lower() for name in ON_TAPE)
            raise EntryError(f"{LABELS[nearer]} lies at or beyond {LABELS[farther]}", f"on the tape they go {order}")


def made(table: Mapping[str, Any], today: date) -> StripRow:
    """Return a strip of what a file would hold; raises BadInput with a line a fault."""
    full = {key: value for key, value in table.items() if value is not None}
    return read_model(StripRow, {"date": today} | full, "strip")


def fresh(answer: Answer) -> dict[str, str]:
    """Return what a new strip begins with: the shot's lens, focal length, focus and stop, or those of the last."""
    kit = answer.kit
    if rows := kit.mode.strip:
        return {name: shown(rows[-1], name, answer.system) for name in ("lens", "focal_length", "focus", "stop")}
    return {
        "lens": kit.lens.name,
        "focal_length": f"{number_text(kit.focal_mm, 6)} mm",
        "focus": length_text(_mark(answer), answer.system),
        "stop": stop_text(kit.lens.mark(kit.lens.f_numbers[0]), kit.lens.marks),
    }


def keep(camera: Camera, mode: Mode, changes: dict[str, Any]) -> Path:
    """Write a camera with a mode changed to the user's own shelf; raises ChangedElsewhere or BadInput."""
    library.refuse_changed("cameras", camera, "nothing was written. Leave and come again")
    modes = tuple(one.model_copy(update=changes) if one.name == mode.name else one for one in camera.mode)
    return library.save_profile("cameras", camera.model_copy(update={"mode": modes}))


def measured(found: StripFit, today: date) -> dict[str, Any]:
    """Return what a mode keeps of a fit: the value, half of its band, the day."""
    error = max(round((found.high_mm - found.low_mm) / 2, DECIMALS), 1e-4)
    return {"sharpness": round(found.coc_mm, DECIMALS), "sharpness_error": error, "sharpness_measured": today}


def told(answer: Answer, found: StripReport) -> list[str]:
    """Return in sentences what the strips have in common, what is doubtful, and what to photograph next."""
    lines = []
    mode = answer.kit.mode
    if found.fit is None:
        lines.append(found.fault[:1].upper() + found.fault[1:])
    else:
        coc, low, high = found.fit.coc_mm, found.fit.low_mm, found.fit.high_mm
        between = f"95 times in 100 between {number_text(low, 3)} mm and {number_text(high, 3)} mm"
        share = f"diagonal/{math.hypot(mode.width, mode.height) / coc:.0f}"
        lines.append(f"Blur that passes for sharp: {number_text(coc, 3)} mm, {share}; {between}")
        if found.fit.contradicting:
            again = "contradicts the others; photograph it again, or take it away"
            lines.append(f"Doubtful: strip {_numbers(found.fit.contradicting)} {again}")
    if found.diffracted:
        small = "its stop is smaller than c/(2.44 x wavelength)"
        lines.append(f"Strip {_numbers(found.diffracted)} measures diffraction more than the eye: {small}")
    return [*lines, found.advice]


def _numbers(places: Sequence[int]) -> str:
    return " and ".join(str(place + 1) for place in places)
