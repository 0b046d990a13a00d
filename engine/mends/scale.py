"""What may mend ratio, size and cover."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.formulas import holding, optics
from forescale.engine.mends.placing import stood_at
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.units import exact_ratio, number_text, rounded_down


def keep_ratio(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the ratio as it was chosen, so that it stays, with the place where it matches."""
    ratio = exact_ratio(of.scale.ratio)
    if of.setting.place.model is not None and math.isfinite(of.sight.seems_mm):
        yield Mend("", {"scale.ratio": ratio} | stood_at(of, of.lineup.match_distance_mm))
    yield Mend("", {"scale.ratio": ratio})


def size(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the place at which the size matches, the ratio that fits this place, and the background that would."""
    yield Mend("", stood_at(of, of.lineup.match_distance_mm))
    yield Mend("", {"place.model": None, "place.model_near": None})
    if 1 <= of.lineup.reads_as_ratio <= 10_000:
        ratio = f"1:{number_text(of.lineup.reads_as_ratio, 3)}"
        yield Mend("", {"scale.ratio": ratio}, "everything is built anew")
        yield Mend("", {"scale.ratio": ratio, "action.fps": None}, "everything is built anew")


def less_sweep(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the sweep that a flat model can fill, and the other way out."""
    along = of.sight.frame_width_mm if of.setting.move.axis not in TILTS else of.kit.mode.height
    most = holding.COVER_LIMIT_DEG - optics.half_field_deg(along, of.sight.image_mm)
    yield Mend("", {"move.sweep": f"{number_text(rounded_down(most - 0.01, 3))} deg"})
    yield Mend("build a curve")


def nearest(_of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the model without the nearest part that lies behind it."""
    yield Mend("", {"place.model_near": None})
