"""The sheet as text: what stands on it, in which order, in which units, and that it fits the paper."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from cases import shipped, shot, solve

from forescale.engine.answer import Answer, answer_file
from forescale.engine.mends import mends
from forescale.engine.sheet.cells import clean, pad, powerless, width, wrap
from forescale.engine.sheet.text import WIDTH, sheet_text
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem

DEMOS = ["kiln-stack", "lock-gate", "signal-lamp"]
IN_ORDER = (
    "SET",
    "SURVEY AND PLACE",
    "BUILD LIST",
    "RIG AND LINE-UP",
    "LENS AND FOCUS",
    "RATE AND RUN TIMES",
    "LIGHT",
    "SLIP AND SLIDE",
    "BENCH",
    "CAUTIONS",
    "FINDINGS",
    "TAKES",
)
# Every optional thing at once, far, near, long and odd.
STRESS: dict[str, Any] = {
    "title": "A title that goes on " * 20 + "壁" * 60,
    "notes": "First line\nsecond line with a\ttab and \x1b[31mred" + "x" * 200,
    "units": "imperial",
    "scale.ratio": None,
    "scale.compare": "1:87.1",
    "build": [{"part": "p" * 150, "real": "100 km", "quantity": 100_000}, {"part": "a bolt", "real": "0.01 mm"}],
    "stock": [{"item": "a very long name for a plank of wood", "size": "1/16 in"}],
    "action": {"kind": "driven", "real_speed": "700 mph", "screen_time": "24 h", "heft": 1.37, "shutter": "0.1 deg"},
    "place": {
        "model": "4030 mm",
        "model_near": "4 m",
        "background": "inf",
        "background_far": "inf",
        "lens_height": "10 km",
        "feature_height": "9 km",
    },
    "focus": {"sharpness": "0.0005 mm", "stop": "f/=21.3"},
    "light": {"iso": 9_999_999, "available": "0.001 lx", "mains": 16.7},
    "move": {"axis": "tilt", "sweep": "79.9 deg", "slide": "63.125 mm", "tolerance": 0.01},
    "bench": [
        {"slide": "40 mm", "slip_px": -14.5},
        {"slide": "55 mm", "seen": "lags", "lens": "a-lens-with-quite-a-long-name", "head": "another-head"},
    ],
    "survey": {"frame_share": 0.22, "feature_width": "14 m", "elevation": "9.5 deg", "visibility": "8 km"},
    "take": [{"time": "2026-03-14T09:30:00Z", "set": "120 fps, " * 30, "good": False, "note": "wind " * 40}],
}


@cache
def demo(name: str, system: UnitSystem | None = None) -> tuple[Shot, Answer]:
    return answer_file(shipped("shots", name), system)


def solved(changes: dict[str, Any], **kit: Any) -> tuple[Shot, Answer]:
    return shot(changes), solve(changes, **{"head": {}, **kit})


def value_of(text: str, label: str, section: str) -> str:
    """Return what stands behind a label in a section, its lines joined."""
    body = text.split(f"\n{section} -", 1)[1].split("\n\n", 1)[0] if section else text
    lines = body.split("\n")
    start = next(number for number, line in enumerate(lines) if line.startswith(f"  {label} "))
    taken = [lines[start].removeprefix(f"  {label} ").lstrip(".")]
    for line in lines[start + 1 :]:
        if not line.startswith(" " * 10):
            break
        taken.append(line)
    return " ".join(" ".join(taken).split())


@pytest.mark.parametrize("system", ["metric", "imperial"])
@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_fits_the_paper_and_is_plain(name: str, system: UnitSystem) -> None:
    text = sheet_text(*demo(name, system))
    assert text.endswith("\n")
    assert max(map(width, text.split("\n"))) <= WIDTH <= 80
    assert all(line.isprintable() and line == line.rstrip() for line in text.split("\n"))
    assert "\n\n\n" not in text


@pytest.mark.thorough
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_the_worst_shot_fits_the_paper(system: UnitSystem) -> None:
    text = sheet_text(*solved(STRESS | {"units": system}))
    assert max(map(width, text.split("\n"))) <= 80
    assert all(line.isprintable() for line in text.split("\n"))
    for character, count in (("x", 200), ("p", 150), ("壁", 60)):
        assert text.count(character) >= count, "long words are broken, never cut"


LENGTH = re.compile(r"\d+ (?:ft|mi)(?: \d+)?(?: \d+/\d+)? in|\d[\d/.]* (?:\d+/\d+ )?(?:in|mm|m|ft|km)\b")


@cache
def lengths_with_all_room(name: str, system: UnitSystem) -> Counter[str]:
    return Counter(LENGTH.findall(sheet_text(*demo(name, system), 2000)))


RARE_WIDTHS = [pytest.param(columns, marks=pytest.mark.thorough) for columns in (40, 44, 52, 56, 64, 72, 79)]


@pytest.mark.thorough
@pytest.mark.parametrize("columns", [39, 55, 59, 119, *RARE_WIDTHS])
@pytest.mark.parametrize("system", ["metric", "imperial"])
@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_fits_any_width_and_no_length_is_broken(name: str, system: UnitSystem, columns: int) -> None:
    text = sheet_text(*demo(name, system), columns)
    assert max(map(width, text.split("\n"))) <= columns
    assert Counter(LENGTH.findall(text)) == lengths_with_all_room(name, system)


@pytest.mark.parametrize("columns", [39, pytest.param(59, marks=pytest.mark.thorough)])
def test_the_worst_shot_fits_a_narrow_screen(columns: int) -> None:
    text = sheet_text(*solved(STRESS), columns)
    assert max(map(width, text.split("\n"))) <= columns
    for character, count in (("x", 200), ("p", 150), ("壁", 60)):
        assert text.count(character) >= count


def test_in_little_room_values_follow_labels_and_tables_go_row_by_row() -> None:
    text = sheet_text(*demo("kiln-stack"), 39)
    assert "\n  Focus mark: 18 ft 1 5/8 in (auto)\n" in text
    assert "\n  stack at the base\n    No.: 1; Full size: 6 ft 9 in;\n    Model: 3.375 in; Cut to: 3 3/8 in;\n" in text


def test_a_long_name_of_a_part_gives_way_to_the_lengths_beside_it() -> None:
    part = {"part": "trestle: legs, lattice and the deck on top", "real": "6889.75 mm"}
    text = sheet_text(*solved({"build": [part], "units": "imperial", "scale.compare": "1:24"}))
    row = next(line for line in text.split("\n") if "trestle:" in line)
    assert "22 ft 7 1/4 in" in row


def test_sections_stand_in_the_order_of_work() -> None:
    changes = STRESS | {"action": {"kind": "falling"}}
    text = sheet_text(*solved(changes))
    places = [text.find(f"\n{title} -") for title in IN_ORDER]
    assert -1 not in places
    assert places == sorted(places)


def test_a_scale_that_no_rule_is_marked_for_is_told_in_decimals() -> None:
    text = sheet_text(*solved({"units": "imperial", "scale.ratio": "1:87.1"}))
    assert value_of(text, "Scale", "BUILD LIST") == "1:87.1 0.1378 in to the foot"  # 12 / 87.1


def test_units_are_those_of_the_shot_or_those_asked_for() -> None:
    own, other = sheet_text(*demo("kiln-stack")), sheet_text(*demo("kiln-stack", "metric"))
    place = "SURVEY AND PLACE"
    assert value_of(own, "Background", place).startswith("240 ft")
    assert value_of(other, "Background", place).startswith("73.15 m")  # 240 ft is 73.152 m, shown to a centimetre
    assert value_of(own, "Lens height", place) == "5 ft"
    assert value_of(other, "Lens height", place) == "1.524 m"
    assert value_of(own, "Scale", "BUILD LIST") == "1:24 1/2 in to the foot"
    assert value_of(other, "Scale", "BUILD LIST") == "1:24 41.67 mm to the metre"  # 1000 / 24
    assert " ft" not in other.split("\nSET -", 1)[1].split("\nFINDINGS -", 1)[0].replace("fc)", "")


def test_what_the_program_chose_is_marked_and_what_was_set_is_not() -> None:
    text = sheet_text(*demo("lock-gate"))
    assert value_of(text, "Focus mark", "SET").endswith("(auto)")
    assert value_of(text, "Frame rate", "SET") == "72 fps (auto)"
    assert value_of(text, "Stop", "SET") == "T8"
    assert value_of(text, "Model at", "SET") == "4.53 m"
    assert "(auto) was left open" in text


def test_nothing_is_said_of_choosing_where_all_is_set() -> None:
    everything = {
        "action.fps": 96,
        "focus": {"distance": "6 m", "stop": "f/8"},
        "light.iso": 800,
    }
    assert "chosen" not in sheet_text(*solved(everything))


@pytest.mark.parametrize(
    "convention",
    [
        "from the sensor-plane mark",
        "as marked on the lens",
        "above the background's ground",
        "what 1 px of slip allows",
    ],
)
def test_conventions_are_said(convention: str) -> None:
    assert convention in " ".join(sheet_text(*demo("kiln-stack")).split())


def test_the_verdict_leads_and_the_gravest_finding_with_it() -> None:
    text = sheet_text(*solved({"place.model": "3 m"}))  # 64 m to 3 m reads as 1:21, far from 1:16
    assert value_of(text, "Verdict", "") == "CANNOT BE SHOT AS SET 1 fault: see Findings"
    assert value_of(text, "First", "").startswith("At 3 m the model reads as 1:21.5")
    findings = text.split("\nFINDINGS -", 1)[1]
    marks = [line.split()[0] for line in findings.split("\n") if line[2:6] in {"STOP", "WARN", "note", "ok  "}]
    assert marks == sorted(marks, key=["STOP", "WARN", "note", "ok"].index)
    assert marks[0] == "STOP"


def test_the_safe_rate_on_the_sheet_is_the_one_that_the_finding_offers() -> None:
    shown, answered = solved(
        {"action.kind": "falling", "action.fps": 72, "light.mains": 50}, mode={"fps": [24, 25, 50, 72, 96, 100]}
    )
    text = sheet_text(shown, answered)
    flicker = next(one for one in answered.findings if one.code == "flicker")
    said = " ".join(mend.text for mend in mends(answered, flicker))
    assert answered.light.safe_fps == 50
    assert "100 fps" in said
    assert value_of(text, "Flicker-free rate", "LIGHT") == "100 fps"


def test_what_is_amiss_is_counted_in_words() -> None:
    text = sheet_text(*solved({"focus.stop": "f/4", "action.fps": 80, "light.available": "1 lx"}))
    assert value_of(text, "Verdict", "").endswith("2 faults, 2 warnings: see Findings")


def test_a_good_shot_is_called_good() -> None:
    assert value_of(sheet_text(*solved({})), "Verdict", "") == "good to shoot"


def test_cautions_stand_together_and_defer() -> None:
    text = sheet_text(*demo("kiln-stack"))
    cautions = text.split("\nCAUTIONS -", 1)[1].split("\n\n", 1)[0]
    assert "follow local codes and the licensed person on set" in " ".join(cautions.split())
    assert "Falling and collapsing things" in cautions
    assert "Falling and collapsing" not in text.split("\nFINDINGS -", 1)[1]


def test_a_slide_reading_is_shown_as_it_was_set() -> None:
    text = sheet_text(*solved({"move": {"axis": "pan", "sweep": "5 deg", "slide": "63.125 mm"}}))
    assert value_of(text, "Slide", "SLIP AND SLIDE").startswith("63.125 mm")


def test_a_slip_reading_is_shown_as_it_was_read() -> None:
    row = {"slide": "40 mm", "slip_px": -14.5}
    text = sheet_text(*solved({"move": {"axis": "pan", "sweep": "5 deg"}, "bench": [row]}))
    assert "-14.5 px" in text.split("\nBENCH -", 1)[1]


@pytest.mark.parametrize(
    ("text", "columns", "lines"),
    [
        ("", 10, []),
        ("one two three", 7, ["one two", "three"]),
        ("abcdefghij", 4, ["abcd", "efgh", "ij"]),
        ("壁壁壁 a", 4, ["壁壁", "壁 a"]),
    ],
)
def test_wrapping_counts_columns(text: str, columns: int, lines: list[str]) -> None:
    assert wrap(text, columns) == lines


def test_a_combining_accent_takes_no_column() -> None:
    assert width("e\u0301") == 1
    assert pad("e\u0301", 3) == "e\u0301  "


def test_nothing_a_terminal_acts_upon_is_left() -> None:
    assert clean("\x1b[31mred\r\n\x07 two\u00a0spaces \u202eback") == "?[31mred ? two spaces ?back"


def test_a_file_is_answered_in_the_units_asked_for(tmp_path: Path) -> None:
    copied = tmp_path / "a-shot.toml"
    copied.write_text(shipped("shots", "signal-lamp").read_text(encoding="utf-8"), encoding="utf-8")
    assert [answer_file(copied, system)[1].system for system in (None, "imperial")] == ["metric", "imperial"]


@pytest.mark.parametrize(("columns", "lines"), [(10, ["at", "10 ft 6 in"]), (9, ["at 10 ft", "6 in"])])
def test_a_length_that_just_fits_stays_on_its_line(columns: int, lines: list[str]) -> None:
    assert [line.replace("\u00a0", " ") for line in wrap("at 10 ft 6 in", columns)] == lines


@pytest.mark.parametrize("number", [0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)])
def test_what_turns_the_way_of_writing_is_shown_and_not_done(number: int) -> None:
    assert powerless(f"a{chr(number)}b") == clean(f"a{chr(number)}b") == "a?b"


def test_controls_lose_their_power_and_what_stands_beside_them_is_left() -> None:
    assert powerless("\x00\t\x0b\x1f\x7f\x9f") == "??????"
    left = "one line\nand another ~ 3\u00a0m, 12\u202f000, \u200d"
    assert powerless(left) == left
