"""What is searched: cameras in each mode, lenses at each focal length, and the ratios to try."""

import math
from collections.abc import Callable, Iterator
from typing import NamedTuple, TypeVar

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import scale
from forescale.engine.formulas.contrast import frequency_lpmm
from forescale.engine.kit import library
from forescale.engine.kit.kit import slide_faults
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import KitChoice
from forescale.engine.solve.lens_setup import coc_mm
from forescale.engine.units import UnitSystem

Found = TypeVar("Found", Camera, Lens)
LARGEST_RATIO = 10_000.0  # that a shot may have

# The focal lengths in mm that lenses are sold and called for at: common practice, no source.
CUSTOMARY_FOCAL_MM = (
    8, 10, 12, 14, 16, 18, 20, 21, 24, 25, 28, 32, 35, 40, 50, 65, 75, 85, 100, 135, 150, 180, 200, 300, 400, 600,
)  # fmt: skip


class Shelves(NamedTuple):
    """Cameras and lenses at hand, and the shot's head; `faults` has one for each profile that cannot be read."""

    cameras: tuple[Camera, ...]
    lenses: tuple[Lens, ...]
    head: Head | None = None
    faults: tuple[Fault, ...] = ()


class CameraMode(NamedTuple):
    """A camera in one of its modes, with the circle of confusion (mm) and the frequency (line pairs/mm) wanted."""

    camera: Camera
    mode: Mode
    coc_mm: float
    frequency_lpmm: float


class LensAt(NamedTuple):
    """A lens at a focal length."""

    lens: Lens
    focal_mm: float


def at_hand(choice: KitChoice) -> Shelves:
    """Return all the kit on the shelves; raises BadInput where the shot's head is not among it."""
    faults: list[Fault] = []
    cameras = tuple(_readable("cameras", library.camera, faults))
    lenses = tuple(_readable("lenses", library.lens, faults))
    return Shelves(cameras, lenses, None if choice.head is None else library.head(choice.head), tuple(faults))


def _readable(shelf: library.Shelf, read: Callable[[str], Found], faults: list[Fault]) -> Iterator[Found]:
    for name in library.shelf_files(shelf):
        try:
            yield read(name)
        except BadInput as fault:
            faults.extend(fault.faults)


def modes_at_hand(shelves: Shelves, setting: Setting, where: str = "") -> tuple[CameraMode, ...]:
    """Return the cameras' modes to try, those held by the shot alone; raises BadInput where none is left."""
    held = setting.limits.hold
    choice = setting.kit
    found = [
        CameraMode(camera, mode, coc := coc_mm(setting, mode), frequency_lpmm(coc))
        for camera in shelves.cameras
        for mode in camera.mode
        if ("camera" not in held or camera.name == choice.camera) and ("mode" not in held or mode.name == choice.mode)
    ]
    if not found:
        none = f'no camera at hand is "{choice.camera}" with a mode "{choice.mode}"'
        raise BadInput(Fault.at("limits.hold", none, file=where))
    return tuple(found)


def lenses_at(shelves: Shelves, setting: Setting, where: str = "") -> tuple[LensAt, ...]:
    """Return the lenses and focal lengths to try, those held by the shot alone; raises BadInput where none is left."""
    choice = setting.kit
    held = setting.limits.hold
    shot_mm = choice.focal_length or {lens.name: lens.focal_length for lens in shelves.lenses}.get(choice.lens)
    found = [
        LensAt(lens, focal_mm)
        for lens in shelves.lenses
        if "lens" not in held or lens.name == choice.lens
        for focal_mm in _focal_lengths(lens, shot_mm)
        if "focal_length" not in held or focal_mm == shot_mm
    ]
    if not found:
        none = f'no lens at hand is "{choice.lens}" or has the focal length of the shot'
        raise BadInput(Fault.at("limits.hold", none, file=where))
    return tuple(found)


def _focal_lengths(lens: Lens, shot_mm: float | None) -> list[float]:
    """Return a prime's focal length; a zoom's two ends and what is customary or set for the shot between them."""
    between = [float(mm) for mm in (*CUSTOMARY_FOCAL_MM, shot_mm) if mm is not None]
    return sorted({lens.shortest, lens.longest, *(mm for mm in between if lens.shortest < mm < lens.longest)})


class ToTry(NamedTuple):
    """A shot with something left open, and everything to try for it; `largest_mm` is its largest part, full size."""

    setting: Setting
    system: UnitSystem
    shelves: Shelves
    modes_at_hand: tuple[CameraMode, ...]
    lenses_at: tuple[LensAt, ...]
    ratios: tuple[float, ...]
    largest_mm: float | None

    @property
    def ways(self) -> int:
        """How many ways there are to try; the rate is not among them, as each way has one that is right for it."""
        return len(self.modes_at_hand) * len(self.lenses_at) * len(self.ratios)


def plan(setting: Setting, system: UnitSystem, shelves: Shelves, where: str = "") -> ToTry:
    """Return what to try for a shot; raises BadInput where nothing is left to try, or a limit cannot be judged."""
    faults = slide_faults(setting, shelves.head, where)
    place = setting.place
    if place.model is None and place.seems_at is None and math.isinf(place.background):
        must = "must be set, as a background at infinity gives it no place"
        faults.append(Fault.at("place.model", must, file=where))
    largest = max((part.real for part in setting.build), default=None)
    for field in ("build_max", "frame_min", "frame_max"):
        if largest is None and getattr(setting.limits, field) is not None:
            right = "add a part to the build list"
            faults.append(Fault.at(f"limits.{field}", "needs something to be built", right, file=where))
    if faults:
        raise BadInput(*faults)
    modes, lenses = modes_at_hand(shelves, setting, where), lenses_at(shelves, setting, where)
    return ToTry(setting, system, shelves, modes, lenses, _ratios(setting), largest)


def _ratios(setting: Setting) -> tuple[float, ...]:
    """Return the ratio set, or those customary (full size is no model) and the user's own, the largest model first."""
    if setting.scale.ratio is not None:
        return (setting.scale.ratio,)
    ratios = {ratio for ratio in scale.STANDARD_RATIOS if ratio > 1} | set(setting.limits.ratios)
    place = setting.place
    seems = place.background if place.seems_at is None else place.seems_at
    if place.model is not None and math.isfinite(seems) and seems / place.model > 1:
        ratios.add(min(float(f"{seems / place.model:.3g}"), LARGEST_RATIO))  # that at which the tapes agree
    return tuple(sorted(ratios))
