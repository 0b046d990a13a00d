"""Every theme can be read: contrast ratios by WCAG 2.1 (W3C, 2018), from its colours."""

from __future__ import annotations

import pytest
from textual.theme import Theme

from forescale.engine.solve.record import LEVELS
from forescale.tui.entry import Entry
from forescale.tui.glyphs import FULL
from forescale.tui.runs import STYLES
from forescale.tui.themes import FORESCALE_THEMES
from tests.tui.app_pilot import press, running

STRONG = {"value", "answer", "hand", "stop", "warn", "ok", "note", ""}


def luminance(colour: str) -> float:
    """Return the relative luminance of #rrggbb, 0 black to 1 white."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(theme: Theme, style: str) -> float:
    """Return the contrast ratio of a style's letters on their ground, 1 to 21."""
    front, back, _ = STYLES[style]
    return ratio(getattr(theme, front), getattr(theme, back))


def ratio(front: str, back: str) -> float:
    light, dark = sorted(map(luminance, (front, back)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_is_that_of_the_standard() -> None:
    theme = Theme(name="bw", primary="#000000", foreground="#000000", background="#ffffff")
    assert contrast(theme, "") == pytest.approx(21.0)


@pytest.mark.parametrize("theme", FORESCALE_THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("style", STYLES)
def test_values_and_answers_have_seven_to_one_other_text_four_and_a_half(theme: Theme, style: str) -> None:
    assert contrast(theme, style) >= (7.0 if style in STRONG else 4.5)


@pytest.mark.parametrize("theme", FORESCALE_THEMES, ids=lambda theme: theme.name)
def test_what_fails_outshines_what_wants_a_look_and_that_what_holds(theme: Theme) -> None:
    assert STYLES["stop"][1] == "error"
    assert STYLES["warn"][2]
    assert not STYLES["ok"][2]
    assert contrast(theme, "warn") > contrast(theme, "ok")


def test_on_a_dark_set_nothing_is_brighter_than_a_verdict() -> None:
    theme = next(theme for theme in FORESCALE_THEMES if theme.name == "dark-set")
    verdicts = min(luminance(getattr(theme, name)) for name in ("success", "warning", "error"))
    others = (theme.foreground, theme.primary, theme.secondary, theme.accent)
    assert verdicts > max(luminance(colour or "#000000") for colour in others)


async def test_what_is_typed_can_be_read_and_where_in_every_theme() -> None:
    """What stands there to begin with is chosen, to be typed over; it and the cursor stand out from the entry."""
    async with running() as pilot:
        await press(pilot, "2", "enter")
        entry = pilot.app.screen.query_one(Entry)
        for _ in FORESCALE_THEMES:
            await press(pilot, "f3")
            _, _, back, front = entry.colors
            assert ratio(front.hex, back.hex) >= 7.0
            for part in ("input--selection", "input--cursor"):
                styles = entry.get_component_styles(part)
                assert ratio(styles.color.hex, styles.background.hex) >= 7.0, (pilot.app.theme, part)
                assert ratio(styles.background.hex, back.hex) >= 3.0, (pilot.app.theme, part)


async def test_signs_keep_their_colour_in_the_list_of_findings_in_every_theme() -> None:
    async with running("lock-gate") as pilot:
        await press(pilot, "f")
        table = pilot.shown.table
        for _ in FORESCALE_THEMES:
            await press(pilot, "f3")
            signs = [table.get_row_at(row)[0] for row in range(table.row_count)]
            told = {sign.plain.strip(): sign.spans[0].style for sign in signs if sign.plain.strip()}
            assert told
            for level in LEVELS:
                if (glyph := getattr(FULL, level)) in told:
                    front = STYLES[level][0]
                    assert told[glyph].color.name == pilot.app.theme_variables[front].lower(), (level, pilot.app.theme)
