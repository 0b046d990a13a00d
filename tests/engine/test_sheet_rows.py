"""Rows of the sheet that depend on what is known, with what the findings say of the same."""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from cases import codes, shipped, shot, solve, text_of
from shown_day import SUN

from forescale.engine.answer import answer_file
from forescale.engine.answer.to_set import to_set
from forescale.engine.findings.words import Words
from forescale.engine.mends import mends
from forescale.engine.sheet.drawing.page import sheet_svg
from forescale.engine.sheet.page import crew_page
from forescale.engine.sheet.paper import stamp
from forescale.engine.sheet.sections.day import hours
from forescale.engine.sheet.templates.pages import sheet_templates
from forescale.engine.sheet.text import sheet_text
from forescale.engine.survey.survey_rows import found
from forescale.engine.units import with_plus

TILT: dict[str, Any] = {"move.axis": "tilt", "move.sweep": "15 deg", "move.screen_time": "5 s"}
ENDLESS: dict[str, Any] = {"place.background": "inf", "survey.visibility": "8 km", "survey.frame_share": 0.2}
IN_T: dict[str, Any] = {"marks": "T", "widest": "T2", "smallest": "T22"}


def paper(changes: dict[str, Any], **kit: Any) -> str:
    """The sheet on one line, its dots taken out."""
    return " ".join(re.sub(r" \.+ ", " ", sheet_text(shot(changes), solve(changes, **kit))).split())


def test_of_a_background_at_infinity_no_air_and_no_width_is_told() -> None:
    of = solve(ENDLESS)
    assert (of.survey.air_contrast, of.survey.feature_width_mm) == (None, None)
    assert "air" not in codes(of)
    shown = paper(ENDLESS)
    assert "Width of the real thing" not in shown
    assert "Contrast through the air" not in shown
    assert "Air: give the background a distance to know what the air leaves of it" in found(of)
    near = ENDLESS | {"place.background": "64030 mm"}
    assert "air" in codes(solve(near))
    assert "Width of the real thing 10.21 m" in paper(near)  # 0.2 · 20 mm · 64 m / 25.083 mm


def test_a_model_that_fills_the_frame_is_told_how_much_it_must_cover() -> None:
    """4 m off, tan 21.74° = 10 / 25.083: across 4 (tan 21.74° + tan 31.74°) m; a corner's height grows as it turns."""
    fills = {"place.fills": "frame", "move.axis": "pan", "move.sweep": "10 deg"}
    assert "Model must cover 4.069 m × 1.742 m over the whole move, if flat" in paper(fills)
    assert "Model must cover endless" in paper(fills | {"move.sweep": "64 deg"})  # 85° are reached at 63.26°
    assert "Model must cover" not in paper(fills | {"place.fills": "part"})


def test_a_known_width_stays_known_at_infinity() -> None:
    shown = paper(ENDLESS | {"survey.feature_width": "14 m"})
    assert "Width of the real thing 14 m" in shown


def test_where_model_and_background_stand_together_any_stop_serves() -> None:
    together = {"place.model": "4030 mm", "place.background": "4030 mm", "scale.ratio": "1:1"}
    assert "Stop needed any stop" in paper(together)
    assert "Stop needed any stop" in paper(together, lens=IN_T)
    assert "Stop needed f/4.93" in paper({})  # 25² · (7529.41 − 4000) / (4000 · 0.0149071 · 7504.41)


@pytest.mark.parametrize(("lens", "ratio", "shown"), [(1500, 16, "1.406 m"), (2000, 8, "1.75 m"), (0, 16, "0 mm")])
def test_the_models_ground_is_where_the_real_grounds_picture_is(lens: float, ratio: float, shown: str) -> None:
    """The ground D behind lies lens/D under the axis; the model's at D/S must, so it is built lens/S under the lens."""
    changes = {"place.lens_height": f"{lens} mm", "scale.ratio": ratio, "place.model": None}
    assert solve(changes).lineup.foot_height_mm == pytest.approx(lens - lens / ratio)
    assert f"Table height {shown} the model's" in paper(changes)
    assert solve().lineup.foot_height_mm is None
    assert "Table height" not in paper({})


def test_a_tilt_stretches_what_a_pan_leans() -> None:
    """25.083 mm · 15°/1.25 s · 5 ms / 0.01 mm is 2.6 px, as high as wide on square pixels."""
    mode = {"readout": "5 ms"}
    pan = TILT | {"move.axis": "pan"}
    assert "aside: rolling-shutter skew" in text_of(solve(pan, mode=mode), "readout-skew")
    assert "Rolling-shutter skew 2.6 px" in paper(pan, mode=mode)
    for axis in ("tilt", "tilt down"):
        tilt = TILT | {"move.axis": axis}
        text = text_of(solve(tilt, mode=mode), "readout-skew")
        assert "2.6 px up or down: rolling-shutter stretch" in text
        assert "lean" not in text
        assert "Rolling-shutter stretch 2.6 px" in paper(tilt, mode=mode)
        assert "Rolling-shutter skew" not in paper(tilt, mode=mode)


@pytest.mark.parametrize(("axis", "squeeze", "skew"), [("pan", 1, 2.62), ("pan", 2, 1.31), ("tilt", 2, 2.62)])
def test_a_squeezed_picture_skews_by_its_own_pixels(axis: str, squeeze: float, skew: float) -> None:
    """25.083 mm · 15°/1.25 s · 5 ms is 26.2 µm at the lens; across, squeezed by two, half as much of the sensor."""
    found = solve(TILT | {"move.axis": axis}, mode={"readout": "5 ms"}, lens={"squeeze": squeeze})
    assert found.speed.readout_skew_px == pytest.approx(skew, abs=0.01)


# What a finding tells where two numbers would read alike, or one serves better


def test_a_point_lost_before_the_line_up_tells_how_far_before() -> None:
    """The pan begins 10° to the left; the frame's right edge reaches the point from 21.74° − atan(20/64) before on."""
    moved = {"move.axis": "pan", "move.start": "10 deg", "move.sweep": "1 deg", "place.lens_height": "2 m"}
    found = solve(moved | {"point": [{"name": "gable", "aside": "20 m right", "height": "2 m"}]})
    told = text_of(found, "point-leaves-frame")
    assert told.startswith("The move loses gable before the line-up, 4.38 deg of 10 deg to that side"), told


@pytest.mark.parametrize(("stop", "marks", "told"), [("f/=1.966", "f", "f/1.97"), ("T=1.998", "T", "T1.998")])
def test_a_stop_just_beyond_the_lens_is_told_apart_from_its_end(stop: str, marks: str, told: str) -> None:
    text = text_of(solve({"focus.stop": stop}, lens=IN_T if marks == "T" else {}), "stop-beyond-lens")
    ends = re.search(r"runs from (\S+) to (\S+), not to (\S+?):", text)
    assert ends is not None, text
    assert ends[3] == told
    assert told not in (ends[1], ends[2])


@pytest.mark.parametrize(
    ("fps", "rates", "offered"),
    [
        (110, [24, 100, 120], [("100", None)]),  # 18/4.1667² is 1.037: it serves
        (96, [24, 90, 120], [("120", None), ("90", "Falls 1.28 times as hard as wanted")]),  # 18/3.75²
        (119, [24, 100, 120], [("100", None), ("120", None)]),
        (40, [24, 48, 60], [("60", None), ("48", None)]),  # none serves 101.8, and a toy it was before
    ],
)
def test_a_rate_that_serves_is_offered_before_the_nearest(
    fps: float, rates: list[float], offered: list[tuple[str, str | None]]
) -> None:
    """1:18 at 24 fps wants 24 · √18 = 101.8 fps."""
    found = solve({"action.fps": fps, "scale.ratio": 18, "place.model": None}, mode={"fps": rates})
    missing = next(one for one in found.findings if one.code == "rate-missing")
    told = mends(found, missing)
    assert [mend.set["action.fps"] for mend in told] == [rate for rate, _ in offered]
    assert [mend.price for mend in told] == [price and f"then: {price}" for _, price in offered]


def test_where_nothing_falls_the_nearest_rate_comes_first() -> None:
    found = solve({"action.fps": 110, "action.kind": "still"}, mode={"fps": [24, 100, 120]})
    assert text_of(found, "rate-missing").endswith(": set 100 fps")


def test_a_chosen_rate_that_floats_tells_what_the_next_lower_does() -> None:
    """18 / (120/24)² is 0.72, 18 / (96/24)² is 1.125; a mode with 102 fps floats by nothing to speak of."""
    changes = {"scale.ratio": 18, "place.model": None}
    text = text_of(solve(changes), "rate-chosen")
    assert "120 fps is the lowest rate that serves the ideal 101.8" in text
    assert "0.72 times as hard as it should; 96 fps would fall 1.12 times as hard" in text
    assert "rate-chosen" not in codes(solve(changes, mode={"fps": [24, 102]}))
    assert "rate-chosen" not in codes(solve(changes | {"action.fps": 120}))
    alone = text_of(solve(changes, mode={"fps": [120]}), "rate-chosen")
    assert alone.endswith("0.72 times as hard as it should: keep 120 fps")


def test_what_stands_overhead_is_said_with_an_if() -> None:
    tall = {"place.lens_height": "1.5 m", "place.feature_height": "7 m"}
    assert text_of(solve(tall), "caution-overhead").startswith("If anything hangs overhead: rated rigging")


def test_a_model_that_hangs_has_no_table_and_one_that_stands_no_rigging() -> None:
    tall = {"place.lens_height": "1.5 m", "place.feature_height": "7 m"}
    hung, stood = tall | {"place.mount": "hangs"}, tall | {"place.mount": "stands"}
    assert "caution-overhead" in codes(solve({"place.mount": "hangs"}))
    assert "caution-overhead" in codes(solve(hung))
    assert "caution-overhead" not in codes(solve(stood))
    cube = {"real": "1.6 m", "wide": "1.6 m", "deep": "1.6 m", "tall": "1.6 m"}
    build = [cube | {"part": "tank", "density": "1000 kg/m3", "solid": "50 %"}, cube | {"part": "lid"}]
    for known, weighs in (
        ({}, "its weight not given"),
        ({"stand.weight": "15 kg"}, "15 kg and its rigging"),
        ({"build": build[:1]}, "500 g and its rigging"),  # a tenth of a metre each way at 1:16, half of it solid
        ({"build": build}, "500 g (1 part not weighed) and its rigging"),
    ):
        told = text_of(solve(hung | known), "caution-overhead")
        assert told.startswith(f"The model hangs, {weighs}: rated rigging, a second line, nobody under it")
    for changes, table in ((tall, True), (stood, True), (hung, False)):
        found = solve(changes)
        assert ("Table height" in paper(changes)) is table
        assert ("lineup.foot_height_mm" in {item.path for item in to_set(found)}) is table
        drawn = sheet_svg(shot(changes), found)
        assert (">table " in drawn) is table
        assert ">point " in drawn


def test_a_lamp_that_gives_nothing_known_is_not_in_the_light_there() -> None:
    light = {"light.available": "9000 lx"}
    soft = {"name": "soft box", "gives": "5000 lx", "at": "2 m"}
    shown = paper(light | {"lamp": [soft]})
    assert "Model light 9000 lx without soft box: not said how far off" in shown
    assert "with the lamps" not in shown
    both = paper(light | {"lamp": [soft, soft | {"name": "sun gun", "stands": "2 m"}]})
    assert "Model light 14000 lx with the lamps, without soft box: not said how far off" in both


def test_a_background_that_was_entered_to_a_quarter_inch_is_told_so() -> None:
    changes = {"units": "imperial", "place.background": "200 ft 1/4 in", "scale.ratio": "1:16"}
    text = paper(changes)
    assert "Background 200 ft 0 1/4 in" in text
    assert "to 200 ft 0 1/4 in" in text


def test_nothing_set_is_cut_on_the_first_page_nor_on_a_small_template() -> None:
    """Two points of a long name whose difference stands at its end, and what covers the real thing."""
    asked, found_ = answer_file(shipped("shots", "lock-gate"))
    page = crew_page(found_, stamp(asked))
    assert "…" not in page
    told = html.unescape(page).replace("\u00a0", " ")
    for item in to_set(found_):
        assert item.label in told
        assert item.chosen or item.remark in told, item
    templates = sheet_templates(asked, found_)
    assert not re.findall(r">covers the real thing[^<]*…<", templates)


@pytest.mark.parametrize(("pitch", "says"), [("0.32 m", None), ("0.31 m", "1 mm too far"), ("0.33 m", "1 mm too near")])
def test_a_pitch_that_the_shop_cuts_as_it_is_adds_up_to_nothing(pitch: str, says: str | None) -> None:
    """At 1:16 to half a millimetre: 20 mm; 19.375 mm cut 19.5, eight pitches on 1 mm too far; 20.625 cut 20.5."""
    shown = paper({"build": [{"part": "rail", "real": "3 m", "pitch": pitch, "quantity": 9}]})
    assert "Set out from a datum 9 of rail" in shown
    assert ("One rounded pitch after another" in shown) is (says is not None)
    assert says is None or f"would put the last {says}: measure from the datum" in shown


def test_the_first_page_has_each_thing_to_set_once() -> None:
    asked, found_ = answer_file(shipped("shots", "lock-gate"))
    assert crew_page(found_, stamp(asked)).count("<div class='cell'>") == len(to_set(found_))


def test_a_signed_number_has_no_sign_for_nothing() -> None:
    assert [with_plus(value, 2) for value in (0.316, 0.0, -0.316)] == ["+0.32", "0", "-0.32"]


@pytest.mark.parametrize(("fps", "says"), [(24, "5 s Frames"), (48, "2.5 s all goes 2 times as fast Frames")])
def test_how_much_faster_all_goes_is_said_where_it_does(fps: float, says: str) -> None:
    assert f"Action lasts {says}" in paper({"action.kind": "still", "action.fps": fps})


@pytest.mark.parametrize(("screen_time", "says"), [("12.4 s", "992 MB"), ("12.5 s", "1 GB"), ("25 s", "2 GB")])
def test_data_is_told_in_gigabytes_from_one_on(screen_time: str, says: str) -> None:
    """24 frames for each second on the screen, 120 of them are 400 MB."""
    assert f"Data {says} for the action alone" in paper({"action.screen_time": screen_time}, mode={"data_rate": 400})


def test_a_small_length_in_a_finding_is_told_to_a_32nd_of_an_inch() -> None:
    assert Words(solve({"units": "imperial"})).fine(3 / 32 * 25.4) == "3/32 in"
    assert Words(solve()).fine(0.3) == "0.3 mm"


@pytest.mark.parametrize(("aside", "says"), [("12.8 mm right", "meet 0.816 mm right"), ("7 mm right", "in line with")])
def test_a_point_less_than_a_millimetre_aside_is_told_on_its_side(aside: str, says: str) -> None:
    """At 4.08 of the 64 m from the pupil."""
    ridge = {"name": "ridge", "aside": aside, "height": "10 m"}
    text = text_of(solve({"place.lens_height": "2 m", "place.model": "4110 mm", "point": [ridge]}), "points-miss")
    assert says in text


def test_so_many_that_are_not_all_listed_are_counted() -> None:
    shown = paper({"build": [{"part": "rail", "real": "3 m", "pitch": "0.32 m", "quantity": 1200}]})
    assert "Set out from a datum 1200 of rail 0 mm, 20 mm, 40 mm," in shown
    assert ", 760 mm, 780 mm to 23980 mm, 1160 more" in shown  # 0.32 m / 16, 40 of them told and the 1200th


def test_the_sheet_says_how_marks_and_stops_are_meant() -> None:
    assert "LENS AND FOCUS" in paper({})
    assert "a mark standing for the exact third of a stop" in paper({})


def test_no_more_hours_of_the_sun_stand_on_a_page_than_have_room() -> None:
    """On midsummer's day it is up at 17 whole hours, 05 to 21: every third of them."""
    (table,) = hours(Words(solve(SUN)))
    assert table.heads == ("At", "05", "08", "11", "14", "17", "20")


def test_a_sun_less_than_a_degree_beside_the_axis_is_told_on_its_side() -> None:
    """At 11:00 it stands so far clockwise of the lens's bearing, to the right, or the other way."""
    at_eleven = solve(SUN | {"sun.time": "11:00"}).sun
    assert at_eleven is not None
    for off, told in ((0.8, "1° R"), (-0.8, "1° L")):
        (table,) = hours(Words(solve(SUN | {"sun.facing": f"{at_eleven.azimuth_deg - off} deg"})))
        (aside,) = [row for row in table.rows if row[0] == "From the lens"]
        assert aside[table.heads.index("11")] == told


def test_a_share_under_three_per_cent_is_told_to_a_tenth() -> None:
    assert [Words.percent(share) for share in (0.029, 0.03, -0.03, 0.314)] == ["2.9 %", "3 %", "-3 %", "31 %"]


@pytest.mark.parametrize(("ahead", "says"), [("0 mm", "0 mm ahead"), ("-1 mm", "1 mm behind"), ("1 mm", "1 mm ahead")])
def test_a_pupil_at_the_sensor_plane_is_not_behind_it(ahead: str, says: str) -> None:
    at = {"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": ahead}]}
    assert f"Entrance pupil {says}" in paper({}, lens=at)
