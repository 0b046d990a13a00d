"""Which sum a number comes from, where a shot has it by one of several: focus and contrast; as texts with braces."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.formulas import contrast, focus
from forescale.engine.solve.focus_zone import split_field
from forescale.engine.units import length_text, number_text
from forescale.engine.workings.figures import Figures

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_SAME_MM = 1e-6
_IN_FOCUS = "Nw = {N} × {1 + m/P} = {Nw}; MTF({wave} × {Nw} / (2 × {c}), 0) = {}"


def _coc(of: Answer) -> str:
    wanted = of.setting.focus.sharpness
    match wanted.by:
        case "diagonal":
            width, height = Figures.mm(of.kit.mode.width), Figures.mm(of.kit.mode.height)
            return f"√(({width})² + ({height})²) / {Figures.number(wanted.value)} = {{}}"
        case "pixels":
            return f"{Figures.number(wanted.value)} × {{p}} = {{}}"
        case "measured":
            return "as the test strips of {mode} gave it: {}"
        case _:
            return "set to {}"


def _f_number(of: Answer) -> str:
    chosen = ""
    if "focus.stop" in of.auto:
        needed = number_text(of.focus.stop_needed, 4)
        chosen = f", the first third of a stop at or past f/{needed}"
        if not of.focus.covers:
            chosen = f", the lens's smallest: none reaches f/{needed}"
    if of.kit.lens.marks == "T":
        return f"{{number focus.stop_mark}} / 2^({{loss}} / 2) = {{}}{chosen}"
    return f"{{}}{chosen or ', as set'}"


def _focus(of: Answer) -> str:
    setup = of.setup
    if "focus.distance" not in of.auto:
        return "set to {}"
    if abs(focus.zone_focus_mm(setup.near_mm, setup.far_mm) - setup.focus_mm) > _SAME_MM:
        return "the zone asks for a nearer mark than the lens has, so its closest focus: {}"
    return (
        "2 × {near}{to lens} = {}"
        if math.isinf(setup.far_mm)
        else "2 × {near} × {far} / ({near} + {far}){to lens} = {}"
    )


def _stop_needed(of: Answer) -> str:
    setup = of.setup
    if of.focus.stop_needed <= 0:
        return "the zone lies at the focus mark, so any stop holds it"
    by_near = 1 / setup.near_mm - 1 / setup.focus_mm >= 1 / setup.focus_mm - 1 / setup.far_mm
    return f"{'(1 / {near} − 1 / {mark})' if by_near else '(1 / {mark} − 1 / {far})'} × {{f}} × {{v}} / {{c}} = {{}}"


def _limit(of: Answer, sign: str) -> str:
    """Return the near limit of sharpness (+) or the far one (−)."""
    if math.isinf(of.setup.focus_mm):
        return "({f})² / ({N} × {c}){to tape} = {}"
    mark = length_text(of.setup.focus_mm, of.system)
    start = f"s = {{mark}} = {mark}" if of.setup.pupil.ahead_mm else f"s = {mark}"
    return f"{start}; {mark} × ({{f}})² / (({{f}})² {sign} {{N}} × {{c}} × ({mark} − {{f/P}})){{to tape}} = {{}}"


def _split(of: Answer) -> str:
    say, split = Figures(of), split_field(of)
    power = number_text(focus.split_power_dioptres(of.setup.near_mm, of.setup.background_mm), 4)
    text = f"1 m / {{near}} − 1 m / {{background}} = {power} dioptres; to the nearest half, {{}}"
    if split is None:
        return text
    ends = f"{say.sharp_from(split.near_mm)} to {say.sharp_to(split.far_mm)}"
    mark = f"with the focus on the background at {say.length(split.focus_mm)}"
    return f"{text}; {mark}, sharp through it from {ends} at {say.stop(split.f_number)}"


def _end(of: Answer, tape_mm: float, distance_mm: float) -> str:
    """Return the contrast at an end of the zone, by its tape distance and its distance from the pupil."""
    say, setup, zone = Figures(of), of.setup, of.focus
    if distance_mm == setup.focus_mm:
        return _IN_FOCUS
    lens = (zone.focal_length_mm, zone.f_number, setup.pupil_magnification)
    blur = say.mm(contrast.blur_disk_mm(distance_mm, setup.focus_mm, *lens))
    (_, near), (_, far) = sorted([(distance_mm, say.from_pupil(tape_mm)), (setup.focus_mm, say.mark())])
    spread = f"{{f}} / {{N}} × {{v}} × (1 / {near} − 1 / {far})"
    defocus = f"{blur} / (8 × {{Nw}} × {{wave}})"
    return (
        f"Nw = {{N}} × {{1 + m/P}} = {{Nw}}; b = {spread} = {blur}; "
        f"MTF({{wave}} × {{Nw}} / (2 × {{c}}), {defocus}) = {{}}"
    )


FOCUS_SUMS: dict[str, Callable[[Answer], str]] = {
    "focus.focal_length_mm": lambda of: "set on the zoom: {}" if of.kit.lens.is_zoom else "of the prime: {}",
    "focus.focus_mm": _focus,
    "focus.f_number": _f_number,
    "focus.stop_mark": lambda of: (
        "the lens is marked in f-numbers: {}" if of.kit.lens.marks == "f" else "{N} × 2^({loss} / 2) = {}"
    ),
    "focus.near_needed_mm": lambda of: "that of the model: {}" if of.setting.place.model_near is None else "taped: {}",
    "focus.far_needed_mm": lambda of: (
        "that of the background: {}" if of.setting.place.background_far is None else "taped: {}"
    ),
    "focus.near_mm": lambda of: _limit(of, "+"),
    "focus.far_mm": lambda of: (
        "the mark, {focus.focus_mm}, is at or past the hyperfocal, {focus.hyperfocal_mm}: infinity"
        if math.isinf(of.focus.far_mm)
        else _limit(of, "−")
    ),
    "focus.stop_needed": _stop_needed,
    "focus.coc_mm": _coc,
    "focus.split_dioptres": _split,
    "focus.contrast.near": lambda of: _end(of, of.focus.near_needed_mm, of.setup.near_mm),
    "focus.contrast.focus": lambda _: _IN_FOCUS,
    "focus.contrast.far": lambda of: _end(of, of.focus.far_needed_mm, of.setup.far_mm),
}
