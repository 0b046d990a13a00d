"""Slip and slide: what the model does against the background over the move, and what the bench says of it."""

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words, move_text, moves
from forescale.engine.sheet.blocks import Block, Row, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.shot.rows import BenchRow
from forescale.engine.solve.slip_check import ON_AXIS_MM, best_place, slide_decimals
from forescale.engine.units import INCH_MM, angle_text, number_text, with_plus


def slide(voice: Words) -> Iterator[Row]:
    """Yield where the slide has no slip at the end of the move and, where the way there strays, where it holds best."""
    if not moves(voice.of):
        yield Row("Move", "none", "nothing can slip")
        return
    found, best = voice.of.slip, best_place(voice.of)
    yield Row("Move", move_text(voice.of), "through the line-up" if found.start_deg else "from the line-up, one way")
    if found.slide_mm is not None:
        yield Row("Slide", voice.reading(found.slide_mm), "reading on the head")
    zero, off = found.slide_for_zero_mm, found.tolerance_mm
    pixels = f"{number_text(found.tolerance_px)} px"
    if zero is not None:
        text = f"{zero:.{slide_decimals(found.tolerance_mm or None)}f}"
        remark = f"at the end of the {found.axis}, but too much on the way" if found.tolerance_mm == 0 else ""
        yield Row("Slide for no slip", voice.slide_text(text, zero), remark)
    if found.slide_best_mm is not None:
        if best is None:
            yield Row("Best slide", "no place", f"holds {pixels} on the way")
            return
        off = best[1]
        if zero is None or abs(best[0] - zero) > ON_AXIS_MM:
            place = f"{best[0]:.{slide_decimals(best[1])}f}"
            yield Row("Best slide", voice.slide_text(place, best[0]), "where the slip of the whole move is least")
    if off is not None:
        inches = f" ({voice.at_most(off / INCH_MM)} in)" if voice.imperial else ""
        told = f"± {voice.at_most(off)} mm{inches}" if math.isfinite(off) else "any amount"
        yield Row("Slide may be off", told, f"for {pixels}")


def slip(voice: Words) -> Iterator[Row]:
    """Yield what slips over the move."""
    if not moves(voice.of):
        return
    found = voice.of.slip
    if found.travel_mm is not None and found.travel_allowed_mm is not None:
        yield Row("Travel that passes", voice.no_more(found.travel_allowed_mm), f"of {voice.length(found.travel_mm)}")
    if (offset := found.offset_mm) is not None:
        if abs(offset) < ON_AXIS_MM:
            yield Row("Pupil off axis", "on the axis", f"within {ON_AXIS_MM:g} mm")
        else:
            yield Row("Pupil off axis", voice.pupil(offset, "the axis"))
    if found.slip_px is None or found.slip_mm is None:
        yield Row("Slip at the end", "not known", "needs the head, its slide reading and the lens's pupil")
    else:
        most = max(abs(found.slip_px), abs(found.largest_slip_px or 0.0))
        told = f"{with_plus(found.slip_px, 2)} px: {'may pass' if most <= found.tolerance_px else 'TOO MUCH'}"
        yield Row("Slip at the end", told, f"{with_plus(1000 * found.slip_mm, 2)} µm on the sensor")
    if found.largest_slip_px is not None and abs(found.largest_slip_px) > abs(found.slip_px or 0.0) * 1.01:
        yield Row("Largest slip", f"{with_plus(found.largest_slip_px, 2)} px", "on the way")
    if found.model_from_axis_mm is not None and found.background_from_axis_mm is not None:
        yield Row("Model from axis", voice.length(found.model_from_axis_mm))
        yield Row("Background from axis", voice.length(found.background_from_axis_mm))


def bench(voice: Words) -> Iterator[Block]:
    """Yield the readings of the bench and where they put the entrance pupil; nothing where none were taken."""
    rows, found = voice.of.setting.bench, voice.of.slip.bench
    if found is None:
        return
    kept = any(_read_with(voice, row) for row in rows)
    heads = ("No.", "Slide", "Slip", *(("Read with",) if kept else ()))
    lines = (
        (str(number), voice.reading(row.slide), _seen(voice, row), *((_read_with(voice, row),) if kept else ()))
        for number, row in enumerate(rows, start=1)
    )
    yield Table(heads, tuple(lines), frozenset({0}))
    if found.fault is not None:
        yield Row("No answer", found.fault)
    if found.slide_for_zero_mm is not None:
        error = found.std_error_mm
        sure = "" if error is None else f"± {voice.on_slide.about(error)}, two times of three"
        yield Row("Bench's zero", voice.slide(found.slide_for_zero_mm), sure)
    if found.band_mm is not None:
        yield Row("95 of 100 times within", f"± {voice.on_slide.about(found.band_mm)}")
    if found.pupil_ahead_mm is not None:
        yield Row("Bench's pupil", voice.pupil(found.pupil_ahead_mm, "the sensor plane"))
    if found.slope_px_per_mm is not None and found.slope_predicted_px_per_mm is not None:
        predicted = f"the geometry says {voice.slope(found.slope_predicted_px_per_mm).split(' ')[0]}"
        yield Row("Slope read", voice.slope(found.slope_px_per_mm), predicted)
    if found.bracket_mm is not None:
        for label, mm in zip(("Last lags at", "First outruns at"), found.bracket_mm, strict=True):
            yield Row(label, "no reading" if mm is None else voice.reading(mm))
    if found.try_next_mm is not None:
        yield Row("Next try the slide at", voice.slide(found.try_next_mm))


def _seen(voice: Words, row: BenchRow) -> str:
    if row.slip_px is not None:
        return f"{with_plus(row.slip_px, 6)} px"
    if (length := row.slip_at_background) is not None:
        return f"{'+' if length > 0 else '-' if length < 0 else ''}{voice.fine(abs(length))} at the background"
    return f"{row.seen}, by eye"


def _read_with(voice: Words, row: BenchRow) -> str:
    """Return what a reading says itself of kit and places."""
    focal = "" if row.focal_length is None else voice.focal(row.focal_length)
    model = "" if row.model is None else f"model at {voice.length(row.model)}"
    background = "" if row.background is None else f"background at {voice.length(row.background)}"
    own = None if row.sweep is None else f"{row.axis or voice.of.slip.axis} {angle_text(row.sweep)}"
    aim = "" if row.aim is None else f"lens {voice.tilted(row.aim)}"
    return ", ".join(filter(None, (clean(row.lens or ""), focal, clean(row.head or ""), own, aim, model, background)))
