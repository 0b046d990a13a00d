"""What a shot says on each surface, as lines by their keys: what is kept of it, so that a change of it is seen."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from typing import Any, get_args

from forescale.engine.answer import Answer
from forescale.engine.answer.jsonable import jsonable
from forescale.engine.bench import bench_report, strip_report
from forescale.engine.compare.differences import chief_answers
from forescale.engine.compare.stop_words import against_set, stop_cells
from forescale.engine.day.day_list import lines as day_lines
from forescale.engine.margins.sensitivity import sensitivity
from forescale.engine.mends import mends
from forescale.engine.parts import build_list
from forescale.engine.sheet.blocks import Row, Table
from forescale.engine.sheet.data import GROUPS, build_csv
from forescale.engine.sheet.drawing.page import sheet_svg, sun_strip
from forescale.engine.sheet.sections import _IN_ORDER, sections_of
from forescale.engine.sheet.templates.pages import sheet_templates
from forescale.engine.shot.records import Shot
from forescale.engine.solve.built import cutting, running
from forescale.engine.solve.focus_zone import StopRow, stop_table
from forescale.engine.solve.record import Pane
from forescale.engine.states.takes import what_is_set
from forescale.engine.survey import survey_rows
from forescale.engine.workings import explain, keys_here

Lines = Iterator[tuple[str, str]]
DIGITS, OF_FITS = 9, 5  # kept of a number, and of one that a fit ends at
FITS = {"correction", "come_back"}
NOTHING = 1e-4  # of any unit
ELSEWHERE = {"Tolerances", "Findings", "Cautions"}  # sections of the sheet that are kept otherwise
TITLES = [title for title, _, _ in _IN_ORDER if title not in ELSEWHERE]


def written(value: Any, digits: int = DIGITS) -> str:
    """Return a value of the answer as it is kept, floats to so many digits."""
    if isinstance(value, float):
        return f"{value:.{digits}g}" if abs(value) >= NOTHING else "0"
    if isinstance(value, dict):
        return ", ".join(f"{key} {written(one, digits)}" for key, one in value.items())
    if isinstance(value, list):
        return " | ".join(written(one, digits) for one in value)
    return str(value)


def keyed(lines: Lines) -> dict[str, str]:
    """Return lines by their keys, one that comes again with its number."""
    found: dict[str, str] = {}
    times: Counter[str] = Counter()
    for key, line in lines:
        times[key] += 1
        found[key if times[key] == 1 else f"{key} ({times[key]})"] = line
    return found


def apart(lines: dict[str, str], plain: dict[str, str]) -> str:
    """Return the lines that another shot, the plain one, does not say, and the keys of those that it says alone."""
    own = [f"{key}: {line}" for key, line in lines.items() if plain.get(key) != line]
    gone = [key for key in plain if key not in lines and ", mend " not in key]
    return "\n".join([*own, *([f"not said: {', '.join(gone)}"] if gone else [])])


def numbers(of: Answer) -> Lines:
    """Yield every number of the answer, and of the table of stops the rows that count."""
    for name in GROUPS:
        group, digits = jsonable(getattr(of, name)) or {}, OF_FITS if name in FITS else DIGITS
        for key, value in group.items():
            rows = value if isinstance(value, list) and value and isinstance(value[0], dict) else None
            for number, row in enumerate(rows or (), start=1):
                yield f"{name}.{key}.{number}", written(row, digits)
            if rows is None:
                yield f"{name}.{key}", written(value, digits)
    for row in _stops(of):
        yield f"stop {row.f_number:.4g}", written(list(jsonable(row).values()))
    yield "cutting", written(jsonable(cutting(of)))
    yield "running", written([jsonable(one) for one in running(of)])
    yield "auto", " ".join(sorted(of.auto))


def _stops(of: Answer) -> list[StopRow]:
    rows = stop_table(of).rows
    return [row for row in rows if row in (rows[0], rows[-1]) or row.as_set or row.best or row.first_to_hold]


def findings(of: Answer) -> Lines:
    """Yield every finding, and what would mend it, with its price."""
    for finding in of.findings:
        key = f"{finding.level} {finding.code} at {finding.field}"
        yield key, finding.text + (f" // {finding.short}" if finding.short else "")
        for number, mend in enumerate(mends(of, finding), start=1):
            price = "" if mend.price is None else f"; price: {mend.price}"
            yield f"{key}, mend {number}", f"{mend.text} {dict(mend.set) or ''}{price}"


def sheet(of: Answer) -> Lines:
    """Yield the rows of the sheet."""
    for section in sections_of(of, *TITLES):
        yield section.title, section.note
        for number, block in enumerate(section.blocks):
            if isinstance(block, Row):
                yield f"{section.title}, {block.label}", f"{block.shown}; {block.remark}"
            elif isinstance(block, Table):
                for row, cells in enumerate((block.heads, *block.rows)):
                    yield f"{section.title} {number}.{row}", " | ".join(cells)
            else:
                yield f"{section.title} {number}", f"{block.mark} {block.text}"


def tasks(of: Answer) -> Lines:
    """Yield what the tasks say of a shot: bench, strips, build list, survey, day, stops, takes."""
    table, rows = stop_table(of), _stops(of)
    told: dict[str, Iterable[str]] = {
        "bench": [text for text, _ in bench_report.report(of)],
        "bench doubts": bench_report.doubts(of),
        "bench steps": [" ".join(step) for step in bench_report.steps(of)] if of.setting.bench else (),
        "strips": strip_report.told(of, strip_report.report(of)) if of.kit.mode.strip else (),
        "parts": [build_list.part_text(of, item) for item in of.scale.build],
        "stock": [build_list.stock_text(of, item) for item in of.scale.stock],
        "wanted": [build_list.wanted_text(of, 1000.0)],
        "place": build_list.place_texts(of),
        "day": [f"{line.label}: {line.value}" for line in day_lines(of)],
        "set": [what_is_set(of)],
        "chief": [f"{name}: {text}" for name, text in chief_answers(of).items()],
        "stops": [" | ".join(stop_cells(of, row)) for row in rows],
        "against": [against_set(of, table, row) for row in rows],
    }
    for number in range(1, len(of.setting.survey) + 1):
        told[f"survey {number}"] = survey_rows.found(of, number)
    for name, lines in told.items():
        for number, line in enumerate(lines, start=1):
            yield f"{name} {number}", line


def margins(of: Answer) -> Lines:
    """Yield how far off each value may be, and what then turns."""
    for row in sensitivity(of.setting, of.kit, of.system):
        ends = [edge and [edge.off, edge.finding.code, edge.comes] for edge in (row.less, row.more)]
        yield f"margin {row.path}", written([row.value, row.unit, *ends, row.margin, row.rank])


def workings(of: Answer) -> Lines:
    """Yield how each number comes about."""
    for pane in get_args(Pane):
        for key in keys_here(pane, of):
            yield f"e {key}", explain(key, of).put_in


def drawn(svg: str) -> Lines:
    """Yield how many lines of each style a drawing has, and words, and the sums of where they stand; no day's stamp."""
    sums: dict[str, list[float]] = {}
    for tag, style, rest, word in re.findall(r'<(\w+) class="(\w+)" ?([^>]*)>([^<]*)', svg):
        places = [float(one) for one in re.findall(r"-?\d+\.\d+", rest)]
        key = f"{tag} {style} {word.strip()}".rstrip()
        for at, place in enumerate((1.0, sum(places[::2]), sum(places[1::2]))):
            sums.setdefault(key, [0.0, 0.0, 0.0])[at] += place
    for key, (many, across, down) in sums.items():
        if "as it stands" not in key:
            yield key, f"{many:.0f}, {across:.1f} across, {down:.1f} down"


def drawing(shot: Shot, of: Answer) -> Lines:
    """Yield the drawing, the strip of the day and the templates."""
    yield from drawn(sheet_svg(shot, of))
    if of.sun is not None:
        strip, shown = sun_strip(of)
        yield "strip", shown
        yield from ((f"strip, {key}", line) for key, line in drawn(strip))
    yield from ((f"cut, {key}", line) for key, line in drawn(sheet_templates(shot, of)))


def of_answer(told: Callable[[Answer], Lines]) -> Callable[[Shot, Answer], Lines]:
    """Return what is told of an answer as of a shot and its answer."""
    return lambda _shot, of: told(of)


SURFACES: dict[str, Callable[[Shot, Answer], Lines]] = {
    **{told.__name__: of_answer(told) for told in (numbers, findings, sheet, tasks, margins, workings)},
    "drawing": drawing,
    "parts": lambda shot, of: ((f"csv {number}", line) for number, line in enumerate(build_csv(shot, of).splitlines())),
}
