"""What every test shares: a home of its own, so that no test sees or touches the user's files; how much is tried."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from forescale.engine.kit import unsaved

FEW, MANY = 25, 100  # generated examples of a test, in the default run and with `-m thorough`


def pytest_configure(config: pytest.Config) -> None:
    """Try few generated examples by default; they are not timed, as a slow machine is no fault."""
    settings.register_profile("few", deadline=None, max_examples=FEW)
    settings.register_profile("many", deadline=None, max_examples=MANY)
    settings.load_profile("many" if _thorough(config) else "few")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Let the thorough run take every test that generates its examples, since it tries many more of them."""
    for item in items if _thorough(config) else ():
        if item.get_closest_marker("long") is None and getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
            item.add_marker("thorough")


def _thorough(config: pytest.Config) -> bool:
    return bool(config.option.markexpr == "thorough")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give an empty folder that stands for the user's own files."""
    folder = tmp_path / "home"
    monkeypatch.setenv("FORESCALE_HOME", str(folder))
    yield folder
    unsaved.let_go()
