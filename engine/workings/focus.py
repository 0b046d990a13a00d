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
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

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
    if wanted.by == "measured":
        return f"as the test strips of {of.kit.mode.name} gave it: {found}"
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
    say, setup, found = Figures(of), of.setup, value_text("focus.focus_mm", of)
    if "focus.distance" not in of.auto:
        return f"set to {found}"
    if abs(focus.zone_focus_mm(setup.near_mm, setup.far_mm) - setup.focus_mm) > SAME_MM:
        return f"the zone asks for a nearer mark than the lens has, so its closest focus: {found}"
    near, far = say.from_pupil(of.focus.near_needed_mm), say.from_pupil(of.focus.far_needed_mm)
    if math.isinf(setup.far_mm):
        return f"2 × {near}{say.to_lens()} = {found}"
    return f"2 × {near} × {far} / ({near} + {far}){say.to_lens()} = {found}"


def _stop_needed(of: Answer) -> str:
    say, setup, zone = Figures(of), of.setup, of.focus
    found = value_text("focus.stop_needed", of)
    if zone.stop_needed <= 0:
        return "the zone lies at the focus mark, so any stop holds it"
    near, far = say.from_pupil(zone.near_needed_mm), say.from_pupil(zone.far_needed_mm)
    mark = say.mark()
    by_near = 1 / setup.near_mm - 1 / setup.focus_mm >= 1 / setup.focus_mm - 1 / setup.far_mm
    depth = f"(1 / {near} − 1 / {mark})" if by_near else f"(1 / {mark} − 1 / {far})"
    lens = f"{say.mm(zone.focal_length_mm)} × {say.mm(setup.image_mm)} / {say.mm(zone.coc_mm)}"
    return f"{depth} × {lens} = {found}"


def _limit(of: Answer, sign: str, key: str) -> str:
    say, zone, found = Figures(of), of.focus, value_text(key, of)
    square = f"({say.mm(zone.focal_length_mm)})²"
    blur = f"{say.number(zone.f_number)} × {say.mm(zone.coc_mm)}"
    if math.isinf(of.setup.focus_mm):
        return f"{square} / ({blur}){say.to_tape()} = {found}"
    mark = length_text(of.setup.focus_mm, of.system)
    start = f"s = {mark}"
    if of.setup.pupil.ahead_mm:
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
    say, zone, setup = Figures(of), of.focus, of.setup
    power = number_text(focus.split_power_dioptres(setup.near_mm, setup.background_mm), 4)
    near, background = say.from_pupil(zone.near_needed_mm), say.from_pupil(of.lineup.background_mm)
    found, split = value_text("focus.split_dioptres", of), split_field(of)
    text = f"1 m / {near} − 1 m / {background} = {power} dioptres; to the nearest half, {found}"
    if split is None:
        return text
    ends = f"{say.sharp_from(split.near_mm)} to {say.sharp_to(split.far_mm)}"
    mark = say.length(split.focus_mm)
    at = f"with the focus on the background at {mark}, sharp through it from {ends}"
    return f"{text}; {at} at {say.stop(split.f_number)}"


WORKINGS = (
    told(
        "focus.focal_length_mm",
        _focal,
        on.always("As marked on the lens; breathing, a change of it with focus, is not counted."),
    ),
    told("focus.focus_mm", _focus, on.tape),
    told("focus.f_number", _f_number, on.f_number),
    told("focus.stop_mark", _mark, on.f_number),
    told("focus.near_needed_mm", _near_needed, on.tape),
    told("focus.far_needed_mm", _far_needed, on.tape),
    told("focus.near_mm", lambda of: _limit(of, "+", "focus.near_mm"), on.zone),
    told("focus.far_mm", _far, on.zone),
    told("focus.stop_needed", _stop_needed, on.zone),
    told("focus.covers", _covers, on.f_number),
    told(
        "focus.coc_mm",
        _coc,
        on.always("On the sensor, across the blur; the diagonal is that of the mode's active area."),
    ),
    told("focus.hyperfocal_mm", _hyperfocal, on.zone),
    told("focus.airy_mm", _airy, on.both(on.f_number, on.always("Green light, 550 nm; to the first dark ring."))),
    told(
        "focus.split_dioptres",
        _split,
        on.both(
            on.tape, on.always("s splits the background's own zone; the smallest stop of the lens; the join shows.")
        ),
    ),
)
