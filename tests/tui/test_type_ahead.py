"""Keys that come faster than the screens they lead to go where they would have gone one by one.

`press` hands all of them over at once, as a paste or a slow line does.
"""

from __future__ import annotations

import pytest

from tests.tui.app_pilot import press, running


async def test_a_whole_task_typed_ahead_comes_out_as_if_typed_slowly() -> None:
    async with running() as pilot:
        text = await press(pilot, "m", "text:10 ft 9 in", "enter", "down", "text:230 ft", "enter", "d")
        assert "What to do" in text
        assert "from 18 ft 1 5/8 in to 17 ft 5 9/16 in" in text


async def test_keys_after_an_entrys_enter_do_not_reach_that_entry() -> None:
    async with running() as pilot:
        await press(pilot, "down", "enter", "text:11 ft", "enter", "down", "enter", "text:250 ft", "enter")
        place = pilot.app.session.state.shot.place
        assert place.model == pytest.approx(11 * 304.8)
        assert place.background == pytest.approx(250 * 304.8)


async def test_tasks_opened_and_left_in_one_go_end_on_the_board() -> None:
    async with running() as pilot:
        text = await press(pilot, "t", "a", "escape", "n", "a", "enter", "escape", "f", "escape", "2")
        assert " 2 Speed " in text
        shot = pilot.app.session.state.shot
        assert (len(shot.take), len(shot.mark)) == (1, 1)
