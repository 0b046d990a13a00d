"""Signals and a terminal that goes: the work is kept, the terminal is as it was, and the whole screen comes back."""

from __future__ import annotations

import signal
import termios
import time
from pathlib import Path

import pytest

from forescale.engine.kit import library
from forescale.tui import recovery
from tests.faults.program import Program

LEFT = (b"\x1b[?1049l", b"\x1b[?25h")  # the other screen is left, the cursor shown


def kept_ratio() -> float | None:
    (path,) = recovery.kept_work(library.shot_path(library.DEMO))
    return recovery.read_work(path).shot.scale.ratio


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT, signal.SIGINT])
def test_a_signal_to_end_keeps_the_work_and_restores_the_terminal(number: signal.Signals, home: Path) -> None:
    with Program([], home) as program:
        before = termios.tcgetattr(program.fd)
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("1:25")
        program.signal(number)
        assert program.ended() == 0
        assert all(one in program.got for one in LEFT)
    assert before[3] & termios.ICANON
    assert kept_ratio() == 25


def test_a_terminal_that_goes_keeps_the_work(home: Path) -> None:
    with Program([], home) as program:
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("1:25")
        program.hang_up()
        assert program.ended() in {0, 3}
    assert kept_ratio() == 25


STOPS = (signal.SIGTSTP, pytest.param(signal.SIGSTOP, marks=pytest.mark.thorough), None)


@pytest.mark.parametrize("number", STOPS, ids=["SIGTSTP", "SIGSTOP", "Ctrl+Z"])
def test_the_whole_screen_is_painted_after_a_stop(number: signal.Signals | None, home: Path) -> None:
    with Program([], home) as program:
        program.wait_for("kiln stack")
        program.wait_still()
        before = program.rows()
        program.send(b"\x1a") if number is None else program.signal(number)
        program.wait_until(program.stopped, "a stop")
        program.wait_still(0.1)
        program.forget_screen()
        program.signal(signal.SIGCONT)
        program.wait_until(lambda: program.rows() == before, "the screen that stood there before")
        program.send(b"\x1b[C")
        program.wait_for("1:25")


def test_what_was_set_a_moment_ago_is_kept_when_the_battery_goes(home: Path) -> None:
    with Program([], home) as program:
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("1:25")
        program.wait_still(0.3)
        time.sleep(1)  # for a machine with much to do; the work is written a fifth of a second after the key
        program.signal(signal.SIGKILL)
        program.ended()
    assert kept_ratio() == 25
