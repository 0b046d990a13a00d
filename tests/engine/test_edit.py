"""Changing a shot by entries at its fields: what is understood, what is refused and how; nothing else moves."""

import math
from typing import Any

import pytest
from cases import shot
from hypothesis import given
from hypothesis import strategies as st
from strategies import field_values

from forescale.engine.fields.kinds import Sharpness
from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot
from forescale.engine.shot.sections import Part
from forescale.engine.units import Stop, UnitSystem

FOOT, INCH, MILE = 304.8, 25.4, 1609344.0

# A bare number is read in the unit that the field shows: path, entry, system, value shown (None: left open), value.
BARE: list[tuple[str, str, UnitSystem, float | None, float]] = [
    ("place.model", "10", "imperial", None, 10 * FOOT),
    ("place.model", "10", "metric", None, 10000),
    ("place.model", "9.5", "imperial", 9 * FOOT + 4 * INCH, 9.5 * FOOT),
    ("place.model", "30", "imperial", 8 * INCH, 30 * INCH),
    ("place.model", "900", "metric", 762, 900),
    ("place.model", "1.2", "metric", 4000, 1200),
    ("place.background", "3", "metric", 2e6, 3e6),
    ("place.background", "1", "imperial", 2 * MILE, MILE),
    ("place.background", "240", "imperial", math.inf, 240 * FOOT),
    ("kit.focal_length", "50", "imperial", None, 50),
    ("kit.focal_length", "50", "metric", 35, 50),
    ("move.slide", "85", "imperial", None, 85),
    ("move.slide", "-5", "imperial", 30, -5),
    ("move.sweep", "15", "imperial", None, 15),
    ("action.screen_time", "6", "metric", None, 6),
    ("action.real_speed", "30", "imperial", None, 30 * MILE / 3600),
    ("action.real_speed", "36", "metric", None, 10000),
    ("light.available", "1400", "imperial", None, 1400 / 0.3048**2),
    ("light.available", "15000", "metric", None, 15000),
    ("action.fps", "96", "imperial", None, 96),
    ("scale.ratio", "24", "metric", None, 24),
    ("sun.utc_offset", "1", "metric", None, 3600),
]


@pytest.mark.parametrize(("path", "text", "system", "shown", "value"), BARE)
def test_a_bare_number_is_read_in_the_unit_that_the_field_shows(
    path: str, text: str, system: UnitSystem, shown: float | None, value: float
) -> None:
    assert understood(path, text, system, shown) == pytest.approx(value, rel=1e-12)


def understood(path: str, text: str, system: UnitSystem, shown: float | None = None) -> Any:
    """What stands at a path once an entry has been taken, in a shot whose distances leave room for any other."""
    held, _ = edit.entry(path, text, shot(), system, shown)
    background = "10 mm" if path == "place.background_far" else "inf"
    wide = edit.changed(shot(), {"place.model": None, "place.background": background})
    return edit.value_at(edit.changed(wide, {path: held}), path)


# Path, entry, value, and what the app shows as "read as".
ENTRIES = [
    ("place.model", "10' 6\"", 10.5 * FOOT, "10 ft 6 in"),
    ("place.model", "3.05 m", 3050, "10 ft 0 1/16 in"),
    ("place.background", "inf", math.inf, "infinity"),
    ("scale.ratio", "1/2 in = 1 ft", 24, "1:24"),
    ("scale.ratio", "1/87.1", 87.1, "1:87.1"),
    ("kit.focal_length", "2 in", 50.8, "50.8 mm"),
    ("action.real_speed", "22 ft/s", 22 * FOOT, "15 mph"),
    ("action.fps", "96 fps", 96, "96"),
    ("light.mains", "50 Hz", 50, "50"),
    ("light.iso", "999999", 999999, "999999"),
    ("action.shutter", "172.8 deg", 172.8, "172.8 deg"),
    ("light.available", "15000 lx", 15000, "1390 fc"),
    ("focus.stop", "T2.8", Stop(2 * math.sqrt(2), "T", True), "T2.8"),
    ("focus.stop", "16", Stop(16, None, True), "16"),
    ("focus.stop", "f/=13.0", Stop(13, "f", False), "f/=13.0"),
    (
        "focus.stop",
        "T2.1",
        Stop(2, "T", True),
        "T2; 2.1 is no third of a stop, so the mark T2 is set; T=2.1 is as written",
    ),
    ("focus.stop", "f/2.80", Stop(2 * math.sqrt(2), "f", True), "f/2.8"),
    ("focus.sharpness", "2 px", Sharpness("pixels", 2), "2 px"),
    ("focus.sharpness", " Diagonal / 1500", Sharpness("diagonal", 1500), "diagonal/1500"),
    ("action.kind", " water ", "water", "water"),
    ("move.axis", "tilt", "tilt", "tilt"),
]


@pytest.mark.parametrize(("path", "text", "value", "read"), ENTRIES)
def test_an_entry_is_taken_and_read_back_to_who_wrote_it(path: str, text: str, value: Any, read: str) -> None:
    _, said = edit.entry(path, text, shot(), "imperial", None)
    assert said == read
    assert understood(path, text, "imperial") == value


REFUSED_ENTRIES = [
    ("place.model", "ten feet", "not a length"),
    ("place.model", "1,500 m", "1500 m or 1.5 m?"),
    ("place.model", "2 mm", "10 mm to"),
    ("place.model", "inf", "infinity"),
    ("place.model", "nan", "not a length"),
    ("place.model", "-3 m", "out of range"),
    ("place.model", "", "nothing entered"),
    ("action.fps", "0", "0.1 to 100000"),
    ("action.fps", "fast", "not a number"),
    ("action.fps", "24 fpm", "not a number"),
    ("action.kind", "teapot", "is not known"),
    ("action.shutter", "1/250 s", "a time can be one only once the rate is set"),
    ("scale.ratio", "0.5", "1:1 to 1:10000"),
    ("focus.stop", "wide open", "not a stop"),
    ("focus.sharpness", "sharp", "diagonal/1500"),
    ("light.available", "20 ft", "illuminance"),
    ("move.sweep", "85 deg", "0 to 80 deg"),
]


@pytest.mark.parametrize(("path", "text", "why"), REFUSED_ENTRIES)
def test_an_entry_is_refused_in_one_line_that_says_what_would_be_right(path: str, text: str, why: str) -> None:
    with pytest.raises((ValueError, BadInput), match=r"^[^\n]+$") as refusal:
        edit.entry(path, text, shot(), "metric", None)
    assert why in str(refusal.value)


# What a file would hold at a path, the field that the refusal begins with, and what it says.
REFUSED_CHANGES = [
    ({"action.kind": "exploding"}, "action.kind: ", "driven, falling"),
    ({"move.axis": "roll"}, "move.axis: ", "'pan', 'pan left', 'tilt', 'tilt down' or 'none'"),
    ({"place.model": 3}, "place.model: ", "no unit"),
    ({"place.model": "5 mm"}, "place.model: ", "10 mm to"),
    ({"place.modle": "3 m"}, "place.modle: ", 'did you mean "model"?'),
    ({"plcae.model": "3 m"}, "plcae.model: ", 'did you mean "place"?'),
    ({"place.background": None}, "place.background: ", "missing"),
    ({"kit.lens": None}, "kit.lens: ", "missing"),
    ({"place.model": "100 m"}, "place: ", "background is nearer than the model"),
    ({"place.model_near": "5 m"}, "place: ", "model_near lies beyond the model"),
    ({"place.background_far": "5 m"}, "place: ", "background_far is nearer"),
    ({"focus.stop": "f/4000"}, "focus.stop: ", "0.5 to 256"),
    ({"title": ""}, "title: ", "is empty"),
    ({"units": "furlongs"}, "units: ", "'imperial' or 'metric'"),
    ({"build": [{"part": "wall", "real": "0 m"}]}, "build 1.real: ", "out of range"),
    ({"bench": [{"slide": "20 mm"}]}, "bench 1: ", "one of slip_px"),
    ({"bench.0": {"slide": "20 mm"}}, "bench.0: ", "there is no row 0"),
    ({"title.size": 3}, "title.size: ", "as a whole"),
]


@pytest.mark.parametrize(("changes", "field", "why"), REFUSED_CHANGES)
def test_a_change_is_refused_by_the_name_of_its_field(changes: dict[str, Any], field: str, why: str) -> None:
    before = shot()
    with pytest.raises(BadInput) as refusal:
        edit.changed(before, changes)
    (line,) = refusal.value.lines
    assert line.startswith(field)
    assert why in line
    assert before == shot()


def test_every_fault_of_a_change_is_told_at_once() -> None:
    with pytest.raises(BadInput) as refusal:
        edit.changed(shot(), {"place.model": "2 mm", "action.fps": "fast", "action.kind": "exploding"})
    assert {line.split(":")[0] for line in refusal.value.lines} == {"place.model", "action.fps", "action.kind"}


def test_a_change_changes_that_field_alone() -> None:
    before = shot({"notes": "kept", "place.lens_height": "5 ft"})
    after = edit.changed(before, {"place.model": "3.9 m", "action.fps": 48})
    assert isinstance(after, Shot)
    assert (after.place.model, after.action.fps) == (3900, 48)
    assert edit.changed(after, {"place.model": "4030 mm", "action.fps": None}) == before


def test_fields_that_only_fit_together_change_together() -> None:
    after = edit.changed(shot(), {"place.model": "100 m", "place.background": "1600 m"})
    assert (after.place.model, after.place.background) == (100_000, 1_600_000)


def test_none_gives_a_field_back_to_the_program() -> None:
    assert edit.changed(shot(), {"scale.ratio": None}).scale.ratio is None
    assert edit.changed(shot({"focus.stop": "f/8"}), {"focus.stop": "auto"}).focus.stop is None


def test_a_list_changes_as_a_whole_from_records_or_from_what_a_file_holds() -> None:
    part = Part(part="gate", real="6 m")
    assert edit.changed(shot(), {"build": (part,)}).build == (part,)
    assert edit.changed(shot(), {"build": [{"part": "gate", "real": "6 m"}]}).build == (part,)
    assert edit.changed(shot(), {"build": ()}).build == ()


@given(field_values(), st.sampled_from(["imperial", "metric"]))
def test_what_a_field_shows_for_editing_reads_back_as_the_same_value(
    field: tuple[str, Any], system: UnitSystem
) -> None:
    path, value = field
    text = edit.text_of(value, edit.quantity_of(Shot, path), system)
    assert understood(path, text, system) == value
    assert edit.text_of(None, edit.quantity_of(Shot, path), system) == ""


def test_an_unknown_path_has_no_quantity() -> None:
    with pytest.raises(KeyError):
        edit.quantity_of(Shot, "place.modle")
    assert edit.quantity_of(Shot, "action.kind") is None


@pytest.mark.parametrize("text", ["0 m left", "0 m right", "0 m"])
def test_nothing_aside_may_say_a_way(text: str) -> None:
    there = {"place.lens_height": "1.5 m", "point": [{"name": "door", "aside": text, "height": "2 m"}]}
    assert shot(there).point[0].aside == 0


@pytest.mark.parametrize("text", ["left", "2 in sideways", "2 in", ""])
def test_what_says_no_length_or_no_way_is_no_travel(text: str) -> None:
    with pytest.raises(BadInput, match="is not a travel"):
        shot({"move.axis": "pan", "move.sweep": "10 deg", "move.travel": text})


@pytest.mark.parametrize(("text", "mm"), [("0 mm left", 0), ("0.5 mm left", 0.5), ("1 m up", 1000)])
def test_a_travel_may_be_less_than_a_millimetre(text: str, mm: float) -> None:
    travel = shot({"move.axis": "pan", "move.sweep": "10 deg", "move.travel": text}).move.travel
    assert travel is not None
    assert travel.mm == mm


@pytest.mark.parametrize(("fps", "sound"), [(0.09, False), (0.1, True), (100_000, True), (100_001, False)])
def test_a_rate_goes_from_a_tenth_of_a_frame_a_second_on(fps: float, sound: bool) -> None:
    if sound:
        assert shot({"action.fps": fps}).action.fps == fps
    else:
        with pytest.raises(BadInput, match="out of range"):
            shot({"action.fps": fps})


@pytest.mark.parametrize(
    ("across", "sound"),
    [(0, True), (1, True), (1.001, False), ("101 %", False), ("0 px", True), ("100000 px", True), ("100001 px", False)],
)
def test_a_place_in_the_picture_goes_up_to_its_very_edge(across: float | str, sound: bool) -> None:
    there = {"place.lens_height": "1.5 m", "point": [{"name": "door", "frame_across": across, "frame_up": 1}]}
    if sound:
        assert shot(there).point[0].frame_across is not None
    else:
        with pytest.raises(BadInput, match="lies outside the picture"):
            shot(there)


@pytest.mark.parametrize(("tape", "sound"), [("9.9 mm", False), ("10 mm", True), ("100 km", True), ("100.1 km", False)])
def test_a_tape_goes_from_a_centimetre_to_a_hundred_kilometres(tape: str, sound: bool) -> None:
    for path in ("place.model", "place.background"):
        changes = {"place.model": None, "place.background": "inf", path: tape}
        if sound:
            assert edit.value_at(shot(changes), path) == (10 if tape == "10 mm" else 1e8)
        else:
            with pytest.raises(BadInput, match=f"{path}: .* out of range"):
                shot(changes)


def test_a_fraction_alone_is_no_shutter_and_the_time_it_may_be_is_named() -> None:
    for fps, right in (
        (96.0, "write 1/50 s for a time"),
        (None, "an angle such as 180 deg; a time can be one only once"),
    ):
        with pytest.raises(ValueError, match=right):
            edit.entry("action.shutter", "1/50", edit.changed(shot(), {"action.fps": fps}), "metric", None)


@pytest.mark.parametrize("path", ["sun.date", "action.kind", "focus.sharpness", "move.travel"])
def test_a_long_or_odd_text_is_shortened_where_it_is_refused(path: str) -> None:
    with pytest.raises(BadInput, match="write") as refusal:
        edit.changed(shot(), {path: "\x1b[31m" + "x" * 300})
    assert len(str(refusal.value)) < 200
    assert str(refusal.value).isprintable()


@pytest.mark.parametrize(
    ("path", "typed", "right"),
    [
        ("move.sweep", "8 deg up", "left, up and down are set as the move"),
        ("move.start", "10 right", 'like "10 deg left"; it lies away from the far end'),
        ("move.start", "-10", 'like "10 deg left"; it lies away from the far end'),
    ],
)
def test_a_turn_with_a_way_is_told_where_its_way_is_set(path: str, typed: str, right: str) -> None:
    with pytest.raises(ValueError, match=right):
        edit.entry(path, typed, edit.changed(shot(), {"move.axis": "pan"}), "imperial", None)


@pytest.mark.parametrize(
    ("axis", "path", "typed"),
    [
        ("pan", "move.start", "6 deg Left"),
        ("tilt down", "move.start", "6 up"),
        ("pan left", "move.sweep", "6 deg left"),
    ],
)
def test_a_turn_may_say_the_way_that_it_goes(axis: str, path: str, typed: str) -> None:
    turned = edit.changed(shot(), {"move.axis": axis})
    assert edit.entry(path, typed, turned, "imperial", None) == ("6 deg", "6 deg")


@pytest.mark.parametrize(
    ("system", "path", "like"),
    [
        ("metric", "place.model", "3.05 m or 10 ft 6 in"),
        ("imperial", "place.model", "10 ft 6 in or 3.05 m"),
        ("imperial", "light.available", "1400 fc or 15000 lx"),
        ("metric", "action.real_speed", "10 m/s or 30 mph"),
        ("metric", "move.travel", '"5 cm left"'),
    ],
)
def test_examples_in_the_shots_own_units_come_first(system: UnitSystem, path: str, like: str) -> None:
    with pytest.raises(ValueError, match=f"write it like {like}"):
        edit.entry(path, "x", shot(), system, None)
