"""A search as JSON and as plain text of 79 columns; what an option gains and costs against the best, in words."""

import math
from collections.abc import Iterator, Sequence
from typing import Any

from forescale.engine.answer.jsonable import jsonable
from forescale.engine.findings.words import Words
from forescale.engine.options.option import Option, Ranked, amiss, level, taken, to_mind
from forescale.engine.options.outcome import Outcome
from forescale.engine.options.to_try import CameraMode, LensAt
from forescale.engine.sheet.cells import clean, hung, pad, wrap
from forescale.engine.shot.sections import Goal
from forescale.engine.units import length_text, number_text, stops_text, tape_text

GROUPS = ("scale", "lineup", "speed", "focus", "light")
WIDTH = 79
INDENT = 7
GAP = 2
HEADS = ("", "ratio", "model at", "frame", "fps", "stop", "ISO", "contrast", "light")
NOTES = (
    "The ways with * stand first: no other way is as good in all that counts and better in one. Then come the rest. "
    "Within each first what falls as it should under steady lamps, then the best by what counts; a difference of less "
    "than a step counts for nothing, so a column may go up and down a little.",
    "Frame is the share of the frame's width that the largest part fills, contrast the worst over the zone (it drops "
    "no way, however low), light the stops over (+) or short (-). Each way runs at the rate of its mode that serves "
    "its ratio.",
)
_MORE_BY = ((0.1, "a tenth"), (0.2, "a fifth"), (0.25, "a quarter"), (1 / 3, "a third"))
_PART_OF = (*_MORE_BY, (0.5, "half"))
# The goals, each with its step in the ranking of `option.py`, in words.
_GOALS: dict[Goal, str] = {"contrast": "contrast in steps of 3 %", "model": "a large model in tenths"}
_GOALS |= {"tolerance": "room for drift and slide in quarters", "light": "little light in thirds of a stop"}
_GOALS |= {"build": "a small build in tenths"}


def options_data(found: Outcome, limit: int | None = None) -> dict[str, Any]:
    """Return a search as plain JSON values, the first `limit` options with all their numbers: mm, s, degrees, lux."""
    return {
        "options": [_option(row, found.options[0].option) for row in found.options[:limit]],
        "dropped": [jsonable(row) for row in found.dropped],
        "searched": found.searched,
        "working": found.working,
        "verdict": str(found.verdict),
    }


def options_json(found: Outcome, limit: int | None = None) -> str:
    """Return a search as a JSON text that any strict reader takes."""
    import json

    return json.dumps(options_data(found, limit), indent=2, allow_nan=False) + "\n"


def _option(row: Ranked, top: Option) -> dict[str, Any]:
    option, (_, answer) = row.option, taken(row.option)
    head = {"kit": _kit(option.in_mode, option.lens_at), "place": {"model_mm": option.model_mm}, "front": row.front}
    head |= {"trade": trade(option, top), "warnings": [finding.code for finding in amiss(answer)]}
    return head | {name: jsonable(getattr(answer, name)) for name in GROUPS}


def _kit(in_mode: CameraMode, lens_at: LensAt) -> dict[str, Any]:
    names = {"camera": in_mode.camera.name, "mode": in_mode.mode.name, "lens": lens_at.lens.name}
    return names | {"focal_length_mm": lens_at.focal_mm}


def options_text(found: Outcome, limit: int | None) -> str:
    """Return the first `limit` options with their trades, and what was dropped and why."""
    shown, lines = found.options[:limit], list(wrap(str(found.verdict), WIDTH))
    if shown:
        lines += ["", *_rows(shown)]
        if len(shown) < found.working:
            lines += ["", f"These are the first {len(shown)} of {found.working}."]
        for note in NOTES:
            lines += ["", *wrap(note, WIDTH)]
    if found.dropped:
        lines += ["", "Dropped"]
        for row in found.dropped:
            lines += hung(f"{row.count:6} ", clean(row.reason), INDENT, WIDTH)
    return "\n".join(lines) + "\n"


def _rows(shown: Sequence[Ranked]) -> Iterator[str]:
    put = [taken(row.option) for row in shown]
    cells = [_cells(row, Words(answer)) for row, (_, answer) in zip(shown, put, strict=True)]
    numbered = [HEADS, *((f"{place}{mark}", *rest) for place, (mark, *rest) in enumerate(cells, start=1))]
    widths = [max(len(line[column]) for line in numbered) for column in range(len(HEADS))]
    yield _line(HEADS, widths)
    for row, line, (changes, answer) in zip(shown, numbered[1:], put, strict=True):
        yield ""
        yield _line(line, widths)
        option = row.option
        build_mm, system = option.build_mm, option.to_try.system
        built = "" if build_mm is None else f"; {length_text(build_mm, system)} to build"
        yield from hung(" " * INDENT, _kit_text(option.in_mode, option.lens_at) + built, INDENT, WIDTH)
        yield from hung(" " * INDENT, f"{trade(option, shown[0].option)}.", INDENT, WIDTH)
        for mind in to_mind(answer, changes):
            yield from hung(" " * INDENT, f"Mind: {mind}.", INDENT, WIDTH)


def _cells(row: Ranked, words: Words) -> tuple[str, ...]:
    option = row.option
    return (
        "*" if row.front else "",
        words.ratio(option.ratio),
        tape_text(option.model_mm, option.to_try.system),
        "" if option.frame_share is None else f"{100 * option.frame_share:.0f} %",
        number_text(option.fps, 4),
        words.stop(option.f_number),
        number_text(option.iso, 5),
        words.percent(option.worst_contrast),
        "" if option.over_stops is None else f"{option.over_stops:+.1f}",
    )


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    gap = GAP if sum(widths) + GAP * len(widths) <= WIDTH else 1
    return (" " * gap).join(pad(cell, width) for cell, width in zip(cells, widths, strict=True)).rstrip()


def _kit_text(in_mode: CameraMode, lens_at: LensAt) -> str:
    lens = f"{lens_at.lens.name} at {Words.focal(lens_at.focal_mm)}"
    return clean(f"{in_mode.camera.name}, {in_mode.mode.name}; {lens}")


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
            many = stops_text(f"{abs(stops):.1f}".removesuffix(".0"))
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
