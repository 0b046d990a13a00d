"""Lens and focus: mark, stop, the zone they hold, and what the stop costs in contrast."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.sections.stops import stop_blocks
from forescale.engine.sheet.voice import Voice
from forescale.engine.solve.groups import ContrastAnswer
from forescale.engine.solve.split_field import split_field
from forescale.engine.units import number_text


def section(voice: Voice) -> Section:
    """Return focus and stop."""
    note = "marks on the tape; stops as marked on the lens, a mark standing for the exact third of a stop"
    zone = voice.of.focus
    contrast = () if zone.contrast is None else _contrast(voice, zone.contrast)
    blocks = (*_marks(voice), *_zone(voice), *contrast, *_pupil(voice), *stop_blocks(voice))
    return Section("Lens and focus", blocks, note)


def _marks(voice: Voice) -> Iterator[Row]:
    zone = voice.of.focus
    yield Row("Focal length", f"{number_text(zone.focal_length_mm, 4)} mm")
    yield Row("Focus mark", voice.length(zone.focus_mm), "", voice.chosen("focus.distance"))
    exact = f"exactly {voice.f_stop(zone.f_number)}"
    yield Row("Stop", voice.stop(zone.f_number), exact, voice.chosen("focus.stop"))


def _zone(voice: Voice) -> Iterator[Row]:
    zone, lens = voice.of.focus, voice.of.kit.lens
    yield Row("Must be sharp", f"{voice.length(zone.near_needed_mm)} to {voice.length(zone.far_needed_mm)}")
    holds = "by geometry: holds it" if zone.covers else "by geometry: FALLS SHORT"
    yield Row("Is sharp", f"{voice.sharp_from(zone.near_mm)} to {voice.sharp_to(zone.far_mm)}", holds)
    needed = voice.f_stop(zone.stop_needed)
    rings = lens.marks == "T" and needed.startswith("f/")
    ring = f"T{number_text(lens.mark(zone.stop_needed))} on the ring" if rings else ""
    yield Row("Stop needed", needed, ring)
    if split := split_field(voice.of):
        ends = f"{voice.sharp_from(split.near_mm)} to {voice.sharp_to(split.far_mm)}"
        mark = f"lens at {voice.length(split.focus_mm)}, {voice.stop(split.f_number)}: sharp through it {ends}"
        yield Row("Split-field close-up", f"+{split.dioptres:g} dioptres", mark)
    yield Row("Hyperfocal", voice.length(zone.hyperfocal_mm), "focused here, half to infinity")
    sharpness = str(voice.of.setting.focus.sharpness)
    coc = f"blur of {number_text(zone.coc_mm)} mm on the sensor"
    yield Row("Sharpness", sharpness, coc)


def _contrast(voice: Voice, contrast: ContrastAnswer) -> Iterator[Row]:
    ends = ", ".join(
        f"{name} {voice.percent(share)}"
        for name, share in (("near", contrast.near), ("focus", contrast.focus), ("far", contrast.far))
    )
    yield Row("Contrast", ends, f"at {number_text(contrast.frequency_lpmm, 2)} line pairs/mm")
    best = f"the worst is then {voice.percent(contrast.best_worst)}"
    yield Row("Best stop", voice.stop(contrast.best_f_number), best)
    airy = f"{number_text(1000 * voice.of.focus.airy_mm)} µm"
    yield Row("Airy disk", airy, "across, on the sensor (Airy)")


def _pupil(voice: Voice) -> Iterator[Row]:
    slip = voice.of.slip
    if not slip.pupil_known:
        yield Row("Entrance pupil", "not known", "taken at the sensor plane")
        return
    remarks = ["of the sensor plane"]
    if slip.pupil_uncertainty_mm is not None:
        remarks.append(f"± {voice.slide(slip.pupil_uncertainty_mm)}")
    if slip.pupil_outside:
        remarks.append("the nearest reading")
    yield Row("Entrance pupil", voice.pupil(slip.pupil_ahead_mm), ", ".join(remarks))
