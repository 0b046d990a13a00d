"""The Scale pane: ratio, what it builds, where it stands, and the line-up."""

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.formulas.lineup import SIZE_RIGHT
from forescale.engine.shot.sections import PANS, TILTS
from forescale.engine.units import number_text, ratio_text
from forescale.tui.diagrams import views
from forescale.tui.panes.content import AnswerRow, PaneContent, fields, length, set_here

FRAME = 31  # columns that one row of the narrowest pane of three has for the frame's size


def content(answer: Answer) -> PaneContent:
    """Return what the pane holds for an answer."""
    ratio, scale = answer.lineup.reads_as_ratio, answer.scale
    reads_as = "no ratio" if ratio == float("inf") else ratio_text(float(f"{ratio:.3g}"))
    to_the_foot = f"{number_text(scale.inches_per_foot, 3)} in/ft"
    if answer.system == "metric":
        to_the_foot = f"{number_text(1000 / scale.ratio, 3)} mm/m"
    hints = {"scale.ratio": to_the_foot, "place.model": f"as {reads_as}", "scale.rounding": scale.rounding}
    return PaneContent(
        fields=fields("scale.ratio place.model place.background place.lens_height place.feature_height", hints),
        more_fields=fields("place.aim place.seems_at place.fills place.mount scale.compare scale.rounding", hints),
        to_set=set_here(answer, "lineup.hang_height_mm" if answer.lineup.hang_height_mm else "lineup.foot_height_mm"),
        answers=tuple(_answers(answer)),
        diagrams=(views.side,),
    )


def _answers(answer: Answer) -> Iterator[AnswerRow]:
    lined, system, scale, words = answer.lineup, answer.system, answer.scale, Words(answer)
    wrong = lined.size_error - 1
    if lined.size_error == float("inf"):
        yield AnswerRow("no size to match at infinity", "lineup.size_error")
    else:
        off = f"{Words.off(wrong)} {'large' if wrong > 0 else 'small'}"
        size = "size right" if abs(wrong) < SIZE_RIGHT else off
        yield AnswerRow(f"match at {length(lined.match_distance_mm, system)}: {size}", "lineup.match_distance_mm")
    if scale.build:
        first = scale.build[0]
        yield AnswerRow(first.shop, "scale.build.model_mm", name=first.part)
    wide, high = length(lined.frame_width_model_mm, system), length(lined.frame_height_model_mm, system)
    frame = f"frame {wide} × {high}"
    if len(frame) <= FRAME:
        yield AnswerRow(f"frame at model {wide} × {high}", "lineup.frame_width_model_mm", frame)
    else:
        yield AnswerRow(f"frame at model {wide} across", "lineup.frame_width_model_mm", f"frame {wide} across")
        yield AnswerRow(f"frame at model {high} up", "lineup.frame_height_model_mm", f"frame {high} up")
    if answer.setting.move.axis in PANS:
        yield AnswerRow(f"cover across {length(lined.cover_width_mm, system)}", "lineup.cover_width_mm")
    elif answer.setting.move.axis in TILTS:
        yield AnswerRow(f"cover up, down {length(lined.cover_height_mm, system)}", "lineup.cover_height_mm")
    yield AnswerRow(f"camera may drift {words.within(lined.drift_tolerance_mm)}", "lineup.drift_tolerance_mm")
    yield AnswerRow(f"model may be off {words.within(lined.place_tolerance_mm)}", "lineup.place_tolerance_mm")
    fine, real = scale.finest_model_mm or scale.detail_model_mm, scale.finest_real_mm or scale.detail_real_mm
    yield AnswerRow(f"finest: {words.small(fine)} is {words.small(real)} real", "scale.finest_model_mm")
    hangs = answer.setting.place.mount == "hangs"
    if lined.hang_height_mm is not None and lined.foot_height_mm is not None and not hangs:
        yield AnswerRow(f"table height {length(lined.foot_height_mm, system)}", "lineup.foot_height_mm")
    for item in scale.build[1:]:
        yield AnswerRow(item.shop, "scale.build.model_mm", name=item.part)
    for stock in scale.stock:
        reads = f"reads as {length(stock.reads_as_mm, system)}"
        yield AnswerRow(reads, "scale.stock.reads_as_mm", name=stock.item)
