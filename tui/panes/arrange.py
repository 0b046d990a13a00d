"""Fitting a pane into the room there is: which rows are shown, and where its fields stand."""

import math
import textwrap
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from forescale.engine.answer.in_force import in_force
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.findings.words import Words
from forescale.engine.sheet.cells import hung
from forescale.engine.shot import edit
from forescale.engine.solve.record import Pane
from forescale.engine.units import Stop, tape_text
from forescale.tui.diagrams.canvas import Drawing
from forescale.tui.glyphs import Glyphs, fitted, in_lines, plain
from forescale.tui.panes import TITLES
from forescale.tui.panes.content import AnswerRow, FieldRow, PaneContent, reason, verdict_of
from forescale.tui.runs import Row, indented, split
from forescale.tui.session import State

LABEL, VALUE = 15, 11
NAME = 22  # columns of a name in front of a number
REASON = 2  # rows at most for the reason
LEAST = 3  # rows at least, in the least room, for what else is set, why, and what is answered
AUTO = " auto"
FIRST_DRAWING, FULL_DRAWING = 4, 12
BAR, CURVE = 3, 5  # the least in which a bar and a curve can be read
FIELDS = 37  # columns of the fields
BESIDE = 78  # columns from which on the answers stand beside them
ANSWERS = 39  # columns of the answers at least
THREE = 100  # columns from which on the diagrams stand beside both


class Typing(NamedTuple):
    """An entry that is being typed for a field: what was understood of it, or why it was refused."""

    path: str
    says: str
    refused: bool = False


class Look(NamedTuple):
    """How a pane is shown: `proposed` or `stale` while typing; pages from 1 on have the answers that had no room."""

    width: int
    height: int
    glyphs: Glyphs
    in_hand: str | None = None
    typing: Typing | None = None
    stale: bool = False
    proposed: bool = False
    page: int = 0

    @property
    def columns(self) -> tuple[int, int]:
        """The columns of the pane that its fields have, and its answers; all, and none, where these stand below."""
        if self.width < BESIDE:
            return self.width, 0
        return FIELDS, ANSWERS + (self.width - THREE) // 5 if self.width >= THREE else self.width - FIELDS - 1

    @property
    def side_by_side(self) -> tuple[int, ...]:
        """How wide the columns are in which the pane's rows stand: one, or three from `THREE` on."""
        fields, answers = self.columns
        return (self.width,) if self.width < THREE else (fields + 1, answers + 1, self.width - fields - answers - 2)

    def style(self, level: str) -> str:
        """Return the style of what follows from the shot: its own, or that of what stood before an entry."""
        return "stale" if self.stale else level


class Arranged(NamedTuple):
    """A pane's rows, those beside its fields from the second on, its diagrams beside both, the hand's row, pages."""

    rows: tuple[Row, ...]
    beside: list[Row]
    drawn: list[Row]
    hand_row: int | None
    pages: int


def paths_of(content: PaneContent) -> tuple[str, ...]:
    """Return the paths of a pane's fields in the order in which one goes through them."""
    return tuple(row.path for row in (*content.fields, *content.more_fields))


def arrange(number: int, pane: Pane, content: PaneContent, state: State, look: Look) -> Arranged:
    """Return the rows of a pane, exactly as many as it is high: answers below the fields, or beside them."""
    high, (wide, wide_beside) = look.height - 1, look.columns
    of_fields = look._replace(width=wide)
    texts = look._replace(width=wide_beside + 1 if wide_beside else wide)
    typed, first = _typed_rows(of_fields), _fixed_rows(content, pane, state, texts)
    told = told_left = first + [_answer_rows(one, texts) for one in content.answers]
    if not wide_beside:
        answered, first = told[len(first) :], [[row] for rows in first for row in rows]
        told = told_left = first + answered
        kept = len(typed) + len(first) + min(sum(map(len, answered)), max(LEAST - len(first), 0))
        rows = high - _drawing_room(content, high - kept)
        shown = rows - kept
    else:
        wanted, most = len(typed) + sum(map(len, told)), len(content.fields) + len(content.more_fields)
        needed = max(most, math.ceil((most + wanted) / 2))
        rows = high if look.width >= THREE else min(needed, max(high - BAR, 1))
        shown = min(max(2 * rows - wanted, len(content.fields)), rows - len(typed))
    fields, hand = _field_rows(content, max(shown, 1), state, of_fields)
    if hand is not None:
        fields[hand + 1 : hand + 1] = typed
    right, at = _column(told, 0, rows if wide_beside else 0)
    if wide_beside and at < len(told):  # the same answers, in the column of the fields, may take other rows there
        texts = of_fields._replace(width=wide + 1)
        told_left = _fixed_rows(content, pane, state, texts) + [_answer_rows(one, texts) for one in content.answers]
    below, at = _column(told_left, at, rows - len(fields))
    further = sum(map(len, told[at:]))
    columns = [([*fields, *below][:high], right)]
    a_page = max(rows if wide_beside else high, *map(len, told_left), 1)
    while at < len(told):
        left, at = _column(told_left, at, a_page)
        right, at = _column(told, at, a_page if wide_beside else 0)
        columns.append((left, right))
    look = look._replace(page=min(look.page, len(columns) - 1))
    left, right = columns[look.page]
    drawn: list[Row] = []
    text = min(max(len(left), len(right)), high)
    if look.width >= THREE:
        drawn = _drawings(content.diagrams, state, look, look.width - wide - wide_beside - 2, high)
    else:
        left += [()] * (text - len(left)) + _drawings(content.diagrams, state, look, look.width, high - text)
    rows_of_all = (_title_row(number, pane, further, state, look), *left, *[()] * look.height)
    filled = [*right, *[()] * text][:text] if wide_beside else []
    hand_row = None if hand is None or look.page else hand + 1
    return Arranged(rows_of_all[: look.height], filled, drawn, hand_row, len(columns))


def in_columns(shown: Arranged, look: Look) -> list[list[Row]]:
    """Return a pane's rows in its columns, each as high as the pane, its title cut among them."""
    widths, rows = look.side_by_side, [*shown.rows]
    if not rows:
        return [[] for _ in widths]
    if len(widths) == 1:
        for y, row in enumerate(shown.beside, 1):
            rows[y] = (*split(rows[y], FIELDS + 1)[0], *row)
        return [rows]
    title, rest = split(rows[0], widths[0])
    titles = (title, *split(rest, widths[1]))
    held = zip(titles, (rows[1:], shown.beside, shown.drawn), strict=True)
    return [[first, *below, *[()] * (look.height - 1 - len(below))] for first, below in held]


def _column(told: list[list[Row]], at: int, room: int) -> tuple[list[Row], int]:
    """Return the rows of the answers from one on that fit whole into a column, and which comes next."""
    rows: list[Row] = []
    while at < len(told) and len(rows) + len(told[at]) <= room:
        rows += told[at]
        at += 1
    return rows, at


def _fixed_rows(content: PaneContent, pane: Pane, state: State, look: Look) -> list[list[Row]]:
    """Return what else is set by hand, and why the pane does not simply hold, each in its rows."""
    told: list[list[Row]] = []
    for item in content.to_set:
        label, value = item.label.lower()[: LABEL - 1].ljust(LABEL - 1), plain(item.text, look.glyphs)
        rest = plain(item.remark, look.glyphs)
        rest = f"  {rest}" if LABEL + len(value) + 2 + len(rest) < look.width else ""
        told.append([((f" {label}", "label"), (value, look.style("value")), (rest, "hint"))])
    if said := reason(state.answer, pane):
        level, lines = verdict_of(state.answer, pane)[0], in_lines(said, look.width - 4, REASON, look.glyphs)
        signs = [getattr(look.glyphs, level), *" " * REASON]
        told.append([((f" {sign} {line}", look.style(level)),) for sign, line in zip(signs, lines, strict=False)])
    return told


def _drawing_room(content: PaneContent, room: int) -> int:
    """Return the rows for diagrams; a curve is worth more than the last of the fields that are seldom set."""
    beside = room - len(content.fields)
    if len(content.diagrams) > 1 and beside - len(content.more_fields) // 2 >= BAR + CURVE:
        return BAR + CURVE
    return min(FIRST_DRAWING, beside) if content.diagrams and beside >= BAR - 1 else 0


def _title_row(number: int, pane: Pane, further: int, state: State, look: Look) -> Row:
    level, word = verdict_of(state.answer, pane)
    name, verdict = f" {number} {TITLES[pane]} ", f" {getattr(look.glyphs, level)} {word} "
    if look.stale:
        verdict = " as before the entry "
    elif look.proposed:
        verdict = f" if so{verdict}"
    more = f" PgUp: back {look.glyphs.horizontal}" if look.page else f" PgDn: {further} more {look.glyphs.horizontal}"
    room = look.width - len(name) - len(verdict)
    if not (look.in_hand and further) or look.typing or len(more) >= room:
        more = ""
    rule = look.glyphs.horizontal * max(room - len(more), 0)
    style = "hand" if look.in_hand else "title"
    return ((name, style), (rule, "rule"), (more, "rule"), (verdict, look.style(level)))


def _field_rows(content: PaneContent, room: int, state: State, look: Look) -> tuple[list[Row], int | None]:
    """Return the rows of as many fields as fit, around the one in hand, and its place among them."""
    wanted = content.fields + content.more_fields
    shown = min(room, len(wanted))
    hand = next((place for place, row in enumerate(wanted) if row.path == look.in_hand), None)
    start = 0 if hand is None else min(max(hand - shown + 1, 0), len(wanted) - shown)
    edges = {start: look.glyphs.up} if start else {}
    if start + shown < len(wanted):
        edges.setdefault(start + shown - 1, look.glyphs.down)
    rows = [_field_row(wanted[at], edges.get(at, " "), state, look) for at in range(start, start + shown)]
    return rows, None if hand is None else hand - start


def _field_row(row: FieldRow, edge: str, state: State, look: Look) -> Row:
    in_hand = row.path == look.in_hand
    pointer = look.glyphs.pointer if in_hand else edge
    label = FIELD_HELP[row.path].label.ljust(LABEL - 1)[: LABEL - 1]
    value = plain(field_text(state, row.path), look.glyphs)
    auto = AUTO if is_open(state, row.path) else ""
    room = look.width - LABEL - len(value) - len(auto)
    hint = plain(row.hint, look.glyphs)
    hint = hint if len(hint) < room else hint.partition(" with ")[0]
    spare = room - len(hint)
    hint = f"{' ' * max(min(VALUE - len(value) - len(auto), spare), 1)}{hint}" if spare > 0 and hint else ""
    of_pointer, of_label, of_value = ("hand",) * 3 if in_hand else ("rule", "label", "value")
    return ((pointer, of_pointer), (label, of_label), (value, of_value), (auto, "label"), (hint, "hint"))


def is_open(state: State, path: str) -> bool:
    """Return whether a field is left to the program and the program has chosen something for it."""
    return edit.value_at(state.shot, path) is None and in_force(path, state.answer) is not None


def field_text(state: State, path: str) -> str:
    """Return the value in force at a field, as people read it; a dash where there is none."""
    value = in_force(path, state.answer)
    if value is None:
        return "-"
    quantity = edit.quantity_of(type(state.shot), path)
    if path == "move.slide":
        return Words(state.answer).on_slide.mark(value)
    if quantity is not None and quantity.kind == "length" and not quantity.in_mm:
        return tape_text(value, state.shot.units)
    if quantity is not None and isinstance(value, float | int):
        return quantity.shown(value, state.shot.units)
    if isinstance(value, Stop) and value.marks is None:
        value = replace(value, marks=state.kit.lens.marks)
    return edit.text_of(value, None, state.shot.units)


def entry_text(state: State, path: str) -> str:
    """Return what an entry begins with: the value as its file holds it, or as shown where the program chose it."""
    value = edit.value_at(state.shot, path)
    if value is None:
        shown = field_text(state, path)
        return "" if shown == "-" else shown
    if path == "move.slide":
        return Words(state.answer).on_slide.mark(value, 9)
    return edit.text_of(value, edit.quantity_of(type(state.shot), path), state.shot.units)


def _typed_rows(look: Look) -> list[Row]:
    if look.typing is None:
        return []
    style = "refused" if look.typing.refused else "hint"
    lines = textwrap.wrap(plain(look.typing.says, look.glyphs), max(look.width - 3, 1))[:4] or [""]
    return [((f"   {line}", style),) for line in lines]


def _answer_rows(row: AnswerRow, look: Look) -> list[Row]:
    room = look.width - 3
    text = plain(row.brief if row.brief and len(row.text) > room else row.text, look.glyphs)
    if row.name:  # which gives way to the number behind it
        text = f"{fitted(row.name, min(NAME, room - len(text) - 1), look.glyphs)} {text}"
    lines = (part for line in text.split("\n") for part in ([line] if len(line) <= room else hung("", line, 2, room)))
    return [((f" {line}", look.style("answer")),) for line in lines]


def _drawings(diagrams: Sequence[Drawing], state: State, look: Look, width: int, room: int) -> list[Row]:
    """Return the diagrams that fit: the first alone in little room, a curve below it in more."""
    if room < BAR - 1:
        return []
    several = len(diagrams) > 1 and room >= BAR + CURVE
    first = min(max(BAR, room // 3), FULL_DRAWING) if several else room
    rows = diagrams[0](state.answer, width - 2, first, look.glyphs)
    if several:
        rows += diagrams[1](state.answer, width - 2, room - first, look.glyphs)
    return [*indented(rows)]
