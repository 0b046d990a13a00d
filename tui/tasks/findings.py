"""The findings, each with what may be done about it."""

from forescale.engine.mends import as_changes, mends, told
from forescale.engine.solve.record import Finding, Mend
from forescale.tui.panes import TITLES
from forescale.tui.tasks.frame import UNDO, Cell, RowsScreen, key

SIGN, WHERE, PADDING = 4, 10, 2
WITH_WHERE = 56  # columns of a screen on which the pane has a column of its own
AROUND = 7  # rows of a screen that the table does not have, one more so that the row before stays in sight
AIRY = 20  # rows of a screen from which on there is an empty line between findings


class FindingsScreen(RowsScreen[None]):
    TASK, ENTER = "Findings", "field"
    BINDINGS = [key("do", "do it", "do the selected remedy, or the first of the selected finding"), *UNDO]

    def put_rows(self) -> None:
        apart = self.size.width >= WITH_WHERE
        width = max(self.size.width - 1 - SIGN - 2 * PADDING - apart * (WHERE + PADDING), 16)
        self._listed: list[tuple[Finding, Mend | None]] = []
        self.table.numbers = numbers = list[int]()  # what is counted is findings, not what may be done about them
        rows: list[list[Cell]] = []
        for number, finding in enumerate(self.answer.findings):
            where, offered, by = TITLES[finding.pane], mends(self.answer, finding), ("by hand", "to do")
            texts = [(finding.text if apart else f"{where}: {finding.text}"), *map(told, offered)]
            leads: list[list[Cell]] = [[[(finding.level, "")], where]]
            leads += [["", by[bool(mend.set)]] for mend in offered]
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
        finding, mend = self._listed[self.table.place]
        chosen = mend or next((one for one in mends(self.answer, finding) if one.set), None)
        if chosen is None or not chosen.set:
            self.say("Nothing that is typed here can do that: it is for a hand on the set")
            return
        changes, said = as_changes(self.shot, chosen.set), f"Done: {told(chosen)}. Undo takes it back"
        self.attempt(lambda: self.change(changes, said))
