"""Kit, keys only and from a cold start: what a choice would change, taking and undoing it, and what is refused."""

from __future__ import annotations

import pytest

from forescale.engine.kit import library
from forescale.engine.kit.profiles import Head
from tests.tui.app_pilot import press, running, screen_text
from tests.tui.sizes import every_size

SHORT_HEAD = """schema = 1
name = "short-head"
slide_min = "0 mm"
slide_max = "40 mm"
slide_step = "1 mm"
sensor_at_zero = "-60 mm"
"""


def shot(pilot):
    """Return the shot as it is set now."""
    return pilot.app.session.state.shot


def said(text: str) -> str:
    """Return a screen's words without its line ends."""
    return " ".join(text.split())


async def test_the_shelves_mark_what_is_shipped_and_what_the_shot_has():
    async with running() as pilot:
        text = await press(pilot, "k")
        rows = [line for line in text.splitlines() if "demo-cine-35" in line]
        assert "● demo-cine-35" in rows[0]
        assert all("built-in" in row for row in rows)
        assert "The shot is set to this" in text


async def test_a_mode_is_previewed_before_it_is_taken_and_undone_in_one():
    async with running() as pilot:
        before = pilot.app.session.state
        text = said(await press(pilot, "k", "down"))
        # The frame is 24.9 mm wide where it was 16.6 mm: one and a half times as much at the model.
        assert "(× 1.5)" in text
        assert "rate 120 fps → 60 fps (× 0.5)" in text
        assert "At 60 fps the action falls 3.84 times as hard as it should" in text
        assert pilot.app.session.state.shot == before.shot
        await press(pilot, "enter")
        assert shot(pilot).kit.mode == "4K full width"
        await press(pilot, "u")
        assert pilot.app.session.state.shot == before.shot
        await press(pilot, "r")
        assert shot(pilot).kit.mode == "4K full width"


async def test_a_rate_and_an_iso_that_a_mode_lacks_go_back_and_that_is_said():
    async with running() as pilot:
        pilot.app.session.apply({"action.fps": 120, "light.iso": 3200})
        text = said(await press(pilot, "k", "down", "down", "down", "down"))
        assert "HD full frame rate goes from ISO 400 to 1600, not 3200: the base is taken" in text
        await press(pilot, "enter")
        assert (shot(pilot).action.fps, shot(pilot).light.iso) == (120, None)
        text = said(await press(pilot, "up", "enter"))
        assert "4K crop has no 120 fps: the rate is left to the program" in text
        assert (shot(pilot).kit.camera, shot(pilot).kit.mode) == ("demo-large-36", "4K crop")
        assert shot(pilot).action.fps is None
        await press(pilot, "u")
        assert shot(pilot).action.fps == 120


async def test_a_zoom_keeps_the_focal_length_and_its_own_is_typed():
    async with running() as pilot:
        await press(pilot, "k", "tab", "down", "down", "enter")
        assert (shot(pilot).kit.lens, shot(pilot).kit.focal_length) == ("demo-zoom-24-80", 35)
        for wrong, why in (("90", "out of range"), ("wide", "not a length"), ("24,500", "24500 or 24.5?")):
            text = await press(pilot, "f", "home", "ctrl+k", f"text:{wrong}", "enter")
            assert why in text
            assert shot(pilot).kit.focal_length == 35
            await press(pilot, "escape")
        text = await press(pilot, "f", "home", "ctrl+k", "text:50")
        assert "read as 50 mm" in text
        await press(pilot, "enter")
        assert shot(pilot).kit.focal_length == 50
        await press(pilot, "u", "u")
        assert shot(pilot).kit.lens == "demo-prime-35"


async def test_a_focal_length_is_refused_on_a_prime():
    async with running() as pilot:
        before = pilot.app.session.state
        assert "A focal length is set on a zoom" in said(await press(pilot, "k", "tab", "f"))
        assert pilot.app.session.state.shot == before.shot


async def test_a_lens_whose_ring_ends_before_the_stop_says_so_as_a_finding():
    async with running() as pilot:
        pilot.app.session.apply({"focus.stop": "T2"})
        text = said(await press(pilot, "k", "tab", "down", "down"))
        await press(pilot, "v")
        text = said(screen_text(pilot))
        assert "demo-zoom-24-80 runs from T2.8 to T22, not to T2" in text
        await press(pilot, "escape")
        await press(pilot, "enter")
        assert any(finding.code == "stop-beyond-lens" for finding in pilot.app.session.state.answer.findings)


async def test_another_head_leaves_the_slide_to_be_set_anew(home):
    (home / "heads").mkdir(parents=True)
    (home / "heads" / "short-head.toml").write_text(SHORT_HEAD)
    async with running() as pilot:
        text = said(await press(pilot, "k", "tab", "tab", "down"))
        assert "the slide's 63 mm was demo-slide-head's: set it anew on short-head" in text
        await press(pilot, "enter")
        assert (shot(pilot).kit.head, shot(pilot).move.slide) == ("short-head", None)
        await press(pilot, "down", "enter")
        assert shot(pilot).kit.head is None


async def test_a_profile_that_cannot_be_read_is_listed_with_its_fault(home):
    (home / "lenses").mkdir(parents=True)
    (home / "lenses" / "aaa.toml").write_text('schema = 1\nname = "aaa"\n')
    async with running() as pilot:
        before = pilot.app.session.state
        text = said(await press(pilot, "k", "tab", "up", "up"))
        assert "aaa" in text
        assert "is missing and is needed" in text
        for key in ("enter", "e", "c"):
            text = said(await press(pilot, key))
            assert pilot.app.session.state.shot == before.shot
            assert "Kit: lenses" in text


async def test_deleting_asks_once_and_what_is_in_use_or_shipped_is_refused(home):
    library.save_profile("heads", Head.model_validate(dict(_lines(SHORT_HEAD), slide_max="90 mm", schema=1)))
    path = home / "heads" / "short-head.toml"
    async with running() as pilot:
        assert "built in" in said(await press(pilot, "k", "tab", "tab", "x", "x"))
        await press(pilot, "down", "enter")
        assert "short-head is used by this shot: choose another first" in said(await press(pilot, "x", "x"))
        assert path.exists()
        await press(pilot, "up", "enter", "down")
        assert "Delete short-head for good?" in said(await press(pilot, "x"))
        await press(pilot, "up", "down")
        assert "Delete short-head for good?" in said(await press(pilot, "x"))
        assert path.exists()
        assert "short-head was deleted" in said(await press(pilot, "x"))
        assert not path.exists()


@pytest.mark.parametrize("glyphs", ["ascii", "box"])
async def test_long_and_wide_names_leave_the_rest_of_the_row_whole(glyphs, home):
    names = ("a-very-long-name-for-a-lens-that-someone-made", "長い名前のレンズを誰かが作りました長い名前")
    for name in names:
        library.save_profile("lenses", library.lens("demo-prime-25").model_copy(update={"name": name}))
    async with running("kiln-stack", 40, 15, glyphs) as pilot:
        text = await press(pilot, "k", "tab", "down", "down", "down", "down")
        assert text.count("25 mm") >= 1
        assert all(len(line) <= 40 for line in text.splitlines())
        assert pilot.app.screen.query_one("TaskTable").virtual_size.width <= 40
        assert (home / "lenses" / f"{names[0]}.toml").exists()


def _lines(text: str) -> list[tuple[str, str]]:
    pairs = (line.split(" = ", 1) for line in text.splitlines() if '"' in line)
    return [(key, value.strip('"')) for key, value in pairs]


@every_size()
async def test_names_and_what_matters_most_are_whole_at_any_size(width, height):
    async with running("kiln-stack", width, height) as pilot:
        await press(pilot, "k")
        for shelf in (("demo-cine-35", "2K centre crop"), ("demo-zoom-24-80", "24 to 80 mm"), ("demo-slide-head",)):
            lines = screen_text(pilot).splitlines()
            assert len(lines) == height
            assert all(len(line) <= width for line in lines)
            assert lines[-1].rstrip().endswith("Esc back")
            for word in shelf:
                assert word in screen_text(pilot)
            await press(pilot, "tab")


async def test_undo_after_a_changed_profile_leads_to_no_older_answer(home):
    async with running() as pilot:
        pilot.app.session.apply({"action.screen_time": "5 s"})
        await press(pilot, "k", "tab", "e", "enter", *["down"] * 9, "enter", "home", "ctrl+k", "text:2", "enter", "s")
        assert (home / "lenses" / "demo-prime-35.toml").exists()
        await press(pilot, "escape", "u")
        state = pilot.app.session.state
        assert state.shot.action.screen_time == 6
        assert (state.kit.lens.squeeze, state.answer.kit.lens.squeeze) == (2, 2)


async def test_a_mode_that_only_a_mark_uses_is_not_taken_away_either():
    async with running() as pilot:
        await press(pilot, "k", "down", "enter", "escape", "n", "a", "text:wide", "enter", "escape")
        await press(pilot, "k", "up", "enter")
        assert [mark.name for mark in shot(pilot).mark] == ["wide"]
        assert shot(pilot).kit.mode == "2K centre crop"
        text = said(await press(pilot, "e", "enter", "tab", "tab", "x"))
        assert 'saved state "wide": mode: demo-cine-35 has no mode "4K full width"' in text
        assert len(pilot.shown.profile.mode) == 2


async def test_shift_tab_goes_back_a_shelf_and_the_list_keeps_the_keys() -> None:
    async with running() as pilot:
        await press(pilot, "k", "tab", "shift+tab")
        assert pilot.shown.shelf == "cameras"
        await press(pilot, "home", "down")
        assert pilot.shown.table.cursor_row == 1
