"""Findings on ratio, size, height and cover, on what the frame holds of the largest part, and on the survey."""

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words, moves, said
from forescale.engine.formulas.holding import COVER_LIMIT_DEG
from forescale.engine.formulas.lineup import SIZE_NOTICED, SIZE_WRONG, tape_error_mm
from forescale.engine.formulas.optics import half_field_deg
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.survey_group import by_elevation
from forescale.engine.units import rounded_down

SHORTEST_MM = 8.0  # of lenses that keep lines straight (common practice, no source)
CLEAR_AIR = 0.98  # from here on no eye tells a difference
ALIKE = 0.05  # share of a distance within which the air takes as much
SURE = 2.0  # standard errors apart, from which on two distances are not one


def scale_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of ratio, place, height, and cover."""
    if "scale.ratio" in answer.auto:
        yield _ratio_chosen(answer)
    place, lined = answer.setting.place, answer.lineup
    wrong = lined.size_error - 1
    if math.isinf(lined.seems_mm):
        yield said(answer, "no-size-to-match")
    elif abs(wrong) >= SIZE_NOTICED:
        level: Level = "stop" if abs(wrong) >= SIZE_WRONG else "warn"
        against = "against a background at" if place.seems_at is None else "for what would stand at"
        yield said(answer, "size-mismatch", level=level, looks=Words.too(wrong), against=against)
    if place.feature_height is not None and place.lens_height is None:
        yield said(answer, "lens-height-missing")
    if moves(answer) and answer.scale.build and place.fills == "frame":
        tilts = answer.setting.move.axis in TILTS
        cover = lined.cover_height_mm if tilts else lined.cover_width_mm
        widest = max(item.model_mm for item in answer.scale.build)
        if cover is None:
            yield said(answer, "cover-endless")
        elif widest < cover:
            yield said(answer, "cover-wider", cover=cover, widest=widest, along="up and down" if tilts else "across")


def _ratio_chosen(answer: Answer) -> Finding:
    words, place = Words(answer), answer.setting.place
    if place.model is not None and math.isfinite(answer.lineup.seems_mm):
        asked, stands = words.ratio(answer.lineup.reads_as_ratio), words.length(answer.lineup.match_distance_mm)
        short, why = "the places ask for it", "the taped places ask for it"
        if asked != words.ratio(answer.scale.ratio):
            short = f"the customary ratio nearest to {asked}"
            why = f"the taped places ask for {asked}, and this is the customary ratio nearest to it"
        return said(answer, "ratio-chosen", why=f"{why}; it stands exactly at {stands}", short=short)
    heavy = f"that {words.rate(answer.speed.top_fps)} can make heavy"
    why = f"the smallest model {heavy} and that can stand where {answer.kit.lens.name} still focuses"
    return said(answer, "ratio-chosen", why=why, short=f"smallest {heavy}")


def frame_findings(answer: Answer) -> Iterator[Finding]:
    """Yield where the frame cannot hold the largest part upright, or the point to meet, as it is aimed."""
    top, bottom = frame_upright(answer)
    height = top - bottom
    largest = max((item.model_mm for item in answer.scale.build), default=0.0)
    if largest > height:
        focal, lens = answer.kit.focal_mm * height / largest, ""
        if focal >= SHORTEST_MM:
            lens = f", or take a lens of {rounded_down(focal):g} mm or shorter (line up and focus anew)"
        yield said(answer, "over-frame", largest=largest, height=height, lens=lens)
    lens_height, hang = answer.setting.place.lens_height, answer.lineup.hang_height_mm
    if hang is not None and lens_height is not None:
        yield from _meeting(answer, hang - lens_height)


def frame_upright(answer: Answer) -> tuple[float, float]:
    """Return from how far over the lens (mm, up +) down to how far the frame holds what stands upright at the model."""
    setup, aim = answer.setup, answer.setting.place.aim
    half = half_field_deg(answer.kit.mode.height, setup.image_mm)
    ends = (math.radians(min(max(aim + way * half, -COVER_LIMIT_DEG), COVER_LIMIT_DEG)) for way in (1, -1))
    top, bottom = (setup.level(setup.model_mm) * math.tan(end) for end in ends)
    return top, bottom


def rise_deg(answer: Answer, over_lens_mm: float) -> float:
    """Return by how much the point to meet stands above where the lens is aimed, as seen from it."""
    setup = answer.setup
    return math.degrees(math.atan(over_lens_mm / setup.level(setup.model_mm))) - setup.aim_deg


def _meeting(answer: Answer, over_lens_mm: float) -> Iterator[Finding]:
    setup, move = answer.setup, answer.setting.move
    rise, half = rise_deg(answer, over_lens_mm), half_field_deg(answer.kit.mode.height, setup.image_mm)
    if abs(rise) > half * (1 + 1e-6):
        aimed = "With the lens level" if setup.aim_deg == 0 else "As the lens is aimed"
        edge = math.tan(math.radians(setup.aim_deg) + math.radians(math.copysign(half, rise)))
        out = abs(over_lens_mm - setup.level(setup.model_mm) * edge)
        level: Level = "note" if move.axis in TILTS else "warn"  # a tilt may find it on its way
        side = "above" if rise > 0 else "below"
        yield said(answer, "meet-out-of-frame", level=level, aimed=aimed, out=out, side=side)
    elif move.axis in TILTS:
        left = half + (rise if move.axis == "tilt" else -rise)  # up carries the frame past a point that stands low
        if left < move.sweep:
            yield said(answer, "meet-leaves-frame", left=rounded_down(left))


def survey_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of each reading, named where there are several."""
    alone = len(answer.survey.readings) == 1
    for number, reading in enumerate(answer.survey.readings, start=1):
        field = f"survey.{'' if number == 1 else f'{number}.'}frame_share"
        named = "The survey" if alone else f"Survey reading {number}"
        named = f'Survey "{reading.name}"' if reading.name else named
        if reading.fault is not None:
            yield said(answer, "survey-fault", field=field, named=named, fault=reading.fault)
            continue
        if reading.moved_on:
            yield said(answer, "survey-moved", field=field, named=named, moved=" and ".join(reading.moved_on))
        left, distance, row = reading.air_contrast, reading.distance_mm, answer.setting.survey[number - 1]
        for also in by_elevation(row, answer.setting, answer.kit, answer.setup):
            by, way, then = reading.distance_by, also.distance_by, also.distance_mm
            apart = SURE * math.hypot(reading.distance_error_mm or math.inf, also.distance_error_mm or math.inf)
            if way not in {"tape", by} and distance and then and abs(distance - then) > apart:
                yield said(answer, "survey-gainsaid", field=field, named=named, at=distance, then=then, by=by, way=way)
                break
        if left is not None and distance is not None and left < CLEAR_AIR:
            taped = answer.lineup.background_mm
            of = f"the contrast of {'what was surveyed' if alone else named.partition(' ')[2]}"
            of = "the background's contrast" if alone and math.isclose(distance, taped, rel_tol=ALIKE) else of
            yield said(answer, "air", taken=1 - left, distance=distance, left=left, of=of)
    found, taped = answer.survey, answer.lineup.background_mm
    put, error = found.distance_mm, found.distance_error_mm
    if not found.readings or found.moved_on or found.distance_by == "tape" or put is None or error is None:
        return
    if not math.isinf(taped) and abs(put - taped) > SURE * math.hypot(error, tape_error_mm(taped)):
        yield said(answer, "survey-stale")  # what the first reading gives and the tape cannot both be so
