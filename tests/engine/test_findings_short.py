"""A finding that takes more than a line also says itself in one, with no number but those of its sentence."""

from __future__ import annotations

import re
from typing import Any

import pytest
from cases import solve
from hypothesis import given, reject
from shown import Shown
from shown_all import SHOWN
from strategies import kits, shot_changes

from forescale.engine.answer import Answer
from forescale.engine.files.faults import BadInput
from forescale.engine.mends import joined_both

A_LINE, ONE_LINE = 76, 70
NARROW = 36  # columns for a finding on a screen of 40
LENGTH = r"\d+(?: ft)?(?: \d+)?(?: \d+/\d+)? in"


def numbers(text: str) -> set[str]:
    """The numbers in a sentence, a length in feet and inches as one."""
    return set(re.findall(rf"{LENGTH}|\d+(?:\.\d+)?", text))


def check(found: Answer) -> int:
    """See that each long finding has its line, a caution aside, whose end must not go; return how many there are."""
    long = [said for said in found.findings if len(said.text) > A_LINE and not said.code.startswith("caution-")]
    for said in long:
        assert 0 < len(said.short) <= ONE_LINE, (said.code, said.short, len(said.short))
        assert numbers(said.short) <= numbers(said.text), (said.short, said.text)
    return len(long)


@pytest.mark.parametrize("shown", SHOWN, ids=[f"{shown.code} {number}" for number, shown in enumerate(SHOWN)])
def test_each_finding_says_itself_in_a_line(shown: Shown) -> None:
    check(shown.answer())


@given(shot_changes(), kits())
def test_any_finding_of_any_shot_says_itself_in_a_line(changes: dict[str, Any], kit: dict[str, Any]) -> None:
    head = {} if kit["head"] is None else {"kit.head": "plain-head"}
    try:
        check(solve(changes | head, **kit))
    except BadInput:
        reject()


@pytest.mark.parametrize("shown", SHOWN, ids=[f"{shown.code} {number}" for number, shown in enumerate(SHOWN)])
def test_the_first_words_make_sense_alone_on_a_narrow_screen(shown: Shown) -> None:
    for said in shown.answer().findings:
        line = said.short or said.text
        first = re.split("[:;,] ", line)[0]
        assert len(line) <= NARROW or len(first) + len(" …") <= NARROW, line


LINES = [
    ({"place.model": "3530 mm"}, "size-mismatch", "Model 14 % too large: stand it at 4.03 m"),
    ({"focus.stop": "f/4"}, "zone-short", "Not all sharp at f/4: set f/5"),
    ({"action.fps": 48}, "rate-low", "Falls 4 times as hard as wanted: set 96 fps"),
    (
        {"light.available": "100 lx"},
        "light-short",
        "Light 3.9 stops short, more than ISO 3200 can mend: add light until the meter reads 1530 lx "
        "(more lamps, heat and power)",
    ),
    ({"focus.stop": "f/16"}, "past-best-stop", "Diffraction at f/16: contrast 62 %; set f/8"),
]


@pytest.mark.parametrize(("changes", "code", "line"), LINES)
def test_the_line_says_what_is_wrong_and_the_mend(changes: dict[str, Any], code: str, line: str) -> None:
    found = solve(changes)
    assert [joined_both(found, said)[1] for said in found.findings if said.code == code] == [line]
