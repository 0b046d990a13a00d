"""The diagrams as text: exact in size, nothing cut, nothing that its table of glyphs has not."""

import dataclasses
import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.findings.words import Words
from forescale.engine.units import angle_text, length_text, number_text, tape_at_least, tape_at_most
from forescale.tui.diagrams.canvas import Canvas
from forescale.tui.glyphs import ASCII, BOX, FULL, GLYPHS
from tests.tui.diagram_shots import DIAGRAMS, SHOTS, drawn, found


def whole_texts(shot):
    """Every text with a number in it that a diagram of this shot may show."""
    a = found(shot)
    words, place, units = Words(a), a.setting.place, (304.8, 1609344) if a.system == "imperial" else (1,)
    lengths = [
        a.lineup.model_mm, a.lineup.background_mm, a.lineup.hang_height_mm, place.lens_height, place.feature_height,
        a.focus.near_mm, a.focus.far_mm, a.focus.near_needed_mm, a.focus.far_needed_mm, a.focus.focus_mm,
        *(leading * 10.0**power * unit for unit in units for power in range(9) for leading in (1, 2, 5)),
    ]  # fmt: skip
    texts = {length_text(mm, a.system, fraction=part) for mm in lengths if mm is not None for part in (1, 8, 16)}
    for part in (1, 16):
        texts.add(tape_at_least(a.focus.near_mm, a.system, fraction=part))
        texts.add(tape_at_most(a.focus.far_mm, a.system, fraction=part))
    rates = a.kit.mode.fps
    ends = (rates.min, rates.max) if hasattr(rates, "min") else (min(rates), max(rates))
    texts |= {words.rate(rate).removesuffix(" fps") for rate in (a.speed.fps, a.speed.ideal_fps, *ends)}
    texts |= {"(1 is right)", number_text(a.speed.apparent_gravity, 2)}
    texts |= {f"{tens} %" for tens in range(0, 101, 10)} | {words.stop(a.focus.f_number)}
    if a.focus.contrast is not None:
        told = a.focus.contrast
        texts |= {words.percent(share) for share in (told.near, told.focus, told.far, told.best_worst)}
        texts |= {words.stop(told.best_f_number), f"{number_text(told.frequency_lpmm, 2)} line pairs/mm"}
    if math.isfinite(a.lineup.reads_as_ratio):
        texts.add(words.ratio(a.lineup.reads_as_ratio))
    slip = a.slip
    texts |= {angle_text(share * slip.sweep_deg) for share in (0, 0.5, 1)} | {"0"}
    for px in (slip.tolerance_px, -slip.tolerance_px, slip.slip_px, slip.largest_slip_px):
        texts |= set() if px is None else {number_text(px), f"+{number_text(px)}"}
    for mm in (slip.offset_mm, slip.slide_for_zero_mm):
        texts |= set() if mm is None else {f"{abs(mm):.1f} mm"}
    if slip.slide_mm is not None:
        texts.add(f"{slip.slide_mm:g} mm")
    if a.kit.head is not None:
        texts |= {f"{a.kit.head.slide_min:g}", f"{a.kit.head.slide_max:g} mm"}
    return sorted((text for text in texts if re.search(r"\d", text)), key=len, reverse=True)


def test_the_check_for_whole_numbers_finds_a_cut_one():
    assert without_whole_numbers("M 10 ft  F 18 ft 1 5/8 in", "kiln-stack").split() == ["M", "F"]
    assert "18 ft 1 5/" in without_whole_numbers("F 18 ft 1 5/", "kiln-stack")
    assert "40 ft" in without_whole_numbers("40 ft", "kiln-stack")
    assert "240" in without_whole_numbers("B 240", "kiln-stack")


def without_whole_numbers(line, shot):
    """What is left of a line once every text that belongs there, standing by itself, is taken out."""
    left = line
    for text in whole_texts(shot):
        alone = rf"(?<![\w./+-]){re.escape(text)}(?![\w./]|\s\d)"
        left = re.sub(alone, " ", left)
    return left


def check(lines, shot, width, height, glyphs):
    assert len(lines) == height
    shown = {char for field in dataclasses.fields(glyphs) for char in getattr(glyphs, field.name)}
    for line in lines:
        assert len(line) <= width
        assert all(char in shown or 0x20 <= ord(char) < 0x7F for char in line), line
        assert not re.search(r"\d", without_whole_numbers(line, shot)), line


SIZES = [(20, 1), (24, 2), (24, 5), (36, 3), (38, 4), (38, 7), (60, 8), (80, 12), (120, 20), (200, 50)]


@pytest.mark.parametrize("glyphs", GLYPHS.values(), ids=GLYPHS)
@pytest.mark.parametrize("diagram", DIAGRAMS)
@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_demo_shots_at_every_size(diagram, shot, glyphs):
    for width, height in SIZES:
        check(drawn(diagram, shot, width, height, glyphs), shot, width, height, glyphs)


@given(
    st.sampled_from(sorted(DIAGRAMS)),
    st.sampled_from(sorted(SHOTS)),
    st.integers(20, 200),
    st.integers(1, 60),
    st.sampled_from([ASCII, BOX, FULL]),
)
def test_nothing_is_cut_at_any_size(diagram, shot, width, height, glyphs):
    check(drawn(diagram, shot, width, height, glyphs), shot, width, height, glyphs)


@pytest.mark.parametrize("diagram", DIAGRAMS)
@pytest.mark.parametrize("shot", SHOTS)
def test_every_shot_in_a_pane(diagram, shot):
    for width, height in ((38, 4), (58, 9)):
        lines = drawn(diagram, shot, width, height)
        check(lines, shot, width, height, FULL)
        assert any(lines)


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
    assert canvas.lines() == ["    240 ft"]


def test_line_art_keeps_clear_of_texts_and_letters():
    canvas = Canvas(12, 1, ASCII)
    canvas.write(0, 4, "5 ft")
    canvas.letter(0, 0, "M")
    canvas.across(0, 0, 11, "-")
    assert canvas.lines() == ["M-- 5 ft ---"]


def test_texts_keep_the_order_of_their_marks():
    canvas = Canvas(30, 1, FULL)
    assert canvas.place([0], 12, ["B 240 ft"])
    assert not canvas.place([0], 11, ["M 3 ft 11 in"])
    assert canvas.place([0], 5, ["M 3 m"])
    assert canvas.lines() == [" M 3 m  B 240 ft"]


@pytest.mark.parametrize("diagram", DIAGRAMS)
@pytest.mark.parametrize("width", [0, 1, 19])
def test_a_diagram_without_room_stays_blank(diagram, width):
    assert drawn(diagram, "kiln-stack", width, 3) == ["", "", ""]
