"""Shots in which, taken together, every number of the answer is known and every way to come by it is taken."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, cast, get_args

from forescale.engine.answer import Answer, answer
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.units import UnitSystem

SHOTS = Path(__file__).parents[2] / "profiles" / "shots"
DEMOS = ("kiln-stack", "lock-gate", "signal-lamp")
BARE: dict[str, Any] = {"point": None, "outline": None}
# A demo shot, and what is changed in it; in the second table, what is changed in a lens and a head.
CHANGES: dict[str, tuple[str, dict[str, Any]]] = {
    "level": ("kiln-stack", BARE | {"place.aim": None}),
    "second ratio": ("kiln-stack", {"scale.compare": "1:16"}),
    "ratio left open": ("kiln-stack", {"scale.ratio": None}),
    "no place and no ratio": ("kiln-stack", {"scale.ratio": None, "place.model": None}),
    "driven": ("kiln-stack", {"action.kind": "driven", "action.real_speed": "30 mph", "action.fps": 60}),
    "metric rounding": ("kiln-stack", {"scale.rounding": "0.1 mm", "scale.ratio": "1:43.5", "place.model": None}),
    "lamps": ("kiln-stack", {"light.mains": 60, "light.available": "4000 fc", "light.iso": 3200, "light.nd": 1}),
    "tilt": ("kiln-stack", {"move.axis": "tilt", "bench": None}),
    "slide behind": ("kiln-stack", {"move.slide": "20 mm", "move.tolerance": 2}),
    "no slide": ("kiln-stack", {"move.slide": None}),
    "no head": ("kiln-stack", {"kit.head": None}),
    "no pupil": ("kiln-stack", {"kit.lens": "demo-prime-75"}),
    "zoom": ("kiln-stack", {"kit.lens": "demo-zoom-24-80", "kit.focal_length": "35 mm"}),
    "zoom too long": ("kiln-stack", {"kit.lens": "demo-zoom-24-80", "kit.focal_length": "75 mm"}),
    "to infinity": (
        "kiln-stack",
        BARE | {"place.background": "inf", "place.background_far": None, "survey": {"elevation": "3 deg"}},
    ),
    "far hills": ("kiln-stack", {"place.background_far": "inf", "survey": {"visibility": "0.5 mi"}}),
    "set by hand": ("kiln-stack", {"focus.distance": "12 ft", "focus.stop": "T5.6", "focus.sharpness": "2 px"}),
    "set at infinity": (
        "signal-lamp",
        {"focus.distance": "inf", "focus.stop": "f/=13.0", "focus.sharpness": "0.02 mm"},
    ),
    "width known": ("lock-gate", {"survey": {"frame_share": 0.22, "feature_width": "6 m", "elevation": "9.5 deg"}}),
    "seen from above": ("lock-gate", {"survey": {"elevation": "-2 deg"}}),
    "width wanted": ("lock-gate", {"survey": {"frame_share": 0.22, "visibility": "8 km"}}),
    "whole rates": ("lock-gate", {"kit.camera": "demo-small-16", "kit.mode": "HD crop", "kit.lens": "demo-prime-35"}),
    "at one distance": (
        "kiln-stack",
        BARE | {"place": {"model": "10 ft", "background": "10 ft"}, "scale.ratio": "1:1", "bench": None},
    ),
    "by day": (
        "kiln-stack",
        {
            "light.at_background": "30000 lx",
            "light.kelvin": 5600,
            "light.kelvin_at_background": 4300,
            "action.fall": "60 ft",
            "action.swing": "40 ft",
            "action.topple": "60 ft",
            "action.fire_width": "9 ft",
            "sun.latitude": "51.2 deg N",
            "sun.longitude": "2.4 deg W",
            "sun.date": "2026-06-21",
            "sun.time": "18:30",
            "sun.utc_offset": "+1 h",
            "sun.facing": "35 deg",
            "sun.rig_height": "1.9 m",
            "lamp": [{"name": "key", "gives": "2000 lx", "at": "3 m", "stands": "2 m", "depth": 0.2}],
        },
    ),
    "by eye": (
        "kiln-stack",
        {"bench": [{"slide": "40 mm", "seen": "lags"}, {"slide": "80 mm", "seen": "outruns"}]},
    ),
    "in the wind": (
        "kiln-stack",
        {
            "stand": {
                "area": "12 ft2",
                "area_height": "3 ft",
                "foot_deep": "2 ft",
                "gust": "8 m/s",
                "ballast": "20 kg",
                "pull": "20 N",
                "moves": "5 mm",
            },
            "build": [{"part": "stack", "real": "60 ft", "wide": "6 ft", "deep": "6 ft", "density": "450 kg/m3"}],
        },
    ),
    "on a low foot": (
        "lock-gate",
        {
            "stand": {
                "area": "1 m2",
                "area_height": "0.1 m",
                "foot_deep": "2 m",
                "gust": "10 m/s",
                "weight": "12 kg",
                "friction": 0.25,
                "specific_strength": 0.5,
            },
        },
    ),
    "pictured": (
        "kiln-stack",
        {
            "place.aim": "4 deg up",
            "place.seems_at": "200 ft",
            "move.start": "5 deg",
            "move.tilt_sweep": "2 deg down",
            "move.travel": "1 in left",
            "point": [
                {"name": "left end", "distance": "230 ft", "aside": "30 ft left", "height": "20 ft"},
                {"name": "right end", "frame_across": 0.7, "frame_up": "600 px"},
                {"name": "vane", "distance": "250 ft", "aside": "6 ft left", "height": "50 ft"},
            ],
            "miss": [
                {"point": "left end", "across_px": 3, "up_px": -2},
                {"point": "right end", "across_px": 2, "up_px": 1},
                {"point": "vane", "across_px": 2, "up_px": -1},
            ],
            "witness": [
                {"name": "kerb", "distance": "9 ft", "aside": "6 ft left", "height": "0 ft", "taped_now": "12 ft"},
                {"name": "post", "distance": "8 ft", "aside": "7 ft right", "height": "1 ft", "taped_now": "12 ft"},
                {"name": "wall", "distance": "15 ft", "aside": "1 ft left", "height": "9 ft", "taped_now": "16 ft"},
            ],
            "outline": [
                {"name": "stack", "corners": [["3 ft left", "0 ft"], ["0 ft", "60 ft", "arc"], ["3 ft right", "0 ft"]]},
                {
                    "name": "sheds",
                    "of": "place",
                    "closed": False,
                    "corners": [["9 ft left", "20 ft"], ["0 ft", "24 ft"]],
                },
            ],
            "piece": [{"name": "fence", "ratio": "1:8", "seems_at": "48 ft"}],
        },
    ),
    "marked": (
        "kiln-stack",
        {
            "witness": [
                {
                    "name": f"mark {place}",
                    "distance": f"{away} ft",
                    "aside": aside,
                    "height": f"{high} ft",
                    "frame_across_now": across,
                    "frame_up_now": up,
                }
                for place, (away, aside, high, across, up) in enumerate(
                    (
                        (12, "2 ft left", 4, 0.26, 0.24),
                        (16, "3 ft right", 6, 0.77, 0.72),
                        (21, "4 ft left", 8, 0.24, 0.98),
                        (14, "1 ft right", 5, 0.59, 0.5),
                    )
                )
            ]
        },
    ),
    "marked, not read": (
        "kiln-stack",
        {
            "witness": [
                {"name": "kerb", "distance": "12 ft", "aside": "2 ft left", "height": "4 ft"},
                {"name": "post", "distance": "16 ft", "aside": "3 ft right", "height": "6 ft"},
                {"name": "wall", "distance": "21 ft", "aside": "4 ft left", "height": "8 ft"},
                {"name": "gate", "distance": "14 ft", "aside": "1 ft right", "height": "5 ft"},
            ]
        },
    ),
    "aimed tilt": ("kiln-stack", {"place.aim": "3 deg down", "move.axis": "tilt", "survey": {"elevation": "9 deg"}}),
    "on a tape": (
        "kiln-stack",
        {
            "bench": [
                {"slide": "40 mm", "slip_at_background": "-6 in"},
                {"slide": "80 mm", "slip_at_background": "5 in"},
            ]
        },
    ),
}
KIT_CHANGES: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    "squeezed": ("kiln-stack", {"squeeze": 2.0}, {}),
    "marked in f": ("kiln-stack", {"marks": "f"}, {}),
    "a slide in inches": ("level", {}, {"slide_step": 1.5875}),
    "a tilt in inches": ("tilt", {}, {"slide_step": 1.5875, "tilt_drop": 90.0}),
    "far from the tilt": ("tilt", {}, {"tilt_drop": 90.0, "tilt_ahead": 12.0}),
}
CASES = (*DEMOS, *CHANGES, *KIT_CHANGES)


@cache
def case(name: str, system: str = "") -> Answer:
    """Return the answer to a demo shot, or to one changed as CHANGES or KIT_CHANGES say."""
    if name in KIT_CHANGES:
        start, lens, head = KIT_CHANGES[name]
        setting, kit = case(start).setting, case(start).kit
        assert kit.head is not None
        kit = kit._replace(lens=kit.lens.model_copy(update=lens), head=kit.head.model_copy(update=head))
        return answer(setting, kit, "imperial")
    demo, changes = CHANGES.get(name, (name, {}))
    shot = library.load_shot(SHOTS / f"{demo}.toml")
    setting = changed(shot, changes)
    kit = load_kit(setting.kit, name)
    return answer(setting, kit, cast(UnitSystem, system or shot.units))


def changed(shot: Setting, changes: dict[str, Any]) -> Setting:
    """Return a shot with some of its fields and tables as a file would have them."""
    fields = {path: value for path, value in changes.items() if "." in path or value is None}
    tables = {name: value or [] for name, value in changes.items() if "." not in name}
    body = edit.changed(shot, fields).model_dump(exclude_none=True, context={"units": "metric"})
    return Setting.model_validate({name: body[name] for name in Setting.model_fields} | tables)


def types_in(annotation: Any) -> list[Any]:
    """Return an annotation and every annotation within it."""
    return [annotation, *(kind for part in get_args(annotation) for kind in types_in(part))]
