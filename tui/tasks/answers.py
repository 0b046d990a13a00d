"""Lists of what the answer says: its numbers explained, its findings, how far off a value may be, the stops."""

from collections.abc import Iterator
from typing import get_args

from forescale.engine.compare.stop_words import against_set, stop_cells, stop_heads
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.findings.words import Words
from forescale.engine.margins.sensitivity import Sensitivity, sensitivity
from forescale.engine.mends import as_changes, mends, told
from forescale.engine.sheet.sections.said import margin_cells
from forescale.engine.shot import edit
from forescale.engine.solve.focus_zone import StopTable, stop_table
from forescale.engine.solve.record import Finding, Mend, Pane
from forescale.engine.units import Stop
from forescale.engine.workings import Explanation, explain, keys_here
from forescale.tui.panes import TITLES
from forescale.tui.panes.content import PaneContent
from forescale.tui.tasks.frame import UNDO, Cell, Column, RowsScreen, Said, key
from forescale.tui.tasks.frame.rows_screen import WIDE

SIGN, WHERE, PADDING = 4, 10, 2
WITH_WHERE = 56  # columns of a screen on which the pane has a column of its own
AROUND = 7  # rows of a screen that the table does not have, one more so that the row before stays in sight
AIRY = 20  # rows of a screen from which on there is an empty line between findings


class FindingsScreen(RowsScreen[None]):
    TASK = "Findings"
    ENTER = "field"
    EMPTY = "Nothing is to be said of the shot: it can be made as it is set"
    BINDINGS = [
        key("do", "do it", "do the selected remedy, or the first of the selected finding"),
        *UNDO,
    ]

    def put_rows(self) -> None:
        apart = self.size.width >= WITH_WHERE
        width = max(self.size.width - 1 - SIGN - 2 * PADDING - apart * (WHERE + PADDING), 16)
        self._listed: list[tuple[Finding, Mend | None]] = []
        self.table.numbers = numbers = list[int]()  # what is counted is findings, not what may be done about them
        rows: list[list[Cell]] = []
        for number, finding in enumerate(self.answer.findings):
            where = TITLES[finding.pane]
            offered, by = mends(self.answer, finding), ("by hand", "to do")
            texts = [(finding.text if apart else f"{where}: {finding.text}"), *map(told, offered)]
            leads = [[getattr(self.glyphs, finding.level), where], *(["", by[bool(mend.set)]] for mend in offered)]
            for place, (text, lead) in enumerate(zip(texts, leads, strict=True)):
                ends = self.size.height >= AIRY and place == len(offered)
                rows.append([*lead[: 1 + apart], [text, *[""] * ends]])
            self._listed += [(finding, None), *((finding, mend) for mend in offered)]
            numbers += [number] * (1 + len(offered))
        heads = [("sign", SIGN), *[("where", WHERE)] * apart, ("what", width)]
        self.table.put_wrapped(heads, rows, self.glyphs, max(self.size.height - AROUND, 3))

    def enter(self) -> None:
        finding, _ = self._listed[self.table.place]
        self.dismiss()
        self.forescale.board.go_to(finding.field, finding.pane)

    def action_do(self) -> None:
        if not self.some():
            return
        finding, mend = self._listed[self.table.place]
        chosen = mend or next((one for one in mends(self.answer, finding) if one.set), None)
        if chosen is None or not chosen.set:
            self.say("Nothing that is typed here can do that: it is for a hand on the set")
            return
        changes, said = as_changes(self.shot, chosen.set), f"Done: {told(chosen)}. Undo takes it back"
        self.attempt(lambda: self.change(changes, said))


NAME, NUMBERS, LABEL = 26, 52, 9  # columns of the longest name, of the numbers beside a working, of a part's label


class ExplainScreen(RowsScreen[None]):
    TASK = "How it comes about"
    BY_ROW = True

    def __init__(self, finding: bool = False) -> None:
        super().__init__()
        self._finding = finding

    def on_mount(self) -> None:
        """Explain the numbers: as the pane shows them, then its others, then those of the other panes."""
        board, answer = self.forescale.board, self.answer
        shown = shown_keys(board.contents()[board.pane])
        own = sorted(keys_here(board.pane, answer), key=lambda key: shown.get(key, len(shown)))
        others = (key for pane in get_args(Pane) if pane != board.pane for key in keys_here(pane, answer))
        self._keys = (*own, *others)
        self.explained = tuple(explain(key, answer) for key in self._keys)

    def filled(self) -> None:
        leads_to = FIELD_HELP[self.forescale.board.in_hand()].leads_to
        first = next((key for key in leads_to if key in self._keys), self._keys[0])
        self.table.texts = [" ".join(text for _, text in working(one)) for one in self.explained]
        self.table.move_cursor(row=self._keys.index(first))
        if self._finding:
            self.action_find()

    def put_rows(self) -> None:
        self.natural = NUMBERS if self.size.width >= WIDE else 0
        width = self.natural if self.beside else self.size.width
        name = min(NAME, width // 2)
        heads = [(TITLES[self.forescale.board.pane], name), ("value", max(width - name - 6, 8))]
        self.table.put_wrapped(heads, [(one.name, one.value_text) for one in self.explained], self.glyphs)

    def gives(self) -> Iterator[Said]:
        parts = working(self.explained[self.table.place])
        yield from ((f"{label:{LABEL}}" if label else "", text) for label, text in parts if text)


def shown_keys(content: PaneContent) -> dict[str, int]:
    """Return the numbers that a pane shows, by their keys, each with its place from the top."""
    fields = [FIELD_HELP[row.path].leads_to[:1] for row in (*content.fields, *content.more_fields)]
    keys = [*(key for leads in fields for key in leads), *(item.path for item in content.to_set)]
    return {key: place for place, key in enumerate(dict.fromkeys([*keys, *(row.key for row in content.answers)]))}


def working(one: Explanation) -> tuple[tuple[str, str], ...]:
    """Return the parts of a working, each with what it is called."""
    return (
        ("", f"{one.name}: {one.meaning}"),
        ("formula", one.formula),
        ("here", one.put_in),
        ("holds", one.conventions),
        ("leads to", ", ".join(one.leads_to)),
        ("source", one.source),
        ("function", f"{one.function}, in engine/formulas" if one.function else ""),
    )


class MarginsScreen(RowsScreen[None]):
    TASK = "Tolerances"
    ENTER = "go to the field"

    def on_mount(self) -> None:
        state = self.session.state
        self._found: tuple[Sensitivity, ...] = sensitivity(state.shot, state.kit, state.shot.units)

    def columns(self) -> list[Column]:
        cells = zip(*(margin_cells(row, self.system, self.session.state.kit) for row in self._found), strict=True)
        heads = {"value": 0, "stands at": 2, "less by": 0, "more by": 0, "then": 1}
        return [Column(head, head, texts, goes) for (head, goes), texts in zip(heads.items(), cells, strict=True)]

    def how(self, place: int) -> list[Said]:
        row = self._found[place]
        first = min((edge for edge in (row.less, row.more) if edge), key=lambda edge: edge.off, default=None)
        if first is None:
            return ["Nothing turns, however far this is off"]
        return [first.finding.text if first.comes else f"Then this is no longer so: {first.finding.text}"]

    def enter(self) -> None:
        self.dismiss()
        self.forescale.board.go_to(self._found[self.table.place].path, self.forescale.board.pane)


GOES = (0, 2, 3, 0, 5, 6, 4, 0, 1)  # how soon each column of `stop_cells` goes for want of room
ALONE = {"to": "sharp to"} | {place: f"contrast {place}" for place in ("near", "focus", "far")}


class StopsScreen(RowsScreen[None]):
    TASK = "Stops side by side"
    ENTER = "set it"
    BINDINGS = [
        key("delete", "auto", "give the stop back to the program, which chooses the first that holds the zone"),
        *UNDO,
    ]

    def put_rows(self) -> None:
        self._found: StopTable = stop_table(self.answer)
        super().put_rows()

    def filled(self) -> None:
        used, rows, table = self._found.as_shot.f_number, self._found.rows, self.table
        nearest = min(range(len(rows)), key=lambda place: abs(rows[place].f_number - used))
        table.move_cursor(row=nearest)
        self.call_after_refresh(lambda: table.scroll_to(y=nearest - table.size.height // 2, animate=False))

    def columns(self) -> list[Column]:
        cells = zip(*(stop_cells(self.answer, row) for row in self._found.rows), strict=True)
        shown = zip(stop_heads(self.answer), cells, GOES, strict=True)
        return [Column(head, head, texts, goes, ALONE.get(head, "")) for head, texts, goes in shown]

    def how(self, place: int) -> list[Said]:
        return [against_set(self.answer, self._found, self._found.rows[place])]

    def enter(self) -> None:
        answer, row = self.answer, self._found.rows[self.table.place]
        if row.as_set and "focus.stop" not in answer.auto:
            self.dismiss()
            return
        text = edit.text_of(Stop(row.stop_mark, answer.kit.lens.marks, marked=True), None, answer.system)
        if self.attempt(lambda: self.change({"focus.stop": text})):
            self.dismiss()
            before, now = Words(answer).stop(answer.focus.f_number), Words(answer).stop(row.f_number)
            self.forescale.board.say(f"{now} is set; undo brings {before} back")

    def action_delete(self) -> None:
        if self.attempt(lambda: self.change({"focus.stop": None})):
            self.filled()
