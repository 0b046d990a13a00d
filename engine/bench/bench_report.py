"""What the bench found, in sentences: the zero and its error, the pupil, whether that will do, what to read next.

And how to find the entrance pupil, in six steps for someone who never did it, with the shot's own numbers.
"""

import math
from collections.abc import Iterator
from dataclasses import astuple, replace
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.bench.bench_entry import BenchSetup, as_left, of_shot
from forescale.engine.findings.built import DEFER
from forescale.engine.findings.words import Words, with_advice
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.pupil import rows_text
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.turning import read_off_mm, worth_px_per_mm
from forescale.engine.units import angle_text, number_text, tape_text

AS_READ_MM = 0.05  # a zero on the bench that lies so near to that of the shot is the same
STEP_MM = 5.0  # places to read at are named to this, being easy to set
REACH_MM = 40.0  # how far to either side of the zero to read where no head tells how far the slide goes


class Told(NamedTuple):
    """A sentence on what was found, and whether it says that this will do."""

    text: str
    good: bool = False


def report(answer: Answer) -> tuple[Told, ...]:
    """Return what the bench found, the most wanted first; a line for no readings too."""
    bench = answer.slip.bench
    places = next_places(answer)
    named = " and ".join(map(Words(answer).on_slide.mark, places))
    if bench is None:
        more = f"Read at {named} first{', then between' if len(places) > 1 else ''}"
        return (Told("No readings yet"), *[Told(more)] * bool(places))
    found = (*map(Told, _zero(answer, bench)), *_enough(answer, bench), *map(Told, _pupil(answer, bench)))
    doubted = any(one.code in {"bench-contradicts", "bench-slope"} for one in answer.findings)  # first put right
    return (*found, *[Told(f"Read next at {named}")] * (bool(places) and not doubted)) or (Told("No zero yet"),)


def doubts(answer: Answer) -> tuple[str, ...]:
    """Return what is suspicious about the readings, the gravest first, with what to do about it."""
    told = {"bench-try-next", "bench-no-error"}
    doubted = (one for one in answer.findings if one.code.startswith("bench-") and one.code not in told)
    wrong = {"distance", "sweep"} & {*(answer.slip.bench.suspects if answer.slip.bench else ())}
    put_right = ". Key e puts distances and sweep right, of readings taken too" if wrong else ""
    return tuple(with_advice(one.text, one.by_hand) + put_right * (one.code == "bench-slope") for one in doubted)


def _zero(answer: Answer, bench: BenchAnswer) -> Iterator[str]:
    zero, error = bench.slide_for_zero_mm, bench.std_error_mm
    off = read_off_mm(answer)
    scale = Words(answer).on_slide
    if zero is not None and abs(off) >= AS_READ_MM:
        yield f"On the bench as read nothing slips at {scale.told(zero + off)}; in the shot, as its lens is aimed:"
    if bench.bracket_mm is None:
        if zero is not None and error is not None and bench.band_mm is not None:
            yield f"Zero at {scale.told(zero)} ± {scale.about(error)} (two times of three)"
        elif zero is not None:
            count = "one reading gives" if bench.slope_px_per_mm is None else "two readings give"
            yield f"Zero at {scale.told(zero)}; {count} no error"
        return
    low, high = bench.bracket_mm
    if zero is not None:
        yield f"By eye, locked at {scale.told(zero)}"
    if low is not None and high is not None:
        yield f"By eye, the zero lies between {scale.mark(low)} and {scale.mark(high)}"
    elif low is not None or high is not None:
        side, bound = ("above", low) if high is None else ("below", high)
        yield f"By eye, the zero lies {side} {scale.mark(bound or 0.0)}"
    elif zero is None:
        yield "By eye, the zero may lie anywhere yet"


def _enough(answer: Answer, bench: BenchAnswer) -> Iterator[Told]:
    """Set how far off the zero may be beside what may pass: the 95 % band, or by eye the bracket's farther end."""
    band, zero = bench.band_mm, bench.slide_for_zero_mm
    passes = passes_mm(answer)
    if bench.bracket_mm is not None:
        ends = [end for end in bench.bracket_mm if end is not None]
        zero = None if zero is None else zero + read_off_mm(answer)
        band = max(abs(end - zero) for end in ends) if zero is not None and len(ends) > 1 else None
    if not band or passes is None:
        return
    scale = Words(answer).on_slide
    sure = "by eye" if bench.bracket_mm is not None else "95 times of 100"
    said = "Good enough" if band <= passes else "Not good enough yet"
    within = f"the zero is {sure} within ± {scale.told(band, 2) if bench.bracket_mm is None else scale.mark(band)}"
    may = f"± {scale.at_most(passes)} may pass for {number_text(answer.slip.tolerance_px)} px"
    yield Told(f"{said}: {within}, and {may}", good=band <= passes)


def passes_mm(answer: Answer) -> float | None:
    """Return how far off the zero the slide may be, mm; None where all may pass, or nothing in a tilt that strays."""
    passes = answer.slip.tolerance_mm
    return passes if passes is not None and 0 < passes < math.inf else None


def _pupil(answer: Answer, bench: BenchAnswer) -> Iterator[str]:
    if bench.slide_for_zero_mm is None:
        return
    if bench.pupil_ahead_mm is None:
        yield "Where the pupil stands takes the head: name it in the kit to store the pupil"
        return
    slip = answer.slip
    scale = Words(answer).on_slide
    known = "the profile has none"
    if slip.pupil_known:
        known = f"the profile has {scale.told(slip.pupil_ahead_mm)}, {rows_text(slip.pupil_rows, answer.system)}"
    ahead = "ahead of" if bench.pupil_ahead_mm >= 0 else "behind"
    yield f"Entrance pupil {scale.told(abs(bench.pupil_ahead_mm))} {ahead} the sensor plane; {known}"


def next_places(answer: Answer) -> tuple[float, ...]:
    """Return where to set the slide next, mm: to either side of the zero, far apart, as spread lessens the error."""
    bench = answer.slip.bench
    head = answer.kit.head

    def tidy(place: float, low: float = -math.inf, high: float = math.inf) -> float:
        return min(max(round(place / STEP_MM) * STEP_MM, low), high)

    if bench is None:
        low, high = (head.slide_min, head.slide_max) if head else (0.0, 0.0)
        return tuple(tidy(low + share * (high - low), low, high) for share in (0.25, 0.75) if head)
    if bench.bracket_mm is not None:
        return () if bench.try_next_mm is None else (round(bench.try_next_mm, 1),)
    zero = bench.slide_for_zero_mm
    passes = passes_mm(answer)
    if zero is None or (bench.band_mm is not None and passes is not None and bench.band_mm <= passes):
        return ()
    zero += read_off_mm(answer)
    low, high = (head.slide_min, head.slide_max) if head else (tidy(zero - REACH_MM), tidy(zero + REACH_MM))
    if not low <= zero <= high:
        return ()
    sides = (tidy(low, low, high), tidy(high, low, high))
    taken = [row.slide for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit)]
    return tuple(side for side in sides if all(abs(side - slide) >= STEP_MM for slide in taken)) or sides


def stored_text(before: Answer, after: Answer) -> str:
    """Return what a stored pupil has changed: the pupil in force, the slide for no slip and the slip."""
    was, now = before.slip, after.slip
    scale = Words(after).on_slide
    told = [f"the pupil is now taken at {scale.told(now.pupil_ahead_mm)}"]
    told[0] += f", it was {scale.told(was.pupil_ahead_mm)}" if was.pupil_known else ", it was not known"
    if now.slide_for_zero_mm is not None:
        told.append(f"slide {scale.told(now.slide_for_zero_mm)} for no slip")
        if was.slide_for_zero_mm is not None:
            told[-1] += f", was {scale.told(was.slide_for_zero_mm)}"
    if now.slip_px is not None and now.slide_mm is not None:
        told.append(f"slip {number_text(now.slip_px, 2)} px")
        if was.slip_px is not None:
            told[-1] += f", was {number_text(was.slip_px, 2)} px"
    mark = tape_text(after.focus.focus_mm, after.system)
    return f"At {Words.focal(after.kit.focal_mm)} focused at {mark}: {'; '.join(told)}"


class BenchStep(NamedTuple):
    """One step: what is done, in a word or two, and how; the caution that belongs to it, or none."""

    title: str
    text: str
    caution: str = ""


def steps(answer: Answer, bench: BenchSetup | None = None) -> tuple[BenchStep, ...]:
    """Return the six steps for a bench set up so, or as its last reading left it; a level bar shows what slips up."""
    bench = bench or as_left(answer)
    near = "bar" if bench.axis in TILTS else "stick"
    return (*_set_up(answer, bench, near), *_read(answer, bench, near))


def _set_up(answer: Answer, bench: BenchSetup, near: str) -> Iterator[BenchStep]:
    kit = answer.kit
    system = answer.system
    tilts = bench.axis in TILTS
    near_at, far_at = tape_text(bench.near_mm, system), tape_text(bench.far_mm, system)
    where = f"{far_at} from that mark" if math.isfinite(bench.far_mm) else "as far off as can be seen"
    as_shot = bench == replace(of_shot(answer), axis=bench.axis, sweep_deg=bench.sweep_deg)
    here = "where model and background are" if as_shot else "where there is room: e sets how far"
    near_one = "Fix a thin straight bar level" if tilts else "Stand a thin straight stick"
    far_one = "The edge of a roof or a sill" if tilts else "The edge of a wall or a mast"
    yield BenchStep(
        "Two level bars" if tilts else "Two sticks",
        f"{near_one} {near_at} from the sensor-plane mark, and another {where}, {here}. "
        f"{far_one} will do for the far one.",
        f"Keep the far {near}, and whoever holds it, off roads and edges: {DEFER}.",
    )
    tilt = answer.setup.aim_deg
    aimed = f", not {Words.tilted(tilt)} as in the shot" if tilt else ""
    slide = "the slide" if kit.head is None else f"the slide of {kit.head.name}"
    shift = "raise or lower the whole camera" if tilts else "shift the whole tripod sideways"
    yield BenchStep(
        "Line them up",
        f"Level the head, and the lens with it: the bench is read and reckoned level{aimed}. "
        f"Set {Words.focal(kit.focal_mm)} and focus at {tape_text(answer.focus.focus_mm, system)}, and "
        f"leave both alone: the entrance pupil moves with them. Set {slide}, read its scale, then {shift} until the "
        f"near {near} covers the far one in the middle of the picture.",
        "Hold the camera while the slide is loose, and lock it before letting go: a heavy lens tips it.",
    )


def _read(answer: Answer, bench: BenchSetup, near: str) -> Iterator[BenchStep]:
    leaves = answer.slip.leaves_frame_deg
    sweep = angle_text(bench.sweep_deg)
    verb = {"tilt": "Tilt up", "tilt down": "Tilt down", "pan left": "Pan left"}.get(bench.axis, "Pan")
    own = "" if bench.sweep_deg == answer.slip.sweep_deg else ", the bench's own sweep; the shot keeps its own"
    turn = f"{verb} by {sweep}{own}, so that the {near}s cross to the picture's edge."
    if leaves is not None and leaves < bench.sweep_deg and bench.axis == answer.slip.axis:
        turn = (
            f"{verb} as far as the {near}s stay in the picture. The sweep is {sweep}, and they "
            f"leave it after {angle_text(leaves)}: set the bench's own sweep to {leaves * 0.9:.0f} deg with e."
        )
    yield BenchStep("Turn", turn)
    slope = worth_px_per_mm(answer, *astuple(bench))
    worth = f" Here, over {sweep}, a millimetre of slide is worth {number_text(slope, 2)} px." if slope else ""
    yield BenchStep(
        "Read",
        f"See how far the near {near} has come away from the far one. Plus if it outran it, going farther "
        f"{'up or down' if bench.axis in TILTS else 'across'} the picture; minus if it lagged; 0 if the two still "
        "stand together. Key a takes a reading: in pixels, counted on the recorded picture; as a length with its unit, "
        f"off a tape hung at the far {near}; or what the eye sees on a monitor: outruns, lags, locked.{worth}",
    )
    places = next_places(answer)
    advice = f" Next: {' and '.join(map(Words(answer).on_slide.mark, places))}." if places else ""
    yield BenchStep(
        "Slide, and again",
        f"Slide the camera elsewhere on its head; the {near}s stay where they are. Line up anew, and turn by the same "
        f"sweep. Three places at the least, far apart, some where it outruns and some where it lags: the error shrinks "
        f"with their spread.{advice}",
    )
    yield BenchStep(
        "Keep it",
        "Where nothing slips the lens turns about its entrance pupil. Others call that the nodal point, which is "
        f"another place in the lens. Key p sets the slide there; s writes the pupil into {answer.kit.lens.name}, for "
        f"every shot with this lens. Set the slide there and turn once more: the {near}s must stay together.",
    )
