"""The survey by its keys alone: what is typed, what it gives, and one key to put each result into the shot."""

from __future__ import annotations

import pytest

from forescale.tui.glyphs import SAFE_ON_CONSOLE
from tests.tui.app_pilot import press, running, screen_text
from tests.tui.sizes import every_size_and_table


def flat(text: str) -> str:
    """Return a screen's text with every run of blanks as one, so that a wrapped sentence reads on."""
    return " ".join(text.split())


async def test_size_from_distance_goes_on_the_build_list():
    async with running("lock-gate") as pilot:
        text = await press(pilot, "y", "down", "enter", "text:450/2048 px")
        assert "read as 21.97 % of the frame's width, 450 px" in text
        text = flat(await press(pilot, "enter"))
        width = pilot.app.session.state.answer.survey.feature_width_mm
        assert f"Width {width / 1000:.3f}".rstrip("0") in text
        assert "for 21.97 % of the frame's width, at 36 m, as taped" in text
        text = await press(pilot, "p", "text:width", "enter", "text:gate front")
        assert "read as gate front goes on the build list at" in text
        text = flat(await press(pilot, "enter"))
        assert "gate front goes on the build list at" in text
        part = pilot.app.session.state.shot.build[-1]
        assert part.part == "gate front"
        assert part.real == pytest.approx(width, abs=5)
        await press(pilot, "u")
        assert "gate front" not in [part.part for part in pilot.app.session.state.shot.build]


async def test_distance_from_size_becomes_the_backgrounds_said_before_and_after():
    async with running() as pilot:
        text = flat(await press(pilot, "y", "down", "enter", "text:22 %", "enter", "enter", "text:20", "enter"))
        found = pilot.app.session.state.answer.survey.distance_mm
        assert "at which 20 ft spans 22 % of the frame's width: p makes it the background's, now 240 ft" in text
        text = flat(await press(pilot, "p", "enter"))
        assert "The background is now at" in text
        assert "was 240 ft" in text
        assert pilot.app.session.state.shot.place.background == pytest.approx(found, abs=13)  # to an inch
        await press(pilot, "u")
        assert pilot.app.session.state.shot.place.background == pytest.approx(240 * 304.8)


async def test_height_from_elevation_and_lens_height_becomes_the_one_to_meet():
    async with running() as pilot:
        text = flat(await press(pilot, "y", *["down"] * 4, "enter", "text:9.5", "enter"))
        assert "p makes it the tie-in height, now 20 ft" in text
        text = flat(await press(pilot, "p", "text:height", "enter"))
        found = pilot.app.session.state.answer.survey.feature_height_mm
        assert pilot.app.session.state.shot.place.feature_height == pytest.approx(found, abs=13)
        assert "The tie-in height is now" in text
        assert "was 20 ft" in text


async def test_visibility_says_what_to_do_to_the_paint():
    async with running() as pilot:
        text = flat(await press(pilot, "y", *["down"] * 7, "enter", "text:1", "enter"))
        # 240 ft of a mile: exp(-2.996 × 240 / 5280) = 0.873, a hair more from the pupil.
        assert pilot.app.session.state.shot.survey[0].visibility == pytest.approx(1609344)
        assert "leaves 87 % of its contrast at 240 ft, as taped: lift the model's paint 13 %" in text


async def test_each_field_says_in_a_line_how_it_is_measured():
    async with running() as pilot:
        said = [await press(pilot, "y")]
        said += [await press(pilot, "down") for _ in range(9)]
        for text, wanted in zip(
            said,
            (
                *("Any words", "Freeze the picture", "yardstick", "staff", "inclinometer", "grown by a third"),
                *("straight towards", "weather report", "rangefinder", "lens axis"),
            ),
            strict=True,
        ):
            assert wanted in flat(text)


async def test_a_bad_entry_keeps_its_text_says_why_and_changes_nothing():
    async with running() as pilot:
        before = pilot.app.session.state
        await press(pilot, "y", "down", "enter")
        for wrong, why in (("22", "more than the whole frame"), ("nan", "not a number"), ("0", "out of range")):
            text = await press(pilot, "home", "ctrl+k", f"text:{wrong}", "enter")
            assert why in flat(text)
            assert f"frame share: {wrong}" in text
        await press(pilot, "escape", "down", "down", "down", "enter")
        assert "out of range" in await press(pilot, "text:90", "enter")
        assert pilot.app.session.state is before
        await press(pilot, "escape", "escape")
        assert pilot.app.session.state is before


async def test_a_field_is_cleared_by_key_or_empty_entry_but_not_the_background():
    async with running() as pilot:
        await press(pilot, "y", "down", "enter", "text:0.3", "enter", "up", "x")
        assert pilot.app.session.state.shot.survey == ()
        await press(pilot, "enter", "text:0.3", "enter", "up", "enter", "home", "ctrl+k", "enter")
        assert pilot.app.session.state.shot.survey == ()
        text = await press(pilot, *["down"] * 6, "x")
        assert "The background needs a distance" in text
        assert pilot.app.session.state.shot.place.background == pytest.approx(240 * 304.8)
        pilot.app.session.apply({"point": None, "outline": None, "place.aim": None})  # which need the lens's height
        before = pilot.app.session.state
        await press(pilot, "home", "x")
        assert pilot.app.session.state is before  # of a reading that is not begun nothing is left out
        await press(pilot, "end", "x")
        assert before.shot.place.lens_height is not None
        assert pilot.app.session.state.shot.place.lens_height is None


@pytest.mark.parametrize("key", ["distance", "height", "width"])
async def test_what_is_not_found_yet_is_not_put_in(key: str):
    async with running() as pilot:
        before = pilot.app.session.state
        assert f"no {key} is found yet" in flat(await press(pilot, "y", "p", f"text:{key}", "enter"))
        assert pilot.app.session.state is before


@every_size_and_table()
async def test_fields_and_results_fit_and_show_only_what_the_terminal_has(width: int, height: int, glyphs: str):
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        typed = ["down", "enter", "text:22 %", "enter", "enter", "text:20", "enter"]
        typed += ["down", "enter", "text:9.5", "enter", "down", "down", "enter", "text:1", "enter"]
        seen = [await press(pilot, "y", *typed), *[await press(pilot, key) for key in ("home", "tab", "end")]]
        for text in seen:
            lines = text.splitlines()
            assert len(lines) == height
            assert all(len(line) == width for line in lines)
            if glyphs == "box":
                assert set(text) - {"\n"} <= SAFE_ON_CONSOLE
            if glyphs == "ascii":
                assert text.isascii()
        together = flat(" ".join(seen))
        for wanted in (
            "frame share 22 %",
            "feature width 20 ft",
            "visibility 1 mi",
            "at which 20 ft spans 22 %",
            "paint",
        ):
            assert wanted in together
        assert screen_text(pilot) == seen[-1]


async def test_a_second_reading_is_begun_named_left_and_all_count_anew():
    async with running() as pilot:
        text = await press(
            pilot, "y", "down", "enter", "text:22 %", "enter", "a", "home", "enter", "text:shed", "enter"
        )
        assert "Survey, reading 2 of 2" in text
        assert [row.name for row in pilot.app.session.state.shot.survey] == ["", "shed"]
        text = await press(pilot, "left")
        assert "reading 1 of 2" in text
        assert "22 % of the frame's width" in " ".join(text.split())
        await press(pilot, "escape")
        pilot.app.session.apply({"place.background": "200 ft"})
        assert pilot.app.session.state.shot.survey[0].background == pytest.approx(240 * 304.8)
        text = flat(await press(pilot, "y"))
        assert "Read before the background was re-measured" in text
        text = flat(await press(pilot, "space", "text:from here", "enter"))
        assert "Every reading now counts as read with this kit and from here" in text
        assert pilot.app.session.state.shot.survey[0].background is None
        await press(pilot, "home", "down", "x")
        assert [row.name for row in pilot.app.session.state.shot.survey] == ["shed"]


async def test_a_tape_entered_in_the_survey_was_so_when_the_picture_was_read():
    async with running() as pilot:
        await press(pilot, "y", "down", "enter", "text:22 %", "enter", *["down"] * 6, "enter", "home", "ctrl+k")
        await press(pilot, "text:200", "enter")
        shot = pilot.app.session.state.shot
        assert shot.place.background == pytest.approx(200 * 304.8)
        assert shot.survey[0].background is None
        assert {row.background for row in shot.bench} == {240 * 304.8}


async def test_what_an_entry_came_to_is_not_said_of_another_reading():
    async with running(height=20) as pilot:
        keys = ("y", "down", "enter", "text:22 %", "enter", "a", "home", "down", "enter", "text:40 %", "enter")
        assert "for 40 % of the frame's width" in flat(await press(pilot, *keys))
        assert "40 %" not in await press(pilot, "left")
        assert "40 %" not in await press(pilot, "tab")


async def test_an_elevation_from_nearer_must_be_farther_from_level():
    async with running() as pilot:
        await press(pilot, "y", *["down"] * 4, "enter", "text:12", "enter")
        assert "seen farther from level" in flat(await press(pilot, "enter", "text:9", "enter"))
        assert pilot.app.session.state.shot.survey[0].elevation_nearer is None
