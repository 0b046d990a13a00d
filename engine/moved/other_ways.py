"""What may be done instead of moving the model, once the rig has moved: the camera, the ratio, what it stands for."""

from __future__ import annotations

import math

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.formulas.lineup import SIZE_NOTICED, camera_to_match_mm
from forescale.engine.moved.moved import Moved


def other_ways(moved: Moved) -> tuple[str, ...]:
    """Return the ways beside moving the model in which the sizes agree again; none where they agree as it stands."""
    stands = moved.slid
    if abs(stands.lineup.size_error - 1) < SIZE_NOTICED or math.isinf(stands.lineup.match_distance_mm):
        return ()
    words, setup, ratio = Words(stands), stands.setup, stands.scale.ratio
    real = setup.tape(setup.model_mm * ratio)
    ways = [f"this model fits a real thing at {words.length(real)}"]
    reads_as = stands.lineup.reads_as_ratio
    if reads_as >= 1:
        ways.insert(0, f"where it stands {words.ratio(reads_as)} fits")
    return (*_camera(stands, words), *ways)


def _camera(stands: Answer, words: Words) -> tuple[str, ...]:
    """Return how far the camera would have to go, where it can."""
    setup, ratio = stands.setup, stands.scale.ratio
    forward = camera_to_match_mm(setup.level(setup.model_mm), setup.level(setup.seems_mm), ratio)
    if forward is None or stands.focus.near_needed_mm - forward <= stands.kit.lens.close_focus:
        return ()
    return (f"move the camera {words.length(abs(forward))} {'forward' if forward > 0 else 'back'}",)
