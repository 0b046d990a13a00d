"""Axes to scale on a canvas: cells and their values, numbers at round values, and a plot of curves between two axes."""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from forescale.engine.units import UnitSystem, length_text
from forescale.tui.diagrams.canvas import Canvas, Dots

END_COLUMNS = 5  # a break mark with a blank of line to either side, and the end itself
Extent = tuple[float, float, str, str]  # from, to, the glyph along it, its style
LEADS: tuple[int, ...] = (1, 2, 5, 10)
INCH_MM, FOOT_MM, MILE_MM = 25.4, 304.8, 1_609_344.0


class PlotAxis(NamedTuple):
    """Values `low` to `high` on cells, evenly or by logarithms; `endless`: the last is for any beyond, past a break."""

    low: float
    high: float
    first: int
    last: int
    log: bool = False
    endless: bool = False

    @property
    def scaled_last(self) -> int:
        """The cell of `high`, the largest value that is to scale."""
        return self.last - END_COLUMNS if self.endless else self.last

    def at(self, value: float) -> float:
        """Return where a value lies, in cells; what is past the scale of an endless axis lies at its end."""
        if self.endless and value > self.high:
            return self.last
        low, high = self.low, self.high
        if self.log:
            low, high, value = math.log(low), math.log(high), math.log(max(value, self.low))
        return self.first + (value - low) / (high - low) * (self.scaled_last - self.first)

    def cell(self, value: float) -> int:
        """Return the cell of a value; one past the scale at either end gets the cell of that end."""
        return self.last if value > self.high else round(self.at(max(value, self.low)))

    def value(self, cell: int) -> float:
        """Return the value in the middle of a cell; infinity in the last of an endless axis."""
        if self.endless and cell > self.scaled_last:
            return math.inf
        share = (cell - self.first) / max(self.scaled_last - self.first, 1)
        return self.low * (self.high / self.low) ** share if self.log else self.low + share * (self.high - self.low)


def round_values(low: float, high: float, most: int, leads: Sequence[float] = LEADS) -> list[float]:
    """Return the values from `low` to `high` in steps of `leads`, by a power of ten, `most` steps at most."""
    rough = (high - low) / max(most, 1)
    power = 1.0 if max(leads) > 10 else 10.0 ** math.floor(math.log10(rough))
    step = next(lead * power for lead in leads if lead * power >= rough * (1 - 1e-9))
    return [step * count for count in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1)]


def round_lengths(low_mm: float, high_mm: float, most: int, system: UnitSystem) -> dict[float, str]:
    """Return round lengths in mm with their texts: in metres, or in feet, or in inches that divide the foot."""
    unit, leads = (1.0, LEADS) if system == "metric" else (FOOT_MM, LEADS)
    if system == "imperial" and high_mm - low_mm < most * FOOT_MM:
        unit, leads = INCH_MM, (1, 2, 3, 6, 12) if high_mm - low_mm > most * INCH_MM else LEADS
    values = [unit * value for value in round_values(low_mm / unit, high_mm / unit, most, leads)]
    return {mm: length_text(mm, system) if mm else "0" for mm in values}


def log_lengths(axis: PlotAxis, system: UnitSystem) -> dict[float, str]:
    """Return the lengths in mm, with texts, that are 1, 2, 5 times powers of ten of a metre, of a foot, of a mile."""
    feet = ((FOOT_MM, FOOT_MM, MILE_MM), (MILE_MM, MILE_MM, math.inf))
    texts = dict[float, str]()
    for unit, least, most in feet if system == "imperial" else ((1.0, 0.0, math.inf),):
        low, high = max(axis.low, least) / unit, min(axis.high, most) / unit
        powers = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1) if low <= high else ()
        values = (lead * 10.0**power for power in powers for lead in (1, 2, 5))
        texts |= {unit * value: length_text(unit * value, system) for value in values if low <= value <= high}
    return texts


def ruler(canvas: Canvas, row: int, axis: PlotAxis, numbers: Mapping[float, str], spans: Iterable[Extent] = ()) -> None:
    """Draw an axis along a row with what lies on it, a tick at each value whose number has room in the row below."""
    glyphs = canvas.glyphs
    canvas.across(row, axis.first, axis.last, glyphs.horizontal)
    for low, high, glyph, style in spans:
        canvas.across(row, axis.cell(low), axis.cell(high), glyph, style)
    for value, text in numbers.items():
        if canvas.place([row + 1], axis.cell(value), [text], reach=0):
            canvas.mark(row, axis.cell(value), glyphs.tee_down)
    if axis.endless:
        for step, glyph in enumerate(glyphs.break_mark):
            canvas.mark(row, axis.last - END_COLUMNS + 2 + step, glyph)
        canvas.mark(row, axis.last, glyphs.right)


def steps(rows: int) -> int:
    """Return how many steps of numbers an axis up so many rows has room for."""
    return max(3, rows // 2)


class Plot:
    """Curves between two axes in the rows from 0 to `bottom`, `numbers` on the axis up; `put` draws the curves."""

    def __init__(
        self, canvas: Canvas, bottom: int, across: tuple[float, float], up: tuple[float, float],
        numbers: Mapping[float, str], *, log: bool = False, endless: bool = False,
    ) -> None:  # fmt: skip
        self.canvas, self.bottom = canvas, bottom
        left = max(map(len, numbers.values()), default=0) + 2
        self.x = PlotAxis(*across, left, canvas.width - 1, log, endless)
        self.y = PlotAxis(*up, bottom, 0)
        self._dots = Dots(canvas, left, 0, canvas.width - 1, bottom)
        canvas.down(left - 1, 0, bottom - 1, canvas.glyphs.vertical)
        canvas.mark(bottom, left - 1, canvas.glyphs.bottom_left)
        for value, number in numbers.items():
            row = self.y.cell(value)
            if canvas.write(row, left - 2 - len(number), number) and row < bottom:
                canvas.mark(row, left - 1, canvas.glyphs.tee_left)

    def curve(self, points: Iterable[tuple[float, float]], sign: str, style: str, every: int = 1) -> None:
        """Draw a curve through points (across, up), straight from one to the next."""
        self._dots.curve([(self.x.at(across), self.y.at(up)) for across, up in points], sign, style, every)

    def level(self, up: float, style: str = "drawing") -> None:
        """Draw a dotted line across the plot at a value of the axis up."""
        self.curve([(self.x.low, up), (self.x.high, up)], self.canvas.glyphs.dot, style, 4)

    def put(self) -> None:
        """Draw the curves over all that is drawn so far."""
        self._dots.put()
