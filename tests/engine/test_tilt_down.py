"""A tilt down is a tilt up seen in a mirror: checked against OpenCV's own camera turned downwards."""

from __future__ import annotations

import math

import cv2
import numpy as np
import pytest

from forescale.engine.answer import Answer, answer
from forescale.engine.kit import library
from forescale.engine.kit.kit import assemble
from forescale.engine.kit.profiles import Head
from forescale.engine.shot.edit import changed

DROP, SLIDE, SWEEP = 150.0, 40.0, 15.0


def tilted(axis: str) -> Answer:
    """Return the kiln stack with a tilt on a head whose axis lies well below the lens."""
    shot = library.load_shot(library.shot_path("kiln-stack"))
    fields = {
        "move.axis": axis,
        "move.slide": f"{SLIDE} mm",
        "move.sweep": f"{SWEEP} deg",
        "bench": (),
        "place.aim": None,
    }
    setting = changed(shot, fields)
    demo = library.head("demo-slide-head")
    head: Head = demo.model_copy(update={"tilt_drop": DROP})
    kit = assemble(setting.kit, library.camera(setting.kit.camera), library.lens(setting.kit.lens), head)
    return answer(setting, kit, "metric")


def seen_px(of: Answer, distance_mm: float, turn_deg: float) -> float:
    """Return how far up the picture a point ahead of the axis stands after the turn (up is positive), in pixels.

    The camera of OpenCV looks along z with y down, its pupil carried round the axis with the lens.
    """
    head = of.kit.head
    assert head is not None
    offset = SLIDE + head.sensor_at_zero + of.setup.pupil.ahead_mm
    turn = math.radians(turn_deg)
    rotation = np.array([[1, 0, 0], [0, math.cos(turn), math.sin(turn)], [0, -math.sin(turn), math.cos(turn)]])
    pupil = rotation.T @ np.array([0.0, -DROP, offset])  # from the axis; the lens lies above it
    point = np.array([0.0, -DROP, distance_mm])
    focal_px = of.setup.image_mm / of.kit.mode.pixel_up_mm
    matrix = np.array([[focal_px, 0, 0], [0, focal_px, 0], [0, 0, 1.0]])
    seen, _ = cv2.projectPoints(point[None], cv2.Rodrigues(rotation)[0], rotation @ -pupil, matrix, np.zeros(4))
    return -float(seen[0, 0, 1])


@pytest.mark.parametrize(("axis", "way"), [("tilt", 1), ("tilt down", -1)])
def test_slip_is_what_a_camera_sees(axis: str, way: int):
    of = tilted(axis)
    model, background = of.slip.model_from_axis_mm, of.slip.background_from_axis_mm
    assert model is not None
    assert background is not None
    apart = seen_px(of, model, way * SWEEP) - seen_px(of, background, way * SWEEP)
    # A tilt up carries a thing down the picture: the model outruns where it goes farther that way.
    assert of.slip.slip_px == pytest.approx(-way * apart, rel=1e-9)


def test_the_place_without_slip_lies_on_the_other_side():
    up, down = tilted("tilt").slip.slide_for_zero_mm, tilted("tilt down").slip.slide_for_zero_mm
    assert up is not None
    assert down is not None
    assert up - down == pytest.approx(2 * DROP * math.tan(math.radians(SWEEP / 2)))


def test_a_tilt_down_covers_as_much_as_a_tilt_up():
    assert tilted("tilt down").lineup.cover_height_mm == tilted("tilt").lineup.cover_height_mm
