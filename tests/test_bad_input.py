"""Every way to get it wrong: one line a fault, exit code 2, nothing printed and nothing written."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.command import KILN, ROOT, Here, alone


@pytest.fixture
def here(capsys: pytest.CaptureFixture[str]) -> Here:
    return Here(capsys)


@pytest.fixture(autouse=True)
def written(tmp_path: Path) -> Iterator[Path]:
    """Give a folder to write in, and hold that nothing but what the test put there is in it, or in the home."""
    folder = tmp_path / "work"
    folder.mkdir()
    yield folder
    left = {path.name for path in folder.rglob("*")} | {path.name for path in (tmp_path / "home").rglob("*")}
    assert left <= {"a-shot.toml", "a-folder", "a-file"}


def changed(folder: Path, old: str, new: str) -> Path:
    """Write the demo shot with one thing changed."""
    text = KILN.read_text(encoding="utf-8")
    assert text.count(old) >= 1
    path = folder / "a-shot.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return path


MODEL = 'model = "10 ft"'
# What stands in the demo shot, what is written instead, the field at fault, and what its line must say.
FAULTS: list[tuple[str, str, str, str]] = [
    ('title = "The kiln stack falls"', "title = 5", "title", "string"),
    ('screen_time = "6 s"', "screen_time = 6", "action.screen_time", 'has no unit; .* such as "6 s"'),
    ('kind = "falling"', 'kind = "flying"', "action.kind", "still, driven, falling, water, smoke or fire"),
    ("quantity = 240", "quantity = 2.5", "build 3.quantity", "whole number; write it like 20"),
    ("lens_height", "lens_hight", "place.lens_hight", 'did you mean "lens_height"'),
    ("[light]", "[lihgt]", "lihgt", 'did you mean "light"'),
    ("[light]", '[light]\n"\\u001b[31m" = 1', "light.?[31m", "unknown key"),
    ('lens = "demo-prime-35"', 'lens = "demo-prim-35"', "kit.lens", 'no lens .* did you mean "demo-prime-35"'),
    ('camera = "demo-cine-35"', 'camera = "demo-cin-35"', "kit.camera", 'no camera .* did you mean "demo-cine-35"'),
    ('head = "demo-slide-head"', 'head = "slide-head"', "kit.head", 'no head .* did you mean "demo-slide-head"'),
    ("2K centre crop", "2K center crop", "kit.mode", 'has no mode .* did you mean "2K centre crop"'),
    ('slide = "63 mm"', 'slide = "130 mm"', "move.slide", "off the slide .* 0 mm to 120 mm"),
    ('slide = "85 mm"', 'slide = "-1 mm"', "bench 4.slide", "off the slide .* 0 mm to 120 mm"),
    ('background = "240 ft"', 'background = "9 ft"', "place", "background is nearer than the model"),
    ('model_near = "9 ft 4 in"', 'model_near = "11 ft"', "place", "model_near lies beyond the model"),
    (MODEL, 'model = "nan"', "place.model", "not a length"),
    (MODEL, "model = nan", "place.model", "no unit"),
    (MODEL, 'model = "inf"', "place.model", "infinity cannot be used here"),
    (MODEL, 'model = "-10 ft"', "place.model", "-10 ft is out of range: 10 mm to 100 km"),
    (MODEL, 'model = "0 ft"', "place.model", "0 ft is out of range: 10 mm to 100 km"),
    (MODEL, "model = 10", "place.model", '10 has no unit; write it as text with a unit, such as "10 ft"'),
    (MODEL, 'model = "10"', "place.model", "a unit is missing after 10"),
    (MODEL, "model = true", "place.model", 'text with a unit, such as "10 ft"'),
    (MODEL, 'model = "1,500 mm"', "place.model", "1500 mm or 1.5 mm"),
    ('sweep = "15 deg"', 'sweep = "nan"', "move.sweep", "not an angle"),
    ("[light]", "[light]\niso = nan", "light.iso", "not a number that can be used"),
    ("[light]", "[light]\niso = inf", "light.iso", "not a number that can be used"),
    ("[light]", "[light]\nmains = 999", "light.mains", "999 is out of range: 10 to 100"),
    ("[light]", "[light]\niso = -800", "light.iso", "-800 is out of range: 1 to"),
    ("schema = 1", "schema = 2", "schema", "write 1"),
    ("[[bench]]", '[[bench]]\nseen = "locked"', "bench 1", "give one of slip_px, slip_at_background and seen"),
]


@pytest.mark.parametrize(("old", "new", "field", "says"), FAULTS)
def test_a_fault_is_one_line_with_file_field_and_what_would_be_right(
    here: Here, written: Path, old: str, new: str, field: str, says: str
) -> None:
    path = changed(written, old, new)
    ran = here("sheet", str(path), "--svg", str(written / "drawing.svg"))
    assert (ran.code, ran.out) == (2, "")
    assert len(ran.faults) == 1
    assert ran.faults[0].startswith(f"{path}: {field}: ")
    assert re.search(says, ran.faults[0])


def test_each_of_several_faults_has_its_line(here: Here, written: Path) -> None:
    path = changed(written, "[light]", "[light]\niso = -1\nmains = true\nlux = 5")
    faults = here("sheet", str(path)).faults
    assert {fault.split(": ")[1] for fault in faults} == {"light.iso", "light.mains", "light.lux"}
    assert len(faults) == 3


NO_TOML: list[tuple[bytes, str]] = [
    (b"[kit\na = 1", "is not TOML: .*line 1"),
    (b"title = 'no end", "is not TOML: .*end of document"),
    (b"a = 1\na = 2\n", "is not TOML"),
    (bytes(range(256)), "is not text in UTF-8"),
    (b"\xff\xfe[\x00k\x00]\x00", "is not text in UTF-8"),
    (b"a = " + b"[" * 50_000, "no bounds"),
    (b"a = " + b"9" * 5_000, "no bounds"),
    (b"a = 2026-99-99", "is not TOML"),
]


@pytest.mark.parametrize(("content", "says"), NO_TOML, ids=range(len(NO_TOML)))
def test_a_file_that_is_no_toml_is_said_to_be_none(here: Here, written: Path, content: bytes, says: str) -> None:
    path = written / "a-shot.toml"
    path.write_bytes(content)
    ran = here("sheet", str(path))
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert re.fullmatch(f"{re.escape(str(path))}: .*{says}.*", ran.faults[0])


def test_an_empty_file_lacks_what_is_needed_a_line_each(here: Here, written: Path) -> None:
    path = written / "a-shot.toml"
    path.touch()
    faults = here("sheet", str(path)).faults
    needed = {"kit", "place", "schema", "title"}
    assert set(faults) == {f"{path}: {field}: is missing and is needed" for field in needed}


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("./no-such/shot.toml", "no-such/shot.toml: there is no such file"),
        ("kiln-stck", 'no shot is called "kiln-stck"; did you mean "kiln-stack"?'),
        ("missing.toml", "missing.toml: there is no such file here, and no shot is called"),
        ("", 'no shot is called ""'),
        ("../kiln-stack", "../kiln-stack: there is no such file"),
        ("~no-such-user/shot.toml", "there is no such file"),
        ("n" * 5000, "no shot is called"),
        ("n/" * 5000, "cannot be read"),
        ("two\nlines", 'no shot is called "two lines"'),
        ("\x1b[31mred", 'no shot is called "?[31mred"'),
    ],
    ids=range(10),
)
def test_a_name_that_leads_nowhere_is_said_to(here: Here, name: str, says: str) -> None:
    ran = here("sheet", name)
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert says in ran.faults[0]


def test_a_folder_is_no_shot(here: Here, written: Path) -> None:
    ran = here("sheet", str(written))
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert ran.faults[0] == f"{written}: cannot be read: it is a folder and not a file"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="no file is closed to this user")
def test_a_closed_file_is_said_to_be_closed(here: Here, written: Path) -> None:
    path = changed(written, "T", "T")
    path.chmod(0)
    assert here("sheet", str(path)).faults == [f"{path}: cannot be read: Permission denied"]


def test_a_fault_in_a_profile_is_said_with_both_files(
    here: Here, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = tmp_path / "elsewhere" / "lenses" / "demo-prime-35.toml"
    own.parent.mkdir(parents=True)
    own.write_text("marks = 5", encoding="utf-8")
    monkeypatch.setenv("FORESCALE_HOME", str(own.parent.parent))
    ran = here("sheet", "kiln-stack")
    assert (ran.code, ran.out) == (2, "")
    assert f"{KILN}: kit.lens: {own}: marks: 5 is not known; write 'f' or 'T'" in ran.faults


@pytest.mark.parametrize("option", ["--svg", "--html", "--csv", "--templates"])
@pytest.mark.parametrize("target", ["a-file/out", "a-folder", ""])
def test_a_place_that_cannot_be_written_is_said_and_left(here: Here, written: Path, option: str, target: str) -> None:
    (written / "a-file").touch()
    (written / "a-folder").mkdir()
    ran = here("sheet", "kiln-stack", option, str(written / target) if target else "")
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert "cannot be written" in ran.faults[0] or "is empty" in ran.faults[0]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["sheet"], "the following arguments are required: SHOT"),
        (["sheet", "kiln-stack", "--units", "yards"], "invalid choice: 'yards' .*metric.*imperial"),
        (["sheet", "kiln-stack", "--jason"], "unrecognized arguments: --jason"),
        (["sheet", "kiln-stack", "lock-gate"], "unrecognized arguments: lock-gate"),
        (["sheet", "kiln-stack", "--svg"], "argument --svg: expected one argument"),
        (["sheet", "kiln-stack", "--json", "--svg", "-"], "standard output: two things cannot be written"),
        (["sheet", "kiln-stack", "--svg", "-", "--csv", "-"], "standard output: two things cannot be written"),
        (["sheet", "kiln-stack", "--svg", "x", "--csv", "x"], "x: two things cannot be written"),
        (["sheat", "kiln-stack"], 'no command is called "sheat"; did you mean "sheet"'),
        (["--theme", "plaid"], "invalid choice: 'plaid'"),
        (["--glyphs", "runes"], "invalid choice: 'runes'"),
        (["kit", "lst"], 'did you mean "list"'),
        (["kit", "show"], "the following arguments are required: NAME"),
        (["kit", "show", "demo-prim-35"], 'nothing .* is called "demo-prim-35"; did you mean "demo-prime-35"'),
        (["kit", "check"], "the following arguments are required: FILE"),
        (["kit", "list", "more"], "unrecognized arguments: more"),
    ],
)
def test_a_command_that_is_none_is_one_line(here: Here, words: list[str], says: str) -> None:
    ran = here(*words)
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert re.search(says, ran.faults[0])


def test_a_fault_of_the_program_itself_is_one_line_too(here: Here, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(*_: object) -> None:
        raise ZeroDivisionError("no\nreason")

    monkeypatch.setattr("forescale.tui.cli.command_sheet.answer_file", break_down)
    ran = here("sheet", "kiln-stack")
    assert (ran.code, ran.out, len(ran.faults)) == (3, "", 1)
    assert "a fault of its own, not by your input; what happened is kept in " in ran.err
    kept = Path(ran.faults[0].rpartition("kept in ")[2])
    report = kept.read_text()
    assert "ZeroDivisionError: no\nreason" in report
    assert 'test_bad_input.py", line' in report
    kept.unlink()
    kept.parent.rmdir()


def test_an_interrupt_is_quiet_and_ends_as_a_signal_does() -> None:
    """No exit code is given for it, so that a shell's loop of commands ends with it too."""
    program = (
        "import sys; from forescale.tui.cli import command_sheet, commands\n"
        "def interrupt(*_): raise KeyboardInterrupt\n"
        "command_sheet.answer_file = interrupt; sys.exit(commands.main(['sheet', 'kiln-stack']))"
    )
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, cwd=ROOT, check=False)
    assert (ran.returncode, ran.stdout, ran.stderr) == (-signal.SIGINT, b"", b"")


def test_no_traceback_leaves_a_process_of_its_own(written: Path) -> None:
    path = changed(written, MODEL, "model = 10")
    ran = alone("sheet", str(path))
    assert (ran.returncode, ran.stdout) == (2, b"")
    assert ran.stderr.decode().count("\n") == 1
