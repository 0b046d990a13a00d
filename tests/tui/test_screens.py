"""Every screen as text: a few kept as snapshots, and each drawn with what its glyph table has."""

from __future__ import annotations

import pytest
from syrupy.assertion import SnapshotAssertion

from forescale.tui.app import TASKS
from forescale.tui.glyphs import SAFE_ON_CONSOLE
from forescale.tui.keys import BOARD_KEYS
from tests.tui.app_pilot import back_to_board, press, running, screen_text
from tests.tui.sizes import every_size

TASK_KEYS = {
    key.id: (key.key,) if key.key else ("space", f"text:{key.short}", "enter")
    for key in BOARD_KEYS
    if key.group in {"Whole tasks", "Help", "File"} and "task" in key.action
}


def lines_of(text: str) -> list[str]:
    """Return a screen's lines without what is blank at their ends."""
    return [line.rstrip() for line in text.splitlines()]


@pytest.mark.parametrize(
    ("shot", "width", "height", "keys"),
    [
        ("kiln-stack", 80, 24, ()),
        ("kiln-stack", 120, 40, ("3",)),
        ("kiln-stack", 40, 15, ("4",)),
        ("lock-gate", 80, 24, ("2",)),
        ("signal-lamp", 80, 24, ("2", "down", "enter", "x")),
        ("kiln-stack", 80, 24, ("f",)),
        ("kiln-stack", 80, 24, ("3", "down", "e")),
        ("lock-gate", 80, 24, ("b",)),
    ],
)
async def test_screens_are_as_they_were(
    shot: str, width: int, height: int, keys: tuple[str, ...], snapshot: SnapshotAssertion
):
    async with running(shot, width, height) as pilot:
        assert lines_of(await press(pilot, *keys)) == snapshot


@pytest.mark.parametrize(
    ("shot", "table"),
    [
        ("kiln-stack", "box"),
        pytest.param("lock-gate", "ascii", marks=pytest.mark.thorough),
        pytest.param("kiln-stack", "ascii", marks=pytest.mark.thorough),
        pytest.param("lock-gate", "box", marks=pytest.mark.thorough),
        pytest.param("signal-lamp", "box", marks=pytest.mark.thorough),
        pytest.param("signal-lamp", "ascii", marks=pytest.mark.thorough),
    ],
)
async def test_every_screen_is_drawn_with_the_glyphs_of_its_table(shot: str, table: str):
    safe = SAFE_ON_CONSOLE if table == "box" else {chr(code) for code in range(32, 127)}
    async with running(shot, 100, 30, glyphs=table) as pilot:
        for digit in "1234":
            assert set(await press(pilot, digit)) - {"\n"} <= safe
        for name, keys in TASK_KEYS.items():
            await press(pilot, *keys)
            await pilot.app.workers.wait_for_complete()
            text = await press(pilot)
            assert pilot.app.screen is not pilot.app.board, name
            assert set(text) - {"\n"} <= safe, (name, set(text) - {"\n"} - safe)
            await back_to_board(pilot)


@every_size()
async def test_every_task_fits_every_size(width: int, height: int):
    async with running("kiln-stack", width, height) as pilot:
        for name, keys in TASK_KEYS.items():
            await press(pilot, *keys)
            await pilot.app.workers.wait_for_complete()
            lines = lines_of(await press(pilot))
            assert len(lines) == height, name
            assert "Esc" in lines[-1], name
            assert lines[0].strip(), name
            await back_to_board(pilot)


def test_every_task_has_a_key_or_a_way_to_it():
    named = {key.action.split("'")[1] for key in BOARD_KEYS if key.action.startswith("task(")}
    assert named | {"leaving", "elsewhere", "come_back", "task_help", "task_keys"} == set(TASKS)


async def test_no_color_keeps_marks_and_words(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("NO_COLOR", "1")
    async with running() as pilot:
        text = screen_text(pilot)
        assert "look" in text
        assert "▲" in text
        assert "▸" in text
        strips = pilot.app.screen._compositor.render_strips()
        filters = pilot.app.get_line_filters()
        filtered = [
            strip.apply_filter(each, pilot.app.screen.background_colors[1]) for strip in strips for each in filters
        ]
        styles = [segment.style for strip in filtered for segment in strip if segment.style]
        assert all(colour is None or colour.is_default for style in styles for colour in (style.color, style.bgcolor))
        assert any(style.reverse for style in styles)
