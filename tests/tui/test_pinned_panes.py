"""What panes and diagrams show is as it was, in every row and style, kept in the snapshot beside this.

What is kept has not changed; whether it is right, the other tests say: `test_pane_rows.py` holds rows to their numbers.
After a wanted change run this file with `--snapshot-update`, and look at the difference.
"""

from __future__ import annotations

from typing import get_args

import pytest
from syrupy.assertion import SnapshotAssertion

from forescale.engine.kit import library
from forescale.engine.solve.record import Pane
from forescale.tui.glyphs import BOX, FULL
from forescale.tui.panes.arrange import Look, Typing, arrange, paths_of
from forescale.tui.panes.each_pane import CONTENTS
from forescale.tui.runs import Row
from forescale.tui.session import open_session
from tests.tui.diagram_shots import DIAGRAMS, SHOTS, drawn, found

PANES: tuple[Pane, ...] = get_args(Pane)
FIRST = "kiln-stack"
DRAWN = {  # of each diagram, the shots that draw it otherwise
    "side_view": ("kiln-stack", "signal-lamp", "infinite", "touching", "no heights", "falling sight", "level sight"),
    "rate_bar": ("kiln-stack", "signal-lamp", "rate not in mode", "heavy beyond the mode", "driven", "any rate"),
    "distance_bar": ("kiln-stack", "infinite", "no end", "touching", "focused at infinity", "soft"),
    "contrast_curve": ("kiln-stack", "lock-gate", "soft", "contrast left out"),
    "plan_view": ("kiln-stack", "lock-gate", "tilt", "no head", "slide not set", "no move", "far off zero"),
    "slip_curve": ("kiln-stack", "tilt", "no move", "far off zero", "tight tolerance", "pupil unknown"),
}
LOOKS = {
    "beside": Look(112, 12, FULL),
    "low": Look(39, 11, BOX, page=1),
    "typing": Look(60, 14, FULL, proposed=True),
    "typing beside": Look(112, 10, BOX),
    "stale": Look(79, 9, BOX, stale=True),
}


def told(row: Row) -> str:
    """Return a row as text, each part that has a style of its own in brackets behind its name."""
    return "".join(f"{style}[{text}]" if style and text.strip() else text for text, style in row).rstrip()


def rows_of(name: str, pane: Pane) -> list[str]:
    """What a pane is filled with, before it is known how large it is."""
    content = CONTENTS[pane](found(name))
    fields = [f"{one.path}: {one.hint}" for one in (*content.fields, *content.more_fields)]
    answers = [f"{one.key}: {one.name} {one.text} / {one.brief}" for one in content.answers]
    return [*fields, *(f"{one.label}: {one.text}; {one.remark}" for one in content.to_set), *answers]


@pytest.mark.parametrize("name", SHOTS)
def test_panes_are_filled_with_what_they_were(name: str, snapshot: SnapshotAssertion) -> None:
    """Of all shots but the first, with what that is not filled with."""
    first = {pane: [] if name == FIRST else rows_of(FIRST, pane) for pane in PANES}
    assert [row for pane in PANES for row in rows_of(name, pane) if row not in first[pane]] == snapshot


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("pane", PANES)
def test_a_pane_is_arranged_as_it_was(pane: Pane, look: str, snapshot: SnapshotAssertion) -> None:
    state = open_session(library.shot_path("lock-gate" if look == "stale" else FIRST)).state
    content = CONTENTS[pane](state.answer)
    path = paths_of(content)[1]
    typing = Typing(path, "read as something that takes more than a line to say", refused=True)
    one = LOOKS[look]._replace(in_hand=path, typing=typing if "typing" in look else None)
    made = arrange(PANES.index(pane) + 1, pane, content, state, one)
    parts = [[told(row) for row in rows] for rows in (made.rows, made.beside, made.drawn)]
    assert [*parts, made.hand_row, made.pages] == snapshot


@pytest.mark.parametrize("diagram", DIAGRAMS)
def test_a_diagram_is_drawn_as_it_was(diagram: str, snapshot: SnapshotAssertion) -> None:
    assert {name: [line.rstrip() for line in drawn(diagram, name, 62, 9)] for name in DRAWN[diagram]} == snapshot
    assert [told(row) for row in DIAGRAMS[diagram](found(FIRST), 44, 5, BOX)] == snapshot(name="styles")
