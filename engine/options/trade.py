"""What an option gains and costs against the best one, in words."""

from __future__ import annotations

import math
from collections.abc import Sequence

from forescale.engine.findings.words import Words
from forescale.engine.options.option import Option, level
from forescale.engine.shot.sections import Goal
from forescale.engine.units import length_text, number_text

_MORE_BY = ((0.1, "a tenth"), (0.2, "a fifth"), (0.25, "a quarter"), (1 / 3, "a third"))
_PART_OF = (*_MORE_BY, (0.5, "half"))
# The goals, each with its step of `forescale.engine.options.rank`, in words.
_GOALS: dict[Goal, str] = {
    "contrast": "contrast in steps of 3 %",
    "model": "a large model in tenths",
    "tolerance": "room for drift and slide in quarters",
    "light": "little light in thirds of a stop",
    "build": "a small build in tenths",
}


def trade(option: Option, top: Option) -> str:
    """Return what a way gains and costs against the top one by steps that count, and what is amiss with it."""
    falls = f"; it falls {number_text(option.gravity or 0.0, 3)} times as hard as wanted" if option.heavy else ""
    lamps = "; lamps flicker at its rate" if option.flickers else ""
    faint = f"; at {Words.percent(option.worst_contrast)} contrast fine detail is all but lost" if option.faint else ""
    return f"{_against(option, top)}{falls}{lamps}{faint}"


def order_text(order: Sequence[Goal]) -> str:
    """Return what counts, first things first, each with the step below which a difference counts for nothing."""
    return ", then ".join(_GOALS[goal] for goal in order)


def _against(option: Option, top: Option) -> str:
    order = option.to_try.setting.limits.order
    if option == top:
        return f"Best by what counts here: {order_text(order)}"
    told = [
        _gain(goal, option, top)
        for goal, own, best in zip(order, level(option, order), level(top, order), strict=True)
        if own != best
    ]
    gains = ", ".join(words for better, words in told if better)
    costs = ", ".join(words for better, words in told if not better)
    if not told:
        return "As good as the best in all that counts, small differences aside"
    words = f"{gains}, but {costs}" if gains and costs else gains or f"{costs}, and nothing gained on the best"
    return words[0].upper() + words[1:]


def _gain(goal: Goal, option: Option, top: Option) -> tuple[bool, str]:
    """Return whether the option gets farther in a goal than the top one, and how in words."""
    match goal:
        case "contrast":
            own, best = option.worst_contrast, top.worst_contrast
            return own > best, f"contrast {Words.percent(own)} instead of {Words.percent(best)}"
        case "model":
            times = top.ratio / option.ratio
            return times > 1, f"the model is {_times(times, 'larger', 'smaller', 'as large')}"
        case "build":
            smaller, system = option.ratio > top.ratio, option.to_try.system
            if option.build_mm is None or top.build_mm is None:
                return smaller, f"{'less' if smaller else 'more'} to build"
            built, instead = length_text(option.build_mm, system), length_text(top.build_mm, system)
            return smaller, f"{built} to build instead of {instead}"
        case "tolerance":
            own, best = option.drift_tolerance_mm, top.drift_tolerance_mm
            if math.isinf(own) or math.isinf(best):
                return own > best, "no drift shows" if math.isinf(own) else "drift shows"
            return own > best, f"room for drift is {_times(own / best, 'more', 'less', 'as much')}"
        case "light":
            stops = math.log2(top.base_lux / option.base_lux)
            count = f"{abs(stops):.1f}".removesuffix(".0")
            many = "one stop" if count == "1" else f"{count} stops"
            return stops > 0, f"{many} {'less' if stops > 0 else 'more'} light"


def _times(times: float, more: str, less: str, as_much: str) -> str:
    """Return a proportion in words: "a third smaller", "half as large", "2.1 times as large"."""
    if times >= 1.45:
        return f"{times:.1f}".removesuffix(".0") + f" times {as_much}"
    if times < 0.08:
        return f"1/{1 / times:.0f} {as_much}"
    if times < 0.585:
        return f"{_nearest(_PART_OF, times)} {as_much}"
    return f"{_nearest(_MORE_BY, abs(times - 1))} {more if times > 1 else less}"


def _nearest(known: Sequence[tuple[float, str]], share: float) -> str:
    return min(known, key=lambda pair: abs(pair[0] - share))[1]
