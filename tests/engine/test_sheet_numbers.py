"""Each number of each row of the sheet is the number of the answer that its label names, in every row there is."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from cases import shipped, shot, solve
from tests.read_numbers import read

from forescale.engine.answer import Answer, answer_file
from forescale.engine.sheet.blocks import Row
from forescale.engine.sheet.sections import sections
from forescale.engine.shot.records import Shot

EVERYTHING: dict[str, Any] = {
    "place": {
        "model": "4 m",
        "model_near": "3.9 m",
        "background": "64030 mm",
        "background_far": "80 m",
        "lens_height": "1.6 m",
        "feature_height": "12 m",
    },
    "scale.compare": "1:24",
    "action": {"kind": "driven", "real_speed": "30 mph", "screen_time": "4 s", "heft": 1.2},
    "focus.stop": "T8",
    "light": {"available": "3000 lx", "at_background": "2000 lx", "mains": 50, "iso": 400},
    "move": {"axis": "pan", "sweep": "10 deg", "screen_time": "5 s", "slide": "63 mm"},
    "survey": [
        {"frame_share": 0.2, "visibility": "8 km"},
        {"elevation": "9.5 deg", "elevation_nearer": "12 deg", "nearer_by": "10 m"},
    ],
    "bench": [{"slide": f"{at} mm", "slip_px": px} for at, px in ((40, -2), (60, 0.1), (80, 2.1))],
    "stand": {"area": "1.1 m2", "area_height": "0.9 m", "weight": "40 kg", "foot_deep": "1.2 m", "gust": "6 m/s"},
}
ROUGH_PUPIL = [{"focal_length": "25 mm", "focus": "inf", "ahead": "30 mm", "uncertainty": "3 mm"}]
KIT: dict[str, Any] = {
    "head": {},
    "mode": {"readout": "5 ms", "data_rate": 400},
    "lens": {"marks": "T", "widest": "T2", "smallest": "T22", "transmission_loss": 0.5, "pupil": ROUGH_PUPIL},
}


def everything(changes: dict[str, Any]) -> tuple[Shot, Answer]:
    return shot(EVERYTHING | changes), solve(EVERYTHING | changes, **KIT)


TILTED: dict[str, Any] = {
    **{"move.axis": "tilt", "move.sweep": "30 deg", "move.screen_time": "10 s", "move.slide": "100 mm"},
    **{"move.tolerance": 2, "place.model": "4.2 m", "place.lens_height": "4 m"},
    **{"light.available": "2000 lx", "light.mains": 60},
}


def tilted() -> tuple[Shot, Answer]:
    return shot(TILTED), solve(TILTED, head={"tilt_drop": "120 mm"})


SHOTS: dict[str, Callable[[], tuple[Shot, Answer]]] = {
    "kiln stack": lambda: answer_file(shipped("shots", "kiln-stack")),
    "kiln stack in metres": lambda: answer_file(shipped("shots", "kiln-stack"), "metric"),
    "lock gate": lambda: answer_file(shipped("shots", "lock-gate")),
    "lock gate in feet": lambda: answer_file(shipped("shots", "lock-gate"), "imperial"),
    "signal lamp": lambda: answer_file(shipped("shots", "signal-lamp")),
    "everything": lambda: everything({}),
    "everything, tilted, in feet": lambda: everything({"units": "imperial", "move.axis": "tilt down"}),
    "tilted off the match": tilted,
    "dark": lambda: everything({"light.available": "90 lx", "action.kind": "falling"}),
    "still": lambda: everything({"action.kind": "still", "action.fps": 48, "focus.stop": None}),
}


Numbers = Callable[[Answer], list[float | None]]


# Of each row its numbers, first in the value, then beside it. None is a number that is no answer's.
def twice(error: float | None) -> float | None:
    """So far it is either way, 95 times of 100."""
    return None if error is None else 1.959964 * error


ROWS: dict[str, Numbers] = {
    "Model at": lambda of: [of.lineup.model_mm],
    "Nearest part": lambda of: [of.setting.place.model_near],
    "Background": lambda of: [of.setting.place.background],
    "Farthest part": lambda of: [of.setting.place.background_far],
    "Lens height": lambda of: [of.setting.place.lens_height],
    "Tie-in height": lambda of: [of.setting.place.feature_height],
    "Spans, of the frame's width": lambda of: [100 * of.setting.survey[0].frame_share],
    "Width of the real thing": lambda of: [
        of.survey.readings[0].feature_width_mm,
        2 * of.survey.readings[0].feature_width_error_mm,
    ],
    "Visibility": lambda of: [of.setting.survey[0].visibility, None],
    "Contrast through the air": lambda of: [100 * of.survey.readings[0].air_contrast],
    "Its top is seen at": lambda of: [of.setting.survey[1].elevation],
    "And from nearer by": lambda of: [of.setting.survey[1].elevation_nearer, of.setting.survey[1].nearer_by],
    "So it stands at": lambda of: [of.survey.readings[1].distance_mm, 2 * of.survey.readings[1].distance_error_mm],
    "Its top, above the lens": lambda of: [of.survey.readings[1].rise_above_lens_mm],
    "Its top, above ground": lambda of: [
        of.survey.readings[1].feature_height_mm,
        2 * of.survey.readings[1].feature_height_error_mm,
    ],
    "Scale": lambda of: [
        of.scale.ratio,
        of.scale.inches_per_foot * 25.4 if of.system == "imperial" else 1000 / of.scale.ratio,
    ],
    "A pixel covers": lambda of: [of.scale.detail_model_mm, of.scale.detail_real_mm],
    "Finest detail seen": lambda of: [of.scale.finest_model_mm, of.scale.finest_real_mm],
    "At 1:24, stand it at": lambda of: [of.scale.compare_match_distance_mm],
    "At 1:24, run at": lambda of: [of.scale.compare_ideal_fps],
    "Match at": lambda of: [of.lineup.match_distance_mm, of.scale.ratio],
    "Reads as": lambda of: [of.lineup.reads_as_ratio, round(100 * abs(of.lineup.size_error - 1), 1)],
    "Tie-in at": lambda of: [
        of.lineup.hang_height_mm,
        abs(of.lineup.hang_height_mm - of.setting.place.lens_height),
    ],
    "Height to scale": lambda of: [of.lineup.scaled_height_mm],
    "Table height": lambda of: [of.lineup.foot_height_mm],
    "Table to scale": lambda of: [of.lineup.scaled_foot_height_mm],
    "Frame at the model": lambda of: [of.lineup.frame_width_model_mm, of.lineup.frame_height_model_mm],
    "Camera may drift": lambda of: [of.lineup.drift_tolerance_mm],
    "Model may be off": lambda of: [of.lineup.place_tolerance_mm],
    "Aim": lambda of: [abs(of.setting.place.aim)] if of.setting.place.aim else [],
    "Angle of view": lambda of: [of.picture.field_across_deg, of.picture.field_up_deg],
    "Horizon": lambda of: [100 * of.picture.horizon_up],
    "Focal length": lambda of: [of.focus.focal_length_mm],
    "Focus mark": lambda of: [of.focus.focus_mm],
    "Stop": lambda of: [of.kit.lens.mark(of.focus.f_number), of.focus.f_number],
    "Must be sharp": lambda of: [of.focus.near_needed_mm, of.focus.far_needed_mm],
    "Is sharp": lambda of: [of.focus.near_mm, of.focus.far_mm],
    "Stop needed": lambda of: [of.focus.stop_needed, of.kit.lens.mark(of.kit.lens.first_past(of.focus.stop_needed))],
    "Hyperfocal": lambda of: [of.focus.hyperfocal_mm],
    "Sharpness": lambda of: [None, of.focus.coc_mm],
    "Contrast": lambda of: [
        *(100 * share for share in (of.focus.contrast.near, of.focus.contrast.focus, of.focus.contrast.far)),
        of.focus.contrast.frequency_lpmm,
    ],
    "Best stop": lambda of: [
        of.kit.lens.mark(of.focus.contrast.best_f_number),
        100 * of.focus.contrast.best_worst,
    ],
    "Airy disk": lambda of: [1000 * of.focus.airy_mm],
    "Entrance pupil": lambda of: [abs(of.slip.pupil_ahead_mm), twice(of.slip.pupil_uncertainty_mm)],
    "Frame rate": lambda of: [of.speed.fps, of.speed.top_fps],
    "Ideal rate": lambda of: [of.speed.ideal_fps, of.setting.action.heft],
    "Apparent gravity": lambda of: [of.speed.apparent_gravity, None, None],
    "Gravity as read": lambda of: [of.speed.gravity_as_read, of.lineup.reads_as_ratio],
    "Smallest scale, top rate": lambda of: [of.speed.largest_ratio],
    "Real speed": lambda of: [of.setting.action.real_speed],
    "Drive the model at": lambda of: [of.speed.model_speed_mm_s],
    "Shutter": lambda of: [of.setting.action.shutter, of.speed.exposure_s],
    "Screen time": lambda of: [of.speed.screen_time_s],
    "Action lasts": lambda of: [of.speed.set_time_s, of.speed.time_factor],
    "Frames": lambda of: [of.speed.frames],
    "Data": lambda of: [of.speed.data_mb],
    "Pan, on set": lambda of: [
        of.setting.move.sweep,
        of.speed.move_set_time_s,
        of.setting.move.sweep / of.speed.move_set_time_s,
    ],
    "Tilt, on set": lambda of: [30, of.speed.move_set_time_s, 30 / of.speed.move_set_time_s],
    "Tilt down, on set": lambda of: [10, of.speed.move_set_time_s, 10 / of.speed.move_set_time_s],
    "Crossing time": lambda of: [of.speed.crossing_s, 7 * 24 / of.setting.action.playback_fps],
    "Rolling-shutter skew": lambda of: [of.speed.readout_skew_px],
    "Rolling-shutter stretch": lambda of: [of.speed.readout_skew_px],
    "ISO": lambda of: [of.light.iso],
    "Effective T-stop": lambda of: [of.light.t_stop_working],
    "Light needed": lambda of: [of.light.lux_with_nd],
    "Model light": lambda of: [of.light.available_lux],
    "TOO LITTLE": lambda of: [-of.light.over_stops],
    "Too much": lambda of: [of.light.over_stops],
    "Enough": lambda of: [abs(of.light.over_stops)],
    "ND filter": lambda of: [of.light.fit_stops, 0.3 * of.light.fit_stops],
    "ISO needed": lambda of: [of.light.iso_needed, of.kit.mode.iso_max],
    "At the background": lambda of: [of.light.at_background_lux, abs(of.light.background_stops)],
    "Lamps on 50 Hz mains": lambda of: [of.light.flicker_stops],
    "Lamps on 60 Hz mains": lambda of: [of.light.flicker_stops],
    "Flicker-free rate": lambda _: [25],  # of 24, 25, 48, 96 and 120 the one that divides 100 pulses a second
    "Flicker-free angle": lambda of: [of.light.safe_shutter_deg, of.speed.fps],
    "Move": lambda of: [of.setting.move.sweep] if of.slip.tolerance_px and of.speed.move_set_time_s else [],
    "Slide": lambda of: [of.slip.slide_mm],
    "Slide for no slip": lambda of: [of.slip.slide_for_zero_mm],
    "Best slide": lambda of: [of.slip.slide_best_mm],
    "Slide may be off": lambda of: [
        of.slip.tolerance_mm if of.slip.slide_best_mm is None else of.slip.best_within_mm,
        of.slip.tolerance_px,
    ],
    "Pupil off axis": lambda of: [abs(of.slip.offset_mm)],
    "Slip at the end": lambda of: [abs(of.slip.slip_px), abs(1000 * of.slip.slip_mm)],
    "Largest slip": lambda of: [abs(of.slip.largest_slip_px)],
    "Model from axis": lambda of: [of.slip.model_from_axis_mm],
    "Background from axis": lambda of: [of.slip.background_from_axis_mm],
    "Bench's zero": lambda of: [of.slip.bench.slide_for_zero_mm, of.slip.bench.std_error_mm],
    "95 of 100 times within": lambda of: [of.slip.bench.band_mm],
    "Bench's pupil": lambda of: [of.slip.bench.pupil_ahead_mm],
    "Slope read": lambda of: [of.slip.bench.slope_px_per_mm, of.slip.bench.slope_predicted_px_per_mm],
    "Too strong": lambda of: [of.scale.ratio, of.scale.ratio**1.5],
    "On the foot": lambda of: [of.stand.held_kg],
    "Push of the gust": lambda of: [of.stand.wind_n, of.setting.stand.gust],
    "Ballast needed in all": lambda of: [1.005 * of.stand.ballast_needed_kg, None],
    "Tips at": lambda of: [of.stand.tips_at_mm_s, 1.5],
    "Slides at": lambda of: [of.stand.slides_at_mm_s, 1.5],
    "The gust reads as": lambda of: [of.stand.gust_reads_mm_s],
    "STOP AND CLEAR AT": lambda of: [of.stand.stop_gust_mm_s, of.stand.stop_mean_mm_s],
}
WITHOUT_A_NUMBER = {"Action", "Stop beside stop", "Recorded"}


def rows_of(shot_and_answer: tuple[Shot, Answer]) -> list[Row]:
    """Return every row of a sheet but those of the first section, which is held to the list of what is to be set."""
    return [block for part in sections(*shot_and_answer)[1:] for block in part.blocks if isinstance(block, Row)]


@pytest.mark.parametrize("name", SHOTS)
def test_each_row_shows_the_numbers_that_its_label_names(name: str) -> None:
    given = SHOTS[name]()
    rows = rows_of(given)
    assert len(rows) > 25
    for row in rows:
        shown = [*read(row.value), *read(row.remark)]
        if row.label in WITHOUT_A_NUMBER:
            assert not shown, row
            continue
        expected = [one for one in ROWS[row.label](given[1]) if one is None or math.isfinite(one)]
        assert shown or not expected, row
        assert len(shown) <= len(expected), row
        for (value, one), right in zip(shown, expected, strict=False):
            assert right is None or value == pytest.approx(right, rel=0.004, abs=min(one, 0.13 * right)), (row, right)


def test_every_label_that_is_listed_is_on_some_sheet() -> None:
    assert set(ROWS) == {row.label for make in SHOTS.values() for row in rows_of(make())} - WITHOUT_A_NUMBER


PAN = {"move.axis": "pan", "move.sweep": "10 deg", "move.screen_time": "5 s", "move.slide": "63 mm"}
WORDS: list[tuple[dict[str, Any], str, str]] = [
    ({}, "Is sharp", "holds it"),
    ({"focus.stop": "f/8"}, "Is sharp", "holds it"),
    ({"focus.stop": "f/2"}, "Is sharp", "FALLS SHORT"),
    (PAN, "Slip at the end", "+0.32 px: may pass"),  # 3 mm from the zero at 60 mm, 0.105 px a mm
    (PAN | {"move.slide": "57 mm"}, "Slip at the end", "-0.32 px: may pass"),
    (PAN | {"move.slide": "85 mm"}, "Slip at the end", "+2.6 px: TOO MUCH"),
    (PAN | {"move.slide": "35 mm"}, "Slip at the end", "-2.6 px: TOO MUCH"),
    (PAN, "Pupil off axis", "3 mm ahead of the axis"),
    (PAN | {"move.slide": "57 mm"}, "Pupil off axis", "3 mm behind the axis"),
    (PAN | {"move.slide": "60 mm"}, "Pupil off axis", "on the axis"),
    (PAN | {"move.slide": None}, "Slip at the end", "not known"),
    ({}, "Move", "none"),
    ({"place.model": "4.2 m"}, "Reads as", "too small"),
    ({"place.model": "3.9 m"}, "Reads as", "too large"),
    ({}, "Reads as", "the right size"),
    ({"place.lens_height": "1 m", "place.feature_height": "9 m"}, "Tie-in at", "500 mm above the lens"),  # 8 m / 16
    ({"place.lens_height": "9 m", "place.feature_height": "1 m"}, "Tie-in at", "500 mm below the lens"),
    ({"place.lens_height": "1 m", "place.feature_height": "1 m"}, "Tie-in at", "level with the lens"),
    ({"light.available": "800 lx"}, "TOO LITTLE", "0.9 stops short"),  # of 1500 lx
    ({"light.available": "3000 lx", "light.at_background": "6000 lx"}, "At the background", "1 stop brighter"),
    ({"light.available": "3000 lx", "light.at_background": "1500 lx"}, "At the background", "1 stop darker"),
    ({"light.mains": 50}, "Lamps on 50 Hz mains", "WILL FLICKER"),
    ({"light.mains": 50, "action.fps": 25}, "Lamps on 50 Hz mains", "flicker-free"),
]


@pytest.mark.parametrize(("changes", "label", "word"), WORDS)
def test_each_verdict_stands_where_it_is_so(changes: dict[str, Any], label: str, word: str) -> None:
    rows = rows_of((shot(changes), solve(changes, head={})))
    (row,) = (row for row in rows if row.label == label)
    assert word in f"{row.value} {row.remark}"
