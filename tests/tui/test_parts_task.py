"""The build list, keys only and from a cold start: typing, order, stock both ways, a second scale, refusals."""

from __future__ import annotations

import pytest

from tests.tui.app_pilot import press, running, screen_text
from tests.tui.sizes import every_size


def parts(pilot) -> list[str]:
    """Return the names on the build list as the shot has them."""
    return [part.part for part in pilot.app.session.state.shot.build]


async def test_the_list_says_what_each_part_is_at_full_size_and_on_the_model():
    async with running(width=100) as pilot:
        text = await press(pilot, "p")
        # 1:24 is half an inch to the foot: 60 ft is 30 in and 3 in is 1/8 in.
        for row in ("stack above the roof 1 60 ft 30 in", "brick course 240 3 in 1/8 in"):
            assert row in " ".join(text.split())
        assert "stack above the roof: 60 ft is 30 in at 1:24, exactly" in text


async def test_a_part_is_added_below_the_one_in_hand_and_one_undo_takes_it_back():
    async with running() as pilot:
        text = await press(pilot, "p", "a", "text:rain gutter", "enter", "text:4' 6\"")
        assert "read as 4 ft 6 in" in text
        assert [each.id for each in pilot.app.screen.query(".typing")] == ["build"]  # of two, the one that is typed in
        text = await press(pilot, "enter")
        assert not pilot.app.screen.query(".typing")
        assert parts(pilot)[:2] == ["stack above the roof", "rain gutter"]
        assert "rain gutter: 4 ft 6 in is 2 1/4 in at 1:24, exactly" in text
        await press(pilot, "u")
        assert "rain gutter" not in parts(pilot)
        await press(pilot, "r")
        assert "rain gutter" in parts(pilot)


async def test_a_bad_size_keeps_its_text_says_why_and_changes_nothing():
    async with running() as pilot:
        before = pilot.app.session.state
        await press(pilot, "p", "a", "text:gutter", "enter")
        for wrong, why in (
            ("four feet", "not a length"),
            ("1,500", "1500 or 1.5?"),
            ("-3", "out of range"),
            ("nan", "not a length"),
            ("inf", "infinity cannot be used here"),
        ):
            text = await press(pilot, "home", "ctrl+k", f"text:{wrong}", "enter")
            assert why in text
            assert wrong in text
            assert pilot.app.session.state is before
        await press(pilot, "escape")
        assert pilot.app.session.state is before


async def test_an_empty_name_is_refused():
    async with running() as pilot:
        text = await press(pilot, "p", "a", "enter")
        assert "a name is needed" in text
        assert len(parts(pilot)) == 3


async def test_each_cell_is_typed_where_it_stands():
    async with running() as pilot:
        await press(pilot, "p", "enter", "text:tall stack", "enter")
        text = await press(pilot, "home", "right", "enter", "text:2.5", "enter")
        assert "2.5 is no whole number; write it like 12" in text
        await press(pilot, "home", "ctrl+k", "text:3", "enter")
        text = await press(pilot, "up", "right", "enter", "text:62")
        assert "read as 62 ft, 31 in on the model" in text
        await press(pilot, "enter")
        first = pilot.app.session.state.shot.build[0]
        assert (first.part, first.quantity) == ("tall stack", 3)
        assert first.real == pytest.approx(62 * 304.8)


async def test_a_size_typed_on_the_model_sets_the_full_size():
    async with running() as pilot:
        text = await press(pilot, "p", "right", "right", "right", "enter", "text:31")
        assert "read as 62 ft, 31 in on the model" in text
        await press(pilot, "enter")
        assert pilot.app.session.state.shot.build[0].real == pytest.approx(62 * 304.8)


async def test_rows_are_moved_and_taken_away_and_come_back():
    async with running() as pilot:
        await press(pilot, "p", "k")
        assert parts(pilot) == ["stack above the roof", "stack at the base", "brick course"]
        await press(pilot, "j", "j", "j")
        assert parts(pilot) == ["stack at the base", "brick course", "stack above the roof"]
        text = await press(pilot, "x")
        assert parts(pilot) == ["stack at the base", "brick course"]
        assert "stack above the roof was taken away" in text
        await press(pilot, "u", "u", "u")
        assert parts(pilot) == ["stack above the roof", "stack at the base", "brick course"]


async def test_the_last_part_can_go_and_the_list_says_how_to_begin_again():
    async with running() as pilot:
        text = await press(pilot, "p", "x", "x", "x")
        assert parts(pilot) == []
        assert "No parts yet: a adds one" in text
        assert "No parts yet: a adds one" in await press(pilot, "x")
        await press(pilot, "a", "text:wall", "enter", "text:10 ft", "enter")
        assert parts(pilot) == ["wall"]


async def test_stock_reads_both_ways():
    async with running() as pilot:
        await press(pilot, "p", "tab", "a", "text:dowel", "enter")
        text = await press(pilot, "text:3/16")
        assert "read as 3/16 in" in text
        text = await press(pilot, "enter")
        assert "3/16 in dowel reads as 4 1/2 in at 1:24" in text
        text = await press(pilot, "space", "text:stock a thing", "enter", "text:4 in", "enter")
        said = " ".join(text.split())
        assert "4 in is 0.1667 in at 1:24: cut 3/16 in, which reads as 4 1/2 in" in said
        assert "nearest at hand: 3/16 in dowel" in said


async def test_a_second_scale_stands_beside_the_first_with_where_and_how_fast():
    async with running(height=30) as pilot:
        text = await press(pilot, "p", "c", "text:1:3")
        assert "read as 1:3" in text
        text = await press(pilot, "text:2", "enter")
        # 3 in at 1:32 is 3/32 in, cut to 1/16 in: 2 in at full size, an inch too small.
        said = " ".join(text.split())
        assert "brick course 240 3 in 1/8 in exact 1/16 in -1 in" in said
        # 240 ft over 32 is 7 ft 6 in from the pupil, and 24 x sqrt 32 is 135.8.
        assert "1:32 would stand at 7 ft 6 15/16 in and need 135.8 fps (the mode's top is 120 fps)" in said
        text = await press(pilot, "c", "home", "ctrl+k", "text:big", "enter")
        assert pilot.app.session.state.shot.scale.compare == 32
        await press(pilot, "home", "ctrl+k", "enter")
        assert pilot.app.session.state.shot.scale.compare is None


async def test_rounding_goes_through_all_the_steps_of_a_shop_and_back():
    async with running() as pilot:
        await press(pilot, "p")
        seen = []
        for _ in range(5):
            await press(pilot, "t")
            seen.append(pilot.app.session.state.answer.scale.rounding)
        assert seen == ["1/32 in", "1/64 in", "0.5 mm", "0.1 mm", "1/16 in"]


async def test_the_place_says_the_finest_detail_the_frame_and_the_cover():
    async with running() as pilot:
        said = " ".join((await press(pilot, "p", "tab", "tab")).split())
        answer = pilot.app.session.state.answer
        # One pixel of 16.6 mm / 2048 at the model, by the answer's own image distance.
        assert f"{answer.scale.detail_model_mm / 25.4:.2g} in on the model" in said
        assert "Frame at the model 4 ft 8 7/16 in × 2 ft 7 3/4 in" in said


async def test_metric_sizes_are_typed_and_shown_in_metres_and_millimetres():
    async with running("lock-gate") as pilot:
        text = await press(pilot, "p", "a", "text:sill", "enter", "text:1,5")
        assert "read as 1.5 m" in text
        text = await press(pilot, "enter")
        assert "sill: 1.5 m is 187.5 mm at 1:8, exactly" in text


@every_size()
async def test_nothing_is_cut_at_any_size(width, height):
    async with running("kiln-stack", width, height) as pilot:
        await press(pilot, "p", "c", "text:1:48", "enter")
        for _ in range(3):
            lines = screen_text(pilot).splitlines()
            assert len(lines) == height
            assert all(len(line) <= width for line in lines)
            assert lines[-1].rstrip().endswith("Esc back")
            await press(pilot, "tab")
        text = screen_text(pilot)
        for size in ("60 ft", "6 ft 9 in", "30 in", "3 3/8 in"):
            assert size in text


async def test_esc_goes_back_to_the_board_with_the_change_on_it():
    async with running() as pilot:
        await press(pilot, "p", "x", "escape")
        assert pilot.app.screen is pilot.app.board
        assert "stack at the base" in await press(pilot, "z")
