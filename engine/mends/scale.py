"""What may mend ratio, size and cover."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import holding, optics
from forescale.engine.formulas.frame_rate import ideal_fps
from forescale.engine.mends.placing import stood_at
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.units import exact_ratio, number_text, rounded_down


def keep_ratio(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the ratio as it was chosen, so that it stays, with the place where it matches."""
    ratio = exact_ratio(of.scale.ratio)
    if of.setting.place.model is not None and math.isfinite(of.setup.seems_mm):
        yield Mend("", {"scale.ratio": ratio} | stood_at(of, of.lineup.match_distance_mm))
    yield Mend("", {"scale.ratio": ratio})


def size(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield every way out of a size that does not match: the place, the ratio, what it stands for, keeping it."""
    words, lined = Words(of), of.lineup
    yield Mend("", stood_at(of, lined.match_distance_mm))
    if 1 <= lined.reads_as_ratio <= 10_000:
        ratio = f"1:{number_text(lined.reads_as_ratio, 3)}"
        rate: dict[str, str | None] = {} if of.setting.action.fps is None else {"action.fps": None}
        yield Mend("", {"scale.ratio": ratio} | rate, _rebuilt(of))
    stands_for = of.setup.tape(of.setup.model_mm * of.scale.ratio)
    if of.setting.place.seems_at is None:
        yield Mend("", {"place.seems_at": words.exactly(stands_for)}, "it stands for something that far off")
    yield Mend("", {"place.seems_at": None, "place.background": words.exactly(stands_for)}, "another place to shoot at")
    yield Mend(f"keep it, reading as {words.ratio(lined.reads_as_ratio)}")


def _rebuilt(of: Answer) -> str:
    """Return what building at the ratio that the place implies costs: the largest part's new size, and the rate."""
    words, by = Words(of), of.lineup.reads_as_ratio
    largest = max(of.scale.build, key=lambda item: item.model_mm, default=None)
    price = "everything is built anew"
    if largest is not None:
        price += f", {largest.part} {words.length(largest.real_mm / by)} for {words.length(largest.model_mm)}"
    if of.setting.action.scaled:
        rate = ideal_fps(True, by, of.setting.action.playback_fps, of.setting.action.heft)
        price += f", and wants {words.rate(rate)}"
    return price


def matching(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the place at which the size matches, and the tape."""
    yield Mend("", stood_at(of, of.lineup.match_distance_mm))
    yield Mend("tape again, and line up in the picture")


def less_sweep(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the sweep that a flat model can fill, and the other way out."""
    along = of.setup.frame_width_mm if of.setting.move.axis not in TILTS else of.kit.mode.height
    most = holding.COVER_LIMIT_DEG - optics.half_field_deg(along, of.setup.image_mm)
    yield Mend("", {"move.sweep": f"{number_text(rounded_down(most - 0.01, 3))} deg"})
    yield Mend("build a curve")


def nearest(_of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the model without the nearest part that lies behind it."""
    yield Mend("", {"place.model_near": None})
