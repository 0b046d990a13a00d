"""The workings of the focus group; those of its contrast are in `contrast`."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from forescale.engine.formulas import focus
from forescale.engine.formulas.contrast import WAVELENGTH_MM
from forescale.engine.solve.split_field import split_field
from forescale.engine.units import length_text, number_text
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, PRACTICE, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

THIN_LENS = "exact paraxial lens, blur of a point equal to c"
SAME_MM = 1e-6


def wave(say: Figures) -> str:
    """Return the wavelength that diffraction is worked out for."""
    return say.mm(WAVELENGTH_MM)


def _coc(of: Answer) -> str:
    say, mode, wanted = Figures(of), of.kit.mode, of.setting.focus.sharpness
    found = value_text("focus.coc_mm", of)
    if wanted.by == "diagonal":
        return f"√(({say.mm(mode.width)})² + ({say.mm(mode.height)})²) / {say.number(wanted.value)} = {found}"
    if wanted.by == "pixels":
        return f"{say.number(wanted.value)} × {say.mm(mode.pixel_mm)} = {found}"
    return f"set to {found}"


def _focal(of: Answer) -> str:
    how = "set on the zoom" if of.kit.lens.is_zoom else "of the prime"
    return f"{how}: {value_text('focus.focal_length_mm', of)}"


def _f_number(of: Answer) -> str:
    say, lens, found = Figures(of), of.kit.lens, value_text("focus.f_number", of)
    chosen = ""
    if "focus.stop" in of.auto:
        needed = number_text(of.focus.stop_needed, 4)
        chosen = f", the first third of a stop at or past f/{needed}"
        if not of.focus.covers:
            chosen = f", the lens's smallest: none reaches f/{needed}"
    if lens.marks == "T":
        loss = say.number(lens.transmission_loss)
        return f"{say.number(of.focus.stop_mark)} / 2^({loss} / 2) = {found}{chosen}"
    return f"{found}{chosen or ', as set'}"


def _mark(of: Answer) -> str:
    say, lens, found = Figures(of), of.kit.lens, value_text("focus.stop_mark", of)
    if lens.marks == "f":
        return f"the lens is marked in f-numbers: {found}"
    return f"{say.number(of.focus.f_number)} × 2^({say.number(lens.transmission_loss)} / 2) = {found}"


def _near_needed(of: Answer) -> str:
    found, place = value_text("focus.near_needed_mm", of), of.setting.place
    return f"that of the model: {found}" if place.model_near is None else f"taped: {found}"


def _far_needed(of: Answer) -> str:
    found, place = value_text("focus.far_needed_mm", of), of.setting.place
    return f"that of the background: {found}" if place.background_far is None else f"taped: {found}"


def _focus(of: Answer) -> str:
    say, sight, found = Figures(of), of.sight, value_text("focus.focus_mm", of)
    if "focus.distance" not in of.auto:
        return f"set to {found}"
    if abs(focus.zone_focus_mm(sight.near_mm, sight.far_mm) - sight.focus_mm) > SAME_MM:
        return f"the zone asks for a nearer mark than the lens has, so its closest focus: {found}"
    near, far = say.from_pupil(of.focus.near_needed_mm), say.from_pupil(of.focus.far_needed_mm)
    if math.isinf(sight.far_mm):
        return f"2 × {near}{say.to_lens()} = {found}"
    return f"2 × {near} × {far} / ({near} + {far}){say.to_lens()} = {found}"


def _stop_needed(of: Answer) -> str:
    say, sight, zone = Figures(of), of.sight, of.focus
    found = value_text("focus.stop_needed", of)
    if zone.stop_needed <= 0:
        return "the zone lies at the focus mark, so any stop holds it"
    near, far = say.from_pupil(zone.near_needed_mm), say.from_pupil(zone.far_needed_mm)
    mark = say.mark()
    by_near = 1 / sight.near_mm - 1 / sight.focus_mm >= 1 / sight.focus_mm - 1 / sight.far_mm
    depth = f"(1 / {near} − 1 / {mark})" if by_near else f"(1 / {mark} − 1 / {far})"
    lens = f"{say.mm(zone.focal_length_mm)} × {say.mm(sight.image_mm)} / {say.mm(zone.coc_mm)}"
    return f"{depth} × {lens} = {found}"


def _limit(of: Answer, sign: str, key: str) -> str:
    say, zone, found = Figures(of), of.focus, value_text(key, of)
    square = f"({say.mm(zone.focal_length_mm)})²"
    blur = f"{say.number(zone.f_number)} × {say.mm(zone.coc_mm)}"
    if math.isinf(of.sight.focus_mm):
        return f"{square} / ({blur}){say.to_tape()} = {found}"
    mark = length_text(of.sight.focus_mm, of.system)
    start = f"s = {mark}"
    if of.sight.pupil.ahead_mm:
        start = f"s = {say.mark()} = {mark}"
    spread = f"{square} {sign} {blur} × ({mark} − {say.front()})"
    return f"{start}; {mark} × {square} / ({spread}){say.to_tape()} = {found}"


def _far(of: Answer) -> str:
    if math.isinf(of.focus.far_mm):
        mark, hyperfocal = value_text("focus.focus_mm", of), value_text("focus.hyperfocal_mm", of)
        return f"the mark, {mark}, is at or past the hyperfocal, {hyperfocal}: infinity"
    return _limit(of, "−", "focus.far_mm")


def _hyperfocal(of: Answer) -> str:
    say, zone = Figures(of), of.focus
    focal = say.mm(zone.focal_length_mm)
    reach = f"({focal})² / ({say.number(zone.f_number)} × {say.mm(zone.coc_mm)}) + {say.front()}"
    return f"{reach}{say.to_lens()} = {value_text('focus.hyperfocal_mm', of)}"


def _covers(of: Answer) -> str:
    set_, needed = number_text(of.focus.f_number, 4), number_text(of.focus.stop_needed, 4)
    return f"f/{set_} as shot, f/{needed} needed: {value_text('focus.covers', of)}"


def _airy(of: Answer) -> str:
    say = Figures(of)
    working = f"{say.number(of.focus.f_number)} × {say.bellows()}"
    return f"2.44 × {wave(say)} × {working} = {value_text('focus.airy_mm', of)}"


def _split(of: Answer) -> str:
    say, zone, sight = Figures(of), of.focus, of.sight
    power = number_text(focus.split_power_dioptres(sight.near_mm, sight.background_mm), 4)
    near, background = say.from_pupil(zone.near_needed_mm), say.from_pupil(of.lineup.background_mm)
    found, split = value_text("focus.split_dioptres", of), split_field(of)
    text = f"1 m / {near} − 1 m / {background} = {power} dioptres; to the nearest half, {found}"
    if split is None:
        return text
    ends = f"{say.length(split.near_mm)} to {say.length(split.far_mm)}"
    mark = say.length(split.focus_mm)
    at = f"with the focus on the background at {mark}, sharp through it from {ends}"
    return f"{text}; {at} at {say.stop(split.f_number)}"


WORKINGS = (
    Working(
        key="focus.focal_length_mm",
        name="focal length",
        meaning="The focal length that the shot is made with.",
        formula="f, from the lens's profile or as set on a zoom",
        put_in=_focal,
        conventions=on.always("As marked on the lens; breathing, a change of it with focus, is not counted."),
        leads_to=("focus.hyperfocal_mm", "focus.near_mm", "focus.far_mm", "focus.stop_needed"),
        source=DEFINITION,
    ),
    Working(
        key="focus.focus_mm",
        name="focus mark",
        meaning="Where to set the lens's scale. Left open it splits the zone so that both its ends are equally soft.",
        formula="s = 2·n·F / (n + F); 2·n where F is infinite",
        put_in=_focus,
        conventions=on.tape,
        leads_to=("focus.near_mm", "focus.far_mm", "focus.stop_needed", "focus.contrast.focus"),
        source="harmonic mean, exact for a paraxial lens",
    ),
    Working(
        key="focus.f_number",
        name="exact f-number",
        meaning="The aperture as shot. Left open, the first third of a stop that holds the zone by geometry.",
        formula="N; N = T / 2^(loss / 2) on a lens marked in T-stops, loss in stops",
        put_in=_f_number,
        conventions=on.f_number,
        leads_to=("focus.near_mm", "focus.far_mm", "focus.hyperfocal_mm", "focus.airy_mm", "focus.covers"),
        source="ISO 517 for the marks; T = N over the root of the transmittance",
    ),
    Working(
        key="focus.stop_mark",
        name="stop mark",
        meaning="What to set the lens's ring to.",
        formula="N; T = N · 2^(loss / 2) on a lens marked in T-stops",
        put_in=_mark,
        conventions=on.f_number,
        leads_to=("light.t_stop_working",),
        source="ISO 517 for the marks; T = N over the root of the transmittance",
    ),
    Working(
        key="focus.near_needed_mm",
        name="zone's near end",
        meaning="The nearest thing that must be sharp.",
        formula="n, as taped; left open, that of the model",
        put_in=_near_needed,
        conventions=on.tape,
        leads_to=("focus.focus_mm", "focus.stop_needed", "focus.split_dioptres", "focus.contrast.near"),
        source=DEFINITION,
    ),
    Working(
        key="focus.far_needed_mm",
        name="zone's far end",
        meaning="The farthest thing that must be sharp.",
        formula="F, as taped; left open, that of the background",
        put_in=_far_needed,
        conventions=on.tape,
        leads_to=("focus.focus_mm", "focus.stop_needed", "focus.contrast.far"),
        source=DEFINITION,
    ),
    Working(
        key="focus.near_mm",
        name="near limit",
        meaning="From here on it is sharp, by geometry.",
        formula="s·f² / (f² + N·c·(s − f/P)); f² / (N·c) for s infinite",
        put_in=lambda of: _limit(of, "+", "focus.near_mm"),
        conventions=on.zone,
        leads_to=("focus.covers",),
        source=THIN_LENS,
    ),
    Working(
        key="focus.far_mm",
        name="far limit",
        meaning="As far as this it is sharp, by geometry.",
        formula="s·f² / (f² − N·c·(s − f/P)); infinite where what is below the line is not positive",
        put_in=_far,
        conventions=on.zone,
        leads_to=("focus.covers",),
        source=THIN_LENS,
    ),
    Working(
        key="focus.stop_needed",
        name="stop needed",
        meaning="The widest aperture that holds the zone from this focus mark, by geometry alone.",
        formula="N = f²·(s − n) / (n·c·(s − f/P)), which is (1/n − 1/s)·f·v/c; (1/s − 1/F)·f·v/c where that is more",
        put_in=_stop_needed,
        conventions=on.zone,
        leads_to=("focus.f_number", "focus.covers"),
        source="near and far limits of the exact paraxial lens, solved for N",
    ),
    Working(
        key="focus.covers",
        name="zone held",
        meaning="Whether the whole zone is sharp by geometry.",
        formula="N as shot is not less than N needed",
        put_in=_covers,
        conventions=on.f_number,
        leads_to=(),
        source=THIN_LENS,
    ),
    Working(
        key="focus.coc_mm",
        name="blur allowed",
        meaning="The circle of confusion: the largest blur of a point on the sensor that still passes for sharp.",
        formula="c = diagonal of the active area / 1500; or a length; or a number of pixels · p",
        put_in=_coc,
        conventions=on.always("On the sensor, across the blur; the diagonal is that of the mode's active area."),
        leads_to=(
            "focus.stop_needed",
            "focus.near_mm",
            "focus.far_mm",
            "focus.hyperfocal_mm",
            "focus.contrast.frequency_lpmm",
        ),
        source=PRACTICE,
    ),
    Working(
        key="focus.hyperfocal_mm",
        name="hyperfocal",
        meaning="Focused here, it is sharp to infinity at this stop.",
        formula="f² / (N·c) + f/P",
        put_in=_hyperfocal,
        conventions=on.zone,
        leads_to=("focus.far_mm",),
        source="exact paraxial lens; many tables leave out the + f",
    ),
    Working(
        key="focus.airy_mm",
        name="Airy disk",
        meaning="The spot that diffraction makes of a point, however well it is focused; it grows as the lens closes.",
        formula="2.44 · wavelength · N·(1 + m/P)",
        put_in=_airy,
        conventions=on.both(on.f_number, on.always("Green light, 550 nm; to the first dark ring.")),
        leads_to=("focus.contrast.focus",),
        source="Airy 1835",
    ),
    Working(
        key="focus.split_dioptres",
        name="split lens",
        meaning="A close-up lens over the model's part of the frame, where no stop of the lens holds the whole zone. "
        "The lens is then focused on the background; the half dioptre nearest to the model's nearest part is tried.",
        formula="1/n − 1/D in dioptres, n and D in metres, to the nearest half; sharp from 1/(P + 1/s + r) to "
        "1/(P + 1/s − r), r = N·c/(f·v)",
        put_in=_split,
        conventions=on.both(
            on.tape, on.always("s splits the background's own zone; the smallest stop of the lens; the join shows.")
        ),
        leads_to=(),
        source="thin lenses in contact; half dioptres are how they are sold: common practice, no source",
        needs="asked only where no stop of the lens holds the zone",
    ),
)
