"""How far each value may be off on the day before something is to be said, what matters most first."""

from __future__ import annotations

import math

from engine.findings.finding import stop_on
from engine.profiles import Lens
from engine.scale import MM_PER_FOOT
from engine.sensitivity import Edge, Sensitivity, sensitivity
from engine.sheet.blocks import Section, Table
from engine.sheet.voice import INCH_MM, Voice
from engine.units import UnitSystem, length_text, number_text

NOTHING = "any"


def section(voice: Voice) -> Section:
    """Return the margins of what is taped and set."""
    of = voice.of
    rows = [row for row in sensitivity(of.setting, of.kit, of.system) if row.less or row.more]
    table = Table(
        ("Value", "Stands at", "Less by", "More by", "Then"),
        tuple(margin_cells(row, of.system, of.kit.lens) for row in rows),
    )
    note = "what matters most first; each may be off so far, the rest as set, before a finding turns"
    return Section("How far off", (table,) if rows else (), note)


def margin_cells(row: Sensitivity, system: UnitSystem, lens: Lens) -> tuple[str, str, str, str, str]:
    """Return one value's label, where it stands, how far it may be less and more, and what turns."""
    if row.unit == "stops":
        value = stop_on(lens, row.value)
    else:
        value = f"{number_text(row.value, 4)} mm" if row.path == "move.slide" else length_text(row.value, system)
    turns = dict.fromkeys(_turns(edge) for edge in (row.less, row.more) if edge is not None)
    return row.label, value, _off(row, row.less, system), _off(row, row.more, system), "; ".join(turns)


def _off(row: Sensitivity, edge: Edge | None, system: UnitSystem) -> str:
    if edge is None:
        return NOTHING
    if row.unit == "stops":
        return f"{_no_more(edge.off, 0.1):.1f} stops"
    if row.path == "move.slide":
        return f"{number_text(_no_more(edge.off, _second_digit(edge.off)), 2)} mm"
    if system == "metric" or edge.off < INCH_MM / 8:
        return length_text(_no_more(edge.off, _second_digit(edge.off)), system, fraction=8)
    fraction = 8 if edge.off < MM_PER_FOOT else 1
    return length_text(_no_more(edge.off, INCH_MM / fraction), system, fraction=fraction)


def _no_more(value: float, step: float) -> float:
    """Return the last whole step that is no more than a value: what may be off must not be shown as more."""
    return math.floor(value / step + 1e-9) * step


def _second_digit(value: float) -> float:
    """Return what one counts for in the second digit of a value; 1 for nothing."""
    return 10.0 ** (math.floor(math.log10(value)) - 1) if value > 0 else 1.0


def _turns(edge: Edge) -> str:
    """Return the finding that turns by its short name: 'zone short', or 'no zone short' where it goes."""
    name = edge.finding.code.replace("-", " ")
    return name if edge.comes else f"no {name}"
