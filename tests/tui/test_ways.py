"""The ways to shoot it, keys only: found, sorted, filtered, failing ones explained, one put on the board and back."""

from __future__ import annotations

import re

import pytest

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.kit.library import SHIPPED
from forescale.engine.options.outcome import find_options
from forescale.engine.options.to_try import at_hand
from forescale.tui.runs import Rows
from forescale.tui.tasks.ways.ways_search import LimitsScreen
from tests.tui.app_pilot import press, running, screen_text


async def ways(pilot) -> str:
    """Open the ways and wait until the search is done."""
    await press(pilot, "g")
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()
    return screen_text(pilot)


def rows_of(text: str) -> list[str]:
    """Return the rows of the table that name a lens."""
    return [line for line in text.splitlines() if re.match(r" (demo|my)-[\w-]+ +\d", line)]


def told(pilot, box: str = "preview") -> str:
    """Return what stands below the table, its lines joined."""
    rows = pilot.app.screen.query_one(f"#{box}", Rows).rows
    return " ".join(text.strip() for row in rows for text, _ in row)


async def failing(pilot) -> str:
    """Turn to the ways that fail, or back, and wait until the search is done."""
    await press(pilot, "t")
    await pilot.app.workers.wait_for_complete()
    return await press(pilot)


def with_long_names(home) -> None:
    """Put a camera with long names beside the others, two of its modes alike but for the end of their names."""
    mode = """[[mode]]
name = "3.8K open gate, {} readout"
width = "{} mm"
height = "16 mm"
width_px = 3840
height_px = 2560
fps = {{min = 1, max = 120}}
iso_base = 800
iso_max = 3200
"""
    head = 'schema = 1\nname = "my-camera-for-second-unit"\n'
    (home / "cameras").mkdir(parents=True)
    path = home / "cameras" / "my-camera-for-second-unit.toml"
    path.write_text(head + mode.format("slow", 24) + mode.format("fast", 22), encoding="utf-8")


async def test_the_best_way_stands_first_with_what_it_trades_and_how_many_work():
    async with running() as pilot:
        text = await ways(pilot)
        shot = pilot.app.session.state.shot
        found = find_options(shot, shot.units, at_hand(shot.kit))
        assert rows_of(text)[0].split()[0] == found.options[0].option.lens_at.lens.name
        assert f"{found.working} of {found.searched} ways work" in text
        assert "Best by what counts here" in text


async def test_enter_puts_a_way_on_the_board_and_undo_brings_the_old_one_back():
    async with running() as pilot:
        before = pilot.app.session.state.shot
        await ways(pilot)
        await press(pilot, "enter")
        assert pilot.app.screen is pilot.app.board
        assert pilot.app.session.state.shot.kit.lens == "demo-prime-25"
        await press(pilot, "u")
        assert pilot.app.session.state.shot == before


async def test_a_column_sorts_and_turns_round():
    async with running(width=200, height=50) as pilot:
        await ways(pilot)
        head = screen_text(pilot).splitlines()[1]
        await press(pilot, *["right"] * head.split().index("contrast"), "o")
        best = [line.split("%")[0].split()[-1] for line in rows_of(screen_text(pilot))]
        assert [float(one) for one in best] == sorted(map(float, best), reverse=True)
        await press(pilot, "o")
        turned = [line.split("%")[0].split()[-1] for line in rows_of(screen_text(pilot))]
        assert turned == best[::-1]


async def test_words_keep_the_rows_that_hold_them_while_they_are_typed():
    async with running(width=200, height=40) as pilot:
        await ways(pilot)
        hint = await press(pilot, "slash")
        assert "such as: zoom 28" in hint
        text = await press(pilot, "text:small 25")
        kept = rows_of(text)
        assert kept
        assert all("25" in row for row in kept)
        assert len(kept) < 15
        assert f"{len(kept)} rows with that" in text
        assert 'rows with "small 25"' in (await press(pilot, "enter")).splitlines()[0]
        assert len(rows_of(await press(pilot, "slash", "backspace", "enter"))) == 15


async def test_a_number_is_found_from_its_first_digit_on():
    """28 mm is found; a drift of 0.028 in is no 28."""
    async with running(width=200, height=40) as pilot:
        await ways(pilot)
        every = rows_of(screen_text(pilot))
        kept = rows_of(await press(pilot, "slash", "text:28", "enter"))
        assert {row.split()[1] for row in kept} == {"28"}
        assert any("0.028" in row and row not in kept for row in every)


async def test_a_filter_given_up_leaves_the_rows_and_says_again_what_was_found():
    async with running(width=200, height=40) as pilot:
        before = rows_of(await ways(pilot))
        assert len(rows_of(await press(pilot, "slash", "text:prime"))) < len(before)
        text = await press(pilot, "escape")
        assert rows_of(text) == before
        assert "ways work" in text


@pytest.mark.parametrize(("width", "height"), [(80, 24), (60, 20), (40, 15)])
async def test_the_ways_that_fail_say_why_and_which_they_are(width, height):
    async with running(width=width, height=height) as pilot:
        await ways(pilot)
        text = await failing(pilot)
        assert text.splitlines()[0].startswith(" Ways that fail")
        shown = dict(pilot.shown.keys())
        assert shown["t"] == "what works"
        assert list(shown.values()).count("what works") == 1
        assert not {"enter", "o"} & shown.keys()
        assert told(pilot) == (
            "demo-cine-35, 4K full width, demo-prime-25 at 25 mm, 1:24: "
            "the mode is too slow for the model to look heavy."
        )
        await press(pilot, "down")
        assert told(pilot).startswith("demo-large-36, 6K full frame, demo-prime-25 at 25 mm")
        assert "63 of 78 ways fail" in text
        assert "Ways to shoot it" in await failing(pilot)


async def test_no_two_ways_that_fail_look_alike_each_has_its_reason():
    async with running(height=50) as pilot:
        await ways(pilot)
        rows = rows_of(await failing(pilot))
        assert len(rows) > 20
        assert len(set(rows)) == len(rows)
        assert all(re.search(r"mode too slow|not all sharp", row) for row in rows)
        assert "39 mode too slow, 24 not all sharp" in screen_text(pilot)
    async with running(width=140, height=50) as pilot:
        await ways(pilot)
        rows = rows_of(await failing(pilot))
        assert all(re.search(r"the mode is too slow|both held sharp", row) for row in rows)


async def test_a_way_that_fails_is_neither_sorted_nor_put_on_the_board():
    async with running() as pilot:
        await ways(pilot)
        await failing(pilot)
        assert "cannot be put on the board" in await press(pilot, "enter")
        assert "Only the ways that work can be sorted" in await press(pilot, "o")


async def test_camera_and_mode_are_shown_at_80_columns_shortened_if_need_be(home):
    with_long_names(home)
    async with running() as pilot:
        text = await ways(pilot)
        assert {"mode", "camera", "contrast", "mm"} <= set(text.splitlines()[1].split())
        rows = rows_of(text)
        assert len(set(rows)) == len(rows) > 8
        assert any("3.8K…slow readout" in row and "my-camera-for-sec…" in row for row in rows)
        assert "my-camera-for-second-unit" in told(pilot)


async def test_what_the_table_has_no_room_for_is_told_below_it():
    async with running() as pilot:
        await ways(pilot)
        assert told(pilot).startswith(
            "1:24, model at 10 ft, 120 fps, light +1.4 stops, may drift 0.040 in, largest part"
        )
        await pilot.resize_terminal(200, 40)
        await press(pilot)
        assert told(pilot).startswith("Best by what counts here")


async def test_where_nothing_is_built_no_largest_part_is_told():
    async with running() as pilot:
        pilot.app.session.apply({"build": ()})
        await ways(pilot)
        assert told(pilot).startswith("1:24, model at 10 ft, 120 fps, light +1.4 stops, may drift 0.040 in. ")


async def test_a_way_tells_whether_another_beats_it_and_what_to_mind():
    async with running(width=120, height=40) as pilot:
        await ways(pilot)
        assert "Mind: 2 of 2 points miss, one 1.9 px high; the slide goes to 55 mm" in " ".join(told(pilot).split())
        await press(pilot, "down")
        assert "Unbeaten (*): as good as the best in all that counts, small differences aside." in told(pilot)
        await press(pilot, "down")
        assert "Beaten by one with *: 0.3 stops more light, and nothing gained on the best." in told(pilot)
        await press(pilot, *["down"] * 12)
        assert "at 8 % contrast fine detail is all but lost." in told(pilot)
        assert "ench" not in told(pilot)


async def test_a_screen_without_room_tells_it_all_on_a_page():
    async with running(width=40, height=15) as pilot:
        await ways(pilot)
        assert "…" in told(pilot)
        text = await press(pilot, "down", "down", "v")
        assert text.splitlines()[0].startswith(" In full")
        for _ in range(3):
            text += await press(pilot, "pagedown")
        words = " ".join(text.split())
        for part in ("demo-zoom-24-80, 25 mm", "Beaten by one with *", "Mind: Model 2.0 % too", "15 of 78 ways work"):
            assert part in words


async def test_a_field_is_called_by_its_label():
    """In a file it is limits.build_max; on the screens of the app it is the limit that l opens."""
    async with running(width=120, height=40) as pilot:
        await ways(pilot)
        await press(pilot, "m", "text:all", "enter")
        await pilot.app.workers.wait_for_complete()
        text = " ".join((await press(pilot)).split())
        assert 'set the limit "largest part" to what can be built and carried' in text
        assert "limits." not in text


async def test_the_keys_say_what_they_do():
    async with running() as pilot:
        text = " ".join((await ways(pilot)).split())
        assert "e limits t what fails" in text
        text = " ".join((await press(pilot, "f2")).split())
        assert "such as: zoom 28" in text
        assert "sort by the selected column" in text
        assert "also try other values than the shot sets" in text


async def test_what_the_shot_sets_can_be_left_open_for_the_search():
    async with running(width=120, height=40) as pilot:
        await ways(pilot)
        hint = await press(pilot, "m")
        assert "The shot sets scale, model at. Type which may vary, such as: scale; or all" in hint
        await press(pilot, "text:all", "enter")
        await pilot.app.workers.wait_for_complete()
        text = await press(pilot)
        assert text.splitlines()[0].startswith(" Ways to shoot it, scale, model at left to vary")
        assert len({re.search(r"1:\d+", row)[0] for row in rows_of(text)}) > 1
        await press(pilot, "enter")
        shot = pilot.app.session.state.shot
        assert shot.place.model is None
        assert shot.scale.ratio is not None


async def test_naming_something_that_is_not_set_is_refused():
    async with running() as pilot:
        await ways(pilot)
        text = await press(pilot, "m", "text:stop", "enter")
        assert "is not set in the shot" in " ".join(text.split())


async def test_limits_are_typed_checked_and_searched_with():
    async with running() as pilot:
        await ways(pilot)
        await press(pilot, "e")
        text = await press(pilot, *["down"] * 6, "enter", "text:lens mice", "enter")
        assert '"mice" is not known' in text
        await press(pilot, "escape", "enter", "backspace", "text:lens", "enter")
        assert pilot.app.session.state.shot.limits.hold == ("lens",)
        await press(pilot, "escape")
        await pilot.app.workers.wait_for_complete()
        text = await press(pilot)
        assert {row.split()[0] for row in rows_of(text)} == {"demo-prime-35"}


async def test_a_limit_that_cannot_be_judged_is_said_over_an_empty_table(tmp_path):
    text = (SHIPPED / "shots" / "kiln-stack.toml").read_text(encoding="utf-8")
    nothing_built = re.sub(r"(?ms)^\[\[build\]\].*?(?=^\[[a-z]+\])", "", text)
    path = tmp_path / "no-parts.toml"
    path.write_text(nothing_built.replace("[place]", '[limits]\nbuild_max = "4 ft"\n\n[place]'), encoding="utf-8")
    async with running(str(path)) as pilot:
        text = " ".join((await ways(pilot)).split())
        assert not rows_of(text)
        assert "largest part: needs something to be built; add a part to the build list" in text
        await press(pilot, "enter", "s", "i", "escape")


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 40), (60, 20)])
async def test_each_limit_is_told_whole_with_the_ways_within_all(width, height):
    async with running(width=width, height=height) as pilot:
        await ways(pilot)
        await press(pilot, "e")
        await pilot.app.workers.wait_for_complete()
        for path in LimitsScreen.PATHS:
            said, help_on = " ".join(pilot.shown.page.text.split()), FIELD_HELP[path]
            assert said.startswith(f"{help_on.label}: {help_on.what} Now ")
            assert f"{help_on.enters} {help_on.measure} With these limits: 15 of 78 ways work" in said
            assert "Nothing typed means" in said
            await press(pilot, "down")


async def test_a_limit_is_whole_on_a_page_where_there_is_no_room():
    async with running(width=40, height=15) as pilot:
        await ways(pilot)
        text = await press(pilot, "e", "tab", "pagedown")
        assert "2.6 reads as a toy." in " ".join(text.split())


async def test_an_empty_limit_says_what_to_type():
    async with running() as pilot:
        await ways(pilot)
        text = await press(pilot, "e", "down", "down", "enter")
        assert "Type a length, such as: 4 ft, or 1.2 m. Nothing typed means none." in text


@pytest.mark.parametrize(("width", "height"), [(40, 15), (60, 20), (80, 24), (100, 30), (200, 60)])
async def test_the_table_fits_and_no_row_is_cut(width, height):
    async with running("lock-gate", width, height) as pilot:
        text = await ways(pilot)
        assert all(len(line) <= width for line in text.splitlines())
        assert "contrast" in text
        assert text.splitlines()[-1].rstrip().endswith("Esc back")


async def test_escape_ends_the_search_and_the_board_is_there_at_once():
    async with running() as pilot:
        await pilot.press("g")
        await press(pilot, "escape")
        assert pilot.app.screen is pilot.app.board
        await press(pilot, "right")
        assert pilot.app.session.unsaved


async def test_a_way_with_another_lens_brings_the_slide_that_the_lens_wants():
    async with running(width=120, height=40) as pilot:
        await ways(pilot)
        await press(pilot, "enter")
        answer = pilot.app.session.state.answer
        assert answer.kit.lens.name == "demo-prime-25"
        assert answer.slip.slide_mm == pytest.approx(answer.slip.slide_best_mm, abs=0.1)
        assert not any(finding.code == "slip-over" for finding in answer.findings)
        assert pilot.app.board.message.endswith(". Set the slide, then tape all anew")
