"""What the trials of faults share."""

from __future__ import annotations

import pytest

from tests.command import Here


@pytest.fixture
def here(capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs a command in this process."""
    return Here(capsys)
