"""The workings of the stand group: weight, wind, ballast, sway, strength."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.formulas import stand
from forescale.engine.units import FORCE, WEIGHT, measured_in, number_text
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, PRACTICE, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer
    from forescale.engine.solve.groups import StandAnswer

_EUROCODE = "EN 1991-1-4, 7.4.3 and 4.5 (coefficients from memory)"
_STATICS = f"moments about the lee edge; the margin of 1.5: {PRACTICE}"
_NEEDS_WEIGHT = "give the parts a density and sizes, or enter the model's weight"
_NEEDS_WIND = "enter the wind area and the gust"
_NEEDS_FOOT = "enter the wind area, its height, the foot's depth and a weight"
_NEEDS_TEST = "pull the top and enter the pull and how far it went"
_first = on.always("A first estimate, to be checked by the licensed person on set.")


def _found(of: Answer) -> StandAnswer:
    assert of.stand is not None  # a working puts in only what is known
    return of.stand


def _kg(of: Answer, kg: float | None) -> str:
    value, unit = measured_in(kg or 0.0, WEIGHT, of.system)
    return f"{Figures.number(value)} {unit}"


def _strength(of: Answer, power: str, key: str) -> str:
    own = Figures.number(of.setting.stand.specific_strength)
    return f"{Figures.number(of.scale.ratio)}{power} × {own} = {value_text(key, of)}"


def _held(of: Answer) -> str:
    held, laid = _found(of).held_kg or 0.0, of.setting.stand.ballast
    return f"{_kg(of, held - laid)} + {_kg(of, laid)} = {value_text('stand.held_kg', of)}"


def _real_weight(of: Answer) -> str:
    model = _kg(of, _found(of).parts_weight_kg)
    return f"{model} × {Figures.number(of.scale.ratio)}^3 = {value_text('stand.real_weight_kg', of)}"


def _wind(of: Answer) -> str:
    given, (_, unit) = of.setting.stand, measured_in(1.0, FORCE, of.system)
    into = "" if unit == "N" else f" / {Figures.number(1 / measured_in(1.0, FORCE, of.system)[0])}"
    speed, area = Figures.number((given.gust or 0.0) / 1000), Figures.number(given.area or 0.0)
    return f"{stand.BOARD} × 0.5 × {stand.AIR_KG_M3} × {speed}² × {area}{into} = {value_text('stand.wind_n', of)}"


def _needed(of: Answer) -> str:
    given, say, found = of.setting.stand, Figures, _found(of)
    lee = given.lee if given.lee is not None else (given.foot_deep or 0.0) / 2
    force, height = found.wind_n or 0.0, given.area_height or 0.0
    into = measured_in(1.0, WEIGHT, of.system)[0]
    shown = value_text("stand.held_needed_kg", of)
    if lee == 0:
        return f"a foot without depth holds nothing: {shown}"
    push = f"{stand.SAFETY} × {say.number(force)}"
    if height / lee > 1 / given.friction:
        push += f" × {say.number(height)} / {say.number(lee)}"
    else:
        push += f" / {say.number(given.friction)}"
    return f"{push} / {say.number(stand.GRAVITY_M_S2)} × {say.number(into)} = {shown}"


def _ballast(of: Answer) -> str:
    found, shown = _found(of), value_text("stand.ballast_needed_kg", of)
    weight = (found.held_kg or 0.0) - of.setting.stand.ballast
    if not 0 < (found.ballast_needed_kg or 0.0) < float("inf"):
        return f"the weight alone, or none at all, decides: {shown}"
    return f"{_kg(of, found.held_needed_kg)} − {_kg(of, weight)} = {shown}"


def _sway(of: Answer) -> str:
    given, say = of.setting.stand, Figures(of)
    pushed = f"{say.number(_found(of).wind_n or 0.0)} / {say.number(given.pull or 1.0)}"
    return f"0.5 × {say.exact(given.moves or 0.0)} × {pushed} = {value_text('stand.sway_mm', of)}"


def _sudden(of: Answer) -> str:
    steady = Figures(of).small(_found(of).sway_mm or 0.0)
    return f"2 × {steady} = {value_text('stand.sway_sudden_mm', of)}"


def _allowed(of: Answer) -> str:
    say, move = Figures(of), of.setting.move
    pixel = f"{say.number(move.tolerance)} × {say.across(of.kit.mode.pixel_mm)}"
    place = f"{say.from_pupil(of.lineup.model_mm)} / {say.mm(of.setup.image_mm)}"
    return f"{pixel} × {place} = {value_text('stand.sway_allowed_mm', of)}"


def _in_words(key: str, words: str) -> Callable[[Answer], str]:
    return lambda of: f"{words}: {value_text(key, of)}"


def _working(
    name: str, label: str, meaning: str, formula: str, put_in: Callable[[Answer], str] | str, source: str, needs: str
) -> Working:
    key = f"stand.{name}"
    put = _in_words(key, put_in) if isinstance(put_in, str) else put_in
    return Working(key, label, meaning, formula, put, _first, (), source, needs)


_ANY = "let something fall, or enter what makes it stand"
_GALILEO = "stress under own weight goes with size (Galileo, Two New Sciences, 1638)"
_AT = "the gust whose push it just holds"

WORKINGS = (
    _working("strength_factor", "too strong", "How many times stronger than the real thing the copy is against its own "
             "weight.", "S·own strength", lambda of: _strength(of, "", "stand.strength_factor"), _GALILEO, _ANY),
    _working("crack_factor", "too strong, crack", "The same where a crack that is copied with the rest decides.",
             "S^1.5·own strength", lambda of: _strength(of, "^1.5", "stand.crack_factor"),
             "A. A. Griffith, Phil. Trans. A 221, 1921 (from memory)", _ANY),
    _working("parts_weight_kg", "parts' weight", "What the parts weigh that have a density and sizes.",
             "quantity·wide·deep·tall·density·solid / S^3, summed", "volume times density, summed", DEFINITION,
             _NEEDS_WEIGHT),
    _working("unweighed", "unweighed parts", "How many parts of the build list have no weight yet.", "counted",
             "counted on the build list", DEFINITION, _ANY),
    _working("real_weight_kg", "full-size weight", "What the same thing of the same material weighs at full size.",
             "W·S^3", _real_weight, DEFINITION, _NEEDS_WEIGHT),
    _working("held_kg", "weight on the foot", "Model and ballast together.", "W + ballast", _held, DEFINITION,
             _NEEDS_WEIGHT),
    _working("wind_n", "push of the gust", "How hard the strongest gust pushes on the model with table and skirt.",
             "F = 1.8·0.5·1.25·v²·A", _wind, _EUROCODE, _NEEDS_WIND),
    _working("held_needed_kg", "weight needed", "What must press on the foot for the gust not to move it.",
             "the more of 1.5·F·z/b and 1.5·F/friction, over g", _needed, _STATICS, _NEEDS_FOOT),
    _working("ballast_needed_kg", "ballast needed", "How much of that the model itself does not bring.",
             "weight needed − W", _ballast, _STATICS, _NEEDS_FOOT),
    _working("tips_at_mm_s", "tips at", "The gust that tips it over its lee edge.", "1.5·F·z = W·b", _AT, _STATICS,
             _NEEDS_FOOT),
    _working("slides_at_mm_s", "slides at", "The gust that slides it along.", "1.5·F = friction·W", _AT, _STATICS,
             _NEEDS_FOOT),
    _working("stop_gust_mm_s", "stop at a gust of", "The gust at which shooting stops and people are clear.",
             "the lesser of the two", "where it tips or slides, whichever comes first", _STATICS, _NEEDS_FOOT),
    _working("stop_mean_mm_s", "as a mean reading", "The mean of a wind meter where such gusts are in the wind.",
             "gust / 1.7", "near the ground over open land", "gust factor of open land (from memory)", _NEEDS_FOOT),
    _working("gust_reads_mm_s", "gust reads as", "How fast that wind looks on the screen, on smoke and cloth.", "v·√S",
             lambda of: f"the gust times √{number_text(of.scale.ratio)}: {value_text('stand.gust_reads_mm_s', of)}",
             "Froude's law of similarity", "enter the gust"),
    _working("sway_mm", "sway", "How far the top goes in the steady gust, by the pull test.", "0.5·moves·F/pull", _sway,
             "a load spread over the height bends half as far as one at the top, about", _NEEDS_TEST),
    _working("sway_sudden_mm", "sway, sudden", "The same when the gust comes at once.", "2·sway",
             _sudden,
             "S. Timoshenko, Vibration Problems in Engineering, 1928 (from memory)", _NEEDS_TEST),
    _working("sway_allowed_mm", "sway that passes", "How far the top may go across the axis before it shows.",
             "t·p·d/v", _allowed, "similar triangles", _ANY),
)  # fmt: skip
