"""Running the program as a user does: in this process, or in one of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from forescale.tui.cli.commands import main

ROOT = Path(__file__).resolve().parents[1]
KILN = ROOT / "profiles" / "shots" / "kiln-stack.toml"


@dataclass(frozen=True)
class Ran:
    """What a command printed and returned."""

    code: int
    out: str
    err: str

    @property
    def faults(self) -> list[str]:
        return self.err.splitlines()


class Here:
    """Runs commands in this process."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self._capsys = capsys

    def __call__(self, *words: str) -> Ran:
        self._capsys.readouterr()
        try:
            code = main(words)
        except SystemExit as left:
            code = int(left.code or 0)
        captured = self._capsys.readouterr()
        return Ran(code, captured.out, captured.err)


def alone(*words: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """Run a command in a process of its own."""
    argv = [sys.executable, "-m", "forescale.tui.cli.commands", *words]
    return subprocess.run(argv, capture_output=True, cwd=ROOT, env=os.environ | environment, check=False)
