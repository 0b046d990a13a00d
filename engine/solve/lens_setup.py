"""The lens as it stands and is focused: the part of a shot that every group of the answer shares.

Distances here are along the lens axis from the entrance pupil; the tape is level and starts at the plumb of the sensor
plane, `pupil.ahead_mm` behind it. The pupil moves with the focus mark, the mark with the distances, and a model whose
place is left open with the ratio, so the three are settled together.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import focus, frame_rate, lineup, optics, scale
from forescale.engine.formulas.projection import Frame
from forescale.engine.kit import library
from forescale.engine.kit.kit import Kit, lens_faults
from forescale.engine.kit.profiles import Camera, Lens, Mode, Profile
from forescale.engine.kit.pupil import PupilAt, lens_pupil_at
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import BenchRow, PointRow, SurveyRow

AnyProfile = TypeVar("AnyProfile", bound=Profile)
SETTLED_MM = 1e-9
ROUNDS = 20
FREE_ROUNDS = 6  # from then on a ratio that was open only falls, lest it go to and fro between two neighbours


@dataclass(frozen=True, slots=True)
class LensPlacement:
    """Ratio, focus and distances from the pupil, mm, as no mode changes them; what it stands for is `seems_mm` off."""

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

    def rise(self, along_mm: float) -> float:
        """Return the upward part of a distance along the lens axis."""
        return along_mm * math.sin(math.radians(self.aim_deg))

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
    found, coc = lens_placement(setting, kit, where), coc_mm(setting, kit.mode)
    zone = (found.near_mm, found.far_mm, found.focus_mm)
    needed = focus.stop_for_limits(*zone, kit.focal_mm, coc, found.pupil_magnification)
    f_number = shot_f_number(setting, kit.lens, needed)
    placed: dict[str, Any] = {name: getattr(found, name) for name in LensPlacement.__slots__}
    return LensSetup(
        **placed,
        stop_needed=needed,
        f_number=f_number,
        t_stop=kit.lens.t_stop(f_number),
        coc_mm=coc,
        frame_width_mm=frame_width_mm(kit.mode, kit.lens),
    )


def lens_placement(setting: Setting, kit: Kit, where: str) -> LensPlacement:
    """Return where the lens stands and is focused; raises BadInput where the model or the focus lies inside it."""
    focus_tape, ratio = setting.focus.distance or setting.place.model or math.inf, math.inf
    for turn in range(ROUNDS):
        pupil = lens_pupil_at(kit.lens, kit.focal_mm, focus_tape)
        ahead = pupil.ahead_mm
        wanted = _ratio(setting, kit, ahead)
        ratio = wanted if turn < FREE_ROUNDS else min(ratio, wanted)
        model, near, background, far, seems = _distances(setting, kit, ratio, ahead, where)
        if setting.focus.distance is not None:
            focus_mm = setting.focus.distance - ahead
        else:  # what holds the zone, never nearer than the lens goes
            focus_mm = max(focus.zone_focus_mm(near, far), kit.lens.close_focus - ahead)
        found = focus_mm + ahead
        if found == focus_tape or abs(found - focus_tape) < SETTLED_MM:
            break
        focus_tape = found
    own = pupil.magnification or 1.0
    if focus_mm <= max(kit.focal_mm, kit.focal_mm / own):
        right = f"{kit.lens.name} focuses from its close focus on"
        raise BadInput(Fault.at("focus.distance", "lies inside the lens", right, file=where))
    image = optics.image_distance_mm(kit.focal_mm, focus_mm, own)
    magnified, aim = optics.magnification(kit.focal_mm, focus_mm, own), setting.place.aim
    placed = LensPlacement(ratio, pupil, model, near, background, far, focus_mm, image, magnified, seems, aim)
    # What the program chooses must stand where a person may set it.
    if faults := lens_faults(kit, placed.tape(model), setting.place.model_near, where):
        raise BadInput(*faults)
    return placed


def _ratio(setting: Setting, kit: Kit, ahead_mm: float) -> float:
    """Return the ratio set, or the one that the place or the top rate asks for."""
    if setting.scale.ratio is not None:
        return setting.scale.ratio
    place = setting.place
    seems = along_mm(place.background if place.seems_at is None else place.seems_at, ahead_mm, place.aim)
    if place.model is not None and math.isfinite(seems):
        return scale.nearest_standard(max(lineup.reads_as_ratio(along_mm(place.model, ahead_mm, place.aim), seems), 1))
    top = frame_rate.largest_ratio(kit.mode.top_fps / setting.action.playback_fps, setting.action.heft)
    return scale.largest_standard(min(top, seems / (kit.lens.close_focus - ahead_mm)))


def _distances(setting: Setting, kit: Kit, ratio: float, ahead_mm: float, where: str) -> tuple[float, ...]:
    """Return model, nearest part, background, farthest part and what the model stands for, from the pupil."""
    place = setting.place

    def along(tape_mm: float | None, otherwise: float) -> float:
        return otherwise if tape_mm is None else along_mm(tape_mm, ahead_mm, place.aim)

    background = along_mm(place.background, ahead_mm, place.aim)
    seems = along(place.seems_at, background)
    if place.model is None and math.isinf(seems):
        missing = "is missing, and no place can be worked out for a background at infinity"
        raise BadInput(Fault.at("place.model", missing, file=where))
    model = along(place.model, lineup.match_distance_mm(seems, ratio))
    if place.model is None and model > background * (1 + 1e-9):
        behind = f"would stand {model + ahead_mm:.0f} mm from the sensor plane, beyond the background"
        raise BadInput(Fault.at("place.model", behind, "set a larger scale, or what it stands for nearer", file=where))
    near = along(place.model_near, model)
    for field, distance in (("place.model", model), ("place.model_near", near)):
        if distance <= kit.focal_mm:
            inside = f"would stand {distance + ahead_mm:.0f} mm from the sensor plane, inside the lens"
            beyond = f"it must stand beyond {kit.focal_mm + ahead_mm:.0f} mm"
            raise BadInput(Fault.at(field, inside, beyond, file=where))
    return model, min(near, model), background, max(along(place.background_far, background), background, model), seems


def coc_mm(setting: Setting, mode: Mode) -> float:
    """Return the circle of confusion in mm that the sharpness wanted stands for in a mode."""
    return setting.focus.sharpness.coc_mm(mode.width, mode.height, mode.pixel_mm, mode.sharpness)


def frame_width_mm(mode: Mode, lens: Lens) -> float:
    """Return the frame's width in mm as the lens unsqueezes it."""
    return mode.width * lens.squeeze


def frame_of(mode: Mode, lens: Lens, image_mm: float) -> Frame:
    """Return what a picture is caught on in a mode through a lens with that image distance."""
    return Frame(image_mm, frame_width_mm(mode, lens), mode.height, mode.width_px, mode.height_px)


def shot_f_number(setting: Setting, lens: Lens, needed: float) -> float:
    """Return the f-number set, or the first of the lens's marks that holds the zone, the last where none does."""
    if (stop := setting.focus.stop) is not None:
        return lens.f_number(stop.value, stop.marks)
    return lens.first_past(needed) or lens.f_numbers[-1]


class OwnLens(NamedTuple):
    """What a reading was taken through, its own or the shot's: mode, where the pupil stands, and what caught it."""

    mode: Mode
    ahead_mm: float
    frame: Frame


class Unread(BadInput):
    """What a reading was taken through is on no shelf any more, or cannot have been: it tells nothing."""


def own_lens(row: SurveyRow | BenchRow | PointRow, kit: Kit, setup: LensPlacement) -> OwnLens:
    """Return what a reading was taken through; raises Unread."""
    camera = kit.camera if row.camera in {None, kit.camera.name} else _kept("cameras", Camera, row.camera)
    name = row.mode or kit.mode.name
    mode = next((mode for mode in camera.mode if mode.name == name), None)
    if mode is None:
        raise Unread(Fault(f'{camera.name} has no mode "{name}", with which it was read'))
    lens = kit.lens if row.lens in {None, kit.lens.name} else _kept("lenses", Lens, row.lens)
    if lens is kit.lens and row.focal_length in {None, kit.focal_mm} and row.focus is None:
        return OwnLens(mode, setup.pupil.ahead_mm, frame_of(mode, lens, setup.image_mm))
    focal = row.focal_length or lens.focal_length or kit.focal_mm
    focused = setup.focus_mm + setup.pupil.ahead_mm if row.focus is None else row.focus
    pupil = lens_pupil_at(lens, focal, focused)
    try:
        image = optics.image_distance_mm(focal, focused - pupil.ahead_mm, pupil.magnification or 1.0)
    except ValueError as error:
        raise Unread(Fault(f"it cannot have been read so: {error}")) from None
    return OwnLens(mode, pupil.ahead_mm, frame_of(mode, lens, image))


def _kept(shelf: Any, kind: type[AnyProfile], name: Any) -> AnyProfile:
    try:
        path = library.shelf_file(shelf, name).path
        return _loaded(kind, path, path.stat().st_mtime_ns)  # type: ignore[return-value]
    except (BadInput, OSError) as gone:
        raise Unread(*gone.faults if isinstance(gone, BadInput) else [f"{name}: {gone.strerror}"]) from None


@lru_cache(maxsize=16)
def _loaded(kind: type[Profile], path: Path, _changed_ns: int) -> Profile:
    return library.load_profile(kind, path)
