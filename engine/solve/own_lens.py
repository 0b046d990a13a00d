"""The lens and picture that a reading was taken with, where it says so itself: the shot's for what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import optics
from forescale.engine.kit import library
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Camera, Lens, Mode, Profile
from forescale.engine.kit.pupil import lens_pupil_at
from forescale.engine.shot.pictured import PointRow
from forescale.engine.shot.readings import BenchRow, SurveyRow
from forescale.engine.solve.lens_setup import LensPlacement, frame_width_mm

AnyProfile = TypeVar("AnyProfile", bound=Profile)


TakenWith = SurveyRow | BenchRow | PointRow


@dataclass(frozen=True, slots=True)
class OwnLens:
    """What a reading was taken through: the mode and lens, where the pupil stands, and the image distance, in mm."""

    mode: Mode
    lens: Lens
    ahead_mm: float
    image_mm: float

    @property
    def width_mm(self) -> float:
        """The frame's width as the lens unsqueezes it."""
        return frame_width_mm(self.mode, self.lens)


def own_lens(row: TakenWith, kit: Kit, setup: LensPlacement) -> OwnLens:
    """Return what a reading was taken through; raises BadInput where that is on no shelf any more."""
    mode = _mode(row, kit)
    lens = kit.lens if row.lens in {None, kit.lens.name} else _kept("lenses", Lens, row.lens)
    if lens is kit.lens and row.focal_length in {None, kit.focal_mm} and row.focus is None:
        return OwnLens(mode, lens, setup.pupil.ahead_mm, setup.image_mm)
    focal = row.focal_length or lens.focal_length or kit.focal_mm
    focus = setup.focus_mm + setup.pupil.ahead_mm if row.focus is None else row.focus
    pupil = lens_pupil_at(lens, focal, focus)
    try:
        image = optics.image_distance_mm(focal, focus - pupil.ahead_mm, pupil.magnification or 1.0)
        return OwnLens(mode, lens, pupil.ahead_mm, image)
    except ValueError as error:
        raise BadInput(Fault(f"it cannot have been read so: {error}")) from None


def _mode(row: TakenWith, kit: Kit) -> Mode:
    camera = kit.camera if row.camera in {None, kit.camera.name} else _kept("cameras", Camera, row.camera)
    name = row.mode or kit.mode.name
    found = next((mode for mode in camera.mode if mode.name == name), None)
    if found is None:
        raise BadInput(Fault(f'{camera.name} has no mode "{name}", with which it was read'))
    return found


def _kept(shelf: Any, kind: type[AnyProfile], name: Any) -> AnyProfile:
    entry = library.shelf_file(shelf, name)
    return _loaded(kind, entry.path, entry.path.stat().st_mtime_ns)  # type: ignore[return-value]


@lru_cache(maxsize=16)
def _loaded(kind: type[Profile], path: Path, _changed_ns: int) -> Profile:
    return library.load_profile(kind, path)
