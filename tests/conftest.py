"""What every test shares: a home of its own, so that no test sees or touches the user's files."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return an empty folder that stands for the user's own files."""
    folder = tmp_path / "home"
    monkeypatch.setenv("FORESCALE_HOME", str(folder))
    return folder
