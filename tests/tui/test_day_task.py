"""The task of the day by its keys: fields, lamps, cues, the strip, and what a new shot takes along."""

from __future__ import annotations

import re

import pytest
from textual.widgets import Static

from forescale.engine.answer import Answer
from forescale.tui.tasks.day import DayScreen
from tests.tui.app_pilot import press, running

PLACE = ("enter", "text:51.2 deg N", "enter", "enter", "text:2.4 deg W", "enter")  # Enter goes on to the next row
DAY = ("enter", "text:2026-06-21", "enter", "enter", "text:10:30", "enter")
OFFSET = ("enter", "text:+1 h", "enter")
SUN = ("6", *PLACE, *DAY, *OFFSET)


def answer_of(pilot) -> Answer:
    return pilot.app.session.state.answer


async def test_the_sun_is_told_once_place_and_time_are_given() -> None:
    async with running(height=50, width=100) as pilot:
        text = await press(pilot, "6")
        assert "Give latitude" in text
        text = await press(pilot, *SUN[1:])
        found = answer_of(pilot).sun
        assert found is not None
        assert found.azimuth_deg == pytest.approx(116.46, abs=0.02)
        assert "THE SUN" in text
        assert "116.5" in text
        assert "sun x10" in text


async def test_the_strip_shows_the_side_of_the_sun_and_the_time_in_hand() -> None:
    async with running(height=60, width=100) as pilot:
        text = await press(pilot, *SUN, "enter", "text:215 deg", "enter")
        rows = {line.strip()[:8].strip(): line for line in text.splitlines()}
        strip = rows["from"]
        assert "L" in strip
        assert "A" in strip
        assert rows["now"].index("^") == rows["as now"].index("=") + 1  # 10:09 to 10:51, by quarters of an hour
        assert "4" in rows["sun x10°"]


async def test_a_bad_entry_keeps_its_text_and_changes_nothing() -> None:
    async with running(height=40) as pilot:
        text = await press(pilot, "6", "enter", "text:51.2", "enter")
        assert "which side" in text
        text = await press(pilot, "escape")
        assert answer_of(pilot).setting.sun.latitude is None


async def test_a_lamp_and_a_cue_are_asked_for_field_by_field() -> None:
    async with running(height=60, width=100) as pilot:
        lamp = ("text:key", "text:2000 lx", "text:3 m", "text:2", "text:6 m", "", "", "text:0.2", "")
        await press(
            pilot, "6", "a", "enter", *(key for part in lamp for key in ((part, "enter") if part else ("enter",)))
        )
        (held,) = answer_of(pilot).setting.lamp
        assert (held.name, held.number, held.stands, held.depth) == ("key", 2, 6000, 0.2)
        assert pilot.shown.table.text_in_hand().startswith("lamp key")
        text = await press(pilot, "home", "a", "text:cue", "enter", "text:drop", "enter", "text:1.5 s", "enter")
        assert answer_of(pilot).timing is not None
        assert "TIME ON SET" in text
        assert "Cue drop is added" in text
        text = await press(pilot, "x")
        assert answer_of(pilot).setting.cue == ()
        await press(pilot, "u")
        assert len(answer_of(pilot).setting.cue) == 1


@pytest.mark.parametrize("width", [100, 120])
async def test_a_lamp_stands_in_the_shots_units_and_the_suns_table_whole(width: int) -> None:
    async with running(height=40, width=width) as pilot:
        lamp = ("text:big north soft lamp", "text:2000 lx", "text:3 m", *[""] * 6)
        added = [key for part in lamp for key in ((part, "enter") if part else ("enter",))]
        text = await press(pilot, *SUN, "a", "enter", *added)
        assert "gives 186 fc" in text  # of 10.764 lx each
        assert re.search(r" 1 to \d+ of \d+ *\n", text)  # of the page beside, though the list has the keys
        page = pilot.shown.page
        lines = page.text.splitlines()
        assert max(map(len, lines)) <= page.query_one(Static).size.width
        heads = next(line.split() for line in lines if line.startswith("  At   "))
        assert len(heads) > 5
        assert all(hour.isdecimal() for hour in heads[1:])


async def test_now_is_this_machines_day() -> None:
    async with running(height=40) as pilot:
        await press(pilot, "6", "g")
        sun = answer_of(pilot).setting.sun
        assert sun.date is not None
        assert sun.utc_offset is not None


async def test_fields_are_cleared_and_the_change_undone() -> None:
    async with running(height=40) as pilot:
        await press(pilot, "6", *PLACE, "up", "x")
        assert answer_of(pilot).setting.sun.longitude is None
        await press(pilot, "u")
        assert answer_of(pilot).setting.sun.longitude == -2.4


@pytest.mark.parametrize(("width", "height", "glyphs"), [(80, 24, "box"), (40, 15, "ascii"), (120, 50, "full")])
async def test_it_fits_every_size(width: int, height: int, glyphs: str) -> None:
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        await press(pilot, *SUN)
        for _ in range(2):
            text = await press(pilot, "tab")
            assert all(len(line) <= width for line in text.splitlines())
        assert isinstance(pilot.app.screen, DayScreen)


async def test_a_long_name_shifts_no_column_on_a_narrow_screen() -> None:
    async with running(width=40, height=60) as pilot:
        pilot.app.session.apply({"cue": [{"name": "the whole upper gallery comes down at last", "screen": "90 min"}]})
        lines = (await press(pilot, "6", "tab")).splitlines()
        head = next(number for number, line in enumerate(lines) if line.strip() == "the whole upper gallery comes down")
        told = ["at last", "on screen: 5400 s; stopwatch:", "1080 s; frame: 129601"]
        assert [line.strip() for line in lines[head + 1 : head + 4]] == told


@pytest.mark.parametrize("count", ["4.5 m", "2.5", "0", "1001"])
async def test_a_wrong_number_of_lamps_is_refused_at_its_own_prompt(count: str) -> None:
    async with running(height=60, width=100) as pilot:
        before = ("text:key", "enter", "text:2000 lx", "enter", "text:3 m", "enter")
        text = await press(pilot, "6", "a", "enter", *before, f"text:{count}", "enter")
        assert f'"{count}" is no number of lamps' in text
        assert count in pilot.shown.query_one("Entry").value


async def test_a_lamps_questions_are_counted() -> None:
    async with running() as pilot:
        text = await press(pilot, "6", "a", "enter", "text:key", "enter", "text:2000 lx", "enter")
        assert "3 of 9: The distance at which it gives that." in text


async def test_what_a_cue_is_is_said() -> None:
    async with running() as pilot:
        assert "A cue is a moment of the action" in await press(pilot, "6", "a", "text:cue", "enter")


@pytest.mark.parametrize(("width", "height"), [(60, 20), (80, 24), (60, 16), (40, 18)])
async def test_the_row_in_hand_stays_in_sight_as_room_changes(width: int, height: int) -> None:
    async with running(width=width, height=height) as pilot:
        ways = [("end",), ("up",), ("tab",), ("tab",), ("down",)]
        lamp = ("a", "enter", "text:key", "enter", "text:2000 lx", "enter", "text:3 m", *["enter"] * 7)
        for keys in [("6",), *ways, ("home",), *ways, lamp, *ways, ("u",), *ways]:
            text = await press(pilot, *keys)
            table = pilot.shown.table
            if table.has_focus:
                assert " ".join(table.name_in_hand().split()) in " ".join(text.split()), keys
