"""The bench: the readings taken, and where they say that the entrance pupil is."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.sheet.blocks import Block, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.sections.slip import signed
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.records import BenchRow
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.units import number_text


def section(voice: Voice) -> Section | None:
    """Return the readings and what they say, where any were taken."""
    bench = voice.of.slip.bench
    if bench is None:
        return None
    return Section("Bench", (_readings(voice), *_found(voice, bench)), "the slip read at several places of the slide")


def _readings(voice: Voice) -> Table:
    """Return the readings as they were entered, with the kit they were taken with where that was kept."""
    rows = voice.of.setting.bench
    kept = any(_read_with(voice, row) for row in rows)
    heads = ("No.", "Slide", "Slip", *(("Read with",) if kept else ()))
    lines = tuple(
        (str(number), voice.reading(row.slide), _seen(voice, row), *((_read_with(voice, row),) if kept else ()))
        for number, row in enumerate(rows, start=1)
    )
    return Table(heads, lines, frozenset({0}))


def _seen(voice: Voice, row: BenchRow) -> str:
    if row.slip_px is not None:
        return f"{signed(row.slip_px, 6)} px"
    if row.slip_at_background is not None:
        sign = "+" if row.slip_at_background > 0 else "-" if row.slip_at_background < 0 else ""
        return f"{sign}{voice.fine(abs(row.slip_at_background))} at the background"
    return f"{row.seen}, by eye"


def _read_with(voice: Voice, row: BenchRow) -> str:
    """Return what a reading says itself of kit and places."""
    focal = "" if row.focal_length is None else f"{number_text(row.focal_length, 5)} mm"
    model = "" if row.model is None else f"model at {voice.length(row.model)}"
    background = "" if row.background is None else f"background at {voice.length(row.background)}"
    return ", ".join(part for part in (clean(row.lens or ""), focal, clean(row.head or ""), model, background) if part)


def _found(voice: Voice, bench: BenchAnswer) -> Iterator[Block]:
    if bench.fault is not None:
        yield Row("No answer", bench.fault)
    if bench.slide_for_zero_mm is not None:
        error = "" if bench.std_error_mm is None else f"standard error {number_text(bench.std_error_mm, 2)} mm"
        yield Row("Bench's zero", voice.slide(bench.slide_for_zero_mm), error)
    if bench.band_mm is not None:
        yield Row("95 of 100 times within", f"± {voice.slide(bench.band_mm)}")
    if bench.pupil_ahead_mm is not None:
        yield Row("Bench's pupil", voice.pupil(bench.pupil_ahead_mm, "the sensor plane"))
    if bench.slope_px_per_mm is not None and bench.slope_predicted_px_per_mm is not None:
        predicted = f"the geometry says {number_text(bench.slope_predicted_px_per_mm)}"
        yield Row("Slope read", f"{number_text(bench.slope_px_per_mm)} px", predicted)
    if bench.bracket_mm is not None:
        low, high = bench.bracket_mm
        yield Row("Last lags at", "no reading" if low is None else voice.reading(low))
        yield Row("First outruns at", "no reading" if high is None else voice.reading(high))
    if bench.try_next_mm is not None:
        yield Row("Next try the slide at", voice.slide(bench.try_next_mm))
