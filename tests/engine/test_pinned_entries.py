"""What is typed means what it meant: fields, their ranges and steps, profiles, readings; see `test_pinned.py`."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any, get_args

import pytest
from cases import shipped, solve
from pinned_shots import WHOLE
from syrupy.assertion import SnapshotAssertion

from forescale.engine.answer.natural_step import stepped
from forescale.engine.bench import bench_entry
from forescale.engine.field_help import FIELD_HELP, prompt, range_of
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.library import load_profile
from forescale.engine.kit.profiles import Camera, Head, Lens, Profile
from forescale.engine.parts.build_list import PartCell
from forescale.engine.shelf import profile_fields
from forescale.engine.shot import edit, pictured_entry
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import PointRow, WitnessRow, read_miss
from forescale.engine.shot.sections import Part, Stock
from forescale.engine.survey import survey_rows
from forescale.engine.units import UnitSystem

Table = dict[str, Any]
TEXTS = {
    "length": "12 | 10' 6 1/2\" | 3,05 m | 1,5 | -2 m | inf | 3 kg | 1e9 km",
    "angle": "12 | 3 deg up | 30' | 0.1 rad | 4 left | 400 | 5 m",
    "time": "12 | 1/250 s | 2 min 5 s | 90 ms | 0 | 3 h",
    "speed": "12 | 30 mph | 3 m/s | 40 km/h | 9 kn | -1",
    "light": "12 | 1400 fc | 900 lux | 0 | 3 cd",
    "ratio": '12 | 1:24 | 1/48 | 1/2 in = 1 ft | 10 mm = 1 m | 0.5 | 1:0',
    "number": "12 | 1,5 | 60 Hz | 3 px | 24 fps | 1e9 | -3 | five",
    "share": "12 | 0.3 | 30 % | 1.5 | -1",
    "filter": "0.3 | ND 0.6 | 2 stops | ND 8 | 12",
    "clock": "9 | 09:30 | 21:5 | 25:00 | 9 pm",
    "offset": "1 | +1 h | -5:30 | 15 h",
    "north": "51.2 deg N | 51 12 S | 95",
    "east": "2.4 W | 10 deg E | 200",
    "side": "12 deg left | 3 right | 5",
    "weight": "12 | 30 lb | 500 g | 0",
    "force": "12 | 20 N | 5 lbf | 2 kg",
    "area": "12 | 1.1 m2 | 10 ft2 | 5 m",
    "density": "12 | 600 kg/m3 | 30 lb/ft3 | 0.5 g/cm3",
}  # fmt: skip
STATED = {"focus.stop": "f/16 | T2.8 | 11 | f/=13.0 | f/0 | x", "move.travel": "2 in left | 3 forward | 1 m | 200 m up"}
STATED |= {
    "focus.sharpness": "diagonal/1500 | 2 px | 0.02 mm | measured | 7",
    "action.kind": "fire, water | Still | rain",
}
STEPPED = {"scale", "place", "action", "focus", "light", "move"}
COLUMNS = ("name", "quantity", "size", "model")
SYSTEMS: tuple[UnitSystem, ...] = ("imperial", "metric")


def said(read: Callable[[str], Any], texts: str) -> str:
    """Return what each of some texts is read as, or why not."""

    def one(text: str) -> str:
        try:
            return str(read(text))
        except (ValueError, BadInput) as fault:
            return f"refused: {fault}"

    return " | ".join(f"{text} -> {one(text)}" for text in texts.split(" | "))


def sorts() -> dict[str, str]:
    """One field of each sort there is: by what it holds, how small or large that may be aside."""
    found: dict[Any, str] = {}
    for path in FIELD_HELP:
        quantity = edit.quantity_of(Setting, path)
        if quantity is not None or path in STATED:
            found.setdefault(quantity._replace(low=0, high=0) if quantity else path, path)
    return {path: STATED.get(path) or TEXTS[edit.quantity_of(Setting, path).kind] for path in found.values()}


def entries(system: UnitSystem) -> list[str]:
    setting = WHOLE["kiln-stack"]()[0]
    read = partial(edit.entry, setting=setting, system=system, shown=20.0)
    return [f"{path}: {said(partial(read, path), texts)}" for path, texts in sorts().items()]


def test_an_entry_of_each_sort_is_read_as_it_was(snapshot: SnapshotAssertion) -> None:
    """In feet, and where that is otherwise in metres."""
    feet, metres = entries("imperial"), entries("metric")
    assert [*feet, *(line for line in metres if line not in feet)] == snapshot


def test_a_field_asks_for_what_it_asked(snapshot: SnapshotAssertion) -> None:
    """By its label, with the unit of a number alone, and its range in feet and metres."""
    asked = {path: [f"{prompt(path, at, 20.0)}: {range_of(path, at)}" for at in SYSTEMS] for path in FIELD_HELP}
    assert [f"{path}, {' / '.join(dict.fromkeys(texts))}" for path, texts in asked.items()] == snapshot


@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "everything", "the day, by the sun"])
def test_a_step_leads_where_it_led(name: str, snapshot: SnapshotAssertion) -> None:
    of = WHOLE[name]()[1]

    def steps(path: str) -> str:
        ways = [(-1, True), (-1, False), (1, False), (1, True)]
        return f"{path}: {' | '.join(str(stepped(of, path, way, large=large)) for way, large in ways)}"

    assert [steps(path) for path in FIELD_HELP if path.partition(".")[0] in STEPPED] == snapshot


PROFILES: dict[str, type[Profile]] = {
    "cameras/demo-cine-35": Camera,
    "lenses/demo-zoom-24-80": Lens,
    "heads/demo-slide-head": Head,
}
TYPED = (
    "12 | 35 mm | 24 to 80 mm | 1 1/2 in | 24, 25 48 | 1 to 120 fps | f/2 | T | 2026-03-14 | 20 ms | inf | -3 | half"
)


@pytest.mark.parametrize("name", PROFILES)
def test_a_profile_is_shown_and_edited_as_it_was(name: str, snapshot: SnapshotAssertion) -> None:
    shelf, _, own = name.partition("/")
    profile = load_profile(PROFILES[name], shipped(shelf, own))
    rows = [place for place in profile_fields.places(profile) if place.row in {None, 0}]

    def row(place: Any) -> str:
        shown = [profile_fields.shown_text(profile, place, system) for system in SYSTEMS]
        alone = [profile_fields.alone_means(profile, place, system) for system in SYSTEMS]
        typed = said(lambda text: profile_fields.held(profile, place, text, "imperial"), TYPED)
        return f"{place.name} {place.row}: {' / '.join(shown)}; alone {' / '.join(alone)}; {typed}"

    assert list(map(row, rows)) == snapshot


SLIPS = "-3.5 | 4 px | 1/2 in | 20 mm | out | lags | + | 0 | left | 3 ft tape"
ROWS: list[Table] = [{"slip_px": -3.5}, {"slip_px": 0}, {"slip_at_background": "26 mm"}]
ROWS += [{"seen": seen} for seen in ("lags", "locked", "outruns")]


def test_readings_of_a_bench_and_misses_are_read_as_they_were(snapshot: SnapshotAssertion) -> None:
    told = [
        f"slip by {way} {system}: {said(partial(bench_entry.read_slip, way=way, system=system), SLIPS)}"
        for way in get_args(bench_entry.ReadBy)
        for system in SYSTEMS
    ]
    for slip in ROWS:
        row, words = bench_entry.new_row(40.0, slip), (bench_entry.slip_text, bench_entry.shown_slip)
        shown = [write(row, system) for write in (*words, bench_entry.in_words) for system in SYSTEMS]
        told.append(f"{slip}: {' | '.join(shown)}")
    told.append(said(lambda text: bench_entry.read_slide(text, None, "imperial"), "40 | 1 1/2 in | 30 mm | 9 m"))
    told.append(said(lambda text: read_miss(text, (2000, 1000)), "4 -2 | 4 left, 2 up | 3 down | 1,5 | 2 2 2 | 9000 1"))
    assert told == snapshot


POINTS = "14 left, 31 | 4.2 m left, 9.5 m, 30 m | 0.31, 0.62 | 635 px 714 px | 1.5, 0.2 | 3000 px 2 px | 0, 31 | 5"
CORNERS = "2 left, 59 | 0.6 m right, 18 m, arc | 2 left | 2, 3"
CELLED = "kerb | 12 | 2 m left | 0.31 0.62 | 635 px 714 px"


@pytest.mark.parametrize("system", SYSTEMS)
def test_points_corners_and_marks_are_read_as_they_were(system: UnitSystem, snapshot: SnapshotAssertion) -> None:
    told = [said(partial(pictured_entry.read_point, system=system, frame_px=(2000, 1000)), POINTS)]
    told.append(said(partial(pictured_entry.read_corner_text, system=system), CORNERS))
    for cell in pictured_entry.CELLS:
        told.append(f"{cell}: {said(partial(pictured_entry.read_cell, cell, system=system), CELLED)}")
    placed: list[Table] = [{"aside": "2 ft left", "height": "9 ft"}, {"frame_across": 0.3, "frame_up": "620 px"}]
    for point in (PointRow.model_validate({"name": "sill"} | where) for where in placed):
        steps = [pictured_entry.stepped_point(point, *way, system) for way in ((1, 0), (0, -1), (-1, 1))]
        told.append(f"{pictured_entry.point_text(point, system)} {steps}")
    mark = {"name": "kerb", "distance": "5 m", "aside": "1 m left", "height": "0 m", "taped": "5477 mm"}
    row = WitnessRow.model_validate(mark | {"frame_across_now": 0.25, "frame_up_now": "620 px"})
    for cell in pictured_entry.CELLS:
        texts = [pictured_entry.entry_text(row, cell, system, exact=exact) for exact in (True, False)]
        told.append(f"{cell}: {' / '.join(texts)}; cleared {said(partial(pictured_entry.cleared, row), cell)}")
    assert told == snapshot


TAKEN = {
    "frame_share": "22 | 0.2 | 450 px | 450/2048 px high | 30 % of the height | 0 px | 120 %",
    "visibility": "5 | 8 km by 2 % | 3 mi",
    "elevation": "9 | 95 | 8 down",
    "feature_width": "30 | 9 m",
}


def test_readings_of_a_survey_are_read_as_they_were(snapshot: SnapshotAssertion) -> None:
    of = WHOLE["a zoom, surveyed in feet"]()[1]
    told = []
    for name, texts in TAKEN.items():
        told.append(f"{name}: {said(partial(survey_rows.changes, of, 2, name), texts)}")
        for number in range(1, 5):
            shown = [write(of, number, name) for write in (survey_rows.value_text, survey_rows.shown_text)]
            told.append(f"{number} {name}: {' | '.join(shown)}")
    told.append(said(lambda number: survey_rows.distance_change(of, int(number)), "1 | 2 | 3 | 4"))
    told.append(said(lambda number: survey_rows.height_change(of, int(number)), "1 | 2 | 3 | 4"))
    assert told == snapshot


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_cell_of_the_build_list_is_read_as_it_was(system: UnitSystem, snapshot: SnapshotAssertion) -> None:
    stock = [{"item": "card", "size": "1.5 mm"}]
    of = solve({"units": system, "stock": stock, "scale.rounding": "1/32 in"})._replace(system=system)
    told: list[str] = []
    records: tuple[Part | Stock, ...] = (*of.setting.build, *of.setting.stock)
    for cell in (PartCell(of, record, column) for record in records for column in COLUMNS):
        told.append(f"{cell.column} {cell.unit}: {cell.text()}; {said(cell.read, '12 | 1 1/2 in | 0 | 3 m | gate')}")
    assert told == snapshot
