"""The answer's focus group."""

from __future__ import annotations

from forescale.engine.formulas import contrast, focus, optics
from forescale.engine.kit.kit import Kit
from forescale.engine.solve.groups import ContrastAnswer, FocusAnswer
from forescale.engine.solve.lens_setup import LensSetup

HOLDS = 1 - 1e-9  # a zone solved exactly and tested exactly may differ in the last digit


def focus_group(kit: Kit, setup: LensSetup, with_contrast: bool) -> FocusAnswer:
    """Return focus mark, stop and the zone they hold; contrast may be left out, as the slow part."""
    lens_and_stop = (kit.focal_mm, setup.f_number, setup.coc_mm, setup.pupil_magnification)
    near = focus.near_limit_mm(setup.focus_mm, *lens_and_stop)
    far = focus.far_limit_mm(setup.focus_mm, *lens_and_stop)
    no_stop = setup.stop_needed > kit.lens.f_numbers[-1] * (1 + 1e-9)
    return FocusAnswer(
        coc_mm=setup.coc_mm,
        focal_length_mm=kit.focal_mm,
        f_number=setup.f_number,
        stop_mark=kit.lens.mark(setup.f_number),
        near_needed_mm=setup.tape(setup.near_mm),
        far_needed_mm=setup.tape(setup.far_mm),
        focus_mm=setup.on_lens(setup.focus_mm),
        stop_needed=setup.stop_needed,
        near_mm=setup.tape(near),
        far_mm=setup.tape(far),
        hyperfocal_mm=setup.on_lens(focus.hyperfocal_mm(*lens_and_stop)),
        covers=holds(setup.f_number, setup.stop_needed),
        contrast=_contrast(kit, setup) if with_contrast else None,
        airy_mm=contrast.airy_mm(optics.working_stop(setup.f_number, setup.magnification, setup.pupil_magnification)),
        split_dioptres=focus.split_dioptres(setup.near_mm, setup.background_mm)
        if no_stop and setup.near_mm < setup.background_mm
        else None,
    )


def holds(f_number: float, stop_needed: float) -> bool:
    """Return whether a stop holds the zone that needs `stop_needed`; both are exact f-numbers."""
    return f_number >= stop_needed * HOLDS


def _contrast(kit: Kit, setup: LensSetup) -> ContrastAnswer:
    frequency, own = contrast.frequency_lpmm(setup.coc_mm), setup.pupil_magnification

    def at(distance_mm: float) -> float:
        return contrast.contrast(distance_mm, setup.focus_mm, kit.focal_mm, setup.f_number, frequency, own)

    near, sharp, far = at(setup.near_mm), at(setup.focus_mm), at(setup.far_mm)
    zone = (setup.near_mm, setup.far_mm, setup.focus_mm)
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
