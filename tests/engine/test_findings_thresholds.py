"""Each threshold with a case just inside and one just outside, worked by hand from the plain shot: see `shown.py`."""

from __future__ import annotations

from typing import Any

import pytest
from cases import codes, solve
from shown import HEAD, PAN, TILT, Table
from shown_day import LOW
from shown_picture import outline, point
from shown_stand import stand

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


def pieces(ratio: str) -> Table:
    return {"piece": [{"name": "fence", "ratio": ratio}]}


def pulled(moves: str) -> Table:
    return stand(gust="5 m/s", pull="20 N", moves=moves)


def surveyed(width: str) -> Table:
    return {"survey.frame_share": 0.2, "survey.feature_width": width}


def benched(sweep: str) -> Table:
    return PAN | {"move.sweep": sweep, "bench": [{"slide": "40 mm", "slip_px": 1}]}


AIMED: Table = {"place.lens_height": "1.5 m", "place.aim": "20 deg up"}
FREE: Table = {"place.model": None}
FIRE: Table = {"action.kind": "fire"}
SEEN: Table = {"place.lens_height": "2 m", "place.feature_height": "10 m"}
LEFT_POINT: Table = PAN | point("20 m left", "2 m")
LEFT_WALL: Table = PAN | outline("20 m left", "18 m left", "2 m")
LOW_ISO: Table = {"mode": {"iso_min": 10}}
PAN_30: Table = PAN | {"move.sweep": "30 deg"}
# What is said, where it is not yet, where it is, the kit, and the sum behind it.
STILL: Table = {"action.kind": "still"}
SMALL: Table = {"action.kind": "fire, smoke, water", "place.model": None, "action.fps": None}
SHRUNK = ("surface-tension", "flame", "smoke-plume", "smoke-curl")  # 1.0331^1.5 = 1.05
EDGES: list[tuple[str, Table, Table, Table]] = [
    ("size-mismatch", at(4000 / 1.0149), at(4000 / 1.0151), {}),  # 1.5 %
    ("size-mismatch", at(4000 / 0.9851), at(4000 / 0.9849), {}),
    ("piece-size", fence(30 + 6000 / 1.0149), fence(30 + 6000 / 1.0151), {}),
    ("over-frame", wall("25.5 m"), wall("25.53 m"), {}),  # 16 · 10 mm · 4 m / 25.083 mm = 25.515 m
    # Aimed 20° up, half the field 11.2756° behind 25.0782 mm: 16 · (4.03 m − 30 mm · cos 20°) · (tan 31.2756° −
    # tan 8.7244°) = 29.067 m
    ("over-frame", AIMED | wall("29.05 m"), AIMED | wall("29.08 m"), {}),
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
    ("inside-close-focus", {"focus.distance": "299.1 mm"}, {"focus.distance": "298.9 mm"}, {}),  # 1 mm is as taped
    ("nearest-behind", FREE | {"place.model_near": "4030.9 mm"}, FREE | {"place.model_near": "4031.1 mm"}, {}),
    ("move-longer", PAN | {"move.screen_time": "5 s"}, PAN | {"move.screen_time": "5.001 s"}, {}),
    ("iso-missing", {"light.iso": 3200}, {"light.iso": 3201}, {}),
    ("iso-missing", {"light.iso": 200}, {"light.iso": 199}, {"mode": {"iso_min": 200}}),
    # 250 · 5.056² / (800 / 192) = 1534.1 lx, 30,000 at ISO 40.9; a tenth of a stop less 1431.3 lx, 0.9 more 2862.7 lx
    ("caution-lamps", {"light.iso": 41}, {"light.iso": 40.8}, LOW_ISO),
    ("caution-lamps", {"light.iso": 40} | LIT, {"light.iso": 40, "light.available": "9999 lx"}, LOW_ISO),
    ("light-short", {"light.available": "1432 lx"}, {"light.available": "1431 lx"}, {}),
    ("light-over", {"light.available": "2862 lx"}, {"light.available": "2863 lx"}, {}),
    ("rate-chosen", FREE | {"scale.ratio": 13.61}, FREE | {"scale.ratio": 13.59}, {}),  # 0.85 · 16
    ("rate-high", {"action.fps": 104}, {"action.fps": 105}, ANY_RATE),  # 96 / √0.85 = 104.13
    ("gravity-as-read", at(4704), at(4708), {}),  # 64 m / (0.85 · 16) = 4.7059 m, 64 m / (1.15 · 16) = 3.4783 m
    ("gravity-as-read", at(3479), at(3477), {}),
    ("piece-rate", pieces("1:13.61"), pieces("1:13.59"), {}),
    ("piece-rate", pieces("1:18.39"), pieces("1:18.41"), {}),  # 1.15 · 16 = 18.4
    # (1 − e^(−0.7 w)) / (1 − e^(−0.7 w / 16)) = 2^0.1 for w = 61.8 m
    ("flame-dim", {"action.kind": "fire", "action.fire_width": "61.9 m"}, FIRE | {"action.fire_width": "61.7 m"}, {}),
    # 9.5 mm of slide for 1 px, and half of the head's millimetre: 0.0526 px
    (
        "slide-too-coarse",
        PAN | {"move.slide": "60 mm", "move.tolerance": 0.0528},
        PAN | {"move.slide": "60 mm", "move.tolerance": 0.0525},
        HEAD,
    ),
    # 2 m + 64 m · 5 / 25.083 = 14.757 m; 11.273° + atan(8 / 64) = 18.398°; 21.736° − atan(20 / 64) = 4.382°
    ("meet-out-of-frame", SEEN | {"place.feature_height": "14.75 m"}, SEEN | {"place.feature_height": "14.77 m"}, {}),
    ("meet-leaves-frame", SEEN | TILT | {"move.sweep": "18.3 deg"}, SEEN | TILT | {"move.sweep": "18.5 deg"}, {}),
    ("outline-cut", outline("1 m left", "1 m right", "14.75 m"), outline("1 m left", "1 m right", "14.77 m"), {}),
    ("point-leaves-frame", LEFT_POINT | {"move.sweep": "4.38 deg"}, LEFT_POINT | {"move.sweep": "4.39 deg"}, {}),
    ("outline-leaves-frame", LEFT_WALL | {"move.sweep": "4.38 deg"}, LEFT_WALL | {"move.sweep": "4.39 deg"}, {}),
    # The sun at 299.52°, 6.84° up: 30° from the axis 29.28° aside of it; the disc's edge 21.736° + 0.27° aside
    ("caution-sun", LOW | {"sun.facing": "270.2 deg"}, LOW | {"sun.facing": "270.3 deg"}, {}),
    ("sun-in-frame", LOW | {"sun.facing": "277.4 deg"}, LOW | {"sun.facing": "277.6 deg"}, {}),
    # √(52.3 / 1.125) = 6.818 m/s; 0.5 · 2.268 mm · 28.125 / 20 = 1.5947 mm, which one pixel covers
    ("stand-falls", stand(gust="6.81 m/s"), stand(gust="6.83 m/s"), {}),
    ("stand-sways", pulled("2.26 mm"), pulled("2.28 mm"), {}),
    # 25 mm in 4.03 m and 565 mm in 64.03 m are 1.08 %; 0.42 % more is 1.5 %
    ("size-hair", at(4000 * 1.0041), at(4000 * 1.0043), {}),
    # 2 · √(639² + 565²) mm = 1.706 m less than 64.03 m, from which 9.934 m span a fifth of the frame
    ("survey-stale", surveyed("9.94 m"), surveyed("9.93 m"), {}),
    ("bench-out-of-frame", benched("21.73 deg"), benched("21.74 deg"), HEAD),  # atan(10 / 25.083)
    ("caution-height", {"place.lens_height": "2 m"}, {"place.lens_height": "2.001 m"}, {}),
    ("caution-fire", {"action.kind": "water"}, {"action.kind": "water", "action.fire_width": "3 m"}, {}),
    *((code, SMALL | {"scale.ratio": 1.03}, SMALL | {"scale.ratio": 1.04}, {}) for code in SHRUNK),
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


@pytest.mark.parametrize(("start", "sweep", "said"), [(0, 0, False), (0, 1, True), (1, 0, True), (1, 1, True)])
def test_a_pan_that_turns_by_nothing_asks_for_no_head(start: int, sweep: int, said: bool) -> None:
    turned = {"move.axis": "pan", "move.start": f"{start} deg", "move.sweep": f"{sweep} deg"}
    assert ("head-missing" in codes(solve(turned))) is said
