"""The workings of sun and timing, and of two readings of the light."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.formulas.timing import GRAVITY_MM_S2, LET_GO_SHARE
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

PutIn = Callable[["Answer"], str]
MEEUS = "J. Meeus, Astronomical Algorithms, chapters 16 and 25"
FROUDE = "Froude similarity"
_GRAVITY = f"{GRAVITY_MM_S2 / 1000:g}"
_SUN_NEEDS = "give latitude, longitude, day, time and UTC offset"
_LENS_NEEDS = f"{_SUN_NEEDS}, and facing or where the lens sees the sun"
_RIG_NEEDS = f"{_LENS_NEEDS}, and the rig's height; there is none unless the sun is up behind the lens"
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


def _sun(name: str, label: str, meaning: str, formula: str, how: str, leads_to: tuple[str, ...] = ()) -> Working:
    key = f"sun.{name}"
    return Working(key, label, meaning, formula, _told(key, how), _sky, leads_to, MEEUS, _SUN_NEEDS)


def _timed(what: str, label: str, meaning: str, formula: str, put_in: PutIn, source: str, needs: str) -> Working:
    return Working(f"timing.{what}", label, meaning, formula, put_in, _drag, (), source, needs)


_FALL, _SWING, _TOPPLE = ("give how far it falls", "give how long the line is", "give how high what topples is")
_FIRE = "give how wide the fire is"
_SERIES = "by the series for this place, day and time"
_LEANS = "√(2·l/(3·g))·ln(tan 22.5° / tan 2.5°), which is 2.25003 of the root"

SUN = (
    _sun("azimuth_deg", "sun's bearing", "Where the sun stands round the horizon.", "Meeus's series", _SERIES),
    _sun("elevation_deg", "sun's height", "How high the sun stands.", "Meeus's series, and refraction", _SERIES),
    _sun("noon_elevation_deg", "sun at noon", "How high it stands at most.", "its height due south or north", _SERIES),
    Working(
        "sun.shadow_per_height",
        "shadow",
        "How long a level shadow is for each height.",
        "1 / tan(sun's height)",
        lambda of: f"1 / tan({value_text('sun.elevation_deg', of)}) = {value_text('sun.shadow_per_height', of)}",
        _sky,
        (),
        "trigonometry",
        _SUN_NEEDS,
    ),
    _sun(
        "turns_deg_per_min",
        "sun's turn",
        "How fast the sun moves along the sky.",
        "great circle from half a minute before to half a minute after",
        _SERIES,
    ),
    _sun(
        "towards_azimuth_deg",
        "bearing to match",
        "Where the sun stood for the plate; without one, where it stands.",
        "Meeus's series for the plate's time",
        "for the time to match",
    ),
    _sun(
        "towards_elevation_deg",
        "height to match",
        "How high the sun stood for the plate; without one, how high it stands.",
        "Meeus's series for the plate's time",
        "for the time to match",
    ),
    Working(
        "sun.facing_deg",
        "lens's bearing",
        "The true bearing in which the lens looks.",
        "compass + declination; or the sun's bearing − where the lens sees it",
        _told("sun.facing_deg", "from what was entered"),
        _sky,
        ("sun.from_lens_deg",),
        DEFINITION,
        _LENS_NEEDS,
    ),
    Working(
        "sun.from_lens_deg",
        "sun from lens",
        "How far the sun stands from the lens's bearing.",
        "sun's bearing − lens's bearing, −180° to 180°",
        lambda of: (
            f"{value_text('sun.azimuth_deg', of)} from {value_text('sun.facing_deg', of)}: "
            f"{value_text('sun.from_lens_deg', of)}"
        ),
        _lens,
        ("sun.rig_shadow.aside_mm",),
        DEFINITION,
        _LENS_NEEDS,
    ),
    Working(
        "sun.nearest_to_axis_deg",
        "sun to axis",
        "How near the sun comes to the lens axis over the move: within 30° it burns eyes, shutter and sensor.",
        "acos of the sun's direction along the lens, the least over the move",
        _told("sun.nearest_to_axis_deg", "the least over the move"),
        _lens,
        (),
        DEFINITION,
        _LENS_NEEDS,
    ),
    Working(
        "sun.rig_shadow.aside_mm",
        "shadow aside",
        "How far aside the rig's shadow lies where the model stands.",
        "d·tan(180° − sun from lens)",
        _told("sun.rig_shadow.aside_mm", "at the model's distance"),
        _lens,
        (),
        "trigonometry",
        _RIG_NEEDS,
    ),
    Working(
        "sun.rig_shadow.up_mm",
        "shadow up",
        "How high the rig's shadow reaches where the model stands; below 0 it ends on the ground before.",
        "rig's height − d / cos(180° − sun from lens)·tan(sun's height)",
        _told("sun.rig_shadow.up_mm", "at the model's distance"),
        _lens,
        (),
        "trigonometry",
        _RIG_NEEDS,
    ),
)
TIMING = (
    _timed("fall_real_s", "real fall", "How long it falls at full size.", "√(2·h/g)", _fall, "Galilei", _FALL),
    _timed("fall_set_s", "fall on set", "How long the model falls.", "real fall / √S", _on_set("fall"), FROUDE, _FALL),
    _timed(
        "fall_screen_s", "fall on screen", "How long it is seen.", "on set × k", _on_screen("fall"), DEFINITION, _FALL
    ),
    _timed("fall_frames", "fall in frames", "How many frames it takes.", "on set × fps", _frames, DEFINITION, _FALL),
    _timed("swing_real_s", "real swing", "A swing to and fro at full size.", "2·pi·√(l/g)", _swing, "Huygens", _SWING),
    _timed("swing_set_s", "swing on set", "A swing of the model.", "real swing / √S", _on_set("swing"), FROUDE, _SWING),
    _timed(
        "swing_screen_s",
        "swing on screen",
        "A swing as it is seen.",
        "on set × k",
        _on_screen("swing"),
        DEFINITION,
        _SWING,
    ),
    _timed(
        "topple_real_s",
        "real topple",
        "From leaning 10° to lying, after rest at the upright, at full size.",
        _LEANS,
        _topple,
        "rigid slender body; Am. J. Phys. 71 (2003), 1025",
        _TOPPLE,
    ),
    _timed(
        "topple_set_s", "topple on set", "How long the model takes.", "real / √S", _on_set("topple"), FROUDE, _TOPPLE
    ),
    _timed(
        "topple_screen_s",
        "topple on screen",
        "How long it is seen.",
        "on set × k",
        _on_screen("topple"),
        DEFINITION,
        _TOPPLE,
    ),
    _timed(
        "topple_let_go_set_s",
        "topple let go",
        "How long the model takes where it is let go at rest, leaning 10°.",
        f"topple on set × {LET_GO_SHARE}",
        _let_go,
        "elliptic integral",
        _TOPPLE,
    ),
    _timed(
        "puff_real_hz",
        "real puffing",
        "How often the fire puffs.",
        "1.5 / √D, D in m",
        _puff,
        "Cetegen & Ahmed, 1993",
        _FIRE,
    ),
    _timed("puff_hz", "puffing", "How often the model's fire puffs.", "real puffing × √S", _model_puff, FROUDE, _FIRE),
)
LIGHT = (
    Working(
        "light.at_background_lux",
        "light behind",
        "The light at the background, as metered.",
        "as entered",
        _told("light.at_background_lux", "as entered"),
        on.entered,
        ("light.background_stops",),
        DEFINITION,
        "meter the light at the background",
    ),
    Working(
        "light.background_stops",
        "behind over model",
        "How much more light the background gets than the model.",
        "log2(behind / at the model)",
        _background,
        on.plain,
        (),
        DEFINITION,
        "meter the light at the background and at the model",
    ),
    Working(
        "light.shift_mired",
        "colour shift",
        "The filter that turns the light at the model into that at the background; positive is warmer.",
        "1000000 / K behind − 1000000 / K at the model",
        _shift,
        on.plain,
        (),
        "definition of the mired",
        "give the colour temperature at model and background",
    ),
    Working(
        "light.pulse_depth",
        "pulse depth",
        "How deep the light at the model pulses: 0 is steady.",
        "sum of (depth × light of each) / all light, daylight with 0",
        _depth,
        on.always("The first harmonic of the pulse over the mean; 0.5 for a lamp that nothing is known of."),
        (),
        "light adds",
    ),
)
