"""What may mend ratio, size, cover and the survey, and bring points, outlines and pieces where they belong."""

import math
from collections.abc import Iterator
from typing import get_args

from forescale.engine.findings.line_up import camera_says, model_says
from forescale.engine.findings.scale import frame_upright, rise_deg
from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, holding, optics
from forescale.engine.formulas.frame_rate import ideal_fps
from forescale.engine.mends.taking import Changes, Offers, less_turn, stood_at
from forescale.engine.shot.sections import TILTS, Rounding
from forescale.engine.solve.picture_groups import PicturePiece
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.solve.speed_light import chosen_fps
from forescale.engine.solve.view import view_of
from forescale.engine.units import WEIGHT, exact_ratio, no_less_text, number_text, rounded_down, rounded_up

SPARE = 0.01  # of the frame, left around what is brought in
STEEPEST_DEG = 80.0


def keep_ratio(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the ratio as it was chosen, so that it stays, with the place where it matches."""
    ratio = exact_ratio(of.scale.ratio)
    if of.setting.place.model is not None and math.isfinite(of.setup.seems_mm):
        stands = stood_at(of, of.lineup.match_distance_mm)
        if stands["place.model"] != Words(of).length(of.lineup.model_mm):
            yield Mend("", {"scale.ratio": ratio} | stands)
    yield Mend("", {"scale.ratio": ratio})


def size(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield every way out of a size that does not match: the place, the ratio, what it stands for, keeping it."""
    words, lined = Words(of), of.lineup
    yield Mend("", stood_at(of, lined.match_distance_mm))
    if 1 <= lined.reads_as_ratio <= 10_000:
        rate: Changes = {} if of.setting.action.fps is None else {"action.fps": None}
        largest, price = max(of.scale.build, key=lambda item: item.model_mm, default=None), "everything is built anew"
        if largest is not None:
            anew = words.length(largest.real_mm / lined.reads_as_ratio)
            price += f", {largest.part} {anew} for {words.length(largest.model_mm)}"
        if of.setting.action.scaled:
            wants = ideal_fps(True, lined.reads_as_ratio, of.setting.action.playback_fps, of.setting.action.heft)
            price += f", and wants {words.rate(wants)}"
        yield Mend("", {"scale.ratio": f"1:{number_text(lined.reads_as_ratio, 3)}"} | rate, price)
    stands_for = words.length(of.setup.tape(of.setup.model_mm * of.scale.ratio))
    if of.setting.place.seems_at is None:
        yield Mend("", {"place.seems_at": stands_for}, "it stands for something that far off")
    yield Mend("", {"place.seems_at": None, "place.background": stands_for}, "another place to shoot at")
    yield Mend(f"keep it, reading as {words.ratio(lined.reads_as_ratio)}")


def matching(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the place at which the size matches."""
    if math.isfinite(of.lineup.match_distance_mm):
        yield Mend("", stood_at(of, of.lineup.match_distance_mm))


def as_read(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the place at which the model reads as it is built, and the rate for what it reads as."""
    yield from matching(of, finding)
    action = of.setting.action
    ideal = ideal_fps(True, of.lineup.reads_as_ratio, action.playback_fps, action.heft)
    yield Mend("", {"action.fps": number_text(chosen_fps(action, of.kit.mode, ideal), 6)})


def less_cover(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the sweep that a flat model can fill, or that the largest part does."""
    if finding.code == "cover-wider":
        yield from less_turn(of, finding)
        return
    along = of.setup.frame_width_mm if of.setting.move.axis not in TILTS else of.kit.mode.height
    most = holding.COVER_LIMIT_DEG - optics.half_field_deg(along, of.setup.image_mm)
    yield Mend("", {"move.sweep": f"{number_text(rounded_down(most - 0.01, 3))} deg"})


def finer(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the finer steps of the shop."""
    unit = of.scale.rounding.split()[1]
    yield from (Mend("", {"scale.rounding": step}) for step in get_args(Rounding) if step.endswith(unit))


def ballast(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the weight that holds the model in the gust."""
    needed = None if of.stand is None else of.stand.ballast_needed_kg
    if needed is not None and math.isfinite(needed):
        yield Mend("", {"stand.ballast": no_less_text(needed, WEIGHT, of.system)})


def together(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the readings to take again, and the moves of the camera and of the model that explain the misses."""
    found, words = of.correction, Words(of)
    for name in () if found is None else found.doubtful:
        yield Mend(f'read "{name}" again: the other points gainsay it')
    if found is not None and found.camera is not None and found.camera.holds:
        yield Mend(camera_says(words, found.camera))
    if found is not None and found.model is not None and found.model.holds:
        yield Mend(model_says(words, found.model))


def upright(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the focal length at which the frame holds the largest part."""
    largest = max(item.model_mm for item in of.scale.build)
    top, bottom = frame_upright(of)
    yield from _zoomed(of, of.kit.focal_mm * (top - bottom) / largest / (1 + SPARE))


def _zoomed(of: Answer, focal_mm: float) -> Iterator[Mend]:
    if of.kit.lens.is_zoom and focal_mm >= of.kit.lens.shortest:
        focal = f"{number_text(rounded_down(focal_mm, 4), 4)} mm"
        yield Mend("", {"kit.focal_length": focal}, "another focal length: line up anew")


def meeting(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the aim that brings the point to meet into the frame, or that from which a tilt keeps it, and less tilt."""
    hang, lens = of.lineup.hang_height_mm, of.setting.place.lens_height
    if hang is None or lens is None:
        return
    rise, half = rise_deg(of, hang - lens), optics.half_field_deg(of.kit.mode.height, of.setup.image_mm) * (1 - SPARE)
    turn = rise - math.copysign(half, rise)
    if finding.code == "meet-leaves-frame":
        up = of.setting.move.axis == "tilt"
        lost = of.setting.move.sweep - (half + (rise if up else -rise))
        turn = -lost if up else lost
    yield from _aimed(of, turn)
    if finding.code == "meet-leaves-frame":
        yield from less_turn(of, finding)
    elif abs(rise) < STEEPEST_DEG:
        yield from _zoomed(of, of.kit.focal_mm * math.tan(math.radians(half)) / math.tan(math.radians(abs(rise))))


def _aimed(of: Answer, turn_deg: float) -> Iterator[Mend]:
    aim = of.setup.aim_deg + math.copysign(rounded_up(abs(turn_deg)), turn_deg)
    if abs(aim) <= STEEPEST_DEG:
        yield Mend("", {"place.aim": f"{number_text(abs(aim), 4)} deg {'up' if aim > 0 else 'down'}"})


def held(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the aim that holds everything, the lens that would, and the turn to either side."""
    if of.picture is None:
        return
    edges = [(point.frame_across, point.frame_up) for point in of.picture.points]
    for outline in of.picture.outlines:
        edges += [(outline.left, outline.top), (outline.right, outline.bottom)]
    across, up = [x for x, _ in edges if x is not None], [y for _, y in edges if y is not None]
    if not up:
        return
    frame, low, high = view_of(of.setting, of.kit, of.setup).frame, min(up), max(up)
    if high - low < 1 - 2 * SPARE and (low < 0 or high > 1):
        over, under = high - (1 - SPARE), SPARE - low
        turned = math.degrees(math.atan((over if over > under else -under) * frame.height_mm / frame.image_mm))
        yield from _aimed(of, turned)
    widest = max(2 * abs(share - 0.5) for share in (*across, *up))
    if widest > 1:
        focal = of.kit.focal_mm / (widest * (1 + SPARE))
        yield from _zoomed(of, focal)
        farther = f"{number_text(rounded_up(widest), 3)} times as far off"
        yield Mend(f"take a lens of {focal:.0f} mm or shorter, or stand {farther}")
    side = max((0.5 - min(across), max(across) - 0.5), default=0.0) if across else 0.0
    if side > 0.5 and max(across) - min(across) < 1 - SPARE:
        middle = (max(across) + min(across)) / 2 - 0.5
        turn = math.degrees(math.atan(middle * frame.width_mm / frame.image_mm))
        yield Mend(f"turn the head {abs(turn):.1f} deg to the {'right' if turn > 0 else 'left'} and line up anew")


def shorter_move(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the sweep and the start at which the frame still holds every point, or every outline of the model."""
    if of.picture is None:
        return
    points = [point.leaves_deg for point in of.picture.points if point.in_frame]
    outlines = [outline.leaves_deg for outline in of.picture.outlines if outline.of == "model"]
    turns = [turn for turn in (points if finding.code == "point-leaves-frame" else outlines) if turn is not None]
    changes: Changes = {}
    for path, ahead in (("move.sweep", turns), ("move.start", [-turn for turn in turns])):
        if held_to := min((turn for turn in ahead if turn > 0), default=0.0):
            changes[path] = f"{number_text(math.floor(held_to * 100) / 100, 5)} deg"
    if changes:
        yield Mend("", changes)


def _piece(of: Answer, finding: Finding) -> tuple[str, PicturePiece]:
    row = finding.field.rpartition(".")[0]
    return row, of.picture.pieces[int(row.split(".")[1]) - 1]  # type: ignore[union-attr]  # it has pieces


def piece_size(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield where a piece matches, the ratio that it reads as, and what it might stand for."""
    (row, piece), words = _piece(of, finding), Words(of)
    yield Mend("", {f"{row}.stands": words.length(piece.match_distance_mm)})
    yield Mend("", {f"{row}.ratio": f"1:{number_text(piece.ratio * piece.size_error, 3)}"}, "it is built anew")
    stands_for = words.length(of.setup.tape(of.setup.along(piece.stands_mm) * piece.ratio))
    yield Mend("", {f"{row}.seems_at": stands_for}, "it stands for something that far off")


def piece_rate(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the rate that serves a piece, and the ratio at which the rate that runs serves it."""
    (row, piece), action = _piece(of, finding), of.setting.action
    yield Mend("", {"action.fps": number_text(chosen_fps(action, of.kit.mode, piece.ideal_fps), 6)})
    ratio = f"1:{number_text(frame_rate.largest_ratio(of.speed.time_factor, action.heft), 3)}"
    yield Mend("", {f"{row}.ratio": ratio, f"{row}.stands": None}, "it is built anew")


def piece_zone(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the zone drawn out to a piece, with focus and stop that follow it."""
    _, piece = _piece(of, finding)
    at, nearer = Words(of).length(piece.stands_mm), piece.stands_mm < of.focus.near_needed_mm
    zone: Changes = {"place.model_near" if nearer else "place.background_far": at}
    zone |= {"focus.distance": None, "focus.stop": None}
    yield Mend(f"hold sharp {'from' if nearer else 'to'} {at}, focus and stop following", zone)


def survey_as_now(_of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield a reading counted as read from where the rig stands now."""
    number = finding.field.split(".")[1] if finding.field.count(".") > 1 else "1"
    places = dict.fromkeys(f"survey.{number}.{name}" for name in ("model", "background", "lens_height"))
    yield Mend("count it as read from here", places)


def survey_counts(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the background where the survey puts it."""
    distance, far = of.survey.distance_mm or 0.0, of.setting.place.background_far
    with_it: Changes = {"place.background_far": None} if far is not None and far < distance else {}
    text = Words(of).length(distance)
    yield Mend(f"count the background at {text}", {"place.background": text} | with_it, "the tape is not believed")


OFFERS: tuple[tuple[Offers, str], ...] = (
    (keep_ratio, "ratio-chosen"),
    (size, "size-mismatch"),
    (matching, "size-hair points-miss"),
    (together, "line-up-misses"),
    (as_read, "gravity-as-read"),
    (less_cover, "cover-endless cover-wider"),
    (lambda *_: iter([Mend("", {"place.model_near": None})]), "nearest-behind"),
    (finer, "too-small"),
    (ballast, "stand-falls"),
    (upright, "over-frame"),
    (meeting, "meet-out-of-frame meet-leaves-frame"),
    (held, "point-out-of-frame outline-cut"),
    (shorter_move, "point-leaves-frame outline-leaves-frame"),
    (piece_size, "piece-size"),
    (piece_rate, "piece-rate"),
    (piece_zone, "piece-soft"),
    (survey_as_now, "survey-moved"),
    (survey_counts, "survey-stale"),
)
