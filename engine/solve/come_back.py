"""The answer's way back: where the camera stands now against where it stood when the marks were put up."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from forescale.engine.formulas.projection import Frame, Pixels, Point, in_frame, in_pixels
from forescale.engine.formulas.resection import (
    MOVES,
    TAPES_FOR_HEIGHT,
    TURNS,
    Return,
    Stood,
    Witness,
    come_back,
    sensor_mark,
)
from forescale.engine.shot.readings import WitnessRow
from forescale.engine.shot.records import Setting
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.line_up_groups import ComeBackAnswer
from forescale.engine.solve.view import View


def come_back_group(setting: Setting, setup: LensSetup, view: View) -> ComeBackAnswer | None:
    """Return the way back by the witness marks; None where there are none."""
    if not setting.witness:
        return None
    height = setting.place.lens_height or 0.0
    stood = Stood(height, setup.aim_deg, setup.pupil.ahead_mm, view.frame, setting.limits.reading_px)
    old = sensor_mark(view.line_up, setup.pupil.ahead_mm)
    marks = tuple(_witness(row, setup, view.frame, old) for row in setting.witness)
    mean = sum(math.dist(one.mark[:3], old[:3]) for one in marks) / len(marks)
    if all(one.tape_grown_mm is None and one.picture is None for one in marks):
        return _foretold(marks, stood, view, mean)
    found = come_back(marks, stood)
    names = [row.name for row in setting.witness]
    return ComeBackAnswer(
        **_values(found),
        residual_mm=None if found is None else found.residual_mm,
        residual_px=None if found is None else found.residual_px,
        holds=found is not None and found.holds,
        doubtful=() if found is None else tuple(names[place] for place in found.doubtful),
        cannot_tell=tuple(_not_told(found, marks)),
        mean_distance_mm=mean,
    )


def _witness(row: WitnessRow, setup: LensSetup, frame: Frame, old: Point) -> Witness:
    """Return a mark in the frame of reference, and what is read of it now."""
    mark = Point(row.aside, row.height, setup.level(setup.along(row.distance)))
    grown = None
    if row.taped_now is not None:
        grown = row.taped_now - (math.dist(mark[:3], old[:3]) if row.taped is None else row.taped)
    picture = None
    if row.frame_across_now is not None and row.frame_up_now is not None:
        across, up = row.frame_across_now.share(frame.width_px), row.frame_up_now.share(frame.height_px)
        picture = Pixels((across - 0.5) * frame.width_px, (up - 0.5) * frame.height_px)
    return Witness(mark, grown, picture)


def _foretold(marks: tuple[Witness, ...], stood: Stood, view: View, mean: float) -> ComeBackAnswer:
    """Return how finely the marks would tell a place, were they read where the camera stood."""
    taped = tuple(one._replace(tape_grown_mm=0.0) for one in marks)
    seen = tuple(
        one._replace(picture=in_pixels(one.mark, view.line_up, view.frame))
        for one in marks
        if (share := in_frame(one.mark, view.line_up, view.frame)) is not None and share.inside
    )
    return ComeBackAnswer(
        **_values(None),
        residual_mm=None,
        residual_px=None,
        holds=True,
        doubtful=(),
        cannot_tell=("nothing is read of the marks as they are now",),
        mean_distance_mm=mean,
        would_tell_by_tapes_mm=_coarsest(come_back(taped, stood)),
        would_tell_by_picture_mm=_coarsest(come_back(seen, stood)) if seen else None,
    )


def _coarsest(found: Return | None) -> float | None:
    """Return the largest error of the three of place; None where one is not told."""
    if found is None:
        return None
    errors = [found.errors[name] for name in MOVES]
    known = [one for one in errors if one is not None]
    return max(known) if len(known) == len(errors) else None


def _values(found: Return | None) -> dict[str, float | None]:
    values: dict[str, float | None] = {}
    for names, unit in ((MOVES, "mm"), (TURNS, "deg")):
        for name in names:
            values[f"{name}_{unit}"] = None if found is None else found.told[name]
            values[f"{name}_error_{unit}"] = None if found is None else found.errors[name]
    return values


_ASKED = {"right": "how far aside", "up": "how high", "forward": "how far forward or back"}


def _not_told(found: Return | None, marks: Sequence[Witness]) -> Iterator[str]:
    """Yield what the marks do not tell, and what they leave without a check."""
    tapes = sum(one.tape_grown_mm is not None for one in marks)
    pictures = sum(one.picture is not None for one in marks)
    if found is None:
        yield "no place near the old one gives what was read: read again"
        return
    blind = [words for name, words in _ASKED.items() if found.told[name] is None]
    if blind and not pictures and tapes < TAPES_FOR_HEIGHT:
        blind = [one for one in blind if one != _ASKED["up"]]
        yield "with fewer than three tapes the lens is taken to stand as high as it did: level it against a mark"
    if blind == [_ASKED["up"]] and not pictures:
        yield "marks level with the lens do not tell how high it stands"
    elif blind:
        yield f"these marks do not tell {' or '.join(blind)} the camera stands"
    turns = [name for name in TURNS if found.told[name] is None]
    if not pictures:
        yield "tapes do not tell where the lens is aimed: aim it by the picture once it stands"
    elif turns:
        yield f"these marks do not tell the {' or the '.join(turns)} of the lens"
    if found.freedom == 0:
        yield "with so few readings there is no check: one more mark would give one"
