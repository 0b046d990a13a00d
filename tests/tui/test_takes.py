"""Takes: logged, noted, marked good or not, deleted, by keys alone from a cold start."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from forescale.engine.kit import library
from forescale.engine.shot.records import Take
from tests.tui.app_pilot import press, running
from tests.tui.sizes import every_size_and_table


async def test_without_takes_the_list_says_how_to_log_one_and_what_it_would_say() -> None:
    async with running() as pilot:
        text = await press(pilot, "t")
        assert "No takes yet: a logs one" in text
        assert "120 fps, 180 deg, T20, focus 18 ft 1 5/8 in, ISO 800" in text
        for key in ("t", "x", "c"):
            assert "No takes yet" in await press(pilot, key)


async def test_one_key_logs_a_take_not_judged_yet_with_what_was_set() -> None:
    async with running() as pilot:
        text = await press(pilot, "t", "a")
        assert "Take 1 is logged: t says whether it was good" in text
        (take,) = pilot.app.session.state.shot.take
        assert take.good is None
        assert take.number == 1
        assert take.time.tzinfo is None
        assert "slide 63 mm" in take.set


async def test_the_newest_stands_first_with_what_was_set_for_the_one_in_hand() -> None:
    async with running() as pilot:
        await press(pilot, "t", "a", "escape", "m", "text:11 ft", "enter", "d", "t", "text:leave", "enter", "escape")
        text = await press(pilot, "t", "a")
        numbers = [line.split()[0] for line in text.splitlines() if line[1:2].isdigit()][:2]
        assert numbers == ["2", "1"]
        assert "model at 11 ft" in text
        assert "model at 10 ft" in await press(pilot, "down")


async def test_a_note_is_typed_and_typed_over() -> None:
    async with running() as pilot:
        text = await press(pilot, "t", "a", "enter", "text:gust of wind", "enter")
        assert "gust of wind" in text
        text = await press(pilot, "enter", "text:good one after all", "enter")
        assert "good one after all" in text
        assert "gust" not in text
        text = await press(pilot, "enter", "text:never", "escape")
        assert "never" not in text
        assert pilot.app.session.state.shot.take[0].note == "good one after all"


async def test_the_first_line_says_that_a_key_logs() -> None:
    for width in (40, 80):
        async with running(width=width) as pilot:
            assert "a logs one" in (await press(pilot, "t")).splitlines()[0]


async def test_a_take_is_judged_good_then_no_good_then_not_yet() -> None:
    async with running() as pilot:
        seen = [(await press(pilot, *keys)).splitlines()[2].split()[3:] for keys in (("t", "a"), "t", "t", "t")]
        assert seen == [["-"], ["good"], ["no", "good"], ["-"]]
        assert pilot.app.session.state.shot.take[0].good is None


@pytest.mark.parametrize(("line", "good"), [("good = true\n", True), ("good = false\n", False), ("", None)])
async def test_what_a_file_says_of_a_take_is_kept(tmp_path: Path, line: str, good: bool | None) -> None:
    path = tmp_path / "old.toml"
    body = library.shot_path("kiln-stack").read_text()
    path.write_text(f'{body}\n[[take]]\ntime = 2026-07-14T09:30:00\nset = "120 fps"\n{line}')
    shot = library.load_shot(path)
    assert shot.take[0].good is good
    library.save_shot(path, shot)
    assert library.load_shot(path).take[0].good is good
    assert line.strip() in path.read_text()


async def test_undo_in_the_log_says_what_it_undid() -> None:
    async with running() as pilot:
        assert "Undone: a take is gone" in await press(pilot, "t", "a", "u")
        assert "Redone: a take is back" in await press(pilot, "r")
        assert "Undone: a change of the takes" in await press(pilot, "t", "u")


async def test_a_deleted_take_keeps_the_others_numbers_and_undo_brings_it_back() -> None:
    async with running() as pilot:
        text = await press(pilot, "t", "a", "a", "a", "down", "x")
        assert "Take 2 is deleted" in text
        assert [take.number for take in pilot.app.session.state.shot.take] == [1, 3]
        await press(pilot, "a")
        assert [take.number for take in pilot.app.session.state.shot.take] == [1, 3, 4]
        await press(pilot, "u", "u")
        assert [take.number for take in pilot.app.session.state.shot.take] == [1, 2, 3]
        await press(pilot, "r")
        assert [take.number for take in pilot.app.session.state.shot.take] == [1, 3]


async def test_takes_are_saved_and_stand_on_the_sheet(tmp_path: Path) -> None:
    path = tmp_path / "night.toml"
    async with running() as pilot:
        await press(pilot, "t", "a", "enter", "text:gust", "enter", "t", "escape")
        await press(pilot, "w", "backspace", f"text:{path}", "enter")
    async with running(str(path), width=100, height=60) as pilot:
        assert "gust" in await press(pilot, "t")
        await press(pilot, "escape", "f5")
        assert "gust" in await press(pilot, "slash", "text:gust", "enter")


async def test_what_would_act_on_the_terminal_is_not_sent_to_it(tmp_path: Path) -> None:
    shot = library.load_shot(library.shot_path("kiln-stack"))
    take = Take(time=datetime(2026, 7, 14, 9, 30), set="as planned \x1b[31m", note="\x1b]0;gust\x07 [b]")
    library.save_shot(tmp_path / "odd.toml", shot.model_copy(update={"take": (take,)}))
    async with running(str(tmp_path / "odd.toml")) as pilot:
        text = await press(pilot, "t")
        assert "?]0;gust? [b]" in text
        assert "as planned ?[31m" in text
        assert "\x1b" not in text


@every_size_and_table()
async def test_every_size_shows_the_log_whole(width: int, height: int, glyphs: str) -> None:
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        note = "a gust took the smoke to the left"
        text = await press(pilot, "t", "a", "a", "enter", f"text:{note}", "enter")
        joined = " ".join(text.split())
        assert all(word in joined for word in note.split())
        for part in ("120 fps, 180 deg, T20", "18 ft 1 5/8 in", "slide 63 mm", "model at 10 ft", "background 240 ft"):
            assert part in joined
        assert "a log" in text
        if glyphs == "ascii":
            assert text.isascii()


async def test_a_take_is_held_beside_now_and_beside_another_and_gone_back_to() -> None:
    async with running() as pilot:
        await press(
            pilot, "t", "a", "escape", "m", "text:11 ft", "enter", "d", "t", "text:leave", "enter", "escape", "t", "a"
        )
        assert [state.name for state in pilot.app.session.state.shot.state] == ["take 1", "take 2"]
        assert "They do not differ" in await press(pilot, "c", "c")
        text = await press(pilot, "escape", "down", "c", "c")
        assert "take 1" in text
        assert "11 ft" in text
        assert "take 1 is the first of two" in (await press(pilot, "escape", "c")).lower()
        text = await press(pilot, "up", "c")
        assert "take 1" in text
        assert "take 2" in text
        text = await press(pilot, "escape", "down", "b")
        assert "Set as for take 1" in text
        assert pilot.app.session.state.shot.place.model == pytest.approx(3048)
        assert len(pilot.app.session.state.shot.take) == 2
        await press(pilot, "u")
        assert pilot.app.session.state.shot.place.model == pytest.approx(3352.8)


async def test_weather_and_model_are_a_line_each_and_stand_with_what_was_set() -> None:
    async with running() as pilot:
        await press(pilot, "t", "a", "e", "enter", "text:thin cloud", "enter", "text:second rebuild", "enter")
        text = " ".join((await press(pilot)).split())
        assert "weather: thin cloud; model: second rebuild" in text
        (take,) = pilot.app.session.state.shot.take
        assert (take.weather, take.model, take.note) == ("thin cloud", "second rebuild", "")


async def test_a_take_of_an_older_file_has_no_state_and_says_so(tmp_path: Path) -> None:
    shot = library.load_shot(library.shot_path("kiln-stack"))
    take = Take(time=datetime(2026, 7, 14, 9, 30), set="as planned")
    library.save_shot(tmp_path / "old.toml", shot.model_copy(update={"take": (take,)}))
    async with running(str(tmp_path / "old.toml")) as pilot:
        await press(pilot, "t")
        for key in ("c", "b"):
            assert "No state was stored with this take" in await press(pilot, key)


async def test_the_last_take_of_a_state_takes_it_along() -> None:
    async with running() as pilot:
        await press(pilot, "t", "a", "a", "x")
        assert len(pilot.app.session.state.shot.state) == 1
        await press(pilot, "x")
        assert pilot.app.session.state.shot.state == ()


async def test_esc_goes_back_from_the_weather_of_a_take_to_its_note() -> None:
    async with running() as pilot:
        text = await press(pilot, "t", "a", "e", "text:fine", "enter", "text:rain", "escape")
        assert "Note: fine" in text
        assert pilot.app.session.state.shot.take[0].note == ""
        await press(pilot, "enter", "text:dry", "enter", "text:new paint", "enter")
        take = pilot.app.session.state.shot.take[0]
        assert (take.note, take.weather, take.model) == ("fine", "dry", "new paint")


async def test_a_note_can_be_typed_for_the_first_of_two_takes() -> None:
    async with running() as pilot:
        await press(pilot, "t", "a", "a", "c", "enter", "text:fine", "enter")
        assert pilot.app.session.state.shot.take[1].note == "fine"
