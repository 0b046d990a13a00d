"""The sheet from the command line: forms, exit codes, pipes, locales, and no screen ever started."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from itertools import product
from pathlib import Path
from xml.etree import ElementTree

import pytest

from forescale.tui.cli.commands import COMMANDS, main
from tests.command import KILN, ROOT, Here, alone

DEMOS = ["kiln-stack", "lock-gate", "signal-lamp"]


@pytest.fixture
def here(capsys: pytest.CaptureFixture[str]) -> Here:
    return Here(capsys)


@pytest.fixture
def hopeless(tmp_path: Path) -> Path:
    """Give a shot that cannot work as set: the model stands where it reads as twice its scale."""
    path = tmp_path / "hopeless.toml"
    path.write_text(KILN.read_text(encoding="utf-8").replace('"10 ft"', '"20 ft"'), encoding="utf-8")
    return path


@pytest.mark.parametrize("name", DEMOS)
def test_a_shipped_shot_prints_by_its_name(here: Here, name: str) -> None:
    ran = here("sheet", name)
    assert (ran.code, ran.err) == (0, "")
    assert max(map(len, ran.out.splitlines())) <= 80
    assert "\x1b" not in ran.out


def test_a_shot_prints_by_its_path_and_by_its_saved_name(here: Here, home: Path) -> None:
    saved = home / "shots" / "my-shot.toml"
    saved.parent.mkdir(parents=True)
    saved.write_text(KILN.read_text(encoding="utf-8"), encoding="utf-8")
    printed = [here("sheet", name).out for name in (str(KILN), "my-shot", "my-shot.toml", str(saved))]
    assert printed[0].startswith("=" * 79 + "\nTHE KILN STACK FALLS\n")
    assert len(set(printed)) == 1


def test_units_are_changed_on_request(here: Here) -> None:
    assert " 10 ft" in here("sheet", "kiln-stack").out
    metric = here("sheet", "kiln-stack", "--units", "metric").out
    assert " 3.048 m" in metric
    assert " 10 ft" not in metric


def test_json_is_strict_and_alone(here: Here) -> None:
    ran = here("sheet", "kiln-stack", "--json")
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out, parse_constant=pytest.fail)["lineup"]["model_mm"] == 3048
    assert ran.out.isascii()


def test_json_in_other_units_changes_the_words_only(here: Here) -> None:
    data = json.loads(here("sheet", "kiln-stack", "--json", "--units", "metric").out)
    assert data["units"] == "metric"
    assert data["lineup"]["model_mm"] == 3048


def test_exit_code_one_says_that_it_cannot_work_as_set(here: Here, hopeless: Path) -> None:
    ran = here("sheet", str(hopeless))
    assert ran.code == 1
    assert "CANNOT BE SHOT AS SET" in ran.out
    as_json = here("sheet", str(hopeless), "--json")
    assert as_json.code == 1
    assert "stop" in {finding["level"] for finding in json.loads(as_json.out)["findings"]}


@pytest.mark.parametrize(
    ("option", "begins"),
    [("svg", "<?xml"), ("html", "<!DOCTYPE html>"), ("templates", "<!DOCTYPE html>"), ("csv", "part,quantity")],
)
def test_a_paper_goes_to_its_file_or_to_standard_output(here: Here, tmp_path: Path, option: str, begins: str) -> None:
    target = tmp_path / f"sheet.{option}"
    ran = here("sheet", "kiln-stack", f"--{option}", str(target))
    assert (ran.code, ran.out, ran.err) == (0, "", "")
    written = target.read_bytes()
    assert written.startswith(begins.encode())
    assert here("sheet", "kiln-stack", f"--{option}", "-").out.encode() == written


def test_all_papers_and_json_come_in_one_go(here: Here, tmp_path: Path) -> None:
    targets = {option: tmp_path / f"sheet.{option}" for option in ("svg", "html", "csv", "templates")}
    words = [word for option, target in targets.items() for word in (f"--{option}", str(target))]
    ran = here("sheet", "kiln-stack", "--json", *words)
    assert json.loads(ran.out)["title"] == "The kiln stack falls"
    assert all(target.stat().st_size > 0 for target in targets.values())
    ElementTree.parse(targets["svg"])


def test_a_paper_of_a_hopeless_shot_says_why_on_standard_error(here: Here, hopeless: Path, tmp_path: Path) -> None:
    ran = here("sheet", str(hopeless), "--csv", str(tmp_path / "list.csv"))
    assert (ran.code, ran.out) == (1, "")
    assert len(ran.faults) == ran.err.count("\n") >= 1
    assert "too large" in ran.err or "too small" in ran.err


def test_a_paper_is_replaced_whole(here: Here, tmp_path: Path) -> None:
    target = tmp_path / "sheet.csv"
    target.write_text("what was there " * 1000, encoding="utf-8")
    here("sheet", "signal-lamp", "--csv", str(target))
    assert target.read_text(encoding="utf-8").count("\n") == 2
    assert [path.name for path in tmp_path.iterdir() if path.is_file()] == ["sheet.csv"]


@pytest.mark.parametrize("words", [["--help"], ["sheet", "--help"], ["kit", "--help"], ["kit", "check", "--help"]])
def test_help_is_given_on_each_command(here: Here, words: list[str]) -> None:
    ran = here(*words)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("usage: forescale")
    assert max(map(len, ran.out.splitlines())) <= 100


def test_help_names_every_command(here: Here) -> None:
    printed = here("--help").out
    assert all(re.search(rf"^  {name} ", printed, re.MULTILINE) for name in COMMANDS)


def test_the_version_is_one_line(here: Here) -> None:
    ran = here("--version")
    assert (ran.code, ran.err) == (0, "")
    assert re.fullmatch(r"forescale .+\n", ran.out)


@pytest.mark.parametrize(
    ("words", "opened"),
    [
        ([], (None, None, None)),
        (["kiln-stack"], (KILN, None, None)),
        ([str(KILN), "--glyphs", "ascii", "--theme", "daylight"], (KILN, "ascii", "daylight")),
    ],
)
def test_without_a_command_the_app_opens(
    monkeypatch: pytest.MonkeyPatch, words: list[str], opened: tuple[object, ...]
) -> None:
    seen: list[tuple[object, ...]] = []

    def open_app(*arguments: object) -> int:
        seen.append(arguments)
        return 0

    monkeypatch.setattr("forescale.tui.app.open_app", open_app)
    assert main(words) == 0
    assert seen == [opened]


def test_a_shot_called_as_a_command_is_opened_by_its_path(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "sheet").write_text(KILN.read_text(encoding="utf-8"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    seen: list[object] = []
    monkeypatch.setattr("forescale.tui.app.open_app", lambda path, *_: seen.append(path) or 0)
    assert main(["./sheet"]) == 0
    assert seen == [Path("sheet")]
    assert main(["sheet"]) == 2


def test_without_a_terminal_the_app_says_so_and_prints_nothing() -> None:
    asked = [sys.executable, "-m", "forescale.tui.cli.commands", "kiln-stack"]
    done = subprocess.run(asked, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "forescale: the app needs a terminal; forescale sheet SHOT prints without one\n"


# Everything that prints, each in a process of its own, which says what it loaded.
PRINTING: tuple[list[str], ...] = (
    [],
    ["--json"],
    ["--svg", "-"],
    ["--html", "-"],
    ["--csv", "-"],
)
LISTING = (
    "import sys; from forescale.tui.cli.commands import main; main(sys.argv[1:]); print(*sys.modules, file=sys.stderr)"
)
COMMANDS_THAT_PRINT = [*(["sheet", "kiln-stack", *words] for words in PRINTING), ["kit"], ["kit", "show", "kiln-stack"]]


@pytest.mark.parametrize("words", COMMANDS_THAT_PRINT)
def test_a_printing_command_loads_nothing_that_it_does_not_use(words: list[str]) -> None:
    argv = [sys.executable, "-c", LISTING, *words]
    ran = subprocess.run(argv, capture_output=True, cwd=ROOT, text=True, check=True)
    loaded = {module.split(".")[0] for module in ran.stderr.split()}
    assert "forescale" in loaded
    assert {"textual", "rich", "numpy"} & loaded == set()


def test_no_screen_is_loaded_for_a_fault_either() -> None:
    argv = [sys.executable, "-c", LISTING, "sheet", "no-such-shot"]
    ran = subprocess.run(argv, capture_output=True, cwd=ROOT, text=True, check=True)
    assert "textual" not in ran.stderr.split()


LOCALES, CODINGS = ("C", "C.UTF-8", "en_US.ISO-8859-1"), ("ascii", "latin-1", "utf-8")
USUAL = {("C", "ascii"), ("C.UTF-8", "utf-8"), ("en_US.ISO-8859-1", "latin-1")}
PAIRS = [pytest.param(*pair, marks=() if pair in USUAL else pytest.mark.thorough) for pair in product(LOCALES, CODINGS)]


@pytest.mark.parametrize(("locale", "coding"), PAIRS)
def test_any_locale_can_print(locale: str, coding: str) -> None:
    ran = alone("sheet", "kiln-stack", LC_ALL=locale, PYTHONIOENCODING=coding)
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert b"THE KILN STACK FALLS" in ran.stdout
    ran.stdout.decode(coding)


def test_a_drawing_on_standard_output_is_utf_8_whatever_the_locale() -> None:
    ran = alone("sheet", "kiln-stack", "--html", "-", PYTHONIOENCODING="ascii")
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert "×" in ran.stdout.decode("utf-8")


@pytest.mark.parametrize("colour", [{"NO_COLOR": "1"}, {"FORCE_COLOR": "1", "TERM": "xterm-256color"}])
@pytest.mark.parametrize("words", [["sheet", "kiln-stack"], ["kit"], ["--help"], ["sheet", "no-such"]])
def test_a_pipe_gets_no_codes(words: list[str], colour: dict[str, str]) -> None:
    ran = alone(*words, **colour)
    assert b"\x1b" not in ran.stdout + ran.stderr


def piped(words: list[str], lines: int) -> tuple[int, bytes]:
    """Run a command whose reader leaves after so many lines."""
    argv = [sys.executable, "-m", "forescale.tui.cli.commands", *words]
    reader, writer = os.pipe()
    process = subprocess.Popen(argv, stdout=writer, stderr=subprocess.PIPE, cwd=ROOT)
    os.close(writer)
    with os.fdopen(reader, "rb") as lines_read:
        for _ in range(lines):
            lines_read.readline()
    _, complaints = process.communicate()
    return process.returncode, complaints


@pytest.mark.parametrize("words", [["sheet", "kiln-stack"], ["sheet", "kiln-stack", "--html", "-"], ["kit"]])
def test_a_reader_who_leaves_at_once_is_no_fault(words: list[str]) -> None:
    assert piped(words, 0) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_a_full_place_is_one_line() -> None:
    with Path("/dev/full").open("wb") as full:
        argv = [sys.executable, "-m", "forescale.tui.cli.commands", "sheet", "kiln-stack"]
        ran = subprocess.run(argv, stdout=full, stderr=subprocess.PIPE, cwd=ROOT, check=False)
    assert ran.returncode == 2
    assert ran.stderr == b"standard output: cannot be written: No space left on device\n"


@pytest.mark.skipif(not Path("/dev/null").is_char_device(), reason="no null device here")
def test_a_device_is_written_to_and_not_replaced(here: Here) -> None:
    assert here("sheet", "kiln-stack", "--svg", "/dev/null").code == 0
    assert Path("/dev/null").is_char_device()


def test_nothing_is_written_beside_what_is_asked_for(here: Here, home: Path, tmp_path: Path) -> None:
    here("sheet", "kiln-stack")
    here("kit")
    assert not home.exists()
    assert list(tmp_path.iterdir()) == []
