"""How far off a value may be: against edges worked out on paper, and by solving anew to either side of them."""

from __future__ import annotations

import math
from typing import Any

import pytest
from cases import kit, shot, solve

from forescale.engine.answer import Answer, answer
from forescale.engine.kit import library
from forescale.engine.kit.kit import Kit, load_kit
from forescale.engine.kit.library import SHIPPED
from forescale.engine.margins import sensitivity
from forescale.engine.margins.sensitivity import GROWTH, HALVINGS, STRIDES, Edge, Sensitivity
from forescale.engine.shot.edit import changed
from forescale.engine.shot.records import Setting
from forescale.engine.units import exact_length, exact_ratio

# An edge is given on its safe side; the last step out is halved so often as a proportion. One that lies within the
# first step, a careful hand's error, is known to that step halved so often.
KNOWN_TO = GROWTH ** (1 / 2**HALVINGS) - 1
FIRST_STEP = 1 / 2**HALVINGS

SHOTS: dict[str, dict[str, Any]] = {
    "plain": {},
    "deep": {"place.model_near": "3.5 m", "place.background_far": "90 m", "place.lens_height": "1.5 m"},
    "set by hand": {"focus.distance": "7 m", "focus.stop": "f/16", "place.model_near": "3.6 m", "action.fps": 120},
    "already wrong in size": {"place.model": "4.2 m"},
    "left open": {"scale.ratio": None, "place.model": None, "place.background": "60 m"},
    "in poor light": {"light.available": "9000 lx", "light.iso": 800, "focus.stop": "f/8"},
    "background at infinity": {"place.background": "inf"},
}
PAN = {"kit.head": "plain-head", "move.axis": "pan", "move.sweep": "15 deg"}


def table(changes: dict[str, Any], head: dict[str, Any] | None = None) -> dict[str, Sensitivity]:
    setting = shot(changes)
    rows = sensitivity.sensitivity(setting, kit(setting, head=head), "metric")
    return {row.path: row for row in rows}


def grave(found: Answer) -> set[tuple[str, str]]:
    return {(said.level, said.code) for said in found.findings if said.level in {"warn", "stop"}}


def just_past(edge: Edge, row: Sensitivity) -> float:
    """Where the finding must have turned, in mm or stops off."""
    return edge.off * (1 + 1.01 * KNOWN_TO) + 1.01 * FIRST_STEP * hand_error(row) * (edge.off < hand_error(row))


def hand_error(row: Sensitivity) -> float:
    """What a careful hand may be off by, from how many times that the row says its value may be off."""
    return min(edge.off for edge in (row.less, row.more) if edge) / row.margin


def written_out(setting: Setting, with_kit: Kit) -> dict[str, str | float]:
    """What a file would say of the shot once all that was left open is set to what the answer chose."""
    found = answer(setting, with_kit, "metric")
    return {
        "scale.ratio": exact_ratio(found.scale.ratio),
        "action.fps": found.speed.fps,
        "place.model": exact_length(found.lineup.model_mm, "metric"),
        "focus.distance": exact_length(found.focus.focus_mm, "metric"),
        "focus.stop": f"f/={found.focus.stop_mark!r}",
        "light.iso": found.light.iso,
    }


def off_by(row: Sensitivity, amount: float) -> str:
    if row.unit == "stops":
        return f"f/={row.value * 2 ** (amount / 2)!r}"
    return exact_length(row.value + amount, "metric")


@pytest.mark.parametrize("name", SHOTS)
def test_solved_anew_nothing_turns_inside_an_edge_and_something_outside(name: str) -> None:
    setting = shot(SHOTS[name])
    with_kit = kit(setting)
    stands = changed(setting, written_out(setting, with_kit))
    edges = 0
    for row in sensitivity.sensitivity(setting, with_kit, "metric"):

        def off(amount: float, row: Sensitivity = row) -> set[tuple[str, str]]:
            moved = changed(stands, {row.path: off_by(row, amount)})
            return grave(answer(moved, with_kit, "metric", with_contrast=True))

        as_set = grave(answer(stands, with_kit, "metric", with_contrast=True))
        for edge, sign in ((row.less, -1), (row.more, 1)):
            if edge is None:
                continue
            edges += 1
            told = (edge.finding.level, edge.finding.code)
            for share in (0.25, 0.5, 0.999):
                assert off(sign * edge.off * share) == as_set
            after = off(sign * just_past(edge, row))
            assert after != as_set
            assert (told in after and told not in as_set) if edge.comes else (told in as_set and told not in after)
    assert edges >= 2


@pytest.mark.parametrize("name", SHOTS)
def test_where_nothing_turns_solving_finds_nothing(name: str) -> None:
    """Looked at in twenty steps as far as a neighbour, or a tenth or twice the distance."""
    setting = shot(SHOTS[name])
    with_kit = kit(setting)
    stands = changed(setting, written_out(setting, with_kit))
    before = grave(answer(stands, with_kit, "metric", with_contrast=True))
    rows = {row.path: row for row in sensitivity.sensitivity(setting, with_kit, "metric")}
    nearer = {"place.model": "place.model_near", "place.background": "place.model"}
    for path, row in rows.items():
        if row.less is None and path.startswith("place.") and path != "place.lens_height":
            floor = rows[nearer[path]].value if nearer.get(path) in rows else 0.1 * row.value
            if path == "place.background_far":
                floor = rows["place.background"].value
            for step in range(1, 20):
                moved = changed(stands, {path: exact_length(row.value + (floor - row.value) * step / 20, "metric")})
                assert grave(answer(moved, with_kit, "metric", with_contrast=True)) == before


def assert_edge(edge: Edge | None, on_paper: float, code: str) -> None:
    """The edge must be the one on paper, on its safe side, as near as it claims to be known."""
    assert edge is not None
    assert edge.finding.code == code
    assert edge.comes
    assert on_paper / (1 + KNOWN_TO) <= edge.off <= on_paper * (1 + 1e-9)


def test_size_turns_at_one_and_a_half_per_cent() -> None:
    """1:16 at 4 m from the pupil before 64 m: from 4 m · (1 − 1/1.015) nearer to 4 m · (1/0.985 − 1) farther.

    A stop far down keeps the zone out of it.
    """
    rows = table({"focus.stop": "f/22"})
    assert_edge(rows["place.model"].less, 4000 * (1 - 1 / 1.015), "size-mismatch")
    assert_edge(rows["place.model"].more, 4000 * (1 / 0.985 - 1), "size-mismatch")
    assert_edge(rows["place.background"].less, 64000 * 0.015, "size-mismatch")
    assert_edge(rows["place.background"].more, 64000 * 0.015, "size-mismatch")


@pytest.mark.parametrize(("farthest", "turns"), [("64.9 m", False), ("65.1 m", True)])
def test_a_tape_is_tried_as_far_as_its_neighbour_and_no_farther(farthest: str, turns: bool) -> None:
    """The size turns with the background 960 mm farther, at 64.99 m."""
    row = table({"focus.stop": "f/22", "place.background_far": farthest})["place.background"]
    assert (row.more is not None) is turns
    assert_edge(row.less, 64000 * 0.015, "size-mismatch")


def test_a_wrong_size_turns_where_it_comes_right_though_wrong_beyond() -> None:
    """5 % too far from the pupil: right from 1.5 % too far on, wrong to the other side past 1.5 % too near."""
    at = 4200 + 30
    row = table({"place.model": f"{at} mm", "focus.stop": "f/22"})["place.model"]
    assert row.less is not None
    assert (row.less.finding.code, row.less.comes) == ("size-mismatch", False)
    on_paper = 4200 - 4000 / 0.985
    assert on_paper / (1 + KNOWN_TO) <= row.less.off <= on_paper
    assert row.more is not None
    assert (row.more.finding.level, row.more.finding.code) == ("stop", "size-mismatch")


def test_an_edge_within_a_usual_error_is_known_to_a_sixty_fourth_of_it() -> None:
    """The tape is off by 25 mm, and 3.1 mm nearer the size comes right, 1.5 % too far from the pupil."""
    at = 4000 / 0.985 + 3.1 + 30
    row = table({"place.model": f"{at} mm", "focus.stop": "f/22"})["place.model"]
    assert row.less is not None
    assert (row.less.finding.code, row.less.comes) == ("size-mismatch", False)
    assert 3.1 - 25 / 64 <= row.less.off <= 3.1


def test_a_part_taped_behind_the_model_does_not_hide_the_models_own_edges() -> None:
    """Left open, it stands at 4 m by its ratio; the part beyond it is told of, and bounds nothing."""
    rows = table({"place.model": None, "place.model_near": "6 m", "focus.stop": "f/22"})
    assert_edge(rows["place.model"].less, 4000 * (1 - 1 / 1.015), "size-mismatch")
    assert_edge(rows["place.model"].more, 4000 * (1 / 0.985 - 1), "size-mismatch")
    nearest = rows["place.model_near"].less
    assert nearest is not None
    assert (nearest.finding.code, nearest.comes) == ("nearest-behind", False)


def test_zone_turns_where_its_near_limit_passes_the_nearest_part() -> None:
    """With the stop set, the nearest part may come as near as the near limit that the answer gives."""
    changes = {"place.model_near": "3.6 m", "focus.stop": "f/8", "focus.distance": "7 m"}
    found = solve(changes)
    assert found.focus.covers
    row = table(changes)["place.model_near"]
    assert_edge(row.less, 3600 - found.focus.near_mm, "zone-short")
    assert row.more is None


def test_stop_turns_where_it_no_longer_holds_the_zone() -> None:
    """Opening up by 2·log2(N / N needed) stops loses the zone."""
    changes = {"place.model_near": "3.5 m", "place.background_far": "90 m"}
    zone = solve(changes).focus
    row = table(changes)["focus.stop"]
    assert row.unit == "stops"
    assert_edge(row.less, 2 * math.log2(zone.f_number / zone.stop_needed), "zone-short")


def test_slide_turns_at_the_tolerance_of_the_slip() -> None:
    """The slide may stand off its zero by the tolerance, less what it already does."""
    changes = PAN | {"move.slide": "58 mm"}
    setting = shot(changes)
    slip = answer(setting, kit(setting, head={}), "metric").slip
    assert slip.slide_for_zero_mm is not None
    assert slip.tolerance_mm is not None
    row = table(changes, head={})["move.slide"]
    above = 58 - slip.slide_for_zero_mm
    assert abs(above) < slip.tolerance_mm
    assert row.less is not None
    assert row.more is not None
    # The two sides of the zero differ by what the pupil's own distance does to the model's: 1 % is ample at 4 m.
    assert row.less.off == pytest.approx(slip.tolerance_mm + above, rel=KNOWN_TO + 0.01)
    assert row.more.off == pytest.approx(slip.tolerance_mm - above, rel=KNOWN_TO + 0.01)
    assert {row.less.finding.code, row.more.finding.code} == {"slip-over"}


def test_a_slide_left_open_counts_as_set_to_its_zero() -> None:
    setting = shot(PAN)
    zero = answer(setting, kit(setting, head={}), "metric").slip.slide_for_zero_mm
    assert table(PAN, head={})["move.slide"].value == zero


def test_what_is_not_there_has_no_row() -> None:
    assert set(table({})) == {"place.model", "place.background", "focus.distance", "focus.stop"}
    endless = table({"place.background": "inf"})
    assert "place.background" not in endless


@pytest.mark.parametrize(("stop", "on_lens"), [("f/1.4", False), ("f/2", True), ("f/22", True), ("f/=221", False)])
def test_a_stop_that_the_lens_has_not_is_told_of_alone(stop: str, on_lens: bool) -> None:
    """The lens runs from f/2 to f/22: past it nothing is said of diffraction, and no row of how far it may be off."""
    said = {code for _, code in grave(solve({"focus.stop": stop}))}
    assert ("focus.stop" in table({"focus.stop": stop})) == on_lens
    assert ("stop-beyond-lens" in said) != on_lens
    assert ("past-best-stop" in said) == (stop == "f/22")


def test_a_mark_moved_turns_no_false_detail_at_a_stop_beyond_the_lens() -> None:
    """At f/60.8, on a lens to f/5.6, the loss by diffraction would go where the mark is 9.5 m nearer, and come back."""
    far_down = {"place.model": "4746 mm", "place.background": "75936 mm", "focus.distance": "11756 mm"}
    of = far_down | {"focus.stop": "f/=60.775", "scale.ratio": None, "focus.sharpness": "2 px"}
    for nearer in range(0, 10000, 100):
        found = solve(of | {"focus.distance": f"{11756 - nearer} mm"}, lens={"smallest": "f/5.6"})
        assert grave(found) == {("stop", "stop-beyond-lens")}


def test_rows_stand_in_the_order_of_what_matters() -> None:
    rows = list(table(PAN | SHOTS["deep"], head={}).values())
    assert [row.rank for row in rows] == list(range(1, len(rows) + 1))
    assert [row.margin for row in rows] == sorted(row.margin for row in rows)
    for row in rows:
        edges = [edge.off for edge in (row.less, row.more) if edge]
        assert not math.isnan(row.margin)
        assert math.isinf(row.margin) == (not edges)
        assert all(off >= 0 for off in edges)


def test_margin_counts_what_a_person_is_usually_off_by() -> None:
    """25 mm on a tape up to 10 m, 1 % of what lies beyond on top (common practice, no source)."""
    row = table({})["place.model"]
    assert row.less is not None
    assert row.more is not None
    assert row.margin == pytest.approx(min(row.less.off, row.more.off) / 25)


DEMOS = [*((name, {}) for name in ("kiln-stack", "lock-gate", "signal-lamp")), ("lock-gate", {"place.aim": "60 deg"})]
SLIDES = [("kiln-stack", {"move.slide": slide}) for slide in ("0 mm", "1e-9 mm", "0.01 mm", "119.99 mm", "120 mm")]


@pytest.mark.parametrize(("name", "changes"), [*DEMOS, *SLIDES])
def test_a_shot_is_solved_a_bounded_number_of_times(
    name: str, changes: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each way of each value takes six steps out, the strides and the halvings; the aim a step each half field."""
    solved = 0

    def counted(*args: Any, **kept: Any) -> Answer:
        nonlocal solved
        solved += 1
        return answer(*args, **kept)

    monkeypatch.setattr(sensitivity, "answer", counted)
    demo = library.load_shot(SHIPPED / "shots" / f"{name}.toml")
    rows = sensitivity.sensitivity(changed(demo, changes), load_kit(demo.kit, name), demo.units)
    assert len(rows) >= 4
    assert any(row.less or row.more for row in rows)
    assert solved <= 1 + len(rows) * (1 + 2 * (6 + 2 * STRIDES + HALVINGS))


def test_a_long_lens_is_not_aimed_over_the_whole_sky(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 400 mm, half a field of 9.35 mm is 0.67°: the aim is tried over twelve of them either way, a step each."""
    solved: list[Answer] = []

    def kept(*args: Any, **more: Any) -> Answer:
        solved.append(answer(*args, **more))
        return solved[-1]

    monkeypatch.setattr(sensitivity, "answer", kept)
    setting = changed(
        library.load_shot(SHIPPED / "shots" / "lock-gate.toml"), {"place.aim": "2.4 deg", "place.feature_height": None}
    )
    with_kit = load_kit(setting.kit, "lock-gate")
    long = with_kit.lens.model_copy(update={"focal_length": 400.0, "pupil": ()})
    sensitivity.sensitivity(setting, with_kit._replace(lens=long, focal_mm=400.0), "metric")
    aims = {found.setting.place.aim for found in solved} - {2.4}
    assert len(aims) <= 2 * (6 + 12 + HALVINGS)
    assert max(abs(aim - 2.4) for aim in aims) == pytest.approx(12 * math.degrees(math.atan(9.35 / 800)))


def half_field_deg(setting: Setting, name: str) -> float:
    with_kit = load_kit(setting.kit, name)
    return math.degrees(math.atan(with_kit.mode.height / (2 * with_kit.focal_mm)))


JAMBS_UP = math.degrees(math.atan((3000 - 1500) / math.hypot(36000 - 31, 0)))  # the tops of the gate, over the lens


@pytest.mark.parametrize(
    ("aim", "way", "edge_up"), [(0, "less", -1), (0, "more", 1), (8, "less", -1), (8, "more", 1), (-6, "more", 1)]
)
def test_an_aim_turns_where_a_point_leaves_the_frame(aim: float, way: str, edge_up: int) -> None:
    """The points stand 2.4° up before half a field of 10.6°: lost 8.2° down and 12.9° up, wherever the aim stands now.

    A point to the side leaves a little sooner than one straight ahead.
    """
    aimed = {"place.aim": f"{aim} deg", "place.feature_height": None}
    setting = changed(library.load_shot(SHIPPED / "shots" / "lock-gate.toml"), aimed)
    with_kit = load_kit(setting.kit, "lock-gate")
    rows = {row.path: row for row in sensitivity.sensitivity(setting, with_kit, "metric")}
    edge = getattr(rows["place.aim"], way)
    found = answer(setting, with_kit, "metric")
    assert found.picture is not None
    lost_at = JAMBS_UP + edge_up * found.picture.field_up_deg / 2
    assert edge.finding.code == "point-out-of-frame"
    assert edge.comes
    assert edge.off == pytest.approx(abs(lost_at - aim), rel=KNOWN_TO + 0.01)


@pytest.mark.parametrize("aim", [15, 30, 60, -50])
def test_an_aim_that_has_lost_the_points_turns_where_it_sees_them_again(aim: float) -> None:
    """However far off it stands: no step out is longer than half the frame is high."""
    setting = changed(library.load_shot(SHIPPED / "shots" / "lock-gate.toml"), {"place.aim": f"{aim} deg"})
    with_kit = load_kit(setting.kit, "lock-gate")
    rows = {row.path: row for row in sensitivity.sensitivity(setting, with_kit, "metric")}
    edge = rows["place.aim"].less if aim > 0 else rows["place.aim"].more
    assert edge is not None
    back = aim - edge.off if aim > 0 else aim + edge.off
    towards = 0.05 * abs(aim) * (-1 if aim > 0 else 1)
    codes = {said.code for said in answer(changed(setting, {"place.aim": f"{back} deg"}), with_kit, "metric").findings}
    after = answer(changed(setting, {"place.aim": f"{back + towards} deg"}), with_kit, "metric").findings
    assert "point-out-of-frame" in codes
    if edge.finding.code == "point-out-of-frame":
        assert not edge.comes
        assert "point-out-of-frame" not in {said.code for said in after}
    else:
        assert (edge.finding.code in codes) != edge.comes


def test_a_point_that_meets_only_for_some_millimetres_is_found() -> None:
    """Three quarters of D aside it misses by 0.75 · 12 mm / 0.01 mm · (4 m / d − 1), a pixel from 3995.6 to 4004.5 mm.

    The lens stands focused at infinity, 10 mm too far: it meets from 5.5 mm nearer on and no more from 14.4 mm on, both
    within the tape's usual error of 25 mm.
    """
    point = {"name": "mast", "aside": "48 m right", "height": "2 m", "distance": "64030 mm"}
    setting = shot(
        {
            "place.lens_height": "2 m",
            "place.model": "4040 mm",
            "focus.distance": "inf",
            "focus.stop": "f/22",
            "point": [point],
        }
    )
    twelve = {"focal_length": "12 mm", "pupil": [{"focal_length": "12 mm", "focus": "inf", "ahead": "30 mm"}]}
    rows = sensitivity.sensitivity(setting, kit(setting, lens=twelve), "metric")
    (row,) = [row for row in rows if row.path == "place.model"]
    assert row.less is not None
    assert (row.less.finding.code, row.less.comes) == ("points-miss", False)
    on_paper = 10 - (4000 / (1 - 1 / 900) - 4000)
    assert on_paper - 25 / 64 <= row.less.off <= on_paper


def test_an_aim_finds_points_that_fill_nearly_the_whole_frame() -> None:
    """At 10.76° up and down before half a field of 11.31° both are held to 0.55° either way; it is 8° too high."""
    points = [
        {"name": name, "aside": "0 m", "height": f"{20_000 + rise * 0.19 * 64_000} mm", "distance": "64030 mm"}
        for name, rise in (("top", 1), ("foot", -1))
    ]
    aimed = {"place.lens_height": "20 m", "place.aim": "8 deg", "focus.distance": "inf", "focus.stop": "f/22"}
    edge = table(aimed | {"point": points})["place.aim"].less
    assert edge is not None
    assert (edge.finding.code, edge.comes) == ("point-out-of-frame", False)
    on_paper = 8 - math.degrees(math.atan(0.2) - math.atan(0.19))
    assert on_paper / (1 + KNOWN_TO) <= edge.off <= on_paper


def test_what_is_lined_up_by_eye_has_no_row() -> None:
    assert "place.lens_height" not in table({"place.lens_height": "1500 mm", "place.feature_height": "6 m"})


def test_what_turns_by_contrast_counts() -> None:
    """Soft becomes gone, a warning a stop, where 7 % of contrast is left: by geometry alone nothing turns there."""
    changes = {"focus.stop": "f/2.8", "focus.distance": "9 m"}
    setting = shot(changes)
    row = table(changes)["focus.distance"]
    for edge, sign in ((row.less, -1), (row.more, 1)):
        assert edge is not None
        assert (edge.finding.level, edge.finding.code) == ("stop", "zone-short")
        for off, gone in ((edge.off, False), (edge.off * 1.05, True)):
            found = answer(changed(setting, {"focus.distance": f"{9000 + sign * off} mm"}), kit(setting), "metric")
            assert found.focus.contrast is not None
            assert (found.focus.contrast.worst < 0.07) == gone


@pytest.mark.parametrize(("least", "less"), [("0 mm", True), ("52 mm", False)])
def test_a_slide_may_be_off_only_as_far_as_it_goes(least: str, less: bool) -> None:
    """Ten degrees let it stand 9.4 mm off its zero at 60: from 55 that is 4.4 mm less, where the slide goes so far."""
    pan = PAN | {"move.sweep": "10 deg", "move.screen_time": "10 s", "move.slide": "55 mm"}
    row = table(pan, {"slide_min": least})["move.slide"]
    assert (row.less is not None) is less
    assert row.less is None or row.less.off == pytest.approx(4.4, abs=0.15)
    assert row.more is not None
    assert row.more.off == pytest.approx(14.5, abs=0.15)


def test_a_focus_mark_at_infinity_has_no_place_to_be_off_from() -> None:
    assert "focus.distance" not in table({"focus.distance": "inf"})
    assert "focus.distance" in table({"focus.distance": "7 m"})


@pytest.mark.parametrize("slide", [0.0, 1e-112, 3.0])
def test_a_slide_near_its_mark_of_nothing_is_tried_over_the_whole_head(slide: float) -> None:
    """Its steps out go by the head's length, not by the reading, of which nothing is left at 0; it holds from 23 on."""
    row = table(PAN | {"move.slide": f"{slide!r} mm", "move.tolerance": 6.0}, head={})["move.slide"]
    assert row.less is None
    assert row.more is not None
    assert (row.more.finding.code, row.more.comes) == ("slip-over", False)
    assert slide + row.more.off == pytest.approx(23.3, rel=KNOWN_TO)
