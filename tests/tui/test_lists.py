"""Lists of shots, findings and parts: at every size nothing that matters is cut."""

from __future__ import annotations

import pytest

from forescale.engine.kit import library
from forescale.engine.sheet.cells import width as columns_of
from forescale.engine.shelf.new_shot import new_shot
from forescale.tui.glyphs import FULL, fitted
from forescale.tui.tasks.files.open import shot_rows
from forescale.tui.tasks.parts import part_columns
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
    shot = ("a-dam-with-quite-a-long-name-of-its-own", LONG + " 壁壁", "2026-03-14 09:30", "built-in, read-only")
    heads, rows = shot_rows([shot], width)
    assert sum(room + 2 for _, room in heads) <= width
    async with running() as pilot:
        await press(pilot, "o")
        table = pilot.shown.query_one("#rows")
        table.put_wrapped(heads, rows, pilot.app.glyphs)
        cells = table.get_row_at(0)
    for (_, room), cell in zip(heads, cells, strict=True):
        assert all(columns_of(line) <= room for line in str(cell).split("\n"))
    told = "".join("".join(str(cell).split()) for cell in cells)
    for text in shot:
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


@pytest.mark.parametrize(("width", "shown"), [(40, ["name", "model"]), (60, ["name", "size", "model"])])
async def test_no_length_of_the_build_list_is_cut(width: int, shown: list[str]) -> None:
    async with running(width=width) as pilot:
        pilot.app.session.apply({"build.1.part": "trestle legs, lattice", "build.1.real": "262 ft 5 27/32 in"})
        await press(pilot, "p")
        table = pilot.shown.query_one("#build")
        assert [one for one in table.ids if one in {"name", "size", "model"}] == shown
        whole = {one.id: one.cells for one in part_columns(pilot.app.session.state.answer)}
        seen = set(table.ids)
        while True:
            for place, one in enumerate(table.ids[1:], start=1):
                assert tuple(str(cell).strip() for cell in table.get_column_at(place)) == whole[one]
            before = table.ids
            await press(pilot, *["right"] * len(before))
            seen |= set(table.ids)
            if table.ids == before:
                break
        assert seen == set(whole)


def test_a_title_is_not_cut_within_brackets() -> None:
    assert fitted("Findings · The dam (1:16 and wet) gives way", 29, FULL) == "Findings · The dam …"
    assert fitted("Findings · The dam (wet) gives way", 29, FULL) == "Findings · The dam (wet) …"
    assert fitted("(all of it is in brackets)", 12, FULL) == "…"
