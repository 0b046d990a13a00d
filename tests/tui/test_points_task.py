"""Points and outlines: entered by their places or from the picture, stepped, ordered, taken away, the view beside."""

from __future__ import annotations

import pytest

from forescale.engine.answer import answer_file
from forescale.engine.formulas.silhouette import Corner
from forescale.engine.kit import library
from forescale.engine.shot.pictured_entry import read_cell, read_corner_text, read_point
from forescale.engine.shot.rows import MissRow, OutlineRow
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.columns import told_apart
from forescale.tui.tasks.picture.points_table import point_columns
from tests.tui.app_pilot import press, running


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("14 ft left, 31 ft", {"aside": "14 ft left", "height": "31 ft"}),
        ("14 left, 31", {"aside": "14 ft left", "height": "31 ft"}),
        ("0, 31 ft", {"aside": "0 in right", "height": "31 ft"}),
        ("0, 31", {"aside": "0 in right", "height": "31 ft"}),
        ("0.31, 0.62", {"frame_across": 0.31, "frame_up": 0.62}),
        ("0.31,0.62, 250 ft", {"frame_across": 0.31, "frame_up": 0.62, "distance": "250 ft"}),
        ("635 px, 714 px", {"frame_across": "635 px", "frame_up": "714 px"}),
        ("0.31, 0.62, 250 ft", {"frame_across": 0.31, "frame_up": 0.62, "distance": "250 ft"}),
    ],
)
def test_a_place_is_read_as_a_file_holds_it(text: str, fields: dict[str, object]) -> None:
    found = read_point(text, "imperial")
    assert found.keys() == fields.keys()
    if "aside" not in fields:
        assert found == fields
    else:
        assert found["height"] == fields["height"]
        assert found["aside"].split()[0] == str(fields["aside"]).split()[0]


@pytest.mark.parametrize("text", ["14 ft left", "14 ft, 31 ft", "1.2, 0.3", "3 ft left, 4 ft, 5 ft, 6 ft"])
def test_what_is_no_place_is_refused_with_what_would_be_right(text: str) -> None:
    with pytest.raises(ValueError, match=r"write|out of|left|picture"):
        read_point(text, "imperial")


def test_a_corner_may_be_the_middle_of_an_arc() -> None:
    assert read_corner_text("0 ft, 60 ft, arc", "imperial").arc
    assert read_corner_text("1,5 m left, 3 m", "metric").x == -1500


async def test_three_points_and_an_outline_are_entered_and_stepped() -> None:
    async with running("lock-gate", width=120, height=40) as pilot:
        before = len(pilot.app.session.state.shot.point)
        await press(pilot, "5", "a", "text:eaves", "enter", "text:1.2 m left, 3 m", "enter")
        await press(pilot, "a", "text:lamp", "enter", "text:0.5, 0.6", "enter")
        shot = pilot.app.session.state.shot
        assert [row.name for row in shot.point][-2:] == ["eaves", "lamp"] or len(shot.point) == before + 2
        names = [row.name for row in shot.point]
        text = await press(pilot, *["up"] * 9, *["down"] * names.index("eaves"), "right", "h")
        assert next(row for row in pilot.app.session.state.shot.point if row.name == "eaves").aside == -1250.0
        assert "1.25 m left" in text
        drawn = len(pilot.app.session.state.shot.outline)
        await press(pilot, "n", "text:mast", "enter", "text:1 m left, 0 m", "enter", "text:1 m left, 5 m", "enter")
        assert len(pilot.app.session.state.shot.outline) == drawn
        await press(pilot, "text:0 m, 6 m, arc", "enter", "text:1 m right, 5 m", "enter", "enter")
        assert len(pilot.app.session.state.shot.outline) == drawn + 1
        mast = pilot.app.session.state.shot.outline[-1]
        assert (mast.name, len(mast.corners), mast.corners[2].arc) == ("mast", 4, True)


def test_the_word_arc_alone_and_pixels_beyond_the_frame_are_refused() -> None:
    with pytest.raises(ValueError, match='"arc" is not two places; write 2 ft left, 59 ft'):
        read_corner_text("arc", "imperial")
    with pytest.raises(ValueError, match="1200 px lies outside the picture; the frame is 1080 px high"):
        read_point("635 px, 1200 px", "imperial", (1920, 1080))
    assert read_point("1920 px, 1080 px", "imperial", (1920, 1080))["frame_up"] == "1080 px"


async def test_a_new_outline_comes_into_hand_and_nothing_is_said_any_more() -> None:
    async with running("lock-gate", width=120, height=40) as pilot:
        corners = ("1 m left, 0 m", "1 m left, 5 m", "1 m right, 5 m")
        keys = [key for text in corners for key in (f"text:{text}", "enter")]
        text = await press(pilot, "5", "n", "text:mast", "enter", *keys, "enter")
        assert "Enter on nothing" not in text
        before = pilot.app.session.state.shot.outline
        await press(pilot, "t")
        after = pilot.app.session.state.shot.outline
        assert after[-1].of == "place"
        assert after[:-1] == before[:-1]
        await press(pilot, "right", "right", "l")
        stepped = pilot.app.session.state.shot.outline[-1].corners
        assert stepped[0].x == before[-1].corners[0].x + 50


async def test_before_the_first_there_is_nothing_and_no_undo_step() -> None:
    async with running("lock-gate", width=100, height=30) as pilot:
        await press(pilot, "5", "tab")
        before = pilot.app.session.state
        assert "There is nothing before it" in await press(pilot, "k")
        assert pilot.app.session.state is before
        await press(pilot, "tab", "a", "text:eaves", "enter", "text:1.2 m left, 3 m", "enter")
        await press(pilot, *["up"] * 9)
        before = pilot.app.session.state
        assert "There is nothing before it" in await press(pilot, "k")
        assert pilot.app.session.state is before


async def test_the_height_in_hand_is_stepped() -> None:
    async with running("kiln-stack", width=100, height=30) as pilot:
        was = pilot.app.session.state.shot.point[0]
        await press(pilot, "5", "right", "right", "l")
        now = pilot.app.session.state.shot.point[0]
        assert (now.aside, now.height) == (was.aside, pytest.approx(was.height + 25.4))


async def test_a_point_is_renamed_and_its_miss_keeps_with_it() -> None:
    async with running("kiln-stack", width=100, height=30) as pilot:
        name = pilot.app.session.state.shot.point[0].name
        pilot.app.session.apply({"miss": (MissRow(point=name, across_px=3, up_px=1),)})
        await press(pilot, "5", "enter", *["backspace"] * len(name), "text:left end", "enter")
        shot = pilot.app.session.state.shot
        assert shot.point[0].name == shot.miss[0].point == "left end"


async def test_a_small_screen_tells_points_apart_without_view_or_legend() -> None:
    async with running("kiln-stack", width=60, height=20) as pilot:
        text = await press(pilot, "5")
        assert "left " in text
        assert "right " in text
        assert "meets" not in text


def test_a_place_off_the_round_is_told_as_any_length_of_the_shot_is() -> None:
    _, found = answer_file(library.shot_path("lock-gate"))
    carried = found.setting.point[0].model_copy(update={"aside": -10055.6, "height": 3463.1})
    of = found._replace(setting=found.setting.model_copy(update={"point": (carried,)}))
    _, aside, height, *_ = point_columns(of, wide=True)
    assert (aside.cells, height.cells) == (("10.06 m left",), ("3.463 m",))


def test_names_that_would_look_the_same_are_cut_in_the_middle() -> None:
    names = ["A roof at the stack's left", "B roof at the stack's right", "C door"]
    found = told_apart(names, 14)
    assert found == ["A r…k's left", "B r…'s right", "C door"]


async def test_a_bad_place_keeps_its_text_and_changes_nothing() -> None:
    async with running("lock-gate") as pilot:
        before = pilot.app.session.state.shot
        text = await press(pilot, "5", "a", "text:eaves", "enter", "text:1.2 m", "enter")
        assert "is not two places" in " ".join(text.split())
        assert "Enter takes it" in text
        await press(pilot, "escape")
        assert pilot.app.session.state.shot == before


async def test_a_point_has_a_distance_of_its_own_by_its_prompt_and_by_its_cell() -> None:
    async with running("lock-gate", width=120) as pilot:
        text = await press(pilot, "5", "a", "text:crane", "enter", "text:2 m left, 8 m, 50 m", "enter")
        points = pilot.app.session.state.shot.point
        assert [(one.name, one.distance) for one in points if one.distance] == [("crane", 50000)]
        assert "50 m" in text
        table = pilot.shown.table
        await press(pilot, *["right"] * table.ids.index("distance"), "enter", "text:60 m", "enter")
        assert [one.distance for one in pilot.app.session.state.shot.point if one.name == "crane"] == [60000]
        await press(pilot, "up", "enter", *["backspace"] * 20, "enter")
        assert [one.distance for one in pilot.app.session.state.shot.point if one.name == "crane"] == [None]


async def test_columns_without_room_are_said_and_gone_to() -> None:
    async with running("lock-gate", width=100) as pilot:
        assert "more columns" in (await press(pilot, "5")).splitlines()[0]
        table = pilot.shown.table
        first = list(table.ids)
        seen = set(first)
        while "more columns" in (await press(pilot, "end")).splitlines()[0] and "Left:" not in (await press(pilot)):
            await press(pilot, *["right"] * len(table.ids))
            seen |= set(table.ids)
        assert {"sight", "sight_h", "stands", "model"} <= seen
        await press(pilot, *["left"] * 20)
        assert table.ids == first


def test_an_arc_beside_an_arc_is_refused_in_one_clear_line() -> None:
    corners = (Corner(0, 0, arc=True), Corner(900, 0), Corner(900, 900), Corner(0, 900, arc=True))
    with pytest.raises(ValueError, match="side by side") as refused:
        OutlineRow(name="arch", corners=corners)
    assert reasons(refused.value) == "two arcs side by side have no corner between them; put one where they join"


async def test_enter_on_an_unchanged_place_leaves_it_read_as_it_was() -> None:
    async with running(width=120, height=40) as pilot:
        await press(pilot, "5", "a", "text:vane", "enter", "text:635 px, 714 px", "enter", "escape")
        pilot.app.session.apply({"place.aim": "9 deg up"})
        first, vane, last = pilot.app.session.state.shot.point
        assert vane.aim == 6
        await press(pilot, "5", "home", "down", "right", "enter", "enter")
        assert pilot.app.session.state.shot.point == (first, vane, last)
        await press(pilot, "up", "enter", "ctrl+u", "end", *["backspace"] * 24, "text:635 px, 715 px", "enter")
        again = pilot.app.session.state.shot.point[1]
        assert (again.frame_up.value, again.aim) == (715, None)  # as the shot now stands


async def test_a_second_corner_at_the_very_same_place_is_refused_as_it_is_typed() -> None:
    async with running() as pilot:
        await press(pilot, "5", "n", "text:gate", "enter", "text:2 ft left, 9 ft", "enter")
        assert "at the very same place" in " ".join((await press(pilot, "text:2 ft left, 9 ft", "enter")).split())


@pytest.mark.parametrize(
    "text",
    [
        "635 px 714 px",
        "635 px, 714 px",
        "635px; 714px",
        "0.31, 0.62",
        "0.31 0.62",
        "31 % 62 %",
        "0.31,0.62",
        "635px,714px",
    ],
)
def test_both_places_of_a_mark_and_of_a_point_are_read_alike(text: str) -> None:
    found = read_cell("picture", text, "metric", (2048, 1152))
    held = {name.removesuffix("_now"): place.held() for name, place in found.items()}
    assert held == read_point(text, "metric", (2048, 1152))
    assert held["frame_up"] in {"714 px", 0.62}
    with pytest.raises(ValueError, match="lies outside the picture"):
        read_cell("picture", "9999 px 714 px", "metric", (2048, 1152))


async def test_esc_goes_back_corner_by_corner_and_last_to_the_name() -> None:
    async with running(height=30) as pilot:
        corners = ("2 ft left, 5 ft", "2 ft right, 5 ft", "1 ft right, 9 ft", "2 ft left, 8 ft")
        typed = [key for corner in corners for key in (f"text:{corner}", "enter")]
        await press(pilot, "5", "tab", "n", "text:shed", "enter", *typed)

        def drawn() -> list[int]:
            return [len(row.corners) for row in pilot.app.session.state.shot.outline if row.name == "shed"]

        assert drawn() == [4]
        assert "Corner 4: 2 ft left, 8 ft" in await press(pilot, "escape")
        assert drawn() == [3]
        assert "Corner 3: 1 ft right, 9 ft" in await press(pilot, "escape")
        assert drawn() == []
        await press(pilot, "enter")
        assert drawn() == [3]
        assert "Outline: shed" in await press(pilot, *["escape"] * 4)
        assert drawn() == []
        assert "Esc back" in await press(pilot, "escape")
