"""The rig has moved: the form and the list, by keys alone from a cold start."""

from __future__ import annotations

import re

import pytest

from forescale.engine.kit import library
from tests.tui.app_pilot import press, running, screen_text
from tests.tui.sizes import every_size_and_table


def words(text: str) -> str:
    """A screen's text without its line breaks."""
    return " ".join(text.split())


LEAVE, FOCUS, STOP = ("t", "enter"), ("t", "down", "enter"), ("t", "down", "down", "enter")  # what is kept, or not


async def test_one_key_opens_the_tape_distances_with_the_first_in_hand() -> None:
    async with running() as pilot:
        text = await press(pilot, "m")
        for label in ("model at", "nearest part", "background", "farthest part", "lens height", "tie-in height"):
            assert label in text
        labels = [line.split("  ")[0].strip() for line in text.splitlines()[2:8]]
        assert labels == ["model at", "nearest part", "background", "farthest part", "lens height", "tie-in height"]
        text = await press(pilot, "enter")
        assert "model at (ft): 10 ft" in text


async def test_typing_begins_an_entry_and_enter_goes_on_to_the_next() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "text:10 ft 9 in")
        assert "model at (ft): 10 ft 9 in" in text
        assert "read as 10 ft 9 in" in text
        text = await press(pilot, "enter", "down", "text:230 ft", "enter")
        rows = text.splitlines()
        assert "10 ft 9 in" in rows[2]
        assert "10 ft 1 in" in rows[3]
        assert "moved with model" in rows[3]
        assert "230 ft" in rows[4]
        assert "290 ft" in rows[5]
        assert pilot.app.session.state.shot.place.model == pytest.approx(3048)  # nothing is changed yet


async def test_so_much_more_or_less_is_added_to_the_distance_that_stands_there() -> None:
    async with running() as pilot:
        assert "read as 10 ft 3 in" in await press(pilot, "m", "enter", "text:+3 in")
        assert "read as 9 ft 9 in" in await press(pilot, "escape", "enter", "text:-3 in")
        assert "It was 10 ft: no more can be taken off" in await press(pilot, "escape", "enter", "text:-11 ft")
        text = await press(
            pilot, "escape", "down", "down", "enter", "text:infinity", "enter", "up", "enter", "text:-inf"
        )
        assert "It was 240 ft: no more can be taken off" in text
        text = await press(pilot, "escape", "up", "up", "enter", "text:+3 in", "enter")
        assert "10 ft 3 in" in text.splitlines()[2]


async def test_so_much_more_is_added_on_every_row_that_takes_a_number() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", *("down",) * 6)
        assert "or + or - and the change:" in words(text)
        assert "read as 1900 fc" in await press(pilot, "enter", "text:1900")
        assert "read as 1960 fc" in await press(pilot, "enter", "up", "enter", "text:+100 fc")  # it was 1860 fc
        assert "read as 73 mm" in await press(pilot, "escape", "down", "enter", "text:+10")
        assert "read as 53 mm" in await press(pilot, "escape", "enter", "text:-10")
        assert "no more can be taken off" in await press(pilot, "escape", "enter", "text:-64")


async def test_a_sign_begins_an_entry_and_counts_from_what_was_before_the_move() -> None:
    async with running() as pilot:
        assert "read as 10 ft 2 in" in await press(pilot, "m", "text:+2 in")
        await press(pilot, "enter")
        assert "240 ft 2 in auto" in words(await press(pilot, "home", "down", "down"))  # it went with the camera
        assert "read as 240 ft 2 in" in await press(pilot, "text:+2 in")
        assert "read as 239 ft 10 in" in await press(pilot, "escape", "text:-2 in")
    async with running() as pilot:
        pilot.app.session.apply({"place.model_near": None})
        assert "as model" in await press(pilot, "m", "down")
        assert "read as 9 ft 10 in" in await press(pilot, "text:-2 in")


async def test_a_sign_is_the_reading_where_a_slide_is_marked_below_zero() -> None:
    shipped = library.SHIPPED / "heads" / "demo-slide-head.toml"
    own = library.home() / "heads" / shipped.name
    own.parent.mkdir(parents=True)
    own.write_text(shipped.read_text().replace('slide_min = "0 mm"', 'slide_min = "-50 mm"'))
    async with running() as pilot:
        text = await press(pilot, "m", *("down",) * 7)
        assert "how much" not in words(text)
        assert "read as -10 mm" in await press(pilot, "enter", "text:-10")


async def test_esc_asks_once_before_what_was_typed_is_let_go() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "text:10 ft 9 in", "enter", "escape")
        assert "Esc once more lets go what was typed here" in text
        assert "10 ft 9 in" in text
        text = await press(pilot, "text:230 ft", "enter", "escape")
        assert "Esc once more lets go" in text
        text = await press(pilot, "text:3 ft", "escape", "escape")  # an entry given up, and asked once more
        assert "Esc once more lets go" in text
        await press(pilot, "escape")
        assert pilot.app.screen is pilot.app.board
        await press(pilot, "m", "escape")
        assert pilot.app.screen is pilot.app.board


async def test_what_to_do_is_listed_in_order_and_stands_on_the_board() -> None:
    async with running("kiln-stack", 80, 40) as pilot:
        text = await press(pilot, "m", "text:10 ft 9 in", "enter", "down", "text:230 ft", "enter", "d")
        assert "1 model  Move the model 1 ft 1 1/8 in nearer, from" in text
        assert "left at 10 ft 9 in it reads as 1:21.5, 10 % too small" in text
        assert "2 height Raise the tie-in point by 1/16 in" in text
        assert "3 focus  Refocus from 18 ft 1 5/8 in to 17 ft 5 9/16 in" in text
        assert "Unchanged: slide 63 mm, stop T20" in text
        assert 'saved as "before ' in text
        board = await press(pilot, "escape")
        assert "9 ft 7 7/8 in" in board
        assert "not saved" in board


async def test_undo_on_the_board_goes_back_by_what_was_done_and_what_was_taped() -> None:
    async with running() as pilot:
        await press(pilot, "m", "text:10 ft 9 in", "enter", "t", "d", "escape")  # the model moved
        place = pilot.app.session.state.shot.place
        assert place.model == pytest.approx(10 * 304.8 + 7 / 8 * 25.4)
        await press(pilot, "u")
        assert pilot.app.session.state.shot.place.model == pytest.approx(10.75 * 304.8)
        await press(pilot, "u")
        assert pilot.app.session.state.shot.place.model == pytest.approx(3048)
        assert pilot.app.session.state.shot.mark == ()


async def test_the_state_before_is_a_mark_to_go_back_to() -> None:
    async with running() as pilot:
        await press(pilot, "m", "text:10 ft 9 in", "enter", "d", "escape")
        (mark,) = pilot.app.session.state.shot.mark
        assert mark.setting.place.model == pytest.approx(3048)
        await press(pilot, "n", "b")
        assert pilot.app.session.state.shot.place.model == pytest.approx(3048)
        assert pilot.app.session.state.shot.mark == (mark,)


async def test_undo_in_the_list_goes_back_to_the_distances_as_they_were_typed() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "text:10 ft 9 in", "enter", "d", "u")
        assert "The rig has moved" in text
        assert "10 ft 9 in" in text
        assert not pilot.app.session.unsaved


async def test_the_model_may_stay_and_focus_and_stop_may_be_kept() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "text:11 ft", "enter", "down", "text:210 ft", "enter", "d")
        assert "t keep or change" in text
        text = await press(pilot, *LEAVE)
        assert "Leave the model at 11 ft: it reads as 1:19.2, 20 % too small" in words(text)
        assert "its match is at 8 ft 9 " in words(text)
        assert pilot.app.session.state.shot.place.model == pytest.approx(11 * 304.8)
        text = await press(pilot, *LEAVE, *FOCUS, *STOP)
        assert "Keeping the focus and the stop" in text
        assert pilot.app.session.state.shot.focus.distance == pytest.approx(18 * 304.8 + 13 / 8 * 25.4)
        text = await press(pilot, *FOCUS, *STOP)
        assert "Keeping" not in text
        assert pilot.app.session.state.shot.focus.distance is None


async def test_findings_that_the_move_brought_and_removed_are_listed() -> None:
    async with running("signal-lamp") as pilot:
        text = await press(pilot, "m", "t", "text:5 m", "enter", "d", *LEAVE)
        assert "Brought by the move:" in text
        assert "so it looks 20 % too small" in words(text)
    async with running("lock-gate", width=100, height=30) as pilot:
        text = await press(pilot, "m", "down", "text:1.2 m", "enter", "d")
        assert "Brought by the move:" in text
        assert "leaves out" in text


async def test_a_bench_read_before_the_move_is_not_doubted_for_it() -> None:
    async with running(width=100, height=40) as pilot:
        text = await press(pilot, "m", "text:15 ft", "enter", "d", *LEAVE)
        assert "What to do" in text
        assert "check the distance" not in words(text)


async def test_a_place_left_open_is_prompted_as_a_tape_is_read_and_reads_back() -> None:
    async with running(width=100) as pilot:
        await press(pilot, "down", "a")
        text = await press(pilot, "m", "enter")
        (place,) = set(re.findall(r"10 ft [0-9/ ]+ in", text))  # as the form has it, as it is prompted and read
        assert f"model at (ft): {place}" in text
        assert f"read as {place}" in text
        assert " mm" not in text.partition("slide")[0]
        text = await press(pilot, "enter", "d")
        assert "Unchanged:" in text


async def test_nothing_typed_is_nothing_to_work_out() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "d")
        assert "Nothing is re-measured yet" in text
        assert "The rig has moved" in text


async def test_distances_that_cannot_be_are_kept_and_said_and_change_nothing() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "t", "down", "down", "text:5 ft", "enter")
        assert "So far: background is nearer than the model" in text
        text = await press(pilot, "d")
        assert "background is nearer than the model" in text
        assert "5 ft" in text
        assert not pilot.app.session.unsaved
        text = await press(pilot, "up", "up", "up", "text:4 ft", "enter", "d")  # and the model turns out to be nearer
        assert "What to do" in text


async def test_a_bad_entry_keeps_its_text_and_says_why() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "text:10 9in", "enter")
        assert "model at (ft): 10 9in" in text
        assert "a unit is missing" in text
        text = await press(pilot, "escape")
        assert "10 9in" not in text
        assert not pilot.app.session.unsaved


async def test_an_empty_entry_and_a_key_put_a_distance_back_as_it_was() -> None:
    async with running() as pilot:
        await press(pilot, "m", "text:12 ft", "enter", "up", "enter", "backspace", "enter")
        text = await press(pilot, "d")
        assert "Nothing is re-measured yet" in text
        await press(pilot, "up", "text:12 ft", "enter", "up", "x")
        assert "Nothing is re-measured yet" in await press(pilot, "d")


async def test_left_and_right_step_by_an_inch_or_five_centimetres() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "right", "right", "left", "l")
        assert "11 ft 1 in" in text.splitlines()[2]
    async with running("lock-gate") as pilot:
        text = await press(pilot, "m", "left", "h")
        assert "3.98 m" in text.splitlines()[2]


async def test_focus_and_stop_are_turned_over_on_their_rows() -> None:
    async with running("lock-gate") as pilot:
        text = await press(pilot, "m")
        rows = text.splitlines()
        assert "recalculate" in rows[12]
        assert "keep" in rows[13]
        text = await press(pilot, *["down"] * 10, "right", "down", "enter")
        rows = text.splitlines()
        assert "keep" in rows[12]
        assert "recalculate" in rows[13]


async def test_that_the_model_must_stand_here_is_said_before_it_is_worked_out() -> None:
    async with running("lock-gate", width=120, height=50) as pilot:
        text = words(await press(pilot, "m", "text:2.743 m", "enter"))
        assert "model at 2.743 m; next: nearest part" in text
        assert "Move the model 1.561 m farther" in text
        text = words(await press(pilot, *["down"] * 8, "enter"))
        assert "must stand here" in text
        assert "Leave the model at 2.743 m" in text
        assert "The misses are those before step 2" in text  # which lowers the tie-in point, and with it some of them
        await press(pilot, "d")
        assert pilot.app.session.state.shot.place.model == 2743


async def test_leaving_the_form_changes_nothing() -> None:
    async with running() as pilot:
        await press(pilot, "m", "text:12 ft", "enter", "escape")
        assert not pilot.app.session.unsaved


@every_size_and_table()
async def test_every_size_shows_the_form_and_the_list_whole(width: int, height: int, glyphs: str) -> None:
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        assert "10 ft 11 15/16 in" in await press(pilot, "m", "text:10 ft 11 15/16 in", "enter")
        text = await press(pilot, "down", "text:239 ft 11 15/16 in", "enter")
        assert "239 ft 11 15/16 in" in text
        assert "d do it" in text
        text = await press(pilot, "d")
        assert "from 10 ft 11 15/16 in to 10 ft 0 7/8 in" in words(text)
        if glyphs == "ascii":
            assert text.isascii()
        assert max(map(len, screen_text(pilot).splitlines())) == width


async def test_who_moved_is_asked_and_what_was_not_taped_goes_with_the_camera() -> None:
    async with running(width=100) as pilot:
        text = await press(pilot, "m", "text:11 ft", "enter")
        rows = text.splitlines()
        assert "the camera" in rows[10]
        assert "241 ft" in rows[4]
        assert "moved with the camera" in rows[4]
        assert "301 ft" in rows[5]
        rows = (await press(pilot, "t")).splitlines()
        assert "the model" in rows[10]
        assert "241 ft" not in rows[4]
        assert "10 ft 4 in" in rows[3]
        text = await press(pilot, *["down"] * 5, "text:900", "enter", "text:2 in", "enter")
        assert "900 fc" in text
        assert "50.8 mm" in text
