"""Test strips by their keys: added, judged, kept in the camera's mode, and used by the shot."""

from __future__ import annotations

import pytest

from forescale.engine.answer import Answer
from forescale.engine.kit import library
from forescale.tui.tasks.kit.strips import StripsScreen
from tests.tui.app_pilot import press, running

# 40 mm at 15 ft, as in the fit's worked example; the lens is on no shelf but this is its own focal length.
FIRST = (
    "demo-zoom-24-80",
    "40 mm",
    "15 ft",
    "f/2.8",
    "13 ft 3 1/2 in",
    "13 ft 2 1/2 in",
    "17 ft 3 1/2 in",
    "17 ft 4 1/2 in",
)


def typed(*texts: str) -> list[str]:
    """Keys that type over each entry in turn."""
    keys = []
    for text in texts:
        keys += ["ctrl+u", "end", *["backspace"] * 24, f"text:{text}", "enter"]
    return keys


def answer_of(pilot) -> Answer:
    return pilot.app.session.state.answer


async def test_a_strip_is_added_kept_in_the_mode_and_used() -> None:
    async with running(height=40, width=110) as pilot:
        text = await press(pilot, "space", "text:sharpness", "enter")
        assert isinstance(pilot.app.screen, StripsScreen)
        assert "No test strip yet" in text
        assert "Next:" in text
        text = await press(pilot, "a", *typed(*FIRST))
        mode = answer_of(pilot).kit.mode
        assert [row.lens for row in mode.strip] == ["demo-zoom-24-80"]
        assert "Blur that passes for sharp" in text
        text = await press(pilot, "s")
        stored = answer_of(pilot).kit.mode.sharpness
        assert stored is not None
        assert 0.014 < stored < 0.019
        assert "is stored" in text
        await press(pilot, "p")
        assert answer_of(pilot).focus.coc_mm == stored
        assert library.camera(answer_of(pilot).kit.camera.name).mode == answer_of(pilot).kit.camera.mode
        await press(pilot, "x")
        assert answer_of(pilot).kit.mode.strip == ()


async def test_right_goes_to_what_a_narrow_list_has_no_room_for() -> None:
    async with running(height=30, width=160) as pilot:
        assert "more columns" not in await press(pilot, "space", "text:sharpness", "enter", "a", *typed(*FIRST))
        await pilot.resize_terminal(60, 24)
        pages = [await press(pilot, key) for key in ("down", "right", "right", "right")]
        cells = ("demo-zoom-24-80", "40 mm", "15 ft", *(f"{there} 1/2 in" for there in ("13 ft 3", "17 ft 4")))
        assert "Left: more columns" in pages[-1]
        assert all(any(cell in text for text in pages) for cell in cells)
        assert any("focal length" in text for text in pages)


async def test_markers_out_of_order_are_refused() -> None:
    wrong = (*FIRST[:4], "13 ft", "14 ft", "", "")
    async with running(height=40, width=110) as pilot:
        text = await press(pilot, "space", "text:sharpness", "enter", "a", *typed(*wrong[:6]))
        assert "First soft, near lies at or beyond Last sharp, near" in text
        assert "First soft, near, strip 1: 14 ft" in text  # still at its own prompt
        assert answer_of(pilot).kit.mode.strip == ()


async def test_what_the_lens_has_not_is_refused() -> None:
    async with running(height=40, width=110) as pilot:
        text = await press(
            pilot, "space", "text:sharpness", "enter", "a", "ctrl+u", "end", *["backspace"] * 24, "enter"
        )
        assert "no lens is named; type its name" in " ".join(text.split())
        text = await press(pilot, *typed(FIRST[0], "135 mm"))
        assert "135 mm is not on demo-zoom-24-80; it has from 24 mm to 80 mm" in text
        text = await press(pilot, *typed("40 mm", "15 ft", "f/1.4"))
        assert "f/1.4 is not on demo-zoom-24-80; it has T2.8 to T22" in text
        assert "Last sharp, near" in await press(pilot, *typed("f/2.8"))
        assert answer_of(pilot).kit.mode.strip == ()


async def test_measured_without_a_measure_is_refused() -> None:
    async with running(height=40) as pilot:
        text = await press(pilot, "space", "text:sharpness", "enter", "p")
        assert "none was measured" in text
        assert answer_of(pilot).setting.focus.sharpness.by == "diagonal"


@pytest.mark.parametrize(("width", "height", "glyphs"), [(80, 24, "box"), (40, 15, "ascii")])
async def test_it_fits_every_size(width: int, height: int, glyphs: str) -> None:
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        text = await press(pilot, "space", "text:sharpness", "enter", "a", *typed(*FIRST))
        assert all(len(line) <= width for line in text.splitlines())


async def test_strips_are_reached_from_the_list_of_all() -> None:
    async with running(height=40) as pilot:
        await press(pilot, "space", "text:sharpness", "enter")
        assert isinstance(pilot.app.screen, StripsScreen)


async def test_ways_leave_out_modes_in_which_no_blur_was_measured() -> None:
    async with running(height=40, width=110) as pilot:
        await press(pilot, "space", "text:sharpness", "enter", "a", *typed(*FIRST), "s", "p", "escape", "g")
        await pilot.app.workers.wait_for_complete()
        text = await press(pilot, "down")
        assert "no blur measured" in text or "was not measured in the mode" in " ".join(text.split())
        assert pilot.app.failed is None
