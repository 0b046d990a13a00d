"""A reading of the survey as it is typed, field by field, and as it is shown."""

from __future__ import annotations

import re
from typing import Any

from forescale.engine import units
from forescale.engine.answer import Answer
from forescale.engine.fields.kinds import Quantity
from forescale.engine.moved.kept import SURVEY_WITH
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import ShareOf, SurveyRow
from forescale.engine.units import EntryError, number_text

FIELDS = (
    *("name", "frame_share", "feature_width", "feature_height"),
    *("elevation", "elevation_nearer", "nearer_by", "visibility"),
)
PLACE = ("place.background", "place.lens_height")
BLANK = SurveyRow()
_READ = frozenset({"frame_share", "elevation", "elevation_nearer", "nearer_by"})  # read anew they count as read now
_USUAL_MM = {"visibility": 16_000_000.0}  # a bare visibility is in km or miles
_SIDE = re.compile(r"[\s,]*(?:of\s+)?(?:the\s+)?(width|wide|height|high)$")
_LEFT = re.compile(r"[\s,]*(?:by|at)?\s*([25])\s*%$")


def path(number: int, name: str) -> str:
    """Return the path of a field of a reading, of the first without its number."""
    return f"survey.{name}" if number == 1 else f"survey.{number}.{name}"


def row_of(answer: Answer, number: int) -> SurveyRow:
    """Return a reading as it was taken; a blank one behind the last."""
    taken = answer.setting.survey
    return taken[number - 1] if number <= len(taken) else BLANK


def read_share(text: str, width_px: int) -> float:
    """Return the share that 0.22, "22 %", "450 px" (of `width_px`) or "450/2048 px" stands for; EntryError."""
    typed = text.casefold().replace("of", "/")
    quantity = edit.quantity_of(Setting, "survey.frame_share")
    assert quantity is not None
    if "px" in typed:
        over, _, under = typed.replace("px", "").partition("/")
        pixels = units.parse_number(under) if under else width_px
        if pixels <= 0:
            raise EntryError(f"a picture {number_text(pixels)} px wide has no shares", "write 450/2048 px")
        share = units.parse_number(over) / pixels
    else:
        share = quantity.parse(typed)
    if share > 1:
        raise EntryError(f'"{text.strip()}" is more than the whole frame', f"write 22 %, 0.22 or 450/{width_px} px")
    return quantity.check(share)


def share_text(share: float, of: ShareOf = "width", pixels: int | None = None) -> str:
    """Return a share of a side of the frame, "22 % of the height", with the pixels that it is of a side so long."""
    percent = f"{number_text(100 * share, 4)} % of the frame's {of}"
    return percent if pixels is None else f"{percent}, {number_text(share * pixels, 4)} px"


def changes(answer: Answer, number: int, name: str, text: str) -> tuple[dict[str, Any], str]:
    """Return the changes of the shot that an entry at a field stands for, and what was understood; EntryError.

    What is read anew is read with what the shot has now. A share may say of which side it is, "22 % of the
    height", a visibility by what is left, "8 km by 2 %".
    """
    if name in PLACE:
        held, read = edit.entry(name, text, answer.setting, answer.system, edit.value_at(answer.setting, name))
        return {name: held}, read
    fresh = {path(number, kept): None for kept in SURVEY_WITH if name in _READ and number <= len(answer.setting.survey)}
    at, row, typed = path(number, name), row_of(answer, number), text.strip().casefold()
    if name == "frame_share":
        said, mode = _SIDE.search(typed), answer.kit.mode
        side: ShareOf = row.share_of if said is None else "height" if said[1] in {"height", "high"} else "width"
        pixels = mode.height_px if side == "height" else mode.width_px
        share = read_share(_SIDE.sub("", typed), pixels)
        return {at: share, path(number, "share_of"): side} | fresh, share_text(share, side, pixels)
    if name == "visibility":
        said = _LEFT.search(typed)
        by, shown = row.visibility_by if said is None else f"{said[1]} %", row.visibility or _USUAL_MM[name]
        held, read = edit.entry(at, _LEFT.sub("", typed), answer.setting, answer.system, shown)
        return {at: held, path(number, "visibility_by"): by}, f"{read}, with {by} of the contrast left"
    held, read = edit.entry(at, text, answer.setting, answer.system, getattr(row, name))
    return {at: held} | fresh, read


def cleared(number: int, name: str) -> dict[str, None]:
    """Return the changes that leave a field out."""
    side = {"frame_share": "share_of", "visibility": "visibility_by"}.get(name)
    return {path(number, one): None for one in (name, side) if one} if name not in PLACE else {name: None}


def _held(answer: Answer, number: int, name: str) -> tuple[Any, Quantity | None]:
    """Return what stands at a field, and its kind."""
    if name in PLACE:
        return edit.value_at(answer.setting, name), edit.quantity_of(Setting, name)
    return getattr(row_of(answer, number), name), edit.quantity_of(SurveyRow, name)


def value_text(answer: Answer, number: int, name: str) -> str:
    """Return the value at a field as an entry that reads back as the same; empty where none is set."""
    row, (value, quantity) = row_of(answer, number), _held(answer, number, name)
    if name == "frame_share" and value is not None:
        return f"{100 * value:.12g} %" + (" of the height" if row.share_of == "height" else "")
    text = edit.text_of(value, quantity, answer.system)
    return f"{text} by {row.visibility_by}" if text and name == "visibility" and row.visibility_by != "5 %" else text


def shown_text(answer: Answer, number: int, name: str) -> str:
    """Return the value at a field as people read it; a dash where none is set."""
    row, (value, quantity) = row_of(answer, number), _held(answer, number, name)
    if value is None or quantity is None:
        return value or "-"
    if name == "frame_share":
        return f"{number_text(100 * value, 4)} % of the {row.share_of}"
    text = quantity.shown(value, answer.system)
    return f"{text}, {row.visibility_by} left" if name == "visibility" else text
