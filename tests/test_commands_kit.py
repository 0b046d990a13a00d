"""The kit from the command line: whose is what, what it means, and whether files are right."""

from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from forescale.engine.kit import library
from tests.command import ROOT, Here

PROFILES = ROOT / "profiles"
OF_EACH = {"cameras": "demo-cine-35", "lenses": "demo-prime-35", "heads": "demo-slide-head", "shots": "kiln-stack"}


@pytest.fixture
def here(capsys: pytest.CaptureFixture[str]) -> Here:
    return Here(capsys)


def own(home: Path, shelf: library.Shelf, name: str, *changes: tuple[str, str]) -> Path:
    """Put a changed copy of a shipped file on the user's own shelf, under another name or the same."""
    shipped = OF_EACH[shelf]
    text = (PROFILES / shelf / f"{shipped}.toml").read_text(encoding="utf-8")
    for old, new in ((f'name = "{shipped}"', f'name = "{name}"'), *changes):
        text = text.replace(old, new)
    path = home / shelf / f"{name}.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def test_the_list_has_every_shelf_with_titles_and_owners(here: Here, home: Path) -> None:
    own(home, "lenses", "my-lens", ('"Demo prime 35 mm"', '"My own lens"'))
    own(home, "lenses", "demo-prime-35", ('"Demo prime 35 mm"', '"My better reading of it"'))
    ran = here("kit", "list")
    assert (ran.code, ran.err) == (0, "")
    lines = [" ".join(line.split()) for line in ran.out.splitlines()]
    for line in (
        "demo-cine-35 built-in Demo cine camera, 35 mm frame",
        "my-lens yours My own lens",
        "demo-prime-35 yours My better reading of it",
        "kiln-stack built-in The kiln stack falls",
    ):
        assert line in lines
    assert [line for line in lines if line in {"Cameras", "Lenses", "Heads", "Shots"}] == [
        "Cameras",
        "Lenses",
        "Heads",
        "Shots",
    ]
    assert here("kit").out == ran.out


def test_the_list_bears_with_a_file_that_is_not_right(here: Here, home: Path) -> None:
    path = own(home, "heads", "broken")
    path.write_text("[", encoding="utf-8")
    ran = here("kit", "list")
    assert ran.code == 0
    assert "(not right: forescale kit check broken)" in ran.out
    assert here("kit", "check", "broken").faults[0].startswith(f"{path}: is not TOML")


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("demo-cine-35", ["a camera, built-in", "2048 × 1152 px", "24, 25, 30, 48, 50, 60, 72", "420 MB/s"]),
        ("demo-small-16", ["any whole rate from 1 to 200"]),
        (
            "demo-prime-35",
            ["a lens, built-in", "marked in T-stops", "0.3 stops", "350 mm (1 ft 1 3/4 in)", "2026"],
        ),
        ("demo-prime-75", ["not measured", "the bench can find it"]),
        ("demo-zoom-24-80", ["24 mm to 80 mm", "a zoom"]),
        ("demo-slide-head", ["0 mm to 120 mm", "every 1 mm", "86 mm behind"]),
        ("kiln-stack", ["a shot, built-in", "demo-prime-35", "forescale sheet prints its numbers"]),
    ],
)
def test_a_profile_is_shown_with_what_it_means(here: Here, name: str, says: list[str]) -> None:
    ran = here("kit", "show", name)
    assert (ran.code, ran.err) == (0, "")
    words = " ".join(ran.out.split())
    assert all(part in words for part in says)
    assert max(map(len, ran.out.splitlines())) <= 80


def test_a_profile_of_ones_own_that_hides_a_shipped_one_says_so(here: Here, home: Path) -> None:
    own(home, "heads", "demo-slide-head", ('"120 mm"', '"90 mm"'))
    words = " ".join(here("kit", "show", "demo-slide-head").out.split())
    assert "yours, and hides the built-in one" in words
    assert "0 mm to 90 mm" in words


def test_one_name_on_two_shelves_shows_both(here: Here, home: Path) -> None:
    own(home, "heads", "demo-prime-35")
    words = here("kit", "show", "demo-prime-35").out
    assert "a lens, built-in" in words
    assert "a head, yours" in words


def test_every_shipped_file_is_right(here: Here) -> None:
    ran = here("kit", "check", str(PROFILES))
    assert (ran.code, ran.err) == (0, "")
    files = sorted(PROFILES.rglob("*.toml"))
    assert len(files) >= 11
    assert len(ran.out.splitlines()) == len(files)
    assert all(line.endswith(", and right") for line in ran.out.splitlines())


@pytest.mark.parametrize("shelf", list(OF_EACH))
def test_a_file_off_the_shelves_is_known_by_what_it_holds(here: Here, tmp_path: Path, shelf: library.Shelf) -> None:
    path = tmp_path / f"{OF_EACH[shelf]}.toml"
    path.write_bytes((PROFILES / shelf / path.name).read_bytes())
    ran = here("kit", "check", str(path))
    assert (ran.code, ran.err) == (0, "")
    assert f"{path}: a {library.ONE_OF[shelf]}" in ran.out


def test_faults_of_many_files_are_a_line_each_and_the_rest_is_checked(here: Here, home: Path) -> None:
    wrong = own(home, "cameras", "wrong", ("iso_base = 800", "iso_base = 8000"), ('"12 ms"', "12"))
    named = own(home, "lenses", "named-otherwise", ("named-otherwise", "something-else"))
    right = own(home, "heads", "right")
    ran = here("kit", "check", str(home), str(home / "missing.toml"))
    assert ran.code == 2
    assert ran.out == f"{right}: a head, and right\n"
    assert {fault.split(": ")[0] for fault in ran.faults} == {str(wrong), str(named), str(home / "missing.toml")}
    assert f'{named}: name: is "something-else", but the file is called "named-otherwise"' in ran.err
    assert f"{wrong}: mode 2.readout: 12 has no unit" in ran.err


def test_a_shot_is_checked_against_its_kit(here: Here, home: Path) -> None:
    path = own(home, "shots", "off-the-slide", ('slide = "63 mm"', 'slide = "130 mm"'))
    ran = here("kit", "check", str(path))
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert ran.faults[0].startswith(f"{path}: move.slide: 130 mm is off the slide")


def test_a_profile_that_hides_a_shipped_one_is_said_to(here: Here, home: Path) -> None:
    path = own(home, "lenses", "demo-prime-35")
    assert here("kit", "check", str(path)).out == f"{path}: a lens that hides the built-in one, and right\n"


def test_a_file_of_nothing_known_is_said_to_be_none(here: Here, tmp_path: Path) -> None:
    path = tmp_path / "what.toml"
    path.write_text("colour = 5", encoding="utf-8")
    ran = here("kit", "check", str(path))
    assert (ran.code, len(ran.faults)) == (2, 1)
    assert "is no camera, lens, head or shot" in ran.err


def test_a_folder_of_nothing_is_said_to_be_empty(here: Here, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    ran = here("kit", "check", str(tmp_path / "empty"))
    assert (ran.code, ran.faults) == (2, [f"{tmp_path / 'empty'}: there is no .toml file in it"])


def test_the_settings_are_checked_as_settings(here: Here, home: Path) -> None:
    home.mkdir()
    path = home / "config.toml"
    path.write_text('theme = "daylight"', encoding="utf-8")
    assert here("kit", "check", str(home)).out == f"{path}: your settings, and right\n"
    path.write_text('theme = "plaid"', encoding="utf-8")
    ran = here("kit", "check", str(home))
    assert (ran.code, len(ran.faults)) == (2, 1)
    assert ran.faults[0].startswith(f"{path}: theme: ")


def test_a_camera_with_pixels_that_are_not_square_is_told_of(here: Here, home: Path) -> None:
    path = own(home, "cameras", "flat", ('"9.35 mm"', '"8 mm"'))
    ran = here("kit", "check", str(path))
    assert ran.code == 0
    assert "a camera, though the pixels of 2K centre crop are 8.11 µm across and 6.94 µm down" in ran.out
    assert "Look again" in here("kit", "show", "flat").out


@pytest.mark.parametrize(
    "name", ["demo-cine-35", "demo-small-16", "demo-zoom-24-80", "demo-prime-75", "demo-slide-head"]
)
def test_what_is_shown_of_a_profile_is_as_it_was(here: Here, name: str, snapshot: SnapshotAssertion) -> None:
    """But for the line that says where it lies."""
    assert [line for line in here("kit", "show", name).out.splitlines() if " File " not in line] == snapshot
