"""A stop said beside the others: its cells, its gains and losses against the one set, on the sheet and in JSON."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from cases import shipped, shot, solve
from hypothesis import given, reject
from strategies import kits, shot_changes

from forescale.engine.answer import Answer, answer_file
from forescale.engine.compare.stop_words import against_set, stop_cells, stop_heads
from forescale.engine.files.faults import BadInput
from forescale.engine.sheet.data import sheet_json
from forescale.engine.sheet.page import sheet_html
from forescale.engine.sheet.text import sheet_text
from forescale.engine.solve.focus_zone import StopRow, StopTable, stop_table
from forescale.engine.units import UnitSystem, tape_at_most

LIT: dict[str, Any] = {"light.available": "20000 lx"}


def demo(name: str, system: UnitSystem | None = None) -> Answer:
    return answer_file(shipped("shots", name), system)[1]


def at(found: Answer, mark: str) -> tuple[StopTable, StopRow]:
    table = stop_table(found)
    return table, next(row for row in table.rows if stop_cells(found, row)[0].split()[0] == mark)


def said(found: Answer, mark: str) -> str:
    return against_set(found, *at(found, mark))


def percent(share: float) -> str:
    return f"{100 * share:.0f}"


@pytest.mark.parametrize("system", ["metric", "imperial"])
@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_the_stop_set_is_told_as_finely_as_everywhere_else(name: str, system: UnitSystem) -> None:
    asked, found = answer_file(shipped("shots", name), system)
    ends = [one for row in stop_table(found).rows if row.as_set for one in stop_cells(found, row)[1:3]]
    assert f"Is sharp .............. {' to '.join(ends)} " in re.sub("\n *", " ", sheet_text(asked, found))


def test_the_cells_of_a_row_are_its_numbers() -> None:
    found = demo("kiln-stack")
    _, row = at(found, "T16")
    cells = dict(zip(stop_heads(found), stop_cells(found, row), strict=True))
    assert cells == {
        "stop": "T16",
        "sharp from": "9 ft 11 1/2 in",
        "to": "98 ft 6 in",
        "holds": "no",
        "near": percent(row.near),
        "focus": percent(row.focus),
        "far": percent(row.far),
        "worst %": f"{percent(row.worst):>3} best",
        "light": "+0.0",
    }


def test_what_is_set_first_and_best_is_said_in_words() -> None:
    found = demo("kiln-stack")
    cells = stop_cells(found, at(found, "T20")[1])
    assert (cells[0], cells[3]) == ("T20 set", "first")
    assert stop_cells(found, at(found, "T22")[1])[3] == "yes"


def test_without_light_given_it_is_told_what_each_stop_needs() -> None:
    found = solve({})
    cells = dict(zip(stop_heads(found), stop_cells(found, at(found, "f/8")[1]), strict=True))
    assert "light" not in cells
    assert cells["needs"].endswith(" lx")


def test_a_stop_that_gains_and_loses_says_both() -> None:
    found = demo("kiln-stack")  # T20 is set, T16 is two thirds of a stop wider
    table, row = at(found, "T16")
    assert said(found, "T16") == (
        f"T16: worst contrast up from {percent(table.as_shot.worst)} % to {percent(row.worst)} %, 0.7 stops more "
        "light, but the zone is short by 7 1/2 in near and 201 ft 6 in far"
    )


def test_a_stop_that_only_loses_says_only_that() -> None:
    assert re.fullmatch(
        r"T22: worst contrast down from \d+ % to \d+ % and 0\.3 stops less light", said(demo("kiln-stack"), "T22")
    )


def test_the_stop_set_says_which_holds_first_and_which_is_best() -> None:
    assert said(demo("kiln-stack"), "T20").startswith(
        "T20 is set, the program's choice; the first that holds the zone is T20; best for contrast is T16"
    )
    assert said(demo("lock-gate"), "T8").startswith("T8 is set; the first that holds the zone is T6.3;")
    assert "no stop holds the zone" in said(solve({}, lens={"smallest": "f/4"}), "f/4")


def test_from_a_stop_that_falls_short_another_holds_or_is_less_short() -> None:
    found = solve(LIT | {"focus.stop": "f/4"})  # f/4.93 is needed
    assert "all of the zone sharp" in said(found, "f/5")
    assert "but" in said(found, "f/5")
    assert "the zone is less short, by " in said(found, "f/4.5").split(", but ")[0]
    assert "the zone is shorter still, by " in said(found, "f/3.5").split(", but ")[1]


def test_an_end_at_infinity_is_lost_beyond_a_distance() -> None:
    found = solve({"place.background": "inf", "focus.stop": "f/16"})
    table, row = at(found, "f/4")
    assert said(found, "f/4").endswith(f"near and beyond {tape_at_most(row.far_mm, 'metric')}")
    assert table.as_shot.covers


@pytest.mark.parametrize(("distance", "ends"), [("4030 mm", "at the far end"), ("20 m", "at the near end")])
def test_one_end_alone_is_named(distance: str, ends: str) -> None:
    found = solve({"focus": {"distance": distance, "stop": "f/11"}})
    assert said(found, "f/2").endswith(ends)


@given(shot_changes(), kits())
def test_whatever_the_shot_every_stop_is_said_in_whole_numbers(changes: dict[str, Any], kit: Any) -> None:
    try:
        found = solve(changes, mode=kit["mode"], lens=kit["lens"], head=kit["head"])
    except BadInput:
        reject()
    table = stop_table(found)
    for row in table.rows:
        text = " ".join((*stop_cells(found, row), against_set(found, table, row)))
        assert not {"nan", "inf", "None"} & set(re.split(r"[^\w]+", text))
        assert " by 0 " not in text


@pytest.mark.parametrize("system", ["metric", "imperial"])
@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_the_sheet_has_the_stops_that_matter_within_its_columns(name: str, system: UnitSystem) -> None:
    asked, found = answer_file(shipped("shots", name), system)
    part = sheet_text(asked, found).split("\nLENS AND FOCUS -", 1)[1].split("\n\nRATE AND", 1)[0]
    rows = re.findall(r"^  (T[\d.]+)(?: set)? +\d", part, re.MULTILINE)
    assert 3 <= len(rows) <= 7
    assert part.count(" set ") == 1
    assert part.count(" best") == 1
    assert part.count(" first ") == 1
    assert max(map(len, part.splitlines())) <= 79
    page = sheet_html(asked, found)
    assert "<td>" in page
    assert all(f"{mark}" in page for mark in rows)


def test_in_json_every_stop_has_its_keys() -> None:
    changes = {"focus.stop": "f/16", "light.available": "9000 lx"}
    focus = json.loads(sheet_json(shot(changes), solve(changes)))["focus"]
    stops = focus["stops"]
    assert len(stops) == len(solve(changes).kit.lens.f_numbers)
    keys = "stop_mark f_number near_mm far_mm covers near focus far worst over_stops as_set first_to_hold best"
    assert set(keys.split()) <= stops[0].keys()
    (here,) = [stop for stop in stops if stop["as_set"]]
    assert (here["near_mm"], here["far_mm"]) == (focus["near_mm"], focus["far_mm"])
    assert here["worst"] == focus["contrast"]["worst"]
    endless = stops[-1]
    assert (endless["far_mm"], endless["far_mm_infinite"]) == (None, True)
