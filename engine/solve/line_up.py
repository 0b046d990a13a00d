"""What was read at the line-up and of witness marks: what to move so that the points meet, and the way back."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from forescale.engine.formulas import moves
from forescale.engine.formulas.lineup import tape_error_mm
from forescale.engine.formulas.misses import Pair, miss
from forescale.engine.formulas.moves import CAMERA, FEWEST, LineUp, Moves, ReadMiss, Witness, come_back
from forescale.engine.formulas.projection import Frame, Pixels, Point, in_frame, in_pixels
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import MissRow, WitnessRow
from forescale.engine.solve.lens_setup import LensSetup, Unread
from forescale.engine.solve.picture_groups import CameraMoves, ComeBackAnswer, CorrectionAnswer, ModelMoves, ReadPoint
from forescale.engine.solve.view import View, real_point, stances

FAR_OFF = 4.0  # tape errors: two standard errors of four tapes, the straight one and the three that place a mark
FLAT = 0.05  # points that stray so little from a line, of their spread, are nearly in it
TRULY = 1e-6  # and so little, truly
_ASKED = {turn: f"the {turn} of {{}}" for turn in ("turn", "lean", "roll")}
_ASKED |= {"right": "how far {} stands aside", "up": "how high {} stands"}
_ASKED |= {"forward": "how far {} stands forward or back"}
_BACK = {"right": "how far aside", "up": "how high", "forward": "how far forward or back"}

Corrections = Mapping[str | None, CorrectionAnswer]  # by the piece's name, None for the model


def corrections(setting: Setting, kit: Kit, setup: LensSetup, view: View, where: str) -> Corrections:
    """Return what the misses at the model's own points and at each piece's ask for. Raises BadInput."""
    if not setting.miss:
        return {}
    placed, rows = stances(setting, kit, setup, where), {row.name: row for row in setting.point}
    height = setting.place.lens_height or 0.0
    read: dict[str | None, dict[str, ReadMiss]] = {}
    stale: dict[str | None, dict[str, list[str]]] = {}
    for one in setting.miss:
        row = rows[one.point]
        gone_on, reads = stale.setdefault(row.piece, {}), read.setdefault(row.piece, {})
        if changed := _changed_since(one, row.piece, setting, kit, setup):
            gone_on[one.point] = changed
            continue
        try:
            real = real_point(row, setting, kit, setup, placed[row.piece], ("point",), where)
        except Unread:  # its real place is not known; the picture says why
            gone_on[one.point] = ["kit, now gone"]
            continue
        pair = Pair(placed[row.piece].as_built(real, height), real)
        if miss(pair, view.line_up, view.frame) is not None:
            reads[one.point] = ReadMiss(pair, Pixels(one.across_px, one.up_px))
    stood = LineUp(height, setup.aim_deg, setup.pupil.ahead_mm, view.frame, setting.limits.reading_px)
    return {
        piece: _corrected(reads, stale[piece], stood._replace(model_mm=placed[piece].stands_mm), piece)
        for piece, reads in read.items()
        if reads or stale[piece]
    }


def _changed_since(row: MissRow, piece: str | None, setting: Setting, kit: Kit, setup: LensSetup) -> list[str]:
    """Return what is no longer as it was when a miss was read, so that it says nothing of the shot as it is now."""
    now: dict[str, Any] = {"camera": kit.camera.name, "mode": kit.mode.name, "lens": kit.lens.name}
    now |= {"focal_length": kit.focal_mm}
    now |= {} if piece else {"ratio": setup.ratio, "model": setup.tape(setup.model_mm)}
    place, background = setting.place, setup.tape(setup.background_mm)
    now |= {"background": background, "lens_height": place.lens_height, "aim": place.aim}

    def same(then: Any, now: Any) -> bool:
        return then == now or (isinstance(then, float) and now is not None and math.isclose(then, now, abs_tol=1e-6))

    then = {name: was for name in now if (was := getattr(row, name)) is not None}
    return [name.replace("_", " ") for name, was in then.items() if not same(was, now[name])]


def _corrected(
    reads: dict[str, ReadMiss], stale: dict[str, list[str]], line_up: LineUp, piece: str | None
) -> CorrectionAnswer:
    names, read = tuple(reads), tuple(reads.values())
    old = [f'"{name}" was read with another {" and ".join(changed)}: read it again' for name, changed in stale.items()]
    if len(read) < FEWEST:
        few = f"{'one point is' if read else 'no point is'} read, and two are needed at the least"
        return CorrectionAnswer(None, None, (), (*old, few), (), tuple(stale))
    camera, model = moves.camera_moves(read, line_up), moves.model_moves(read, line_up)
    doubted = {place for found in (camera, model) if found is not None for place in found.doubtful}
    thing, points = "the model" if piece is None else piece, []
    for place, (name, one) in enumerate(reads.items()):
        left = [(found and found.left_each_px[place]) or (None, None) for found in (camera, model)]
        points.append(ReadPoint(name, *one.miss, *left[0], *left[1]))
    return CorrectionAnswer(
        camera=camera and CameraMoves(**_values(camera)),
        model=model and ModelMoves(**_values(model)),
        doubtful=tuple(name for place, name in enumerate(names) if place in doubted),
        cannot_tell=(*old, *_not_told(camera, "the camera", read), *_not_told(model, thing, read)),
        points=tuple(points),
        stale=tuple(stale),
    )


def _values(found: Moves) -> dict[str, Any]:
    named: dict[str, Any] = {name: getattr(found, name) for name in ("residual_px", "left_px", "holds", "do")}
    named |= {f"ends_{name}_mm": mm for name, mm in zip(CAMERA, found.ends_mm, strict=True)}
    return named | _with_errors(found)


def _with_errors(found: Moves) -> dict[str, float | None]:
    """Return what is told by name and unit, and its standard errors."""
    values: dict[str, float | None] = {}
    for name, told in found.told.items():
        unit = "mm" if name in CAMERA else "deg"
        values |= {f"{name}_{unit}": told, f"{name}_error_{unit}": found.errors[name]}
    return values


def _not_told(found: Moves | None, thing: str, read: Sequence[ReadMiss]) -> Iterator[str]:
    if found is None:
        yield f"no place of {thing} gives these misses: read them again"
        return
    blind = [_ASKED[name].format(thing) for name, value in found.told.items() if value is None]
    if blind:
        listed = blind[0] if len(blind) == 1 else f"{', '.join(blind[:-1])} and {blind[-1]}"
        yield f"with {_why([one.pair.built for one in read])} {listed} cannot be told"
    elif found.freedom == 0:
        yield f"with so few points nothing checks what is told of {thing}: read one more"


def _why(points: Sequence[Point]) -> str:
    count = "both" if len(points) == 2 else "all"
    farthest = max(((one, other) for one in points for other in points), key=lambda pair: math.dist(*pair))
    length = math.dist(*farthest)
    if length == 0:
        return f"{count} points at one place"
    if (rise := max(one.h for one in points) - min(one.h for one in points)) < FLAT * length:
        return f"{count} points {'nearly ' * (rise > TRULY * length)}at one height"
    if len(points) == 2:
        return "two points alone"
    if (off := max(_off_line(one, *farthest) for one in points)) < FLAT * length:
        return f"all points {'nearly ' * (off > TRULY * length)}in one line"
    return "these points"


def _off_line(point: Point, start: Point, end: Point) -> float:
    along = [b - a for a, b in zip(start[:3], end[:3], strict=True)]
    away = [b - a for a, b in zip(start[:3], point[:3], strict=True)]
    share = sum(a * b for a, b in zip(along, away, strict=True)) / sum(a * a for a in along)
    return math.hypot(*(b - share * a for a, b in zip(along, away, strict=True)))


def come_back_group(setting: Setting, setup: LensSetup, view: View) -> ComeBackAnswer | None:
    """Return the way back by the witness marks; None where there are none."""
    if not setting.witness:
        return None
    height = setting.place.lens_height or 0.0
    stood = LineUp(height, setup.aim_deg, setup.pupil.ahead_mm, view.frame, setting.limits.reading_px)
    old = moves.sensor_mark(view.line_up, setup.pupil.ahead_mm)
    marks = tuple(_witness(row, setup, view.frame, old) for row in setting.witness)
    away = [math.dist(one.mark[:3], old[:3]) for one in marks]
    mean, high = sum(away) / len(marks), setting.place.lens_height is not None
    tapes = [(row, mm, FAR_OFF * tape_error_mm(mm)) for row, mm in zip(setting.witness, away, strict=True) if high]
    gainsaid = tuple(moves.Taped(row.name, mm) for row, mm, most in tapes if abs((row.taped or mm) - mm) > most)
    then = [(row.name, row.taped or mm, row.taped_now) for row, mm, _ in tapes]
    far = [(name, was) for name, was, now in then if now and abs(now - was) > max(moves.ASTRAY * was, moves.ASTRAY_MM)]
    gainsaid += tuple(moves.Taped(*one, now=True) for one in far)
    if all(one.tape_grown_mm is None and one.picture is None for one in marks):
        return _foretold(marks, stood, view, mean)._replace(gainsaid=gainsaid)
    found = come_back(marks, stood)
    untold = tuple(_not_told_back(found, marks))
    told: dict[str, Any] = {"cannot_tell": untold, "mean_distance_mm": mean, "gainsaid": gainsaid}
    if found is None:
        return ComeBackAnswer(holds=False, **told)
    named = tuple(setting.witness[place].name for place in found.doubtful)
    told |= _with_errors(found) | {"residual_mm": found.residual_mm, "residual_px": found.residual_px}
    return ComeBackAnswer(holds=found.holds, doubtful=named, **told)


def _witness(row: WitnessRow, setup: LensSetup, frame: Frame, old: Point) -> Witness:
    mark, grown = Point(row.aside, row.height, setup.level(setup.along(row.distance))), None
    if row.taped_now is not None:
        grown = row.taped_now - (math.dist(mark[:3], old[:3]) if row.taped is None else row.taped)
    # Two readings: the tape now, and the tape then or the place along it, laid out by tapes that are read as finely.
    picture, error = None, moves.TAPE_READING_MM
    if row.frame_across_now is not None and row.frame_up_now is not None:
        across, up = row.frame_across_now.share(frame.width_px), row.frame_up_now.share(frame.height_px)
        picture = Pixels((across - 0.5) * frame.width_px, (up - 0.5) * frame.height_px)
    return Witness(mark, grown, picture, math.sqrt(2) * error, error)


def _foretold(marks: tuple[Witness, ...], stood: LineUp, view: View, mean: float) -> ComeBackAnswer:
    """Return how finely the marks would tell a place, were they read where the camera stood."""
    taped = tuple(one._replace(tape_grown_mm=0.0) for one in marks)
    seen = tuple(
        one._replace(picture=in_pixels(one.mark, view.line_up, view.frame))
        for one in marks
        if (share := in_frame(one.mark, view.line_up, view.frame)) is not None and share.inside
    )
    return ComeBackAnswer(
        holds=True,
        cannot_tell=("nothing is read of the marks as they are now",),
        mean_distance_mm=mean,
        would_tell_by_tapes_mm=_coarsest(come_back(taped, stood)),
        would_tell_by_picture_mm=_coarsest(come_back(seen, stood)) if seen else None,
    )


def _coarsest(found: Moves | None) -> float | None:
    """Return the largest error of the three of place; None where one is not told."""
    if found is None:
        return None
    errors = [found.errors[name] for name in CAMERA]
    known = [one for one in errors if one is not None]
    return max(known) if len(known) == len(errors) else None


def _not_told_back(found: Moves | None, marks: Sequence[Witness]) -> Iterator[str]:
    """Yield what the marks do not tell, and what they leave without a check."""
    tapes = sum(one.tape_grown_mm is not None for one in marks)
    pictures = sum(one.picture is not None for one in marks)
    if found is None:
        yield "no place near the old one gives what was read: read again"
        return
    blind = [words for name, words in _BACK.items() if found.told[name] is None]
    if blind and not pictures and tapes < moves.TAPES_FOR_HEIGHT:
        blind = [one for one in blind if one != _BACK["up"]]
        yield "with fewer than three tapes the lens is taken to stand as high as it did: level it against a mark"
    if blind == [_BACK["up"]] and not pictures:
        yield "marks level with the lens do not tell how high it stands"
    elif blind:
        yield f"these marks do not tell {' or '.join(blind)} the camera stands"
    turns = [name for name in moves.TURNS if found.told[name] is None]
    if not pictures:
        yield "tapes do not tell where the lens is aimed: aim it by the picture once it stands"
    elif turns:
        yield f"these marks do not tell the {' or the '.join(turns)} of the lens"
    if found.freedom == 0:
        yield "with so few readings there is no check: one more mark would give one"
