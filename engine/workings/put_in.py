"""A formula with a shot's numbers put in: what the braces of words.toml and of the sums stand for.

"{}" is the result and "{slip.slip_px}" another number, as people read them; "{number light.iso}" is a number of the
answer as that word of `Figures` writes it; anything else is a symbol of the tables below.
"""

import math
import re
from collections.abc import Callable
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.answer.in_force import number_at
from forescale.engine.formulas import contrast, flicker, focus, frame_rate, light, lineup, optics, stand, survey, timing
from forescale.engine.shot.sections import TILTS
from forescale.engine.units import number_text, speed_text, stops_text
from forescale.engine.workings.figures import NOTHING_MM, Figures, listed
from forescale.engine.workings.sums import SUMS
from forescale.engine.workings.sums_slip import SLIP_SUMS, over_the_tilt
from forescale.engine.workings.values import BUILT, value_text, written

Texts = str | list[tuple[str, str]]  # one, or several by when they hold
_BRACES = re.compile("{([^}]*)}")
SYMBOLS: dict[str, Callable[[Figures], str]] = {
    # scale and place
    "S": lambda say: say.number(say.of.scale.ratio),
    "d": lambda say: say.from_pupil(say.of.lineup.model_mm),
    "D": lambda say: say.from_pupil(say.of.lineup.seems_mm),
    "near": lambda say: say.from_pupil(say.of.focus.near_needed_mm),
    "far": lambda say: say.from_pupil(say.of.focus.far_needed_mm),
    "mark": Figures.mark,
    "s": lambda say: say.length(say.of.setup.focus_mm),
    "to tape": Figures.to_tape,
    "to lens": Figures.to_lens,
    "lens height": lambda say: say.length(say.of.setting.place.lens_height or 0.0),
    "ground": lambda say: say.length(0.0),
    # lens and sensor
    "f": lambda say: say.mm(say.of.kit.focal_mm),
    "f/P": Figures.front,
    "1 + m/P": Figures.bellows,
    "v": lambda say: say.mm(say.of.setup.image_mm),
    "N": lambda say: say.number(say.of.focus.f_number),
    "Nw": lambda say: say.number(
        optics.working_stop(say.of.focus.f_number, say.of.setup.magnification, say.of.setup.pupil_magnification)
    ),
    "c": lambda say: say.mm(say.of.focus.coc_mm),
    "p along": Figures.pixel,
    "w": lambda say: say.across(say.of.kit.mode.width),
    "h": lambda say: say.mm(say.of.kit.mode.height),
    "about loss": lambda say: stops_text(number_text(say.of.kit.lens.transmission_loss)),
    "pupil stands": lambda say: (
        f"{say.small(abs(say.of.setup.pupil.ahead_mm))} {'behind' if say.of.setup.pupil.ahead_mm < 0 else 'ahead of'}"
    ),
    "nearest": lambda say: say.length(say.of.setup.tape(say.of.setup.near_mm)),
    "asymmetry": lambda say: _asymmetry(say.of),
    "share error": lambda _: f"{100 * survey.SHARE_ERROR:g}",
    "edge error": lambda _: number_text(math.sqrt(2) * survey.EDGE_PX, 2),
    "elevation error": lambda _: f"{survey.ELEVATION_ERROR_DEG:g}",
    "tape error": lambda _: f"{lineup.TAPE_MM:g}",
    "wave": lambda say: say.mm(contrast.WAVELENGTH_MM),
    "first mark": lambda say: say.stop(say.of.kit.lens.f_numbers[0]),
    "last mark": lambda say: say.stop(say.of.kit.lens.f_numbers[-1]),
    "mode": lambda say: say.of.kit.mode.name,
    # rate and time
    "kind": lambda say: say.of.setting.action.kind,
    "pace": lambda say: say.number((say.of.speed.readout_skew_px or 0.0) / (say.of.kit.mode.readout or 1.0)),
    "k": lambda say: say.number(say.of.speed.time_factor),
    "fps": lambda say: say.number(say.of.speed.fps),
    "real speed": lambda say: speed_text(say.of.setting.action.real_speed or 0.0, say.of.system),
    "move time": lambda say: say.seconds(say.of.setting.move.screen_time or say.of.setting.action.screen_time),
    "g": lambda _: f"{timing.GRAVITY_MM_S2 / 1000:g}",
    "let go": lambda _: str(timing.LET_GO_SHARE),
    # light
    "C": lambda _: f"{light.METER_CONSTANT:g}",
    "lux a fc": lambda say: say.number(light.LUX_PER_FOOTCANDLE),
    "less ND": lambda say: "" if say.of.light.nd_fitted is None else f" − {say.number(say.of.light.nd_fitted)}",
    "times ND": lambda say: "" if say.of.light.nd_fitted is None else f" × 2^{say.number(say.of.light.nd_fitted)}",
    "over without ND": lambda say: say.number((say.of.light.over_stops or 0.0) + (say.of.light.nd_fitted or 0.0)),
    "enough": lambda _: f"{light.ENOUGH_STOPS:g}",
    "safe stops": lambda _: f"{flicker.SAFE_STOPS:g}",
    # move and slip
    "aim": lambda say: say.degrees(say.of.setup.aim_deg),
    "model from axis": lambda say: say.length(say.of.slip.model_from_axis_mm or 0.0),
    "background from axis": lambda say: say.length(say.of.slip.background_from_axis_mm or 0.0),
    "readings": Figures.readings,
    "slide units": lambda say: "inches" if say.on_slide.inches else "millimetres",
    "tilt axis": lambda say: _tilt_axis(say),
    # what stands
    "margin": lambda _: f"{stand.SAFETY:g}",
    "model weight": lambda say: say.mass(
        ((say.of.stand and say.of.stand.held_kg) or 0.0) - say.of.setting.stand.ballast
    ),
}
# What stands in one row of the build list or the stock.
_OF_ROW: dict[str, Callable[[Figures, Any], str]] = {
    "real": lambda say, item: say.length(item.real_mm),
    "model": lambda say, item: say.exact(item.model_mm),
    "step": lambda say, _: say.of.scale.rounding,
    "shop": lambda _, item: item.shop,
    "cost": lambda say, item: say.small(item.shop_error_real_mm),
    "shop2": lambda _, item: item.compare_shop,
    "model2": lambda say, item: say.exact(item.real_mm / (say.of.scale.compare_ratio or 1.0)),
    "cost2": lambda say, item: say.small(item.compare_shop_error_real_mm or 0.0),
    "size": lambda say, item: say.exact(item.size_mm),
    "reads": lambda say, item: say.length(item.reads_as_mm),
    "reads2": lambda say, item: say.length(item.compare_reads_as_mm or 0.0),
}
# When one sum of several holds, by its name.
_HOLDS: dict[str, Callable[[Answer], bool]] = {
    "": lambda _: True,
    "plain": lambda of: Figures(of).plain,
    "not plain": lambda of: not Figures(of).plain,
    "taped": lambda of: of.setting.place.model is not None and math.isfinite(of.setting.place.background),
    "too slow": lambda of: (of.speed.ideal_fps / of.speed.fps) ** 2 > frame_rate.SERVED_GRAVITY * (1 + 2e-9),
    "ballast": lambda of: of.stand is not None and 0 < (of.stand.ballast_needed_kg or 0.0) < math.inf,
    "closest": lambda of: abs(focus.zone_focus_mm(of.setup.near_mm, of.setup.far_mm) - of.setup.focus_mm) > NOTHING_MM,
    "any stop": lambda of: of.focus.stop_needed <= 0,
    "by the near end": lambda of: (
        1 / of.setup.near_mm - 1 / of.setup.focus_mm >= 1 / of.setup.focus_mm - 1 / of.setup.far_mm
    ),
    "largest at the end": lambda of: of.slip.largest_slip_px == of.slip.slip_px,
    "tilts": lambda of: of.slip.axis in TILTS,
    "the head tilts": lambda of: of.kit.head is not None and of.setting.move.axis in TILTS,
    "over the tilt": over_the_tilt,
}


def _asymmetry(of: Answer) -> str:
    """Return what pupils taken as equal may be worth where the nearest part stands."""
    error = optics.asymmetry_error(of.kit.focal_mm, of.setup.near_mm)
    return "more than the lens can focus" if error is None else f"{number_text(100 * error, 2)} % of size"


def _tilt_axis(say: Figures) -> str:
    """Return where a tilt's own axis lies."""
    ahead = say.of.kit.head.tilt_ahead if say.of.kit.head else 0.0
    return f"{say.slide(abs(ahead))} {'ahead of' if ahead > 0 else 'behind'} it" if ahead else "level with it"


def _holds(when: str, of: Answer) -> bool:
    """Return whether it is so: a name above, "given KEY", "lacks KEY", "infinite KEY", "set FIELD", "KEY is TEXT"."""
    if when in _HOLDS:
        return _HOLDS[when](of)
    key, _, text = when.partition(" is ")
    if text:
        return str(number_at(key, of)) == text
    word, _, key = when.partition(" ")
    if word == "set":
        return key not in of.auto
    value = number_at(key, of)
    return math.isinf(value) if word == "infinite" else bool(value) == (word == "given")


def convention(texts: Texts, of: Answer) -> str:
    """Return what holds of tape, pupil, stops and slide in this shot, its braces put in."""
    return _filled(_first(texts, of), "", of, None)


def _first(texts: Texts, of: Answer) -> str:
    return texts if isinstance(texts, str) else next(one for when, one in texts if _holds(when, of))


def put_in(texts: Texts, key: str, of: Answer) -> str:
    """Return a text, or the first of several that holds, with its braces put in; of build list or stock row by row."""
    text, group = _first(texts, of) or (SUMS | SLIP_SUMS)[key](of), key.rpartition(".")[0]
    if group not in BUILT:
        return _filled(text, key, of, None)
    return listed([f"{getattr(row, BUILT[group])}: {_filled(text, key, of, row)}" for row in number_at(group, of)])


def _filled(text: str, key: str, of: Answer, row: Any) -> str:
    say = Figures(of)

    def put(found: re.Match[str]) -> str:
        name = found[1]
        if row is not None and name in _OF_ROW:
            return _OF_ROW[name](say, row)
        if name in SYMBOLS:
            return SYMBOLS[name](say)
        if row is not None and not name:
            return written(key, say, getattr(row, key.rpartition(".")[2]))
        word, _, there = name.rpartition(" ")
        return str(getattr(say, word)(number_at(there, of))) if word else value_text(there or key, of)

    return _BRACES.sub(put, text)
