"""The numbers of the answer, each with its formula and the values put in."""

from collections.abc import Iterator
from typing import get_args

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.solve.record import Pane
from forescale.engine.workings import Explanation, explain, keys_here
from forescale.tui.panes import TITLES
from forescale.tui.panes.content import PaneContent
from forescale.tui.panes.each_pane import CONTENTS
from forescale.tui.tasks.frame import WIDE, RowsScreen, Said

NAME, NUMBERS, LABEL = 26, 52, 9  # columns of the longest name, of the numbers beside a working, of a part's label


class ExplainScreen(RowsScreen[None]):
    TASK, BY_ROW = "How it comes about", True

    def __init__(self, finding: bool = False) -> None:
        super().__init__()
        self._finding = finding

    def on_mount(self) -> None:
        """Explain the numbers: as the pane shows them, then its others, then those of the other panes."""
        board, answer = self.forescale.board, self.answer
        shown = shown_keys(CONTENTS[board.pane](answer))
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
