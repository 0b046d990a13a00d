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


def test_the_first_conversion_loads_the_unit_library():
    assert "pint" in _loaded("parse_length('10 ft')")
