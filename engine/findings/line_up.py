"""What to move at the line-up, and on coming back, in sentences: lengths with their ways, and how sure they are."""

import math
from collections.abc import Iterator, Sequence

from forescale.engine.findings.words import Words, listed, said
from forescale.engine.formulas.least_squares import SURE
from forescale.engine.formulas.moves import DOUBTED_MARKS
from forescale.engine.solve.picture_groups import CameraMoves, ComeBackAnswer, CorrectionAnswer, ModelMoves
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import INCH_MM, length_text, number_text

HEAD_TURNS = "Turning the head mends no miss: it moves the pictures of model and place alike"
FINE_MM = 10.0  # marks that tell no finer than this, at two standard errors, are called coarse
NEAR_MM = 7_000.0
WAYS = {"right_mm": ("right", "left"), "up_mm": ("up", "down"), "forward_mm": ("forward", "back")}
WAYS |= {"turn_deg": ("right end away", "right end nearer"), "lean_deg": ("top away", "top nearer")}
WAYS |= {"roll_deg": ("clockwise", "counter-clockwise"), "pan_deg": ("right", "left"), "tilt_deg": ("up", "down")}
CAMERA = ("right_mm", "up_mm", "forward_mm")
MODEL = (*CAMERA, "turn_deg", "lean_deg", "roll_deg")
HEAD = ("pan_deg", "tilt_deg", "roll_deg")
LABELS = dict(zip(CAMERA, ("aside", "up or down", "forward or back"), strict=True)) | {
    name: name.removesuffix("_deg") for name in (*MODEL[3:], *HEAD)
}
MODEL_LABELS = LABELS | {"forward_mm": "away or nearer"}

AnyMoves = CameraMoves | ComeBackAnswer


def line_up_findings(answer: Answer) -> Iterator[Finding]:
    """Yield how far points were read to miss, and that the camera stands off where marks were read."""
    found, back, words = answer.correction, answer.come_back, Words(answer)
    if found is not None and found.points:
        longest = max(math.hypot(point.across_px, point.up_px) for point in found.points)
        meets = longest <= answer.setting.move.tolerance
        yield said(answer, "line-up-meets" if meets else "line-up-misses", longest=longest)
    if found is not None and found.stale:
        yield said(answer, "miss-stale", names=", ".join(f'"{name}"' for name in found.stale))
    if back is not None and (_unfit(back) or to_do(words, back, (*CAMERA, *HEAD))):
        unfit = _unfit(back)
        doubt = "first read the marks again, which do not fit one place; then " if unfit else ""
        told = f"{doubt}{way_back(words, back) or ''}"
        yield said(answer, "come-back", way_back=told, level="warn" if unfit else None)


def value_text(words: Words, name: str, value: float, error: float) -> str:
    """Return how far one component goes and which way, "1 3/8 in left", "0.3 deg top away", no finer than its error."""
    way = WAYS[name][value < 0]
    if not name.endswith("_mm"):
        return f"{number_text(round(abs(value), max(1 - math.floor(math.log10(max(error, 1e-9))), 0)), 2)} deg {way}"
    fraction = next((step for step in (8, 16, 32) if INCH_MM / step <= error), 64)
    return f"{length_text(abs(value), words.of.system, fraction=fraction)} {way}"


def error_text(words: Words, name: str, error: float) -> str:
    """Return how sure it is, two standard errors either way, "± 0.08 in"."""
    both = SURE * error
    return f"± {words.small(both)}" if name.endswith("_mm") else f"± {number_text(both, 2)} deg"


def component(moves: AnyMoves, name: str) -> tuple[float, float] | None:
    """Return a component and its standard error, None where it is not told."""
    quantity, _, unit = name.rpartition("_")
    value, error = getattr(moves, name), getattr(moves, f"{quantity}_error_{unit}")
    return None if value is None or error is None else (value, error)


def _worth(moves: AnyMoves, name: str) -> tuple[float, float] | None:
    """Return a component that is worth going, of coming back any that is told, and its standard error; else None."""
    if isinstance(moves, CameraMoves):
        return next(((go.by, go.error) for go in moves.do if go.name == name), None)
    return component(moves, name)


def to_do(words: Words, moves: AnyMoves, names: Sequence[str], *, errors: bool = False) -> list[str]:
    """Return what is to be done, a part each: what passes its own errors, or all that is told with its errors."""
    parts = []
    for name in names:
        found = _worth(moves, name)
        if found is not None and (errors or abs(found[0]) > SURE * found[1]):
            said = value_text(words, name, *found)
            said = said if name.endswith("_mm") else f"{LABELS[name]} it {said}"
            parts.append(f"{said} ({error_text(words, name, found[1])})" if errors else said)
    return parts


def camera_says(words: Words, moves: CameraMoves, *, errors: bool = False) -> str:
    """Return what to do with the camera."""
    moved = to_do(words, moves, CAMERA, errors=errors)
    return f"move the camera {', '.join(moved)}" if moved else _stays("the camera", moves)


def model_says(words: Words, moves: ModelMoves, thing: str = "the model", *, errors: bool = False) -> str:
    """Return what to do with the model."""
    if not to_do(words, moves, MODEL):
        return _stays(thing, moves)
    ways = {"forward": "away", "back": "nearer"}
    turned, going = (to_do(words, moves, names, errors=errors) for names in (MODEL[3:], CAMERA))
    moved = [" ".join(ways.get(word, word) for word in part.split(" ")) for part in going]
    first = [f"move {thing} {', '.join(moved)}"] if moved else []
    if turned and not moved:
        turned[0] = turned[0].replace(" it ", f" {thing} ", 1)
    return "; ".join([*first, *([", ".join(turned)] if turned else [])])


def _stays(thing: str, moves: CameraMoves) -> str:
    """Return that nothing is to be moved, or that no move is told."""
    if moves.holds and None not in (moves.right_mm, moves.up_mm, moves.forward_mm):
        return f"{thing} stands right as far as these readings tell"
    return f"these readings tell no move of {thing} that mends it"


def correction_says(answer: Answer, found: CorrectionAnswer, thing: str = "the model") -> Iterator[str]:
    """Yield all that is to be said of a correction: what to read again, then the doing."""
    words, reading_px, camera, model = Words(answer), answer.setting.limits.reading_px, found.camera, found.model
    told = [(camera_says(words, camera, errors=True), "the camera", camera)] if camera is not None else []
    told += [(model_says(words, model, thing, errors=True), thing, model)] if model is not None else []
    yield from (f'Read "{name}" again: the other points gainsay it' for name in found.doubtful)
    for text, _, moves in told:
        then = ": then the points meet as closely as they were read"
        if moves.left_px > reading_px:
            then = f": then the worst point still misses by {words.at_least(moves.left_px)} px"
        yield _sentence(f"{text}{then if moves.holds else ''}")
    for _, what, moves in told:
        if not moves.holds:
            yield (
                f"Moving {what} alone cannot mend it: {number_text(moves.residual_px, 2)} px are left unexplained, and "
                f"a place in the picture is read to {number_text(reading_px, 2)} px"
            )
    for _, what, moves in told:
        told_all = {name: component(moves, name) for name in MODEL if hasattr(moves, name)}
        unsure = {name: one[1] for name, one in told_all.items() if one is not None and _worth(moves, name) is None}
        if unsure:
            labels = LABELS if what == "the camera" else MODEL_LABELS
            texts = [f"{labels[name]} ({error_text(words, name, error)})" for name, error in unsure.items()]
            yield f"Too small to be told from no move at all, of {what}: {listed(texts)}"
    yield from map(_sentence, found.cannot_tell)


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}"


def _unfit(found: ComeBackAnswer) -> bool:
    """Tell whether the readings fit no one place of the camera."""
    return not found.holds and any(getattr(found, name) is not None for name in (*CAMERA, *HEAD))


def come_back_warns(found: ComeBackAnswer) -> int:
    """Return how many of the first sentences on coming back warn."""
    return len(found.gainsaid) + (1 + len(found.doubtful) if _unfit(found) else 0)


def _which(answer: Answer, found: ComeBackAnswer) -> str:
    """Return why no one mark is named, where none is, and what to do."""
    if found.doubtful:
        return ""
    if found.gainsaid:
        return "; first put right what is said above"
    count = sum(row.taped_now is not None or row.frame_across_now is not None for row in answer.setting.witness)
    few = f", and {count} marks are too few to tell which" if count < DOUBTED_MARKS else ""
    return f"{few}; read all of them again before the camera is moved"


def come_back_says(answer: Answer, found: ComeBackAnswer) -> Iterator[str]:
    """Yield all that is to be said of coming back: what warns, as `come_back_warns` counts it, then the doing."""
    words, rows = Words(answer), {row.name: row for row in answer.setting.witness}
    for mark, placed, now in found.gainsaid:
        was = words.length(placed)
        read = words.length((rows[mark].taped_now if now else rows[mark].taped) or 0.0)
        gives = f"its distance, aside and height give {was} at this lens height: measure all four again"
        gives = f"then it was {was}: tape it once more" if now else gives
        yield f'The tape {"now" if now else "then"} of "{mark}" is {read}, and {gives}'
    if _unfit(found):
        unfit = "The readings do not fit one place of the camera: a mark was misread, or one has moved"
        yield f"{unfit}{_which(answer, found)}"
    yield from (f'Read "{name}" again: the other marks gainsay it' for name in found.doubtful)
    if (text := way_back(words, found)) is not None:
        yield _sentence(text)
        parts = [part.replace(" it ", " ", 1) for part in to_do(words, found, (*CAMERA, *HEAD), errors=True)]
        yield f"All that is told, with two standard errors either way: {', '.join(parts)}"
    yield from map(_sentence, found.cannot_tell)
    told = (("by tapes", found.would_tell_by_tapes_mm), ("in the picture", found.would_tell_by_picture_mm))
    finest = [f"{how} to ± {words.small(SURE * mm)}" for how, mm in told if mm is not None]
    if finest:
        yield f"These marks would tell where the camera stands {', '.join(finest)}"
    errors = [component(found, name) for name in CAMERA]
    coarse = max([mm for _, mm in told if mm is not None] + [one[1] for one in errors if one is not None], default=0.0)
    if SURE * coarse > FINE_MM and found.mean_distance_mm > NEAR_MM:
        near = " to ".join(words.length(mm) for mm in (3_000.0, NEAR_MM))
        yield f"Marks {near} from the camera would tell it to a few millimetres: the farther, the coarser"


def way_back(words: Words, found: ComeBackAnswer) -> str | None:
    """Return the way back as an instruction; None where nothing is told."""
    if all(component(found, name) is None for name in (*CAMERA, *HEAD)):
        return None
    moved, turned = to_do(words, found, CAMERA), [part.replace(" it ", " ", 1) for part in to_do(words, found, HEAD)]
    first = [f"move the camera {', '.join(moved)}"] if moved else []
    then = [f"{'then ' if first else ''}{', '.join(turned)}"] if turned else []
    stands = "the camera stands where it stood, as far as these marks tell"
    return "; ".join([*first, *then]) or ("no way back is told before that is put right" if found.gainsaid else stands)
