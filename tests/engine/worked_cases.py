"""The shots that are worked by hand: the three shipped ones, and one for each turn that a shot can take.

Each stands here twice: as files hold it, and as the plain numbers that a person would copy from those files.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from by_hand import Given, Head
from cases import LEVEL, again, shipped, solve

from forescale.engine.answer import Answer, answer_file
from forescale.engine.shot import edit

FOOT, INCH = 304.8, 25.4


@dataclass(frozen=True)
class Case:
    """How the program is asked, and what the person has."""

    answer: Callable[[], Answer]
    given: Given


def stops(first: int, last: int) -> tuple[float, ...]:
    """Return the exact third-stop marks, counted in thirds of a stop from 1."""
    return tuple(2 ** (third / 6) for third in range(first, last + 1))


def from_file(name: str, given: Given) -> Case:
    def level() -> Answer:
        found = answer_file(shipped("shots", name))[1]
        return again(found, edit.changed(found.setting, LEVEL))

    return Case(level, given)


# The shipped shots. T1.5 lies nearest the third 1.587, four thirds from 1; T22 is 22.63, 27 thirds from 1.
KILN = Given(
    width=16.6,
    height=9.35,
    pixels=2048,
    lines=1152,
    rates=(24, 25, 30, 48, 50, 60, 72, 75, 96, 100, 120),
    iso=800,
    readout=0.005,
    data_rate=420,
    focal=35,
    marks="T",
    stops=stops(4, 27),
    loss=0.3,
    close_focus=350,
    pupils=((35, math.inf, 23.4), (35, 4 * FOOT, 25.8)),
    head=Head(sensor_at_zero=-86),
    ratio=24,
    kind="falling",
    screen_time=6,
    shutter=180,
    model=10 * FOOT,
    near=9 * FOOT + 4 * INCH,
    background=240 * FOOT,
    far=300 * FOOT,
    lens_height=5 * FOOT,
    feature_height=20 * FOOT,
    available=20000,
    axis="pan",
    sweep=15,
    move_time=5,
    slide=63,
    bench=((40, -8), (55, -3), (70, 3), (85, 9)),
)
# T1.6 is 1.587, T22 is 22.63 and T8 is 8 exactly.
LOCK = Given(
    width=16.6,
    height=9.35,
    pixels=2048,
    lines=1152,
    rates=KILN.rates,
    iso=800,
    readout=0.005,
    data_rate=420,
    focal=25,
    marks="T",
    stops=stops(4, 27),
    loss=0.3,
    close_focus=300,
    pupils=((25, math.inf, 31),),
    head=Head(sensor_at_zero=-86),
    ratio=8,
    kind="water",
    playback=25,
    screen_time=4,
    model=4530,
    near=4100,
    background=36000,
    lens_height=1500,
    feature_height=3000,
    f_number=8 / 2**0.15,
    available=9000,
    mains=50,
)
SIGNAL = Given(
    width=24,
    height=13.5,
    pixels=4000,
    lines=2250,
    rates=(24, 25, 30, 50, 60),
    iso=640,
    readout=0.012,
    data_rate=520,
    focal=35,
    marks="T",
    stops=stops(4, 27),
    loss=0.3,
    close_focus=350,
    pupils=KILN.pupils,
    ratio=12,
    kind="still",
    screen_time=8,
    model=4000,
    background=48000,
    available=800,
)

# The plain shot of `cases.py`: f/2 to f/22 is 6 to 27 thirds of a stop.
PLAIN = Given(
    width=20,
    height=10,
    pixels=2000,
    lines=1000,
    rates=(24, 25, 48, 96, 120),
    iso=800,
    focal=25,
    marks="f",
    stops=stops(6, 27),
    close_focus=300,
    pupils=((25, math.inf, 30), (25, 300, 30)),
    ratio=16,
    kind="falling",
    model=4030,
    background=64030,
)
TILT_HEAD = {"tilt_drop": "120 mm", "tilt_ahead": "15 mm", "sensor_at_zero": "-90 mm"}
ZOOM: Mapping[str, Any] = {
    "focal_length": None,
    "focal_min": "24 mm",
    "focal_max": "80 mm",
    "close_focus": "700 mm",
    "pupil": [
        {"focal_length": "24 mm", "focus": "inf", "ahead": "62 mm"},
        {"focal_length": "24 mm", "focus": "1 m", "ahead": "64 mm"},
        {"focal_length": "50 mm", "focus": "inf", "ahead": "41 mm"},
        {"focal_length": "50 mm", "focus": "2 m", "ahead": "47 mm"},
        {"focal_length": "80 mm", "focus": "inf", "ahead": "-12 mm"},
    ],
}
ZOOM_ROWS = ((24, math.inf, 62), (24, 1000, 64), (50, math.inf, 41), (50, 2000, 47), (80, math.inf, -12))


def plain(changes: Mapping[str, Any], given: Mapping[str, Any], **kit: Mapping[str, Any]) -> Case:
    """Return the plain shot changed in the files and in the person's notes alike."""
    return Case(lambda: solve(changes, **kit), replace(PLAIN, **given))


T_MARKED = {"marks": "T", "widest": "T2", "smallest": "T22", "transmission_loss": 0.5}

CASES: dict[str, Case] = {
    "kiln stack": from_file("kiln-stack", KILN),
    "lock gate": from_file("lock-gate", LOCK),
    "signal lamp": from_file("signal-lamp", SIGNAL),
    "plain": plain({}, {}),
    "T marks": plain({"light.available": "30000 lx"}, {"marks": "T", "loss": 0.5, "available": 30000}, lens=T_MARKED),
    "f marks and a loss": plain({}, {"loss": 0.7}, lens={"transmission_loss": 0.7}),
    "an f-stop on a T-marked lens": plain(
        {"focus.stop": "f/8"}, {"marks": "T", "loss": 0.5, "f_number": 8}, lens=T_MARKED
    ),
    "a T-stop on an f-marked lens": plain(
        {"focus.stop": "T8"}, {"loss": 0.7, "f_number": 8 / 2**0.35}, lens={"transmission_loss": 0.7}
    ),
    "a stop as measured": plain({"focus.stop": "f/=13.0"}, {"f_number": 13}),
    "close to the lens": plain(
        {"place.model": "185 mm", "place.background": "2430 mm", "light.available": "900 fc"},
        {"model": 185, "background": 2430, "available": 900 / 0.3048**2, "close_focus": 150},
        lens={"close_focus": "150 mm"},
    ),
    "nearer than close focus": plain(
        {"place.model": "200 mm", "place.background": "2430 mm"},
        {"model": 200, "background": 2430, "close_focus": 600},
        lens={"close_focus": "600 mm"},
    ),
    "pupil unknown": plain(
        {"move.axis": "pan", "move.sweep": "10 deg", "move.slide": "40 mm"},
        {"pupils": (), "axis": "pan", "sweep": 10, "slide": 40, "head": Head(-90)},
        lens={"pupil": []},
        head={},
    ),
    "pupil far ahead, pan": plain(
        {"move.axis": "pan", "move.sweep": "20 deg", "move.slide": "10 mm", "move.tolerance": 2},
        {"pupils": ((25, math.inf, 140),), "axis": "pan", "sweep": 20, "slide": 10, "head": Head(-90), "passing": 2},
        lens={"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": "140 mm"}]},
        head={},
    ),
    "squeezed, pan": plain(
        {
            "move.axis": "pan",
            "move.sweep": "12 deg",
            "move.slide": "40 mm",
            "move.screen_time": "9 s",
            "survey.frame_share": 0.2,
        },
        {"squeeze": 2, "axis": "pan", "sweep": 12, "slide": 40, "move_time": 9, "share": 0.2, "head": Head(-90)}
        | {"readout": 0.005},
        mode={"readout": "5 ms"},
        lens={"squeeze": 2},
        head={},
    ),
    "squeezed, tilt": plain(
        {"move.axis": "tilt", "move.sweep": "12 deg", "move.slide": "40 mm"},
        {"squeeze": 2, "axis": "tilt", "sweep": 12, "slide": 40, "head": Head(-90), "readout": 0.008},
        mode={"readout": "8 ms"},
        lens={"squeeze": 2},
        head={},
    ),
    "zoom between the rows": plain(
        {"kit.focal_length": "37 mm"}, {"focal": 37, "pupils": ZOOM_ROWS, "close_focus": 700}, lens=ZOOM
    ),
    "zoom towards a pupil behind the sensor": plain(
        {"kit.focal_length": "75 mm"}, {"focal": 75, "pupils": ZOOM_ROWS, "close_focus": 700}, lens=ZOOM
    ),
    "tilt about an axis below and ahead": plain(
        {"move.axis": "tilt", "move.sweep": "8 deg", "move.slide": "85 mm", "move.tolerance": 40},
        {"axis": "tilt", "sweep": 8, "slide": 85, "passing": 40, "head": Head(-90, drop=120, ahead=15)},
        head=TILT_HEAD,
    ),
    "tilt that strays on the way": plain(
        {"move.axis": "tilt", "move.sweep": "30 deg", "move.slide": "107 mm"},
        {"axis": "tilt", "sweep": 30, "slide": 107, "head": Head(-90, drop=120, ahead=15)},
        head=TILT_HEAD,
    ),
    "tilt down about an axis below and ahead": plain(
        {"move.axis": "tilt down", "move.sweep": "8 deg", "move.slide": "85 mm", "move.tolerance": 5},
        {"axis": "tilt down", "sweep": 8, "slide": 85, "passing": 5, "head": Head(-90, drop=120, ahead=15)},
        head=TILT_HEAD,
    ),
    "pan on a head with a tilt axis": plain(
        {"move.axis": "pan", "move.sweep": "8 deg", "move.slide": "55 mm"},
        {"axis": "pan", "sweep": 8, "slide": 55, "head": Head(-90, drop=120, ahead=15)},
        head=TILT_HEAD,
    ),
    "a sweep and no axis": plain(
        {"move.sweep": "8 deg", "move.slide": "55 mm"}, {"sweep": 8, "slide": 55, "head": Head(-90)}, head={}
    ),
    "an axis and no sweep": plain(
        {"move.axis": "pan", "move.slide": "55 mm"}, {"axis": "pan", "slide": 55, "head": Head(-90)}, head={}
    ),
    "pan with no slide set": plain(
        {"move.axis": "pan", "move.sweep": "8 deg"}, {"axis": "pan", "sweep": 8, "head": Head(-90)}, head={}
    ),
    "pan with no head": plain({"move.axis": "pan", "move.sweep": "8 deg"}, {"axis": "pan", "sweep": 8}),
    "background at infinity": plain(
        {"place.background": "inf", "move.axis": "pan", "move.sweep": "10 deg", "move.slide": "63 mm"},
        {"background": math.inf, "axis": "pan", "sweep": 10, "slide": 63, "head": Head(-90)},
        head={},
    ),
    "focus at infinity": plain({"focus.distance": "inf"}, {"focus": math.inf}),
    "focus and stop set": plain(
        {"focus.distance": "5 m", "focus.stop": "f/11", "focus.sharpness": "0.02 mm"},
        {"focus": 5000, "f_number": 2**3.5, "coc": 0.02},
    ),
    "sharpness in pixels": plain({"focus.sharpness": "1.5 px"}, {"coc": 0.015}),
    "no stop holds it": plain(
        {"place.model_near": "900 mm", "place.background_far": "inf"}, {"near": 900, "far": math.inf}
    ),
    "model left out": plain({"place.model": None}, {"model": None}),
    "ratio left out, places taped": plain(
        {"scale.ratio": None, "place.model": "4100 mm"}, {"ratio": None, "model": 4100}
    ),
    "ratio and model left out, the rate decides": plain(
        {"scale.ratio": None, "place.model": None}, {"ratio": None, "model": None}
    ),
    "ratio and model left out, the close focus decides": plain(
        {"scale.ratio": None, "place.model": None, "place.background": "20 m"},
        {"ratio": None, "model": None, "background": 20000, "close_focus": 2500},
        lens={"close_focus": "2500 mm"},
    ),
    "ratio and model left out, with heft": plain(
        {"scale.ratio": None, "place.model": None, "action.heft": 1.3}, {"ratio": None, "model": None, "heft": 1.3}
    ),
    "any whole rate": plain(
        {"scale.ratio": "1:12", "action.kind": "smoke"},
        {"ratio": 12, "kind": "smoke", "rates": (1, 200), "whole_rates": True},
        mode={"fps": {"min": 1, "max": 200}},
    ),
    "whole rates that end too soon": plain(
        {}, {"rates": (1, 59.94), "whole_rates": True}, mode={"fps": {"min": 1, "max": 59.94}}
    ),
    "rates that end too soon": plain({"scale.ratio": "1:48"}, {"ratio": 48}),
    "rate set, with heft": plain(
        {"action.fps": 60, "action.heft": 0.8, "action.playback_fps": 25, "scale.compare": "1:24"},
        {"fps": 60, "heft": 0.8, "playback": 25, "compare": 24},
    ),
    "driven": plain(
        {"action.kind": "driven", "action.real_speed": "30 mph", "action.fps": 48, "action.screen_time": "7 s"},
        {"kind": "driven", "real_speed": 30 * 5280 * FOOT / 3600, "fps": 48, "screen_time": 7},
    ),
    "lamps that flicker": plain(
        {"action.kind": "still", "light.mains": 50, "light.available": "100 lx", "light.iso": 1600},
        {"kind": "still", "mains": 50, "available": 100, "iso": 1600},
    ),
    "lamps and a flicker-free shutter": plain(
        {"action.kind": "still", "light.mains": 60, "action.shutter": "144 deg"},
        {"kind": "still", "mains": 60, "shutter": 144},
    ),
    "lamps and a flicker-free rate": plain(
        {"action.fps": 120, "light.mains": 60, "action.shutter": "100 deg"}, {"fps": 120, "mains": 60, "shutter": 100}
    ),
    "lamps and a frame too short for a pulse": plain({"action.fps": 120, "light.mains": 50}, {"fps": 120, "mains": 50}),
    "everything surveyed": plain(
        {
            "place.lens_height": "1.5 m",
            "place.feature_height": "30 m",
            "survey.frame_share": 0.22,
            "survey.feature_width": "14 m",
            "survey.elevation": "9.5 deg",
            "survey.visibility": "8 km",
        },
        {
            "lens_height": 1500,
            "feature_height": 30000,
            "share": 0.22,
            "feature_width": 14000,
            "elevation": 9.5,
            "visibility": 8e6,
        },
    ),
    "seen from above": plain(
        {"place.lens_height": "20 m", "place.feature_height": "3 m", "survey.elevation": "-9.5 deg"},
        {"lens_height": 20000, "feature_height": 3000, "elevation": -9.5},
    ),
}
