"""How far off each value may be before a finding turns."""

from forescale.engine.margins.sensitivity import Sensitivity, sensitivity
from forescale.engine.sheet.sections.whole_shot import margin_cells
from forescale.tui.tasks.frame import Column, RowsScreen, Said


class MarginsScreen(RowsScreen[None]):
    TASK, ENTER = "Tolerances", "go to the field"

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
