"""What is searched: the shot, the kit and the ratios to try, after what the shot holds."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import scale
from forescale.engine.kit.kit import slide_faults
from forescale.engine.options.shelves import CameraMode, LensAt, Shelves, lenses_at, modes_at_hand
from forescale.engine.shot.records import Setting
from forescale.engine.units import UnitSystem

LARGEST_RATIO = 10_000.0  # that a shot may have


@dataclass(frozen=True, slots=True)
class ToTry:
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
    place, limits = setting.place, setting.limits
    if place.model is None and place.seems_at is None and math.isinf(place.background):
        must = "must be set, as a background at infinity gives it no place"
        faults.append(Fault.at("place.model", must, file=where))
    largest = max((part.real for part in setting.build), default=None)
    for field in ("build_max", "frame_min", "frame_max"):
        if largest is None and getattr(limits, field) is not None:
            right = "add a part to the build list"
            faults.append(Fault.at(f"limits.{field}", "needs something to be built", right, file=where))
    if faults:
        raise BadInput(*faults)
    return ToTry(
        setting=setting,
        system=system,
        shelves=shelves,
        modes_at_hand=modes_at_hand(shelves, setting, where),
        lenses_at=lenses_at(shelves, setting, where),
        ratios=_ratios(setting),
        largest_mm=largest,
    )


def _implied(setting: Setting) -> Iterator[float]:
    """Yield the ratio at which the places that are taped agree, to three digits, where it is one of a model."""
    place = setting.place
    seems = place.background if place.seems_at is None else place.seems_at
    if place.model is not None and math.isfinite(seems) and seems / place.model > 1:
        yield min(float(f"{seems / place.model:.3g}"), LARGEST_RATIO)


def _ratios(setting: Setting) -> tuple[float, ...]:
    """Return the ratio set, or the customary ones and the user's own, the largest model first.

    Full size is no model: it is tried only where the user names it.
    """
    if setting.scale.ratio is not None:
        return (setting.scale.ratio,)
    customary = {ratio for ratio in scale.STANDARD_RATIOS if ratio > 1}
    return tuple(sorted(customary | set(setting.limits.ratios) | set(_implied(setting))))
