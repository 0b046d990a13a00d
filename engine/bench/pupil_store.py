"""Putting a pupil that the bench found into the lens's profile, where every shot with that lens finds it."""

from datetime import date
from pathlib import Path
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.bench.bench_report import passes_mm
from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.findings.words import Words
from forescale.engine.formulas.chances import NORMAL_95
from forescale.engine.kit import library
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.profiles import Lens, PupilRow
from forescale.engine.kit.pupil import same
from forescale.engine.solve.slip_check import slide_decimals

DECIMALS = 2  # of a mm: a hundredth is far finer than any bench finds a pupil


class Stored(NamedTuple):
    """What was written: the file, the row, the rows that it took the place of; `copied` from a shipped lens."""

    path: Path
    row: PupilRow
    replaced: tuple[PupilRow, ...]
    copied: bool


def found_row(answer: Answer, today: date) -> PupilRow:
    """Return the pupil that the bench gives, for the focus of its last reading; raises BadInput for none.

    Its uncertainty is the one whose 1.96 times hold the pupil 95 times of 100, as the bench's band does: with few
    readings it is more than their standard error.
    """
    bench = answer.slip.bench
    kit = answer.kit
    if bench is None:
        raise BadInput(Fault("there are no readings yet", "take some, and the pupil comes of them"))
    if bench.fault is not None:
        raise BadInput(Fault(f"the bench has no zero: {bench.fault}"))
    if bench.slide_for_zero_mm is None:
        raise BadInput(Fault("the readings by eye only bound the zero", "go on until one looks locked"))
    if kit.head is None or bench.pupil_ahead_mm is None:
        zero = f"the zero is {Words(answer).on_slide.told(bench.slide_for_zero_mm)} on the slide"
        right = "name the head in the kit, with its sensor_at_zero"
        raise BadInput(Fault(f"{zero}, but where that puts the pupil takes the head", right))
    read_at = [row.focus for row in answer.setting.bench if taken_with(row, answer.setting, kit)][-1]
    error = None if bench.band_mm is None else bench.band_mm / NORMAL_95
    return PupilRow.model_construct(
        # two a hair apart would not serve each other's focus marks
        focal_length=next((r.focal_length for r in kit.lens.pupil if same(r.focal_length, kit.focal_mm)), kit.focal_mm),
        focus=round(read_at or answer.focus.focus_mm, 1),
        ahead=round(bench.pupil_ahead_mm, DECIMALS),
        uncertainty=None if error is None else max(round(error, DECIMALS), 0.01),
        measured=today,
    )


def store(loaded: Lens, row: PupilRow) -> Stored:
    """Put a pupil row into a lens of the user's own, for any at the same place; raises ChangedElsewhere, BadInput."""
    entry = library.refuse_changed("lenses", loaded, "nothing was written")
    replaced = tuple(r for r in loaded.pupil if same(r.focal_length, row.focal_length) and same(r.focus, row.focus))
    if replaced:  # the bench finds where the pupil is, not how wide
        row = row.model_copy(update={"pupil_magnification": replaced[0].pupil_magnification})
    kept = (old for old in loaded.pupil if old not in replaced)
    rows = sorted((*kept, row), key=lambda one: (one.focal_length, one.focus))
    path = library.save_profile("lenses", loaded.model_copy(update={"pupil": tuple(rows)}))
    return Stored(path, row, replaced, copied=entry.shipped)


def zero_to_set(answer: Answer) -> tuple[float, str]:
    """Return the slide reading that turns the lens about its pupil, and who found that; raises BadInput."""
    bench = answer.slip.bench
    head = answer.kit.head
    scale = Words(answer).on_slide
    found = None if bench is None else bench.slide_for_zero_mm
    zero = answer.slip.slide_for_zero_mm if found is None else found
    source = "from the pupil in the lens's profile" if found is None else "as the bench found it"
    if zero is None:
        raise BadInput(Fault("no zero is known yet", "take readings, or store a pupil and name the head"))
    if head is not None and not head.slide_min <= zero <= head.slide_max:
        wrong = f"the zero would be at {scale.told(zero)}, and {head.name} runs from {scale.range(head)}"
        raise BadInput(Fault(wrong, "take another head, or move the camera on its plate"))
    return scale.told_mm(zero, slide_decimals(passes_mm(answer))), source


def objection(answer: Answer) -> str:
    """Return why a pupil had better not be stored yet, in a clause; empty where nothing speaks against it."""
    bench = answer.slip.bench
    passes = passes_mm(answer)
    scale = Words(answer).on_slide
    if bench is None:
        return ""
    warnings = (one.text for one in answer.findings if one.code.startswith("bench-") and one.level == "warn")
    if warning := next(warnings, ""):
        return f"{warning[0].lower()}{warning[1:]}"
    if bench.bracket_mm is None and bench.band_mm is None:
        return "with fewer than three readings nothing tells by how much it may be wrong"
    if bench.band_mm is not None and passes is not None and bench.band_mm > passes:
        return f"it may be off by {scale.about(bench.band_mm)}, and {scale.at_most(passes)} may pass"
    return ""


def told_stored(stored: Stored, words: Words) -> str:
    """Return what was written, and where."""
    row = stored.row
    scale = words.on_slide
    sure = "one standard error: what holds it 95 times of 100, over 1.96"
    error = "" if row.uncertainty is None else f" ± {scale.about(row.uncertainty)} ({sure})"
    took = f", replacing {scale.told(stored.replaced[0].ahead, DECIMALS)}" if stored.replaced else ""
    copied = "; the built-in lens stays as it is, and your copy now stands before it" if stored.copied else ""
    back = "deleting your copy in the kit" if stored.copied else "changing the row in the kit"
    pupil = f"{scale.told(abs(row.ahead), DECIMALS)}{error} {'ahead of' if row.ahead >= 0 else 'behind'}"
    told = f"Stored in {stored.path.stem}, for focus at {words.length(row.focus)}: pupil {pupil} the sensor plane"
    return f"{told}{took}{copied}. Undo does not reach a profile: {back} takes it back"
