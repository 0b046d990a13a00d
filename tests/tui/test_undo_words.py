"""Undo and redo on the board say what changed, and put the field in hand where its pane is in sight."""

from __future__ import annotations

import pytest

from tests.tui.app_pilot import press, running, screen_text

MEET = ("1", "down", "down", "down", "down", "enter", "text:18", "enter")


async def test_undo_and_redo_say_what_changed_until_the_next_key() -> None:
    async with running() as pilot:
        await press(pilot, *MEET)
        assert "Undone: tie-in height 20 ft again, was 18 ft" in (await press(pilot, "u")).splitlines()[-2]
        assert "Redone: tie-in height 18 ft, was 20 ft" in (await press(pilot, "r")).splitlines()[-2]
        assert "Redone" not in await press(pilot, "up")


async def test_the_field_that_changed_comes_into_hand_where_its_pane_is_seen() -> None:
    async with running() as pilot:
        await press(pilot, *MEET, "4", "down")
        await press(pilot, "u")
        assert (pilot.app.board.pane, pilot.app.board.in_hand()) == ("scale", "place.feature_height")


async def test_in_another_pane_alone_the_words_tell_it() -> None:
    async with running() as pilot:
        await press(pilot, *MEET, "4", "z")
        text = await press(pilot, "u")
        assert pilot.app.board.pane == "slip"
        assert "Undone: tie-in height 20 ft again, was 18 ft" in text


async def test_several_fields_are_counted() -> None:
    async with running() as pilot:
        session = pilot.app.session
        session.apply({"place.model": "11 ft", "place.background": "250 ft", "move.slide": "60 mm"})
        assert "Undone: model at 10 ft again, was 11 ft, and 2 more" in await press(pilot, "u")


@pytest.mark.parametrize("glyphs", ["ascii", "full"])
async def test_where_both_values_have_no_room_the_present_one_stands_whole(glyphs: str) -> None:
    async with running(width=40, height=15, glyphs=glyphs) as pilot:
        await press(pilot, *MEET)
        text = await press(pilot, "u")
        assert "Undone: tie-in height 20 ft again" in [line.strip() for line in text.splitlines()]


async def test_the_entry_stands_beside_the_label_of_its_field() -> None:
    for width, height in ((80, 24), (40, 15)):
        async with running(width=width, height=height) as pilot:
            await press(pilot, "1", "down", "down", "down", "down", "enter", "text:1/16")
            assert any(line.startswith("▸tie-in height 1/16") for line in screen_text(pilot).splitlines())


async def test_a_change_that_has_one_sentence_is_told_by_it() -> None:
    async with running() as pilot:
        session = pilot.app.session
        first, *others = session.state.shot.build
        session.apply({"build": (first.model_copy(update={"real": 2 * first.real}), *others)})
        assert "Undone: a change of the build list" in await press(pilot, "u")


async def test_the_long_words_stand_wherever_the_line_has_room_for_them() -> None:
    said = "Undone: tie-in height 20 ft again, was 18 ft"
    for width, stands in ((len(said) + 2, True), (len(said) + 1, False)):
        async with running(width=width) as pilot:
            await press(pilot, *MEET)
            assert (said in await press(pilot, "u")) is stands
