"""The answer's sun group: the sun's day, and where the sun and the rig's shadow stand from the lens."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.formulas import projection, sun
from forescale.engine.formulas.projection import Point
from forescale.engine.shot.records import Setting
from forescale.engine.solve.day_groups import RigShadow, SunAnswer
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.sun_day_of import sun_day
from forescale.engine.solve.view import View

STRAIGHT_DEG = 2.0  # so near the axis the sun is on neither side
ASIDE_DEG = 22.5  # so near a right angle to the axis it stands at the side
LOOKED = 8  # poses of a move at which the rig's shadow is looked for
_RADIUS = math.tan(math.radians(sun.SUN_WIDTH_DEG / 2))


def sun_group(setting: Setting, setup: LensSetup, view: View) -> SunAnswer | None:
    """Return what the sun does; None where the shot does not say when and where."""
    day = sun_day(setting.sun)
    if day is None:
        return None
    seen, from_lens = day.seen, None
    in_frame, to_axis, shadow = None, None, None
    if day.facing_deg is not None:
        from_lens = sun.from_bearing_deg(seen.azimuth_deg, day.facing_deg)
        in_frame, to_axis = _against_lens(view, from_lens, seen.elevation_deg)
        shadow = _rig_shadow(setting, setup, view, from_lens, seen.elevation_deg)
    return SunAnswer(
        azimuth_deg=seen.azimuth_deg,
        elevation_deg=seen.elevation_deg,
        up=seen.elevation_deg > -sun.SUN_WIDTH_DEG / 2,
        facing_deg=day.facing_deg,
        from_lens_deg=from_lens,
        side=None if from_lens is None else side_of(from_lens),
        shadow_per_height=sun.shadow_per_height(seen.elevation_deg),
        rise=day.rise,
        noon=day.noon,
        noon_elevation_deg=day.noon_elevation_deg,
        set=day.set,
        turns_deg_per_min=day.turns_deg_per_min,
        in_frame=in_frame,
        nearest_to_axis_deg=to_axis,
        rig_shadow=shadow,
        towards_azimuth_deg=day.towards.azimuth_deg,
        towards_elevation_deg=day.towards.elevation_deg,
        windows=day.windows,
        nearest_today=day.nearest[0],
        nearest_on=day.nearest[1:],
    )


def side_of(from_lens_deg: float) -> str:
    """Return in words from where the sun shines, as the camera sees it."""
    off = abs(from_lens_deg)
    if off <= STRAIGHT_DEG:
        return "from straight ahead"
    if off >= 180 - STRAIGHT_DEG:
        return "from straight behind"
    hand = "right" if from_lens_deg > 0 else "left"
    if abs(off - 90) <= ASIDE_DEG:
        return f"from the {hand}"
    return f"from {'ahead' if off < 90 else 'behind'}, {hand}"


def _against_lens(view: View, from_lens_deg: float, elevation_deg: float) -> tuple[bool, float]:
    """Return whether any of the disc comes into the frame over the move, and how near its middle comes to the axis."""
    aside, up = math.radians(from_lens_deg), math.radians(elevation_deg)
    towards = Point(math.cos(up) * math.sin(aside), math.sin(up), math.cos(up) * math.cos(aside), 0.0)
    within, ahead, frame = False, -1.0, view.frame
    for _, pose in view.poses:
        away = projection.in_lens(towards, pose)[2]
        ahead = max(ahead, away)
        share = projection.in_frame(towards, pose, frame)
        if share is not None:
            disc_mm = frame.image_mm * _RADIUS / away**2
            across, rise = disc_mm / frame.width_mm, disc_mm / frame.height_mm
            within |= -across <= share.across <= 1 + across and -rise <= share.up <= 1 + rise
    return within, math.degrees(math.acos(min(ahead, 1.0)))


def _rig_shadow(
    setting: Setting, setup: LensSetup, view: View, from_lens_deg: float, elevation_deg: float
) -> RigShadow | None:
    """Return where the rig's shadow lies; None without a height, or where it does not fall ahead."""
    there = setting.sun
    if there.rig_height is None:
        return None
    away = setup.level(setup.model_mm)
    found = sun.shadow_of_rig(from_lens_deg, elevation_deg, away, there.rig_height)
    if found is None:
        return None
    seen = None
    if setting.place.lens_height is not None:
        points = tuple(_shadow_points(found, away, there.rig_height, there.rig_width or 0.0))
        looked = [pose for _, pose in view.poses[:: max(len(view.poses) // LOOKED, 1)]]
        shares = (projection.in_frame(point, pose, view.frame) for pose in looked for point in points)
        seen = any(share is not None and share.inside for share in shares)
    return RigShadow(*found, in_frame=seen)


def _shadow_points(shadow: tuple[float, float], model_mm: float, height_mm: float, width_mm: float) -> Iterator[Point]:
    """Yield points of the rig's shadow: along the ground to its end or the model's plane, and up that plane."""
    aside, up = shadow
    reach = min(1.0, height_mm / (height_mm - up)) if up < height_mm else 1.0
    for edge in (-width_mm / 2, 0.0, width_mm / 2):
        for step in range(1, 13):
            share = reach * step / 12
            yield Point(aside * share + edge, 0.0, model_mm * share)
        if up > 0:
            for step in range(1, 7):
                yield Point(aside + edge, up * step / 6, model_mm)
