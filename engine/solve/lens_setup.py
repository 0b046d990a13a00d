"""The lens as it stands and is focused: the part of a shot that every group of the answer shares.

Distances here are along the lens axis from the entrance pupil, since perspective and focus start there; the tape is
level and starts at the plumb of the sensor plane, `pupil.ahead_mm` behind it. The pupil moves with the focus mark, the
mark with the distances, and a model whose place is left open with the ratio, so the three are settled together.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import focus, lineup, optics, scale
from forescale.engine.formulas import frame_rate as rate
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Lens, Mode
from forescale.engine.kit.pupil import PupilAt, lens_pupil_at
from forescale.engine.shot.records import Setting

Distances = tuple[float, float, float, float, float]  # model, nearest part, background, farthest part, seems at
SETTLED_MM = 1e-9
ROUNDS = 20
FREE_ROUNDS = 6  # from then on a ratio that was open only falls, lest it go to and fro between two neighbours


@dataclass(frozen=True, slots=True)
class LensPlacement:
    """Ratio, distances from the pupil and focus, in mm: what no camera's mode changes once the ratio is set.

    `seems_mm` is where what the model stands for would be; slip, drift and focus count to the background instead.
    """

    ratio: float
    pupil: PupilAt
    model_mm: float
    near_mm: float
    background_mm: float
    far_mm: float
    focus_mm: float
    image_mm: float
    magnification: float
    seems_mm: float
    aim_deg: float

    @property
    def pupil_magnification(self) -> float:
        """The exit pupil over the entrance pupil, taken as 1 where it is not known."""
        return self.pupil.magnification or 1.0

    def tape(self, along_mm: float) -> float:
        """Return the tape distance, level from the plumb of the sensor plane, of a distance along the lens axis."""
        return self.level(along_mm + self.pupil.ahead_mm)

    def level(self, along_mm: float) -> float:
        """Return the level part of a distance along the lens axis."""
        return along_mm * math.cos(math.radians(self.aim_deg)) if self.aim_deg else along_mm

    def along(self, tape_mm: float) -> float:
        """Return how far along the lens axis from the pupil a taped plane is met."""
        return along_mm(tape_mm, self.pupil.ahead_mm, self.aim_deg)

    def on_lens(self, focus_mm: float) -> float:
        """Return what the lens's own scale reads at a focus: from the sensor plane, along the lens."""
        return focus_mm + self.pupil.ahead_mm


@dataclass(frozen=True, slots=True)
class LensSetup(LensPlacement):
    """The lens with a stop set and a sensor behind it: exact f-numbers, mm."""

    stop_needed: float
    f_number: float
    t_stop: float
    coc_mm: float
    frame_width_mm: float


def along_mm(tape_mm: float, ahead_mm: float, aim_deg: float) -> float:
    """Return how far along a tilted lens axis from the pupil a plane is met that is taped level from the sensor."""
    return (tape_mm / math.cos(math.radians(aim_deg)) if aim_deg else tape_mm) - ahead_mm


def lens_setup(setting: Setting, kit: Kit, where: str) -> LensSetup:
    """Return the lens of a shot as it is set; raises BadInput where no light from the model could reach the sensor."""
    return _sight(setting, kit, lens_placement(setting, kit, where))


def lens_placement(setting: Setting, kit: Kit, where: str) -> LensPlacement:
    """Return where the lens stands and is focused; raises BadInput where the model or the focus lies inside it."""
    focus_tape = setting.focus.distance or setting.place.model or math.inf
    ratio = math.inf
    for turn in range(ROUNDS):
        pupil = lens_pupil_at(kit.lens, kit.focal_mm, focus_tape)
        wanted = _ratio(setting, kit, pupil.ahead_mm)
        ratio = wanted if turn < FREE_ROUNDS else min(ratio, wanted)
        distances = _distances(setting, kit, ratio, pupil.ahead_mm, where)
        focus_mm = _focus_mm(setting, kit, distances, pupil.ahead_mm)
        found = focus_mm + pupil.ahead_mm
        if found == focus_tape or abs(found - focus_tape) < SETTLED_MM:
            break
        focus_tape = found
    return _standing(setting, kit, ratio, pupil, distances, focus_mm, where)


def _ratio(setting: Setting, kit: Kit, ahead_mm: float) -> float:
    """Return the ratio set, or the one that the place or the top rate asks for."""
    if setting.scale.ratio is not None:
        return setting.scale.ratio
    place = setting.place
    seems = along_mm(place.background if place.seems_at is None else place.seems_at, ahead_mm, place.aim)
    if place.model is not None and math.isfinite(seems):
        return scale.nearest_standard(max(lineup.reads_as_ratio(along_mm(place.model, ahead_mm, place.aim), seems), 1))
    top = rate.largest_ratio(kit.mode.top_fps / setting.action.playback_fps, setting.action.heft)
    reach = seems / (kit.lens.close_focus - ahead_mm)
    return scale.largest_standard(min(top, reach))


def _distances(setting: Setting, kit: Kit, ratio: float, ahead_mm: float, where: str) -> Distances:
    """Return model, nearest part, background, farthest part and what the model stands for, from the pupil."""
    place = setting.place

    def along(tape_mm: float) -> float:
        return along_mm(tape_mm, ahead_mm, place.aim)

    background = along(place.background)
    seems = background if place.seems_at is None else along(place.seems_at)
    if place.model is not None:
        model = along(place.model)
    elif math.isfinite(seems):
        model = lineup.match_distance_mm(seems, ratio)
    else:
        missing = "is missing, and no place can be worked out for a background at infinity"
        raise BadInput(Fault.at("place.model", missing, file=where))
    near = model if place.model_near is None else along(place.model_near)
    far = background if place.background_far is None else along(place.background_far)
    for field, distance in (("place.model", model), ("place.model_near", near)):
        if distance <= kit.focal_mm:
            inside = f"would stand {distance + ahead_mm:.0f} mm from the sensor plane, inside the lens"
            beyond = f"it must stand beyond {kit.focal_mm + ahead_mm:.0f} mm"
            raise BadInput(Fault.at(field, inside, beyond, file=where))
    return model, min(near, model), background, max(far, background), seems


def _focus_mm(setting: Setting, kit: Kit, distances: Distances, ahead_mm: float) -> float:
    """Return the focus from the pupil: as set, or that which holds the zone, never nearer than the lens goes."""
    if setting.focus.distance is not None:
        return setting.focus.distance - ahead_mm
    _, near, _, far, _ = distances
    return max(focus.zone_focus_mm(near, far), kit.lens.close_focus - ahead_mm)


def _standing(
    setting: Setting,
    kit: Kit,
    ratio: float,
    pupil: PupilAt,
    distances: Distances,
    focus_mm: float,
    where: str,
) -> LensPlacement:
    own = pupil.magnification or 1.0
    if focus_mm <= max(kit.focal_mm, kit.focal_mm / own):
        right = f"{kit.lens.name} focuses from its close focus on"
        raise BadInput(Fault.at("focus.distance", "lies inside the lens", right, file=where))
    model, near, background, far, seems = distances
    return LensPlacement(
        ratio=ratio,
        pupil=pupil,
        model_mm=model,
        near_mm=near,
        background_mm=background,
        far_mm=far,
        focus_mm=focus_mm,
        image_mm=optics.image_distance_mm(kit.focal_mm, focus_mm, own),
        magnification=optics.magnification(kit.focal_mm, focus_mm, own),
        seems_mm=seems,
        aim_deg=setting.place.aim,
    )


def _sight(setting: Setting, kit: Kit, found: LensPlacement) -> LensSetup:
    coc = coc_mm(setting, kit.mode)
    zone = (found.near_mm, found.far_mm, found.focus_mm)
    needed = focus.stop_for_limits(*zone, kit.focal_mm, coc, found.pupil_magnification)
    f_number = shot_f_number(setting, kit.lens, kit.lens.f_numbers, needed)
    return LensSetup(
        ratio=found.ratio,
        pupil=found.pupil,
        model_mm=found.model_mm,
        near_mm=found.near_mm,
        background_mm=found.background_mm,
        far_mm=found.far_mm,
        focus_mm=found.focus_mm,
        image_mm=found.image_mm,
        magnification=found.magnification,
        seems_mm=found.seems_mm,
        aim_deg=found.aim_deg,
        stop_needed=needed,
        f_number=f_number,
        t_stop=kit.lens.t_stop(f_number),
        coc_mm=coc,
        frame_width_mm=frame_width_mm(kit.mode, kit.lens),
    )


def coc_mm(setting: Setting, mode: Mode) -> float:
    """Return the circle of confusion in mm that the sharpness wanted stands for in a mode."""
    return setting.focus.sharpness.coc_mm(mode.width, mode.height, mode.pixel_mm, mode.sharpness)


def frame_width_mm(mode: Mode, lens: Lens) -> float:
    """Return the frame's width in mm as the lens unsqueezes it."""
    return mode.width * lens.squeeze


def shot_f_number(setting: Setting, lens: Lens, marks: Sequence[float], needed: float) -> float:
    """Return the f-number set, or the first of the lens's marks that holds the zone, the last where none does."""
    stop = setting.focus.stop
    if stop is not None:
        return lens.f_number(stop.value, stop.marks)
    return marks[min(bisect_left(marks, needed * (1 - 1e-9)), len(marks) - 1)]
