"""The sizes of a part and what the model stands by, by keys alone."""

from __future__ import annotations

from tests.tui.app_pilot import press, running


async def test_a_part_gets_its_sizes_and_its_weight() -> None:
    async with running("kiln-stack") as pilot:
        text = await press(pilot, "p", "v", "enter", "text:6 ft 9 in", "enter", "enter", "text:6 ft 9 in", "enter")
        part = pilot.app.session.state.shot.build[0]
        assert (part.wide, part.deep) == (2057.4, 2057.4)
        text = await press(pilot, "down", "down", "enter", "text:600 kg/m3", "enter")
        assert pilot.app.session.state.shot.build[0].density == 600
        # 2057.4 mm square and 60 ft, over 24 cubed, 600 kg to the cubic metre: 3.36 kg, 7.41 lb.
        assert "weighs 7.41 lb" in " ".join(text.split())
        await press(pilot, "up", "x")
        assert pilot.app.session.state.shot.build[0].density is None
        await press(pilot, "u")
        assert pilot.app.session.state.shot.build[0].density == 600


async def test_the_wind_to_stop_at_stands_below_what_is_typed() -> None:
    async with running("lock-gate") as pilot:
        await press(pilot, "p", "i", "enter", "text:1 m2", "enter", "enter", "text:0.5 m", "enter")
        await press(pilot, "enter", "text:20 kg", "enter", "down", "enter", "text:1 m", "enter")
        text = await press(pilot, "up")
        assert pilot.app.session.state.answer.stand is not None
        assert "STOP AND CLEAR AT: 6.8 m/s" in " ".join(text.split())


async def test_what_hangs_is_asked_nothing_of_a_foot_and_says_why() -> None:
    async with running("lock-gate") as pilot:
        pilot.app.session.apply({"place.mount": "hangs", "stand.foot_deep": "1 m"})
        text = await press(pilot, "p", "i")
        assert "for licensed riggers and local codes" in " ".join(text.split())
        assert not any(label in text for label in ("foot depth", "lee edge", "friction", "ballast "))
        assert "wind area" in text


async def test_a_bad_entry_says_why_and_changes_nothing() -> None:
    async with running("lock-gate") as pilot:
        before = pilot.app.session.state.shot
        text = await press(pilot, "p", "i", "enter", "text:12 kg", "enter")
        assert '"kg" is not a unit of area' in " ".join(text.split())
        assert pilot.app.session.state.shot == before
