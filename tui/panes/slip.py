"""The Slip check pane: where the lens turns, what that does to the model, where to set the slide, the bench."""

import math
from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words, moves
from forescale.engine.kit.slide_scale import rows_text
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.units import number_text
from forescale.tui.diagrams import curves, views
from forescale.tui.panes.content import AnswerRow, PaneContent, fields, length


def content(answer: Answer) -> PaneContent:
    """Return what the pane holds for an answer."""
    goal = slide_goal(answer)
    to_set = "" if goal is None else f"set {goal.to_set_text}{'' if goal.end_mm is None else ', its end'}"
    hints = {"move.slide": to_set, "move.tolerance": "px may pass"}
    return PaneContent(
        fields=fields("move.axis move.sweep move.slide move.tolerance", hints),
        more_fields=fields("move.screen_time move.start move.tilt_sweep move.travel", {}),
        answers=(*_answers(answer), *_pupil(answer)),
        diagrams=(views.plan, curves.slip_in_move),
    )


def _answers(answer: Answer) -> Iterator[AnswerRow]:
    checked = answer.slip
    if not moves(answer):
        yield AnswerRow("locked off: nothing slips", "slip.slip_px")
    elif checked.slip_px is None:
        yield AnswerRow("slip not known", "slip.slip_px")
    else:
        yield _slips(checked.slip_px, checked.largest_slip_px or 0.0)
    yield from _slide(answer)
    yield from _bench(answer)


def _slips(at_end_px: float, most_px: float) -> AnswerRow:
    """Say what slips by the end of the move, or on the way where that is more."""
    on_the_way = abs(most_px) > max(1.01 * abs(at_end_px), 0.1)
    slips, when = (most_px, " on the way") if on_the_way else (at_end_px, "")
    by = "under 0.1" if abs(slips) < 0.1 else number_text(abs(slips), 2)
    key = "slip.largest_slip_px" if on_the_way else "slip.slip_px"
    return AnswerRow(f"model {'outruns' if slips > 0 else 'lags'} by {by} px{when}", key)


def _slide(answer: Answer) -> Iterator[AnswerRow]:
    """Say at which reading the move holds, whether or not the head reaches so far."""
    zero, goal = answer.slip.slide_for_zero_mm, slide_goal(answer)
    if goal is not None:
        within = "" if math.isinf(goal.within_mm) else f" ± {goal.within_text}"
        bare = goal.place_text.removesuffix(f" {goal.scale.unit}") if within else goal.place_text
        text = f"holds with the slide at {goal.place_text}{within}"
        yield AnswerRow(text, "slip.slide_for_zero_mm", f"slide {bare}{within}")
    elif zero is not None:
        text = f"no slip at the end at {Words(answer).on_slide.told(zero)}, too much on the way"
        yield AnswerRow(text, "slip.slide_for_zero_mm", "no place of the slide holds")


def _bench(answer: Answer) -> Iterator[AnswerRow]:
    found, scale = answer.slip.bench, Words(answer).on_slide
    if found is None:
        return
    if found.slide_for_zero_mm is not None:
        error = "" if found.std_error_mm is None else f" ± {scale.number(found.std_error_mm)}"
        zero = f"{scale.number(found.slide_for_zero_mm)}{error} {scale.unit}"
        yield AnswerRow(f"bench: zero at {zero}", "slip.bench.slide_for_zero_mm")
    elif found.try_next_mm is not None:
        yield AnswerRow(f"bench: try {scale.told(found.try_next_mm)} next", "slip.bench.try_next_mm")


def _pupil(answer: Answer) -> Iterator[AnswerRow]:
    checked, scale = answer.slip, Words(answer).on_slide
    known = f"{scale.told(checked.pupil_ahead_mm)} ahead of the sensor" if checked.pupil_known else "not known"
    yield AnswerRow(f"pupil {known}", "slip.pupil_ahead_mm")
    if checked.pupil_rows:
        yield AnswerRow(f"  {rows_text(checked.pupil_rows, answer.system)}", "slip.pupil_ahead_mm")
    if (offset := checked.offset_mm) is not None:
        yield AnswerRow(f"pupil {'+' if offset >= 0 else ''}{scale.told(offset)} from the axis", "slip.offset_mm")
    if checked.model_from_axis_mm is not None:
        far = length(checked.model_from_axis_mm, answer.system)
        yield AnswerRow(f"model {far} from the axis", "slip.model_from_axis_mm")
