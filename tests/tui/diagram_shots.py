"""Shots to draw, the demo ones and what can be odd about one, and their diagrams."""

import tomllib
from functools import cache
from typing import Any

from forescale.engine.answer import answer
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot.records import Shot
from forescale.tui.diagrams import bars, curves, views
from forescale.tui.glyphs import FULL
from forescale.tui.runs import row_text

DIAGRAMS = {
    "side_view": views.side,
    "rate_bar": bars.rates,
    "distance_bar": bars.distances,
    "contrast_curve": curves.contrast,
    "plan_view": views.plan,
    "slip_curve": curves.slip_in_move,
}
NO_PICTURE: dict[str, Any] = {"point": [], "outline": []}  # which need heights, and a distance to stand at
SHOTS: dict[str, tuple[str, dict[str, Any]]] = {
    "kiln-stack": ("kiln-stack", {}),
    "lock-gate": ("lock-gate", {}),
    "signal-lamp": ("signal-lamp", {}),
    "infinite": ("kiln-stack", {"place_background": "inf", "place_background_far": "inf"} | NO_PICTURE),
    "no end": ("lock-gate", {"place_background_far": "inf"}),
    "touching": ("signal-lamp", {"place_background": "4 m"}),
    "wide apart": ("kiln-stack", {"place_background": "60 mi", "place_background_far": None}),
    "focused at infinity": ("signal-lamp", {"focus_distance": "inf", "focus_stop": "T4"}),
    "soft": ("kiln-stack", {"focus_distance": "100 ft", "focus_stop": "T2.8"}),
    "no head": ("kiln-stack", {"kit_head": None, "bench": []}),
    "slide not set": ("kiln-stack", {"move_slide": None}),
    "no move": ("kiln-stack", {"move_axis": "none", "bench": []}),
    "tilt": ("kiln-stack", {"move_axis": "tilt", "move_sweep": "80 deg"}),
    "far off zero": ("kiln-stack", {"move_slide": "0 mm", "move_sweep": "60 deg"}),
    "tight tolerance": ("kiln-stack", {"move_slide": "120 mm", "move_tolerance": 0.05}),
    "no heights": ("kiln-stack", {"place_lens_height": None, "place_feature_height": None} | NO_PICTURE),
    "falling sight": ("kiln-stack", {"place_feature_height": "0 ft"}),
    "level sight": ("kiln-stack", {"place_feature_height": "5 ft"}),
    "rate not in mode": ("kiln-stack", {"action_fps": 500}),
    "heavy beyond the mode": ("kiln-stack", {"scale_ratio": "1:200"}),
    "driven": ("kiln-stack", {"action_kind": "driven"}),
    "pupil unknown": ("kiln-stack", {}),
    "any rate": ("kiln-stack", {}),
    "contrast left out": ("kiln-stack", {}),
}


@cache
def found(name):
    demo, changes = SHOTS[name]
    data = tomllib.loads((library.SHIPPED / "shots" / f"{demo}.toml").read_text())
    for field, value in changes.items():
        group, _, key = field.partition("_")
        holder, key = (data.setdefault(group, {}), key) if key else (data, group)
        holder[key] = value
        if value is None:
            del holder[key]
    shot = Shot.read(data, "test")
    kit = load_kit(shot.kit, "test")
    if name == "pupil unknown":
        kit = kit._replace(lens=kit.lens.model_copy(update={"pupil": []}))
    if name == "any rate":
        rates = {"fps": {"min": 1, "max": 240}, "readout": "4 ms"}
        mode = type(kit.mode).model_validate(kit.mode.model_dump() | rates)
        kit = kit._replace(mode=mode)
    return answer(shot, kit, shot.units, "test", with_contrast=name != "contrast left out")


def drawn(diagram, shot, width, height, glyphs=FULL):
    return [row_text(row) for row in DIAGRAMS[diagram](found(shot), width, height, glyphs)]
