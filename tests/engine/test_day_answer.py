"""The answer's sun, timing and lamps: values by an ephemeris and by hand, and a group only where the shot asks."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from datetime import datetime, timedelta, timezone
from typing import Any

import pytest
from cases import shot, solve
from hypothesis import given
from hypothesis import strategies as st
from options_kit import KIT, open_shot

from forescale.engine.day.day_list import by_the_clock, held
from forescale.engine.files.faults import BadInput
from forescale.engine.options.outcome import find_options
from forescale.engine.sheet.data import sheet_data, sheet_json
from forescale.engine.sheet.text import sheet_text
from forescale.engine.solve.speed_light import lux_there
from forescale.engine.solve.sun_group import path_of_day
from forescale.engine.states.takes import what_is_set
from forescale.engine.units import EntryError
from forescale.engine.units.compass import (
    NORTH_SOUTH,
    RIGHT_LEFT,
    clock_text,
    offset_text,
    parse_clock,
    parse_offset,
    parse_sided,
    sided_text,
)

Table = dict[str, Any]
SUN: Table = {
    "sun.latitude": "51.2 deg N",
    "sun.longitude": "2.4 deg W",
    "sun.date": "2026-06-21",
    "sun.time": "10:30",
    "sun.utc_offset": "+1 h",
}
PLATE: Table = SUN | {"sun.facing": "215 deg", "sun.plate_time": "2026-05-03 10:10"}


def sun_of(changes: Table) -> Any:
    found = solve(changes).sun
    assert found is not None
    return found


def test_a_shot_that_does_not_ask_has_neither_group() -> None:
    found = solve()
    assert found.sun is None
    assert found.timing is None
    data = sheet_data(shot(), found)
    assert "sun" not in data
    assert "timing" not in data


def test_nothing_of_the_sun_is_loaded_where_it_is_not_asked_for() -> None:
    code = (
        "import sys\nfrom forescale.engine.answer import answer_file\nfrom forescale.engine.kit import library\n"
        "answer_file(library.SHIPPED / 'shots' / 'kiln-stack.toml')\n"
        "from forescale.engine.sheet.text import sheet_text\n"
        "print([name for name in sys.modules if name.split('.')[-1] in {'sun', 'sun_group'}])"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=_env())
    assert told.stdout.strip() == "[]"


def _env() -> dict[str, str]:
    import os

    return dict(os.environ) | {"PYTHONPATH": ":".join(sys.path)}


def test_the_sun_of_a_midsummer_morning() -> None:
    """By SPA, printed digits; times to the minute they are told to."""
    found = sun_of(PLATE)
    assert found.azimuth_deg == pytest.approx(116.46, abs=0.02)
    assert found.elevation_deg == pytest.approx(48.44, abs=0.02)
    assert found.from_lens_deg == pytest.approx(-98.54, abs=0.02)
    assert found.side == "from the left"
    assert found.shadow_per_height == pytest.approx(0.887, abs=1e-3)
    assert (found.rise, found.noon, found.set) == ("04:54", "13:11", "21:29")
    assert found.noon_elevation_deg == pytest.approx(62.25, abs=0.01)
    assert found.turns_deg_per_min == pytest.approx(0.229, abs=5e-4)
    assert (found.towards_azimuth_deg, found.towards_elevation_deg) == pytest.approx((118.82, 40.13), abs=0.02)
    assert found.windows == ()
    assert (found.nearest_today.time, found.nearest_today.misses_deg) == ("10:15", pytest.approx(7.71, abs=0.02))
    assert [day.date for day in found.nearest_on][:2] == ["2026-06-22", "2026-06-23"]
    assert len(found.nearest_on) == 30
    assert sun_of(SUN).windows == (("10:09", "10:51"),)  # 10:08:20 to 10:51:40


def test_the_plates_own_clock() -> None:
    """11:10 an hour farther east is 10:10 here."""
    here, there = sun_of(PLATE), sun_of(PLATE | {"sun.plate_time": "2026-05-03 11:10", "sun.plate_utc_offset": "+2 h"})
    assert there.towards_azimuth_deg == pytest.approx(here.towards_azimuth_deg, abs=1e-6)


def test_the_bearing_by_map_by_compass_and_by_the_sun() -> None:
    """At 10:05 the sun stands at 108.8° (by the series); 40° to the left of it is a lens that looks 148.8°."""
    assert sun_of(SUN | {"sun.facing": "214 deg", "sun.declination": "1 deg E"}).facing_deg == 215
    by_sun = sun_of(SUN | {"sun.sun_seen": "40 deg left", "sun.sun_time": "10:05"})
    at_that_time = sun_of(SUN | {"sun.time": "10:05"}).azimuth_deg
    assert by_sun.facing_deg == pytest.approx(at_that_time + 40)
    assert sun_of(SUN | {"sun.time": "10:05", "sun.facing": f"{by_sun.facing_deg} deg"}).from_lens_deg == pytest.approx(
        -40
    )
    assert sun_of(SUN).facing_deg is None
    with pytest.raises(BadInput, match="not both"):
        solve(SUN | {"sun.facing": "214 deg", "sun.sun_seen": "40 deg left"})


def test_the_disc_comes_into_the_frame_by_its_edge() -> None:
    """The plain frame sees 21.74° to either side; the low sun's disc is half a degree wide."""
    low = SUN | {"sun.time": "20:30", "place.lens_height": "1.5 m"}
    bearing = sun_of(low).azimuth_deg
    half = math.degrees(math.atan(10 / solve().setup.image_mm))
    for off, seen in ((half - 0.1, True), (half + 0.1, True), (half + 0.5, False), (-half - 0.5, False)):
        found = sun_of(low | {"sun.facing": f"{(bearing + off) % 360} deg"})
        assert found.in_frame is seen, off
    axis = sun_of(low | {"sun.facing": f"{bearing} deg"})
    assert axis.nearest_to_axis_deg == pytest.approx(axis.elevation_deg, abs=1e-6)


def test_the_rigs_shadow_at_the_model() -> None:
    """δ = 180° − |from the lens|; d 4 m from the pupil: d·tan δ aside, up to h − d/cos δ·tan(elevation)."""
    low = SUN | {"sun.time": "20:30", "place.lens_height": "1.5 m", "sun.facing": "115 deg", "sun.rig_height": "1.9 m"}
    found = sun_of(low)
    behind = math.radians(180 - abs(found.from_lens_deg))
    drop = 4000 / math.cos(behind) * math.tan(math.radians(found.elevation_deg))
    assert abs(found.rig_shadow.aside_mm) == pytest.approx(4000 * math.tan(behind))
    assert math.copysign(1, found.rig_shadow.aside_mm) == -math.copysign(1, found.from_lens_deg)
    assert found.rig_shadow.up_mm == pytest.approx(1900 - drop)
    assert found.rig_shadow.in_frame is True
    assert sun_of(low | {"place.lens_height": None}).rig_shadow.in_frame is None
    assert sun_of(low | {"sun.facing": "290 deg"}).rig_shadow is None


LONG_LENS = {"focal_length": "200 mm", "pupil": []}
SEEN_BY_IT: list[tuple[str, str, str | None, bool]] = [
    ("125 deg", "1.9 m", None, False),  # a line that stands too far to the left
    ("125 deg", "3 m", "375 mm", False),
    ("125 deg", "3 m", "385 mm", True),  # 386 − 196 mm to either side
    ("125 deg", "3 m", "2 m", True),  # it lies over all the frame
    ("114 deg", "3 m", "380 mm", False),
    ("114 deg", "3 m", "390 mm", True),  # 390 − 196 mm
    ("125 deg", "1887 mm", "1 m", False),
    ("125 deg", "1888 mm", "1 m", True),  # 1402 + 485.5 mm
]


@pytest.mark.parametrize(("facing", "height", "width", "seen"), SEEN_BY_IT)
def test_the_rigs_shadow_is_seen_wherever_a_long_lens_looks(
    facing: str, height: str, width: str | None, seen: bool
) -> None:
    """At 4 m it sees 392 by 196 mm from 1402 mm up, the shadow's middle 386 mm left, or 390 right, 485.5 mm lower."""
    low = SUN | {"sun.time": "20:30", "place.lens_height": "1.5 m", "sun.facing": facing}
    found = solve(low | {"sun.rig_height": height, "sun.rig_width": width}, lens=LONG_LENS).sun
    assert found is not None
    assert found.rig_shadow is not None
    assert found.rig_shadow.in_frame is seen


# 60 ft at 1:24, printed to a millisecond.
def test_falls_and_topples_on_set() -> None:
    found = solve({"scale.ratio": "1:24", "action.fall": "60 ft", "action.topple": "60 ft"}).timing
    assert found is not None
    assert (found.fall_real_s, found.fall_set_s) == pytest.approx((1.931, 0.394), abs=6e-4)
    assert (found.topple_real_s, found.topple_set_s) == pytest.approx((2.509, 0.512), abs=6e-4)
    assert found.topple_let_go_set_s == pytest.approx(0.671, abs=6e-4)


def test_on_screen_it_takes_k_times_as_long_as_on_set() -> None:
    found = solve(
        {"action.fall": "14 ft", "action.swing": "10 ft", "action.fire_width": "9 ft", "action.fps": 96}
    ).timing
    assert found is not None
    assert found.fall_frames == pytest.approx(22, abs=0.5)  # 1:16 at 96 fps
    assert found.fall_screen_s == pytest.approx(found.fall_set_s * 4)
    assert found.swing_screen_s == pytest.approx(found.swing_real_s)  # 96 fps is right for 1:16
    assert (found.puff_real_hz, found.puff_hz) == pytest.approx((0.906, 3.62), abs=5e-3)


def test_cues_on_the_stopwatch_and_by_frame() -> None:
    """96 fps over 24: 4 times as fast; 1.5 s on screen are 0.375 s, after 36 frames."""
    found = solve({"cue": [{"name": "drop", "screen": "1.5 s"}, {"name": "first", "screen": "0 s"}]}).timing
    assert found is not None
    assert [(cue.name, cue.set_s, cue.frame) for cue in found.cues] == [("drop", 0.375, 37), ("first", 0, 1)]


def test_a_take_keeps_its_cues() -> None:
    found = solve({"cue": [{"name": "drop", "screen": "1.5 s"}, {"name": "dust", "screen": "2 s"}]})
    assert what_is_set(found).endswith("cues drop at 0.38 s and dust at 0.5 s")


def test_lamps_add_to_the_daylight_and_say_where_to_stand() -> None:
    lamp = {"name": "key", "gives": "4000 lx", "at": "3 m", "stands": "6 m", "number": 2, "loss": 1}
    found = solve({"light.available": "500 lx", "lamp": [lamp | {"depth": 0.3}]}).light
    assert found.available_lux == 500 + 2 * 4000 / 2 / 4
    assert found.pulse_depth == pytest.approx(0.3 * 1000 / 1500)
    (there,) = found.lamps
    assert there.lux == 1000
    stood = solve({"light.available": "500 lx", "lamp": [lamp | {"stands": f"{there.stands_mm} mm"}]}).light
    assert stood.over_stops == pytest.approx(0, abs=1e-9)


def test_what_is_typed_of_a_lamp_or_a_cue_is_held_as_a_file_would() -> None:
    typed = {"name": " key light ", "gives": "4000", "number": "3", "size": "300 mm", "loss": " 0.5", "stands": " "}
    taken = {name: held("lamp", name, text, "metric") for name, text in typed.items()}
    told = {"name": "key light", "gives": "4000 lx", "number": 3, "size": "300 mm", "loss": 0.5, "stands": None}
    assert taken == told
    assert held("cue", "name", "bang ", "metric") == "bang"
    for text in ("0", "2.5", "two"):
        with pytest.raises(EntryError, match="is no number of lamps"):
            held("lamp", "number", text, "metric")
    with pytest.raises(ValueError, match="is needed"):
        held("lamp", "name", " ", "metric")


def test_a_lamp_that_stands_nowhere_yet_adds_nothing() -> None:
    lamp = {"name": "key", "gives": "4000 lx", "at": "3 m"}
    found = solve({"lamp": [lamp]})
    assert lux_there(found.setting) is None
    assert found.light.available_lux is None
    (there,) = found.light.lamps
    assert there.stands_mm == pytest.approx(3000 * math.sqrt(4000 / found.light.lux_needed))
    assert solve({"light.available": "100000 lx", "lamp": [lamp]}).light.lamps[0].stands_mm is None


def test_the_sheet_and_its_json_tell_the_day() -> None:
    changes = PLATE | {"action.fall": "30 ft", "cue": [{"name": "drop", "screen": "1.5 s"}]}
    paper = sheet_text(shot(changes), solve(changes))
    for words in ("THE SUN", "bearing 116.5 deg, 48.4 deg up", "TIME ON SET", "drop", "2026-07-"):
        assert words in paper
    data = json.loads(sheet_json(shot(changes), solve(changes)))
    assert data["sun"]["rise"] == "04:54"
    assert data["timing"]["cues"] == [{"name": "drop", "screen_s": 1.5, "set_s": 0.375, "frame": 37}]
    assert data["shot"]["sun"]["time"] == "10:30"


@given(st.floats(0, 90), st.sampled_from([1, -1]))
def test_an_angle_with_its_side_reads_back(size: float, sign: int) -> None:
    assert parse_sided(sided_text(sign * size, NORTH_SOUTH), NORTH_SOUTH) == sign * size


@pytest.mark.parametrize(("text", "seconds"), [("10:59", 39_540), ("23:59:59", 86_399), ("0:00:59", 59)])
def test_the_last_minute_and_second_are_told(text: str, seconds: int) -> None:
    assert parse_clock(text) == seconds


def test_the_clock_gives_day_time_and_offset() -> None:
    now = datetime(2026, 3, 9, 14, 5, 40, tzinfo=timezone(-timedelta(hours=3, minutes=30)))
    assert by_the_clock(now) == {"sun.date": "2026-03-09", "sun.time": "14:05", "sun.utc_offset": "-3 h 30 min"}


@given(st.integers(0, 86_399))
def test_a_time_of_day_reads_back(seconds: int) -> None:
    assert parse_clock(clock_text(seconds)) == seconds


@given(st.integers(-14 * 60, 14 * 60))
def test_an_offset_reads_back(minutes: int) -> None:
    assert parse_offset(offset_text(minutes * 60)) == minutes * 60


@pytest.mark.parametrize(
    ("text", "value"), [("40 deg left", -40), ("40° Right", 40), ("-40 deg", -40), ("0 deg", 0), ("9° 30' left", -9.5)]
)
def test_sides_are_read(text: str, value: float) -> None:
    assert parse_sided(text, RIGHT_LEFT) == value


@pytest.mark.parametrize("text", ["40 deg", "-40 deg left", "left", "40 left of it", ""])
def test_an_angle_whose_side_is_not_told_is_refused(text: str) -> None:
    with pytest.raises(EntryError):
        parse_sided(text, RIGHT_LEFT)


@pytest.mark.parametrize(("path", "text"), [("sun.date", "21 June"), ("sun.plate_time", "yesterday")])
def test_what_is_no_day_is_refused_with_what_would_be_right(path: str, text: str) -> None:
    with pytest.raises(BadInput, match=r"write (it|them) like 2026-"):
        solve({path: text})


@pytest.mark.parametrize("text", ["24:00", "10:60", "10", "ten", "", "10:30 pm"])
def test_what_is_no_time_of_day_is_refused(text: str) -> None:
    with pytest.raises(EntryError):
        parse_clock(text)


def test_offsets_are_read() -> None:
    assert [parse_offset(text) for text in ("+1 h", "-3 h 30 min", "+5:30", "0 h")] == [3600, -12600, 19800, 0]


def test_the_ways_to_shoot_it_count_the_lamps() -> None:
    """A lamp of 4000 lx at 3 m from the model gives as much as a reading of 4000 lx."""
    lamp = {"name": "key", "gives": "4000 lx", "at": "3 m", "stands": "3 m"}
    by_lamp, by_day = (
        searched(changes) for changes in ({"lamp": [lamp], "light.available": None}, {"light.available": "4000 lx"})
    )
    assert by_lamp == by_day
    assert by_lamp
    assert all(over is not None for over in by_lamp)


def searched(changes: Table) -> list[float | None]:
    found = find_options(open_shot(changes | {"limits.short_stops": 20}), "metric", KIT)
    return [ranked.option.over_stops for ranked in found.options]


@pytest.mark.parametrize(
    ("at", "up"),
    [("04:53", False), ("04:54", True), ("04:55", True), ("21:28", True), ("21:30", False)],
)
def test_the_sun_is_up_while_any_of_it_stands_over_the_horizon(at: str, up: bool) -> None:
    """The file's day: it rises at 04:54 and sets at 21:28:50, its middle a quarter of a degree below."""
    assert sun_of(SUN | {"sun.time": at}).up is up


def test_the_day_of_the_shot_stands_in_json_as_it_is_written() -> None:
    assert sheet_data(shot(SUN), solve(SUN))["shot"]["sun"]["date"] == "2026-06-21"


@pytest.mark.parametrize(("seconds", "text"), [(0, "+0 h"), (-3 * 3600 - 1800, "-3 h 30 min"), (3600, "+1 h")])
def test_an_offset_from_utc_has_a_sign(seconds: float, text: str) -> None:
    assert offset_text(seconds) == text


def test_a_day_that_is_not_said_whole_has_no_path_of_the_sun() -> None:
    assert path_of_day(shot({"sun.date": "2026-06-21"}).sun, 4) == ()
    assert [at for at, _ in path_of_day(shot(SUN).sun, 4)] == [0, 21600, 43200, 64800, 86400]


@pytest.mark.parametrize(("aim", "sees"), [("17.6 deg up", True), ("18.2 deg up", True), ("18.6 deg up", False)])
def test_the_sun_is_in_the_frame_while_any_of_its_disc_is(aim: str, sees: bool) -> None:
    """At 20:30 6.84° up and 5.6° aside: at an aim of 18.2° the lower edge passes within the quarter degree of it."""
    low = {"sun.time": "20:30", "place.lens_height": "1.5 m", "sun.facing": "305.1 deg"}
    assert sun_of(SUN | low | {"place.aim": aim}).in_frame is sees


def test_the_caution_rounds_no_sun_nearer_than_it_stands() -> None:
    """8.4° from the axis is not within 8° of it."""
    found = solve(SUN | {"sun.time": "20:30", "place.lens_height": "1.5 m", "sun.facing": "304.3 deg"})
    (text,) = [one.text for one in found.findings if one.code == "caution-sun"]
    assert found.sun is not None
    assert found.sun.nearest_to_axis_deg is not None
    assert f"within {math.floor(found.sun.nearest_to_axis_deg) + 1} deg" in text
    assert found.sun.nearest_to_axis_deg % 1 < 0.5
