"""What a working is: how one number of the answer comes about, told to the person who has to trust it."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

PRACTICE = "common practice, no source"
DEFINITION = "definition"


@dataclass(frozen=True, slots=True)
class Working:
    """How one number of the answer comes about.

    `key` is the group and the field of the answer, `formula` is in the symbols of the manual, `put_in` gives it with
    a shot's numbers and the result, `conventions` what holds of tape, pupil and stops. `leads_to` are the keys of the
    numbers that it goes into. `needs` says what to enter where the number is not known; empty where it always is.
    `put_in` is asked only for a number that is known.
    """

    key: str
    name: str
    meaning: str
    formula: str
    put_in: Callable[[Answer], str]
    conventions: Callable[[Answer], str]
    leads_to: tuple[str, ...]
    source: str
    needs: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """A working for one shot, all of it text; `leads_to` are names."""

    name: str
    value_text: str
    meaning: str
    formula: str
    put_in: str
    conventions: str
    leads_to: tuple[str, ...]
    source: str


@cache
def _words() -> dict[str, Any]:
    return tomllib.loads(Path(__file__).with_name("words.toml").read_text(encoding="utf-8"))


def told(key: str, put_in: Callable[[Answer], str], conventions: Callable[[Answer], str]) -> Working:
    """Return the working of a number whose words stand in words.toml."""
    name, needs, leads_to, meaning, formula, source = _words()[key]
    return Working(key, name, meaning, formula, put_in, conventions, tuple(leads_to), source, needs)
