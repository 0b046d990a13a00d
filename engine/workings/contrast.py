"""The workings of contrast over the focus zone: defocus and diffraction together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.formulas import contrast, optics
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.focus import wave
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_lens = on.always(
    "Green light, 550 nm; a lens free of faults, so a real one keeps less. The contrast is that of the picture over "
    "that of the thing, for line pairs two circles of confusion wide."
)


def _frequency(of: Answer) -> str:
    say = Figures(of)
    return f"1 / (2 × {say.mm(of.focus.coc_mm)}) = {value_text('focus.contrast.frequency_lpmm', of)}"


def _working_stop(of: Answer) -> str:
    setup = of.setup
    working = optics.working_stop(of.focus.f_number, setup.magnification, setup.pupil_magnification)
    return Figures(of).number(working)


def _fineness(of: Answer) -> tuple[str, str]:
    """Return the working stop, worked out, and q with it."""
    say, zone = Figures(of), of.focus
    working_stop = _working_stop(of)
    made = f"Nw = {say.number(zone.f_number)} × {say.bellows()} = {working_stop}"
    return made, f"{wave(say)} × {working_stop} / (2 × {say.mm(zone.coc_mm)})"


def _in_focus(of: Answer, key: str) -> str:
    made, fineness = _fineness(of)
    return f"{made}; MTF({fineness}, 0) = {value_text(key, of)}"


def _end(of: Answer, tape_mm: float, distance_mm: float, key: str) -> str:
    """Put in the contrast at an end of the zone, by its tape distance and its distance from the pupil."""
    say, setup, zone = Figures(of), of.setup, of.focus
    if distance_mm == setup.focus_mm:
        return _in_focus(of, key)
    made, fineness = _fineness(of)
    lens = (zone.focal_length_mm, zone.f_number, setup.pupil_magnification)
    blur = say.mm(contrast.blur_disk_mm(distance_mm, setup.focus_mm, *lens))
    ends = [(distance_mm, say.from_pupil(tape_mm)), (setup.focus_mm, say.mark())]
    (_, near), (_, far) = sorted(ends)
    parting = f"(1 / {near} − 1 / {far})"
    spread = f"{say.mm(zone.focal_length_mm)} / {say.number(zone.f_number)} × {say.mm(setup.image_mm)} × {parting}"
    defocus = f"{blur} / (8 × {_working_stop(of)} × {wave(say)})"
    return f"{made}; b = {spread} = {blur}; MTF({fineness}, {defocus}) = {value_text(key, of)}"


def _worst(of: Answer) -> str:
    near, sharp, far = (value_text(f"focus.contrast.{end}", of) for end in ("near", "focus", "far"))
    return f"min({near}, {sharp}, {far}) = {value_text('focus.contrast.worst', of)}"


def _best(of: Answer) -> str:
    say, marks = Figures(of), of.kit.lens.f_numbers
    span = f"{say.stop(marks[0])} to {say.stop(marks[-1])}"
    return f"of the thirds from {span}, {value_text('focus.contrast.best_f_number', of)}"


def _best_worst(of: Answer) -> str:
    say, zone = Figures(of), of.focus.contrast
    mark = say.stop(zone.best_f_number) if zone else ""
    return f"the worst of near, focus and far at {mark}: {value_text('focus.contrast.best_worst', of)}"


WORKINGS = (
    told("focus.contrast.worst", _worst, _lens),
    told(
        "focus.contrast.near",
        lambda of: _end(of, of.focus.near_needed_mm, of.setup.near_mm, "focus.contrast.near"),
        _lens,
    ),
    told("focus.contrast.focus", lambda of: _in_focus(of, "focus.contrast.focus"), _lens),
    told(
        "focus.contrast.far", lambda of: _end(of, of.focus.far_needed_mm, of.setup.far_mm, "focus.contrast.far"), _lens
    ),
    told("focus.contrast.best_f_number", _best, on.both(on.f_number, _lens)),
    told("focus.contrast.best_worst", _best_worst, _lens),
    told(
        "focus.contrast.frequency_lpmm",
        _frequency,
        on.always("A line pair spans two circles of confusion side by side."),
    ),
)
