"""The diagrams as text: exact in size, nothing cut, nothing that its table of glyphs has not."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.tui.diagrams.canvas import BRAILLE, Canvas
from forescale.tui.glyphs import ASCII, BOX, FULL, GLYPHS, plain
from forescale.tui.runs import row_text
from tests.tui.diagram_shots import DIAGRAMS, SHOTS, drawn

WRITE = Canvas.write


def check(diagram, shot, width, height, glyphs):
    """Every text stands whole where it was written, no number stands anywhere else, and all has its size and glyphs."""
    written = []

    def write(canvas, row, column, text, sign="answer"):
        done = WRITE(canvas, row, column, text, sign)
        if done:
            written.append((row, column, plain(text, glyphs)))
        return done

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Canvas, "write", write)
        lines = drawn(diagram, shot, width, height, glyphs)
    assert len(lines) == height
    shown = {char for glyph in glyphs for char in glyph}
    if glyphs is FULL:
        shown |= {chr(BRAILLE + bits) for bits in range(256)}
    left = [list(line) for line in lines]
    for row, column, text in written:
        assert lines[row][column : column + len(text)] == text
        left[row][column : column + len(text)] = " " * len(text)
    for line, rest in zip(lines, left, strict=True):
        assert len(line) <= width
        assert all(char in shown or 0x20 <= ord(char) < 0x7F for char in line), line
        assert not re.search(r"\d", "".join(rest)), line
    return lines


SIZES = [(20, 1), (24, 2), (24, 5), (36, 3), (38, 4), (38, 7), (60, 8), (80, 12), (120, 20), (200, 50)]


@pytest.mark.parametrize("glyphs", GLYPHS.values(), ids=GLYPHS)
@pytest.mark.parametrize("diagram", DIAGRAMS)
@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_demo_shots_at_every_size(diagram, shot, glyphs):
    for width, height in SIZES:
        check(diagram, shot, width, height, glyphs)


@given(
    st.sampled_from(sorted(DIAGRAMS)),
    st.sampled_from(sorted(SHOTS)),
    st.integers(20, 200),
    st.integers(1, 60),
    st.sampled_from([ASCII, BOX, FULL]),
)
def test_nothing_is_cut_at_any_size(diagram, shot, width, height, glyphs):
    check(diagram, shot, width, height, glyphs)


@pytest.mark.parametrize("diagram", DIAGRAMS)
@pytest.mark.parametrize("shot", SHOTS)
def test_every_shot_in_a_pane(diagram, shot):
    for width, height in ((38, 5), (58, 9)):
        assert any(check(diagram, shot, width, height, FULL))


@pytest.mark.parametrize("diagram", DIAGRAMS)
@pytest.mark.parametrize("shot", ["kiln-stack", "infinite", "no move"])
def test_the_tables_draw_the_same_letters_in_the_same_places(diagram, shot):
    def letters(glyphs):
        lines = drawn(diagram, shot, 60, 10, glyphs)
        return [[(at, char) for at, char in enumerate(line) if char.isalnum() and char != "o"] for line in lines]

    assert letters(ASCII) == letters(BOX) == letters(FULL)


def test_a_text_is_written_whole_or_not_at_all():
    canvas = Canvas(10, 1, FULL)
    assert not canvas.write(0, 5, "240 ft")
    assert not canvas.write(0, -1, "240 ft")
    assert canvas.write(0, 4, "240 ft")
    assert not canvas.write(0, 0, "10 f")
    assert list(map(row_text, canvas.rows())) == ["    240 ft"]


def test_line_art_keeps_clear_of_texts_and_letters():
    canvas = Canvas(12, 1, ASCII)
    canvas.write(0, 4, "5 ft")
    canvas.letter(0, 0, "M")
    canvas.across(0, 0, 11, "-")
    assert list(map(row_text, canvas.rows())) == ["M-- 5 ft ---"]


def test_texts_keep_the_order_of_their_marks():
    canvas = Canvas(30, 1, FULL)
    assert canvas.place([0], 12, ["B 240 ft"])
    assert not canvas.place([0], 11, ["M 3 ft 11 in"])
    assert canvas.place([0], 5, ["M 3 m"])
    assert list(map(row_text, canvas.rows())) == [" M 3 m  B 240 ft"]


@pytest.mark.parametrize("diagram", DIAGRAMS)
@pytest.mark.parametrize("width", [0, 1, 19])
def test_a_diagram_without_room_stays_blank(diagram, width):
    assert drawn(diagram, "kiln-stack", width, 3) == ["", "", ""]
