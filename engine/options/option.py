"""One way to shoot it: its numbers, the changes that put it on the shot, and its full answer."""

from __future__ import annotations

from dataclasses import dataclass, field

from forescale.engine.answer import Answer, answer
from forescale.engine.formulas.frame_rate import HEAVY_GRAVITY
from forescale.engine.kit.kit import Kit
from forescale.engine.options.to_try import CameraMode, LensAt, ToTry
from forescale.engine.shot.edit import changed, quantity_of
from forescale.engine.shot.records import Setting
from forescale.engine.solve.record import Finding
from forescale.engine.solve.speed_light import pulse_of

FAINT_CONTRAST = 0.1  # with less, detail counts as not resolved: common practice, no source


@dataclass(frozen=True, slots=True)
class Option:
    """A way that works, in the numbers by which it is weighed; lengths in mm, light in lux, exact f-number.

    `model_mm` is the model's tape distance, `build_mm` the size of its largest part and `frame_share` how much of
    the frame's width that fills (None where nothing is to be built). `gravity` is 1 where the action looks as heavy
    as it should, None where its rate is free. `iso` is raised above the set or base speed only where the light needs
    it; `base_lux` is what would be needed without.
    """

    to_try: ToTry = field(repr=False, compare=False)
    in_mode: CameraMode
    lens_at: LensAt
    ratio: float
    iso: float
    model_mm: float
    build_mm: float | None
    frame_share: float | None
    fps: float
    gravity: float | None
    focus_mm: float
    f_number: float
    worst_contrast: float
    drift_tolerance_mm: float
    lux_with_nd: float
    base_lux: float
    over_stops: float | None

    @property
    def heavy(self) -> bool:
        """Whether the action falls harder than it should."""
        return self.gravity is not None and self.gravity > HEAVY_GRAVITY

    @property
    def flickers(self) -> bool:
        """Whether lamps flicker at the rate."""
        pulse = pulse_of(self.to_try.setting, self.in_mode.mode)
        return pulse is not None and not pulse.is_safe(self.fps, self.to_try.setting.action.shutter)

    @property
    def faint(self) -> bool:
        """Whether fine detail is all but lost somewhere in the zone."""
        return self.worst_contrast < FAINT_CONTRAST


def as_changes(option: Option) -> dict[str, str | None]:
    """Return the fields that put this way on the shot, each with what a file would hold; None takes one away.

    What the shot leaves open and the answer chooses alike, such as place, rate and stop, stays open.
    """
    lens, mode = option.lens_at.lens, option.in_mode.mode
    changes: dict[str, str | None] = {
        "kit.camera": option.in_mode.camera.name,
        "kit.mode": mode.name,
        "kit.lens": lens.name,
        "kit.focal_length": _text("kit.focal_length", option.lens_at.focal_mm) if lens.is_zoom else None,
        "scale.ratio": _text("scale.ratio", option.ratio),
    }
    if option.to_try.setting.light.iso is None and option.iso != mode.iso_base:
        changes["light.iso"] = _text("light.iso", option.iso)
    return changes


def _text(path: str, value: float) -> str:
    quantity = quantity_of(Setting, path)
    assert quantity is not None  # each of the paths above holds a number
    return quantity.show(value)


def option_answer(option: Option) -> Answer:
    """Return the full answer to the shot done this way."""
    to_try, lens_at = option.to_try, option.lens_at
    kit = Kit(
        option.in_mode.camera,
        option.in_mode.mode,
        lens_at.lens,
        lens_at.focal_mm,
        to_try.shelves.head,
    )
    return answer(changed(to_try.setting, as_changes(option)), kit, to_try.system)


def to_mind(found: Answer) -> tuple[Finding, ...]:
    """Return what is amiss with a way that works; readings of a bench tell nothing of kit that it never saw."""
    amiss = (finding for finding in found.findings if finding.level in {"warn", "stop"})
    return tuple(finding for finding in amiss if not finding.code.startswith("bench-"))
