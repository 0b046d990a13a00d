"""The board, keys only: moving about, stepping, typing, undo, what is refused, and what is always in sight."""

from __future__ import annotations

import re

import pytest

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.kit import library
from forescale.engine.mends import as_changes, mends
from forescale.engine.shot import edit
from forescale.engine.units import parse_length
from forescale.tui.app import start_session
from forescale.tui.panes.arrange import paths_of
from tests.tui.app_pilot import press, running, screen_text
from tests.tui.sizes import every_size

PANE_TITLES = ("1 Scale", "2 Speed", "3 Focus zone", "4 Slip check")


async def test_four_panes_verdicts_and_the_chief_finding_stand_at_80_by_24():
    async with running() as pilot:
        text = screen_text(pilot)
        for title in PANE_TITLES:
            assert title in text
        assert len(re.findall(r"holds|look|fails", text)) >= 4
        first = pilot.app.session.state.answer.findings[0]
        assert first.text.split(":")[0] in text.splitlines()[-2]
        assert "built-in" in text.splitlines()[0]


@every_size()
@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp"])
async def test_every_size_shows_whole_rows_and_every_pane_can_be_reached(width, height, shot):
    async with running(shot, width, height) as pilot:
        seen = ""
        for digit in "1234":
            text = await press(pilot, digit)
            lines = text.splitlines()
            assert len(lines) == height
            assert all(len(line) <= width for line in lines)
            assert lines[-1].strip().endswith("quit")
            seen += text
        for title in PANE_TITLES:
            assert title in seen


@every_size()
async def test_every_field_of_every_pane_can_be_taken_and_is_then_in_sight(width, height):
    async with running("lock-gate", width, height) as pilot:
        board = pilot.app.board
        for digit in "1234":
            await press(pilot, digit)
            paths = {board.in_hand()}
            for _ in range(12):
                text = await press(pilot, "down")
                paths.add(board.in_hand())
                assert "▸" in text
            assert len(paths) == len(board.contents()[board.pane].fields + board.contents()[board.pane].more_fields)


async def test_a_value_is_typed_in_place_with_a_live_reading_back():
    async with running() as pilot:
        text = await press(pilot, "down", "enter", "text:9' 6 1/2\"")
        assert "read as 9 ft 6 1/2 in" in text
        assert pilot.app.session.state.answer.lineup.model_mm == parse_length("10 ft")
        text = await press(pilot, "enter")
        assert pilot.app.session.state.answer.lineup.model_mm == parse_length("9 ft 6 1/2 in")
        assert "not saved" in text


async def test_a_bare_number_is_read_in_the_unit_that_the_field_shows():
    async with running() as pilot:
        assert "read as 12 ft" in await press(pilot, "down", "enter", "text:12")
    async with running("lock-gate") as pilot:
        assert "read as 4.8 m" in await press(pilot, "down", "enter", "text:4,8")


@pytest.mark.parametrize("entry", ["", "5 furlongs", "nan", "-3 ft", "1,500 mm", "10 m 6"])
async def test_a_bad_entry_keeps_its_text_says_why_and_changes_nothing(entry):
    async with running() as pilot:
        before = pilot.app.session.state
        text = await press(pilot, "1", "down", "down", "enter", "backspace", f"text:{entry}", "enter")
        assert pilot.app.session.state is before
        assert "as before the entry" in text
        assert entry.split(" ")[0] in text
        text = await press(pilot, "escape")
        assert "as before the entry" not in text
        assert "240 ft" in text


async def test_an_entry_that_contradicts_another_field_is_refused_and_says_why():
    async with running() as pilot:
        text = await press(pilot, "down", "down", "enter", "text:5 ft", "enter")
        assert "background is nearer than" in " ".join(text.split())
        assert pilot.app.session.state.shot.place.background == parse_length("240 ft")


async def test_what_enter_would_refuse_is_said_while_it_is_typed():
    async with running() as pilot:
        text = await press(pilot, "down", "enter", "text:300 ft")
        assert "background is nearer than the model" in " ".join(text.split())
        assert "read as" not in text
        assert "read as 30 ft" in await press(pilot, "backspace", "backspace", "backspace", "backspace", "text: ft")
        text = await press(pilot, "escape", "down", "enter", "backspace")
        assert "background: is missing and is needed" in " ".join(text.split())
        assert "gives it back" not in text
        assert "empty: Enter leaves it out" in await press(pilot, "escape", "down", "down", "enter", "backspace")
        assert "empty: Enter gives it back" in await press(pilot, "escape", "up", "up", "up", "enter", "backspace")


async def test_escape_leaves_the_old_value():
    async with running() as pilot:
        await press(pilot, "down", "enter", "text:3 ft", "escape")
        assert not pilot.app.session.unsaved


async def test_steps_are_natural_and_undo_goes_all_the_way_back():
    async with running() as pilot:
        session = pilot.app.session
        await press(pilot, "right")
        assert session.state.answer.scale.ratio == 25
        await press(pilot, "down", "right")
        assert session.state.answer.lineup.model_mm == pytest.approx(parse_length("10 ft 1 in"))
        await press(pilot, "l")
        assert session.state.answer.lineup.model_mm == pytest.approx(parse_length("11 ft 1 in"))
        await press(pilot, "2", "down", "left")
        assert session.state.answer.speed.fps == 100
        await press(pilot, "3", "down", "left")
        assert session.state.answer.focus.stop_mark == pytest.approx(2 ** (25 / 6))
        await press(pilot, "u", "u", "u", "u", "u")
        assert not session.unsaved
        assert "Nothing to undo" in await press(pilot, "u")
        await press(pilot, "r", "r", "r", "r", "r")
        assert session.state.answer.speed.fps == 100
        assert "Nothing to redo" in await press(pilot, "r")


async def test_a_field_is_given_back_to_the_program_and_is_marked():
    async with running() as pilot:
        text = await press(pilot, "a")
        assert "scale.ratio" in pilot.app.session.state.answer.auto
        assert re.search(r"1:24 auto", text)
        text = await press(pilot, "down", "down", "a")
        assert "is missing and is needed" in text
        assert pilot.app.session.state.shot.place.background == parse_length("240 ft")


async def test_one_pane_alone_shows_more_and_goes_back():
    async with running() as pilot:
        text = await press(pilot, "3", "z")
        assert "2 Speed" not in text
        assert "hyperfocal" in text
        assert "2 Speed" in await press(pilot, "z")


async def test_findings_lead_to_their_field():
    async with running() as pilot:
        text = await press(pilot, "f")
        assert "The light is 0.6 stops short" in text
        await press(pilot, "enter")
        assert pilot.app.board.in_hand() == "light.iso"


async def test_every_task_opens_and_escape_leads_back():
    async with running() as pilot:
        for key in ("f", "e", "k", "b", "y", "p", "g", "n", "t", "m", "f5", "o", "w", "f1", "f2"):
            await press(pilot, key)
            assert pilot.app.screen is not pilot.app.board, key
            for _ in range(3):
                if pilot.app.screen is not pilot.app.board:
                    await press(pilot, "escape")
            assert pilot.app.screen is pilot.app.board, key
        assert not pilot.app.session.unsaved


async def test_the_list_of_keys_does_what_its_keys_do():
    async with running() as pilot:
        await press(pilot, "f2", "text:speed pane", "enter")
        assert pilot.app.board.pane == "speed"


async def test_themes_and_glyph_tables_are_one_key_apart():
    async with running() as pilot:
        themes = [pilot.app.theme]
        for _ in range(3):
            await press(pilot, "f3")
            themes.append(pilot.app.theme)
        assert themes == ["indoors", "daylight", "dark-set", "indoors"]
        text = await press(pilot, "f4")
        assert all(ord(character) < 128 for character in text)


async def test_a_long_exposure_is_told_as_finely_as_the_sheet_tells_it():
    async with running() as pilot:
        pilot.app.session.apply({"action.fps": 1, "action.shutter": "144 deg"})
        assert "1/2.5 s" in await press(pilot, "2")


@pytest.mark.parametrize("key", ["down", "up", "tab", "shift+tab", "f2", "f5"])
async def test_no_key_carries_what_is_typed_into_another_field(key):
    async with running() as pilot:
        await press(pilot, "1", "down", "down", "enter", *["backspace"] * 10, "text:250 ft")
        text = await press(pilot, key)
        assert "read as 250 ft" in text
        await press(pilot, "enter")
        shot = pilot.app.session.state.shot
        assert shot.place.background == pytest.approx(parse_length("250 ft"))
        assert shot.place.lens_height == pytest.approx(parse_length("5 ft"))


async def test_help_on_the_field_may_be_read_while_it_is_typed():
    async with running() as pilot:
        await press(pilot, "1", "down", "down", "enter", *["backspace"] * 10, "text:250 ft")
        assert "background" in await press(pilot, "f1")
        assert "read as 250 ft" in await press(pilot, "escape")
        await press(pilot, "enter")
        assert pilot.app.session.state.shot.place.background == pytest.approx(parse_length("250 ft"))


async def test_a_remedy_is_done_by_one_key_and_undo_takes_it_back():
    async with running() as pilot:
        before = pilot.app.session.state.shot
        assert "Set ISO 1250" in await press(pilot, "f")
        text = await press(pilot, "d")
        assert "Done: Set ISO 1250" in text
        assert pilot.app.session.state.shot.light.iso == 1250
        assert "stops short" not in text.replace("Done", "")
        await press(pilot, "u")
        assert pilot.app.session.state.shot == before
        await press(pilot, "down", "down", "d")
        assert pilot.app.session.state.shot.light.iso != 1250


def test_every_remedy_is_taken_where_a_point_was_read_in_the_picture():
    session = start_session(library.shot_path("kiln-stack"))[0]
    rows = [edit.opened(row, "point") for row in session.state.shot.point]
    session.apply({"point": [*rows, {"name": "window", "frame_across": 0.62, "frame_up": 0.21}]})
    answer = session.state.answer
    taken = [as_changes(answer.setting, mend.set) for one in answer.findings for mend in mends(answer, one) if mend.set]
    assert any("point" in changes for changes in taken)
    assert all("window" in {point.name for point in session.propose(changes).shot.point} for changes in taken)


async def test_what_is_for_a_hand_on_the_set_is_said_and_not_done():
    async with running("lock-gate") as pilot:
        pilot.app.session.apply({"light.available": "1 lx"})
        text = await press(pilot, "f", "d")
        assert "for a hand on the set" in text


async def test_what_is_typed_is_seen_before_it_is_taken():
    async with running() as pilot:
        before = await press(pilot, "3", "down")
        text = await press(pilot, "enter", "text:T8")
        assert "needs T18.4, has T8: not held" in text
        assert text.count("if so") == 4
        assert "Enter takes it" in text.splitlines()[-1]
        assert not pilot.app.session.unsaved
        assert await press(pilot, "escape") == before
        assert "9.5 is no third of a" in await press(pilot, "enter", "text:T9.5")
        assert "so the mark T9 is set; T=9.5 is as written" in await press(pilot, "enter")
        assert "is no third" not in await press(pilot, "up")


async def test_few_choices_are_listed_and_stepped_through():
    async with running() as pilot:
        text = await press(pilot, "4", "enter")
        assert "Up, Down: pan" in " ".join(text.split())
        text = await press(pilot, "up")
        assert "locked off: nothing slips" in text
        assert pilot.app.session.state.shot.move.axis == "pan"
        await press(pilot, "enter")
        assert pilot.app.session.state.shot.move.axis == "none"
        pilot.app.screen.go_to("place.mount", "scale")  # which nobody has set
        assert "Up, Down: stands, hangs" in await press(pilot, "enter")


async def test_up_at_the_top_and_down_at_the_foot_stay_there():
    async with running() as pilot:
        board = pilot.app.board
        await press(pilot, "3", "up", "up")
        assert board.in_hand() == "focus.distance"
        await press(pilot, "end", "down")
        assert board.in_hand() == "kit.focal_length"
        await press(pilot, "home")
        assert board.in_hand() == "focus.distance"


@every_size()
async def test_every_answer_of_every_pane_can_be_reached(width, height):
    async with running("kiln-stack", width, height) as pilot:
        board = pilot.app.board
        for digit in "1234":
            seen = await press(pilot, digit)
            for _ in range(board.pages - 1):
                seen += await press(pilot, "pagedown")
            assert await press(pilot, "pagedown") in seen
            for row in board.contents()[board.pane].answers:
                assert any(text in seen for text in (row.text, row.brief) if text), (digit, row)
            assert "▸" in await press(pilot, "pageup", *["pageup"] * 5)


async def test_a_value_is_typed_and_stepped_on_the_first_page():
    async with running() as pilot:
        assert "▸" not in await press(pilot, "3", "down", "pagedown")
        text = await press(pilot, "enter", "text:T8")
        assert "read as T8" in text
        assert "▸stop" in await press(pilot, "escape")
        assert "▸stop" in await press(pilot, "pagedown", "right")


@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp"])
async def test_at_160_by_50_all_of_every_pane_is_there(shot):
    async with running(shot, width=160, height=50) as pilot:
        text = await press(pilot, "1")
        assert pilot.app.board.pages == 1
        for digit in "234":
            assert "PgDn" not in await press(pilot, digit)
        for content in pilot.app.board.contents().values():
            assert all(FIELD_HELP[path].label in text for path in paths_of(content))
            assert all(row.text in text or row.brief.split("\n")[0] in text for row in content.answers)
        assert "slip in px" in text or shot != "kiln-stack"
        assert "in use" in text


@pytest.mark.parametrize(("width", "height"), [(100, 30), (110, 35), (119, 40), (120, 40)])
async def test_from_100_columns_on_the_answers_stand_beside_the_fields(width, height):
    async with running(width=width, height=height) as pilot:
        lines = (await press(pilot, "1")).splitlines()
        beside = next(line for line in lines if line.startswith(" background"))
        assert "240 ft" in beside
        assert "match at 10 ft 0 7/8 in: 0.8 % large" in beside


async def test_the_first_remedy_of_what_stands_below_is_one_key_and_is_undone():
    """1:24 at 9 ft where its match is at 10 ft."""
    async with running() as pilot:
        session = pilot.app.session
        session.apply({"place.model": "9 ft", "place.model_near": None})
        before = session.state.answer
        assert before.findings[0].code == "size-mismatch"
        text = await press(pilot, "7")
        assert "Done: Stand it at 10 ft" in text
        after = session.state.answer
        assert "size-mismatch" not in {one.code for one in after.findings}
        await press(pilot, "u")
        assert session.state.answer.setting == before.setting


async def test_what_is_for_a_hand_is_passed_by_for_what_is_typed():
    """Without light the first finding is for a hand; 7 offers those that a field mends at no price, in turn."""
    async with running() as pilot:
        session = pilot.app.session
        session.apply({"light.available": "1 lx"})
        assert session.state.answer.findings[0].code == "light-short"
        text, did = await press(pilot, "7"), []
        assert "7 again: Stand it at 10 ft 0 7/8 in and its nearest part" in text
        assert len(session.done) == 1
        await press(pilot, "down")
        await press(pilot, "7")
        assert len(session.done) == 1  # what was offered is no longer read
        while "Done: " in (text := await press(pilot, "7")):
            await press(pilot, "7")
            did.append(text.partition("Done: ")[2].partition("\n")[0])
            assert len(did) < 9
        assert did[0].startswith("Stand it at 10 ft 0 7/8 in")
        assert len(did) == len(set(did)) > 1
        assert not any("then:" in one for one in did)
        assert "No more is mended at no cost: f lists the rest and what a hand can do" in text
        assert session.state.answer.findings[0].code == "light-short"


@pytest.mark.parametrize(("typed", "says"), [("T2.1", "2.1 is no third of a stop"), ("T20", ""), ("", "")])
async def test_of_a_stop_is_said_what_it_was_set_to_and_nothing_else(typed: str, says: str) -> None:
    async with running() as pilot:
        await press(pilot, "3", "down", "enter", "ctrl+u", f"text:{typed}", "enter")
        assert pilot.app.board.message[: len("2.1 is no third of a stop")] == says


async def test_a_pane_shown_alone_begins_with_its_fields() -> None:
    async with running() as pilot:
        whole = await press(pilot, "1", "z")
        assert await press(pilot, "z", "pagedown", "z") == whole
