"""The answer's focus group."""

from __future__ import annotations

from forescale.engine.formulas import contrast, focus, optics
from forescale.engine.kit.kit import Kit
from forescale.engine.solve.groups import ContrastAnswer, FocusAnswer
from forescale.engine.solve.sight import Sight

HOLDS = 1 - 1e-9  # a zone solved exactly and tested exactly may differ in the last digit


def focus_group(kit: Kit, sight: Sight, with_contrast: bool) -> FocusAnswer:
    """Return focus mark, stop and the zone they hold; contrast may be left out, as the slow part."""
    lens_and_stop = (kit.focal_mm, sight.f_number, sight.coc_mm, sight.pupil_magnification)
    near = focus.near_limit_mm(sight.focus_mm, *lens_and_stop)
    far = focus.far_limit_mm(sight.focus_mm, *lens_and_stop)
    no_stop = sight.stop_needed > kit.lens.f_numbers[-1] * (1 + 1e-9)
    return FocusAnswer(
        coc_mm=sight.coc_mm,
        focal_length_mm=kit.focal_mm,
        f_number=sight.f_number,
        stop_mark=kit.lens.mark(sight.f_number),
        near_needed_mm=sight.tape(sight.near_mm),
        far_needed_mm=sight.tape(sight.far_mm),
        focus_mm=sight.on_lens(sight.focus_mm),
        stop_needed=sight.stop_needed,
        near_mm=sight.tape(near),
        far_mm=sight.tape(far),
        hyperfocal_mm=sight.on_lens(focus.hyperfocal_mm(*lens_and_stop)),
        covers=holds(sight.f_number, sight.stop_needed),
        contrast=_contrast(kit, sight) if with_contrast else None,
        airy_mm=contrast.airy_mm(optics.working_stop(sight.f_number, sight.magnification, sight.pupil_magnification)),
        split_dioptres=focus.split_dioptres(sight.near_mm, sight.background_mm)
        if no_stop and sight.near_mm < sight.background_mm
        else None,
    )


def holds(f_number: float, stop_needed: float) -> bool:
    """Return whether a stop holds the zone that needs `stop_needed`; both are exact f-numbers."""
    return f_number >= stop_needed * HOLDS


def _contrast(kit: Kit, sight: Sight) -> ContrastAnswer:
    frequency, own = contrast.frequency_lpmm(sight.coc_mm), sight.pupil_magnification

    def at(distance_mm: float) -> float:
        return contrast.contrast(distance_mm, sight.focus_mm, kit.focal_mm, sight.f_number, frequency, own)

    near, sharp, far = at(sight.near_mm), at(sight.focus_mm), at(sight.far_mm)
    zone = (sight.near_mm, sight.far_mm, sight.focus_mm)
    best = contrast.best_stop(kit.lens.f_numbers, *zone, kit.focal_mm, frequency, own)
    return ContrastAnswer(
        frequency_lpmm=frequency,
        near=near,
        focus=sharp,
        far=far,
        worst=min(near, sharp, far),
        best_f_number=best.f_number,
        best_worst=best.worst,
    )
