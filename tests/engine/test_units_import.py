"""Importing the units costs nothing that a start does not need."""

import subprocess
import sys

import pytest

LOADED = """
import sys
from forescale.engine.units import length_text, parse_length
{first}
print("\\n".join(sys.modules))
"""


def _loaded(first: str) -> set[str]:
    script = LOADED.format(first=first)
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return set(run.stdout.split())


@pytest.mark.parametrize("module", ["pint", "numpy", "textual", "rich", "pydantic"])
def test_an_import_leaves_the_heavy_libraries_alone(module):
    assert module not in _loaded("pass")


@pytest.mark.parametrize("entry", ["parse_length('10 ft 6 in')", "length_text(3048.0, 'imperial')"])
def test_the_grammar_s_own_units_need_no_unit_library(entry):
    assert "pint" not in _loaded(entry)


def test_a_unit_that_the_grammar_has_no_size_for_loads_the_unit_library():
    assert "pint" in _loaded("parse_length('2 yd')")
