"""How far off each value may be, keys only."""

from __future__ import annotations

from forescale.engine.margins.sensitivity import sensitivity
from tests.tui.app_pilot import press, running
from tests.tui.sizes import every_size


async def test_what_matters_most_stands_first_and_enter_goes_to_its_field():
    async with running() as pilot:
        text = await press(pilot, "d")
        state = pilot.app.session.state
        found = sensitivity(state.shot, state.kit, state.shot.units)
        lines = text.splitlines()
        assert [line for line in lines if line.startswith(f" {found[0].label}")] == [lines[2]]
        await press(pilot, "enter")
        assert pilot.app.board.in_hand() == found[0].path


@every_size()
async def test_no_number_is_cut_at_any_width(width, height):
    async with running(width=width, height=height) as pilot:
        text = await press(pilot, "d")
        assert "1 ft 9 in" in text
        for line in text.splitlines()[2:8]:
            assert not line.rstrip().endswith(("ft", "/"))
            assert "…" not in line
