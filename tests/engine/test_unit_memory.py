"""What is remembered of the units between runs: the same factors, and nothing where it could be wrong."""

from __future__ import annotations

import json
import subprocess
import sys
from fractions import Fraction

import pytest

from forescale.engine import unit_memory
from forescale.engine.kit import library
from forescale.engine.units import registry
from forescale.engine.units.vocabulary import unit_pairs

CHECK = """
import sys
from forescale.engine.unit_memory import recall_units
recall_units()
from forescale.engine.units import parse_length, parse_speed, parse_illuminance
print(parse_length("10 ft 6 in"), parse_speed("30 mph"), parse_illuminance("1 fc"), "pint" in sys.modules)
"""


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("FORESCALE_HOME", str(tmp_path))
    monkeypatch.setattr(registry, "_known", {})
    return tmp_path


def run_again() -> list[str]:
    """Return what a new run reads of three entries, and whether it had to load Pint."""
    return subprocess.run([sys.executable, "-c", CHECK], capture_output=True, text=True, check=True).stdout.split()


def test_the_next_run_reads_the_same_without_loading_pint():
    first = run_again()
    unit_memory.remember_all_units()
    second = run_again()
    assert second[:3] == first[:3]
    assert (first[3], second[3]) == ("True", "False")


def test_every_remembered_factor_is_what_pint_says():
    kept = json.loads(registry.remember(unit_pairs()) or "")
    assert {(unit, base) for unit, base, _ in kept["factors"]} == unit_pairs()
    for unit, base, size in kept["factors"]:
        assert Fraction(size) == Fraction(registry._registry().convert(Fraction(1), unit, base))


def test_a_command_keeps_the_units_that_it_met(home):
    command = [sys.executable, "-m", "forescale.tui.cli.commands", "sheet", "kiln-stack"]
    first = subprocess.run(command, capture_output=True, check=True)
    kept = json.loads((home / "units.json").read_text())
    assert ["foot", "millimetre", "1524/5"] in kept["factors"]
    loads = [sys.executable, "-X", "importtime", *command[1:]]
    second = subprocess.run(loads, capture_output=True, text=True, check=True)
    assert second.stdout == first.stdout.decode()
    assert " pint\n" not in second.stderr


def test_a_command_that_fails_writes_nothing(home):
    command = [sys.executable, "-m", "forescale.tui.cli.commands", "sheet", "no-such-shot"]
    assert subprocess.run(command, capture_output=True, check=False).returncode == 2
    assert not list(home.iterdir())


def test_a_home_that_cannot_be_made_is_not_worth_a_word(home, monkeypatch):
    (home / "file").write_text("in the way")
    monkeypatch.setenv("FORESCALE_HOME", str(home / "file" / "folder"))
    command = [sys.executable, "-m", "forescale.tui.cli.commands", "sheet", "kiln-stack"]
    done = subprocess.run(command, capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


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
