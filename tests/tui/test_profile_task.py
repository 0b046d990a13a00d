"""Making and editing profiles, keys only and from a cold start: each kind of field, rows, refusals, saving, clashes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from forescale.engine.kit import library
from forescale.tui.tasks.kit.profile import _label
from tests.tui.app_pilot import press, running, screen_text
from tests.tui.sizes import every_size

CLEAR = ("home", "ctrl+k")
LENS_ROW = {"title": 1, "focal": 3, "marks": 4, "widest": 5, "last": 6, "loss": 7, "close": 8, "squeeze": 9}
WRONG_IN_A_LENS = [
    (0, "my lens", "my-lens is one of yours already"),
    (0, "/", "a name is needed"),
    (LENS_ROW["focal"], "wide", "not a focal length"),
    (LENS_ROW["focal"], "17-50", "17 to 50 mm for a zoom"),
    (LENS_ROW["focal"], "80 to 24", "write the shorter first"),
    (LENS_ROW["focal"], "0", "out of range"),
    (LENS_ROW["focal"], "400 mm", "close focus lies inside"),
    (LENS_ROW["marks"], "x", "write f or T"),
    (LENS_ROW["widest"], "T", "not a stop"),
    (LENS_ROW["widest"], "f/2", "the lens is marked in T-stops"),
    (LENS_ROW["widest"], "22", "must be a smaller number"),
    (LENS_ROW["loss"], "nan", "not a number"),
    (LENS_ROW["loss"], "5", "out of range"),
    (LENS_ROW["close"], "1,500", "1500 or 1.5?"),
    (LENS_ROW["close"], "-1 ft", "out of range"),
    (LENS_ROW["squeeze"], "0.5", "out of range"),
    (LENS_ROW["close"], "", "is missing and is needed"),
]
WRONG_IN_A_CAMERA = [
    (3, "", "is missing and is needed"),
    (3, "4K full width", "two modes are called"),
    (4, "16,6 px", "not a unit of length"),
    (6, "2048.5", "whole number of pixels"),
    (6, "8", "out of range"),
    (8, "24,25", "put a space between rates"),
    (8, "fast", "not a number"),
    (8, "120 to 24", "write the lower rate first"),
    (9, "6400", "base ISO 6400 is above top ISO 3200"),
    (8, "1 to 300", "readout 5 ms is longer than a frame: a frame at 300 fps lasts 3.33 ms"),
    (11, "6400", "lowest ISO 6400 is above base ISO 800"),
    (12, "5 mm", "not a unit of time"),
    (12, "9 ms", "readout 9 ms is longer than a frame: a frame at 120 fps lasts 8.33 ms"),
    (13, "0", "out of range"),
]


def said(text: str) -> str:
    """Return a screen's words without its line ends."""
    return " ".join(text.split())


async def own_lens(pilot, name: str = "my-lens") -> None:
    """Copy the shot's lens under a name and save it, the screen staying on it."""
    await press(pilot, "k", "tab", "e", *CLEAR, f"text:{name}", "enter", "s")


async def typed(pilot, downs: int, text: str) -> str:
    """Type into the field so many rows down, beginning at the one in hand."""
    return await press(pilot, *["down"] * downs, "enter", *CLEAR, f"text:{text}", "enter")


def saved_lens(name: str = "my-lens"):
    """Return a lens as its file has it."""
    return library.lens(name)


async def test_a_lens_is_made_from_nothing_edited_and_saved(home: Path):
    async with running() as pilot:
        text = await press(pilot, "k", "tab", "n", "text:old-fifty", "enter")
        assert "Starting values: change what is not so." in text
        assert "not saved" in text
        await typed(pilot, LENS_ROW["focal"], "40 mm")
        await typed(pilot, 3, "0.25")
        assert "· saved ·" in await press(pilot, "s")
        assert (home / "lenses" / "old-fifty.toml").exists()
        lens = saved_lens("old-fifty")
        assert (lens.focal_length, lens.transmission_loss) == (40, 0.25)


async def test_starting_values_are_noted_only_until_one_is_changed():
    async with running() as pilot:
        await press(pilot, "k", "n", "text:untouched", "enter", "s")
        assert library.camera("untouched").notes == "Starting values: change what is not so."
        text = await press(pilot, "down", "enter", "text:My camera", "enter", "s")
        assert "Starting values" not in text
        assert library.camera("untouched").notes == ""
        await press(pilot, "down", "enter", "text:Hired until June", "enter", "u", "u")
        assert pilot.shown.profile.notes == "Starting values: change what is not so."


@pytest.mark.parametrize(("width", "height"), [(40, 15), (60, 20), (80, 24)])
async def test_a_longer_list_says_so_and_the_selected_field_is_in_sight(width, height):
    async with running(width=width, height=height) as pilot:
        text = await press(pilot, "k", "e", "enter")
        count = len(pilot.shown.fields)
        for place in range(1, count):
            assert f"{place} of {count}" in text.splitlines()[0]
            assert _in_hand(pilot) in text
            text = await press(pilot, "down")
        assert f"{count} of {count}" in (await press(pilot, "end")).splitlines()[0]


async def test_a_field_stays_in_sight_when_its_change_makes_more_to_say():
    async with running(width=40, height=15) as pilot:
        await press(pilot, "k", "n", "text:mine", "enter")
        text = await typed(pilot, 7, "2550")
        assert "2550" in text


async def test_a_list_that_is_whole_does_not_say_where_one_is():
    async with running(height=60) as pilot:
        assert not re.search(r"\d+ of \d+", await press(pilot, "k", "tab", "e", "enter"))


def _in_hand(pilot) -> str:
    """Return the label of the field in hand."""
    return _label(pilot.shown.place)


def _is_field(pilot, line: str) -> bool:
    labels = {_label(place).rstrip() for place in pilot.shown.fields}
    return any(line[1:].startswith(f"{label} ") for label in labels)


@pytest.mark.parametrize("shelf", ["cameras", "lenses", "heads"])
async def test_each_kind_of_profile_is_made_from_nothing(shelf, home: Path):
    async with running() as pilot:
        await press(pilot, "k", *["tab"] * ("cameras", "lenses", "heads").index(shelf), "n", "text:made", "enter", "s")
        assert library.load_profile(library.PROFILES[shelf], home / shelf / "made.toml").name == "made"


async def test_a_shipped_profile_is_copied_on_edit_and_the_same_name_hides_it(home: Path):
    shipped = (library.SHIPPED / "lenses" / "demo-prime-35.toml").read_bytes()
    async with running() as pilot:
        text = said(await press(pilot, "k", "tab", "e"))
        assert "demo-prime-35, which will hide the built-in one of that name" in text
        await press(pilot, "enter")
        # A lens that squeezes to half the width sees twice as wide.
        assert "(× 2)" in said(await typed(pilot, LENS_ROW["squeeze"], "2"))
        assert pilot.app.session.state.kit.lens.squeeze == 1
        await press(pilot, "s")
        assert pilot.app.session.state.kit.lens.squeeze == 2
        text = await press(pilot, "escape")
        assert "yours, hides built-in" in text
    assert (library.SHIPPED / "lenses" / "demo-prime-35.toml").read_bytes() == shipped
    assert (home / "lenses" / "demo-prime-35.toml").exists()


@pytest.mark.thorough
async def test_wrong_entries_of_a_lens_keep_their_text_and_change_nothing(home: Path):
    async with running() as pilot:
        await own_lens(pilot)
        before = (home / "lenses" / "my-lens.toml").read_bytes()
        for row, wrong, why in WRONG_IN_A_LENS:
            text = said(await typed(pilot, row, wrong))
            assert why in text, (row, wrong)
            assert "Enter takes it" in text, (row, wrong)
            assert "· saved ·" in await press(pilot, "escape", "s", *["up"] * row), (row, wrong)
        assert (home / "lenses" / "my-lens.toml").read_bytes() == before


async def test_a_name_that_no_file_can_have_is_made_plain_and_said():
    async with running() as pilot:
        text = await press(pilot, "k", "n", "text:My field cam")
        assert "read as my-field-cam" in text
        await press(pilot, "enter", "s")
        assert library.camera("my-field-cam").name == "my-field-cam"
        assert "read as other-cam" in await press(pilot, "enter", *CLEAR, "text:Other cam")


@pytest.mark.thorough
async def test_wrong_entries_of_a_camera_are_refused_with_the_reason():
    async with running() as pilot:
        await press(pilot, "k", "e", *CLEAR, "text:my-camera", "enter")
        before = pilot.shown.profile
        for row, wrong, why in WRONG_IN_A_CAMERA:
            assert why in said(await typed(pilot, row, wrong)), (row, wrong)
            await press(pilot, "escape", *["up"] * row)
        assert pilot.shown.profile is before


async def test_rates_focal_lengths_times_and_days_are_read_back_as_understood():
    async with running() as pilot:
        await press(pilot, "k", "e", *CLEAR, "text:my-camera", "enter")
        await press(pilot, *["down"] * 8, "enter", *CLEAR)
        assert "read as 1 to 200" in await press(pilot, "text:1 to 200")
        assert "read as 24 30 60" in await press(pilot, *CLEAR, "text:60, 24, 30 fps")
        await press(pilot, "escape", *["down"] * 4, "enter", *CLEAR)
        assert "read as 7.5 ms" in await press(pilot, "text:7.5")


async def test_modes_are_added_moved_taken_away_and_brought_back():
    async with running() as pilot:
        await press(pilot, "k", "e", *CLEAR, "text:my-camera", "enter", "tab")
        text = await press(pilot, "a", *CLEAR, "text:slow motion", "enter")
        assert "Size, pixels: 16.6 x 9.35 mm, 2048 x 1152" in text  # as the mode in hand has them
        await press(pilot, *CLEAR, "text:17.3 x 9.75 mm, 3072 x 1728", "enter")
        text = await press(pilot)
        assert [line.split()[1] for line in text.splitlines() if line.startswith(" mode")][:1] == ["1"]
        modes = pilot.shown.profile.mode
        assert [mode.name for mode in modes] == ["2K centre crop", "slow motion", "4K full width"]
        assert (modes[1].width, modes[1].height, modes[1].width_px, modes[1].height_px) == (17.3, 9.75, 3072, 1728)
        assert (modes[1].fps, modes[1].readout) == (modes[0].fps, None)
        await press(pilot, "k")
        assert pilot.shown.profile.mode[0].name == "slow motion"
        await press(pilot, "x")
        assert [mode.name for mode in pilot.shown.profile.mode] == ["2K centre crop", "4K full width"]
        await press(pilot, "u", "u", "u")
        assert [mode.name for mode in pilot.shown.profile.mode] == ["2K centre crop", "4K full width"]
        assert "Nothing to undo" in await press(pilot, "u")
        await press(pilot, "r")
        assert len(pilot.shown.profile.mode) == 3


async def test_a_pupil_row_asks_for_all_that_it_needs_and_is_nothing_until_then():
    async with running() as pilot:
        await press(pilot, "k", "tab", "down", "e", *CLEAR, "text:my-75", "enter")
        await press(pilot, "a", "text:10")
        assert "read as 10 ft" in screen_text(pilot)
        await press(pilot, "enter")
        assert pilot.shown.profile.pupil == ()
        assert "not a length" in await press(pilot, "text:far", "enter")
        await press(pilot, *CLEAR, "text:-12.5", "enter")
        [row] = pilot.shown.profile.pupil
        assert (row.focal_length, row.focus, row.ahead) == (75, 3048, -12.5)
        text = await typed(pilot, 4, "2026-13-01")
        assert "is not a day" in text


async def test_what_would_break_the_shot_is_refused_with_the_reason():
    async with running() as pilot:
        await press(pilot, "k", "e", "enter", "s")
        text = said(await typed(pilot, 0, "renamed"))
        assert "demo-cine-35 is used by this shot, so its name must stay" in text
        await press(pilot, "escape")
        text = said(await press(pilot, "tab", "x"))
        assert 'demo-cine-35 has no mode "2K centre crop"' in text
        text = said(await typed(pilot, 0, "2K"))
        assert 'has no mode "2K centre crop"' in text
        await press(pilot, "escape", "escape", "tab", "tab", "e", "enter")
        text = said(await typed(pilot, 4, "50"))
        assert "63 mm is off the slide of demo-slide-head, which runs 0 mm to 50 mm" in text
        await press(pilot, "escape")
        assert pilot.shown.profile.slide_max == 120


async def test_a_prime_in_use_becomes_a_zoom_only_once_the_shot_says_how_long():
    async with running() as pilot:
        await press(pilot, "k", "tab", "e", "enter")
        text = said(await typed(pilot, LENS_ROW["focal"], "24 to 80"))
        assert "is a zoom; set it from 24 mm to 80 mm" in text


async def test_a_profile_changed_elsewhere_is_never_written_over_in_silence(home: Path):
    path = home / "lenses" / "my-lens.toml"
    async with running() as pilot:
        await own_lens(pilot)
        theirs = path.read_text().replace("Demo prime 35 mm", "Theirs")
        path.write_text(theirs)
        await typed(pilot, LENS_ROW["title"], "Mine")
        text = said(await press(pilot, "s"))
        assert "my-lens was changed elsewhere" in text
        assert path.read_text() == theirs
        await press(pilot, "g")
        assert pilot.shown.profile.title == "Theirs"
        await press(pilot, "u")
        assert pilot.shown.profile.title == "Mine"
        await press(pilot, "s")
        assert saved_lens().title == "Mine"


async def test_over_is_a_second_key_and_does_nothing_before_the_clash_was_told(home: Path):
    path = home / "lenses" / "my-lens.toml"
    async with running() as pilot:
        await own_lens(pilot)
        path.write_text(path.read_text().replace("Demo prime 35 mm", "Theirs"))
        await typed(pilot, LENS_ROW["title"], "Mine")
        assert "Nobody else has changed the file" in said(await press(pilot, "g"))
        assert saved_lens().title == "Theirs"
        await press(pilot, "s")
        assert saved_lens().title == "Theirs"
        await press(pilot, "s")
        assert saved_lens().title == "Mine"


async def test_a_clash_can_be_saved_under_another_name(home: Path):
    path = home / "lenses" / "my-lens.toml"
    async with running() as pilot:
        await own_lens(pilot)
        path.write_text(path.read_text().replace("Demo prime 35 mm", "Theirs"))
        await typed(pilot, LENS_ROW["title"], "Mine")
        await press(pilot, "s", "w")
        assert "is one of yours already" in said(await press(pilot, "enter"))
        await press(pilot, *CLEAR, "text:mine-too", "enter")
        assert (saved_lens().title, saved_lens("mine-too").title) == ("Theirs", "Mine")


async def test_unsaved_work_comes_back_when_the_program_is_started_again():
    async with running() as pilot:
        await own_lens(pilot)
        await typed(pilot, LENS_ROW["title"], "Half done")
    async with running() as pilot:
        text = await press(pilot, "k", "tab", "down", "down", "down")
        assert "yours, not saved" in text
        text = said(await press(pilot, "e"))
        assert "Unsaved work was brought back" in text
        assert pilot.shown.profile.title == "Half done"
        await press(pilot, "u")
        assert pilot.shown.profile.title == "Demo prime 35 mm"


async def test_a_renamed_profile_takes_its_file_with_it(home: Path):
    async with running() as pilot:
        await own_lens(pilot)
        await typed(pilot, 0, "renamed")
        await press(pilot, "s")
    assert [path.name for path in (home / "lenses").glob("*")] == ["renamed.toml"]


@every_size()
async def test_every_field_can_be_reached_and_read_at_any_size(width, height):
    shown = (("2K centre crop", "data rate"), ("close focus", "T22", "25.8 mm"), ("-86 mm", "tilt ahead"))
    async with running("kiln-stack", width, height) as pilot:
        await press(pilot, "k")
        for words in shown:
            seen = await press(pilot, "e", "enter")
            for _ in range(len(pilot.shown.fields)):
                text = await press(pilot, "down")
                lines = text.splitlines()
                assert len(lines) == height
                assert all(len(line) <= width for line in lines)
                assert lines[-1].rstrip().endswith("Esc back")
                seen += text
            for word in words:
                assert word in seen
            await press(pilot, "escape", "tab")


async def test_a_new_profile_that_will_hide_a_built_in_one_says_so_at_once() -> None:
    async with running() as pilot:
        keys = ("k", "n", *CLEAR, "text:demo-cine-35", "enter")
        assert "demo-cine-35, which will hide the built-in one of that name" in said(await press(pilot, *keys))


async def test_a_prime_whose_pupil_was_found_at_another_focal_length_says_so() -> None:
    async with running() as pilot:
        await own_lens(pilot)
        seen = await press(pilot, "home", *["down"] * LENS_ROW["focal"], "enter", *CLEAR, "text:40 mm", "enter")
        assert "a pupil of it was found at 35 mm, and the lens itself is said to be of 40 mm" in said(seen)
