"""Findings on scale, speed and light, each in a shot made for it."""

from __future__ import annotations

from typing import Any

from shown import PAN, Shown

SEEN: dict[str, Any] = {"survey.frame_share": 0.2, "survey.feature_width": "10 m", "survey.nearer_by": "20 m"}

SCALE_AND_SPEED = [
    # Scale. 64/3.8 is 16.84, 5 % over 16; 64/3.5 is 18.29, 14 % over; 64/4.4 is 14.55, 9 % under; 64/4.05 is 1 % under.
    Shown(
        "ratio-chosen",
        "note",
        {"scale.ratio": None},
        ("1:16 was", "the taped places ask for it", "4.03 m"),
        {"scale.ratio": "1:16"},
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
        ("At 3.83 m", "as 1:16.8", "at 64.03 m", "5.3 % too large for 1:16", "stand it at 4.03 m"),
        {"place.model": "4080 mm"},
    ),
    Shown(
        "size-mismatch", "stop", {"place.model": "3530 mm"}, ("1:18.3", "14 % too large"), {"place.model": "3980 mm"}
    ),
    Shown(
        "size-mismatch", "warn", {"place.model": "4430 mm"}, ("1:14.5", "9.1 % too small"), {"scale.ratio": "1:14.6"}
    ),
    Shown(
        "lens-height-missing", "note", {"place.feature_height": "3 m"}, ("tape the lens",), {"place.lens_height": "1 m"}
    ),
    Shown(
        "cover-endless",
        "warn",
        PAN | {"move.sweep": "64 deg", "place.fills": "frame"},
        ("85 deg",),
        {"move.sweep": "63 deg"},
    ),
    Shown(
        "cover-wider",
        "note",
        PAN | {"build": [{"part": "wall", "real": "16 m"}], "place.fills": "frame"},
        ("4.069 m across", "built is 1 m"),  # 4 m · (tan 21.74° + tan 31.74°); 16 m / 16
        {"build": [{"part": "wall", "real": "66 m"}]},
    ),
    Shown(
        "over-frame",
        "note",
        {"build": [{"part": "wall", "real": "26 m"}]},
        ("built is 1.625 m", "holds 1.595 m of"),  # 10 mm · 4 m / 25.083 mm
        {"build": [{"part": "wall", "real": "25 m"}]},
    ),
    Shown(
        "meet-out-of-frame",
        "warn",
        {"place.lens_height": "2 m", "place.feature_height": "20 m"},
        (
            "328 mm above the frame",
            "aim it 4.6 deg up",
        ),  # 18/16 − 1.595/2 m; atan(1.125/4) − 0.99·atan(0.797/4) = 4.55°
        {"place.feature_height": "14 m"},
    ),
    Shown(
        "meet-out-of-frame",
        "warn",
        {"place.lens_height": "20 m", "place.feature_height": "2 m"},
        ("328 mm below the frame", "aim it 4.6 deg down"),
        {"place.feature_height": "8 m"},
    ),
    Shown(
        "meet-leaves-frame",
        "note",
        PAN | {"move.axis": "tilt down", "place.lens_height": "2 m", "place.feature_height": "10 m"},
        ("after 4.1 deg of 10 deg",),  # atan(0.797/4) − atan(0.5/4) = 11.27° − 7.13°
        {"move.sweep": "4 deg"},
    ),
    Shown(
        "meet-leaves-frame",
        "note",
        PAN | {"move.axis": "tilt", "place.lens_height": "10 m", "place.feature_height": "2 m"},
        ("after 4.1 deg of 10 deg",),
        {"move.axis": "tilt down"},
    ),
    Shown(
        "air",
        "note",
        {"survey.visibility": "8 km"},
        ("Over 64.03 m the air leaves 98 %", "paint 2.4 %"),  # exp(−2.996 · 64 / 8000) = 0.9763
        {"survey.visibility": "20 km"},
    ),
    Shown(
        "survey-stale",
        "warn",
        {"survey.frame_share": 0.2, "survey.feature_width": "9.57 m"},
        ("puts it at 60.04 m ± 1.2", "taped at 64.03 m"),  # 9.57 · 25.083 / (0.2 · 20) = 60.01 m from the pupil
        {"survey.feature_width": "10.2 m"},  # 63.96 m
    ),
    Shown(
        "survey-moved",
        "note",
        {"survey.frame_share": 0.2, "survey.background": "70 m"},
        ("read before the background was re-measured", "count it as read from here"),
        {"survey.background": "64030 mm"},
    ),
    Shown(
        "survey-fault",
        "warn",
        {"survey.frame_share": 0.2, "survey.lens": "sold-lens"},
        ('no lens is called "sold-lens"',),
        {"survey.lens": None},
    ),
    # Speed
    Shown("rate-missing", "stop", {"action.fps": 100}, ("no 100 fps", "set 96 fps"), {"action.fps": 96}),
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
        ("At 80 fps", "1.44 times", "looks small", "top of plain-mode, 80 fps, serves 1:11.1 at most"),  # 16 / 3.33²
        {},
        {"mode": {"fps": [24, 80]}},
        {"mode": {"fps": [24, 90]}},  # 16 / 3.75² = 1.14
    ),
    Shown(
        "rate-low",
        "stop",
        {"action.fps": 48, "scale.ratio": "1:12", "place.model": None},
        ("3 times as hard", "1:12 needs 83.14 fps", "set 96 fps"),
        {"action.fps": 96},
    ),
    Shown(
        "rate-chosen",
        "note",
        {"scale.ratio": "1:12", "place.model": None},
        ("96 fps is the lowest", "ideal 83.14", "0.75 times as hard", "48 fps would fall 3 times"),  # 12/4², 12/2²
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
        ("0.48 times", "83.14 fps is right", "set 96 fps"),
        {"action.fps": 96},
    ),
    Shown(
        "gravity-as-read",
        "note",
        {"place.model": "9.17 m"},  # 64 m / 9.14 m is 7, and 7/4² of real
        ("reads as 1:7", "0.438 times as hard"),
        {"place.model": "4030 mm"},
    ),
    Shown("real-speed-missing", "note", {"action.kind": "driven"}, ("speed",), {"action.real_speed": "30 mph"}),
    Shown(
        "judder",
        "note",
        PAN | {"move.sweep": "30 deg", "move.screen_time": "3 s"},
        ("in 4.3 s", "will judder", "from about 7 s", "take 4.9 s"),  # 3 s · 43.47°/30°; 3 s · 7 / 4.347 = 4.83
        {"move.screen_time": "4.9 s"},
    ),
    Shown(
        "judder",
        "note",
        PAN | {"move.sweep": "30 deg", "move.screen_time": "4.5 s"},
        ("in 6.5 s", "may judder"),  # 4.5 s · 43.47°/30°; soft from 0.95 · 7 = 6.65 s down
        {"move.screen_time": "4.6 s"},
    ),
    Shown(
        "judder",
        "note",
        PAN | {"move.sweep": "30 deg", "move.screen_time": "1.5 s", "action.playback_fps": 48, "action.kind": "still"},
        ("in 2.2 s", "will judder", "from about 3.5 s"),  # 7 s · 24/48
        {"move.screen_time": "2.3 s"},
    ),
    Shown(
        "move-longer",
        "note",
        PAN | {"move.screen_time": "41 s", "action.screen_time": "6 s"},
        ("takes 41 s on the screen", "than the 6 s of the action"),
        {"action.screen_time": "41 s"},
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
        ("0.6 stops short", "ISO 1250"),  # 800 · 1.534 = 1227, and the next that cameras have
        {"light.iso": 1250},
    ),
    Shown(
        "light-short",
        "stop",
        {"light.available": "100 lx"},
        ("3.9 stops short", "ISO 3200", "add light until the meter reads 1530 lx"),
        {"light.available": "1534 lx"},
    ),
    Shown(
        "light-over",
        "warn",
        {"light.available": "3000 lx"},
        ("1.0 stop over", "1 stop (ND 0.3)"),
        {"light.available": "2000 lx"},
    ),
    Shown("iso-missing", "stop", {"light.iso": 6400}, ("to ISO 3200", "to ISO 6400"), {"light.iso": 3200}),
    Shown(
        "flicker",
        "warn",
        {"action.kind": "still", "light.mains": 50},
        ("50 Hz", "all light taken for theirs", "at 24 fps", "by 0.057 stops", "set a shutter of 172.8 deg"),
        {"action.shutter": "172.8 deg"},
    ),
    Shown(
        "flicker",
        "warn",
        {"action.kind": "still", "action.fps": 48, "light.mains": 50},
        ("set a shutter of 172.8 deg",),
        {"action.fps": 50},
        {"mode": {"fps": [24, 25, 48, 50]}},
    ),
    Shown(
        "flicker",
        "warn",
        {"action.fps": 120, "light.mains": 50},
        ("at 120 fps", "take lamps"),  # a frame at 120 fps is shorter than a pulse, and at 25 all is a toy
        {"light.mains": 60},
    ),
    Shown(
        "flicker",
        "warn",
        {"scale.ratio": "1:8", "place.model": None, "action.fps": 72, "light.mains": 50},
        ("set a shutter of 259.2 deg",),  # at 50 and 100 fps it would fall 1.84 and 0.46 times as hard
        {"action.fps": 100},
        {"mode": {"fps": [24, 25, 50, 72, 100]}},
    ),
    Shown(
        "bands",
        "note",
        {"action.fps": 120, "light.mains": 60, "action.kind": "still"},
        ("60 Hz", "up to 0.95 stops", "not known"),  # at 1/240 s half of a pulse: 0.5 · 2/π either way
        {},
        {},
        {"mode": {"readout": "0 ms"}},
    ),
    Shown("surface-tension", "note", {"action.kind": "water"}, ("43.6 mm",), {"action.kind": "still"}),
    Shown("flame", "note", {"action.kind": "fire"}, ("0.98 kW",), {"action.kind": "still"}),
    Shown("smoke-curl", "note", {"action.kind": "smoke"}, ("64 times",), {"action.kind": "still"}),
    Shown(  # 10 m · 25.083 / 4 are 62.71 m from the pupil; 20 m · 0.25 / (0.25 - 0.2) at 100 m, give or take 11.8 m
        "survey-gainsaid",
        "warn",
        SEEN | {"survey.elevation": "11.31 deg", "survey.elevation_nearer": "14.036 deg"},
        ("at 62.74 m by share", "at 100.04 m by two elevations", "counts by share"),
        {"survey.elevation": "17.69 deg", "survey.elevation_nearer": "25.1 deg"},
    ),
    Shown(  # 62.71 · tan 17.69° are 20 m over the lens; 24 m over it are as high from 24/20 · 62.71 = 75.25 m, ± 1.1 m
        "survey-gainsaid",
        "warn",
        SEEN | {"survey.elevation": "17.69 deg", "survey.feature_height": "26 m", "place.lens_height": "2 m"},
        ("at 62.74 m by share", "at 75.28 m by height", "counts by share"),
        {"survey.feature_height": "22 m"},
    ),
    Shown(  # 100 m, give or take 11.8 m; 30 m over the lens are as high from 30 / 0.2 = 150 m, give or take 3.4 m
        "survey-gainsaid",
        "warn",
        {"survey.elevation": "11.31 deg", "survey.elevation_nearer": "14.036 deg", "survey.nearer_by": "20 m"}
        | {"survey.feature_height": "32 m", "place.lens_height": "2 m"},
        ("at 100.04 m by two elevations", "at 150.03 m by height", "counts by two elevations"),
        {"survey.feature_height": "22 m"},
    ),
]
