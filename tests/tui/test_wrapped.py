"""Sentences wrapped for the screen: no line breaks a number off its unit."""

import pytest

from forescale.tui.glyphs import wrapped


@pytest.mark.parametrize(
    "whole",
    [
        "10 ft 7 7/8 in",
        "3 ft 6 in",
        "2.915 m",
        "10 %",
        "120 fps",
        "ISO 12800",
        "ND 0.6",
        "± 2.6 mm",
        "1 min 30 s",
        "1/3 stop",
    ],
)
def test_a_number_stays_with_its_unit_at_every_width(whole: str) -> None:
    text = f"Move it from {whole} to {whole}, and leave {whole} as it was"
    for width in range(len(whole) + 1, len(text) + 1):
        lines = wrapped(text, width)
        assert " ".join(lines) == text
        assert sum(line.count(whole) for line in lines) == 3, (width, lines)
        assert max(map(len, lines)) <= width


def test_later_lines_stand_under_the_start_of_the_text() -> None:
    assert wrapped("Refocus from 4 m to 3 m", 20, lead="2 focus ") == ["2 focus Refocus from", "        4 m to 3 m"]


def test_a_name_with_hyphens_stays_whole() -> None:
    assert wrapped("the pupil of demo-prime-25", 20) == ["the pupil of", "demo-prime-25"]


def test_a_number_that_no_line_holds_is_broken_between_its_parts() -> None:
    assert wrapped("10 ft 11 15/16 in", 11) == ["10 ft 11", "15/16 in"]
