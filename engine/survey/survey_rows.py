"""A reading of the survey: as it is typed and shown, what it gives, what it puts into the shot."""

import math
import re
from collections.abc import Iterator
from typing import Any

from forescale.engine import units
from forescale.engine.answer import Answer
from forescale.engine.answer.readings import SURVEY_WITH
from forescale.engine.fields.kinds import Quantity
from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.findings.scale import CLEAR_AIR, SURE
from forescale.engine.findings.words import Words, with_advice
from forescale.engine.formulas.survey import refuse_nearer
from forescale.engine.parts import build_list
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import ShareOf, SurveyRow
from forescale.engine.shot.sections import Part
from forescale.engine.solve.groups import SurveyReading
from forescale.engine.solve.survey_group import gainsaid_mm
from forescale.engine.units import EntryError, UnitSystem, length_text, number_text, quoted, tape_text

FIELDS: tuple[str, ...] = ("name", "frame_share", "feature_width", "feature_height")
FIELDS += ("elevation", "elevation_nearer", "nearer_by", "visibility")
PLACE = ("place.background", "place.lens_height")
BLANK = SurveyRow()
_READ = frozenset({"frame_share", "elevation", "elevation_nearer", "nearer_by"})  # read anew they count as read now
_USUAL_MM = {"visibility": 16_000_000.0}  # a bare visibility is in km or miles
_SIDE = re.compile(r"[\s,]*(?:of\s+)?(?:the\s+)?(width|wide|height|high)$")
_LEFT = re.compile(r"[\s,]*(?:by|at)?\s*([25])\s*%$")
TOO_UNSURE = "too unsure to go by: read the two farther apart, or tape it"
_FAR_MM = 3_000.0  # from here on a picture tells no fraction of an inch
_SAME = 0.005  # a new background moves the focus, and the picture's scale by a hair with it
_BY = {"tape": "as taped", "share": "by its share", "two elevations": "by two elevations", "height": "by its height"}


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
    quantity = edit.number_at(SurveyRow, "frame_share")
    if "px" in typed:
        over, _, under = typed.replace("px", "").partition("/")
        pixels = units.parse_number(under) if under else width_px
        if pixels <= 0:
            raise EntryError(f"a picture {number_text(pixels)} px wide has no shares", "write 450/2048 px")
        share = units.parse_number(over) / pixels
    else:
        share = quantity.parse(typed)
    if share > 1:
        raise EntryError(f"{quoted(text)} is more than the whole frame", f"write 22 %, 0.22 or 450/{width_px} px")
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
    at = path(number, name)
    row = row_of(answer, number)
    typed = text.strip().casefold()
    if name == "frame_share":
        said, mode = _SIDE.search(typed), answer.kit.mode
        side: ShareOf = row.share_of if said is None else "height" if said[1] in {"height", "high"} else "width"
        pixels = mode.height_px if side == "height" else mode.width_px
        share = read_share(_SIDE.sub("", typed), pixels)
        return {at: share, path(number, "share_of"): side} | fresh, share_text(share, side, pixels)
    if name == "visibility":
        said = _LEFT.search(typed)
        by = row.visibility_by if said is None else f"{said[1]} %"
        shown = row.visibility or _USUAL_MM[name]
        held, read = edit.entry(at, _LEFT.sub("", typed), answer.setting, answer.system, shown)
        return {at: held, path(number, "visibility_by"): by}, f"{read}, with {by} of the contrast left"
    held, read = edit.entry(at, text, answer.setting, answer.system, getattr(row, name))
    if name == "elevation_nearer" and row.elevation is not None:
        refuse_nearer(row.elevation, edit.number_at(SurveyRow, name).read(held))
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


def result_of(answer: Answer, number: int) -> SurveyReading:
    """Return what a reading gives; behind the last that is nothing but the tape."""
    found = answer.survey.readings
    return found[number - 1] if number <= len(found) else SurveyReading("", None, None, None, None, None)


def found(answer: Answer, number: int = 1) -> tuple[str, ...]:
    """Return what a reading gives, a sentence each, with the key that puts it into the shot; or what it needs."""
    result = result_of(answer, number)
    if result.fault is not None:
        return (f"It gives nothing: {result.fault}",)
    told = (*_size(answer, number), *_height(answer, number), _air(answer, number))
    moved = " and ".join(result.moved_on)
    again = f"Read before the {moved} was re-measured: read it again, or Space has what counts it here"
    return (again, *told) if moved else told


def _size(answer: Answer, number: int) -> Iterator[str]:
    row, result, system = row_of(answer, number), result_of(answer, number), answer.system
    if row.frame_share is None and result.distance_by == "tape":
        yield "Size or distance: enter the share of the frame that the real thing spans"
        return
    if row.elevation_nearer is not None and row.nearer_by is None:
        yield "Distance: enter by how much nearer the second elevation was read"
    share = None if row.frame_share is None else share_text(row.frame_share, row.share_of)
    if result.distance_by != "tape":
        now = tape_text(answer.lineup.background_mm, system)
        there = math.isclose(result.distance_mm or 0.0, answer.lineup.background_mm, rel_tol=_SAME)
        size = row.feature_height if row.share_of == "height" or result.distance_by == "height" else row.feature_width
        at = {
            "share": f"at which {length_text(size or 0.0, system)} spans {share}",
            "height": f"at which {length_text(size or 0.0, system)} is seen {units.angle_text(row.elevation or 0)} up",
        }.get(result.distance_by, "from two elevations")
        puts = f"the background stands there, at {now}" if there else f"p makes it the background's, now {now}"
        puts = TOO_UNSURE if _unsure(result) else puts
        told = _off(answer, _text(result.distance_mm or 0.0, system), result.distance_error_mm)
        yield f"Distance {told}, {at}: {puts}"
    known = row.feature_width
    spans, error = result.feature_width_mm, result.feature_width_error_mm
    if row.share_of == "height":
        known = row.feature_height or row.elevation
        spans, error = result.feature_height_mm, result.feature_height_error_mm
    if share is not None and known is None and spans is not None:  # what the share was of, where it was found
        told = _off(answer, _text(spans, system), error)
        yield f"{row.share_of.capitalize()} {told}, for {share}, {_at(answer, result)}"
    elif share is not None and result.distance_by == "tape":
        yield "Size: at infinity no share tells it; enter the size to have the distance, or tape the background"
    if result.feature_width_mm is not None:
        yield "p puts the width on the build list"


def gainsaid(answer: Answer, number: int) -> str:
    """Return that a reading gives two distances that cannot both be, and what to do; "" where it does not."""
    own = path(number, "frame_share")
    found = (one for one in answer.findings if one.code == "survey-gainsaid" and one.field == own)
    return next((with_advice(one.text, one.by_hand) for one in found), "")


def _unsure(result: SurveyReading) -> bool:
    """Tell whether a distance may be off by half of itself or more, so that it tells next to nothing."""
    return 2 * SURE * (result.distance_error_mm or 0.0) > (result.distance_mm or math.inf)


def _at(answer: Answer, result: SurveyReading) -> str:
    """Say which distance a result counts on."""
    return f"at {length_text(result.distance_mm or 0.0, answer.system, fraction=1)}, {_BY[result.distance_by]}"


def _off(answer: Answer, text: str, error_mm: float | None) -> str:
    """Return a length with what it may be off."""
    return f"{text} {Words(answer).give_or_take(error_mm)}".rstrip()


def _height(answer: Answer, number: int) -> Iterator[str]:
    row, result, place = row_of(answer, number), result_of(answer, number), answer.setting.place
    if row.elevation is None and result.feature_height_mm is None:
        yield "Height: enter the elevation of its top"
    elif row.elevation is not None and result.rise_above_lens_mm is None:
        yield "Height: at infinity no elevation tells it; give the background a distance"
    elif result.feature_height_mm is None:
        rise = _text(result.rise_above_lens_mm or 0.0, answer.system)
        yield f"The top is {rise} above the lens; enter the lens height to have it above the ground"
    else:
        now = "" if place.feature_height is None else f", now {tape_text(place.feature_height, answer.system)}"
        height = _off(answer, _text(result.feature_height_mm, answer.system), result.feature_height_error_mm)
        at = "" if row.feature_height is not None else f", {_at(answer, result)}"
        if (other := gainsaid_mm(row, result, answer.setting)) is not None:
            at = f" as entered (the elevation gives {_text(other, answer.system)})"
        yield f"Height {height} above the ground{at}: p makes it the tie-in height{now}"


def _air(answer: Answer, number: int) -> str:
    result = result_of(answer, number)
    left = result.air_contrast
    if row_of(answer, number).visibility is None:
        return "Air: enter the visibility"
    if left is None:
        return "Air: give the background a distance to know what the air leaves of it"
    lift = "leave the model's paint as it is"
    if left < CLEAR_AIR:
        lift = f"lift the model's paint {Words.percent(1 - left)} of the way to the colour of the haze"
    return f"The air leaves {Words.percent(left)} of its contrast {_at(answer, result)}: {lift}"


def _text(mm: float, system: UnitSystem) -> str:
    return length_text(mm, system, fraction=1 if abs(mm) >= _FAR_MM else 16)


def distance_change(answer: Answer, number: int = 1) -> dict[str, Any]:
    """Return the change that makes the distance found the background's; BadInput where none is found.

    The farthest thing to be sharp goes with it where it would be left nearer. Nothing has moved, so the readings go on
    counting as they do.
    """
    result, far = result_of(answer, number), answer.setting.place.background_far
    if result.distance_by == "tape":
        raise BadInput(Fault("no distance is found yet", "enter the share it spans with its size, or two elevations"))
    if doubted := gainsaid(answer, number) or TOO_UNSURE * _unsure(result):
        raise BadInput(doubted)
    text = _text(result.distance_mm or 0.0, answer.system)
    with_it = {"place.background_far": None} if far is not None and far < units.parse_length(text) else {}
    return {"place.background": text, **with_it}


def height_change(answer: Answer, number: int = 1) -> dict[str, str]:
    """Return the change that makes the height found the one to meet; BadInput where none is found."""
    if (height := result_of(answer, number).feature_height_mm) is None:
        raise BadInput(Fault("no height is found yet", "enter the elevation of the top, and the lens height"))
    return {"place.feature_height": _text(height, answer.system)}


def part_change(answer: Answer, name: str, number: int = 1) -> tuple[dict[str, tuple[Part, ...]], str]:
    """Return the change that puts the width on the build list, and its words; BadInput, ValueError for no name."""
    called, parts = build_list.read_name(name), answer.setting.build
    known, width = row_of(answer, number).feature_width, result_of(answer, number).feature_width_mm
    if width is None:
        right = "enter the share of the frame it spans, or the width itself"
        raise BadInput(Fault("no width is found yet", right))
    size = _text(width, answer.system) if known is None else length_text(known, answer.system)  # to its last fraction
    part = build_list.new_part(called, units.parse_length(size))
    place = next((number for number, one in enumerate(parts) if one.part.casefold() == called.casefold()), None)
    if place is None:
        return {"build": (*parts, part)}, f"{called} goes on the build list at {size}"
    old = parts[place]
    resized = edit.replaced(parts, place, old.model_copy(update={"real": part.real}))
    return {"build": resized}, f"{old.part} on the build list becomes {size}, was {tape_text(old.real, answer.system)}"


def told_distance(before: Answer, after: Answer) -> str:
    """Return what a new distance of the background has changed."""
    system, far = after.system, before.setting.place.background_far
    was, now = (tape_text(one.lineup.background_mm, system) for one in (before, after))
    match = f"{Words.ratio(after.scale.ratio)} matches it from {length_text(after.lineup.match_distance_mm, system)}"
    told = f"The background is now at {now}, was {was}; {match}"
    if far is None or after.setting.place.background_far is not None:
        return told
    return f"{told}. The farthest part was {tape_text(far, system)}, nearer than that, and now goes with it"


def told_height(before: Answer, after: Answer) -> str:
    """Return what a new height to meet has changed."""
    was, hang = before.setting.place.feature_height, after.lineup.hang_height_mm
    stood = "" if was is None else f", was {tape_text(was, after.system)}"
    told = f"The tie-in height is now {tape_text(after.setting.place.feature_height or 0.0, after.system)}{stood}"
    return told if hang is None else f"{told}; on the model it is built at {tape_text(hang, after.system)}"
