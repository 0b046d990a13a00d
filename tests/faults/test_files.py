"""Files that no person writes, and what is no file: refused at once, in a line, however much or deep they are."""

from __future__ import annotations

import os
import socket
from pathlib import Path
from resource import RUSAGE_SELF, getrusage

import pytest

from forescale.engine.files.disk import MOST_BYTES, MOST_PROFILE_BYTES
from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import MOST_ROWS, PART, PART_END, clear_parts, read_toml, write_text, write_toml
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Camera
from forescale.engine.shot.records import Take
from tests.command import Here
from tests.faults.mutations import within

KILN = (library.SHIPPED / "shots" / f"{library.DEMO}.toml").read_text()
MOST_KB = 150_000  # of memory, to find out what a file is
HUGE = "1" + "0" * 400
ENDLESS = {
    "a whole number of 400 digits": f"{KILN}\n[action]\nfps = {HUGE}",
    "a number of 400 digits": f"number = {HUGE}",
    "a key of 30 tables": f"{'.'.join('a' * 30)} = 1",
    "a key of 40,000 tables": f"{'.'.join('a' * 40_000)} = 1",
    "quoted keys of 40,000 tables": ".".join(['"a"'] * 40_000) + " = 1",
    "100,000 dotted keys": "\n".join(f"{'.'.join(f'k{i}' for _ in range(15))} = 1" for i in range(100_000)),
    "lists in lists": f"a = {'[' * 50_000}{']' * 50_000}",
    "a list of 200,000": f"a = [{'1, ' * 200_000}]",
    "rows without end": "[[take]]\n" * (MOST_ROWS + 1),
    "more bytes than anyone writes": "#" * (MOST_BYTES + 1),
    "a string without an end": 'a = "' + "x" * (MOST_BYTES - 100),
}


@pytest.mark.parametrize("what", ENDLESS)
def test_what_no_person_writes_is_refused_before_it_costs_anything(what: str, tmp_path: Path) -> None:
    path = tmp_path / "shot.toml"
    path.write_text(ENDLESS[what])
    before = getrusage(RUSAGE_SELF).ru_maxrss
    with within(4), pytest.raises(BadInput) as refusal:
        read_toml(path)
    (line,) = refusal.value.lines
    assert line.startswith(f"{path}: ")
    assert "\n" not in line
    assert getrusage(RUSAGE_SELF).ru_maxrss - before < MOST_KB


def test_what_stands_in_a_text_is_no_key_however_it_looks(tmp_path: Path) -> None:
    path, dotted = tmp_path / "shot.toml", ".".join("a" * 100)
    path.write_text(f'x = "{dotted} \\" {dotted}"\ny = """\n{dotted}\n"""\nz = \'{dotted}\' # {dotted}\n' + "#" * 5000)
    assert read_toml(path) == {"x": f'{dotted} " {dotted}', "y": f"{dotted}\n", "z": dotted}


def test_a_profile_has_a_smaller_bound_than_a_shot(home: Path) -> None:
    path = home / "cameras" / "big.toml"
    write_text(path, "#" * (MOST_PROFILE_BYTES + 1), folders=True)
    with pytest.raises(BadInput, match="more than 256 KB"):
        library.load_profile(Camera, path)


def test_the_program_never_writes_what_it_would_not_read(tmp_path: Path) -> None:
    path = tmp_path / "shot.toml"
    for data in ({"a": ["x"] * (MOST_ROWS + 1)}, {"a": "x" * MOST_BYTES}, {f"k{i}": 1 for i in range(60_000)}):
        with pytest.raises(BadInput, match="is not written, since it could not be read again"):
            write_toml(path, data)
    assert not path.exists()


def test_a_shot_of_thousands_of_takes_is_saved_and_read(tmp_path: Path) -> None:
    shot = library.load_shot(library.shot_path(library.DEMO))
    take = Take.model_validate({"number": 1, "time": "2026-05-01T10:00:00", "set": "x" * 100})
    many = shot.model_copy(update={"take": tuple(take.model_copy(update={"number": n}) for n in range(1, MOST_ROWS))})
    with within(20):
        library.save_shot(tmp_path / "many.toml", many)
        assert library.load_shot(tmp_path / "many.toml") == many


@pytest.fixture(params=["pipe", "socket", "device", "folder"])
def no_file(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """What has a name and is no file."""
    path = tmp_path / "no-file.toml"
    match request.param:
        case "pipe":
            os.mkfifo(path)
        case "socket":
            with socket.socket(socket.AF_UNIX) as one:
                one.bind(str(path))
        case "device":
            path.symlink_to("/dev/zero")
        case _:
            path.mkdir()
    return path


def test_what_is_no_file_is_never_opened(no_file: Path, here: Here) -> None:
    with within(2), pytest.raises(BadInput, match="and not a file"):
        read_toml(no_file)
    ran = here("sheet", str(no_file))
    assert (ran.code, len(ran.faults)) == (2, 1)


def test_what_is_no_file_is_never_written_over(no_file: Path) -> None:
    shot = library.load_shot(library.shot_path(library.DEMO))
    with within(2), pytest.raises(BadInput, match="what is there is not a file"):
        library.save_shot(no_file, shot)


def test_a_shelf_with_what_is_no_file_and_bad_files_shows_the_rest(home: Path, here: Here) -> None:
    shelf = home / "cameras"
    shelf.mkdir(parents=True)
    os.mkfifo(shelf / "pipe.toml")
    (shelf / "folder.toml").mkdir()
    (shelf / "huge.toml").write_text(f"schema = {HUGE}")
    (shelf / "deep.toml").write_text(f"{'.'.join('a' * 500)} = 1")
    (shelf / "demo-cine-35.toml.toml").write_text("x")
    ran = here("kit", "list")
    assert ran.code == 0
    assert "demo-cine-35" in ran.out
    assert "huge" in ran.out
    assert "deep" in ran.out
    ran = here("options", "kiln-stack", "--json")
    assert ran.code in {0, 1}


# What a killed save leaves


def test_what_a_killed_save_left_is_cleared_and_what_is_under_way_stays(tmp_path: Path) -> None:
    pid = os.fork()
    if pid == 0:
        os._exit(0)
    os.waitpid(pid, 0)
    left, under_way = tmp_path / f"{PART}{pid}-abc{PART_END}", tmp_path / f"{PART}{os.getpid()}-abc{PART_END}"
    other = tmp_path / ".forescale-notes.part"
    for path in (left, under_way, other):
        path.write_text("x")
    clear_parts(tmp_path)
    assert sorted(tmp_path.iterdir()) == sorted([under_way, other])
    clear_parts(tmp_path / "none")


def test_a_name_as_long_as_a_name_can_be_is_saved(tmp_path: Path) -> None:
    path = tmp_path / f"{'n' * 250}.toml"
    write_text(path, "x = 1\n")
    assert path.read_text() == "x = 1\n"


# A file without a final newline


@pytest.mark.parametrize("end", ["", "\n"])
def test_comments_stay_where_the_last_line_has_no_end(end: str, tmp_path: Path) -> None:
    path = tmp_path / "shot.toml"
    path.write_text(f"{KILN.rstrip()}\n\n[[build]]\npart = 'sill'\nreal = '3 ft' # measured twice{end}")
    shot = library.load_shot(path)
    last = shot.build[-1]
    added = shot.model_copy(update={"build": (*shot.build, last.model_copy(update={"part": "lintel"}))})
    library.save_shot(path, added)
    assert library.load_shot(path) == added
    assert "# measured twice\n" in path.read_text()
    turned = shot.model_copy(update={"build": (last, *shot.build[:-1])})
    library.save_shot(path, turned)
    assert library.load_shot(path) == turned
    assert "# measured twice\n" in path.read_text()
