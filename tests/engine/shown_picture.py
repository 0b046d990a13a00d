"""Findings on the picture, each in a shot made for it: the lens 2 m up, 1:16 against 64 m, v = 25.083 mm.

The frame is 20 mm by 10 mm and a pixel 0.01 mm; a point at the background x aside stands at 1/2 + 25.083·x/(64 m · 20).
"""

from __future__ import annotations

from typing import Any

from shown import HEAD, PAN, Shown, Table

LENS: Table = {"place.lens_height": "2 m"}


def point(aside: str, height: str) -> Table:
    return LENS | {"point": [{"name": "gable", "aside": aside, "height": height}]}


def outline(left: str, right: str, top: str) -> Table:
    corners = [[left, "0 m"], [left, top], [right, top], [right, "0 m"]]
    return LENS | {"outline": [{"name": "mast", "corners": corners}]}


def piece(**fields: Any) -> Table:
    return {"piece": [{"name": "fence", **fields}]}


PICTURE = [
    Shown(  # 1/2 + 25.083 · 18/64 / 10 = 1.2055
        "point-out-of-frame", "warn", point("0 m", "20 m"), ("gable (21 % past the top edge)",), point("0 m", "14 m")
    ),
    Shown(  # 21.74° − atan(20/64) = 21.74° − 17.35°
        "point-leaves-frame",
        "note",
        PAN | point("20 m left", "2 m"),
        ("gable after 4.38 deg of 10 deg",),
        {"move.sweep": "4 deg"},
    ),
    Shown(  # 2508.2 px · (0.625/4.05 − 10/64) = −4.84 px
        "points-miss",
        "warn",
        point("10 m right", "2 m") | {"place.model": "4080 mm"},
        ("Gable misses by 4.8 px left", "4.08 m off it would meet 633 mm right and 2 m up"),
        {"place.model": "4030 mm"},
    ),
    Shown(
        "point-lost",
        "warn",
        LENS | {"point": [{"name": "gable", "frame_across": 0.4, "frame_up": 0.6, "lens": "sold-lens"}]},
        ("Gable tells nothing", 'no lens is called "sold-lens"'),
        {"point": [{"name": "gable", "frame_across": 0.4, "frame_up": 0.6}]},
    ),
    Shown(
        "outline-cut",
        "warn",
        outline("1 m left", "1 m right", "20 m"),
        ("mast is cut by the frame, 21 % past the top edge",),
        outline("1 m left", "1 m right", "13 m"),
    ),
    Shown(  # its right edge: 21.74° − atan(18/64) = 21.74° − 15.71° is later; its left, 21.74° − 17.35°
        "outline-leaves-frame",
        "note",
        PAN | outline("20 m left", "18 m left", "2 m"),
        ("mast after 4.38 deg of 10 deg",),
        {"move.sweep": "4 deg"},
    ),
    Shown(  # 48/6.47/8 = 0.927
        "piece-size",
        "warn",
        piece(ratio="1:8", stands="6500 mm", seems_at="48030 mm"),
        ("At 6.5 m fence looks 7.3 % too small", "1:8 matches at 6.03 m"),
        piece(ratio="1:8", stands="6030 mm", seems_at="48030 mm"),
    ),
    Shown(  # 8 / (96/24)²
        "piece-rate", "note", piece(ratio="1:8"), ("0.5 times as hard", "1:8 wants 67.88 fps"), piece(ratio="1:16")
    ),
    Shown("piece-soft", "warn", piece(ratio="1:32"), ("At 2.03 m fence is not held sharp",), piece(ratio="1:16")),
    Shown(  # 25.083 · (1 − 1/64) · 5 · sin 10° / (1005 cos 10° − 5) / (cos 10° − 5/64000) / 0.01
        "piece-slips",
        "warn",
        PAN | piece(ratio="1:64") | {"move.slide": "65 mm"},
        ("by 2.2 px over the move",),
        {"move.slide": "60 mm"},
        HEAD,
    ),
    Shown(  # 25.083 · 10 · (1/4000 − 1/64000) / 0.01 = 5.88 px; 1 px in 1.7 mm
        "travel-over",
        "warn",
        {"move.travel": "10 mm right", "move.screen_time": "10 s"},
        ("outruns the background by 5.9 px", "1 px passes up to 1.7 mm"),
        {"move.travel": "1 mm right"},
    ),
    Shown(  # the second by atan(19/64) = 16.53°, after 5.2°
        "point-leaves-frame",
        "note",
        PAN | LENS | {"point": [{"name": at, "aside": f"{at} m left", "height": "2 m"} for at in ("19", "20")]},
        ("20 after 4.38 deg of 10 deg, the first of 2",),
        {"move.sweep": "4 deg"},
    ),
]
