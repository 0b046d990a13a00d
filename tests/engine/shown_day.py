"""Findings on sun, lamps, flames and what is timed: see `shown.py`."""

from __future__ import annotations

from shown import Shown

# 51.2° N, 2.4° W on midsummer's day at 10:30 UTC +1, by an ephemeris: the sun at 116.46°, 48.44° up.
SUN = {
    "sun.latitude": "51.2 deg N",
    "sun.longitude": "2.4 deg W",
    "sun.date": "2026-06-21",
    "sun.time": "10:30",
    "sun.utc_offset": "+1 h",
}
# At 20:30 it stands at 299.5°, 6.8° up: low enough for the frame and for long shadows.
LOW = SUN | {"sun.time": "20:30", "place.lens_height": "1.5 m"}
PLATE = SUN | {"sun.plate_time": "2026-05-03 10:10"}
KEY = {"name": "key", "gives": "2000 lx", "at": "3 m", "stands": "2 m"}

DAY = [
    Shown("sun-open", "note", {"sun.date": "2026-06-21", "sun.time": "10:30"}, ("latitude",), SUN),
    Shown("sun-down", "note", SUN | {"sun.time": "23:30"}, ("rises at 04:54", "sets at 21:29"), {"sun.time": "12:00"}),
    Shown("sun-in-frame", "warn", LOW | {"sun.facing": "305 deg"}, ("ahead",), {"sun.facing": "200 deg"}),
    # 20 mm of frame at 25.08 mm see 21.7° to either side; a pan of 30° goes past a sun 40° to the right.
    Shown(
        "sun-in-frame",
        "warn",
        LOW | {"sun.facing": "265 deg", "move.axis": "pan", "move.sweep": "30 deg", "move.screen_time": "40 s"},
        ("in the move",),
        {"sun.facing": "345 deg"},
    ),
    Shown("caution-sun", "note", LOW | {"sun.facing": "300 deg"}, ("burns eyes",), {"sun.facing": "200 deg"}),
    # Straight behind: at 4 m a rig of 1.9 m throws its shadow up to 1.9 − 4·tan 6.8° m.
    Shown(
        "rig-shadow",
        "warn",
        LOW | {"sun.facing": "125 deg", "sun.rig_height": "1.9 m"},
        ("shadow", "up"),
        {"sun.facing": "40 deg"},
    ),
    # The plate's sun (118.82°, 40.13°) is missed by 7.71° at 10:15.
    Shown(
        "light-never-matches",
        "warn",
        PLATE,
        ("7.71 deg at 10:15", "in 30 days the best is 2026-07-21, by 4.7 deg"),
        {"sun.date": "2026-05-05"},
    ),
    Shown(
        "light-not-now",
        "warn",
        PLATE | {"sun.date": "2026-05-05", "sun.time": "13:00"},
        ("At 13:00",),
        {"sun.time": "10:10"},
    ),
    Shown(  # a sun that is up at midnight: what lies within reaches the day's end
        "light-not-now",
        "warn",
        SUN | {"sun.latitude": "69.6 deg N", "sun.time": "12:00", "sun.plate_time": "2026-06-21 23:58"},
        ("At 12:00", "23:37 to 24:00", "at 00:09"),
        {"sun.time": "23:48"},
    ),
    # log2(30000/20000) = 0.585
    Shown(
        "light-differs",
        "warn",
        {"light.available": "20000 lx", "light.at_background": "30000 lx"},
        ("0.58 stops", "background gets"),
        {"light.at_background": "24000 lx"},
    ),
    Shown(
        "light-differs",
        "warn",
        {"light.available": "30000 lx", "light.at_background": "20000 lx"},
        ("0.58 stops", "model gets"),
        {"light.at_background": "25000 lx"},
    ),
    # 10⁶/4300 − 10⁶/5600 = 53.99
    Shown(
        "colour-differs",
        "warn",
        {"light.kelvin": 5600, "light.kelvin_at_background": 4300},
        ("4300 K, is 54 mireds warmer than the 5600 K",),
        {"light.kelvin_at_background": 5500},
    ),
    Shown("lamp-near", "note", {"lamp": [KEY | {"size": "0.5 m"}]}, ("2.5 m",), {"lamp": [KEY | {"size": "0.3 m"}]}),
    # 2·log2(2.5/2) = 0.64 with half a metre of depth
    Shown(
        "lamp-falls-off",
        "note",
        {"lamp": [KEY], "place.model_near": "3530 mm"},
        ("0.64 stops",),
        {"lamp": [KEY | {"stands": "12 m"}]},
    ),
    # 2 m / 108 = 18.5 mm
    Shown("lamp-soft", "note", {"lamp": [KEY | {"size": "0.3 m"}]}, ("18.5 mm",), {"lamp": [KEY | {"size": "20 mm"}]}),
    Shown("caution-lamps", "note", {"lamp": [KEY]}, ("high power",), {"lamp": []}),
    Shown("mains-missing", "note", {"lamp": [KEY]}, ("not judged", "50 or 60"), {"light.mains": 50}),
    Shown("mains-missing", "note", {"lamp": [KEY]}, ("not judged",), {"lamp": [KEY | {"depth": 0}]}),
    # 9 ft at 1:16: 0.85 and 0.11
    Shown(
        "flame-dim",
        "note",
        {"action.kind": "fire", "action.fire_width": "9 ft"},
        ("85 %", "11 %", "2.9 stops"),
        {"action.fire_width": None},
    ),
    Shown("background-slow", "note", {}, ("4 times too slow", "none can beyond about 2"), {"action.fps": 24}),
    # √(2·18.288/9.80665)/4·4 = 1.931 s on screen at the ideal rate
    Shown(
        "fall-cut",
        "warn",
        {"action.fall": "60 ft", "action.screen_time": "1.5 s"},
        ("1.93 s",),
        {"action.fall": "30 ft"},
    ),
    Shown("topple-whole", "note", {"action.topple": "60 ft"}, ("0.627 s",), {"action.topple": None}),
    Shown(
        "cue-late",
        "warn",
        {"cue": [{"name": "drop", "screen": "6 s"}]},
        ('"drop"', "6 s", "5 s"),
        {"cue": [{"name": "drop", "screen": "2 s"}]},
    ),
]
