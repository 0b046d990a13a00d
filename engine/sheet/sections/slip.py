"""Slip and slide, and the bench."""

from __future__ import annotations

import math
from collections.abc import Iterator

from engine.answer.groups import BenchAnswer
from engine.sheet.blocks import Block, Row, Section, Table
from engine.sheet.voice import Voice
from engine.shot import BenchRow
from engine.units import angle_text, number_text


def section(voice: Voice) -> Section:
    """Return the slip of the move and where the slide should stand."""
    note = "+ is the model outrunning the background: slide the camera back; - is it lagging: slide forward"
    slip = voice.of.slip
    if slip.axis == "none" or slip.sweep_deg == 0:
        return Section("Slip and slide", (Row("Move", "none", "nothing can slip"),))
    return Section("Slip and slide", tuple(_rows(voice)), note)


def _rows(voice: Voice) -> Iterator[Row]:
    slip = voice.of.slip
    yield Row("Move", f"{slip.axis} {angle_text(slip.sweep_deg)}", "from the line-up, one way")
    if slip.slide_mm is not None:
        yield Row("Slide stands at", voice.reading(slip.slide_mm), "reading on the head")
    if slip.slide_for_zero_mm is not None:
        yield Row("Slide for no slip", voice.slide(slip.slide_for_zero_mm))
    if slip.tolerance_mm is not None:
        allowed = f"for {number_text(slip.tolerance_px)} px"
        off = slip.tolerance_mm
        yield Row("Slide may be off", f"± {voice.slide(off)}" if math.isfinite(off) else "any amount", allowed)
    if slip.offset_mm is not None:
        yield Row("Pupil stands", voice.pupil(slip.offset_mm), "of the axis")
    yield Row("Slip over the move", *_slip(voice))
    if slip.model_from_axis_mm is not None and slip.background_from_axis_mm is not None:
        yield Row("Model from the axis", voice.length(slip.model_from_axis_mm))
        yield Row("Background from axis", voice.length(slip.background_from_axis_mm))


def _slip(voice: Voice) -> tuple[str, str]:
    slip = voice.of.slip
    if slip.slip_px is None or slip.slip_mm is None:
        return "not known", "needs the head, its slide reading and the lens's pupil"
    verdict = "may pass" if abs(slip.slip_px) <= slip.tolerance_px else "TOO MUCH"
    return f"{_signed(slip.slip_px)} px: {verdict}", f"{_signed(slip.slip_mm)} mm on the sensor"


def _signed(value: float) -> str:
    return f"{'+' if value > 0 else ''}{number_text(value, 2)}"


def bench_section(voice: Voice) -> Section | None:
    """Return the readings and what they say, where any were taken."""
    bench = voice.of.slip.bench
    if bench is None:
        return None
    return Section(
        "Bench",
        (_readings(voice), *_found(voice, bench)),
        "slip read at places of the slide; the zero by least squares",
    )


def _readings(voice: Voice) -> Table:
    rows = tuple(
        (str(number), voice.reading(row.slide), _seen(voice, row))
        for number, row in enumerate(voice.of.setting.bench, start=1)
    )
    return Table(("No.", "Slide", "Slip"), rows, frozenset({0}))


def _seen(voice: Voice, row: BenchRow) -> str:
    if row.slip_px is not None:
        return f"{_signed(row.slip_px)} px"
    if row.slip_at_background is not None:
        sign = "+" if row.slip_at_background > 0 else "-" if row.slip_at_background < 0 else ""
        return f"{sign}{voice.fine(abs(row.slip_at_background))} at the background"
    return f"{row.seen}, by eye"


def _found(voice: Voice, bench: BenchAnswer) -> Iterator[Block]:
    if bench.fault is not None:
        yield Row("No answer", bench.fault)
    if bench.slide_for_zero_mm is not None:
        error = "" if bench.std_error_mm is None else f"± {voice.slide(bench.std_error_mm)} (standard error)"
        yield Row("Slide for no slip", voice.slide(bench.slide_for_zero_mm), error)
    if bench.pupil_ahead_mm is not None:
        yield Row("Entrance pupil found", voice.pupil(bench.pupil_ahead_mm), "of the sensor plane")
    if bench.slope_px_per_mm is not None and bench.slope_predicted_px_per_mm is not None:
        predicted = f"the geometry says {number_text(bench.slope_predicted_px_per_mm)}"
        yield Row("Slip for 1 mm of slide", f"{number_text(bench.slope_px_per_mm)} px", predicted)
    if bench.bracket_mm is not None:
        low, high = bench.bracket_mm
        between = [
            f"from {voice.slide(low)}" if low is not None else "",
            f"to {voice.slide(high)}" if high is not None else "",
        ]
        yield Row("No slip lies", " ".join(part for part in between if part) or "anywhere yet")
    if bench.try_next_mm is not None:
        yield Row("Next try the slide at", voice.slide(bench.try_next_mm))
