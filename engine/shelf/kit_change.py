"""Choosing other kit for a shot: what is to be changed with it, and what no longer fits."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode, Rates
from forescale.engine.shot.records import Setting
from forescale.engine.units import EntryError, number_text, parse_length

SAME = 1e-9


@dataclass(frozen=True, slots=True)
class KitChange:
    """The fields to set, by path, as a shot's file would hold them, and what is to be said with it."""

    fields: dict[str, Any]
    said: tuple[str, ...] = field(default=())


def runs_at(mode: Mode, fps: float) -> bool:
    """Tell whether a mode has a rate."""
    if isinstance(mode.fps, Rates):
        return mode.fps.min - SAME <= fps <= mode.fps.max + SAME
    return any(abs(rate - fps) < 1e-6 for rate in mode.fps)


def with_mode(setting: Setting, camera: Camera, mode: Mode) -> KitChange:
    """Return the change to a camera's mode; a rate or an ISO that it has not goes back to the program."""
    fields: dict[str, Any] = {"kit.camera": camera.name, "kit.mode": mode.name}
    said = []
    fps, iso = setting.action.fps, setting.light.iso
    if fps is not None and not runs_at(mode, fps):
        fields["action.fps"] = None
        said.append(f"{mode.name} has no {number_text(fps, 6)} fps: the rate is left to the program")
    if iso is not None and not mode.lowest_iso - SAME <= iso <= mode.iso_max + SAME:
        fields["light.iso"] = None
        span = f"{number_text(mode.lowest_iso, 7)} to {number_text(mode.iso_max, 7)}"
        said.append(f"{mode.name} goes from ISO {span}, not {number_text(iso, 7)}: the base is taken")
    return KitChange(fields, tuple(said))


def with_lens(kit: Kit, lens: Lens) -> KitChange:
    """Return the change to a lens; a zoom is set to the present focal length, or to the nearest that it has."""
    if not lens.is_zoom:
        return KitChange({"kit.lens": lens.name, "kit.focal_length": None})
    focal = min(max(kit.focal_mm, lens.shortest), lens.longest)
    said: tuple[str, ...] = ()
    if abs(focal - kit.focal_mm) > SAME:
        said = (f"{lens.name} has no {number_text(kit.focal_mm, 6)} mm: it is set to {number_text(focal, 6)} mm",)
    return KitChange({"kit.lens": lens.name, "kit.focal_length": f"{focal!r} mm"}, said)


def with_head(setting: Setting, head: Head | None) -> KitChange:
    """Return the change to a head, or to none; a slide reading of another head means nothing on this one."""
    fields: dict[str, Any] = {"kit.head": None if head is None else head.name}
    slide, said = setting.move.slide, tuple[str, ...]()
    if head is not None and setting.kit.head not in {None, head.name} and slide is not None:
        fields["move.slide"] = None
        said = (f"the slide's {number_text(slide, 6)} mm was {setting.kit.head}'s: set it anew on {head.name}",)
    return KitChange(fields, said)


def with_focal_length(lens: Lens, text: str) -> tuple[KitChange, str]:
    """Return the change to a zoom at a focal length as typed, bare in mm, and that length; raises ValueError."""
    focal = parse_length(text, "mm")
    if not lens.shortest - SAME <= focal <= lens.longest + SAME:
        span = f"{number_text(lens.shortest, 6)} mm to {number_text(lens.longest, 6)} mm"
        raise EntryError(f"{number_text(focal, 6)} mm is out of range: {lens.name} goes from {span}")
    return KitChange({"kit.lens": lens.name, "kit.focal_length": f"{focal!r} mm"}), f"{number_text(focal, 6)} mm"
