"""The open catalogue: where it is found, what is read of it, and the profile that is started from an entry."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from tests.invented_catalogue import BROKEN, write_catalogue

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Camera, Lens, Rates
from forescale.engine.shelf import catalogue
from forescale.engine.shelf.catalogue import Start, matching, none_found, plain_name, read_catalogue, start
from forescale.engine.shelf.catalogue_entry import named_focal, named_stop, sides_of


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Set the invented catalogue up and return its folder."""
    folder = write_catalogue(tmp_path / "catalogue")
    monkeypatch.setenv(catalogue.FOLDER_VARIABLE, str(folder))
    return folder


def started(*words: str) -> Start:
    """Return what is started from the one entry that these words find."""
    (entry,) = matching(read_catalogue().entries, words)
    return start(entry)


def lens(*words: str) -> Lens:
    profile = started(*words).profile
    assert isinstance(profile, Lens)
    return profile


def camera(*words: str) -> Camera:
    profile = started(*words).profile
    assert isinstance(profile, Camera)
    return profile


def taken(begun: Start) -> dict[str, str]:
    return {value.field: value.text for value in begun.taken}


def to_check(begun: Start) -> dict[str, str]:
    return {value.field: value.text for value in begun.to_check}


# Finding and reading


def test_catalogue_versions_lie_in_folders_and_the_latest_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    system = tmp_path / "system"
    write_catalogue(system / "version_2")
    (system / "version_1").mkdir()
    (system / "version_1" / "old.xml").write_text(BROKEN, encoding="utf-8")
    monkeypatch.delenv(catalogue.FOLDER_VARIABLE)
    monkeypatch.setattr(catalogue, "PACKAGE", "no_such_package_anywhere")
    monkeypatch.setattr(catalogue, "SYSTEM_FOLDERS", (str(tmp_path / "gone"), str(system)))
    found = read_catalogue()
    assert found.skipped == ()
    assert len(found.entries) == 12


def test_a_package_is_looked_into_and_never_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "site" / "invented_package"
    write_catalogue(package / "files")
    (package / "__init__.py").write_text("raise RuntimeError('was run')", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path / "site"))
    monkeypatch.delenv(catalogue.FOLDER_VARIABLE)
    monkeypatch.setattr(catalogue, "PACKAGE", "invented_package")
    monkeypatch.setattr(catalogue, "SYSTEM_FOLDERS", ())
    assert len(read_catalogue().entries) == 12


def test_without_a_catalogue_one_line_says_how_to_add_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(catalogue.FOLDER_VARIABLE)
    monkeypatch.setattr(catalogue, "PACKAGE", "no_such_package_anywhere")
    monkeypatch.setattr(catalogue, "SYSTEM_FOLDERS", ())
    with pytest.raises(
        BadInput, match=r"^the open catalogue .* is not installed; pip install 'forescale\[catalogue\]'$"
    ):
        read_catalogue()


def test_a_chosen_folder_that_has_none_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(catalogue.FOLDER_VARIABLE, str(tmp_path / "gone"))
    with pytest.raises(
        BadInput, match=r"^FORESCALE_CATALOGUE: .*gone: holds no catalogue, which is a folder of \.xml files$"
    ):
        read_catalogue()


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (BROKEN, "it is not XML: no element found"),
        ("<page/>", "it is a <page>, and a catalogue's file is a <lensdatabase>"),
        ('<?xml version="1.0" encoding="no-such"?><lensdatabase/>', "unknown encoding"),
        ("", "it is not XML"),
    ],
)
def test_a_file_that_is_none_is_skipped_with_one_line(folder: Path, text: str, why: str) -> None:
    bad = folder / "bad.xml"
    bad.write_text(text, encoding="utf-8")
    found = read_catalogue()
    line = str(*found.skipped)
    assert line.startswith(f"{bad}: is skipped: ")
    assert why in line
    assert len(found.entries) == 12


def test_what_several_files_name_is_listed_once(folder: Path) -> None:
    text = (folder / "lenses.xml").read_text(encoding="utf-8")
    (folder / "twice.xml").write_text(text, encoding="utf-8")
    assert len(read_catalogue().entries) == 12


def test_cameras_stand_before_lenses_each_by_name() -> None:
    names = [entry.name for entry in read_catalogue().entries]
    assert names[:3] == ["Larch 36 (first run)", "Larch 40", "Pell Tin box"]
    assert names[3:] == sorted(names[3:], key=str.casefold)


# Searching


@pytest.mark.parametrize(
    ("words", "count"),
    [(["BOREAL"], 3), (["boreal", "1.8"], 2), (["Boreal 1.8", "CONVERTER"], 1), (["nordlicht"], 1), (["lo-36"], 1)],
)
def test_every_word_must_occur_in_maker_or_model(words: list[str], count: int) -> None:
    assert len(matching(read_catalogue().entries, words)) == count


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["boreel"], 'nothing in the catalogue has "boreel" in its name; did you mean "boreal"?'),
        (["pell", "zzzz"], 'nothing in the catalogue has "zzzz" in its name; try fewer letters'),
        (["pell", "boreal"], 'nothing in the catalogue has all of "pell boreal" in its name; did you mean "Pell Row"?'),
        (["tin", "nordlicht"], 'nothing in the catalogue has all of "tin nordlicht" in its name; leave a word out'),
        (["pell", "rows", "dome"], 'nothing in the catalogue has "rows" in its name; did you mean "row"?'),
    ],
)
def test_nothing_found_brings_the_nearest_spelling(words: list[str], said: str) -> None:
    entries = read_catalogue().entries
    assert matching(entries, words) == []
    assert none_found(entries, words) == said


# Names, as engraved: common practice, no source


@pytest.mark.parametrize(
    ("name", "focal", "stop"),
    [
        ("boreal 50mm f/1.8", (50, 50), (1.8, 1.8)),
        ("boreal 18-55mm f/3.5-5.6", (18, 55), (3.5, 5.6)),
        ("boreal 18 - 55 mm f3.5 - 5.6", (18, 55), (3.5, 5.6)),
        ("bf100-400mmf4.5-5.6 r", (100, 400), (4.5, 5.6)),
        ("b.40-150mm f4", (40, 150), (4, 4)),
        ("boreal 90mm f/2.8 macro 1:1", (90, 90), (2.8, 2.8)),
        ("boreal macro 1:4 100mm", (100, 100), (4, 4)),
        ("boreal 1:2,8/24-70", (24, 70), (2.8, 2.8)),
        ("boreal 3,5/18", (18, 18), (3.5, 3.5)),
        ("boreal 20-60/f3.5-5.6", None, (3.5, 5.6)),
        ("pocket f31 zoom", None, None),
        ("bf 50mm", (50, 50), None),
        ("f 50mm", (50, 50), None),
        ("model 2000", None, None),
    ],
)
def test_focal_length_and_stop_are_read_off_a_name(name: str, focal: Any, stop: Any) -> None:
    assert (named_focal([name]), named_stop([name])) == (focal, stop)


# Lenses


def test_a_prime_has_what_its_name_says_and_guesses_for_the_rest() -> None:
    begun = started("boreal", "50mm", "f/1.8", "nordlicht")
    profile = begun.profile
    assert isinstance(profile, Lens)
    assert (profile.focal_length, profile.marks, profile.close_focus, profile.squeeze) == (50, "f", 500, 1)
    assert profile.widest.value == 1.7817974362806785  # the third-stop mark 1.8 is 2^(5/6), ISO 517
    assert profile.smallest.value == 22.627416997969522  # the mark 22 is 2^(9/2)
    assert taken(begun) == {"focal_length": "50 mm", "widest": "f/1.8"}
    assert to_check(begun) == {
        "marks": "f",
        "smallest": "f/22",
        "transmission_loss": "0.3",
        "close_focus": "500 mm",
        "squeeze": "1",
        "pupil": "not known",
    }


def test_a_zoom_counts_at_the_stop_that_it_has_at_every_focal_length() -> None:
    profile = lens("18-55mm")
    assert (profile.focal_min, profile.focal_max) == (18, 55)
    assert profile.widest.value == pytest.approx(5.6569, abs=5e-5)  # the mark 5.6 is 2^(5/2), to the digits written
    assert "f/3.5 at the short end" in next(value.why for value in started("18-55mm").taken if value.field == "widest")


def test_with_a_converter_what_was_measured_counts_and_is_to_be_checked() -> None:
    begun = started("converter")
    assert to_check(begun)["focal_length"] == "100 mm"
    assert to_check(begun)["widest"] == "f/4"
    assert {*begun.profile.guesses} == {*to_check(begun)} - {"pupil"}  # marked in the profile until they are typed
    assert taken(begun) == {}


def test_fields_of_an_entry_count_before_all_else() -> None:
    begun = started("given")
    assert taken(begun) == {"focal_min": "7 mm", "focal_max": "21 mm", "smallest": "f/16"}
    assert to_check(begun)["widest"] == "f/=2.1"  # at which of the two focal lengths the entry does not say


def test_a_stop_of_a_prime_is_certain(folder: Path) -> None:
    entry = "<lens><maker>Pell</maker><model>Single</model><focal value='30'/><aperture min='2.8' max='22'/></lens>"
    (folder / "more.xml").write_text(f"<lensdatabase>{entry}</lensdatabase>", encoding="utf-8")
    assert taken(started("single")) == {"focal_length": "30 mm", "widest": "f/2.8", "smallest": "f/22"}


def test_a_stop_that_is_no_mark_is_taken_as_written() -> None:
    assert lens("given").widest.value == 2.1


def test_measured_rows_serve_where_nothing_else_does() -> None:
    begun = started("pell", "row")
    assert to_check(begun)["focal_length"] == "8 mm"
    assert to_check(begun)["widest"] == "f/4"  # f/2.8 was measured at one of the two focal lengths only


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["bowl"], "a lens that keeps lines straight"),
        (["dome"], "a lens that keeps lines straight"),
        (["nameless"], "no focal length of it"),
        (["tin", "box"], "no crop factor of it"),
    ],
)
def test_an_entry_that_makes_no_profile_is_refused_with_the_reason(words: list[str], why: str) -> None:
    with pytest.raises(BadInput, match=why):
        started(*words)


# Cameras


def test_the_sides_of_a_sensor_follow_from_its_crop_factor() -> None:
    mode = camera("lo-36").mode[0]
    assert (mode.width, mode.height) == (36, 24)  # crop factor 1, by definition
    small = camera("larch", "40").mode[0]
    # Four Thirds, 17.3 × 13.0 mm: from memory; the sources of formats differ by 0.2 mm
    assert small.width == pytest.approx(17.3, abs=0.2)
    assert small.height == pytest.approx(13.0, abs=0.2)
    assert math.hypot(small.width, small.height) == pytest.approx(
        math.hypot(36, 24) / 2, abs=0.01
    )  # written to 0.01 mm


def test_what_a_catalogue_never_says_of_a_camera_is_a_guess() -> None:
    begun = started("larch", "40")
    (mode,) = camera("larch", "40").mode
    assert mode.name == "whole sensor"
    assert mode.fps == Rates(min=1, max=30)
    assert (mode.iso_base, mode.iso_max, mode.width_px, mode.height_px) == (100, 6400, 3840, 2880)
    assert set(taken(begun)) == {"width", "height"}
    assert set(to_check(begun)) == {"width_px", "height_px", "fps", "iso_base", "iso_max"}


@pytest.mark.parametrize(("crop", "sides"), [("1.98", {"width", "height"}), ("1.5", set()), ("2.1", set())])
def test_sides_are_those_of_the_lenses_measured_at_that_crop(folder: Path, crop: str, sides: set[str]) -> None:
    entry = f"<camera><model>Stray</model><mount>Larch bayonet</mount><cropfactor>{crop}</cropfactor></camera>"
    (folder / "more.xml").write_text(f"<lensdatabase>{entry}</lensdatabase>", encoding="utf-8")
    assert set(taken(started("stray"))) == sides


def test_sides_that_no_lens_tells_are_to_be_checked() -> None:
    assert to_check(started("lo-36"))["width"] == "36 mm"
    assert taken(started("lo-36")) == {}


# The profile


def test_every_number_to_check_stands_in_the_notes() -> None:
    for words in (["given"], ["pell", "row"], ["18-55mm"], ["larch", "40"]):
        begun = started(*words)
        assert begun.profile.notes.startswith("Started from an open catalogue; check every number marked below: ")
        for field, text in to_check(begun).items():
            assert f"{field}: {text} (" in begun.profile.notes


def test_a_profile_reads_back_as_it_was_written(home: Path) -> None:
    for words in (["given"], ["pell", "row"], ["18-55mm"], ["larch", "40"], ["lo-36"], ["converter"], ["2,8/21"]):
        begun = started(*words)
        path = library.save_profile(begun.shelf, begun.profile)
        assert path.is_relative_to(home)
        assert library.load_profile(type(begun.profile), path) == begun.profile


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Larch Boreal 18-55mm f/3.5-5.6", "larch-boreal-18-55mm-f-3-5-5-6"),
        ("Börëal II (first run)", "boreal-ii-first-run"),
        ("北極光", ""),
    ],
)
def test_names_are_made_plain(text: str, name: str) -> None:
    assert plain_name(text) == name


def test_a_name_without_a_plain_letter_gets_one(folder: Path) -> None:
    entry = "<lensdatabase><lens><maker>光</maker><model>極</model><focal value='30'/></lens></lensdatabase>"
    (folder / "more.xml").write_text(entry, encoding="utf-8")
    assert lens("極").name == "lens"


def test_another_name_must_be_plain() -> None:
    (entry,) = matching(read_catalogue().entries, ["given"])
    assert start(entry, "zoom.7-21").profile.name == "zoom.7-21"
    with pytest.raises(BadInput, match=r'name: "a/b" is not a plain name'):
        start(entry, "a/b")


def test_what_stands_behind_the_lens_leaves_its_name_to_be_checked(folder: Path) -> None:
    entry = "<lens><maker>Pell</maker><model>Plain 30mm f/2.8 + reducer</model></lens>"
    (folder / "more.xml").write_text(f"<lensdatabase>{entry}</lensdatabase>", encoding="utf-8")
    begun = started("reducer")
    assert taken(begun) == {}
    assert (to_check(begun)["focal_length"], to_check(begun)["widest"]) == ("30 mm", "f/2.8")


@pytest.mark.parametrize(
    ("aspect", "ratio"),
    [("3:2", 1.5), ("1.5", 1.5), ("4:", 4), ("3:0", None), ("wide", None), (":2", None), ("", None)],
)
def test_the_sides_of_a_picture_are_read_or_nothing_is(aspect: str, ratio: float | None) -> None:
    assert sides_of(aspect) == ratio
