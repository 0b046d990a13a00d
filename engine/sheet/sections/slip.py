"""Slip and slide: what the model does against the background over the move."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import move_text, moves
from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.voice import Voice
from forescale.engine.solve.slide_goal import best_place, slide_decimals
from forescale.engine.units import number_text

ON_AXIS_MM = 0.05  # no slide is read finer


def section(voice: Voice) -> Section:
    """Return the slip of the move and where the slide should stand."""
    note = "+ is the model outrunning the background: slide the camera back; - is it lagging: slide forward"
    if not moves(voice.of):
        return Section("Slip and slide", (Row("Move", "none", "nothing can slip"),))
    return Section("Slip and slide", tuple(_rows(voice)), note)


def _rows(voice: Voice) -> Iterator[Row]:
    slip = voice.of.slip
    yield Row("Move", move_text(voice.of), "through the line-up" if slip.start_deg else "from the line-up, one way")
    if slip.slide_mm is not None:
        yield Row("Slide", voice.reading(slip.slide_mm), "reading on the head")
    yield from _to_set(voice)
    if slip.travel_mm is not None and slip.travel_allowed_mm is not None:
        yield Row("Travel that passes", voice.no_more(slip.travel_allowed_mm), f"of {voice.length(slip.travel_mm)}")
    if slip.offset_mm is not None:
        yield _pupil(voice, slip.offset_mm)
    yield Row("Slip at the end", *_slip(voice))
    if slip.largest_slip_px is not None and abs(slip.largest_slip_px) > abs(slip.slip_px or 0.0) * 1.01:
        yield Row("Largest slip", f"{signed(slip.largest_slip_px, 2)} px", "on the way")
    if slip.model_from_axis_mm is not None and slip.background_from_axis_mm is not None:
        yield Row("Model from axis", voice.length(slip.model_from_axis_mm))
        yield Row("Backing from axis", voice.length(slip.background_from_axis_mm))


def _pupil(voice: Voice, offset_mm: float) -> Row:
    if abs(offset_mm) < ON_AXIS_MM:
        return Row("Pupil off axis", "on the axis", f"within {ON_AXIS_MM:g} mm")
    return Row("Pupil off axis", voice.pupil(offset_mm, "the axis"))


def _to_set(voice: Voice) -> Iterator[Row]:
    """Say where the slide has no slip at the end of the move and, where the way there strays, where it holds best."""
    slip, best = voice.of.slip, best_place(voice.of)
    zero, allowed = slip.slide_for_zero_mm, f"for {number_text(slip.tolerance_px)} px"
    if zero is not None:
        text = f"{zero:.{slide_decimals(slip.tolerance_mm or None)}f}"
        remark = f"at the end of the {slip.axis}, but too much on the way" if slip.tolerance_mm == 0 else ""
        yield Row("Slide for no slip", voice.slide_text(text, zero), remark)
    if slip.slide_best_mm is None:
        if slip.tolerance_mm is not None:
            off = slip.tolerance_mm
            yield Row("Slide may be off", voice.slide_within(off) if math.isfinite(off) else "any amount", allowed)
        return
    if best is None:
        yield Row("Best slide", "no place", f"holds {number_text(slip.tolerance_px)} px on the way")
        return
    if zero is None or abs(best[0] - zero) > ON_AXIS_MM:
        place = f"{best[0]:.{slide_decimals(best[1])}f}"
        yield Row("Best slide", voice.slide_text(place, best[0]), "where the slip of the whole move is least")
    yield Row("Slide may be off", voice.slide_within(best[1]) if math.isfinite(best[1]) else "any amount", allowed)


def _slip(voice: Voice) -> tuple[str, str]:
    slip = voice.of.slip
    if slip.slip_px is None or slip.slip_mm is None:
        return "not known", "needs the head, its slide reading and the lens's pupil"
    most = max(abs(slip.slip_px), abs(slip.largest_slip_px or 0.0))
    verdict = "may pass" if most <= slip.tolerance_px else "TOO MUCH"
    return f"{signed(slip.slip_px, 2)} px: {verdict}", f"{signed(1000 * slip.slip_mm, 2)} µm on the sensor"


def signed(value: float, digits: int) -> str:
    """Return a number to so many digits with its sign, no sign for nothing."""
    return f"{'+' if value > 0 else ''}{number_text(value, digits)}"
