"""The ways that work as a table: what each column shows, by what it sorts, and how its cell is told in a sentence."""

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words, stop_on
from forescale.engine.options.option import Option, Ranked, taken, to_mind
from forescale.engine.options.outcome import Outcome
from forescale.engine.options.printed import trade
from forescale.engine.options.search import REASONS, FailedWay, Reason
from forescale.engine.units import UnitSystem, illuminance_text, length_text, number_text, ratio_text, rounded_down
from forescale.engine.units.lengths import INCH_MM
from forescale.engine.units.stops import stops_text
from forescale.tui.diagrams import bars, views
from forescale.tui.glyphs import Glyphs, fitted, plain, wrapped
from forescale.tui.runs import Row, indented
from forescale.tui.tasks.frame.columns import Column, told_apart
from forescale.tui.tasks.ways.ways_search import in_app

UNBEATEN = "*"
BAR, LEAST_BAR, SIDE_VIEW = 4, 2, 3  # lines of the distance bar, at most and at least, and at least of the side view
LENS = 24  # columns that a lens's name keeps as long as another column can go
NAMES = ((140, 40), (72, 20), (0, 14))  # from so many columns of the screen on, those of a mode's or camera's name
SAME_GOES = 100  # a column that says the same in every row goes before any other
_AT_START = r"(?<![\d.])"  # 28 is not in 0.028


@dataclass(frozen=True, slots=True)
class Shown:
    """One column: its head, what stands in it (None: the mark of an unbeaten way), what it sorts by where that is not
    it, how a sentence says it ("": never), when it goes."""

    head: str
    of_way: Callable[[Option], str] | None
    by: Callable[[Option], float] | None
    told: str = ""
    goes: int = 0

    def cell(self, row: Ranked) -> str:
        """Return what stands in the column for a way."""
        return (UNBEATEN if row.front else "") if self.of_way is None else self.of_way(row.option)

    def sort(self, row: Ranked) -> float | str | bool:
        """Return what the column sorts a way by."""
        if self.by is not None:
            return self.by(row.option)
        return self.cell(row) if self.of_way is not None else not row.front


def shown_columns(system: UnitSystem) -> tuple[Shown, ...]:
    """Return the columns, the one that matters least for a choice going first."""

    def light(way: Option) -> str:
        """Return the stops over (+) or short (-), or what is needed where it is not known what there is."""
        over = way.over_stops
        return illuminance_text(way.lux_with_nd, system) if over is None else stops_text(f"{over:+.1f}")

    def drift(way: Option) -> str:
        return drift_text(way.drift_tolerance_mm, system)

    def largest(way: Option) -> str:
        return build_text(way.build_mm, system)

    percent = Words.percent
    return (
        Shown("lens", lambda way: way.lens_at.lens.name, None, "{}"),
        Shown("mm", lambda way: f"{way.lens_at.focal_mm:.4g}", lambda way: way.lens_at.focal_mm, "{} mm"),
        Shown(UNBEATEN, None, None, goes=3),
        Shown("scale", lambda way: ratio_text(way.ratio), lambda way: way.ratio, "{}", 2),
        Shown("contrast", lambda way: percent(way.worst_contrast), lambda way: -way.worst_contrast, "contrast {}"),
        Shown("mode", lambda way: way.in_mode.mode.name, None, "{}", 1),
        Shown("camera", lambda way: way.in_mode.camera.name, None, "{}", 4),
        Shown("stop", lambda way: stop_on(way.lens_at.lens, way.f_number), lambda way: way.f_number, "{}", 5),
        Shown("model at", lambda way: place_text(way.model_mm, system), lambda way: way.model_mm, "model at {}", 6),
        Shown("fps", lambda way: number_text(way.fps, 4), lambda way: way.fps, "{} fps", 7),
        Shown("light", light, lambda way: way.lux_with_nd, "light {}", 8),
        Shown("drift", drift, lambda way: -way.drift_tolerance_mm, "may drift {}", 9),
        Shown("largest part", largest, lambda way: way.build_mm or math.inf, "largest part {}", 10),
    )


def place_text(mm: float, system: UnitSystem) -> str:
    """Return a tape distance to a whole inch or a centimetre: fine enough to choose by."""
    return length_text(mm, system, fraction=1) if system == "imperial" else f"{mm / 1000:.2f} m"


def build_text(mm: float | None, system: UnitSystem) -> str:
    """Return a part's size in feet and inches or whole millimetres; "-" where nothing is to be built."""
    if mm is None:
        return "-"
    return length_text(mm, system) if system == "imperial" else f"{mm:.0f} mm"


def drift_text(mm: float, system: UnitSystem) -> str:
    """Return a tolerance in thousandths of an inch or hundredths of a millimetre, never more than it is."""
    if math.isinf(mm):
        return "any"
    unit, name, decimals = (INCH_MM, "in", 3) if system == "imperial" else (1.0, "mm", 2)
    steps = math.floor(mm / unit * 10**decimals + 1e-9)
    if not steps:
        return f"{number_text(rounded_down(mm / unit), 2)} {name}"
    return f"{steps / 10**decimals:.{decimals}f} {name}"


def ways_columns(rows: Sequence[Ranked], shown: Sequence[Shown], by: str, sign: str) -> list[Column]:
    """Return the table of the ways that work, with a sign at the column that it is put in order by."""
    signs = {by: f"{by} {sign}"}
    return [Column(one.head, signs.get(one.head, one.head), tuple(map(one.cell, rows)), one.goes) for one in shown]


def in_brief(columns: Sequence[Column], width: int) -> list[Column]:
    """Return columns for a screen so wide: names shortened, and those going first that tell no row from another."""
    rooms = {"lens": LENS} | dict.fromkeys(("mode", "camera"), next(room for at, room in NAMES if width >= at))
    found = []
    for one in columns:
        names = tuple(dict.fromkeys(one.cells))
        short = dict(zip(names, told_apart(names, rooms[one.id]) if one.id in rooms else names, strict=True))
        cells, alike = tuple(short[cell] for cell in one.cells), one.goes and len(names) == 1 < len(one.cells)
        found.append(replace(one, cells=cells, goes=one.goes + alike * SAME_GOES))
    return found


def rows_with(columns: Sequence[Column], words: str) -> list[int]:
    """Return the rows that hold every word in any column, shown or not; a number counts from its first digit on."""
    wanted = [re.compile(_AT_START * word[0].isdigit() + re.escape(word)) for word in words.lower().split()]
    texts = (" ".join(cells).lower() for cells in zip(*(one.cells for one in columns), strict=True))
    return [row for row, text in enumerate(texts) if all(word.search(text) for word in wanted)]


BRIEF: dict[Reason, str] = {"blur": "no blur measured", "build": "part too large", "rate": "lacks the rate"}
BRIEF |= {"gravity": "mode too slow", "inside": "inside the lens", "match": "wrong size", "move": "no room to turn"}
BRIEF |= {"close": "will not focus", "stop": "lacks the stop", "small": "fills too little", "large": "fills too much"}
BRIEF |= {"zone": "not all sharp", "light": "too dark"}


def misses_columns(misses: Sequence[FailedWay], width: int) -> list[Column]:
    """Return the table of the ways that fail, with their reasons in full where the screen is wide."""
    reasons = {why: REASONS[why].spelt(in_app) if width >= NAMES[0][0] else brief for why, brief in BRIEF.items()}
    return [
        Column("lens", "lens", tuple(miss.lens_at.lens.name for miss in misses)),
        Column("mm", "mm", tuple(f"{miss.lens_at.focal_mm:.4g}" for miss in misses)),
        Column("scale", "scale", tuple(ratio_text(miss.ratio) for miss in misses), 1),
        Column("mode", "mode", tuple(miss.in_mode.mode.name for miss in misses), 2),
        Column("camera", "camera", tuple(miss.in_mode.camera.name for miss in misses), 4),
        Column("why", "why it fails", tuple(reasons[miss.reason] for miss in misses), 3),
    ]


def misses_said(outcome: Outcome, listed: int) -> str:
    """Return how many ways fail for what."""
    failing = outcome.searched - outcome.working
    if not failing:
        return f"None of {outcome.searched} ways fails"
    shares = ", ".join(f"{row.count} {BRIEF[row.code]}" for row in outcome.dropped)
    only = f"; the first {listed} are listed" if listed < failing else ""
    return f"{failing} of {outcome.searched} ways fail ({shares}){only}"


def way_said(row: Ranked, top: Option, cells: dict[str, str], columns: Sequence[Shown]) -> list[str]:
    """Return what a way trades and whether another beats it; `cells` are those of its row to be told, by column."""
    hidden = [one.told.format(cells[one.head]) for one in columns if one.told and cells.get(one.head, "-") != "-"]
    changes, found = taken(row.option)
    mind = "; ".join(to_mind(found, changes))
    said = trade(row.option, top)
    if row.option != top:
        standing = f"Unbeaten ({UNBEATEN})" if row.front else f"Beaten by one with {UNBEATEN}"
        said = f"{standing}: {said[0].lower()}{said[1:]}"
    return [f"{part}." for part in (", ".join(hidden), said, mind and f"Mind: {mind}") if part]


def preview_rows(said: Sequence[str], found: Answer | None, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return sentences, and in the lines that they leave the diagrams of an answer."""
    room, drawn = max(width - 2, 10), list[Row]()
    words = [line for one in said for line in wrapped(plain(one, glyphs), room)]
    if len(words) > height:
        words = [*words[: height - 1], fitted(" ".join(words[height - 1 :]), room, glyphs)]
    left = height - len(words)
    if found is not None and left >= LEAST_BAR:
        drawn += bars.distances(found, room, min(left, BAR), glyphs)
    if found is not None and left - len(drawn) >= SIDE_VIEW:
        drawn += views.side(found, room, left - len(drawn), glyphs)
    return (*(((f" {line}", "hint"),) for line in words), *indented(drawn))
