"""The bench by its keys alone: readings in three ways, what they give, the pupil stored, the slide set."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from forescale.engine.files.toml_files import write_toml
from forescale.engine.kit import library
from forescale.engine.shot.records import Shot
from forescale.tui.diagrams import curves
from forescale.tui.diagrams.canvas import BRAILLE
from forescale.tui.glyphs import ASCII, FULL, GLYPHS, SAFE_ON_CONSOLE
from forescale.tui.runs import row_text
from tests.tui.app_pilot import press, running, screen_text
from tests.tui.sizes import every_size_and_table

DEMO = "demo-prime-35"


def readings(pilot) -> list[tuple[object, ...]]:
    """Return slide and slip of every reading as the shot has them."""
    return [(row.slide, row.slip_px, row.slip_at_background, row.seen) for row in pilot.app.session.state.shot.bench]


def flat(text: str) -> str:
    """Return a screen's text with every run of blanks as one, so that a wrapped sentence reads on."""
    return " ".join(text.split())


def without_readings(path: Path, **fields: str | None) -> str:
    """Write the kiln stack without readings, fields such as move_slide changed, and return where."""
    shot = library.load_shot(library.SHIPPED / "shots" / "kiln-stack.toml")
    table = shot.model_copy(update={"bench": ()}).dump()
    for name, value in fields.items():
        section, key = name.split("_", 1)
        table[section].pop(key, None)
        if value is not None:
            table[section][key] = value
    Shot.read(table, "test")
    write_toml(path, table)
    return str(path)


# Readings


async def test_from_a_bare_bench_to_a_stored_pupil_and_the_slide_on_it(tmp_path: Path, home: Path):
    """The whole job, keys only: five readings, as they fall for a pupil 24 mm ahead, stored, and the slide set."""
    shot = without_readings(tmp_path / "bare.toml", move_slide=None)
    async with running(shot) as pilot:
        text = await press(pilot, "b")
        assert "No readings yet" in text
        assert "Read at 30 mm and 90 mm first" in text
        for slide, slip in (("20", "-16"), ("40", "-8"), ("62", "0"), ("85", "9"), ("105", "17")):
            await press(pilot, "a", f"text:{slide}", "enter", f"text:{slip}", "enter")
        text = flat(screen_text(pilot))
        found = pilot.app.session.state.answer.slip.bench
        assert f"Zero at {found.slide_for_zero_mm:.1f} mm ±" in text
        assert "Good enough" in text
        await press(pilot, "s")
        assert "Stored in demo-prime-35" in flat(screen_text(pilot))
        row = next(row for row in library.lens(DEMO).pupil if row.measured.year > 2026 or row.ahead not in {23.4, 25.8})
        assert row.ahead == pytest.approx(86 - found.slide_for_zero_mm, abs=0.01)
        assert pilot.app.session.state.answer.slip.pupil_ahead_mm == pytest.approx(row.ahead, abs=0.01)
        text = flat(await press(pilot, "p"))
        assert f"The slide is set to {found.slide_for_zero_mm:.1f} mm" in text
        assert abs(pilot.app.session.state.answer.slip.slip_px) < 0.05
        assert (home / "lenses" / f"{DEMO}.toml").is_file()


async def test_each_way_of_reading_has_its_key_and_says_what_it_understood():
    async with running() as pilot:
        await press(pilot, "b", "a", "text:100", "enter")
        assert "read as 14.5 px: the near target outran" in await press(pilot, "text:14.5")
        await press(pilot, "enter", "a", "text:20", "enter")
        assert "read as 4 in on the tape at the background: the near target lagged" in await press(pilot, "text:-4 in")
        await press(pilot, "enter", "a", "text:62", "enter")
        assert "read as by eye: the two stayed together" in await press(pilot, "text:locked")
        await press(pilot, "enter")
        assert readings(pilot)[4:] == [
            (100, 14.5, None, None),
            (20, None, pytest.approx(-101.6), None),
            (62, None, None, "locked"),
        ]


async def test_a_slide_off_the_head_and_a_slip_that_is_none_are_refused():
    async with running() as pilot:
        before = pilot.app.session.state
        text = await press(pilot, "b", "a", "text:130")
        assert "130 mm is off the slide of demo-slide-head, which runs 0 mm to 120 mm" in flat(text)
        text = await press(pilot, "enter")
        assert "Slide at: 130" in text
        for wrong, why in (("four", "not a length"), ("nan", "not a length"), ("1,500", "1500 mm or 1.5 mm?")):
            text = await press(pilot, "home", "ctrl+k", f"text:{wrong}", "enter")
            assert why in text
            assert wrong in text
        await press(pilot, "home", "ctrl+k", "text:50", "enter")
        for wrong, why in (("much", "is no slip"), ("1e9", "out of range"), ("1,500", "1500 or 1.5?")):
            text = await press(pilot, "home", "ctrl+k", f"text:{wrong}", "enter")
            assert why in text
            assert wrong in text
        assert pilot.app.session.state is before
        await press(pilot, "escape")
        assert pilot.app.session.state is before


async def test_a_reading_is_changed_taken_away_and_brought_back():
    async with running() as pilot:
        before = readings(pilot)
        await press(pilot, "b", "down", "enter", "text:56", "enter", "text:lags", "enter")
        assert readings(pilot)[1] == (56, None, None, "lags")
        assert readings(pilot)[::2] == before[::2]
        await press(pilot, "x")
        assert len(readings(pilot)) == 3
        await press(pilot, "u")
        assert len(readings(pilot)) == 4
        await press(pilot, "u")
        assert readings(pilot) == before
        await press(pilot, "r", "r")
        assert len(readings(pilot)) == 3


async def test_escape_from_an_entry_leaves_all_and_from_the_bench_goes_back():
    async with running() as pilot:
        before = pilot.app.session.state
        text = await press(pilot, "b", "a", "text:50", "enter", "text:3", "escape")
        assert "Slide at: 50" in text  # back by one question, with what was typed there
        assert "Esc leaves it" in text
        text = await press(pilot, "enter")
        assert "Esc goes back to the one before" in text
        await press(pilot, "escape", "escape")
        assert "Bench, pan 15 deg" in screen_text(pilot)
        await press(pilot, "escape")
        assert pilot.app.session.state is before
        assert len(pilot.app.screen_stack) == 1


async def test_the_place_to_read_next_is_offered_for_the_slide(tmp_path: Path):
    async with running(without_readings(tmp_path / "bare.toml")) as pilot:
        text = await press(pilot, "b", "a")
        assert "Slide at: 30 mm" in text
        await press(pilot, "enter", "text:-", "enter")
        text = await press(pilot, "a")
        offered = pilot.app.session.state.answer.slip.bench.try_next_mm
        assert f"Slide at: {offered:g} mm" in text


# What is said


async def test_by_eye_the_bracket_closes_and_a_contradiction_is_named(tmp_path: Path):
    async with running(without_readings(tmp_path / "bare.toml")) as pilot:
        await press(pilot, "b")
        for slide, seen in (("40", "-"), ("80", "+"), ("60", "lags")):
            await press(pilot, "a", f"text:{slide}", "enter", f"text:{seen}", "enter")
        text = flat(screen_text(pilot))
        assert "the zero lies between 60 mm and 80 mm" in text
        assert "Read next at 70 mm" in text
        await press(pilot, "a", "text:30", "enter", "text:outruns", "enter")
        text = screen_text(pilot)
        assert "Reading 4 contradicts the others" in text
        assert re.search(r"4\s+30 mm\s+outruns\s+look again", text)


async def test_readings_at_one_place_give_no_zero_and_no_pupil(tmp_path: Path):
    async with running(without_readings(tmp_path / "bare.toml")) as pilot:
        await press(pilot, "b")
        for slip in ("-3", "-4"):
            await press(pilot, "a", "text:50", "enter", f"text:{slip}", "enter")
        assert "all readings stand at one place of the slide" in flat(screen_text(pilot))
        assert "the bench has no zero" in flat(await press(pilot, "s"))
        text = await press(pilot, "p")  # the pupil in the lens's profile still has one
        assert "from the pupil in the lens's profile" in flat(text)


async def test_the_guide_opens_with_this_shots_numbers_and_its_key_closes_it():
    async with running(height=60) as pilot:
        text = flat(await press(pilot, "b", "f1"))
        assert "Stand a thin straight stick 10 ft from the sensor-plane mark" in text
        assert "another 240 ft from that mark" in text
        assert text.count("nodal") == 1
        assert [number for number in range(1, 7) if f"{number} " in text] == [1, 2, 3, 4, 5, 6]
        assert "Bench, pan" in await press(pilot, "f1")


# The move


async def test_the_sweep_is_set_here_and_readings_keep_their_own():
    async with running() as pilot:
        before = pilot.app.session.state
        text = await press(pilot, "b", "e", "enter", "enter", "text:12", "enter")
        assert "Count readings taken: as they were" in text
        text = await press(pilot, "enter")
        assert "Set for the readings to come; the shot keeps its own" in text
        assert "Bench, pan 12 deg" in text
        assert pilot.app.session.state is before
        await press(pilot, "a", "home", "ctrl+k", "text:60", "enter", "text:0.5", "enter")
        shot, found = pilot.app.session.state.shot, pilot.app.session.state.answer.slip.bench
        assert shot.move.sweep == 15
        assert [row.sweep for row in shot.bench] == [*[None] * (len(shot.bench) - 1), 12]
        assert found.suspects == ()
        assert "Bench, pan 12 deg" in await press(pilot, "escape", "b")  # as its last reading left it
        await press(pilot, "space", "text:over this move", "enter")
        assert {row.sweep for row in pilot.app.session.state.shot.bench} == {None}


async def test_a_locked_off_shot_is_benched_in_a_workshop_and_stays_locked_off():
    async with running("signal-lamp") as pilot:
        assert "Bench, pan 10 deg" in await press(pilot, "b")
        assert "tilt 10 deg" in await press(pilot, "t")
        assert "beyond the near one" in flat(await press(pilot, "t", "e", "text:2 m", "enter", "text:1 m", "enter"))
        text = await press(pilot, "home", "ctrl+k", "text:9 m", "enter", "enter")
        assert "pan 10 deg, sticks at 2 m and 9 m" in text
        for slide, slip in (("20 mm", "-9"), ("50 mm", "0.3"), ("80 mm", "9.5")):
            await press(pilot, "a")
            await press(pilot, "home", "ctrl+k", f"text:{slide}", "enter")
            await press(pilot, f"text:{slip}", "enter")
        shot, found = pilot.app.session.state.shot, pilot.app.session.state.answer.slip.bench
        assert shot.move.axis == "none"
        assert {(row.axis, row.sweep, row.model, row.background) for row in shot.bench} == {("pan", 10, 2000, 9000)}
        assert found.fault is None
        assert [row.slip_px for row in shot.bench] == [-9, 0.3, 9.5]
        assert found.slide_for_zero_mm == pytest.approx(49, abs=2)


async def test_where_the_sticks_stood_is_put_right_for_readings_taken_too():
    async with running() as pilot:
        before = pilot.app.session.state.answer
        assert {row.model for row in before.setting.bench} == {None}
        await press(pilot, "b", "e", "text:9 ft", "enter", "enter", "enter", "text:with these too", "enter")
        bench = pilot.app.session.state.shot.bench
        assert {round(row.model) for row in bench} == {2743}
        assert {(round(row.background), row.sweep) for row in bench} == {(73152, 15)}
        assert pilot.app.session.state.answer.slip.bench.slope_predicted_px_per_mm > (
            before.slip.bench.slope_predicted_px_per_mm * 1.1
        )
        await press(pilot, "u")
        assert {row.model for row in pilot.app.session.state.shot.bench} == {None}


async def test_a_bench_that_counts_for_nothing_says_so_and_stays_as_it_was_set():
    async with running() as pilot:
        says = "readings in a tilt count for nothing while the shot pans; a pan finds the same pupil"
        text = flat(await press(pilot, "b", "t"))
        assert f"Set for the readings to come; {says}" in text
        text = flat(await press(pilot, "escape", "b"))
        assert "Bench, tilt 15 deg" in text
        assert f"R{says[1:]}" in text
        assert "Set for the readings to come; the shot keeps its own" in flat(await press(pilot, "t"))
        pilot.app.session.apply({"move.axis": "tilt down", "move.sweep": "6 deg"})
        assert "count for nothing while the shot tilts" in flat(await press(pilot, "escape", "b"))
        assert "the shot keeps its own" in flat(await press(pilot, "t"))
        assert "Bench, tilt down" in screen_text(pilot)


async def test_where_no_line_can_be_drawn_the_view_says_what_to_do(tmp_path: Path):
    async with running(without_readings(tmp_path / "bare.toml"), width=60, height=20) as pilot:
        await press(pilot, "b")
        text = await press(pilot, "tab") if "key a takes a reading" not in screen_text(pilot) else screen_text(pilot)
        assert "no reading yet" in text
        assert "key a takes a reading" in text
    async with running(width=60, height=20) as pilot:
        pilot.app.session.apply({"kit.lens": "demo-prime-75"})
        text = await press(pilot, "b", "tab")
        assert "the readings give no zero, and Tab says why" in text
        assert "no reading was taken with this kit" in flat(await press(pilot, "tab"))


async def test_readings_of_another_lens_stay_and_do_not_count():
    async with running() as pilot:
        pilot.app.session.apply({"kit.lens": "demo-prime-75"})
        text = await press(pilot, "b")
        assert text.count("left out") == 4
        assert "demo-prime-35, 35 mm, demo-slide-head, pan" in flat(text)
        assert "take new readings" in flat(await press(pilot, "s"))


# Storing


async def test_where_something_speaks_against_it_storing_takes_a_second_press(tmp_path: Path, home: Path):
    async with running(without_readings(tmp_path / "bare.toml")) as pilot:
        await press(pilot, "b")
        for slide, slip in (("40", "-8"), ("85", "9")):
            await press(pilot, "a", f"text:{slide}", "enter", f"text:{slip}", "enter")
        text = flat(await press(pilot, "s"))
        assert "fewer than three readings" in text
        assert "s once more stores it all the same" in text
        assert not (home / "lenses").exists()
        await press(pilot, "s")
        assert (home / "lenses" / f"{DEMO}.toml").is_file()


async def test_a_file_changed_meanwhile_is_loaded_and_not_written_over(home: Path):
    async with running() as pilot:
        await press(pilot, "b")
        library.save_profile("lenses", library.lens(DEMO).model_copy(update={"notes": "scratched"}))
        held = (home / "lenses" / f"{DEMO}.toml").read_bytes()
        text = flat(await press(pilot, "s"))
        assert "has changed since it was loaded" in text
        assert (home / "lenses" / f"{DEMO}.toml").read_bytes() == held
        assert pilot.app.session.state.kit.lens.notes == "scratched"
        await press(pilot, "s")
        assert library.lens(DEMO).notes == "scratched"
        assert len(library.lens(DEMO).pupil) == 3


async def test_without_a_head_the_zero_stands_and_storing_says_what_it_needs(tmp_path: Path):
    async with running(without_readings(tmp_path / "bare.toml", kit_head=None)) as pilot:
        await press(pilot, "b")
        for slide, slip in (("20", "-16"), ("62", "0"), ("105", "17")):
            await press(pilot, "a", f"text:{slide} mm", "enter", f"text:{slip}", "enter")
        assert "Zero at 2.4" in screen_text(pilot)
        assert "takes the head" in flat(await press(pilot, "s"))


async def test_the_stored_pupil_sets_the_slide_of_another_head(home: Path):
    """The other head's scale starts 34 mm elsewhere; the readings were of the first head and do not count on it."""
    head = {"slide_min": "0 mm", "slide_max": "150 mm", "slide_step": "1 mm", "sensor_at_zero": "-120 mm"}
    write_toml(home / "heads/other-head.toml", {"schema": 1, "name": "other-head", **head}, folders=True)
    async with running() as pilot:
        zero = pilot.app.session.state.answer.slip.bench.slide_for_zero_mm
        await press(pilot, "b", "s", "escape")
        pilot.app.session.apply({"kit.head": "other-head"})
        text = flat(await press(pilot, "b", "p"))
        assert "from the pupil in the lens's profile" in text
        assert pilot.app.session.state.shot.move.slide == pytest.approx(zero + 34, abs=0.15)
        assert abs(pilot.app.session.state.answer.slip.slip_px) < 0.1


async def test_a_zero_off_the_slide_is_refused_with_the_range(home: Path):
    head = {"slide_min": "0 mm", "slide_max": "90 mm", "slide_step": "1 mm", "sensor_at_zero": "-120 mm"}
    write_toml(home / "heads/shorthead.toml", {"schema": 1, "name": "shorthead", **head}, folders=True)
    async with running() as pilot:
        pilot.app.session.apply({"kit.head": "shorthead"})
        before = pilot.app.session.state
        text = flat(await press(pilot, "b", "p"))
        assert "shorthead runs from 0 mm to 90 mm" in text
        assert pilot.app.session.state is before


# The screen


@every_size_and_table()
async def test_every_view_fits_and_shows_only_what_the_terminal_has(width: int, height: int, glyphs: str):
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        seen = [await press(pilot, "b"), await press(pilot, "tab"), await press(pilot, "tab"), await press(pilot, "f1")]
        for text in seen:
            lines = text.splitlines()
            assert len(lines) == height
            assert all(len(line) == width for line in lines)
            shown = set(text) - {"\n"}
            if glyphs == "box":
                assert shown <= SAFE_ON_CONSOLE
            if glyphs == "ascii":
                assert text.isascii()
        together = flat(" ".join(seen[:3]))
        for wanted in ("40 mm -8 px", "85 mm +9 px", "Zero at 61.9 mm", "61.9"):
            assert wanted in together


def lines_of(width: int, height: int, glyphs=ASCII) -> list[str]:
    from forescale.engine.answer import answer_file

    _, found = answer_file(library.SHIPPED / "shots" / "kiln-stack.toml")
    return [row_text(row) for row in curves.bench(found, width, height, glyphs)]


def test_the_line_is_drawn_rising_through_its_zero():
    lines = lines_of(41, 11)
    rows = {
        char: [(y, x) for y, line in enumerate(lines[:9]) for x, at in enumerate(line) if at == char] for char in "*Z"
    }
    assert len(rows["*"]) == 4
    assert sorted(rows["*"], key=lambda at: at[1]) == sorted(rows["*"], key=lambda at: -at[0])
    ((zero_row, zero_column),) = rows["Z"]
    lags = [at for at in rows["*"] if at[1] < zero_column]
    assert len(lags) == 2
    assert all(row > zero_row for row, _ in lags)
    assert lines[zero_row].strip().startswith("0 +")
    assert "Z zero 61.9" in lines[-1]


@pytest.mark.parametrize("glyphs", GLYPHS.values(), ids=GLYPHS)
@pytest.mark.parametrize("size", [(0, 0), (19, 9), (20, 5), (38, 7), (76, 16), (200, 50)])
def test_the_drawing_keeps_its_size_and_its_glyphs(size: tuple[int, int], glyphs):
    width, height = size
    lines = lines_of(width, height, glyphs)
    assert len(lines) == height
    shown = {char for glyph in glyphs for char in glyph}
    shown |= {chr(BRAILLE + bits) for bits in range(256)} if glyphs is FULL else set()
    for line in lines:
        assert len(line) <= width
        assert all(char in shown or 0x20 <= ord(char) < 0x7F for char in line)


async def test_undo_says_what_it_undid() -> None:
    async with running() as pilot:
        await press(pilot, "b", "x")
        assert "Undone: bench" in await press(pilot, "u")
        assert "Nothing to undo" in await press(pilot, "u")
        assert "Redone: bench" in await press(pilot, "r")


@pytest.mark.parametrize("view", [(), ("tab",)])
async def test_using_the_zero_or_that_it_changes_nothing_is_said_in_every_view(view: tuple[str, ...]) -> None:
    async with running(width=60) as pilot:
        assert "The slide is set to 61.9 mm, as the bench found it" in flat(await press(pilot, "b", *view, "p"))
        assert "set to 61.9 mm already, as the bench found it: nothing is changed" in flat(await press(pilot, "p"))
        assert len(pilot.app.session.done) == 1
