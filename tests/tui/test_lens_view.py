"""The view of what the lens sees: to scale, each point where the projection has it, readable in every glyph table."""

from __future__ import annotations

import re

import pytest

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot
from forescale.engine.solve.lens_view import lens_view_of
from forescale.engine.units import signed_text
from forescale.tui.diagrams import lens_view, views
from forescale.tui.diagrams.canvas import sample
from forescale.tui.glyphs import GLYPHS, Glyphs
from forescale.tui.runs import row_text
from tests.tui.app_pilot import press, running

SHED = [["20 ft left", "0 ft"], ["20 ft left", "16 ft"], ["20 ft right", "16 ft"], ["20 ft right", "0 ft"]]


def aimed(**place: str) -> Answer:
    """Return the answer to a shot with one outline of the place and two points, the lens level or aimed."""
    shot = Shot.read(
        {
            "schema": 1,
            "title": "Two points",
            "kit": {"camera": "demo-cine-35", "mode": "2K centre crop", "lens": "demo-prime-35"},
            "scale": {"ratio": "1:24"},
            "place": {"model": "10 ft", "background": "240 ft", "lens_height": "5 ft"} | place,
            "point": [
                {"name": "eaves", "aside": "20 ft left", "height": "16 ft"},
                {"name": "gone", "aside": "200 ft right", "height": "16 ft"},
            ],
            "outline": [{"name": "shed", "of": "place", "corners": SHED}],
        },
        "test",
    )
    return answer(shot, load_kit(shot.kit, "test"), shot.units)


def draw(found: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the view as text."""
    return [row_text(row) for row in lens_view.draw(found, width, height, glyphs)]


def cell_of(lines: list[str], sign: str) -> tuple[int, int]:
    """Return the row and column of the one place where a sign stands."""
    places = [(row, line.index(sign)) for row, line in enumerate(lines) if sign in line]
    assert len(places) == 1, places
    return places[0]


@pytest.mark.parametrize("aim", ["0 deg", "4 deg up", "2 deg down"])
def test_a_point_stands_in_the_frame_where_the_projection_has_it(aim: str) -> None:
    found = aimed(aim=aim)
    lines = draw(found, 80, 24, GLYPHS["ascii"])
    frame = [line for line in lines if line.startswith(("+", "|"))]
    frame = frame[: 1 + next(row for row, line in enumerate(frame) if row and line.startswith("+"))]
    width, height = frame[0].rindex("+"), len(frame) - 1
    row, column = cell_of(frame, "1")
    point = found.picture.points[0]
    assert column == pytest.approx(point.frame_across * width, abs=1)
    assert row == pytest.approx((1 - point.frame_up) * height, abs=1)


@pytest.mark.parametrize(
    "aside", ["18 ft left", "19 ft left", "19.9 ft left", "20 ft left", "20.1 ft left", "21 ft left"]
)
@pytest.mark.parametrize("width", [40, 60, 61, 62])
def test_two_points_side_by_side_do_not_read_as_point_twelve(aside: str, width: int) -> None:
    found = aimed()
    near = answer(edit.changed(found.setting, {"point.2.aside": aside}), found.kit, found.system)
    frame = [line for line in draw(near, width, 20, GLYPHS["ascii"]) if line.startswith("|")]
    (line,) = (line for line in frame if "1" in line)
    first, second = line.index("1"), line.index("2")
    assert 2 <= abs(first - second) <= 3
    assert aside == "20 ft left" or (first < second) is (aside < "20")


@pytest.mark.parametrize("width", [24, 40, 61])
@pytest.mark.parametrize(
    "asides", [("0.8 ft", "0 ft", "0.4 ft"), ("0 ft", "0 ft", "0 ft"), ("30 ft", "0.2 ft", "0 ft")]
)
def test_points_at_the_right_edge_can_each_be_read(asides: tuple[str, ...], width: int) -> None:
    """The frame ends 56.5 ft to the right at the distance of the points; so far inside of 56.4 ft they stand."""
    found = aimed()
    near = [{"aside": f"{56.4 - float(one.split()[0]):.1f} ft right"} for one in asides]
    rows = [edit.opened(found.setting.point[0], "point") | one | {"name": str(n)} for n, one in enumerate(near)]
    shot = edit.changed(found.setting, {"point": rows})
    lines = draw(answer(shot, found.kit, found.system), width, 20, GLYPHS["ascii"])
    frame = [line for line in lines if line.startswith("|")]
    assert sorted(sign for line in frame for sign in line if sign.isdigit()) == ["1", "2", "3"]
    assert not any(re.search(r"\d\d", line) for line in frame)


def test_the_frame_has_its_true_shape_on_cells_twice_as_high_as_wide() -> None:
    lines = draw(aimed(), 80, 24, GLYPHS["box"])
    frame = [line for line in lines if line.startswith(("┌", "│", "└"))]
    width, height = frame[0].rindex("┐"), len(frame) - 1
    mode = aimed().kit.mode
    assert width / height / 2 == pytest.approx(mode.width / mode.height, rel=0.08)


def test_what_stands_beside_the_points_is_the_answer() -> None:
    text = "\n".join(draw(aimed(), 100, 30, GLYPHS["full"]))
    assert "1 eaves" in text
    assert "2 gone" in text
    assert "not in frame" in text


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [(-0.04, 1, "0.0"), (0.04, 1, "0.0"), (-0.3, 0, "0"), (1.55, 0, "+2"), (-1.25, 2, "-1.25"), (-0.0, 0, "0")],
)
def test_nothing_has_no_sign(value: float, decimals: int, text: str) -> None:
    assert signed_text(value, decimals) == text


def test_horizon_and_table_stand_in_the_legend_as_they_are_drawn() -> None:
    _, of = answer_file(library.shot_path("kiln-stack"))
    text = "\n".join(map(row_text, lens_view.draw(of, 90, 26, GLYPHS["full"])))
    for every, name in ((3, "table"), (4, "move's ends"), (0, "horizon")):
        assert f"{sample(GLYPHS['full'], '.', every)} {name}" in text


@pytest.mark.parametrize(("mount", "drawn"), [("stands", True), ("hangs", False)])
def test_a_model_that_hangs_has_neither_table_nor_foot(mount: str, drawn: bool) -> None:
    found, glyphs = aimed(mount=mount, feature_height="16 ft"), GLYPHS["ascii"]
    assert (" table" in "\n".join(draw(found, 90, 26, glyphs))) is drawn
    rows = [row_text(row) for row in views.side(found, 60, 14, glyphs)][:-3]
    top, column = cell_of(rows, "M")
    under, over = ({row[column : column + 1] for row in part} for part in (rows[top + 1 :], rows[:top]))
    assert (glyphs.solid in under, over == {glyphs.vertical}) == (drawn, not drawn)


def test_a_view_that_has_no_room_for_its_legend_has_a_row_on_what_misses() -> None:
    lines = draw(aimed(), 60, 7, GLYPHS["ascii"])
    assert lines[0].startswith("+--")
    assert not any("middle" in line for line in lines)
    assert lines[-1].startswith("1 eaves misses 2.7 px left")


def test_lines_behind_the_lens_or_the_frame_are_not_drawn() -> None:
    found = lens_view_of(aimed())
    assert [len(outline.lines) for outline in found.outlines] == [1]
    assert found.points[1].real.across > 1
    assert found.horizon_up == pytest.approx(0.5)


@pytest.mark.parametrize("table", GLYPHS)
@pytest.mark.parametrize("size", [(10, 3), (20, 1), (24, 8), (40, 15), (120, 40), (300, 100)])
def test_it_fits_every_size_with_every_table(table: str, size: tuple[int, int]) -> None:
    lines = draw(aimed(aim="3 deg up"), *size, GLYPHS[table])
    assert len(lines) == size[1]
    assert max(map(len, lines)) <= size[0]
    assert table != "ascii" or "".join(lines).isascii()


async def test_it_stands_beside_the_panes_where_there_is_room_else_on_its_key() -> None:
    async with running(width=120, height=40) as pilot:
        text = await press(pilot)
        assert "What the lens sees" in text
        assert "What to mind" in text
        assert "What the lens sees · The kiln" in (await press(pilot, "v")).splitlines()[0]
    async with running() as pilot:
        assert "What the lens sees" not in await press(pilot)


@pytest.mark.parametrize("size", [(30, 8), (40, 10), (60, 12)])
def test_a_point_next_to_the_edge_of_a_small_frame_leaves_its_lines_whole(size: tuple[int, int]) -> None:
    """Aimed 7.5° up the eaves lie 7.5 - 2.6 = 4.9° under the axis, of the half frame's 5°, and so in the last row."""
    lines = draw(aimed(aim="7.5 deg up"), *size, GLYPHS["ascii"])
    assert all(set(line) <= set("+-") for line in lines if line.startswith("+-"))


def test_points_and_misses_stand_within_the_frame_and_leave_it_whole() -> None:
    points = [lens_view.Drawn("A", 0.0, 0.0, (-4.0, -4.0)), lens_view.Drawn("B", 1.0, 1.0, (4.0, 4.0))]
    lines = [
        row_text(row) for row in lens_view.misses(points, (2000.0, 1000.0), "misses as read", 40, 14, GLYPHS["ascii"])
    ]
    frame = [line for line in lines[1:] if line]
    assert frame[0] == frame[-1] == f"+{'-' * (len(frame[0]) - 2)}+"
    assert all(line.startswith("|") and line.endswith("|") for line in frame[1:-1])
    assert "A" in frame[-2]
    assert "B" in frame[1]


def test_the_frame_at_the_end_of_a_move_is_a_closed_line_without_braille() -> None:
    _, found = answer_file(library.shelf_file("shots", "kiln-stack").path)
    lines = draw(found, 78, 20, GLYPHS["ascii"])
    frame = next(number for number, line in enumerate(lines) if line.startswith("+---"))
    bottom = next(number for number, line in enumerate(lines) if line.startswith("+---") and number > frame)
    assert all(line.endswith("/") for line in lines[frame : bottom + 1])
    right = lines[bottom].rindex("+") + 1
    assert set(lines[bottom][right:]) == {"/"}


def test_a_low_view_has_as_much_of_its_legend_as_stands_below_it() -> None:
    _, found = answer_file(library.shelf_file("shots", "kiln-stack").path)
    text = " ".join(" ".join(draw(found, 38, 11, GLYPHS["full"])).split())
    assert "1 roof at the stack's left misses 2 px high, leaves the frame" in text


def test_a_low_view_has_whole_entries_of_its_legend_and_as_many_as_fit() -> None:
    named = {"point.1.name": "eaves over the door at the left", "point.2.name": "gable"}
    level = aimed()
    found = answer(edit.changed(level.setting, named), level.kit, level.system)

    def legend(width: int, height: int) -> tuple[list[str], int]:
        lines = draw(found, width, height, GLYPHS["ascii"])
        begin = 1 + max(number for number, line in enumerate(lines) if line.startswith("+-"))
        return [line for line in lines[begin:] if line], height - begin

    for width in range(24, 60):
        tall, _ = legend(width, 60)
        first = next(at for at, line in enumerate(tall) if line.startswith("1"))
        for height in range(6, 14):
            shown, room = legend(width, height)
            low = height - len(tall) < lens_view.LEAST_ROWS  # what misses stands first then
            whole = [*tall[first:], *tall[:first]] if low else tall
            left_out = whole[len(shown) :]
            assert shown == whole[: len(shown)]
            lines = next((at for at, line in enumerate(left_out) if at and not line.startswith(" ")), len(left_out))
            assert not left_out or (not left_out[0].startswith(" ") and lines > room - len(shown)), (width, height)


@pytest.mark.parametrize("width", range(30, 64))
def test_a_miss_in_the_legend_is_said_in_words_and_stays_with_its_unit(width: int) -> None:
    """As the finding says it: 2 px high; the 0.4 px to the left are no pixel."""
    _, found = answer_file(library.shelf_file("shots", "kiln-stack").path)
    lines = draw(found, width, 30, GLYPHS["full"])
    assert any("2 px" in line for line in lines)
    assert not any("frame" in line and "horizon" in line for line in lines)
