"""How far each value may be off on the day before something is to be said, what matters most first."""

from __future__ import annotations

import math

from forescale.engine.findings.words import stop_on
from forescale.engine.formulas.scale import MM_PER_FOOT
from forescale.engine.kit.profiles import Lens
from forescale.engine.margins.sensitivity import Edge, Sensitivity, sensitivity
from forescale.engine.sheet.blocks import Section, Table
from forescale.engine.sheet.voice import INCH_MM, Voice
from forescale.engine.units import UnitSystem, angle_text, length_at_most, number_text, rounded_down, tape_text

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
    elif row.unit == "deg":
        value = angle_text(row.value)
    else:
        value = f"{number_text(row.value, 4)} mm" if row.path == "move.slide" else tape_text(row.value, system)
    turns = dict.fromkeys(_turns(edge) for edge in (row.less, row.more) if edge is not None)
    return row.label, value, _off(row, row.less, system), _off(row, row.more, system), "; ".join(turns)


def _off(row: Sensitivity, edge: Edge | None, system: UnitSystem) -> str:
    """Return how far off a value may be, rounded down: what may be off must not be shown as more."""
    if edge is None:
        return NOTHING
    if row.unit == "deg":
        return f"{number_text(rounded_down(edge.off), 2)} deg"
    if row.unit == "stops":
        return f"{math.floor(10 * edge.off + 1e-9) / 10:.1f} stops"
    if row.path == "move.slide":
        return f"{number_text(rounded_down(edge.off), 2)} mm"
    if system == "metric":
        return length_at_most(rounded_down(edge.off), system)
    if edge.off < INCH_MM / 8:
        return f"{number_text(rounded_down(edge.off / INCH_MM), 2)} in"
    return length_at_most(edge.off, system, fraction=8 if edge.off < MM_PER_FOOT else 1)


def _turns(edge: Edge) -> str:
    """Return the finding that turns by its short name: 'zone short', or 'zone short ends' where it goes."""
    name = edge.finding.code.replace("-", " ")
    return name if edge.comes else f"{name} ends"
