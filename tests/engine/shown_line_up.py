"""Findings on misses that were read and on witness marks: the lens 2 m up, 1:16 against 64 m, v = 25.083 mm."""

from __future__ import annotations

from shown import Shown, Table

LENS: Table = {
    "place.lens_height": "2 m",
    "point": [
        {"name": "gable", "aside": "9 m left", "height": "3 m"},
        {"name": "mast", "aside": "8 m right", "height": "11 m"},
        {"name": "gate", "aside": "2 m left", "height": "0 m"},
    ],
}


def misses(across: float, up: float) -> Table:
    names = ("gable", "mast", "gate")
    return LENS | {"miss": [{"point": name, "across_px": across, "up_px": up} for name in names]}


def marks(grown_mm: float) -> Table:
    """Marks ahead, on the right and overhead, each 5 m from the sensor-plane mark, and the tape to the first now."""
    ahead = {"distance": "5 m", "aside": "0 m", "height": "2 m", "taped": "5 m", "taped_now": f"{5000 + grown_mm} mm"}
    right = {"distance": "0 m", "aside": "5 m right", "height": "2 m", "taped": "5 m", "taped_now": "5 m"}
    above = {"distance": "0 m", "aside": "0 m", "height": "7 m", "taped": "5 m", "taped_now": "5 m"}
    named = [{"name": name, **one} for name, one in (("ahead", ahead), ("right", right), ("above", above))]
    return {"place.lens_height": "2 m", "witness": named}


LINE_UP = [
    # 6 px / (2508.2 px · (1/4 m − 1/64 m)) = 10.2 mm.
    Shown("line-up-misses", "warn", misses(6, 0), ("by 6 px", "move the camera 10.2 mm right"), misses(0.2, 0.1)),
    Shown(
        "miss-stale",
        "note",
        misses(6, 0) | {"miss": [{"point": "mast", "across_px": 6, "up_px": 0, "aim": "2 deg up"}]},
        ('at "mast" was read of another shot',),
        misses(6, 0),
    ),
    Shown("line-up-meets", "note", misses(0.3, 0.4), ("within 0.5 px",), {"miss": []}),
    # The tape has grown: the camera stands 50 mm back.
    Shown("come-back", "note", marks(50), ("stands off", "move the camera 50 mm forward"), marks(0)),
]
