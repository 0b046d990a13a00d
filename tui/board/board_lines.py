"""What stands around the panes: the shot and its kit, what matters most, the view with all that is to be minded."""

import re

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words, with_advice
from forescale.engine.mends import joined_both
from forescale.engine.units.text import KEPT
from forescale.tui.diagrams import lens_view
from forescale.tui.glyphs import Glyphs, fitted, in_lines, plain, wrapped
from forescale.tui.runs import Row
from forescale.tui.session import Session

MARK = 3  # columns of a finding's sign
VIEW_SHARE = 0.6  # of the column's rows at most for the view; what it leaves is for the findings
_CLAUSE_ENDS = re.compile(r"[:;,] | \(| and ")


def top_row(session: Session, width: int, glyphs: Glyphs) -> Row:
    """Return the line that names the shot, its kit, and whether it is saved."""
    kit = session.state.kit
    saved = f" {glyphs.unsaved} not saved " if session.unsaved else " built-in " if session.shipped else " saved "
    names = [kit.mode.name, f"{kit.lens.name} at {Words.focal(kit.focal_mm)}" if kit.lens.is_zoom else kit.lens.name]
    if kit.head is not None:
        names.append(kit.head.name)
    title = f" {fitted(f'{session.state.shot.title}  ', max(width - len(saved) - 1, 0), glyphs)}"
    names = names if title.endswith("  ") else []  # where the title alone is cut, no kit has room
    kit_text = fitted(" · ".join(names), max(width - len(title) - len(saved) - 1, 0), glyphs)
    gap = " " * max(width - len(title) - len(kit_text) - len(saved), 0)
    return ((title, "title"), (kit_text, "label"), (gap, ""), (saved, "warn" if session.unsaved else "hint"))


def message_rows(message: str, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return a message in the lines there are, cut at its end where it must be; nothing for none."""
    return tuple(((f" {line}", "value"),) for line in in_lines(message, width - 2, height, glyphs))


def finding_rows(answer: Answer, width: int, height: int, glyphs: Glyphs, *, advised: bool) -> tuple[Row, ...]:
    """Return the gravest finding with its mark, `advised` with what mends it, which takes an answer or two to try."""
    first = answer.findings[0]
    text, short = joined_both(answer, first) if advised else (first.text, first.short)
    return _marked(headline(text, short, width - MARK - 1, height, glyphs), first.level, "value", glyphs)


def _marked(lines: list[str], level: str, style: str, glyphs: Glyphs) -> tuple[Row, ...]:
    sign = f" {getattr(glyphs, level)} "
    return tuple(((" " * MARK if place else sign, level), (line, style)) for place, line in enumerate(lines))


def headline(text: str, short: str, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return a finding in the lines there are: whole, or in short, or up to the last clause that fits."""
    for whole in (text, short):
        lines = wrapped(plain(whole, glyphs), width)
        if whole and len(lines) <= height:
            return lines
    said = plain(short or text, glyphs)
    for end in reversed([*_CLAUSE_ENDS.finditer(said)]):
        lines = wrapped(f"{said[: end.start()]}{KEPT}{plain('…', glyphs)}", width)
        if len(lines) <= height:
            return lines
    return in_lines(said, width, height, glyphs)


def beside_rows(answer: Answer, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return the column, exactly as many rows as it is high."""
    picture = lens_view.draw(answer, width, int(height * VIEW_SHARE), glyphs)
    while picture and not picture[-1]:
        picture.pop()
    rows = [_title("What the lens sees", width, glyphs), *picture, (), _title("What to mind", width, glyphs)]
    rows += _minded(answer, width, max(height - len(rows), 0), glyphs)
    return (*rows, *[()] * height)[:height]


def _title(text: str, width: int, glyphs: Glyphs) -> Row:
    name = f" {text} "
    return ((name, "title"), (glyphs.horizontal * max(width - len(name), 0), "rule"))


def _minded(answer: Answer, width: int, room: int, glyphs: Glyphs) -> list[Row]:
    """Return the findings, the gravest first: in short, whole as far as there is room, and how many have none."""
    wanted = [finding for finding in answer.findings if finding.level != "ok"]
    told: list[tuple[Row, ...]] = []
    for one in wanted:
        advice = one.by_hand.partition(",")[0] if one.level == "note" else ""
        told.append(_finding(with_advice(one.short or one.text, advice), one.level, width, glyphs))
    spare = room - sum(map(len, told))
    for place, one in enumerate(wanted):
        whole = _finding(with_advice(one.text, one.by_hand), one.level, width, glyphs) if spare > 0 else ()
        if whole and len(whole) - len(told[place]) <= spare:
            spare -= len(whole) - len(told[place])
            told[place] = whole
    rows: list[Row] = []
    for number, lines in enumerate(told):
        if len(rows) + len(lines) > room - (number < len(told) - 1):
            return [*rows, ((f"   {len(told) - number} more: f", "hint"),)]
        rows += lines
    return rows


def _finding(text: str, level: str, width: int, glyphs: Glyphs) -> tuple[Row, ...]:
    return _marked(wrapped(plain(text, glyphs), max(width - MARK - 1, 10)), level, "answer", glyphs)
