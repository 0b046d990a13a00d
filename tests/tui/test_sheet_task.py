"""The shot sheet on the screen: laid out for the width there is, nothing cut, and saved as it prints."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Static

from forescale.engine.sheet.templates.pages import sheet_templates
from forescale.engine.sheet.text import sheet_text
from tests.tui.app_pilot import press, running
from tests.tui.sizes import every_size_and_table


@every_size_and_table()
async def test_no_line_of_the_sheet_is_wider_than_the_screen(width: int, height: int, glyphs: str) -> None:
    async with running("kiln-stack", width, height, glyphs) as pilot:
        await press(pilot, "f5")
        text = str(pilot.app.screen.query_one("#page Static", Static).content)
        assert max(map(len, text.splitlines())) < width
        assert "18 ft 1 5/8 in (auto)" in text
        assert glyphs != "ascii" or text.isascii()


async def test_the_sheet_is_laid_out_anew_when_the_screen_changes_its_size() -> None:
    async with running("kiln-stack") as pilot:
        await press(pilot, "f5")
        await pilot.resize_terminal(40, 15)
        await press(pilot, "pagedown")
        await press(pilot, "pagedown")
        assert "  Stop: T20 (auto)" in await press(pilot, "pagedown")


async def test_the_sheet_is_saved_as_it_is_printed_whatever_the_screen(tmp_path: Path) -> None:
    async with running("kiln-stack", 40, 15) as pilot:
        await press(pilot, "f5", "s", "home", "ctrl+k", f"text:{tmp_path}/on-paper.txt", "enter")
        state = pilot.app.session.state
        assert (tmp_path / "on-paper.txt").read_text(encoding="utf-8") == sheet_text(state.shot, state.answer)


async def test_templates_are_saved_with_the_card_held_where_it_is_typed(tmp_path: Path) -> None:
    async with running("kiln-stack") as pilot:
        await press(pilot, "f5", "space", "text:cut-out", "enter", "home", "ctrl+k", "text:30 in", "enter")
        await press(pilot, "s", "home", "ctrl+k", f"text:{tmp_path}/cut.templates.html", "enter")
        state = pilot.app.session.state
        assert state.shot.scale.card == 762
        assert (tmp_path / "cut.templates.html").read_text(encoding="utf-8") == sheet_templates(
            state.shot, state.answer
        )
