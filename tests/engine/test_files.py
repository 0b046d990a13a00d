"""Files: what is saved reads back equal, a failing write loses nothing, and what cannot be read is said in one line."""

import errno
import os
import stat
import sys
import tomllib
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from cases import CAMERA, HEAD, LENS, shipped, shot
from hypothesis import given, reject
from hypothesis import strategies as st
from strategies import field_values

import forescale.engine
from forescale.engine.files import toml_files
from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import read_own, read_toml, write_text, write_toml
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.kit.profiles import Camera, Head, Lens
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting, Shot

SHIPPED_SHOTS = ["kiln-stack", "lock-gate", "signal-lamp"]


def saved_and_loaded(path: Path, kept: Shot) -> Shot:
    library.save_shot(path, kept)
    return library.load_shot(path)


@pytest.mark.parametrize("name", SHIPPED_SHOTS)
@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_a_shipped_shot_saved_reads_back_equal(name: str, units: str, tmp_path: Path) -> None:
    kept = edit.changed(library.load_shot(shipped("shots", name)), {"units": units})
    assert isinstance(kept, Shot)
    assert saved_and_loaded(tmp_path / "shot.toml", kept) == kept


def test_a_shot_with_everything_in_it_reads_back_equal(tmp_path: Path) -> None:
    whole = shot(
        {
            "notes": 'Two lines,\nand "quotes" — and a £.',
            "kit.head": "plain-head",
            "kit.focal_length": "25 mm",
            "scale.rounding": "1/64 in",
            "scale.compare": "1:87.0857",
            "stock": [{"item": "card", "size": "1/16 in"}],
            "action.real_speed": "30 mph",
            "place.model_near": "3.9 m",
            "place.background_far": "inf",
            "place.lens_height": "5 ft",
            "focus.distance": "7.3 m",
            "focus.stop": "f/=13.0",
            "focus.sharpness": "0.025 mm",
            "light.available": "1400 fc",
            "light.mains": 60,
            "move.axis": "pan",
            "move.sweep": "12.5 deg",
            "bench": [{"slide": "40 mm", "slip_px": -8.5}, {"slide": "85 mm", "seen": "outruns"}],
            "survey.frame_share": 0.22,
            "survey.visibility": "8 km",
        }
    )
    kept_at = datetime(2026, 3, 14, 17, 45, 3, tzinfo=UTC)
    setting = {name: getattr(whole, name) for name in Setting.model_fields}
    mark = {"name": "before the rig moved", "kept": kept_at, "setting": setting}
    take = {"time": kept_at, "set": "T11, 96 fps", "good": False, "note": "wind"}
    changed = edit.changed(whole, {"mark": [mark], "take": [take]})
    assert isinstance(changed, Shot)
    assert saved_and_loaded(tmp_path / "shot.toml", whole) == whole


@given(changes=st.lists(field_values(), max_size=12).map(dict), units=st.sampled_from(["imperial", "metric"]))
def test_any_shot_reads_back_equal(changes: dict[str, Any], units: str) -> None:
    held = {path: edit.text_of(value, edit.quantity_of(Shot, path), "metric") for path, value in changes.items()}
    held = {path: edit.entry(path, text, shot(), "metric", None)[0] for path, text in held.items()}
    try:
        kept = edit.changed(shot(), held | {"units": units})
    except BadInput:  # distances drawn out of their order
        reject()
    assert isinstance(kept, Shot)
    assert Shot.read(kept.dump()) == kept


def test_profiles_saved_read_back_equal(home: Path) -> None:
    mode = {key: value for key, value in CAMERA.items() if key != "name"} | {"name": "any", "readout": "7.25 ms"}
    camera = Camera.model_validate(
        {"schema": 1, "name": "a-camera", "mode": [mode, mode | {"name": "fast", "fps": {"min": 1, "max": 59.94}}]}
    )
    rows = [{**LENS["pupil"][0], "uncertainty": "0.6 mm", "measured": "2026-03-14"}, *LENS["pupil"][1:]]
    lens = Lens.model_validate({"schema": 1} | LENS | {"name": "a-lens", "pupil": rows, "transmission_loss": 0.3})
    head = Head.model_validate({"schema": 1} | HEAD | {"name": "a-head", "tilt_drop": "4 3/4 in"})
    assert library.save_profile("cameras", camera) == home / "cameras" / "a-camera.toml"
    library.save_profile("lenses", lens)
    library.save_profile("heads", head)
    assert library.camera("a-camera") == camera
    assert library.lens("a-lens") == lens
    assert library.head("a-head") == head


def test_a_profile_that_could_not_be_read_again_is_not_written() -> None:
    lens = Lens.model_validate({"schema": 1} | LENS | {"name": "a-lens"})
    path = library.save_profile("lenses", lens)
    beyond = lens.pupil[0].model_copy(update={"ahead": 400.0})
    with pytest.raises(BadInput, match=r"a-lens\.toml: a pupil lies beyond close_focus"):
        library.save_profile("lenses", lens.model_copy(update={"pupil": (beyond,)}))
    assert library.lens("a-lens") == lens
    assert only(path)


# Writing whole or not at all


def only(path: Path) -> bool:
    """Whether a file is alone in its folder."""
    return list(path.parent.iterdir()) == [path]


def test_a_new_file_is_written_with_its_folder(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b" / "shot.toml"
    write_text(path, "x = 1\n", folders=True)
    assert path.read_bytes() == b"x = 1\n"
    assert only(path)


def test_a_folder_that_is_not_there_is_refused_and_not_made(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="there is no folder"):
        write_text(tmp_path / "a" / "shot.toml", "x = 1\n")
    assert not (tmp_path / "a").exists()


@pytest.mark.parametrize("step", ["fsync", "replace", "chmod"])
def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "shot.toml"
    write_text(path, "old = 1\n")

    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(toml_files.os, step, full)
    with pytest.raises(BadInput) as refusal:
        write_text(path, "new = 1\n")
    assert refusal.value.lines == (f"{path}: cannot be written: No space left on device",)
    assert path.read_text() == "old = 1\n"
    assert only(path)


def test_a_write_that_is_interrupted_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "shot.toml"
    write_text(path, "old = 1\n")

    def interrupted(_: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(toml_files.os, "fsync", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_text(path, "new = 1\n")
    assert path.read_text() == "old = 1\n"
    assert only(path)


def test_the_new_text_is_on_the_disk_before_it_takes_the_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    steps: list[str] = []
    for name in ("fsync", "replace"):
        real = getattr(os, name)
        monkeypatch.setattr(toml_files.os, name, lambda *at, name=name, real=real: (steps.append(name), real(*at)))
    write_text(tmp_path / "shot.toml", "x = 1\n")
    assert steps == ["fsync", "replace"]


def test_a_link_stays_a_link_and_its_target_is_written(tmp_path: Path) -> None:
    target, link = tmp_path / "real" / "shot.toml", tmp_path / "linked" / "shot.toml"
    write_text(target, "old = 1\n", folders=True)
    link.parent.mkdir()
    link.symlink_to(target)
    write_text(link, "new = 1\n")
    assert link.is_symlink()
    assert target.read_text() == "new = 1\n"
    assert only(target)
    assert only(link)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with a name are of POSIX")
def test_what_is_there_and_is_no_file_is_written_to_and_stays(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_text(pipe, "x = 1\n", devices=True)
        assert os.read(reader, 100) == b"x = 1\n"
    finally:
        os.close(reader)
    assert pipe.is_fifo()
    assert only(pipe)


def test_the_permissions_of_a_file_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "shot.toml"
    write_text(path, "old = 1\n")
    path.chmod(0o640)
    write_text(path, "new = 1\n")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_new_file_gets_the_permissions_that_any_new_file_gets(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.touch()
    write_text(tmp_path / "shot.toml", "x = 1\n")
    assert (tmp_path / "shot.toml").stat().st_mode == plain.stat().st_mode


@pytest.mark.skipif(sys.platform == "win32", reason="a folder there cannot be closed to its owner so")
def test_a_folder_that_cannot_be_made_is_said_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(BadInput, match=r"^[^\n]*shot\.toml: cannot be written: [^\n]+$"):
        write_text(tmp_path / "file" / "shot.toml", "x = 1\n")


def test_a_shipped_file_is_never_written() -> None:
    path = shipped("shots", "kiln-stack")
    before = path.read_bytes()
    with pytest.raises(BadInput, match="read-only; save under another name"):
        library.save_shot(path, shot())
    assert path.read_bytes() == before


def test_a_link_to_a_shipped_file_is_never_written_through(tmp_path: Path) -> None:
    link = tmp_path / "mine.toml"
    link.symlink_to(shipped("shots", "kiln-stack"))
    with pytest.raises(BadInput, match="read-only"):
        library.save_shot(link, shot())


# Reading

UNREADABLE = [
    (b"x = ", "is not TOML: "),
    (b"x = 1\nx = 2\n", "is not TOML: "),
    (b"title = 'caf\xe9'\n", "is not text in UTF-8"),
    (b"\xff\xfe", "is not text in UTF-8"),
    (b"x = " + b"[" * 5000, "is not TOML"),
]


@pytest.mark.parametrize(("content", "why"), UNREADABLE)
def test_what_is_not_toml_is_said_in_one_line(content: bytes, why: str, tmp_path: Path) -> None:
    path = tmp_path / "shot.toml"
    path.write_bytes(content)
    with pytest.raises(BadInput) as refusal:
        read_toml(path)
    (line,) = refusal.value.lines
    assert line.startswith(f"{path}: {why}")
    assert "\n" not in line


def test_a_missing_file_and_a_folder_are_said(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=r"none\.toml: there is no such file$"):
        read_toml(tmp_path / "none.toml")
    with pytest.raises(BadInput, match="cannot be read: "):
        read_toml(tmp_path)


# Shelves


def test_an_own_profile_hides_a_shipped_one_of_its_name(home: Path) -> None:
    assert library.shelf_file("heads", "demo-slide-head").shipped
    own = library.head("demo-slide-head").model_copy(update={"slide_max": 300.0})
    library.save_profile("heads", own)
    assert library.head("demo-slide-head").slide_max == 300
    assert not library.shelf_files("heads")["demo-slide-head"].shipped
    assert library.shelf_file("heads", "demo-slide-head").path.is_relative_to(home)


def test_a_name_that_is_not_there_brings_the_nearest() -> None:
    with pytest.raises(BadInput, match=r'^no lens is called "demo-prime-36"; did you mean "demo-prime-35"\?$'):
        library.shelf_file("lenses", "demo-prime-36")


@pytest.mark.parametrize("name", ["", "../heads/demo-slide-head", "/etc/passwd", "a" * 5000, "a\0b"])
def test_a_name_reaches_nothing_off_the_shelf(name: str) -> None:
    with pytest.raises(BadInput):
        library.shelf_file("lenses", name)


def test_a_profile_in_a_file_of_another_name_is_refused(home: Path) -> None:
    write_toml(home / "heads" / "other.toml", {"schema": 1} | HEAD, folders=True)
    with pytest.raises(BadInput, match='is "plain-head", but the file is called "other"'):
        library.head("other")


def test_a_shot_is_found_by_path_or_by_name(tmp_path: Path, home: Path) -> None:
    kept = home / "shots" / "mine.toml"
    library.save_shot(kept, shot())
    assert library.shot_path("mine") == library.shot_path("mine.toml") == kept
    assert library.shot_path("kiln-stack") == library.SHIPPED / "shots" / "kiln-stack.toml"
    loose = tmp_path / "loose.toml"
    library.save_shot(loose, shot())
    assert library.shot_path(str(loose)) == loose


def test_every_fault_of_a_kit_is_told_at_once() -> None:
    choice = shot({"kit.camera": "no-camera", "kit.lens": "no-lens", "kit.head": "no-head"}).kit
    with pytest.raises(BadInput) as refusal:
        load_kit(choice, "shot.toml")
    assert [line.split(": ")[:2] for line in refusal.value.lines] == [
        ["shot.toml", "kit.camera"],
        ["shot.toml", "kit.lens"],
        ["shot.toml", "kit.head"],
    ]


@pytest.mark.parametrize(
    ("changes", "field", "why"),
    [
        ({"kit.mode": "4K"}, "kit.mode", "known here: 2K centre crop, 4K full width"),
        ({"kit.focal_length": "50 mm"}, "kit.focal_length", "35 mm only"),
        ({"kit.lens": "demo-zoom-24-80"}, "kit.focal_length", "set it from 24 mm to 80 mm"),
        ({"kit.lens": "demo-zoom-24-80", "kit.focal_length": "90 mm"}, "kit.focal_length", "from 24 mm to 80 mm"),
    ],
)
def test_what_the_kit_does_not_have_is_refused_by_its_field(changes: dict[str, Any], field: str, why: str) -> None:
    kiln = edit.changed(library.load_shot(shipped("shots", "kiln-stack")), changes)
    with pytest.raises(BadInput) as refusal:
        load_kit(kiln.kit)
    (line,) = refusal.value.lines
    assert line.startswith(f"{field}: ")
    assert why in line


@pytest.mark.parametrize("name", ["x" * 5000, "a\0b"])
def test_a_name_that_no_file_can_have_is_not_there(name: str) -> None:
    with pytest.raises(BadInput, match="no shot is called"):
        library.shelf_file("shots", name)


@pytest.mark.parametrize("side", ["width_px", "height_px"])
def test_a_mode_has_sixteen_to_a_hundred_thousand_pixels_a_side(side: str) -> None:
    mode = {key: value for key, value in CAMERA.items() if key != "name"} | {"name": "plain-mode"}
    for pixels, sound in ((15, False), (16, True), (100_000, True), (100_001, False)):
        held = {"schema": 1, "name": "a-camera", "mode": [mode | {side: pixels}]}
        if sound:
            assert getattr(Camera.model_validate(held).mode[0], side) == pixels
        else:
            with pytest.raises(ValueError, match=side):
                Camera.model_validate(held)


def test_whole_numbers_and_files_go_as_far_as_can_be_read(tmp_path: Path) -> None:
    """TOML 1.0: 64 bits, −2⁶³ to 2⁶³ − 1."""
    path = tmp_path / "numbers.toml"
    for number, sound in ((-(2**63), True), (2**63 - 1, True), (-(2**63) - 1, False), (2**63, False)):
        path.write_text(f"a = {number}\n")
        if sound:
            assert read_toml(path) == {"a": number}
        else:
            with pytest.raises(BadInput):
                read_toml(path)
    path.write_text("a = 1\n")
    assert read_toml(path, most=6) == {"a": 1}
    with pytest.raises(BadInput):
        read_toml(path, most=5)
    for most, sound in ((6, True), (5, False)):
        if sound:
            write_toml(tmp_path / "written.toml", {"a": 1}, most=most)
        else:
            with pytest.raises(BadInput):
                write_toml(tmp_path / "written.toml", {"a": 1}, most=most)


@pytest.mark.parametrize("path", [*Path(forescale.engine.__file__).parent.rglob("*.toml")], ids=lambda path: path.stem)
def test_the_programs_own_tables_say_the_same_as_toml(path: Path) -> None:
    assert read_own(path) == tomllib.loads(path.read_text(encoding="utf-8"))
