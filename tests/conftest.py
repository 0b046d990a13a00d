"""What every test shares: a home of its own, so that no test sees or touches the user's files; how much is tried."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import Phase, settings

from forescale.engine.kit import unsaved

FEW, MANY = 6, 60  # generated examples of a test, in the default run and with `-m thorough`


def pytest_configure(config: pytest.Config) -> None:
    """Try few generated examples by default; they are not timed, as a slow machine is no fault.

    They are the same in each run, so that a change is judged by itself; only the long trials draw anew. No example is
    explained: that traces every line and makes each of them several times as slow.
    """
    phases = tuple(phase for phase in Phase if phase is not Phase.explain)
    settings.register_profile("few", deadline=None, max_examples=FEW, phases=phases, derandomize=True)
    settings.register_profile("many", deadline=None, max_examples=MANY, phases=phases, derandomize=True)
    settings.load_profile("many" if _thorough(config) else "few")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Let the thorough run take every test that generates its examples, since it tries many more of them."""
    for item in items if _thorough(config) else ():
        if item.get_closest_marker("long") is None and getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
            item.add_marker("thorough")


def pytest_collection_finish() -> None:
    """Leave what was collected alone from now on: it stays to the end, and looking through it takes long each time."""
    gc.collect()
    gc.freeze()


def _thorough(config: pytest.Config) -> bool:
    return bool(config.option.markexpr == "thorough")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give an empty folder that stands for the user's own files."""
    folder = tmp_path / "home"
    monkeypatch.setenv("FORESCALE_HOME", str(folder))
    yield folder
    unsaved.let_go()
