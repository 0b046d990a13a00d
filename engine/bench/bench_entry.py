"""How the bench is set up, and a slip reading as it is typed and written out.

The sticks and the sweep may be the bench's own, in a workshop, or those of the shot.
"""

from collections.abc import Mapping
from dataclasses import astuple, dataclass
from typing import Any, Literal, get_args

from forescale.engine.answer import Answer
from forescale.engine.files.faults import read_model
from forescale.engine.formulas.bench_fit import Seen
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.profiles import Head
from forescale.engine.kit.slide_scale import scale_of
from forescale.engine.shot import edit
from forescale.engine.shot.rows import BenchRow
from forescale.engine.shot.sections import TILTS, Axis
from forescale.engine.units import EntryError, UnitSystem, length_text, number_text, parse_number, quoted

ReadBy = Literal["pixels", "tape", "eye"]

USUAL_SWEEP_DEG = 10.0
_SIGNS: dict[str, Seen] = {"+": "outruns", "-": "lags", "−": "lags", "0": "locked", "=": "locked"}
_USUAL_MM = 100.0  # a length that people read in inches or in mm, as slips on a tape are


@dataclass(frozen=True, slots=True)
class BenchSetup:
    """Over which move the bench is read, and how far from the sensor-plane mark its two sticks stand, mm."""

    axis: Axis
    sweep_deg: float
    near_mm: float
    far_mm: float


def of_shot(answer: Answer) -> BenchSetup:
    """Return the bench as the shot has it: its move, or a pan where it has none, and sticks at model and background."""
    move = answer.setting.move
    turns = move.axis != "none" and move.sweep != 0
    over: tuple[Axis, float] = (move.axis, move.sweep) if turns else ("pan", USUAL_SWEEP_DEG)
    return BenchSetup(*over, answer.lineup.model_mm, answer.setting.place.background)


def as_read(row: BenchRow, answer: Answer) -> BenchSetup:
    """Return the bench as it was for a reading, by the shot where the reading does not say."""
    shot = of_shot(answer)
    sweep = shot.sweep_deg if row.sweep is None else row.sweep
    return BenchSetup(row.axis or shot.axis, sweep, row.model or shot.near_mm, row.background or shot.far_mm)


def as_left(answer: Answer) -> BenchSetup:
    """Return the bench as it was for the last reading that counts, else as the shot has it."""
    rows = (row for row in reversed(answer.setting.bench) if taken_with(row, answer.setting, answer.kit))
    return next((as_read(row, answer) for row in rows), of_shot(answer))


def of_its_own(bench: BenchSetup, answer: Answer) -> dict[str, Any]:
    """Return what a reading must say of itself because the shot has it otherwise: the bench is read level, too."""
    move = answer.setting.move
    shot = (move.axis, move.sweep, answer.lineup.model_mm, answer.setting.place.background)
    named = zip(("axis", "sweep", "model", "background"), astuple(bench), shot, strict=True)
    aimed = {"aim": 0.0} if answer.setup.aim_deg else {}
    return {name: own for name, own, there in named if own != there} | aimed


def idle(bench: BenchSetup, answer: Answer) -> str:
    """Return why readings on a bench set up so count for nothing, in a clause; empty where they count."""
    setting = answer.setting
    row = BenchRow.model_construct(slide=0.0, axis=bench.axis)
    if taken_with(row, setting.model_copy(update={"bench": (*setting.bench, row)}), answer.kit):
        return ""
    this, that = ("tilt", "pan") if bench.axis in TILTS else ("pan", "tilt")
    while_so = f"the first reading is of a {that}" if setting.move.axis == "none" else f"the shot {that}s"
    return f"readings in a {this} count for nothing while {while_so}; a {that} finds the same pupil"


def taken_so(bench: BenchSetup, answer: Answer) -> tuple[BenchRow, ...]:
    """Return the readings, those that count as if sticks and sweep had been so for them too, about their own axes."""
    of = answer.setting
    own = {"sweep": bench.sweep_deg, "model": bench.near_mm, "background": bench.far_mm}
    other = [taken_with(r, of, answer.kit) and astuple(as_read(r, answer))[1:] != astuple(bench)[1:] for r in of.bench]
    return tuple(row.model_copy(update=own) if so else row for row, so in zip(of.bench, other, strict=True))


def way_of(row: BenchRow) -> ReadBy:
    """Return how a reading was taken."""
    return "pixels" if row.slip_px is not None else "tape" if row.slip_at_background is not None else "eye"


def read_slide(text: str, head: Head | None, system: UnitSystem) -> float:
    """Return a slide reading in mm, bare numbers as the slide is marked; EntryError where it is off the slide."""
    quantity, scale = edit.number_at(BenchRow, "slide"), scale_of(head, system)
    slide = quantity.read(edit.complete(quantity, scale.with_unit(text), "metric"))
    if head is not None and not head.slide_min - 1e-9 <= slide <= head.slide_max + 1e-9:
        raise EntryError(f"{scale.mark(slide)} is off the slide of {head.name}, which runs {scale.range(head)}")
    return slide


def read_slip(text: str, way: ReadBy, system: UnitSystem) -> dict[str, Any]:
    """Return the field of a reading that an entry stands for, as a file holds it; raises EntryError."""
    typed = " ".join(text.casefold().split())
    meant = [seen for seen in get_args(Seen) if typed and seen.startswith(typed)]
    if typed in _SIGNS and (way == "eye" or typed != "0"):  # a 0 may be a number
        meant = [_SIGNS[typed]]
    if len(meant) == 1:
        return {"seen": meant[0]}
    # A bare number is read in the way chosen; "px", a unit, and a word or its beginning say the way themselves.
    if typed.endswith("px") or way != "tape":
        try:
            pixels = parse_number(typed.removesuffix("px"))
            return {"slip_px": edit.number_at(BenchRow, "slip_px").check(pixels)}
        except EntryError:
            if typed.endswith("px"):
                raise
    ways = f"pixels as in -3.5 px, a tape's {'4 in' if system == 'imperial' else '10 cm'}, or outruns, lags, locked"
    right = f"write {'outruns, lags or locked, or +, - or 0' if way == 'eye' else ways}"
    if not typed or (way != "tape" and typed.isalpha()):
        raise EntryError(f"{quoted(text)} is no slip" if typed else "nothing entered", right)
    tape = edit.number_at(BenchRow, "slip_at_background")
    try:
        return {"slip_at_background": edit.complete(tape, text, system, _USUAL_MM)}
    except EntryError as error:
        raise EntryError(error.wrong, right) from None


def new_row(slide_mm: float, slip: dict[str, Any], own: Mapping[str, Any] | None = None) -> BenchRow:
    """Return a reading taken with the kit that the shot has, and as the shot is but for its `own`; raises BadInput."""
    row = read_model(BenchRow, {"slide": edit.number_at(BenchRow, "slide").show(slide_mm), **slip}, "bench")
    return row.model_copy(update=dict(own or {}))


def slip_text(row: BenchRow, system: UnitSystem) -> str:
    """Return a slip as an entry that reads back as the same."""
    if row.slip_px is not None:
        return f"{edit.number_at(BenchRow, 'slip_px').show(row.slip_px)} px"
    if row.slip_at_background is not None:
        return edit.number_at(BenchRow, "slip_at_background").show(row.slip_at_background, system)
    return str(row.seen)


def shown_slip(row: BenchRow, system: UnitSystem) -> str:
    """Return a slip as people read it, signed."""
    way, value = way_of(row), row.slip_px or row.slip_at_background or 0.0
    if way == "eye":
        return str(row.seen)
    far = f"{number_text(value, 5)} px" if way == "pixels" else f"{length_text(value, system, fraction=32)} tape"
    return f"{'+' if value > 0 else ''}{far}"


def in_words(row: BenchRow, system: UnitSystem) -> str:
    """Return what a slip says: how far, and which way the near target went against the far one."""
    way, value = way_of(row), row.slip_px or row.slip_at_background or 0.0
    went = f"the near target {'outran' if row.seen == 'outruns' or value > 0 else 'lagged behind'}"
    if row.seen == "locked" or (row.seen is None and value == 0):
        went = "the two stayed together"
    if way == "eye":
        return f"by eye: {went}{'' if row.seen == 'locked' else ' the far one'}"
    if way == "pixels":
        return f"{number_text(abs(value), 5)} px: {went}"
    return f"{length_text(abs(value), system, fraction=32)} on the tape at the background: {went}"
