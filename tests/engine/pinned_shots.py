"""Shots that between them switch on everything there is: the plain one, the shipped ones, many at once, each finding's.

The plain shot is that of `cases.py`, and each of the others differs from it, so that what a shot says otherwise is
what its changes do.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from cases import shipped, shot, solve
from shown_all import SHOWN
from worked_cases import TILT_HEAD, ZOOM

from forescale.engine.answer import Answer, answer_file
from forescale.engine.shot.records import Shot

Table = dict[str, Any]
Solved = tuple[Shot, Answer]

STRIP: Table = {"lens": "plain-lens", "focal_length": "25 mm", "focus": "3 m"}
ROUGH: Table = {"ahead": "30 mm", "uncertainty": "3 mm", "measured": "2026-03-14"}
T_LENS: Table = {"marks": "T", "widest": "T2", "smallest": "T22", "transmission_loss": 0.5}
MEASURED: Table = {
    **{"readout": "5 ms", "data_rate": 400, "iso_min": 200},
    **{"sharpness": "0.014 mm", "sharpness_error": "0.002 mm", "sharpness_measured": "2026-03-01"},
    "strip": [
        STRIP | {"stop": "2", "soft_near": "2700 mm", "sharp_near": "2760 mm", "sharp_far": "3260 mm"},
        STRIP | {"stop": "4", "sharp_near": "2560 mm", "sharp_far": "3590 mm", "soft_far": "3680 mm"},
        STRIP | {"stop": "22", "sharp_near": "1700 mm", "soft_far": "12 m"},
    ],
}
CORNERS = [["3 m left", "0 m"], ["3 m left", "4 m"], ["0 m right", "7 m", "arc"], ["3 m right", "4 m"]]
NAMED = {"gable": ("9 m left", "3 m"), "mast": ("8 m right", "11 m"), "gate": ("2 m left", "0 m")}
POINTS = [{"name": name, "aside": aside, "height": height} for name, (aside, height) in NAMED.items()]
MISSES = [("gable", 6.5, -2), ("mast", 5, 1.5), ("gate", 6, 0.25)]
BENCHED = ((40, -2.3), (52, -0.4), (60, 0.5), (70, 0.6), (80, 2.1))  # they stray by more than they are read to
TAPED = ((40, -24), (50, -13), (70, 11))
SUN: Table = {
    **{"latitude": "51.2 deg N", "longitude": "2.4 deg W", "date": "2026-06-21", "time": "20:30"},
    **{"utc_offset": "+1 h", "rig_height": "1.9 m", "rig_width": "0.6 m"},
}

# By a name: what is changed of the plain shot, and of its kit.
MANY: dict[str, tuple[Table, Table]] = {
    "everything": (
        {
            "place": {
                **{"model": "4 m", "model_near": "3.9 m", "background": "64030 mm", "background_far": "80 m"},
                **{"lens_height": "1.6 m", "feature_height": "12 m"},
            },
            "scale": {"ratio": "1:16", "compare": "1:24"},
            "action": {"kind": "driven", "real_speed": "30 mph", "screen_time": "4 s", "heft": 1.2},
            "focus.stop": "T8",
            "light": {"available": "3000 lx", "at_background": "2000 lx", "mains": 50, "iso": 400},
            "move": {"axis": "pan", "sweep": "10 deg", "screen_time": "5 s", "slide": "63 mm"},
            "survey": [
                {"frame_share": 0.2, "visibility": "8 km"},
                {"elevation": "9.5 deg", "elevation_nearer": "12 deg", "nearer_by": "10 m"},
            ],
            "bench": [{"slide": f"{at} mm", "slip_px": px} for at, px in BENCHED],
            "stand": {
                **{"area": "1.1 m2", "area_height": "0.9 m", "weight": "40 kg", "foot_deep": "1.2 m"},
                **{"gust": "6 m/s", "pull": "30 N", "moves": "2 mm", "ballast": "12 kg", "lee": "0.5 m"},
            },
        },
        {
            "head": {},
            "mode": {"readout": "5 ms", "data_rate": 400},
            "lens": T_LENS | {"pupil": [{"focal_length": "25 mm", "focus": "inf", **ROUGH}]},
        },
    ),
    "a pan to the left that climbs": (
        {
            "units": "imperial",
            "place": {
                **{"model": "13 ft 2 in", "model_near": "12 ft", "background": "210 ft", "lens_height": "6 ft"},
                **{"aim": "3 deg up", "fills": "frame", "feature_height": "30 ft"},
            },
            "move": {
                **{"axis": "pan left", "sweep": "12 deg", "start": "4 deg", "tilt_sweep": "5 deg up"},
                **{"screen_time": "6 s", "slide": "52 mm", "tolerance": 2},
            },
            "point": POINTS,
            "outline": [{"name": "gate house", "corners": [*CORNERS, ["3 m right", "0 m"]]}],
            "light": {"available": "1400 fc", "nd": 2},
            "bench": [{"slide": f"{at} mm", "slip_px": -px, "sweep": "6 deg"} for at, px in BENCHED],
        },
        {
            "head": {"tilt_drop": "70 mm", "tilt_ahead": "12 mm", "slide_step": "1/16 in"},
            "mode": {"readout": "8 ms"},
            "lens": {"squeeze": 2, "transmission_loss": 0.4, "pupil_magnification": 1.3},
        },
    ),
    "a tilt": (
        {
            **{"move.axis": "tilt", "move.sweep": "30 deg", "move.screen_time": "10 s", "move.slide": "100 mm"},
            **{"move.tolerance": 2, "place.model": "4.2 m", "place.lens_height": "4 m", "move.start": "3 deg"},
            **{"light.available": "2000 lx", "light.mains": 60},
        },
        {"head": TILT_HEAD},
    ),
    "a tilt that strays on the way": (
        {"move.axis": "tilt", "move.sweep": "30 deg", "move.slide": "107 mm", "move.screen_time": "9 s"},
        {"head": TILT_HEAD},
    ),
    "a tall tilt to a point above the frame": (
        {"move.axis": "tilt", "move.sweep": "60 deg", "move.screen_time": "30 s", "place.lens_height": "2 m"}
        | {"place.feature_height": "30 m", "place.aim": "2.345 deg up"},
        {"head": TILT_HEAD},
    ),
    "a tilt down, carried forward": (
        {
            **{"move.axis": "tilt down", "move.sweep": "9 deg", "move.travel": "40 mm forward", "move.slide": "55 mm"},
            **{"move.screen_time": "8 s", "place.lens_height": "3 m", "place.aim": "2 deg down"},
            "piece": [{"name": "fence", "ratio": "1:8", "stands": "6500 mm", "seems_at": "48030 mm"}],
        },
        {"head": TILT_HEAD, "mode": {"readout": "5 ms"}},
    ),
    "a track with pieces": (
        {
            **{"move.travel": "30 mm right", "move.screen_time": "12 s", "place.lens_height": "2 m"},
            "piece": [{"name": "fence", "ratio": "1:32"}, {"name": "shed", "ratio": "1:12", "stands": "5 m"}],
            "point": [*POINTS, {"name": "post", "distance": "30 m", "aside": "2 m right", "height": "2.5 m"}],
            "outline": [
                {"name": "porch", "corners": [*CORNERS, ["3 m right", "0 m"]], "piece": "shed"},
                {
                    "name": "hill",
                    "of": "place",
                    "corners": [["30 m left", "4 m"], ["9 m right", "9 m"]],
                    "closed": False,
                },
            ],
        },
        {},
    ),
    "misses read": (
        {
            "place": {"model": "4060 mm", "background": "64030 mm", "lens_height": "2 m", "aim": "1 deg up"},
            "point": [
                *POINTS,
                {"name": "sill", "frame_across": 0.31, "frame_up": "620 px", "model": "4 m"},
                {"name": "roof", "frame_across": "70 %", "frame_up": 0.55, "distance": "70 m"},
            ],
            "miss": [{"point": name, "across_px": right, "up_px": up} for name, right, up in MISSES],
        },
        {},
    ),
    "witness marks": (
        {
            "place.lens_height": "2 m",
            # the camera 40 mm right of where it was, 20 mm up, 60 mm forward; to the mm
            "witness": [
                {"name": "kerb", "distance": "5 m", "aside": "1 m left", "height": "0 m", "taped": "5477 mm"}
                | {"taped_now": "5438 mm"},
                {"name": "post", "distance": "9 m", "aside": "2 m right", "height": "3 m", "taped": "9274 mm"}
                | {"taped_now": "9205 mm", "frame_across_now": 0.7759, "frame_up_now": 0.7759},
                {"name": "wall", "distance": "-2 m", "aside": "3 m left", "height": "1 m", "taped": "3742 mm"}
                | {"taped_now": "3811 mm"},
                {"name": "gate", "distance": "20 m", "aside": "3 m left", "height": "2 m"}
                | {"frame_across_now": 0.3085, "frame_up_now": 0.4975},
            ],
        },
        {},
    ),
    "the day, by the sun": (
        {
            "place.lens_height": "1.5 m",
            "sun": SUN | {"sun_seen": "12 deg left", "sun_time": "19:50", "plate_time": "2026-05-03 19:10"},
            "light": {"available": "900 lx", "at_background": "1500 lx", "kelvin": 5600, "kelvin_at_background": 4300},
            "action": {"kind": "falling", "fall": "60 ft", "swing": "9 m", "topple": "18 m", "screen_time": "4 s"},
            "cue": [{"name": "drop", "screen": "1 s"}, {"name": "smoke off", "screen": "4.5 s"}],
        },
        {},
    ),
    "lamps on mains": (
        {
            "lamp": [
                {"name": "key", "gives": "2000 lx", "at": "3 m", "stands": "2.4 m", "size": "0.5 m", "number": 2},
                {"name": "back", "gives": "900 lx", "at": "4 m", "stands": "3 m", "loss": 0.5, "depth": 0.4},
                {"name": "far", "gives": "900 lx", "at": "4 m", "pulse": 1000, "depth": 0.9, "size": "20 mm"},
            ],
            "light": {"available": "300 lx", "mains": 50, "kelvin": 3200, "iso": 1600},
            "action": {"kind": "still", "fps": 48, "shutter": "172.8 deg"},
            "place.model_near": "3.6 m",
        },
        {"mode": {"readout": "7 ms"}},
    ),
    "fire, water and smoke": (
        {
            "action": {"kind": "fire, water, smoke", "fire_width": "9 ft", "screen_time": "3 s", "heft": 0.9},
            "scale": {"ratio": "1:12", "compare": "1:10", "kerf": "4 mm", "card": "600 mm"},
            "build": [
                {"part": "wall", "real": "12 m", "wide": "12 m", "deep": "0.3 m", "tall": "3 m", "quantity": 2}
                | {"material": "ply", "density": "600 kg/m3", "solid": 0.8},
                {"part": "post", "real": "2.4 m", "quantity": 9, "pitch": "1.5 m", "material": "ply"},
                {"part": "wire", "real": "3 mm"},
            ],
            "stock": [{"item": "card", "size": "1.5 mm"}, {"item": "rod", "size": "5 mm"}],
            "place.lens_height": "2 m",
        },
        {"mode": {"fps": {"min": 1, "max": 200}}},
    ),
    "a zoom, surveyed in feet": (
        {
            "units": "imperial",
            "kit.focal_length": "37.123 mm",
            "place": {"model": "13 ft", "background": "200 ft", "background_far": "inf", "lens_height": "5 ft"}
            | {"aim": "4 deg up"},
            "survey": [
                {"name": "tower", "frame_share": 0.22, "feature_width": "46 ft", "visibility": "5 mi"},
                {"name": "mill", "frame_share": "30 %", "share_of": "height", "feature_height": "60 ft"},
                {"name": "barn", "elevation": "9.5 deg", "feature_height": "40 ft", "visibility": "9 km"}
                | {"visibility_by": "2 %"},
                {"name": "elm", "elevation": "8 deg", "model": "14 ft"},
                {"name": "gable", "frame_share": 0.2, "share_of": "height"},
                {"name": "spire", "frame_share": 0.1, "feature_width": "20 ft", "elevation": "8 deg"}
                | {"feature_height": "90 ft", "lens_height": "6 ft"},
            ],
        },
        {"lens": {**ZOOM, "smallest": "f/32"}},
    ),
    "a bench by eye": (
        {
            "move": {"axis": "pan", "sweep": "8 deg", "slide": "70 mm", "screen_time": "9 s"},
            "place.aim": "2 deg up",
            "bench": [
                {"slide": "40 mm", "seen": "lags"},
                {"slide": "75 mm", "seen": "outruns"},
                {"slide": "58 mm", "seen": "locked"},
            ],
        },
        {"head": {}},
    ),
    "a bench by the tape": (
        {
            "place.aim": "2 deg up",
            "move": {"axis": "pan", "sweep": "8 deg", "slide": "70 mm", "screen_time": "9 s"},
            "bench": [
                *(
                    {"slide": f"{at} mm", "slip_at_background": f"{mm} mm"}
                    for at, mm in ((40, -24), (50, -13), (70, 11))
                ),
                {"slide": "80 mm", "slip_at_background": "-22 mm"},
                {"slide": "90 mm", "slip_at_background": "35 mm", "sweep": "9 deg", "model": "3 m"},
                {"slide": "95 mm", "slip_px": 3, "lens": "another-lens"},
            ],
        },
        {"head": {}, "lens": {"pupil": []}},
    ),
    "sharpness as measured": (
        {"focus": {"sharpness": "measured", "distance": "6.8 m", "stop": "f/5.6"}, "light.available": "12000 lx"},
        {"mode": MEASURED},
    ),
    "no stop holds it": (
        {"place.model_near": "900 mm", "place.background_far": "inf", "focus.sharpness": "1.5 px"},
        {},
    ),
    "everything left open": (
        {"scale.ratio": None, "place.model": None, "place.lens_height": "2 m", "place.mount": "hangs"},
        {"mode": {"fps": {"min": 1, "max": 400}}},
    ),
    "a background at infinity": (
        {"place.background": "inf", "place.seems_at": "90 m", "move.axis": "pan", "move.sweep": "10 deg"}
        | {"move.slide": "63 mm", "place.lens_height": "2 m", "point": POINTS},
        {"head": {}},
    ),
    "too heavy, and too dark": (
        {
            "action.fps": 48,
            "place.model": "3530 mm",
            "focus.stop": "f/8",
            "light.mains": 50,
            "light.available": "900 lx",
        },
        {},
    ),
}


def _of_plain(changes: Table, kit: Table) -> Solved:
    return shot(changes), solve(changes, **kit)


def _of_file(name: str) -> Solved:
    return answer_file(shipped("shots", name))


PLAIN = "plain"
WHOLE: dict[str, Callable[[], Solved]] = {
    PLAIN: partial(_of_plain, {}, {}),
    **{name: partial(_of_file, name) for name in ("kiln-stack", "lock-gate", "signal-lamp")},
    **{name: partial(_of_plain, *table) for name, table in MANY.items()},
}
OF_FINDINGS: dict[str, Callable[[], Solved]] = {
    f"{number:03} {one.code}": partial(_of_plain, one.changes, one.kit) for number, one in enumerate(SHOWN)
}
SHOTS = WHOLE | OF_FINDINGS
