"""A fault of the program itself: one line, a report, exit code 3, the work kept; closed streams and odd terminals."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from forescale.engine.kit import library
from forescale.tui import recovery
from tests.faults.program import MODULE, ROOT, Program, environment


@pytest.fixture
def broken(tmp_path: Path) -> dict[str, str]:
    """Return what makes the app break when marks are opened."""
    (tmp_path / "sitecustomize.py").write_text(
        "import forescale.tui.tasks.states as states\n"
        "def fill(self): raise ZeroDivisionError('a fault put in')\n"
        "states.MarksScreen.fill = fill\n"
    )
    return {"PYTHONPATH": os.pathsep.join([str(tmp_path), environment(tmp_path)["PYTHONPATH"]])}


def report_of(program: Program) -> str:
    said = "".join(program.said().split())
    return Path(said.rpartition("whathappenediskeptin")[2].partition(".txt")[0] + ".txt").read_text()


def test_a_fault_in_the_app_is_told_in_a_line_and_the_work_is_kept(broken: dict[str, str], home: Path) -> None:
    with Program([], home, columns=200, environ=broken) as program:
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("1:25")
        program.send(b"w")
        program.wait_for("Name or path")
        program.send(b"secret\x1b")
        program.wait_still()
        program.send(b"n")
        assert program.ended() == 3
        assert "Traceback" not in program.said()
        assert "unsaved work is kept and comes back" in program.said()
        report = report_of(program)
    assert "ZeroDivisionError: a fault put in" in report
    assert "textual 8" in report
    assert "w * * * * * * escape n" in report
    assert "secret" not in report
    assert "FORESCALE_DEBUG=1 adds the values" in report
    assert "kiln" not in report
    (path,) = recovery.kept_work(library.shot_path(library.DEMO))
    assert recovery.read_work(path).shot.scale.ratio == 25


def test_all_is_shown_where_it_is_wanted(broken: dict[str, str], home: Path) -> None:
    with Program([], home, columns=200, environ=broken | {"FORESCALE_DEBUG": "1"}) as program:
        program.wait_for("kiln stack")
        program.send(b"n")
        assert program.ended() == 3
        assert b"Traceback (most recent call last)" in program.got


CLOSED: dict[str, tuple[list[str], Callable[[], object], int]] = {
    "no output": (["sheet", "kiln-stack"], lambda: os.close(1), 2),
    "no output for a file": (["sheet", "kiln-stack", "--svg", "-"], lambda: os.close(1), 2),
    "no complaints": (["sheet", "none"], lambda: os.close(2), 2),
    "neither": (["sheet", "none"], lambda: os.closerange(0, 3), 2),
    "no input": (["sheet", "kiln-stack"], lambda: os.close(0), 0),
    "the app with no input": ([], lambda: os.close(0), 2),
    "the app with nothing": ([], lambda: os.closerange(0, 3), 2),
    "a full disk behind the output": (["sheet", "kiln-stack"], lambda: os.dup2(os.open("/dev/full", 1), 1), 2),
    "a full disk behind the complaints": (["sheet", "none"], lambda: os.dup2(os.open("/dev/full", 1), 2), 2),
}


@pytest.mark.parametrize("what", CLOSED)
def test_closed_and_full_streams_end_in_a_code_of_the_contract(what: str, home: Path) -> None:
    words, prepare, code = CLOSED[what]
    argv = [sys.executable, "-m", MODULE, *words]
    ran = subprocess.run(
        argv, capture_output=True, preexec_fn=prepare, env=environment(home), cwd=ROOT, timeout=60, check=False
    )
    assert ran.returncode == code
    assert b"Traceback" not in ran.stderr
    assert ran.stderr.count(b"\n") <= 1


@pytest.mark.thorough
@pytest.mark.parametrize(
    "environ",
    [{"TERM": "dumb"}, {"TERM": ""}, {"TERM": "linux", "LANG": "C"}, {"NO_COLOR": "1"}, {"TERM": "no-such-terminal"}],
    ids=str,
)
def test_odd_terminals_show_the_board(environ: dict[str, str], home: Path) -> None:
    with Program([], home, environ=environ) as program:
        program.wait_for("kiln stack")
        program.send(b"q")
        assert program.ended() == 0


def test_a_broken_configuration_starts_with_the_defaults_and_says_so(home: Path) -> None:
    home.mkdir(parents=True)
    (home / "config.toml").write_text('theme = "bright"\n[keys]\nundo = 5\n')
    with Program([], home) as program:
        program.wait_for("The defaults are in force")
        program.send(b"q")
        assert program.ended() == 0
