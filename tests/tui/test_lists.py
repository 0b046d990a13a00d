"""Lists of shots, findings and parts: at every size nothing that matters is cut."""

from __future__ import annotations

import pytest

from forescale.engine.kit import library
from forescale.engine.sheet.cells import width as columns_of
from forescale.engine.shelf.new_shot import new_shot
from forescale.tui.glyphs import FULL, fitted
from forescale.tui.tasks.files.open import OnList, shot_rows
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.parts import fitted_lengths
from tests.tui.app_pilot import press, running
from tests.tui.sizes import every_size

LONG = "The reservoir dam gives way over the old weir, seen from the mill"


def words(text: str) -> str:
    """A screen's text without its line breaks."""
    return " ".join(text.split())


@every_size()
async def test_open_tells_every_title_and_name_whole(width: int, height: int) -> None:
    async with running(width=width, height=height) as pilot:
        present = pilot.app.session.state.shot
        shot = new_shot(LONG, "180 ft", present.kit, "imperial")
        library.save_shot(library.home() / "shots" / "a-dam-with-quite-a-long-name-of-its-own.toml", shot)
        text = await press(pilot, "o")
        if width < 72:
            assert LONG in words(text)
            assert "a-dam-with-quite-a-long-name-of-its-own" in "".join(text.split())
        await press(pilot, "down", "enter")
        assert pilot.app.session.state.shot.title == present.title  # the second row is the second shot


@pytest.mark.parametrize("width", [38, 50, 71, 72, 90, 129])
async def test_a_row_of_open_fits_its_columns_and_loses_nothing(width: int) -> None:
    shot = OnList("a-dam-with-quite-a-long-name-of-its-own", LONG + " 壁壁", "2026-03-14 09:30", "built-in, read-only")
    heads, rows = shot_rows([shot], width)
    assert sum(room + 2 for _, room in heads) <= width
    async with running() as pilot:
        await press(pilot, "o")
        table = pilot.shown.query_one("#rows")
        table.put_wrapped(heads, rows, pilot.app.glyphs)
        cells = table.get_row_at(0)
    for (_, room), cell in zip(heads, cells, strict=True):
        assert all(columns_of(line) <= room for line in cell.split("\n"))
    told = "".join("".join(cell.split()) for cell in cells)
    for text in (shot.name, shot.title, shot.changed):
        assert "".join(text.split()) in told


@every_size()
async def test_every_line_of_every_finding_is_reached_and_leads_to_its_field(width: int, height: int) -> None:
    async with running("signal-lamp", width, height) as pilot:
        pilot.app.session.apply({"place.model": "900 mm", "place.background": "inf", "focus.stop": "f/2"})
        findings = pilot.app.session.state.answer.findings
        seen = words(await press(pilot, "f"))
        table = pilot.shown.query_one("#rows")
        for _ in range(table.row_count):
            assert max(row.height for row in table.rows.values()) < height - 5
            seen += words(await press(pilot, "down"))
        first = findings[0].text.split()
        assert " ".join(first[-3:]) in seen
        last = [row for row, record in enumerate(table.records) if record == 0][-1]
        await press(pilot, "home", *["down"] * last, "enter")
        assert pilot.app.board.in_hand() == findings[0].field


@pytest.mark.parametrize("width", [39, 59, 79])
def test_no_length_of_the_build_list_is_cut(width: int) -> None:
    columns = [
        Column("name", "part", ("trestle legs, lattice", "deck")),
        Column("quantity", "no.", ("12", "1"), goes=1),
        Column("size", "full size", ("22 ft 7 3/8 in", "262 ft 5 27/32 in")),
        Column("model", "at 1:16", ("16 61/64 in", "196 53/64 in")),
    ]
    kept = fitted_lengths(columns, width)
    assert sum(column.width for column in kept) <= width
    for column in kept[1:]:
        assert column.cells == next(one.cells for one in columns if one.id == column.id)
    assert kept[-1].id == "model"


def test_a_title_is_not_cut_within_brackets() -> None:
    assert fitted("Findings · The dam (1:16 and wet) gives way", 29, FULL) == "Findings · The dam …"
    assert fitted("Findings · The dam (wet) gives way", 29, FULL) == "Findings · The dam (wet) …"
    assert fitted("(all of it is in brackets)", 12, FULL) == "…"
