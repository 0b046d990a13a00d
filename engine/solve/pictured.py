"""Where the rows of the picture stand: pieces on their planes, points and outlines as they are and as built."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from forescale.engine.files.faults import BadInput, Fault, FieldPath
from forescale.engine.formulas import built, silhouette
from forescale.engine.formulas.projection import Frame, Point, Share, from_frame
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.pictured import OutlineRow, PointRow
from forescale.engine.shot.records import Setting
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.own_lens import own_lens


@dataclass(frozen=True, slots=True)
class Stance:
    """A model or a piece: its ratio, where it stands and what it stands for, level from the pupil in mm."""

    ratio: float
    stands_mm: float
    seems_mm: float

    def stands_for_background(self, setup: LensSetup) -> bool:
        """Whether what it stands for is the background itself."""
        return self.seems_mm == setup.level(setup.background_mm)

    def as_built(self, real: Point, lens_height_mm: float) -> Point:
        """Return where a real point is on the model as it stands; on the line of sight where it seems at infinity."""
        if math.isinf(self.seems_mm) or real.near == 0:
            return built.on_sight(real, lens_height_mm, self.stands_mm)
        return built.as_built(real, lens_height_mm, self.ratio, self.stands_mm, self.seems_mm)


Stances = Mapping[str | None, Stance]  # by the piece's name, None for the model


def stances(setting: Setting, kit: Kit, setup: LensSetup, where: str = "") -> Stances:
    """Return where the model and every piece stand; raises BadInput where a piece stands inside the lens."""
    level = setup.level
    found: dict[str | None, Stance] = {
        None: Stance(setup.ratio, level(setup.model_mm), level(setup.seems_mm)),
    }
    for number, piece in enumerate(setting.piece, start=1):
        seems = setup.along(setting.place.background if piece.seems_at is None else piece.seems_at)
        stands = seems / piece.ratio if piece.stands is None else setup.along(piece.stands)
        if stands <= kit.focal_mm:
            at = ("piece", number, "stands")
            raise BadInput(Fault.at(at, "lies inside the lens", "stand it farther off", file=where))
        found[piece.name] = Stance(piece.ratio, level(stands), level(seems))
    return found


def real_point(
    row: PointRow, setting: Setting, kit: Kit, setup: LensSetup, on: Stance, path: FieldPath, where: str = ""
) -> Point:
    """Return a real point: as taped, or from the picture that it was read in; raises BadInput."""
    height = setting.place.lens_height or 0.0
    if row.aside is not None and row.height is not None:
        away = on.seems_mm if row.distance is None else setup.level(setup.along(row.distance))
        return Point(row.aside, row.height, away)
    try:
        return _read_point(row, kit, setup, on, height)
    except BadInput as fault:
        raise BadInput(*(one.under(path, where) for one in fault.faults)) from None
    except ValueError as error:
        raise BadInput(Fault.at(path, str(error), file=where)) from None


def _read_point(row: PointRow, kit: Kit, setup: LensSetup, on: Stance, height: float) -> Point:
    """Return the point on the line of sight through a share of the frame, with the kit that it was read with."""
    own, aim = own_lens(row, kit, setup), setup.aim_deg if row.aim is None else row.aim
    mode, away = own.mode, on.seems_mm
    taped = row.distance
    if taped is None and on.stands_for_background(setup):  # it stood then where the background was
        taped = row.background
    if taped is not None:
        away = taped - own.ahead_mm * math.cos(math.radians(aim))
    assert row.frame_across is not None
    assert row.frame_up is not None
    share = Share(row.frame_across.share(mode.width_px), row.frame_up.share(mode.height_px))
    frame = Frame(own.image_mm, own.width_mm, mode.height, mode.width_px, mode.height_px)
    return from_frame(share, away, height, aim, frame)


def outline_points(row: OutlineRow, setting: Setting, setup: LensSetup, placed: Stances) -> tuple[Point, ...]:
    """Return the places that an outline runs through, arcs in short lines: the real ones, or as built for a model."""
    return _stood(silhouette.line(row.corners, closed=row.closed), row, setting, setup, placed)


def corner_points(row: OutlineRow, setting: Setting, setup: LensSetup, placed: Stances) -> tuple[Point, ...]:
    """Return the corners of an outline, the real ones, or as built for a model."""
    return _stood([(corner.x, corner.h) for corner in row.corners], row, setting, setup, placed)


def _stood(
    places: Sequence[tuple[float, float]], row: OutlineRow, setting: Setting, setup: LensSetup, placed: Stances
) -> tuple[Point, ...]:
    if row.of == "place":
        away = setup.level(setup.background_mm)
        return tuple(Point(x, h, away) for x, h in places)
    on, height = placed[row.piece], setting.place.lens_height or 0.0
    return tuple(on.as_built(Point(x, h, on.seems_mm), height) for x, h in places)
