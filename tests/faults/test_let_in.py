"""What a file or a person brings in and must not leave again as it is: formulas, control characters, hostile names."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest

from forescale.engine.answer import answer_file
from forescale.engine.files.faults import BadInput
from forescale.engine.files.names import name_of, refuse_name, why_not
from forescale.engine.files.toml_files import write_toml
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Camera
from forescale.engine.shelf.catalogue import read_catalogue
from forescale.engine.shelf.new_shot import free_path
from forescale.engine.shelf.profile_draft import free_name
from tests.command import Here
from tests.faults.mutations import within
from tests.tui.app_pilot import press, running

FORMULAS = ["=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1:A9)", "\t=1", "\r=1", " =1"]
CONTROLS = "a\x1b[2Jb\x07c\x9b31md\u202ee\u2066f\x00g"
OUTPUTS = [
    [], ["--json"], ["--svg", "-"], ["--html", "-"], ["--csv", "-"], ["--units", "metric"],
]  # fmt: skip


def hostile(path: Path, text: str) -> None:
    """Write a shot with a text wherever a person may write one."""
    shot = library.load_shot(library.SHIPPED / "shots" / f"{library.DEMO}.toml").dump()
    shot |= {"title": text, "notes": text}
    shot["build"] = [part | {"part": text} for part in shot["build"]]
    shot["stock"] = [{"item": text, "size": "1 in"}]
    shot["take"] = [{"time": "2026-05-01T10:00:00", "set": text, "note": text}]
    write_toml(path, shot)


@pytest.mark.parametrize("formula", FORMULAS)
def test_no_cell_is_a_formula(formula: str, tmp_path: Path, here: Here) -> None:
    hostile(tmp_path / "shot.toml", formula)
    ran = here("sheet", str(tmp_path / "shot.toml"), "--csv", "-")
    rows = list(csv.reader(ran.out.splitlines()))
    assert len(rows) > 1
    for cell in (cell for row in rows for cell in row):
        assert not cell.startswith(("=", "+", "@", "\t", "\r"))
        assert not cell.startswith("-") or float(cell) <= 0


@pytest.mark.parametrize("words", OUTPUTS, ids=" ".join)
def test_no_control_character_leaves_by_any_output(words: list[str], tmp_path: Path, here: Here) -> None:
    path = tmp_path / "shot.toml"
    hostile(path, CONTROLS)
    ran = here("sheet", str(path), *words)
    assert ran.code in {0, 1}
    assert all(char.isprintable() or char in "\n\u00a0" for char in ran.out + ran.err)


def test_no_control_character_leaves_by_a_complaint(tmp_path: Path, here: Here) -> None:
    path = tmp_path / "shot.toml"
    shot = library.load_shot(library.SHIPPED / "shots" / f"{library.DEMO}.toml").dump()
    write_toml(path, shot | {CONTROLS: 1} | {"units": CONTROLS})
    for words in (["sheet", str(path)], ["kit", "check", str(path)], ["sheet", CONTROLS], ["kit", "show", CONTROLS]):
        ran = here(*words)
        assert ran.code == 2
        assert all(char.isprintable() or char == "\n" for char in ran.out + ran.err)


async def test_no_control_character_reaches_the_screen(tmp_path: Path) -> None:
    path = tmp_path / "shot.toml"
    hostile(path, CONTROLS)
    async with running(str(path)) as pilot:
        for key in ("p", "t", "i", "f5", "n", "o", "w"):
            text = await press(pilot, key)
            assert all(char.isprintable() or char == "\n" for char in text), key
            await press(pilot, "escape", "escape")


# Names

REFUSED = [
    "con",
    "CON",
    "nul.toml",
    "com1",
    "lpt9.x",
    "x.",
    "x ",
    "-x",
    "--help",
    "a\x1bb",
    "a:b",
    'a"b',
    "a*",
    "x" * 300,
]
FINE = ["night-2", "x.y", "console", "com10", "été", "a b", ".x", "lpt"]


@pytest.mark.parametrize("name", REFUSED)
def test_names_that_other_systems_cannot_hold_are_refused_with_the_reason(name: str) -> None:
    with pytest.raises(BadInput, match=r".{20,}"):
        refuse_name(name)


@pytest.mark.parametrize("name", FINE)
def test_other_names_are_taken(name: str) -> None:
    refuse_name(name)


def test_no_name_that_the_program_makes_is_refused() -> None:
    for title in ("con", "Aux!", "-", "--x", "x...", "COM1", "a" * 400):
        assert not why_not(free_path(title).stem), title
        assert not name_of(title) or not why_not(name_of(title))


def test_a_profile_of_such_a_name_is_refused(home: Path) -> None:
    with pytest.raises(BadInput, match="device"):
        free_name("lenses", "aux")
    dump = library.profile_dump(library.camera("demo-cine-35"))
    write_toml(home / "cameras" / "con.toml", dump | {"name": "con"}, folders=True)
    with pytest.raises(BadInput, match="device"):
        library.load_profile(Camera, home / "cameras" / "con.toml")


@pytest.mark.parametrize("task", ["w", "f5 s"])
async def test_a_typed_path_is_refused_in_a_line_and_nothing_is_saved(task: str, home: Path) -> None:
    async with running() as pilot:
        await press(pilot, *task.split())
        asking = pilot.shown
        for typed in ("con", "x.", "-x", "a:b", "y" * 300, "~nobody-knows/x", "/closed-to-all/x/y", "a\x00b", "/", "~"):
            asking.query_one("Entry").value = typed
            assert "PosixPath" not in await press(pilot, "enter"), typed
            assert pilot.app.screen is asking, typed
            assert pilot.app.failed is None, typed
    assert not list(home.glob("shots/*"))


@pytest.mark.parametrize("task", ["w", "f5 s", "o g"])
async def test_a_typed_path_through_a_circle_of_links_is_refused(task: str, tmp_path: Path) -> None:
    (tmp_path / "one.toml").symlink_to(tmp_path / "two.toml")
    (tmp_path / "two.toml").symlink_to(tmp_path / "one.toml")
    async with running() as pilot:
        await press(pilot, *task.split())
        for typed in (tmp_path / "one.toml", tmp_path / "one.toml" / "x.toml", tmp_path / "one.toml" / "x"):
            pilot.shown.query_one("Entry").value = str(typed)
            await press(pilot, "enter")
            assert pilot.app.screen is not pilot.app.board


# The catalogue


def test_a_catalogue_with_what_is_no_file_is_read_without_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "right.xml").write_text("<lensdatabase/>")
    os.mkfifo(tmp_path / "pipe.xml")
    (tmp_path / "zero.xml").symlink_to("/dev/zero")
    (tmp_path / "folder.xml").mkdir()
    names = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 12))
    (tmp_path / "bomb.xml").write_text(f'<!DOCTYPE x [<!ENTITY e0 "x">{names}]><lensdatabase>&e11;</lensdatabase>')
    monkeypatch.setenv("FORESCALE_CATALOGUE", str(tmp_path))
    with within(4):
        found = read_catalogue()
    assert not found.entries
    assert len(found.skipped) == 4
    assert all("is skipped" in str(line) for line in found.skipped)


def test_what_was_let_in_is_still_answered(tmp_path: Path) -> None:
    hostile(tmp_path / "shot.toml", CONTROLS)
    shot, answer = answer_file(tmp_path / "shot.toml")
    assert shot.title == CONTROLS
    assert answer.scale.ratio == 24
