"""The kit that a search may use: cameras, each in one of its modes, and lenses, each at a focal length."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas.contrast import frequency_lpmm
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode
from forescale.engine.shot.records import KitChoice, Setting
from forescale.engine.solve.lens_setup import coc_mm

Found = TypeVar("Found", Camera, Lens)

# The focal lengths in mm that lenses are sold and called for at: common practice, no source.
# fmt: off
CUSTOMARY_FOCAL_MM = (
    8, 10, 12, 14, 16, 18, 20, 21, 24, 25, 28, 32, 35, 40, 50, 65, 75, 85, 100, 135, 150, 180, 200, 300, 400, 600,
)
# fmt: on


@dataclass(frozen=True, slots=True)
class Shelves:
    """Cameras and lenses at hand, and the shot's head; `faults` has one for each profile that cannot be read."""

    cameras: tuple[Camera, ...]
    lenses: tuple[Lens, ...]
    head: Head | None = None
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class CameraMode:
    """A camera in one of its modes, with the circle of confusion (mm) and the frequency (line pairs/mm) wanted."""

    camera: Camera
    mode: Mode
    coc_mm: float
    frequency_lpmm: float


@dataclass(frozen=True, slots=True)
class LensAt:
    """A lens at a focal length, with the exact f-numbers of its third-stop marks."""

    lens: Lens
    focal_mm: float
    f_numbers: tuple[float, ...]


def at_hand(choice: KitChoice) -> Shelves:
    """Return all the kit on the shelves; raises BadInput where the shot's head is not among it."""
    faults: list[Fault] = []
    return Shelves(
        cameras=tuple(_readable("cameras", library.camera, faults)),
        lenses=tuple(_readable("lenses", library.lens, faults)),
        head=None if choice.head is None else library.head(choice.head),
        faults=tuple(faults),
    )


def _readable(shelf: library.Shelf, read: Callable[[str], Found], faults: list[Fault]) -> Iterator[Found]:
    for name in library.shelf_files(shelf):
        try:
            yield read(name)
        except BadInput as fault:
            faults.extend(fault.faults)


def modes_at_hand(shelves: Shelves, setting: Setting, where: str = "") -> tuple[CameraMode, ...]:
    """Return the cameras' modes to try, those held by the shot alone; raises BadInput where none is left."""
    held, choice = setting.limits.hold, setting.kit
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
    choice, held = setting.kit, setting.limits.hold
    primes = {lens.name: lens.focal_length for lens in shelves.lenses}
    shot_mm = choice.focal_length or primes.get(choice.lens)
    found = [
        LensAt(lens, focal_mm, lens.f_numbers)
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
