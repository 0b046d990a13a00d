"""The place: what is taped and read from the picture, the line-up, what the lens sees, the way back."""

import math
from collections.abc import Iterator

from forescale.engine.findings.line_up import come_back_says, come_back_warns, correction_says
from forescale.engine.findings.words import Words
from forescale.engine.sheet.blocks import Block, Remark, Row, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.shot.rows import SurveyRow
from forescale.engine.solve.groups import SurveyReading
from forescale.engine.solve.picture_groups import PictureOutline, PicturePoint
from forescale.engine.solve.survey_group import gainsaid_mm
from forescale.engine.units import angle_text, number_text


def place(voice: Words) -> Iterator[Row]:
    """Yield the tape distances, the heights and the survey."""
    there, stands = voice.of.setting.place, voice.length(voice.of.lineup.model_mm)
    yield Row("Model at", stands, "the plane that must match", "place.model" in voice.of.auto)
    for label, mm, remark in (
        ("Nearest part", there.model_near, ""),
        ("Background", there.background, "the real thing to match"),
        ("Farthest part", there.background_far, ""),
        ("Lens height", there.lens_height, ""),
        ("Tie-in height", there.feature_height, "of the tie-in, on the real thing"),
    ):
        if mm is not None:
            yield Row(label, voice.length(mm), remark)
    for row, found in zip(voice.of.setting.survey, voice.of.survey.readings, strict=True):
        named = f"{row.name}: " if row.name else ""
        for label, value, note in _reading(voice, row, found):
            yield Row(f"{named}{label[0].lower()}{label[1:]}" if named else label, value, note)


def _reading(voice: Words, row: SurveyRow, found: SurveyReading) -> Iterator[tuple[str, str, str]]:
    """Yield what a reading says and gives, each with what it may be off."""

    def off(error_mm: float | None, then: str = "") -> str:
        return ", ".join(part for part in (voice.give_or_take(error_mm), then) if part)

    if found.fault is not None:
        yield "Gives nothing", "-", found.fault
        return
    if row.frame_share is not None:
        yield f"Spans, of the frame's {row.share_of}", f"{number_text(100 * row.frame_share, 3)} %", ""
    if row.elevation is not None:
        yield "Its top is seen at", angle_text(row.elevation), "above level"
    if row.elevation_nearer is not None and row.nearer_by is not None:
        yield "And from nearer by", angle_text(row.elevation_nearer), f"{voice.length(row.nearer_by)} nearer"
    if found.feature_width_mm is not None:
        note = "" if row.feature_width is not None else off(found.feature_width_error_mm, "from the picture")
        yield "Width of the real thing", voice.length(found.feature_width_mm), note
    if found.distance_by != "tape" and found.distance_mm is not None:
        note = off(found.distance_error_mm, f"by {found.distance_by}, on the tape")
        yield "So it stands at", voice.length(found.distance_mm), note
    if found.rise_above_lens_mm is not None:
        yield "Its top, above the lens", voice.length(found.rise_above_lens_mm), ""
    if found.feature_height_mm is not None:
        other = gainsaid_mm(row, found, voice.of.setting)
        note = "" if other is None else f"as entered; the elevation gives {voice.length(other)}"
        yield "Its top, above ground", voice.length(found.feature_height_mm), off(found.feature_height_error_mm, note)
    if row.visibility is not None and found.air_contrast is not None:
        yield "Visibility", voice.length(row.visibility), f"{row.visibility_by} of the contrast left there"
        yield "Contrast through the air", voice.percent(found.air_contrast), "left of its own"


def lineup(voice: Words) -> Iterator[Row]:
    """Yield where the model stands, how it reads there, and how far off anything may be."""
    lined, there = voice.of.lineup, voice.of.setting.place
    if math.isfinite(lined.match_distance_mm):
        yield Row("Match at", voice.length(lined.match_distance_mm), f"for {voice.ratio(voice.of.scale.ratio)}")
        yield Row("Reads as", voice.ratio(lined.reads_as_ratio), voice.too(lined.size_error - 1))
    if lined.hang_height_mm is not None and there.lens_height is not None:
        above = lined.hang_height_mm - there.lens_height  # what a rigger can sight along
        way = f"{voice.length(abs(above))} {'above' if above > 0 else 'below'} the lens"
        level = "level with the lens" if abs(above) < 0.5 else way
        yield Row("Tie-in at", voice.length(lined.hang_height_mm), f"on the model, {level}")
        yield from _to_scale(voice, "Height to scale", lined.hang_height_mm, lined.scaled_height_mm)
    if lined.foot_height_mm is not None:
        yield Row("Table height", voice.length(lined.foot_height_mm), "the model's, over the background's ground")
        yield from _to_scale(voice, "Table to scale", lined.foot_height_mm, lined.scaled_foot_height_mm)
    frame = f"{voice.length(lined.frame_width_model_mm)} × {voice.length(lined.frame_height_model_mm)}"
    yield Row("Frame at the model", frame, f"across × up{', square to the lens' if there.aim else ''}")
    wide, high = lined.cover_width_mm, lined.cover_height_mm
    if there.fills == "frame" and (wide is None or high is None):
        yield Row("Model must cover", "endless", "the move passes 85 deg off the model's plane")
    elif there.fills == "frame" and wide is not None and high is not None:
        yield Row("Model must cover", f"{voice.length(wide)} × {voice.length(high)}", "over the whole move, if flat")
    yield Row("Camera may drift", voice.within(lined.drift_tolerance_mm))
    yield Row("Model may be off", voice.within(lined.place_tolerance_mm), "along the lens axis")


def _to_scale(voice: Words, label: str, sight_mm: float, scaled_mm: float | None) -> Iterator[Row]:
    """Yield a height to scale, where it differs from the one that meets by more slip than may pass."""
    answer = voice.of
    passes = answer.setting.move.tolerance * answer.kit.mode.pixel_up_mm * answer.setup.model_mm / answer.setup.image_mm
    if scaled_mm is not None and abs(scaled_mm - sight_mm) > passes:
        yield Row(label, voice.length(scaled_mm), "by its ratio; above is where it meets in the picture")


def picture(voice: Words) -> Iterator[Block]:
    """Yield what the lens sees, where the shot says something of it: aim, points and misses, outlines, pieces."""
    if (found := voice.of.picture) is None:
        return
    yield Row("Aim", voice.tilted(found.aim_deg), "at the line-up")
    field = f"{angle_text(found.field_across_deg)} × {angle_text(found.field_up_deg)}"
    yield Row("Angle of view", field, "across × up")
    yield Row("Horizon", voice.percent(found.horizon_up), "of the frame's height, from its bottom")
    if found.points:
        yield from _points(voice, found.points)
    if found.outlines:
        rows = []
        for row in found.outlines:
            sizes = _length(voice, row.model_width_mm), _length(voice, row.model_height_mm)
            overlap = "-" if row.overlap_mm is None else voice.small(row.overlap_mm)
            rows.append((clean(row.name), row.of, *sizes, _held(voice, row), _px(row.edge_blur_px), overlap))
        yield Table(("Outline", "Of", "Wide", "High", "Held", "Blur px", "Overlap"), tuple(rows), frozenset({5}))
    if found.pieces:
        pieces = []
        for one in found.pieces:
            places = voice.length(one.stands_mm), voice.length(one.match_distance_mm)
            says = voice.rate(one.ideal_fps), "yes" if one.sharp else "no", _px(one.slip_px)
            pieces.append((clean(one.name), voice.ratio(one.ratio), *places, *says))
        yield Table(("Piece", "Scale", "Stands", "Match", "Wants", "Sharp", "Slip, px"), tuple(pieces), frozenset({6}))


def _points(voice: Words, points: tuple[PicturePoint, ...]) -> Iterator[Table]:
    """Yield where points are built, to scale, and where they are seen as the model stands, with what they miss by."""
    built, seen = [], []
    for one in points:
        scaled = one.model_distance_mm, one.model_aside_mm, one.model_height_mm
        sighted = one.stands_mm, one.sight_aside_mm, one.sight_height_mm
        built.append((clean(one.name), *_at(voice, scaled), _held(voice, one)))
        misses = map(_px, (one.miss_across_px, one.miss_up_px, one.slip_px))
        seen.append((clean(one.name), *_at(voice, sighted), *misses))
    yield Table(("Built to scale", "Distance", "Aside", "Height", "In the frame"), tuple(built))
    heads = ("In sight, as it stands", "Distance", "Aside", "Height", "Off right, px", "Off up, px", "Slip, px")
    yield Table(heads, tuple(seen), frozenset({4, 5, 6}))


def _held(voice: Words, thing: PicturePoint | PictureOutline) -> str:
    """Return whether the frame holds a point or how much of an outline at the line-up, and where the move loses it."""
    if thing.leaves_share is None or not thing.in_frame:
        return thing.in_frame if isinstance(thing.in_frame, str) else "yes" if thing.in_frame else "no"
    turn = voice.percent(thing.leaves_share) if thing.leaves_deg is None else voice.held_to(thing.leaves_deg)
    return f"to {turn}{' before the line-up' if thing.leaves_share < 0 else ''}"


def _at(voice: Words, place: tuple[float | None, float | None, float | None]) -> tuple[str, str, str]:
    (distance_mm, aside_mm, height_mm), aside = place, "-"
    if aside_mm is not None:
        aside = "0" if abs(aside_mm) < 0.5 else f"{voice.length(abs(aside_mm))} {'right' if aside_mm > 0 else 'left'}"
    return _length(voice, distance_mm), aside, _length(voice, height_mm)


def _length(voice: Words, mm: float | None) -> str:
    return "-" if mm is None else voice.length(mm)


def _px(px: float | None) -> str:
    return "-" if px is None else number_text(px if abs(px) >= 0.05 else 0.0, 2)


def correction(voice: Words) -> Iterator[Block]:
    """Yield what the misses ask for, the model's own points first, then each piece's."""
    found = [("the model", voice.of.correction)]
    if voice.of.picture is not None:
        found += [(clean(piece.name), piece.correction) for piece in voice.of.picture.pieces]
    for thing, one in found:
        if one is not None and one.points:
            rows = []
            for point in one.points:
                missed = number_text(point.across_px, 4), number_text(point.up_px, 4)
                camera = _pair(point.camera_across_px, point.camera_up_px)
                rows.append((clean(point.point), *missed, camera, _pair(point.model_across_px, point.model_up_px)))
            yield Table(("Point", "Across px", "Up px", "By camera", "By model"), tuple(rows), frozenset({1, 2, 3, 4}))
        if one is not None:
            yield from (Remark("-", clean(text)) for text in correction_says(voice.of, one, thing))


def _pair(across: float | None, up: float | None) -> str:
    return "-" if across is None or up is None else f"{number_text(round(across, 1), 3)} {number_text(round(up, 1), 3)}"


def come_back(voice: Words) -> Iterator[Block]:
    """Yield the witness marks, as far as they are taped, and the way back by them."""
    if (found := voice.of.come_back) is not None:
        rows = []
        for one in voice.of.setting.witness:
            at = _at(voice, (one.distance, one.aside, one.height))
            rows.append((clean(one.name), *at, *(_length(voice, mm) for mm in (one.taped, one.taped_now))))
        yield Table(("Mark", "Distance", "Aside", "Height", "Tape then", "Tape now"), tuple(rows))
        warns, says = come_back_warns(found), enumerate(come_back_says(voice.of, found))
        yield from (Remark("!" if number < warns else "-", clean(text)) for number, text in says)
