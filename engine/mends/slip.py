"""What may mend the slip: where the slide goes, a smaller turn, a reading less."""

from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.kit.kit import taken_with
from forescale.engine.mends.taking import Offers, less_turn
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.units import number_text


def slide(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield where to set the slide, and a smaller turn."""
    goal, stood = slide_goal(of), of.setting.move.slide
    if goal is not None:
        by, price = 0.0 if stood is None else goal.to_set_mm - stood, ""
        if by:
            forward, up = of.setup.level(by), of.setup.rise(by)
            told = goal.scale.told if up else goal.scale.mark
            stands = f"{told(abs(forward))} {'nearer' if by > 0 else 'farther'}"
            lens = f", and the lens {goal.scale.told(abs(up))} {'higher' if up > 0 else 'lower'}" if up else ""
            price = f"what was taped before it then stands {stands}{lens}"
        yield Mend("", {"move.slide": goal.scale.mark(goal.to_set_mm, 9)}, price)
    if finding.code != "slide-to-set":
        yield from turn_less(of, finding)


def turn_less(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield a smaller turn, and what another head would do."""
    yield from less_turn(of, finding)
    if of.setting.move.axis in TILTS:
        yield Mend("bring the tilt axis nearer to the lens axis")
    elif finding.code == "slide-out-of-reach":
        yield Mend("take another head")


def less_travel(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield as much of the travel as the slip lets pass."""
    allowed, travel = of.slip.travel_allowed_mm, of.setting.move.travel
    if allowed and travel is not None:
        yield Mend("", {"move.travel": f"{Words(of).no_more(allowed)} {travel.way}"}, "a shorter travel")


def reading_out(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the bench without a reading that contradicts the others, of which each has its finding, in their order."""
    alike = [one for one in of.findings if one.code == finding.code]
    doubted = of.slip.bench.contradicting if of.slip.bench else ()
    yield Mend("", {f"bench.{doubted[alike.index(finding)] + 1}": None}, "one reading less")


def others_out(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the bench without what was taken with other kit."""
    rows = enumerate(of.setting.bench, start=1)
    yield Mend("", {f"bench.{number}": None for number, row in rows if not taken_with(row, of.setting, of.kit)})


def slips_turned(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the readings with their slips counted the other way, where it is the sign that is in doubt."""
    bench, rows = of.slip.bench, of.setting.bench
    if bench is None or bench.suspects != ("direction",) or any(row.slip_px is None for row in rows):
        return
    turned = [number_text(-(row.slip_px or 0.0), 9) for row in rows]
    changes: dict[str, str | None] = {f"bench.{number}.slip_px": px for number, px in enumerate(turned, start=1)}
    yield Mend(f"count the slips as {', '.join(turned)} px", changes, "right where it was they that ran backwards")


OFFERS: tuple[tuple[Offers, str], ...] = (
    (slide, "slip-hair slip-over slip-uncertain slide-to-set piece-slips"),
    (turn_less, "slide-none-holds slide-out-of-reach slide-too-coarse"),
    (less_travel, "travel-over"),
    (reading_out, "bench-contradicts"),
    (others_out, "bench-other-kit"),
    (slips_turned, "bench-slope"),
)
