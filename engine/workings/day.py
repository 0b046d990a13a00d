"""The workings of sun and timing, and of two readings of the light."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.formulas.timing import GRAVITY_MM_S2, LET_GO_SHARE
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

PutIn = Callable[["Answer"], str]
_GRAVITY = f"{GRAVITY_MM_S2 / 1000:g}"
_SERIES = "by the series for the place, day and time"
_FROM_SERIES = (
    *("azimuth_deg", "elevation_deg", "noon_elevation_deg", "turns_deg_per_min"),
    *("towards_azimuth_deg", "towards_elevation_deg"),
)
_sky = on.always(
    "North is 0, east 90, by the map. As seen, lifted by the air at 1010 mbar and 10 deg C, from level ground."
)
_lens = on.always("From the bearing in which the lens looks at the line-up, right is positive; over the whole move.")
_drag = on.always("Drag is left out: small light pieces fall slower than scale.")


def _told(key: str, how: str) -> PutIn:
    return lambda of: f"{how}: {value_text(key, of)}"


def _m(of: Answer, mm: float | None) -> str:
    return f"{Figures(of).number((mm or 0.0) / 1000)}"


def _fall(of: Answer) -> str:
    return f"√(2 × {_m(of, of.setting.action.fall)} / {_GRAVITY}) = {value_text('timing.fall_real_s', of)}"


def _swing(of: Answer) -> str:
    return f"6.28319 × √({_m(of, of.setting.action.swing)} / {_GRAVITY}) = {value_text('timing.swing_real_s', of)}"


def _topple(of: Answer) -> str:
    spread = f"√(2 × {_m(of, of.setting.action.topple)} / (3 × {_GRAVITY}))"
    return f"{spread} × 2.25003 = {value_text('timing.topple_real_s', of)}"


def _on_set(what: str) -> PutIn:
    def put_in(of: Answer) -> str:
        real, say = getattr(of.timing, f"{what}_real_s"), Figures(of)
        return f"{say.seconds(real)} / √{say.number(of.scale.ratio)} = {value_text(f'timing.{what}_set_s', of)}"

    return put_in


def _on_screen(what: str) -> PutIn:
    def put_in(of: Answer) -> str:
        on_set, say = getattr(of.timing, f"{what}_set_s"), Figures(of)
        factor = say.number(of.speed.time_factor)
        return f"{say.seconds(on_set)} × {factor} = {value_text(f'timing.{what}_screen_s', of)}"

    return put_in


def _let_go(of: Answer) -> str:
    on_set = 0.0 if of.timing is None else of.timing.topple_set_s or 0.0
    return f"{Figures(of).seconds(on_set)} × {LET_GO_SHARE} = {value_text('timing.topple_let_go_set_s', of)}"


def _frames(of: Answer) -> str:
    on_set, say = 0.0 if of.timing is None else of.timing.fall_set_s or 0.0, Figures(of)
    return f"{say.number(on_set)} × {say.number(of.speed.fps)} = {value_text('timing.fall_frames', of)}"


def _puff(of: Answer) -> str:
    return f"1.5 / √{_m(of, of.setting.action.fire_width)} = {value_text('timing.puff_real_hz', of)}"


def _model_puff(of: Answer) -> str:
    real, say = 0.0 if of.timing is None else of.timing.puff_real_hz or 0.0, Figures(of)
    return f"{say.number(real)} × √{say.number(of.scale.ratio)} = {value_text('timing.puff_hz', of)}"


def _background(of: Answer) -> str:
    say, lit = Figures(of), of.light
    behind, there = say.number(lit.at_background_lux or 0.0), say.number(lit.available_lux or 0.0)
    return f"log2({behind} lx / {there} lx) = {value_text('light.background_stops', of)}"


def _shift(of: Answer) -> str:
    say, there = Figures(of), of.setting.light
    behind, model = say.number(there.kelvin_at_background or 0.0), say.number(there.kelvin or 0.0)
    return f"1000000 / {behind} − 1000000 / {model} = {value_text('light.shift_mired', of)}"


def _depth(of: Answer) -> str:
    found = value_text("light.pulse_depth", of)
    if not of.light.lamps:
        return f"no lamp is named, so all the light is taken to be of one whose pulse is not known: {found}"
    return f"the depth of each lamp by its share of the light: {found}"


def _shadow(of: Answer) -> str:
    return f"1 / tan({value_text('sun.elevation_deg', of)}) = {value_text('sun.shadow_per_height', of)}"


def _from_lens(of: Answer) -> str:
    sun, lens = value_text("sun.azimuth_deg", of), value_text("sun.facing_deg", of)
    return f"{sun} from {lens}: {value_text('sun.from_lens_deg', of)}"


SUN = (
    *(told(f"sun.{name}", _told(f"sun.{name}", _SERIES), _sky) for name in _FROM_SERIES),
    told("sun.shadow_per_height", _shadow, _sky),
    told("sun.facing_deg", _told("sun.facing_deg", "from what was entered"), _sky),
    told("sun.from_lens_deg", _from_lens, _lens),
    told("sun.nearest_to_axis_deg", _told("sun.nearest_to_axis_deg", "the least over the move"), _lens),
    *(
        told(f"sun.rig_shadow.{end}", _told(f"sun.rig_shadow.{end}", "at the model"), _lens)
        for end in ("aside_mm", "up_mm")
    ),
)
TIMING = (
    told("timing.fall_real_s", _fall, _drag),
    told("timing.swing_real_s", _swing, _drag),
    told("timing.topple_real_s", _topple, _drag),
    *(told(f"timing.{what}_set_s", _on_set(what), _drag) for what in ("fall", "swing", "topple")),
    *(told(f"timing.{what}_screen_s", _on_screen(what), _drag) for what in ("fall", "swing", "topple")),
    told("timing.fall_frames", _frames, _drag),
    told("timing.topple_let_go_set_s", _let_go, _drag),
    told("timing.puff_real_hz", _puff, on.plain),
    told("timing.puff_hz", _model_puff, on.plain),
)
LIGHT = (
    told("light.at_background_lux", _told("light.at_background_lux", "as entered"), on.entered),
    told("light.background_stops", _background, on.plain),
    told("light.shift_mired", _shift, on.plain),
    told(
        "light.pulse_depth",
        _depth,
        on.always("The first harmonic of the pulse over the mean; 0.5 for a lamp that nothing is known of."),
    ),
)
