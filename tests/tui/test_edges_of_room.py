"""What is shown for want of room, and what from the very size on at which there is room for more."""

from __future__ import annotations

from pathlib import Path

import pytest

from forescale.engine.answer import answer, answer_file
from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.shot import edit
from forescale.engine.shot.rows import MissRow
from forescale.tui.diagrams import lens_view
from forescale.tui.glyphs import GLYPHS
from forescale.tui.runs import row_text
from forescale.tui.tasks.sheet import _target
from forescale.tui.tasks.ways.ways_table import preview_rows
from tests.tui.app_pilot import press, running


@pytest.mark.parametrize(("height", "lines"), [(29, 1), (30, 2)])
async def test_the_finding_has_a_second_line_from_thirty_rows_on(height: int, lines: int) -> None:
    async with running(width=80, height=height) as pilot:
        assert pilot.app.board.boxes["finding"].size.height == lines


async def test_the_board_lives_through_windows_of_no_height() -> None:
    async with running(width=80, height=24) as pilot:
        whole = await press(pilot)
        for width in (248, 120, 100, 79, 20, 1):
            for height in (3, 2, 1, 4):
                await pilot.resize_terminal(width, height)
                await press(pilot, "right", "left")
        await pilot.resize_terminal(80, 24)
        assert await press(pilot, "left", "right") == whole


@pytest.mark.parametrize(("height", "apart"), [(19, False), (20, True)])
async def test_findings_have_air_between_them_from_twenty_rows_on(height: int, apart: bool) -> None:
    async with running(width=80, height=height) as pilot:
        body = (await press(pilot, "f")).splitlines()[2 : height - 4]
        assert any(not line.strip() for line in body) is apart


@pytest.mark.parametrize(("width", "table"), [(99, 99), (100, 55), (140, 77)])
async def test_corners_have_the_view_beside_them_from_a_hundred_columns_on(width: int, table: int) -> None:
    async with running(width=width, height=30) as pilot:
        await press(pilot, "5", "tab")
        assert pilot.shown.table.outer_size.width == table


async def test_a_lamp_is_told_whole_where_the_suns_table_leaves_it_room() -> None:
    """Twenty-nine letters: the columns but 24, and from 100 columns on, where the table stands beside, but 82."""
    async with running("lock-gate", height=30) as pilot:
        pilot.app.session.apply({"lamp": [{"name": "key", "gives": "2000 lx", "at": "3 m"}]})
        await press(pilot, "6")
        told = {}
        for width in (52, 53, 99, 100, 110, 111):
            await pilot.resize_terminal(width, 30)
            told[width] = pilot.shown.columns()[1].cells[-1] == "gives 2000 lx, metered at 3 m"
        assert [width for width, whole in told.items() if whole] == [53, 99, 111]


async def test_more_is_shown_of_a_way_where_the_screen_is_higher() -> None:
    """The reason of one that fails is words alone, and so as low on a high screen as on a low one."""
    async with running(height=19) as pilot:
        await press(pilot, "g")
        await pilot.app.workers.wait_for_complete()
        preview, seen = pilot.shown.query_one("#preview"), {}
        for height in (19, 20, 29, 30):
            await pilot.resize_terminal(80, height)
            await press(pilot)
            seen[height] = preview.size.height
        assert seen == {19: 4, 20: 7, 29: 7, 30: 13}
        await press(pilot, "t")
        await pilot.app.workers.wait_for_complete()
        await press(pilot)
        assert preview.size.height == 4


@pytest.mark.parametrize(("width", "columns"), [(59, 2), (60, 3)])
async def test_two_states_stand_side_by_side_from_sixty_columns_on(width: int, columns: int) -> None:
    async with running(width=width, height=24) as pilot:
        await press(pilot, "n", "a", "text:wide", "enter", "escape", "1", "right", "n", "enter")
        assert len(pilot.shown.table.columns) == columns


async def test_names_are_whole_on_thirty_columns_and_the_footer_too() -> None:
    async with running("lock-gate", width=30, height=24) as pilot:
        text = await press(pilot)
        assert text.splitlines()[-1].strip() == "Enter type  Space all  q quit"
        assert "match at 4.527 m: 0.1 % small" in " ".join(text.split())
        for key, name in (("d", "nearest part"), ("5", "right jamb"), ("k", "demo-large-36"), ("g", "demo-zoom-24-80")):
            assert name in await press(pilot, "escape", key)


@pytest.mark.parametrize(("width", "says"), [(59, "→ more "), (60, "→ more columns"), (100, "→ more columns")])
async def test_more_columns_are_said_in_as_many_words_as_fit(width: int, says: str) -> None:
    async with running(width=width, height=24) as pilot:
        first = (await press(pilot, "5")).splitlines()[0]
        assert says in f"{first} "
        assert ("columns" in first) is (width >= 60)


def test_a_view_without_room_leaves_its_legend_to_begin_at_the_top() -> None:
    _, of = answer_file(library.shot_path("kiln-stack"))
    rows = [row_text(row) for row in lens_view.draw(of, 20, 5, GLYPHS["full"])]
    assert rows[0].startswith("1 roof")
    assert len(rows) == 5


@pytest.mark.parametrize(("height", "framed"), [(5, False), (6, True)])
def test_a_view_is_drawn_from_six_rows_on(height: int, framed: bool) -> None:
    _, of = answer_file(library.shot_path("kiln-stack"))
    rows = [row_text(row) for row in lens_view.draw(of, 60, height, GLYPHS["full"])]
    assert any(row.startswith("┌─") for row in rows) is framed


def test_what_is_built_is_marked_where_it_misses_alone() -> None:
    _, of = answer_file(library.shot_path("kiln-stack"))
    setting = edit.changed(of.setting, {"place.model": "14 ft", "place.model_near": "13 ft"})
    shown = [
        "\n".join(map(row_text, lens_view.draw(answer(one, of.kit, of.system), 76, 40, GLYPHS["full"])))
        for one in (of.setting, setting)
    ]
    mark = GLYPHS["full"].other_point
    assert [text.count(mark) for text in shown] == [0, 2]


async def test_points_keep_five_lines_for_few_of_them() -> None:
    async with running(width=80, height=24) as pilot:
        await press(pilot, "5")
        assert len(pilot.app.session.state.shot.point) == 2
        room = pilot.shown.query_one("#lens").size.height + pilot.shown.table.outer_size.height
        assert pilot.shown.table.outer_size.height >= 5
        assert pilot.shown.query_one("#lens").size.height == room - 5


@pytest.mark.parametrize(("room", "drawn"), [(1, 0), (2, 2), (4, 4), (6, 4), (7, 7)])
def test_the_side_view_stands_below_the_bar_where_three_lines_are_left(room: int, drawn: int) -> None:
    _, of = answer_file(library.shot_path("kiln-stack"))
    rows = preview_rows(["Unbeaten."], of, 80, 1 + room, GLYPHS["full"])
    assert row_text(rows[0]).strip() == "Unbeaten."
    assert len(rows) == 1 + drawn


@pytest.mark.parametrize("height", [24, 40])
async def test_stock_has_the_lines_that_it_needs_below_the_parts(height: int) -> None:
    async with running(width=100, height=height) as pilot:
        await press(pilot, "p")
        stock = pilot.shown.query_one("#stock")
        assert stock.lines == 1 + stock.row_count
        assert stock.size.height == max(stock.lines, 2)


def test_a_folder_is_no_file_to_save_the_sheet_to(tmp_path: Path) -> None:
    (tmp_path / "old.txt").mkdir()
    for name in ("old.txt", "sheet.doc"):
        with pytest.raises(BadInput, match="a file's name is needed, ending in"):
            _target(str(tmp_path / name))
    assert _target(str(tmp_path / "new.txt")) == (tmp_path / "new.txt", ".txt")


async def test_a_point_is_taken_away_with_what_was_read_at_it_and_no_other() -> None:
    async with running(width=120, height=40) as pilot:
        first, second = pilot.app.session.state.shot.point
        read = tuple(MissRow(point=one.name, across_px=3, up_px=1) for one in (first, second))
        pilot.app.session.apply({"miss": read})
        await press(pilot, "5", "home", "x")
        shot = pilot.app.session.state.shot
        assert shot.point == (second,)
        assert [miss.point for miss in shot.miss] == [second.name]
        assert len(shot.outline) == 2
