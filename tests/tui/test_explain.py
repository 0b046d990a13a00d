"""How the numbers come about, keys only: nothing cut, found by any words, reached from the board by one key."""

from __future__ import annotations

import pytest

from forescale.engine.answer import answer_file
from forescale.engine.kit.library import shot_path
from forescale.engine.workings import WORKINGS, value_text
from tests.tui.app_pilot import press, running, screen_text

ANSWER = answer_file(shot_path("kiln-stack"))[1]


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 40), (40, 15)])
async def test_no_value_is_cut_at_any_size(width: int, height: int) -> None:
    async with running(width=width, height=height) as pilot:
        await press(pilot, "e")
        table = pilot.shown.table
        told = {one.name: one.value_text for one in pilot.shown.explained}
        for row in range(table.row_count):
            name, value = (" ".join(str(cell).split()) for cell in table.get_row_at(row))
            assert value.replace(" ", "") == told[name].replace(" ", "")
            assert "…" not in value


async def test_the_numbers_of_the_pane_come_first_as_the_pane_shows_them() -> None:
    async with running() as pilot:
        text = await press(pilot, "4", "e")
        assert "Slip check" in text
        names = [one.name for one in pilot.shown.explained]
        assert names.index("slide for no slip") < names.index("leaves frame at") < names.index("focus mark")
        assert {WORKINGS["light.lux_needed"].name, WORKINGS["scale.ratio"].name} < set(names)


async def test_one_key_finds_a_number_of_any_pane_and_shows_its_working() -> None:
    async with running() as pilot:
        await press(pilot, "slash", "text:hyperfocal", "enter")
        text = screen_text(pilot)
        assert value_text("focus.hyperfocal_mm", ANSWER) in text
        assert "f² / (N·c) + f/P" in text


async def test_words_are_found_in_all_that_is_told_of_a_number() -> None:
    async with running() as pilot:
        await press(pilot, "1", "e", "slash", "text:bellows", "enter")
        assert "effective T-stop: The stop that light sees" in screen_text(pilot)
