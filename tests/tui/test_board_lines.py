"""The lines around the panes: what must be cut is cut where it still makes sense, and never within a length."""

from __future__ import annotations

import gc

import pytest

from forescale.engine.answer import answer_file
from forescale.engine.kit import library
from forescale.engine.mends import joined_both
from forescale.tui.board.board_lines import beside_rows, headline, message_rows
from forescale.tui.glyphs import GLYPHS, fitted
from forescale.tui.runs import Rows, row_text
from tests.tui.app_pilot import press, running

FULL, ASCII = GLYPHS["full"], GLYPHS["ascii"]
TEXT = "At 12 ft 6 3/4 in the model reads as 1:16.8, so it looks 5.3 % too large for 1:16; stand it at 13 ft 2 5/8 in"
SHORT = "Model 5.3 % too large: stand it at 13 ft 2 5/8 in"


@pytest.mark.parametrize(
    ("width", "height", "lines"),
    [
        (120, 1, [TEXT]),
        (76, 1, [SHORT]),
        (36, 1, ["Model 5.3 % too large …"]),
        (36, 2, ["Model 5.3 % too large: stand it at", "13 ft 2 5/8 in"]),
        (70, 2, [TEXT[:66], TEXT[67:]]),
    ],
)
def test_a_finding_is_shown_whole_or_in_short_or_to_the_end_of_a_clause(
    width: int, height: int, lines: list[str]
) -> None:
    assert headline(TEXT, SHORT, width, height, FULL) == lines


def test_the_longest_clause_that_fits_is_shown() -> None:
    text = "Smoke: keep the air moving, keep people out of the plume, warn whoever may see it"
    assert headline(text, "", 36, 1, FULL) == ["Smoke: keep the air moving …"]
    assert headline(text, "", 60, 1, FULL) == ["Smoke: keep the air moving, keep people out of the plume …"]
    stand = "Model 31 % too small: stand it at 6 ft 11 3/16 in and its nearest part at 6 ft 3 3/16 in"
    assert headline(stand, "", 76, 1, FULL) == ["Model 31 % too small: stand it at 6 ft 11 3/16 in …"]
    assert headline(text, "", 60, 1, ASCII) == ["Smoke: keep the air moving, keep people out of the plume ..."]


@pytest.mark.parametrize("width", range(8, 60))
@pytest.mark.parametrize("glyphs", GLYPHS.values(), ids=GLYPHS)
def test_no_cut_leaves_a_part_of_a_length(width: int, glyphs: object) -> None:
    text = "Sharp 8 ft 11 3/8 in to 57 ft 4 7/8 in, and that is all of it"
    shown = fitted(text, width, glyphs)  # type: ignore[arg-type]
    assert len(shown) <= width
    if width > len("57 ft 4 7/8 in,") + 4:  # a length that no line holds must break
        kept = shown.removesuffix("…").removesuffix("...").rstrip()
        assert kept.split(" ")[-1] not in {"8", "57", "ft", "11", "3/8", "4", "7/8"}


def test_a_message_is_cut_at_its_end_alone() -> None:
    said = [row_text(row) for row in message_rows("Saved to a place " + "far away " * 20, 40, 2, FULL)]
    assert len(said) == 2
    assert said[0].strip().startswith("Saved to a place far")
    assert said[1].endswith(" …")
    assert message_rows("", 40, 2, FULL) == ()


async def test_a_bench_of_other_kit_says_what_to_do() -> None:
    async with running("kiln-stack") as pilot:
        rows = [{"slide": "40 mm", "slip_px": -8, "lens": "demo-prime-75"}]
        pilot.app.session.apply({"bench": rows})
        (fault,) = [said for said in pilot.app.session.state.answer.findings if said.code == "bench-fault"]
        line = headline(fault.text, fault.short, 76, 1, FULL)
        assert line == ["No zero from the bench: take new readings, or go back to those"]
        assert headline(fault.text, fault.short, 36, 1, FULL) == ["No zero from the bench …"]


@pytest.mark.parametrize(("width", "height"), [(40, 15), (60, 20), (80, 24)])
@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp"])
async def test_the_boards_line_ends_with_a_clause(shot: str, width: int, height: int) -> None:
    async with running(shot, width, height) as pilot:
        first = pilot.app.session.state.answer.findings[0]
        below = (await press(pilot, "1")).splitlines()[-2 if width >= 80 else -3 : -1]
        line = " ".join(map(str.strip, below)).strip().partition(" ")[2]
        kept = line.removesuffix(" …")
        whole = joined_both(pilot.app.session.state.answer, first)
        assert any(text.startswith(kept) for text in whole)
        assert line in whole or line.endswith(" …")


@pytest.mark.parametrize(("width", "height", "lines"), [(80, 29, 1), (80, 30, 2), (60, 11, 1), (60, 12, 2)])
async def test_the_finding_has_two_lines_from_thirty_rows_on_or_on_one_pane(
    width: int, height: int, lines: int
) -> None:
    async with running(width=width, height=height) as pilot:
        assert pilot.app.board.boxes["finding"].size.height == lines


async def test_the_view_stands_one_column_beside_the_panes() -> None:
    async with running(width=160, height=40) as pilot:
        left, _, width, _ = pilot.app.board.places["scale"]
        view = pilot.app.board.boxes["view"].place
        assert (left + width + 1, view[0] + view[2]) == (view[0], 160)


async def test_the_ground_of_what_is_in_hand_ends_with_it() -> None:
    """Blanks go with what they follow only on the same ground."""
    lit = 0
    async with running() as pilot:
        for rows in pilot.app.board.query(Rows):
            for y, row in enumerate(rows.rows):
                ground = rows._style("hand").bgcolor
                shown = "".join(part.text for part in rows.render_line(y) if part.style.bgcolor == ground)
                assert shown == "".join(text for text, style in row if style == "hand")
                lit += bool(shown)
    assert lit > 1


async def test_steps_leave_next_to_nothing_for_the_collector() -> None:
    """Textual's strips hold themselves once they are asked for whole, some 900 objects a step."""
    async with running(width=160, height=50) as pilot:
        await press(pilot, *["right"] * 4)
        gc.collect()
        await press(pilot, *["right", "left"] * 4)
        assert gc.collect() < 8 * 100


def test_findings_beside_the_panes_are_whole_as_far_as_there_is_room() -> None:
    _, found = answer_file(library.shot_path("kiln-stack"))
    counts, whole = [], [one for one in found.findings if one.level != "ok"]
    for height in range(30, 100):
        rows = [row_text(row) for row in beside_rows(found, 46, height, FULL)]
        assert len(rows) == height
        at = next(number for number, row in enumerate(rows) if "What to mind" in row)
        told = " ".join(" ".join(rows[at + 1 :]).split())
        counts.append(sum(one.text in told and one.by_hand in told for one in whole))
        if "more: f" not in told:
            assert all((one.short or one.text) in told or one.text in told for one in whole)
    assert counts[0] < counts[-1] == len(whole)
