"""What is remembered of the units between runs: the same factors, and nothing where it could be wrong."""

from __future__ import annotations

import json
import subprocess
import sys
from fractions import Fraction

import pytest

from engine import library, unit_memory
from engine.units import registry
from engine.units.vocabulary import unit_pairs

CHECK = """
import sys
from engine.unit_memory import recall_units
recall_units()
from engine.units import parse_length, parse_speed, parse_illuminance
print(parse_length("10 ft 6 in"), parse_speed("30 mph"), parse_illuminance("1 fc"), "pint" in sys.modules)
"""


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("FORESCALE_HOME", str(tmp_path))
    return tmp_path


def run_again() -> list[str]:
    """Return what a new run reads of three entries, and whether it had to load Pint."""
    return subprocess.run([sys.executable, "-c", CHECK], capture_output=True, text=True, check=True).stdout.split()


def test_the_next_run_reads_the_same_without_loading_pint():
    first = run_again()
    unit_memory.remember_units()
    second = run_again()
    assert second[:3] == first[:3]
    assert (first[3], second[3]) == ("True", "False")


def test_every_remembered_factor_is_what_pint_says():
    kept = json.loads(registry.remember(unit_pairs()) or "")
    assert {(unit, base) for unit, base, _ in kept["factors"]} == unit_pairs()
    for unit, base, size in kept["factors"]:
        assert Fraction(size) == Fraction(registry._registry().convert(Fraction(1), unit, base))


@pytest.mark.parametrize("harm", ["", "{", "[]", '{"definitions": "other", "factors": [["foot", "millimetre", "1"]]}'])
def test_a_memory_of_other_definitions_or_a_broken_one_is_not_used(home, harm):
    (home / "units.json").write_text(harm)
    first = run_again()
    assert first[0] == "3200.4"
    assert first[3] == "True"


def test_a_factor_that_is_no_number_is_not_used():
    text = json.loads(registry.remember(unit_pairs()) or "")
    text["factors"][0][2] = "1/0"
    library.home().mkdir(parents=True, exist_ok=True)
    (library.home() / "units.json").write_text(json.dumps(text))
    assert run_again()[0] == "3200.4"
