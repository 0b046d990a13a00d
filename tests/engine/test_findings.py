"""Every finding in a shot made for it, with its numbers worked by hand, and its absence in the neighbour that is good.

By hand, all from the plain shot (see `cases.py`): model 4 m and background 64 m from the pupil, so focus at 2·4·64/68 =
7.529 m, image at 25.083 mm, half the frame's angle 21.74°; f/4.93 needed, f/5 (5.04) set; 96 fps at 1:16.
"""

from __future__ import annotations

import ast
import math
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from cases import codes, solve, text_of
from hypothesis import given, settings
from strategies import kits, shot_changes

from engine import edit, findings
from engine.answer import Answer, Finding
from engine.faults import BadInput
from engine.jsonable import jsonable

Table = dict[str, Any]
PAN: Table = {"move.axis": "pan", "move.sweep": "10 deg", "move.screen_time": "10 s"}
TILT: Table = PAN | {"move.axis": "tilt", "move.sweep": "30 deg"}
LOW_AXIS: Table = {"tilt_drop": "120 mm"}
DEFER = "follow local codes and the licensed person on set"


def slips(*rows: tuple[int, float]) -> list[Table]:
    return [{"slide": f"{slide} mm", "slip_px": px} for slide, px in rows]


def seen(*rows: tuple[int, str]) -> list[Table]:
    return [{"slide": f"{slide} mm", "seen": what} for slide, what in rows]


@dataclass(frozen=True)
class Shown:
    """A shot that shows a finding, what the sentence says there, and a change after which it is gone."""

    code: str
    level: str
    changes: Table
    says: tuple[str, ...]
    good: Table
    kit: Table = field(default_factory=dict)
    good_kit: Table | None = None

    def answer(self) -> Answer:
        return solve(self.changes, **self.kit)

    def neighbour(self) -> Answer:
        return solve(self.changes | self.good, **(self.kit if self.good_kit is None else self.good_kit))


HEAD: Table = {"head": {}}
SHOWN = [
    # Scale. 64/3.8 is 16.84, 5 % over 16; 64/3.5 is 18.29, 14 % over; 64/4.4 is 14.55, 9 % under; 64/4.05 is 1 % under.
    Shown(
        "ratio-chosen", "note", {"scale.ratio": None}, ("1:16 was", "ask for 1:16", "4.03 m"), {"scale.ratio": "1:16"}
    ),
    Shown(
        "ratio-chosen",
        "note",
        {"scale.ratio": None, "place.model": None},
        ("1:25 was", "120 fps", "plain-lens"),  # (120/24)² = 25
        {"scale.ratio": "1:16"},
    ),
    Shown("no-size-to-match", "note", {"place.background": "inf"}, ("at infinity",), {"place.background": "64030 mm"}),
    Shown(
        "size-mismatch",
        "warn",
        {"place.model": "3830 mm"},
        ("At 3.83 m", "as 1:16.8", "at 64.03 m", "5 % too large for 1:16", "stand it at 4.03 m"),
        {"place.model": "4080 mm"},
    ),
    Shown(
        "size-mismatch", "stop", {"place.model": "3530 mm"}, ("1:18.3", "14 % too large"), {"place.model": "3980 mm"}
    ),
    Shown("size-mismatch", "warn", {"place.model": "4430 mm"}, ("1:14.5", "9 % too small"), {"scale.ratio": "1:14.6"}),
    Shown(
        "lens-height-missing", "note", {"place.feature_height": "3 m"}, ("tape the lens",), {"place.lens_height": "1 m"}
    ),
    Shown("cover-endless", "warn", PAN | {"move.sweep": "64 deg"}, ("85°",), {"move.sweep": "63 deg"}),
    Shown(
        "cover-wider",
        "note",
        PAN | {"build": [{"part": "wall", "real": "16 m"}]},
        ("4.069 m across", "built is 1 m"),  # 4 m · (tan 21.74° + tan 31.74°); 16 m / 16
        {"build": [{"part": "wall", "real": "66 m"}]},
    ),
    Shown(
        "air",
        "note",
        {"survey.visibility": "8 km"},
        ("leaves 97 %", "paint 3 %"),  # exp(−3.912 · 64 / 8000) = 0.969
        {"survey.visibility": "20 km"},
    ),
    # Speed
    Shown("rate-missing", "stop", {"action.fps": 100}, ("no 100 fps", "it has is 96 fps"), {"action.fps": 96}),
    Shown(
        "rate-missing",
        "stop",
        {"action.fps": 96},
        ("runs at 1 to 60 fps", "not at 96 fps"),
        {"action.fps": 60},
        {"mode": {"fps": {"min": 1, "max": 60}}},
    ),
    Shown(
        "rate-low",
        "stop",
        {"action.fps": 48},
        ("At 48 fps", "4 times as hard", "reads as a toy", "1:16 needs 96 fps"),  # 16 / 2²
        {"action.fps": 96},
    ),
    Shown(
        "rate-low",
        "warn",
        {},
        ("At 80 fps", "1.4 times", "looks small", "top of plain-mode, 80 fps, serves 1:11.1 at most"),  # 16 / 3.33²
        {},
        {"mode": {"fps": [24, 80]}},
        {"mode": {"fps": [24, 90]}},  # 16 / 3.75² = 1.14
    ),
    Shown(
        "rate-low",
        "stop",
        {"action.fps": 48, "scale.ratio": "1:12", "place.model": None},
        ("3 times as hard", "1:12 needs 83.14 fps: set 96 fps"),
        {"action.fps": 96},
    ),
    Shown(
        "rate-high",
        "note",
        {"action.fps": 120},
        ("At 120 fps", "0.64 times as hard", "96 fps is right"),  # 16 / 5²
        {"action.fps": 96},
    ),
    Shown(
        "rate-high",
        "note",
        {"action.fps": 120, "scale.ratio": "1:12", "place.model": None},
        ("0.48 times", "83.14 fps is right: set 96 fps"),
        {"action.fps": 96},
    ),
    Shown("real-speed-missing", "note", {"action.kind": "driven"}, ("speed",), {"action.real_speed": "30 mph"}),
    Shown(
        "judder",
        "warn",
        PAN | {"move.sweep": "30 deg", "move.screen_time": "3 s"},
        ("in 4.3 s", "take 4.9 s"),  # 3 s · 43.47°/30°; 3 s · 7 / 4.347 = 4.83
        {"move.screen_time": "4.9 s"},
    ),
    Shown(
        "readout-skew",
        "note",
        PAN | {"move.sweep": "15 deg", "move.screen_time": "5 s"},
        ("2.6 px",),  # 25.083 mm · 15°/1.25 s · 5 ms / 0.01 mm
        {"move.screen_time": "10 s"},
        {"mode": {"readout": "5 ms"}},
    ),
    # Light: 250 · (5.04 · 1.0033)² / (1/192 s · 800) = 1534 lx
    Shown(
        "light-short",
        "warn",
        {"light.available": "1000 lx"},
        ("0.6 stops short", "ISO 1200"),  # 800 · 1.534
        {"light.available": "1300 lx"},
    ),
    Shown(
        "light-short",
        "stop",
        {"light.available": "100 lx"},
        ("3.9 stops short", "ISO 3200", "1530 lx"),
        {"light.available": "1534 lx"},
    ),
    Shown(
        "light-over",
        "note",
        {"light.available": "3000 lx"},
        ("1.0 stop more", "ND 0.3 (1.0 stop)"),
        {"light.available": "2000 lx"},
    ),
    Shown("iso-missing", "stop", {"light.iso": 6400}, ("to ISO 3200", "to ISO 6400"), {"light.iso": 3200}),
    Shown(
        "flicker",
        "warn",
        {"action.kind": "still", "light.mains": 50},
        ("50 Hz", "at 24 fps", "safe are 25 fps, a shutter of 172.8° or lamps"),
        {"action.shutter": "172.8 deg"},
    ),
    Shown(
        "flicker",
        "warn",
        {"action.fps": 120, "light.mains": 50},
        ("at 120 fps", "safe are 25 fps or lamps"),  # a frame at 120 fps is shorter than a pulse
        {"light.mains": 60},
    ),
    Shown("surface-tension", "note", {"action.kind": "water"}, ("43.6 mm",), {"action.kind": "still"}),
    Shown("flame", "note", {"action.kind": "fire"}, ("0.98 kW",), {"action.kind": "still"}),
    Shown("smoke-curl", "note", {"action.kind": "smoke"}, ("64 times",), {"action.kind": "still"}),
    # Focus
    Shown(
        "stop-beyond-lens",
        "stop",
        {"focus.stop": "f/32"},
        ("from f/2 to f/22", "not to f/32"),
        {"focus.stop": "f/22"},
    ),
    Shown(
        "inside-close-focus",
        "stop",
        {"focus.distance": "250 mm"},
        ("no nearer than 300 mm", "set at 250 mm"),
        {"focus.distance": "300 mm"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"focus.stop": "f/4"},
        ("At f/4", "4.418 m to 26.54 m", "part at 4.03 m", "farthest at 64.03 m", "f/5 holds it all"),
        {"focus.stop": "f/5"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"place.model_near": "900 mm", "place.background_far": "inf"},
        ("no stop to f/22", "of +1 over"),  # 1/0.87 − 1/64 = 1.13 dioptres
        {"place.model_near": "1000 mm"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"place.model": "1530 mm", "place.background": "24030 mm", "focus.distance": "inf"},
        ("no stop to f/22 holds it from this focus", "focused at 2.854 m, f/14 holds"),
        {"focus.distance": "auto"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"place.model": "350 mm", "place.background": "350 mm", "place.background_far": "inf", "scale.ratio": "1:1"},
        ("no stop to f/22 holds it: let the far end go",),
        {"place.background_far": "350 mm"},
    ),
    Shown(
        "past-best-stop",
        "warn",
        {"focus.stop": "f/16"},
        ("f/16 holds 4.03 m to 64.03 m", "worst contrast is 62 %", "34 line pairs/mm", "f/8 gives 75 %"),
        {"focus.stop": "f/8"},
    ),
    # Slip: the plain head has its sensor 90 mm behind the axis, so with the pupil 30 mm ahead the zero is at 60 mm.
    Shown("pupil-unknown", "note", {}, ("plain-lens",), {}, {"lens": {"pupil": []}}, {}),
    Shown("pupil-unknown", "warn", PAN, ("cannot be told",), {}, {"lens": {"pupil": []}} | HEAD, HEAD),
    Shown(
        "pupil-outside",
        "note",
        {},
        ("25 mm focused at 1 m",),
        {},
        {"lens": {"pupil": [{"focal_length": "25 mm", "focus": "1 m", "ahead": "30 mm"}]}},
        {},
    ),
    Shown("head-missing", "warn", PAN, ("No head",), {}, {}, HEAD),
    Shown(
        "slide-out-of-reach",
        "warn",
        PAN,
        ("at 170.0 mm", "0 mm to 120 mm"),
        {},
        {"head": {"sensor_at_zero": "-200 mm"}},
        HEAD,
    ),
    Shown("slide-to-set", "note", PAN, ("60.0 mm ± 9.4 mm",), {"move.slide": "60 mm"}, HEAD),
    Shown(
        "slip-over",
        "warn",
        PAN | {"move.slide": "85 mm"},
        ("the pan the model outruns", "by 2.6 px", "1 px may pass", "back 25.0 mm, to 60.0 mm ± 9.5 mm"),
        {"move.slide": "60 mm"},
        HEAD,
    ),
    Shown(
        "slip-over",
        "warn",
        PAN | {"move.slide": "35 mm"},
        ("lags", "by 2.6 px", "forward 25.0 mm, to 60.0 mm"),
        {"move.slide": "55 mm"},
        HEAD,
    ),
    Shown("slide-none-holds", "warn", TILT, ("within 1 px", "tilt"), {"move.tolerance": 2}, {"head": LOW_AXIS}),
    Shown(
        "slide-too-coarse",
        "note",
        PAN | {"move.slide": "60 mm"},
        ("every 25 mm", "within 9.48 mm"),
        {},
        {"head": {"slide_step": "25 mm"}},
        HEAD,
    ),
    Shown(
        "bench-out-of-frame",
        "note",
        PAN | {"move.sweep": "30 deg", "bench": slips((20, -5))},
        ("after 21.7°", "20° or less"),
        {"move.sweep": "20 deg"},
        HEAD,
    ),
    Shown("bench-fault", "warn", {"bench": slips((20, -5))}, ("set axis and sweep",), PAN, HEAD),
    Shown(
        "bench-fault",
        "warn",
        PAN | {"bench": slips((20, -4), (20, -5))},
        ("one place of the slide",),
        {"bench": slips((20, -4), (80, 2))},
        HEAD,
    ),
    Shown(
        "bench-slope",
        "warn",
        PAN | {"bench": slips((40, -4), (60, 0), (80, 4))},
        ("by 0.2 px a mm", "where 0.105 was"),  # 2.6 px over 25 mm
        {"bench": slips((40, -2), (60, 0), (80, 2))},
        HEAD,
    ),
    Shown(
        "bench-outside",
        "warn",
        PAN | {"bench": slips((70, 1), (80, 2), (90, 3))},
        ("one side",),
        {"bench": slips((50, -1), (70, 1), (80, 2), (90, 3))},
        HEAD,
    ),
    Shown(
        "bench-contradicts",
        "warn",
        PAN | {"bench": seen((40, "outruns"), (50, "lags"), (55, "lags"), (80, "outruns"))},
        ("Reading 1",),
        {"bench": seen((40, "lags"), (50, "lags"), (55, "lags"), (80, "outruns"))},
        HEAD,
    ),
    Shown(
        "bench-no-error",
        "note",
        PAN | {"bench": slips((40, -2), (80, 2))},
        ("Two readings",),
        {"bench": slips((40, -2), (80, 2), (60, 0))},
        HEAD,
    ),
    Shown(
        "bench-no-error",
        "note",
        PAN | {"bench": slips((40, -2))},
        ("One reading",),
        {"bench": slips((40, -2), (80, 2), (60, 0))},
        HEAD,
    ),
    Shown(
        "bench-try-next",
        "note",
        PAN | {"bench": seen((40, "lags"), (80, "outruns"))},
        ("at 60.0 mm",),
        {"bench": slips((40, -2), (80, 2), (60, 0))},
        HEAD,
    ),
    # Cautions
    Shown("caution-falling", "note", {}, ("Falling",), {"action.kind": "still"}),
    Shown("caution-fire", "note", {"action.kind": "fire"}, ("Fire",), {"action.kind": "still"}),
    Shown("caution-smoke", "note", {"action.kind": "smoke"}, ("Smoke",), {"action.kind": "still"}),
    Shown("caution-water", "note", {"action.kind": "water"}, ("Water near power",), {"action.kind": "still"}),
    Shown("caution-driven", "note", {"action.kind": "driven"}, ("roads",), {"action.kind": "still"}),
    Shown(
        "caution-overhead",
        "note",
        {"place.lens_height": "1.5 m", "place.feature_height": "7 m"},  # built at 1.5 + 5.5/16 = 1.844 m
        ("overhead",),
        {"place.feature_height": "6 m"},  # 1.781 m
    ),
    Shown("caution-height", "note", {"place.lens_height": "2.1 m"}, ("high",), {"place.lens_height": "1.9 m"}),
    # 250 · (22.63 · 1.0033)² / (1/192 s · 800) = 30 900 lx; a third of a stop wider 24 500 lx
    Shown("caution-lamps", "note", {"focus.stop": "f/22"}, ("high power",), {"focus.stop": "f/20"}),
    Shown("caution-lamps", "note", {"focus.stop": "f/22"}, ("high power",), {"light.available": "20000 lx"}),
    # All well: gone where something is amiss, and where there is nothing to be well.
    Shown("scale-ok", "ok", {}, ("matches",), {"place.model": "3830 mm"}),
    Shown("scale-ok", "ok", {}, ("matches",), {"place.background": "inf"}),
    Shown("speed-ok", "ok", {}, ("hold together",), {"action.fps": 48}),
    Shown("focus-ok", "ok", {}, ("sharp",), {"focus.stop": "f/4"}),
    Shown("slip-ok", "ok", PAN | {"move.slide": "60 mm"}, ("not slide",), {"move.slide": "85 mm"}, HEAD),
    Shown("slip-ok", "ok", PAN | {"move.slide": "60 mm"}, ("not slide",), {"move.slide": None}, HEAD),
    Shown("slip-ok", "ok", PAN | {"move.slide": "60 mm"}, ("not slide",), {}, HEAD, {}),
]
NAMES = [f"{shown.code} {number}" for number, shown in enumerate(SHOWN)]


@pytest.mark.parametrize("shown", SHOWN, ids=NAMES)
def test_a_finding_appears_in_the_shot_made_for_it_with_its_numbers(shown: Shown) -> None:
    found = shown.answer()
    text = text_of(found, shown.code)
    for words in shown.says:
        assert words in text
    assert {finding.level for finding in found.findings if finding.code == shown.code} == {shown.level}


@pytest.mark.parametrize("shown", SHOWN, ids=NAMES)
def test_a_finding_is_gone_in_the_good_shot_beside_it(shown: Shown) -> None:
    assert shown.code not in codes(shown.neighbour())


def test_readings_with_other_kit_are_said_to_be_left_out() -> None:
    rows = slips((40, -2), (60, 0), (80, 2))
    rows[1]["lens"] = "another-lens"
    found = solve(PAN | {"bench": rows}, head={})
    assert text_of(found, "bench-other-kit").startswith("Reading 2 was taken with another lens")
    assert "bench-other-kit" not in codes(solve(PAN | {"bench": slips((40, -2), (60, 0), (80, 2))}, head={}))


def test_every_finding_that_the_program_can_utter_is_tried() -> None:
    uttered = {word for path in Path(findings.__file__).parent.glob("*.py") for word in _codes_in(path)}
    assert uttered - {"bench-other-kit"} == {shown.code for shown in SHOWN if shown.level != "ok"}


def _codes_in(path: Path) -> set[str]:
    """The codes written in a file of findings: the second or third word of each Finding, the keys of the cautions."""
    called = [node for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Call | ast.Tuple)]
    words = {
        word.value
        for node in called
        for word in (node.args[1:3] if isinstance(node, ast.Call) else node.elts[:1])
        if isinstance(word, ast.Constant) and isinstance(word.value, str)
    }
    return {word for word in words if re.fullmatch(r"[a-z]+(-[a-z]+)+|air|flicker|flame|judder", word)}


def test_the_gravest_come_first_and_within_a_level_in_the_order_of_the_panes() -> None:
    found = solve({"action.fps": 48, "place.model": "3530 mm", "focus.stop": "f/4", "light.mains": 50})
    levels = [finding.level for finding in found.findings]
    assert levels == sorted(levels, key=["stop", "warn", "note", "ok"].index)
    assert [finding.pane for finding in found.findings if finding.level == "stop"][:2] == ["scale", "speed"]
    assert found.stopped
    assert not solve().stopped


# What holds for any shot

PANES = ["scale", "speed", "focus", "slip"]


def is_path(found: Answer, path: str) -> bool:
    """Whether a path leads to a section or a field of the shot."""
    try:
        edit.value_at(found.setting, path)
    except AttributeError:
        return False
    return True


def check(found: Answer, finding: Finding) -> None:
    text = finding.text
    assert text
    assert "\n" not in text
    assert text == text.strip()
    assert not re.search(r"\b(nan|inf|None|null)\b", text), text
    assert not re.search(r"\de[+-]?\d", text), text  # nobody reads an exponent
    assert finding.pane in PANES
    assert finding.field == "" or is_path(found, finding.field), finding.field
    assert finding.code.startswith("caution-") == text.endswith(DEFER)


def numbers(value: Any) -> list[float]:
    if isinstance(value, float):
        return [value]
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else []
    return [number for part in inner for number in numbers(part)]


@settings(max_examples=300)
@given(shot_changes(), kits())
def test_any_shot_is_answered_in_sound_sentences_or_refused_in_one_line_a_fault(changes: Table, kit: Table) -> None:
    if kit["head"] is not None:
        changes = changes | {"kit.head": "plain-head"}
    try:
        found = solve(changes, **kit)
    except BadInput as refusal:
        lines = refusal.faults
    else:
        lines = ()
        for finding in found.findings:
            check(found, finding)
        assert {finding.pane for finding in found.findings} == set(PANES)
        for group in (found.scale, found.lineup, found.speed, found.focus, found.light, found.slip, found.survey):
            for field_name in group.__slots__:
                value = getattr(group, field_name)
                assert not (isinstance(value, float) and math.isnan(value)), field_name
            assert all(math.isfinite(number) for number in numbers(jsonable(group)))
    assert all(line.startswith("shot: ") and "\n" not in line for line in lines)
    assert not any(re.search(r"\b(nan|None|Traceback)\b", line) for line in lines)
