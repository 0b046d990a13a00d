"""What every test shares: a home of its own, so that no test sees or touches the user's files."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from forescale.engine.kit import unsaved


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give an empty folder that stands for the user's own files."""
    folder = tmp_path / "home"
    monkeypatch.setenv("FORESCALE_HOME", str(folder))
    yield folder
    unsaved.let_go()
