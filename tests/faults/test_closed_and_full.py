"""Folders that are closed, disks that are full, and what is in the way: told plainly, and nothing thrown away."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from forescale.engine.kit import library
from tests.command import Here
from tests.faults.program import MODULE, ROOT, Program, as_nobody, environment, python_of_nobody

LITTLE = 500  # bytes that a file may have on this disk: room for a word, none for a shot


def little_room() -> None:
    """Let no file grow, as on a full disk."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (LITTLE, LITTLE))


@pytest.fixture
def nobody() -> str:
    """Return a Python that can be run as a user to whom folders can be closed."""
    python = python_of_nobody()
    if python is None:
        pytest.skip("needs to be root, and a Python that another user can run")
    return python


@pytest.fixture
def place() -> Iterator[Path]:
    """Give a folder to which everyone has access; those of pytest are closed to others."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o777)
        yield Path(folder)


def opened(folder: Path) -> Path:
    """Return a new folder to which everyone has access."""
    folder.mkdir()
    folder.chmod(0o777)
    return folder


# Closed folders


def close_home(home: Path) -> None:
    home.chmod(0)


def close_what_is_in_it(home: Path) -> None:
    for folder in ("unsaved", *library.ONE_OF):
        (home / folder).mkdir()
        (home / folder).chmod(0)
    (home / "last-shot").write_text("x")
    (home / "last-shot").chmod(0)


def close_where_the_last_shot_lies(home: Path) -> None:
    (home / "away").mkdir()
    (home / "last-shot").write_text(f"{home / 'away' / 'x' / 'shot.toml'}\n")
    (home / "away").chmod(0)
    for folder in ("unsaved", "shots"):
        (home / folder).write_text("in the way")


def file_for_a_home(home: Path) -> None:
    home.rmdir()
    home.write_text("in the way")


CLOSINGS = [
    close_what_is_in_it,
    *(
        pytest.param(one, marks=pytest.mark.thorough)
        for one in (file_for_a_home, close_home, close_where_the_last_shot_lies)
    ),
]


@pytest.mark.parametrize("close", CLOSINGS)
def test_what_is_closed_or_in_the_way_keeps_no_one_from_starting(close, place: Path, nobody: str) -> None:
    home = opened(place / "home")
    close(home)
    with Program([], home, columns=200, prepare=as_nobody, python=nobody) as program:
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("1:25")
        for key, shown in ((b"o", "a file by its path"), (b"k", "Tab next shelf"), (b"g", "ways work")):
            program.send(key)
            program.wait_for(shown)
            program.send(b"\x1b")
            program.wait_for("q quit")
        program.send(b"q")
        program.wait_for("leave without saving")
        program.send(b"x")
        program.wait_still(0.5)
        if program.fd >= 0 and program.status is None:
            assert "x once more" in program.text
            program.send(b"x")
        assert program.ended() == 0
        assert "Traceback" not in program.said()


def test_work_that_cannot_be_kept_is_told_once_with_another_place(place: Path, nobody: str) -> None:
    home, other = opened(place / "home"), opened(place / "elsewhere")
    (home / "unsaved").write_text("in the way")
    with Program([], home, columns=200, prepare=as_nobody, python=nobody) as program:
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("Not kept for after a crash")
        program.send(b"o")
        program.wait_for("open")
        assert "are kept and come back" not in program.text
        program.send(b"\x1b[B\r")
        program.wait_for("cannot be kept")
        assert "w on the board saves them to another place" in program.text
        program.send(b"\x1b")
        program.wait_still()
        program.send(b"w")
        program.wait_for("Name or path")
        program.send(f"{other}/saved.toml\r".encode())
        program.wait_for("Saved: ")
        program.send(b"q")
        assert program.ended() == 0
    assert library.load_shot(other / "saved.toml").scale.ratio == 25


def test_takes_go_into_the_file_though_nothing_can_be_laid_by(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    library.save_shot(path, library.load_shot(library.shot_path(library.DEMO)))
    home.mkdir()
    (home / "unsaved").write_text("in the way")
    with Program([str(path)], home) as program:
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("Not kept for after a crash")  # told once: what follows is not written over
        program.send(b"ta")
        program.wait_for("Take 1 is logged")
        program.send(b"\x1b")
        program.wait_for("1 Scale")
        program.send(b"q")
        program.wait_for("leave without saving")
        program.send(b"x")
        program.wait_for("w saves elsewhere, x once more lets it go for good")
        program.send(b"x")
        assert program.ended() == 0
    left = library.load_shot(path)
    assert (left.scale.ratio, len(left.take)) == (24, 1)


def test_what_cannot_be_saved_can_be_left_for_another_place(home: Path, tmp_path: Path) -> None:
    path, other = tmp_path / "mine.toml", tmp_path / "other.toml"
    library.save_shot(path, library.load_shot(library.shot_path(library.DEMO)))
    with Program([str(path)], home) as program:
        program.wait_for("kiln stack")
        path.unlink()
        path.mkdir()
        program.send(b"\x1b[Cs")
        program.wait_for("Not saved, w saves elsewhere: cannot be written")
        program.send(b"q")
        program.wait_for("leave without saving")
        program.send(b"w")
        program.wait_for("Name or path")
        program.send(b"\x15" + f"{other}\r".encode())
        assert program.ended() == 0
    assert library.load_shot(other).scale.ratio == 25


# Full disks


def test_a_full_disk_loses_nothing_and_says_so(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    library.save_shot(path, library.load_shot(library.shot_path(library.DEMO)))
    before = path.read_bytes()
    with Program([str(path)], home, columns=200, prepare=little_room) as program:
        program.wait_for("kiln stack")
        program.send(b"\x1b[C")
        program.wait_for("Not kept for after a crash")
        program.send(b"s")
        program.wait_for("Not saved")
        assert "File too large" in program.text
        program.send(b"q")
        program.wait_for("leave without saving")
        program.send(b"x")
        program.wait_for("x once more")
        program.send(b"x")
        assert program.ended() == 0
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir() if one.name.startswith(".")] == []


@pytest.mark.parametrize("form", ["svg", "html"])
def test_a_sheet_that_a_full_disk_does_not_take_is_told(form: str, home: Path, tmp_path: Path) -> None:
    argv = ["-m", MODULE, "sheet", "kiln-stack", f"--{form}", str(tmp_path / f"sheet.{form}")]
    ran = subprocess.run(
        [sys.executable, *argv],
        capture_output=True,
        preexec_fn=little_room,
        env=environment(home),
        cwd=ROOT,
        check=False,
    )
    assert ran.returncode == 2
    assert ran.stderr.decode().count("\n") == 1
    assert not list(tmp_path.glob("*.part"))


# Times that no calendar has


def test_a_clock_set_back_or_far_on_is_no_hindrance(home: Path, here: Here) -> None:
    shot = library.load_shot(library.shot_path(library.DEMO))
    for time in (0, -(10**9), 2**33, 2**40):
        path = home / "shots" / f"mine{time}.toml"
        library.save_shot(path, shot)
        os.utime(path, (time, time))
    with Program([str(path)], home) as program:
        program.wait_for("kiln stack")
        program.send(b"o")
        program.wait_for("mine0")
        program.send(b"\x1b")
        program.wait_still(0.1)
        program.send(b"q")
        assert program.ended() == 0
    assert here("kit", "list").code == 0
