"""The line-up by the picture and coming back, by keys alone."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from forescale.engine.kit import library
from forescale.engine.shot.rows import read_miss
from forescale.tui.diagrams.lens_view import Drawn, misses
from forescale.tui.glyphs import GLYPHS
from forescale.tui.runs import row_text
from tests.tui.app_pilot import press, running

POINTS = """
[[point]]
name = "chimney"
aside = "2 ft left"
height = "58 ft"
[[point]]
name = "shed, left"
aside = "22 ft left"
height = "9 ft"
distance = "236 ft"
[[point]]
name = "shed, right"
aside = "25 ft right"
height = "12 ft"
distance = "250 ft"
"""


@pytest.fixture
def shot(tmp_path: Path) -> str:
    path = tmp_path / "stack.toml"
    path.write_text(library.shot_path("kiln-stack").read_text().split("[[point]]")[0] + POINTS)
    return str(path)


async def test_without_points_the_task_says_what_is_wanted(tmp_path: Path) -> None:
    path = tmp_path / "none.toml"
    text = library.shot_path("kiln-stack").read_text().split("[[point]]")[0].split("[[outline]]")[0]
    path.write_text(text)
    async with running(str(path)) as pilot:
        assert "The shot has no tie-in points" in await press(pilot, "j")
        assert "The shot has no tie-in points" in await press(pilot, "enter")


async def test_misses_are_typed_and_what_to_move_is_told(shot: str) -> None:
    async with running(shot, height=34) as pilot:
        text = await press(pilot, "j", "enter", "text:4 -2")
        assert "read as 4 right 2 down" in text
        text = await press(pilot, "enter", "enter", "text:3 left 1 up", "enter")
        assert "4 right 2 down" in text
        assert "3 left 1 up" in text
        assert "alone cannot mend it" in text
        assert "cannot be told" in text
        assert [row.point for row in pilot.app.session.state.shot.miss] == ["chimney", "shed, left"]
        await press(pilot, "up", "x")
        assert [row.point for row in pilot.app.session.state.shot.miss] == ["chimney"]
        assert "two are needed" in await press(pilot)
        await press(pilot, "u")
        assert len(pilot.app.session.state.shot.miss) == 2


async def test_a_bad_miss_keeps_its_text_and_says_what_would_be_right(shot: str) -> None:
    async with running(shot) as pilot:
        await press(pilot, "j", "enter")
        for wrong in ("4 5 6", "zebra", "1e999", ""):
            text = await press(pilot, "home", "ctrl+k", f"text:{wrong}", "enter")
            assert "write how far it misses in pixels, right and up: 4 -2" in " ".join(text.split())
        assert pilot.app.session.state.shot.miss == ()


@pytest.mark.parametrize(
    ("text", "miss"),
    [
        ("3, -2", (3, -2)),
        ("3,-2", (3, -2)),
        ("5 right, 3 up", (5, 3)),
        ("5 left,3 down", (-5, -3)),
        ("1,5 2", (1.5, 2)),
        ("2048 -1152", (2048, -1152)),  # as far as the picture is large
    ],
)
def test_a_comma_may_stand_between_the_two_ways_of_a_miss(text: str, miss: tuple[float, float]) -> None:
    assert read_miss(text, (2048, 1152)) == miss


@pytest.mark.parametrize("text", ["99999 0", "0 1153", "2049 left"])
def test_no_miss_is_greater_than_the_picture(text: str) -> None:
    with pytest.raises(ValueError, match="the whole frame is 2048 x 1152 px"):
        read_miss(text, (2048, 1152))


MARK = '[[witness]]\nname = "kerb"\ndistance = "15 ft"\naside = "6 ft left"\nheight = "4 in"\ntaped = "16 ft 8 in"\n'
READ = ("j", "enter", "text:4 -2", "enter", "enter", "text:3 -1", "enter", "enter", "text:3 -2", "enter")


async def test_done_by_the_camera_the_shot_follows_and_asks_for_readings(shot: str) -> None:
    Path(shot).write_text(Path(shot).read_text() + MARK)
    async with running(shot) as pilot:
        await press(pilot, *READ)
        before = pilot.app.session.state
        moves = before.answer.correction.camera
        text = await press(pilot, "d", "enter")
        assert "Lens height, every tape and every aside follow the camera, outlines too" in " ".join(text.split())
        page = " ".join(pilot.shown.page.text.split())
        assert re.search(r"model at: \S.*, was \S.*background: \S.*, was ", page)  # what changed, and to what
        assert "points too" in page
        assert "kerb: taped or read from where the camera stood before; tape each mark anew" in page
        after = pilot.app.session.state.shot
        assert after.miss == ()
        assert after.place.lens_height == pytest.approx(before.shot.place.lens_height + moves.ends_up_mm, abs=0.01)
        assert after.place.model == pytest.approx(
            before.shot.place.model - moves.ends_forward_mm, abs=0.3
        )  # to 1/64 in
        assert after.mark[-1].name.startswith("line-up ")
        assert len(after.mark[-1].setting.miss) == 3
        await press(pilot, "u")
        assert pilot.app.session.state.shot == before.shot


async def test_done_by_the_model_it_stands_at_its_match_and_the_readings_go(shot: str) -> None:
    async with running(shot) as pilot:
        await press(pilot, *READ)
        before = pilot.app.session.state.shot
        text = await press(pilot, "d", "down", "enter")
        assert "read the misses again" in " ".join(text.split())
        after = pilot.app.session.state.shot
        match = pilot.app.session.state.answer.lineup.match_distance_mm
        assert after.place.model == pytest.approx(match, abs=0.3)  # to 1/64 in
        assert after.place.background == before.place.background
        assert after.point == before.point
        assert after.miss == ()
        assert "nothing was read" in await press(pilot, "d", "down", "enter")


def test_misses_have_no_rows_where_there_is_no_column() -> None:
    points = [Drawn("A", 0.5, 0.5, (4.0, 2.0))]
    assert misses(points, (2000.0, 1000.0), "misses as read", -1, 1, GLYPHS["ascii"]) == [()]


def test_what_the_frame_does_not_hold_is_named_beside_the_drawing() -> None:
    glyphs = GLYPHS["box"]
    points = [Drawn("A", 0.5, 0.5, (4.0, 2.0)), Drawn("B", 1.2, 0.5, (4.0, 2.0)), Drawn("C", None, None, (None, None))]
    lines = misses(points, (2000.0, 1000.0), "misses as read", 70, 14, glyphs)
    assert "outside the frame: B C" in row_text(lines[0])
    assert "outside: B C" in row_text(misses(points, (2000.0, 1000.0), "misses as read", 34, 14, glyphs)[0])
    assert "outside" not in row_text(misses(points[:1], (2000.0, 1000.0), "misses as read", 70, 14, glyphs)[0])


async def test_a_point_that_goes_takes_its_miss_along(shot: str) -> None:
    async with running(shot) as pilot:
        await press(pilot, *READ)
        session = pilot.app.session
        session.apply({"point": session.state.shot.point[1:]})
        assert [row.point for row in session.state.shot.miss] == ["shed, left", "shed, right"]


async def test_turning_the_head_mends_nothing_and_its_reading_is_typed(shot: str) -> None:
    async with running(shot) as pilot:
        assert "Turning the head mends no miss" in " ".join(
            (await press(pilot, "j", "space", "text:turning", "enter")).split()
        )
        await press(pilot, "space", "text:finely", "enter", "text:1", "enter")
        assert pilot.app.session.state.shot.limits.reading_px == 1


async def test_what_is_told_is_read_to_its_end_on_a_small_screen(shot: str) -> None:
    async with running(shot, width=40, height=15) as pilot:
        pilot.app.animation_level = "none"  # the page goes to its end at once
        text = await press(pilot, *READ)
        assert "read one more" not in text
        await press(pilot, "tab")
        await press(pilot, "end")
        text = await press(pilot)
        assert "read one more" in " ".join(text.split())
        text = await press(pilot, "tab")
        assert "misses as read, o the model, 100 times" in text.replace("●", "o")


async def test_tab_goes_through_the_drawings(shot: str) -> None:
    async with running(shot) as pilot:
        await press(pilot, *READ)
        for key, title in (
            ("tab", "misses as read"),
            ("t", "remaining, camera moved"),
            ("t", "remaining, model moved"),
        ):
            assert title in await press(pilot, key)
        assert "Move the camera" in await press(pilot, "tab")


@pytest.mark.parametrize("glyphs", ["ascii", "box", "full"])
def test_a_miss_is_drawn_from_its_point_many_times_as_long(glyphs: str) -> None:
    points = [
        Drawn("A", 0.25, 0.5, (4.0, 0.0)),
        Drawn("B", 0.75, 0.75, (0.0, -2.0)),
        Drawn("C", 0.5, 0.1, (None, None)),
    ]
    lines = list(map(row_text, misses(points, (2000.0, 1000.0), "misses as read", 60, 16, GLYPHS[glyphs])))
    table = GLYPHS[glyphs]
    assert lines[0] == f"misses as read, {table.point} the model, drawn 100 times as long"
    (row,) = [line for line in lines[2:-1] if "A" in line]
    a, tip = row.index("A"), row.index(table.point, 1)
    assert tip - a == pytest.approx(0.2 * (len(lines[1]) - 1), abs=1)
    (below,) = [number for number, line in enumerate(lines) if "B" in line]
    column = lines[below].index("B")
    assert any(line[column : column + 1] == table.point for line in lines[below + 1 :])
    assert sum("C" in line for line in lines) == 1
    assert all(len(line) <= 60 for line in lines)
    assert misses(points, (2000.0, 1000.0), "misses", 60, 5, table) == [()] * 5


async def test_marks_are_put_up_and_the_tapes_now_tell_the_way_back(shot: str) -> None:
    async with running(shot, width=100, height=30) as pilot:
        assert "No marks yet" in await press(pilot, "j", "b")
        for name, away, aside, high in (
            ("kerb", "10 ft", "6 ft left", "0.2 ft"),
            ("post", "9 ft", "7 ft right", "1 ft"),
            ("wall", "16 ft", "1 ft left", "10 ft"),
            ("gate", "-8 ft", "5 ft left", "9 ft"),
        ):
            entries = [part for text in (name, away, aside, high) for part in (f"text:{text}", "enter")]
            text = await press(pilot, "a", *entries)
        assert "kerb" in text
        assert "would tell where the camera stands by tapes" in " ".join(text.split())
        marks = pilot.app.session.state.shot.witness
        assert [mark.name for mark in marks] == ["kerb", "post", "wall", "gate"]
        assert marks[0].aside == pytest.approx(-6 * 304.8)
        await press(pilot, *["up"] * 4, *["left"] * 7, *["right"] * 5)
        text = await press(pilot, "enter", "text:12 ft 8 in", "enter", "enter", "text:12 ft 3 in", "enter")
        assert pilot.app.session.state.shot.witness[1].taped_now == pytest.approx(3733.8)
        assert "to stand as high as it did" in " ".join(text.split())
        assert "Move the camera" in text
        text = await press(pilot, "right", "enter", "text:0.4 0.6", "enter")
        assert pilot.app.session.state.shot.witness[2].frame_across_now.value == 0.4
        await press(pilot, "space", "text:anew", "enter")
        assert all(mark.taped_now is None for mark in pilot.app.session.state.shot.witness)
        assert "needs its name and its place" in " ".join((await press(pilot, *["left"] * 5, "x")).split())
        await press(pilot, *["left"] * 7, "x")
        assert len(pilot.app.session.state.shot.witness) == 3


@pytest.mark.thorough
@pytest.mark.parametrize(("width", "height"), [(40, 15), (80, 24), (120, 40)])
@pytest.mark.parametrize("glyphs", ["ascii", "full"])
async def test_every_size_shows_the_line_up(shot: str, width: int, height: int, glyphs: str) -> None:
    async with running(shot, width=width, height=height, glyphs=glyphs) as pilot:
        text = await press(pilot, *READ)
        assert "misses by, px" in text
        assert "4 right" in text
        assert "Move" in text
        await press(pilot, "tab")
        if glyphs == "ascii":
            assert (await press(pilot)).isascii()
        assert "No marks yet" in await press(pilot, "b")


@pytest.mark.parametrize(("system", "off"), [("imperial", "10 to 23 ft off"), ("metric", "3 to 7 m off")])
async def test_how_far_off_marks_should_be_is_said_in_the_units_of_the_shot(system: str, off: str) -> None:
    async with running() as pilot:
        pilot.app.session.apply({"units": system})
        assert off in " ".join((await press(pilot, "j", "b")).split())
        assert off in " ".join((await press(pilot, "a")).split())
        assert f"{off[:-4]} ({off[:-4]})" not in " ".join((await press(pilot)).split())
        assert ("23 ft" in await press(pilot)) is (system == "imperial")
        assert f"Marks do best {off}." in await press(pilot, "escape", "f1")
