"""A small kit of unlike cameras and lenses, and a shot that leaves everything open: where tests of a search start."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from forescale.engine.kit.profiles import Camera, Head, Lens
from forescale.engine.options.to_try import Shelves
from forescale.engine.shot.edit import changed
from forescale.engine.shot.records import Shot

Table = dict[str, Any]


def mode(name: str, width: float, fps: Any, **more: Any) -> Table:
    """Return a mode of so many mm across, nine sixteenths as high."""
    sides = {"width": f"{width} mm", "height": f"{width * 9 / 16} mm", "width_px": 2000, "height_px": 1125}
    return {"name": name, **sides, "fps": fps, "iso_base": 400, "iso_max": 3200} | more


def camera(name: str, *modes: Table) -> Camera:
    """Return a camera of these modes."""
    return Camera.model_validate({"schema": 1, "name": name, "mode": list(modes)})


def lens(name: str, **more: Any) -> Lens:
    """Return a lens marked in f-stops, 2 to 22, that focuses from 400 mm on, unless `more` says otherwise."""
    plain = {"marks": "f", "widest": "2", "smallest": "22", "close_focus": "400 mm"}
    return Lens.model_validate({"schema": 1, "name": name} | plain | more)


def pupil(focal: str, near: str, far: str) -> list[Table]:
    """Return a pupil's rows for focus at 1 m and at infinity."""
    return [
        {"focal_length": focal, "focus": "1 m", "ahead": near},
        {"focal_length": focal, "focus": "inf", "ahead": far},
    ]


ONE = camera("one", mode("whole", 24, [24, 25, 48]), mode("crop", 15, [24, 48, 96, 120], iso_max=800))
TWO = camera("two", mode("whole", 12, {"min": 1, "max": 150}))
SHORT = lens("short", focal_length="25 mm", marks="T", transmission_loss=0.3, pupil=pupil("25 mm", "33 mm", "30 mm"))
WIDE = lens("wide", focal_length="32 mm", squeeze=1.5, close_focus="900 mm")
ZOOM = lens(
    "zoom",
    focal_min="38 mm",
    focal_max="52 mm",
    smallest="32",
    close_focus="700 mm",
    pupil=[*pupil("38 mm", "64 mm", "60 mm"), *pupil("52 mm", "-20 mm", "-24 mm")],
)
HEAD = Head.model_validate(
    {
        "schema": 1,
        "name": "head",
        "slide_min": "0 mm",
        "slide_max": "120 mm",
        "slide_step": "1 mm",
        "sensor_at_zero": "-86 mm",
    }
)
KIT = Shelves((ONE, TWO), (SHORT, WIDE, ZOOM))
OPEN: Table = {
    "schema": 1,
    "title": "A wall comes down",
    "units": "metric",
    "kit": {"camera": "one", "mode": "crop", "lens": "short"},
    "build": [{"part": "gate", "real": "3 m"}, {"part": "wall", "real": "9 m"}],
    "action": {"kind": "falling"},
    "place": {"background": "60 m", "background_far": "90 m"},
    "light": {"available": "30000 lx"},
}


def open_shot(changes: Mapping[str, Any] | None = None) -> Shot:
    """Return the open shot with what a file would hold at these dotted paths."""
    shot = changed(Shot.read(OPEN), changes or {})
    assert isinstance(shot, Shot)
    return shot
