"""The columns of the readings on the bench."""

import math

from forescale.engine.answer import Answer
from forescale.engine.bench.bench_entry import shown_slip
from forescale.engine.findings.words import Words
from forescale.engine.kit.kit import taken_with
from forescale.engine.shot.readings import BenchRow
from forescale.engine.solve.bench_group import bench_line
from forescale.engine.units import angle_text, signed_text, tape_text
from forescale.tui.tasks.frame import Column

MOVED = 1e-3  # a model that stands nearer or farther by less is where it was


def reading_columns(answer: Answer) -> list[Column]:
    """Return the readings: slide, slip, how far off the line, and what is the matter with one."""
    rows = answer.setting.bench
    line = bench_line(answer)
    points = {} if line is None else {point.row: point for point in line.points}
    off = tuple(f"{signed_text(points[row].residual_px, 1)} px" if row in points else "" for row in range(len(rows)))
    columns = [
        Column("number", "no.", tuple(str(number) for number in range(1, len(rows) + 1))),
        Column("slide", "slide", tuple(Words(answer).on_slide.mark(row.slide) for row in rows)),
        Column("slip", "slip", tuple(shown_slip(row, answer.system) for row in rows)),
    ]
    if any(off):
        columns.append(Column("off", "off line", off, goes=2))
    remarks = tuple(_remark(answer, number, row) for number, row in enumerate(rows))
    if any(remarks):
        columns.append(Column("remark", "remark", remarks, goes=1))
    return columns


def _remark(answer: Answer, number: int, row: BenchRow) -> str:
    if not taken_with(row, answer.setting, answer.kit):
        return "left out"
    bench = answer.slip.bench
    if bench is not None and number in bench.contradicting:
        return "look again"
    if row.sweep is not None and row.sweep != answer.setting.move.sweep:
        return f"over {angle_text(row.sweep)}"
    if row.model is not None and not math.isclose(row.model, answer.lineup.model_mm, rel_tol=MOVED):
        return f"model at {tape_text(row.model, answer.system)}"
    return ""
