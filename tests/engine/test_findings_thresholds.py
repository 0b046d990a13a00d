"""Each threshold with a case just inside and one just outside, worked by hand from the plain shot: see `shown.py`."""

from __future__ import annotations

from typing import Any

import pytest
from cases import codes, solve
from shown import HEAD, PAN, Table

from forescale.engine.units import exact_length

LIT: Table = {"light.available": "10000 lx"}
KEY: Table = {"name": "key", "gives": "2000 lx", "at": "3 m", "stands": "2 m"}
DRIFT: Table = {"move.screen_time": "10 s"}
ANY_RATE: Table = {"mode": {"fps": {"min": 1, "max": 400}}}
ROUGHLY: Table = {
    "lens": {"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": "30 mm", "uncertainty": "3.06 mm"}]}
}


def wall(real: str, **more: Any) -> Table:
    return {"build": [{"part": "wall", "real": real}]} | more


def gable(height: str = "2 m", aside: str = "0 m") -> Table:
    return {"place.lens_height": "2 m", "point": [{"name": "gable", "aside": aside, "height": height}]}


def fence(stands_mm: float) -> Table:
    there = {"ratio": "1:8", "stands": exact_length(stands_mm, "metric"), "seems_at": "48030 mm"}
    return {"piece": [{"name": "fence"} | there]}


def at(model_mm: float) -> Table:
    return {"place.model": exact_length(30 + model_mm, "metric")}


def near(model_mm: float) -> Table:
    return at(model_mm) | {"place.background": exact_length(30 + 16 * model_mm, "metric")}


PAN_30: Table = PAN | {"move.sweep": "30 deg"}
# What is said, where it is not yet, where it is, the kit, and the sum behind it.
STILL: Table = {"action.kind": "still"}
EDGES: list[tuple[str, Table, Table, Table]] = [
    ("size-mismatch", at(4000 / 1.0149), at(4000 / 1.0151), {}),  # 1.5 %
    ("size-mismatch", at(4000 / 0.9851), at(4000 / 0.9849), {}),
    ("piece-size", fence(30 + 6000 / 1.0149), fence(30 + 6000 / 1.0151), {}),
    ("over-frame", wall("25.5 m"), wall("25.53 m"), {}),  # 16 · 10 mm · 4 m / 25.083 mm = 25.515 m
    # 16 · 4 m · (tan 21.74° + tan 31.74°) = 65.1 m
    (
        "cover-wider",
        PAN | wall("65.2 m", **{"place.fills": "frame"}),
        PAN | wall("65 m", **{"place.fills": "frame"}),
        {},
    ),
    ("point-out-of-frame", gable("14.75 m"), gable("14.77 m"), {}),  # 2 m + 64 m · 5 / 25.083 = 14.757 m
    ("points-miss", gable(aside="10 m right") | at(4010), gable(aside="10 m right") | at(4011), {}),  # 0.98, 1.07 px
    ("air", {"survey.visibility": "9.53 km"}, {"survey.visibility": "9.45 km"}, {}),  # 2.996 · 64 / −ln 0.98 = 9491 m
    ("rate-low", {"action.heft": 1.072, "action.fps": 96}, {"action.heft": 1.073, "action.fps": 96}, {}),  # √1.15
    (
        "background-slow",
        {"action.kind": "still", "action.fps": 35},
        {"action.kind": "still", "action.fps": 36},
        ANY_RATE,
    ),
    # 0.95 · 7 s · 30° / 43.47° = 4.589 s
    ("judder", PAN_30 | {"move.screen_time": "4.6 s"}, PAN_30 | {"move.screen_time": "4.58 s"}, {}),
    # 25.083 mm · 15° / (t/4) · 5 ms / 0.01 mm = 2 px for t = 6.57 s
    (
        "readout-skew",
        PAN | {"move.sweep": "15 deg", "move.screen_time": "6.6 s"},
        PAN | {"move.sweep": "15 deg", "move.screen_time": "6.5 s"},
        {"mode": {"readout": "5 ms"}},
    ),
    ("light-differs", LIT | {"light.at_background": "12590 lx"}, LIT | {"light.at_background": "12610 lx"}, {}),  # 2^⅓
    # 10⁶/5000 + 10 = 210, and 10⁶/210 = 4761.9
    (
        "colour-differs",
        {"light.kelvin": 5000, "light.kelvin_at_background": 4763},
        {"light.kelvin": 5000, "light.kelvin_at_background": 4761},
        {},
    ),
    ("lamp-near", {"lamp": [KEY | {"size": "0.4 m"}]}, {"lamp": [KEY | {"size": "0.401 m"}]}, {}),  # five times
    ("lamp-soft", {"lamp": [KEY | {"size": "27.7 mm"}]}, {"lamp": [KEY | {"size": "27.8 mm"}]}, {}),  # 1.5 · 2 m / 108
    # 0.5 m / (2^(1/6) − 1) = 4.083 m
    (
        "lamp-falls-off",
        {"lamp": [KEY | {"stands": "4.09 m"}], "place.model_near": "3530 mm"},
        {"lamp": [KEY | {"stands": "4.08 m"}], "place.model_near": "3530 mm"},
        {},
    ),
    # √(2 · 18.288 m / g) = 1.931 s, and 1.931 / 1.02 = 1.893
    (
        "fall-cut",
        {"action.fall": "60 ft", "action.screen_time": "1.9 s"},
        {"action.fall": "60 ft", "action.screen_time": "1.89 s"},
        {},
    ),
    (
        "cue-late",
        {"cue": [{"name": "drop", "screen": "5.09 s"}]},
        {"cue": [{"name": "drop", "screen": "5.11 s"}]},
        {},
    ),
    ("pupils-taken-equal", near(884), near(882), {}),  # 25 / (d − 50) = 3 % at 883.3 mm
    ("travel-over", DRIFT | {"move.travel": "1.7 mm right"}, DRIFT | {"move.travel": "1.71 mm right"}, {}),  # 10/5.88
    ("slip-over", PAN | {"move.slide": "69.3 mm"}, PAN | {"move.slide": "69.7 mm"}, HEAD),  # 9.5 mm from 60 mm on
    (
        "slip-uncertain",
        PAN | {"move.slide": "56.7 mm"},
        PAN | {"move.slide": "56.4 mm"},
        HEAD | ROUGHLY,
    ),  # 9.4 − 1.96·3.06
    # 1.5 m + (h − 1.5 m)/16 = 1.8 m at 6.3 m
    (
        "caution-overhead",
        {"place.lens_height": "1.5 m", "place.feature_height": "6.29 m"},
        {"place.lens_height": "1.5 m", "place.feature_height": "6.31 m"},
        {},
    ),
    ("too-strong", {"scale.ratio": "1:1"}, {"scale.ratio": "1:1.1", "place.model": None}, {}),
    ("caution-height", {"place.lens_height": "2 m"}, {"place.lens_height": "2.001 m"}, {}),
]


@pytest.mark.parametrize(
    ("code", "inside", "outside", "kit"), EDGES, ids=[f"{edge[0]} {number}" for number, edge in enumerate(EDGES)]
)
def test_a_finding_is_said_from_its_threshold_on_and_not_before(
    code: str, inside: Table, outside: Table, kit: Table
) -> None:
    assert code not in codes(solve(inside, **kit))
    assert code in codes(solve(outside, **kit))


@pytest.mark.parametrize(
    ("code", "milder", "graver", "levels", "kit"),
    [
        ("size-mismatch", at(4000 / 1.0999), at(4000 / 1.1001), ("warn", "stop"), {}),
        (
            "rate-low",  # √2.6
            {"action.heft": 1.612, "action.fps": 96},
            {"action.heft": 1.613, "action.fps": 96},
            ("warn", "stop"),
            {},
        ),
    ],
)
def test_it_is_graver_from_its_second_threshold_on(
    code: str, milder: Table, graver: Table, levels: tuple[str, str], kit: Table
) -> None:
    found = [next(one.level for one in solve(c, **kit).findings if one.code == code) for c in (milder, graver)]
    assert tuple(found) == levels


@pytest.mark.parametrize(("sweep", "said"), [("0 deg", False), ("1 deg", True)])
def test_a_pan_that_turns_by_nothing_asks_for_no_head(sweep: str, said: bool) -> None:
    assert ("head-missing" in codes(solve({"move.axis": "pan", "move.sweep": sweep}))) is said
