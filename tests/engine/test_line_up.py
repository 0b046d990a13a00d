"""The line-up and coming back through a shot file: what is told, said, refused, and what a done correction changes."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.answer.readings import kept
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.line_up import come_back_says, come_back_warns, correction_says, value_text
from forescale.engine.findings.words import Words
from forescale.engine.formulas.misses import miss
from forescale.engine.formulas.moves import LineUp, Witness, come_back
from forescale.engine.formulas.projection import Frame, Pixels, Point, pose
from forescale.engine.kit import library
from forescale.engine.mends import mends
from forescale.engine.moved.carried import carried, done_by_camera, done_by_model
from forescale.engine.sheet.data import sheet_data
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot
from forescale.engine.solve.view import in_reference, view_of

BASE = """
schema = 1
title = "Roofs"
units = "metric"
[kit]
camera = "demo-cine-35"
mode = "2K centre crop"
lens = "demo-prime-35"
head = "demo-slide-head"
[scale]
ratio = "1:24"
[place]
model = "3.15 m"
background = "73 m"
lens_height = "1.5 m"
aim = "3 deg up"
[[piece]]
name = "near fence"
ratio = "1:8"
stands = "6 m"
seems_at = "49 m"
"""
POINTS = {
    "ridge": ("73 m", "4.2 m left", "9.5 m"),
    "door": ("71 m", "3.1 m right", "1.2 m"),
    "stack": ("77 m", "0.5 m right", "12 m"),
    "gate": ("75 m", "5 m left", "2 m"),
    "pole": ("70 m", "6 m right", "8 m"),
}
MARKS = (("-2.5 m", "2 m left", "0.2 m"), ("3 m", "2.5 m right", "0.3 m"), ("5 m", "0.3 m left", "3 m"))
AWAY = ("4.5 m", "1.5 m left", "2.6 m")


def shot_with(
    tmp_path: Path, *blocks: str, names: tuple[str, ...] = tuple(POINTS), at_match: bool = False
) -> tuple[Shot, Answer]:
    path = tmp_path / "roofs.toml"
    rows = [
        f'[[point]]\nname = "{name}"\ndistance = "{away}"\naside = "{aside}"\nheight = "{high}"\n'
        for name, (away, aside, high) in POINTS.items()
        if name in names
    ]
    path.write_text("\n".join([BASE, *rows, *blocks]))
    if not at_match:
        return answer_file(path)
    match = answer_file(path)[1].lineup.match_distance_mm
    for _ in range(3):  # the pupil goes with the focus, and that with the place
        path.write_text("\n".join([BASE.replace("3.15 m", f"{match!r} mm"), *rows, *blocks]))
        found = answer_file(path)
        match = found[1].lineup.match_distance_mm
    return found


def missed(name: str, across: float, up: float) -> str:
    return f'[[miss]]\npoint = "{name}"\nacross_px = {across!r}\nup_px = {up!r}\n'


def read_from(of: Answer, right: float, up: float, forward: float) -> list[str]:
    """Return the misses that a camera reads which stands off by so much, mm."""
    view, setting = view_of(of.setting, of.kit, of.setup), of.setting
    at = pose(right, (setting.place.lens_height or 0) + up, forward, 0.0, of.setup.aim_deg)
    rows = []
    for row in setting.point:
        seen = miss(in_reference(setting, of.kit, of.setup, row), at, view.frame)
        assert seen is not None
        rows.append(missed(row.name, seen.across, seen.up))
    return rows


def test_a_camera_standing_off_is_told_back_and_the_models_miss_counts(tmp_path: Path) -> None:
    _, planned = shot_with(tmp_path)
    _, found = shot_with(tmp_path, *read_from(planned, 20, -10, 30))
    assert found.correction is not None
    moves = found.correction.camera
    assert moves is not None
    setup = found.setup
    off = setup.level(setup.model_mm) - setup.level(setup.seems_mm) / 24
    assert moves.right_mm == pytest.approx(-20, abs=0.02)
    assert moves.up_mm == pytest.approx(10, abs=0.02)
    assert moves.forward_mm == pytest.approx(off * 24 / 23 - 30, abs=0.05)  # where two similar figures meet
    assert moves.residual_px == pytest.approx(0, abs=1e-4)
    assert moves.left_px == pytest.approx(0, abs=1e-3)
    says = [*correction_says(found, found.correction)]
    assert re.match(r"Move the camera 20 mm left \(± [\d.]+ mm\), 10 mm up \(± [\d.]+ mm\), ", says[0])
    assert "then the points meet as closely as they were read" in says[0]


def test_nothing_is_loaded_and_nothing_is_told_where_nothing_is_read(tmp_path: Path) -> None:
    shot, found = shot_with(tmp_path)
    assert found.correction is None
    assert found.come_back is None
    assert not {"correction", "come_back"} & set(sheet_data(shot, found))


def test_the_groups_stand_in_json_and_on_the_sheet_without_a_nan(tmp_path: Path) -> None:
    shot, found = shot_with(tmp_path, missed("ridge", 4, -2), missed("door", 3, -1.5), marked(taped=False))
    data = sheet_data(shot, found)
    json.dumps(data, allow_nan=False)
    model, camera = data["correction"]["model"], data["correction"]["camera"]
    assert set(camera) >= {"right_mm", "up_mm", "forward_mm", "right_error_mm", "forward_error_mm", "residual_px"}
    assert set(model) >= {"turn_deg", "lean_deg", "roll_deg", "turn_error_deg", "residual_px"}
    assert None in model.values()
    assert any("cannot be told" in text for text in data["correction"]["cannot_tell"])
    assert data["come_back"]["right_mm"] is None
    text = " ".join(sheet_text(shot, found).split())
    assert "LINE-UP BY THE PICTURE" in text
    assert "cannot be told" in text
    assert "COMING BACK" in text


@pytest.mark.parametrize(
    ("names", "says"),
    [
        (("ridge",), "one point is read, and two are needed"),
        (("ridge", "stack"), "with two points alone"),
        (("ridge", "door", "stack"), "nothing checks what is told of the model"),
    ],
)
def test_what_the_points_cannot_tell_is_said(tmp_path: Path, names: tuple[str, ...], says: str) -> None:
    _, found = shot_with(tmp_path, *(missed(name, 2, 1) for name in names))
    assert found.correction is not None
    assert any(says in text for text in found.correction.cannot_tell)


def test_both_points_at_one_height_do_not_tell_the_lean(tmp_path: Path) -> None:
    block = '[[point]]\nname = "eaves"\ndistance = "73 m"\naside = "4 m right"\nheight = "9.5 m"\n'
    _, found = shot_with(tmp_path, block, missed("ridge", 2, 1), missed("eaves", 1, 1))
    assert found.correction is not None
    assert found.correction.model is not None
    assert found.correction.model.lean_deg is None
    (text,) = found.correction.cannot_tell
    assert "with both points at one height" in text
    assert "the lean of the model" in text


@pytest.mark.parametrize(
    ("heights", "says"),
    [
        ((2, 6, 10), "with all points in one line the turn of the model"),
        ((2, 6, 9.1), "with all points nearly in one line the turn of the model"),  # bent by 7 degrees
        ((5, 5, 5), "with all points at one height the lean of the model"),
        ((5, 5.2, 5), "with all points nearly at one height the lean of the model"),
    ],
)
def test_points_are_said_to_be_in_line_where_they_truly_are(
    tmp_path: Path, heights: tuple[float, ...], says: str
) -> None:
    asides = zip(("4 m left", "0 m", "4 m right"), heights, strict=True)
    rows = [f'[[point]]\nname = "{h}, {x}"\ndistance = "73 m"\naside = "{x}"\nheight = "{h} m"\n' for x, h in asides]
    misses = [missed(row.split('"')[1], 2, 1) for row in rows]
    _, found = shot_with(tmp_path, *rows, *misses, names=())
    assert found.correction is not None
    assert any(says in text for text in found.correction.cannot_tell), found.correction.cannot_tell


def test_a_misread_point_is_named_and_the_finding_says_to_read_again(tmp_path: Path) -> None:
    _, planned = shot_with(tmp_path)
    rows = read_from(planned, 20, -10, 30)
    rows[3] = missed("gate", 30, -40)
    _, found = shot_with(tmp_path, *rows)
    assert found.correction is not None
    assert "gate" in found.correction.doubtful
    (finding,) = [one for one in found.findings if one.code == "line-up-misses"]
    assert finding.level == "warn"
    assert any('read "gate" again' in mend.text for mend in mends(found, finding))
    assert any('Read "gate" again' in text for text in correction_says(found, found.correction))


def test_points_that_meet_are_a_note(tmp_path: Path) -> None:
    _, found = shot_with(tmp_path, *(missed(name, 0.2, -0.3) for name in POINTS))
    assert [one.level for one in found.findings if one.code == "line-up-meets"] == ["note"]


def test_a_piece_has_a_correction_of_its_own(tmp_path: Path) -> None:
    rows = [
        f'[[point]]\nname = "{name}"\ndistance = "{away}"\naside = "{aside}"\nheight = "{high}"\npiece = "near fence"\n'
        for name, away, aside, high in (("post", "49 m", "2 m left", "1 m"), ("rail", "48 m", "2 m right", "2 m"))
    ]
    shot, found = shot_with(tmp_path, *rows, missed("post", 3, 1), missed("rail", 3, 1.2))
    assert found.correction is None
    assert found.picture is not None
    (piece,) = found.picture.pieces
    assert piece.correction is not None
    assert piece.correction.model is not None
    assert sheet_data(shot, found)["picture"]["pieces"][0]["correction"]["camera"]["right_mm"] is not None
    assert any("near fence" in text for text in correction_says(found, piece.correction, "near fence"))


@pytest.mark.parametrize(
    ("block", "says"),
    [
        (missed("rigde", 1, 1), 'a miss is read at "rigde", and there is no such point; did you mean "ridge"'),
        (missed("ridge", 1, 1) * 2, 'two misses are read at "ridge"'),
        ('[[witness]]\nname = "a"\ndistance = "3 m"\naside = "2 m"\nheight = "1 m"\n', "does not say which side"),
        (
            '[[witness]]\nname = "a"\ndistance = "3 m"\naside = "0 m"\nheight = "1 m"\nframe_up_now = 0.2\n',
            "give both frame_across_now and frame_up_now",
        ),
        (
            '[[witness]]\nname = "a"\ndistance = "0 m"\naside = "2 m left"\nheight = "1 m"\n'
            "frame_across_now = 0.2\nframe_up_now = 0.2\n",
            "a mark beside or behind the camera stands in no picture",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(tmp_path: Path, block: str, says: str) -> None:
    with pytest.raises(BadInput, match=says) as fault:
        shot_with(tmp_path, block)
    assert len(fault.value.faults) == 1


def test_a_correction_by_the_model_takes_the_readings_and_nothing_else(tmp_path: Path) -> None:
    rows = [missed("ridge", 4, -2), missed("door", 3, -1.5), missed("pole", 3, -2)]
    shot, found = shot_with(tmp_path, *rows, at_match=True)
    after = edit.changed(shot, done_by_model(found))
    assert after.miss == ()
    assert after.model_copy(update={"miss": shot.miss}) == shot
    with pytest.raises(BadInput, match="nothing was read"):
        done_by_model(answer(after, found.kit, found.system))


def most_missed(of: Answer) -> float:
    """Return the longest miss that an answer foretells, px."""
    assert of.picture is not None
    return max(math.hypot(point.miss_across_px or 0, point.miss_up_px or 0) for point in of.picture.points)


def test_what_is_left_at_each_point_is_as_said_of_the_worst(tmp_path: Path) -> None:
    """Two points check no fit, whose strays are nothing then; what its moves leave is not."""
    _, found = shot_with(tmp_path, missed("ridge", 25, -3), missed("door", -12, 4))
    correction = found.correction
    assert correction is not None
    assert correction.model is not None
    assert correction.model.holds
    assert correction.model.left_px > 1
    each = [math.hypot(one.model_across_px or 0, one.model_up_px or 0) for one in correction.points]
    assert max(each) == pytest.approx(correction.model.left_px, abs=0.01)
    worst = Words(found).at_least(correction.model.left_px)
    assert any(f"still misses by {worst} px" in said for said in correction_says(found, correction))


def test_a_correction_by_the_model_off_its_match_brings_it_there(tmp_path: Path) -> None:
    _, planned = shot_with(tmp_path)
    shot, found = shot_with(tmp_path, *read_from(planned, 20, -10, 30))
    assert most_missed(found) > 5
    after = answer(edit.changed(shot, done_by_model(found)), found.kit, found.system)
    assert after.lineup.model_mm == pytest.approx(
        found.lineup.match_distance_mm, abs=0.06
    )  # a tenth of a mm on the tape
    assert most_missed(after) < 0.05
    assert after.setting.miss == ()


def test_a_correction_by_the_camera_carries_every_tape_to_least_misses(tmp_path: Path) -> None:
    """It stood 20 mm right, 10 down and 30 forward of its place, and ends where model and place are alike."""
    _, planned = shot_with(tmp_path)
    shot, found = shot_with(tmp_path, *read_from(planned, 20, -10, 30), marked(taped=True))
    setup = found.setup
    forward = (
        (setup.level(setup.model_mm) - setup.level(setup.seems_mm) / 24) * 24 / 23
    )  # as two similar figures have it
    assert abs(forward) > 50
    after: Any = edit.changed(shot, done_by_camera(found))
    assert after.place.lens_height == pytest.approx(shot.place.lens_height, abs=0.01)
    for name in ("model", "background"):
        assert getattr(after.place, name) == pytest.approx(getattr(shot.place, name) - forward, abs=0.06)
    for old, new in zip(shot.point, after.point, strict=True):
        assert new.aside == pytest.approx(old.aside, abs=0.01)
        assert new.distance == pytest.approx((old.distance or 0) - forward, abs=0.06)
        assert new.height == old.height
    assert after.piece[0].stands == pytest.approx((shot.piece[0].stands or 0) - forward, abs=0.06)
    assert after.witness[0].aside == pytest.approx(shot.witness[0].aside, abs=0.01)
    assert after.witness[0].taped_now is None
    assert after.miss == ()
    shot_again = Shot.read(json.loads(json.dumps(after.dump(), default=str)), "again")
    assert shot_again.place == after.place
    assert most_missed(found) > 5
    assert most_missed(answer(after, found.kit, found.system)) < 0.05


def test_a_correction_by_the_camera_at_the_match_keeps_every_tape(tmp_path: Path) -> None:
    _, planned = shot_with(tmp_path, at_match=True)
    shot, found = shot_with(tmp_path, *read_from(planned, 20, -10, 30), at_match=True)
    assert found.correction is not None
    assert found.correction.camera is not None
    assert found.correction.camera.right_mm == pytest.approx(-20, abs=0.02)
    after: Any = edit.changed(shot, done_by_camera(found))
    assert after.place == shot.place
    assert after.point == shot.point


def test_a_point_read_in_the_picture_is_taped_once_the_camera_moves(tmp_path: Path) -> None:
    block = '[[point]]\nname = "vane"\ndistance = "74 m"\nframe_across = 0.6\nframe_up = 0.7\n'
    shot, found = shot_with(tmp_path, block, missed("ridge", 4, -2), missed("door", 3, -1.5), missed("pole", 3, -2))
    real = in_reference(shot, found.kit, found.setup, shot.point[-1]).real
    assert found.correction is not None
    assert found.correction.camera is not None
    after: Any = edit.changed(shot, done_by_camera(found)).point[-1]
    assert after.frame_across is None
    assert after.aside == pytest.approx(real.x - found.correction.camera.ends_right_mm, abs=0.06)
    assert after.height == pytest.approx(real.h, abs=0.05)  # to the tenth of a mm that a tape is kept to


@pytest.mark.parametrize(("right", "forward"), [(0, 120), (35, 0), (35, 120)])
def test_a_point_read_in_the_picture_is_kept_rounded_wherever_it_goes(
    tmp_path: Path, right: float, forward: float
) -> None:
    block = '[[point]]\nname = "vane"\ndistance = "74 m"\nframe_across = 0.6137\nframe_up = 0.7041\n'
    shot, found = shot_with(tmp_path, block)
    after: Any = edit.changed(shot, carried(found, right, forward)).point[-1]
    assert after.distance == pytest.approx(74_000 - forward, abs=0.05)
    for mm in (after.distance, after.aside, after.height):
        assert len(f"{mm!r}".partition(".")[2]) <= 2  # decimals of a mm


def test_a_turn_within_its_own_error_is_not_told_to_be_done(tmp_path: Path) -> None:
    _, planned = shot_with(tmp_path)
    _, found = shot_with(tmp_path, *read_from(planned, 20, -10, 30))
    assert found.correction is not None
    says = [*correction_says(found, found.correction)]
    assert not [text for text in says if text.startswith("Move the model") and " it " in text]
    (text,) = [text for text in says if text.startswith("Too small to be told from no move at all, of the model")]
    assert text.count("±") == 3


def test_a_move_within_its_own_error_is_not_told_to_be_done(tmp_path: Path) -> None:
    _, planned = shot_with(tmp_path, at_match=True)
    _, found = shot_with(tmp_path, *read_from(planned, 20, 0, 0), at_match=True)  # 20 mm to the right, no more
    assert found.correction is not None
    first, *rest = correction_says(found, found.correction)
    assert re.match(r"Move the camera [^,]* left \(± [^)]*\): then", first), first
    (text,) = [text for text in rest if text.startswith("Too small to be told from no move at all, of the camera")]
    assert re.search(r": up or down \(± [^)]*\) and forward or back \(± [^)]*\)$", text), text
    assert not any(word in text for text in (first, *rest) for word in ("ahead", "0.000"))


def test_misses_read_of_another_shot_count_no_more_and_say_so(tmp_path: Path) -> None:
    shot, found = shot_with(tmp_path, *(missed(name, 4, -2) for name in POINTS))
    state = edit.changed(shot, {"place.aim": "2 deg up", "miss": kept(found)["miss"]})
    other = answer(state, found.kit, found.system)
    assert other.correction is not None
    assert other.correction.camera is None
    assert other.correction.stale == tuple(POINTS)
    assert '"ridge" was read with another aim: read it again' in other.correction.cannot_tell
    assert "miss-stale" in {one.code for one in other.findings}
    back = answer(edit.changed(state, {"place.aim": "3 deg up"}), found.kit, found.system)
    assert back.correction is not None
    assert back.correction.camera == found.correction.camera if found.correction else False
    anew = edit.changed(state, {"miss": (*state.miss[:3], *shot.miss[3:])})  # two are read anew
    partly = answer(anew, found.kit, found.system)
    assert partly.correction is not None
    assert partly.correction.camera is not None
    assert len(partly.correction.points) == 2


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_a_model_whose_place_was_open_then_stands_and_meets_as_promised(tmp_path: Path, units: str) -> None:
    _, planned = shot_with(tmp_path)
    path = tmp_path / "open.toml"
    text = (tmp_path / "roofs.toml").read_text() + "\n".join(read_from(planned, 20, -10, 30))
    for line in ('model = "3.15 m"', 'stands = "6 m"', 'ratio = "1:24"'):
        text = text.replace(f"{line}\n", "", 1)
    path.write_text(text.replace('"metric"', f'"{units}"'))
    shot, found = answer_file(path)
    assert shot.place.model is None
    assert found.correction is not None
    assert found.correction.camera is not None
    after: Any = edit.changed(shot, done_by_camera(found))
    assert after.place.model is not None
    assert after.piece[0].stands is not None
    assert after.scale.ratio == found.scale.ratio
    then = answer(after, found.kit, found.system)
    assert then.picture is not None
    for point in then.picture.points:
        left = math.hypot(point.miss_across_px or 0, point.miss_up_px or 0)
        assert left == pytest.approx(found.correction.camera.left_px, abs=0.1)
    held = re.findall(r"[\d.]+(?= mm)", json.dumps(after.dump(), default=str).split('"mark"')[0])
    assert all(len(number.partition(".")[2]) <= 3 for number in held)


# Coming back


def marked(taped: bool, gone: tuple[float, float, float] = (0, 0, 0), also: tuple[Any, ...] = ()) -> str:
    """Return marks with the tapes of a camera that stands off by so much (mm), each 12 mm long then and now."""
    rows = []
    for number, (away, aside, high) in enumerate((*MARKS, *also), start=1):
        row = f'[[witness]]\nname = "mark {number}"\ndistance = "{away}"\naside = "{aside}"\nheight = "{high}"\n'
        if taped:
            x = float(aside.split()[0]) * 1000 * (-1 if aside.endswith("left") else 1)
            place = (x, float(high.split()[0]) * 1000, float(away.split()[0]) * 1000)
            old = (0.0, 1500.0, 0.0)
            new = tuple(a + b for a, b in zip(old, gone, strict=True))
            row += f'taped = "{math.dist(place, old) + 12!r} mm"\ntaped_now = "{math.dist(place, new) + 12!r} mm"\n'
        rows.append(row)
    return "\n".join(rows)


def test_tapes_tell_the_way_back_in_words_and_in_json(tmp_path: Path) -> None:
    shot, found = shot_with(tmp_path, marked(True, (40, -25, 30), (AWAY,)))
    back = found.come_back
    assert back is not None
    ahead = found.setup.pupil.ahead_mm
    assert abs(ahead) < 200
    assert back.right_mm == pytest.approx(-40, abs=1.5)
    assert back.forward_mm == pytest.approx(-30, abs=1.5)
    assert back.pan_deg is None
    says = " ".join(come_back_says(found, back))
    assert "Move the camera" in says
    assert "left" in says
    assert "aim it by the picture" in says
    assert sheet_data(shot, found)["come_back"]["says"][0].startswith("Move the camera")
    assert any(one.code == "come-back" for one in found.findings)


def test_a_misread_tape_is_said_first_and_makes_the_way_back_less_sure(tmp_path: Path) -> None:
    """Four tapes for three unknowns: one 100 mm wrong shows, but not which; what is told is widened by the misfit."""
    right = marked(True, (40, -25, 30), (AWAY,))
    head, _, last = right.rpartition('taped_now = "')
    wrong = f'{head}taped_now = "{float(last.split()[0]) + 100!r} mm"\n'
    shot, found = shot_with(tmp_path, wrong)
    back, (_, fine) = found.come_back, shot_with(tmp_path, right)
    assert back is not None
    assert fine.come_back is not None
    assert not back.holds
    assert back.residual_mm is not None
    says = sheet_data(shot, found)["come_back"]["says"]
    assert says[0].startswith("The readings do not fit one place of the camera")
    assert "4 marks are too few to tell which" in says[0]
    # The root of the summed squares of four tapes over one degree of freedom, in 2 mm of each tape, then and now.
    wider = 2 * back.residual_mm / (2 * math.sqrt(2))
    assert back.right_error_mm == pytest.approx((fine.come_back.right_error_mm or 0) * wider, rel=0.05)
    (told,) = [one for one in found.findings if one.code == "come-back"]
    assert told.level == "warn"


def test_a_mark_in_the_plane_of_the_lens_tells_nothing_by_its_picture() -> None:
    frame, seen = Frame(25.0, 20.0, 10.0, 2000.0, 1000.0), Pixels(0.0, 0.0)
    beside, ahead = Point(400.0, 1500.0, 0.0), Point(0.0, 1500.0, 4000.0)
    marks = tuple(Witness(at, 0.0, seen, placed_error_mm=2.0) for at in (beside, ahead))
    assert come_back(marks, LineUp(1500.0, 0.0, 0.0, frame, 0.5)) is None  # no place shows both


def test_marks_not_yet_read_tell_how_finely_and_that_nearer_is_better(tmp_path: Path) -> None:
    shot, found = shot_with(tmp_path, marked(False, also=(AWAY,)))
    assert found.come_back is not None
    mark_mm = 1500 - found.setup.pupil.ahead_mm * math.sin(math.radians(found.setup.aim_deg))  # of the sensor plane
    sights = np.array([[row.aside, row.height - mark_mm, row.distance] for row in shot.witness])
    sights /= np.linalg.norm(sights, axis=1)[:, None]
    coarsest = math.sqrt(2) * 2 * math.sqrt(np.linalg.inv(sights.T @ sights).diagonal().max())  # 2 mm, then and now
    assert found.come_back.would_tell_by_tapes_mm == pytest.approx(coarsest, rel=1e-6)
    _, taped_then = shot_with(tmp_path, re.sub(r"taped_now = .*", "", marked(True, also=(AWAY,))))
    assert taped_then.come_back is not None  # a place that was laid out is no surer than a tape
    assert taped_then.come_back.would_tell_by_tapes_mm == found.come_back.would_tell_by_tapes_mm
    assert any("would tell where the camera stands by tapes" in text for text in come_back_says(found, found.come_back))
    far = [
        f'[[witness]]\nname = "far {number}"\ndistance = "{away} m"\naside = "{aside} m right"\nheight = "{high} m"\n'
        for number, (away, aside, high) in enumerate(((70, -9, 2), (80, 9, 3), (90, 4, 12), (75, -5, 9)))
        for aside in [abs(aside)]
    ]
    _, found = shot_with(tmp_path, *far)
    assert found.come_back is not None
    assert (found.come_back.would_tell_by_picture_mm or 0) > 16
    assert any("the farther, the coarser" in text for text in come_back_says(found, found.come_back))


def test_three_tapes_give_no_check_and_two_no_height(tmp_path: Path) -> None:
    _, found = shot_with(tmp_path, marked(True, (10, 0, 5)))
    assert found.come_back is not None
    assert any("no check" in text for text in found.come_back.cannot_tell)
    block = "\n".join(marked(True, (10, 0, 5)).split("[[witness]]")[:3]).replace(
        'name = "mark', '[[witness]]\nname = "mark'
    )
    _, found = shot_with(tmp_path, block)
    assert found.come_back is not None
    assert found.come_back.up_mm is None
    assert any("stand as high as it did" in text for text in found.come_back.cannot_tell)


def test_a_tape_then_that_its_marks_place_gainsays_is_named_at_once(tmp_path: Path) -> None:
    """1.5 m of lens, a mark 4 m off, 1.8 m left, 0.1 m high: the square root of 16 + 3.24 + 1.96 is 4.604 m."""
    mark = '[[witness]]\nname = "kerb"\ndistance = "4 m"\naside = "1.8 m left"\nheight = "0.1 m"\ntaped = "{} m"\n'
    straight = math.sqrt(16 + 3.24 + 1.96)
    for taped, gainsaid in ((straight, False), (straight + 0.05, False), (straight - 0.05, False), (5.604, True)):
        shot, found = shot_with(tmp_path, mark.format(taped))
        assert found.come_back is not None
        says = sheet_data(shot, found)["come_back"]["says"]
        assert any("kerb" in text for text in says) == gainsaid
        assert come_back_warns(found.come_back) == gainsaid
    assert says[0].startswith('The tape then of "kerb" is 5.604 m, and its distance, aside and height give 4.604 m')
    assert not any(one.code == "come-back" for one in found.findings)  # nothing was read now


@pytest.mark.parametrize(("now", "named"), [(0.3, True), (2.2, True), (2.4, False), (6.8, False), (7, True)])
def test_a_tape_now_that_no_coming_back_explains_is_named(tmp_path: Path, now: float, named: bool) -> None:
    """Then the tape was 4.604 m: half of that either way is 2.302 m and 6.906 m."""
    mark = '[[witness]]\nname = "kerb"\ndistance = "4 m"\naside = "1.8 m left"\nheight = "0.1 m"\ntaped_now = "{} m"\n'
    shot, found = shot_with(tmp_path, mark.format(now))
    assert found.come_back is not None
    says = sheet_data(shot, found)["come_back"]["says"]
    assert any(text.startswith('The tape now of "kerb" is') and "it was 4.604 m" in text for text in says) == named
    assert come_back_warns(found.come_back) == named


def test_a_turn_far_under_its_error_is_told_as_none() -> None:
    words = Words(answer_file(library.shot_path("kiln-stack"))[1])
    assert value_text(words, "roll_deg", 0.000041, 0.013) == "0 deg clockwise"
    assert value_text(words, "roll_deg", 0.04123, 0.013) == "0.041 deg clockwise"
