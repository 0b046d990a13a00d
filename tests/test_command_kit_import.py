"""`forescale kit import` as it is run: what it prints, what it writes, and what it never writes over."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from forescale.engine.kit.library import load_profile
from forescale.engine.kit.profiles import Lens
from forescale.engine.shelf import catalogue
from forescale.engine.shelf.profile_draft import Draft
from tests.command import ROOT, Here
from tests.invented_catalogue import BROKEN, write_catalogue

GIVEN = "pell-given.toml"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Set the invented catalogue up and return its folder."""
    folder = write_catalogue(tmp_path / "catalogue")
    monkeypatch.setenv(catalogue.FOLDER_VARIABLE, str(folder))
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Here:
    return Here(capsys)


def kit_import(run: Here, *words: str) -> tuple[int, list[str], list[str]]:
    ran = run("kit", "import", *words)
    assert all(len(line) <= 79 or line.startswith("Written to") for line in ran.out.splitlines())
    return ran.code, ran.out.splitlines(), ran.faults


def test_a_search_that_leaves_one_writes_its_profile(run: Here, home: Path) -> None:
    code, out, faults = kit_import(run, "PELL", "given")
    path = home / "lenses" / GIVEN
    assert (code, faults) == (0, [])
    assert out[0] == f"Written to {path}"
    taken, guessed = "\n".join(out).split("TO CHECK")
    assert "focal_min" in taken
    assert "smallest .............. f/16" in taken
    assert "close_focus" not in taken
    assert "close_focus ........... 210 mm" in guessed
    assert "pupil ................. not known" in guessed
    assert run("kit", "check", str(path)).code == 0


@pytest.mark.parametrize("words", [["larch", "40"], ["lo-36"], ["18-55mm"], ["converter"], ["pell", "row"], ["2,8/21"]])
def test_what_is_written_passes_the_check(run: Here, home: Path, words: list[str]) -> None:
    assert kit_import(run, *words)[0] == 0
    (path,) = home.rglob("*.toml")
    checked = run("kit", "check", str(path))
    assert (checked.code, checked.err) == (0, "")


def test_several_are_listed_with_their_numbers_and_one_is_picked(run: Here, home: Path) -> None:
    code, out, faults = kit_import(run, "larch")
    assert (code, faults) == (0, [])
    assert out[0].split() == ["1", "camera", "Larch", "36", "(first", "run)"]
    assert len(out) == 6
    assert not home.exists()
    assert kit_import(run, "larch", "--pick", "2")[0] == 0
    assert [path.name for path in home.rglob("*.toml")] == ["larch-40.toml"]


def test_no_more_than_forty_are_listed(run: Here, folder: Path) -> None:
    lenses = "".join(f"<lens><maker>Many</maker><model>Row {n}mm f/2</model></lens>" for n in range(10, 53))
    (folder / "many.xml").write_text(f"<lensdatabase>{lenses}</lensdatabase>", encoding="utf-8")
    _, out, _ = kit_import(run, "many")
    assert out[39] == "  40 lens    Many Row 49mm f/2"
    assert out[40] == "and 3 more: another word leaves fewer"
    assert len(out) == 42


@pytest.mark.parametrize("pick", ["0", "6", "-1"])
def test_a_number_that_is_not_in_the_list_is_refused(run: Here, pick: str) -> None:
    code, out, (fault,) = kit_import(run, "larch", f"--pick={pick}")
    assert (code, out) == (2, [])
    assert fault == f"forescale kit import: --pick {pick}: these words find 5; pick from 1 to 5"


def test_a_file_that_is_there_is_never_written_over(run: Here, home: Path) -> None:
    path = home / "lenses" / GIVEN
    path.parent.mkdir(parents=True)
    path.write_text("mine", encoding="utf-8")
    code, out, (fault,) = kit_import(run, "given")
    assert (code, out) == (2, [])
    assert fault == f"{path}: is there already and is left as it is; give another name with --name NAME"
    assert path.read_text(encoding="utf-8") == "mine"
    assert kit_import(run, "given", "--name", "other")[0] == 0
    assert load_profile(Lens, path.with_name("other.toml")).focal_min == 7


def test_a_link_to_nowhere_is_left_alone(run: Here, home: Path) -> None:
    path = home / "lenses" / GIVEN
    path.parent.mkdir(parents=True)
    path.symlink_to(home / "gone.toml")
    assert kit_import(run, "given")[0] == 2
    assert path.is_symlink()
    assert not (home / "gone.toml").exists()


def test_unsaved_work_of_that_name_is_left_alone(run: Here, home: Path) -> None:
    assert kit_import(run, "given")[0] == 0
    path = home / "lenses" / GIVEN
    Draft("lenses", load_profile(Lens, path)).keep()
    path.unlink()
    code, _, (fault,) = kit_import(run, "given")
    assert (code, path.exists()) == (2, False)
    assert fault == "pell-given: is under work and not saved yet; give another name with --name NAME"


def test_nothing_found_is_one_line_with_the_nearest_spelling(run: Here) -> None:
    assert kit_import(run, "giben") == (
        2,
        [],
        ['nothing in the catalogue has "giben" in its name; did you mean "given"?'],
    )


def test_a_broken_file_costs_one_line_and_no_more(run: Here, folder: Path) -> None:
    (folder / "broken.xml").write_text(BROKEN, encoding="utf-8")
    code, out, (fault,) = kit_import(run, "given")
    assert code == 0
    assert out[0].startswith("Written to ")
    assert fault.startswith(f"{folder / 'broken.xml'}: is skipped: it is not XML")


def test_without_words_it_says_what_it_takes(run: Here) -> None:
    code, _, (fault,) = kit_import(run)
    assert code == 2
    assert "WORDS" in fault


def test_without_a_catalogue_it_says_how_to_add_it(run: Here, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(catalogue.FOLDER_VARIABLE)
    monkeypatch.setattr(catalogue, "PACKAGE", "no_such_package_anywhere")
    monkeypatch.setattr(catalogue, "SYSTEM_FOLDERS", ())
    code, out, (fault,) = kit_import(run, "given")
    assert (code, out) == (2, [])
    assert fault.endswith("pip install 'forescale[catalogue]'")


def test_no_screen_is_started_and_no_socket_opened(folder: Path, home: Path) -> None:
    guard = (
        "import sys\n"
        "sys.addaudithook(lambda event, _: event.startswith('socket.') and sys.exit(f'opened {event}'))\n"
        "from forescale.tui.cli.commands import main\n"
        "code = main(['kit', 'import', 'given'])\n"
        "sys.exit(code or ('loaded Textual' if 'textual' in sys.modules else 0))\n"
    )
    variables = os.environ | {catalogue.FOLDER_VARIABLE: str(folder), "FORESCALE_HOME": str(home)}
    ran = subprocess.run([sys.executable, "-c", guard], capture_output=True, cwd=ROOT, env=variables, check=False)
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert (home / "lenses" / GIVEN).is_file()
