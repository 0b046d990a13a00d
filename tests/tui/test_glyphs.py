"""Which glyphs a terminal gets, and that each table holds only what its terminals can show."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.tui.glyphs import ASCII, BOX, FULL, GLYPHS, SAFE_ON_CONSOLE, choose, plain
from tests.tui.app_pilot import press, running, screen_text

UTF8 = {"LANG": "en_GB.UTF-8"}
LETTERS = (
    "lens", "model", "nearest", "focus", "background", "farthest", "axis", "pupil", "slide", "zero", "ideal", "rate",
)  # fmt: skip


def glyphs_of(table):
    return {name: glyph for name, glyph in table._asdict().items() if name != "name"}


@pytest.mark.parametrize(
    ("environ", "encoding", "table"),
    [
        (UTF8 | {"TERM": "xterm-256color"}, "utf-8", FULL),
        (UTF8 | {"TERM": "tmux-256color"}, "UTF-8", FULL),
        (UTF8 | {"TERM": "linux"}, "utf-8", BOX),
        (UTF8 | {"TERM": "dumb"}, "utf-8", ASCII),
        (UTF8 | {"TERM": "vt100"}, "utf-8", ASCII),
        (UTF8 | {"TERM": "linux"}, "ascii", ASCII),
        (UTF8 | {"TERM": "xterm"}, "iso-8859-1", ASCII),
        ({"TERM": "xterm", "LANG": "C"}, "utf-8", ASCII),
        ({"TERM": "xterm", "LANG": "en_GB"}, "utf-8", ASCII),
        ({"TERM": "xterm", "LANG": "de_DE.UTF-8@euro"}, "utf-8", FULL),
        ({"TERM": "xterm", "LANG": "en_GB.UTF-8", "LC_ALL": "POSIX"}, "utf-8", ASCII),
        ({"TERM": "xterm", "LANG": "C", "LC_CTYPE": "C.UTF-8"}, "utf8", FULL),
        ({"TERM": "xterm", "LC_CTYPE": "UTF-8"}, "utf-8", FULL),
        ({}, "utf-8", FULL),
        ({}, "cp1252", ASCII),
    ],
)
def test_terminal_and_locale_choose_the_table(environ, encoding, table):
    assert choose(None, environ, encoding) is table


@pytest.mark.parametrize("name", GLYPHS)
def test_a_table_can_be_forced(name):
    assert choose(name, {"TERM": "dumb", "LANG": "C"}, "ascii") is GLYPHS[name]


@pytest.mark.parametrize("table", GLYPHS.values(), ids=GLYPHS)
def test_every_glyph_is_one_column_wide(table):
    for name, glyph in glyphs_of(table).items():
        assert len(glyph) == (2 if name == "break_mark" else 1), name
        assert all(unicodedata.east_asian_width(char) not in "WF" for char in glyph), name
        assert not any(unicodedata.combining(char) for char in glyph), name


def test_ascii_is_ascii():
    assert all(glyph.isascii() for glyph in glyphs_of(ASCII).values())


def test_console_glyphs_are_in_the_pc_character_set():
    """The built-in font of the Linux console is code page 437 (Python's codec follows Unicode's table of it).

    Its arrows sit at the places of control codes, 0x18 to 0x1B, which the codec leaves out.
    """
    for name, glyph in glyphs_of(BOX).items():
        assert set(glyph) <= SAFE_ON_CONSOLE, name
        if name not in {"left", "right", "up", "down"}:
            assert len(glyph.encode("cp437")) == len(glyph), name


def test_what_console_fonts_lack_is_not_called_safe():
    """Missing from one or another of the 29 fonts for Western Europe in Debian's console-setup 1.221."""
    assert SAFE_ON_CONSOLE.isdisjoint("▁▂▃▄▅▆▇▀▌▐▖▗▘▝▓✓○◉∞√λ…⠁⣿")


def test_signs_that_the_texts_use_are_safe_on_the_console():
    assert set("×½¼°±²·µ") <= SAFE_ON_CONSOLE


@pytest.mark.parametrize("table", GLYPHS.values(), ids=GLYPHS)
def test_what_must_be_told_apart_is_different(table):
    def distinct(*names):
        return len({getattr(table, name) for name in names}) == len(names)

    assert distinct("ok", "note", "warn", "stop")
    assert distinct("point", "other_point")
    assert distinct("heavy", "horizontal")
    assert distinct("shade", "shade_light", "heavy", "dot")
    assert distinct(*LETTERS)


def test_lettering_is_the_same_everywhere():
    assert len({tuple(getattr(table, name) for name in LETTERS) for table in GLYPHS.values()}) == 1


@pytest.mark.parametrize(
    ("text", "ascii_text", "box_text"),
    [
        ("7 ft 8 in × 4 ft", "7 ft 8 in x 4 ft", "7 ft 8 in × 4 ft"),
        ("259.2°", "259.2 deg", "259.2°"),
        ("62.1 mm ± 0.8 mm", "62.1 mm +/- 0.8 mm", "62.1 mm ± 0.8 mm"),
        ("S / k²", "S / k^2", "S / k²"),
        ("½ in", "1/2 in", "½ in"),
        ("1½ in", "1 1/2 in", "1 ½ in"),
        ("3¾ in", "3 3/4 in", "3 3/4 in"),
        ("a – b — c", "a - b - c", "a - b - c"),
        ("the head’s axis", "the head's axis", "the head's axis"),
        ("√24", "sqrt 24", "sqrt 24"),
        ("to ∞", "to infinity", "to infinity"),
        ("λ = 550 nm", "lambda = 550 nm", "lambda = 550 nm"),
        ("W·σ", "W.?", "W·?"),
        ("wait…", "wait...", "wait..."),
        ("12.7 µm", "12.7 um", "12.7 µm"),
        ("Gerüst, Brüstung", "Gerust, Brustung", "Gerüst, Brüstung"),
        ("Łódź", "?odz", "?ódz"),
        ("10 ft", "10 ft", "10 ft"),
    ],
)
def test_texts_are_spelt_with_what_there_is(text, ascii_text, box_text):
    assert plain(text, ASCII) == ascii_text
    assert plain(text, BOX) == box_text
    assert plain(text, FULL) == text


@given(st.text(alphabet=st.characters(exclude_categories=["Cc", "Cs"])))
def test_no_text_leaves_its_table(text):
    assert set(plain(text, BOX)) <= SAFE_ON_CONSOLE
    assert plain(text, ASCII).isascii()


@given(st.text(alphabet=st.characters(max_codepoint=0x7E, min_codepoint=0x20)))
def test_plain_text_stays_as_it_is(text):
    assert plain(text, ASCII) == plain(text, BOX) == text


async def test_what_a_task_says_is_cut_in_ascii_too():
    async with running(width=40, height=15, glyphs="ascii") as pilot:
        await press(pilot, "d")
        pilot.shown.say("the model reads too small, " * 8 + "stand it at 9 ft 8 in")
        await pilot.pause()
        text = screen_text(pilot)
    assert text.isascii()
    assert "..." in text
