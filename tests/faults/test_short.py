"""The short form of the long trials: a few kills, files and keys at each run, with the same seed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.kills import kill_apps, kill_saves
from tests.faults.mutations import try_files
from tests.faults.random_keys import press_keys
from tests.faults.tally import Tally


def check(tally: Tally) -> None:
    assert not tally.failures, "\n".join([str(tally), *tally.failures[:5]])
    assert tally.tries


@pytest.mark.thorough
def test_saves_killed_midway_break_no_file(tmp_path: Path) -> None:
    check(kill_saves(16, 1, tmp_path))


@pytest.mark.thorough
def test_the_app_killed_at_work_loses_no_take(tmp_path: Path) -> None:
    check(kill_apps(2, 1, tmp_path))


def test_mutated_files_are_refused_or_answered(home: Path) -> None:
    home.mkdir()
    check(try_files(250, 1, home))


@pytest.mark.thorough
def test_random_keys_and_sizes_leave_the_app_alive(tmp_path: Path) -> None:
    check(press_keys(200, 1, tmp_path))


@pytest.mark.thorough
def test_many_mutated_files_are_refused_or_answered(home: Path) -> None:
    home.mkdir()
    check(try_files(5000, 2, home))


@pytest.mark.thorough
def test_many_random_keys_and_sizes_leave_the_app_alive(tmp_path: Path) -> None:
    check(press_keys(3000, 2, tmp_path))
