"""Slip against a camera of somebody else's: OpenCV's pinhole, `cv2.projectPoints`, swung about an axis.

OpenCV's camera looks along +z with x to the right and y downward, and its picture is upright. World and camera
share those directions before the move; the head's axis is the world's origin.
"""

import itertools
import math

import cv2
import numpy as np
import pytest
from closed_forms import picture_height_mm

from forescale.engine.formulas.slip import Turn, slip_mm

IMAGE_DISTANCE_MM = 36.2
MATRIX = np.diag([IMAGE_DISTANCE_MM, IMAGE_DISTANCE_MM, 1.0])
MODEL_MM = 2600.0
FAR_MM = 1e10  # as good as infinity to a part in 1e7 of these offsets


def seen(point: tuple[float, float, float], turned: np.ndarray, pupil: tuple[float, float, float]) -> np.ndarray:
    """Where an upright picture shows the point, once the head and the pupil on it have been turned."""
    place = turned @ np.array(pupil)
    rotation, _ = cv2.Rodrigues(turned.T)
    picture, _ = cv2.projectPoints(np.array([point]), rotation, -turned.T @ place, MATRIX, None)
    return picture.reshape(2)


def panned_right(degrees: float) -> np.ndarray:
    return cv2.Rodrigues(np.array([0.0, math.radians(degrees), 0.0]))[0]


def tilted_up(degrees: float) -> np.ndarray:
    return cv2.Rodrigues(np.array([math.radians(degrees), 0.0, 0.0]))[0]


def test_the_turns_go_the_way_they_are_named() -> None:
    forward = np.array([0.0, 0.0, 1.0])
    assert (panned_right(10) @ forward)[0] > 0
    assert (tilted_up(10) @ forward)[1] < 0


CASES = list(itertools.product((-25.0, -8.0, 3.0, 15.0, 40.0), (-60.0, 0.0, 45.0, 180.0), (31000.0, FAR_MM)))


@pytest.mark.parametrize(("sweep", "offset", "background"), CASES)
def test_a_pan(sweep: float, offset: float, background: float) -> None:
    turn = Turn(sweep_deg=sweep, model_mm=MODEL_MM, background_mm=background, image_distance_mm=IMAGE_DISTANCE_MM)
    heights = []
    for z in (MODEL_MM, background):
        across, down = seen((0, 0, z), panned_right(sweep), (0, 0, offset))
        # Panned to the right, a target goes left in the picture.
        assert picture_height_mm(z, turn, offset) == pytest.approx(-across, rel=1e-9)
        assert down == pytest.approx(0, abs=1e-12)
        heights.append(abs(across))
    assert slip_mm(turn, offset) == pytest.approx(heights[0] - heights[1], rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("rise", [-50.0, 0.0, 120.0])
@pytest.mark.parametrize(("sweep", "offset", "background"), CASES)
def test_a_tilt(sweep: float, offset: float, background: float, rise: float) -> None:
    turn = Turn(
        sweep_deg=sweep,
        model_mm=MODEL_MM,
        background_mm=background,
        rise_mm=rise,
        image_distance_mm=IMAGE_DISTANCE_MM,
    )
    heights = []
    for z in (MODEL_MM, background):
        _, down = seen((0, -rise, z), tilted_up(sweep), (0, -rise, offset))
        # Tilted up, a target goes down in the picture.
        assert picture_height_mm(z, turn, offset) == pytest.approx(down, rel=1e-9)
        heights.append(abs(down))
    assert slip_mm(turn, offset) == pytest.approx(heights[0] - heights[1], rel=1e-6, abs=1e-9)


def test_an_endless_background_is_the_far_one() -> None:
    endless = Turn(sweep_deg=15, model_mm=MODEL_MM, background_mm=math.inf, image_distance_mm=IMAGE_DISTANCE_MM)
    pictures = [abs(seen((0, 0, z), panned_right(15), (0, 0, 45.0))[0]) for z in (MODEL_MM, FAR_MM)]
    assert slip_mm(endless, 45.0) == pytest.approx(pictures[0] - pictures[1], rel=1e-6)


def test_a_pupil_ahead_of_the_axis_makes_the_foreground_outrun() -> None:
    for degrees, offset in itertools.product((-15, 15), (-40.0, 40.0)):
        near, far = (abs(seen((0, 0, z), panned_right(degrees), (0, 0, offset))[0]) for z in (MODEL_MM, 31000.0))
        turn = Turn(sweep_deg=degrees, model_mm=MODEL_MM, background_mm=31000, image_distance_mm=IMAGE_DISTANCE_MM)
        assert (near > far) == (offset > 0) == (slip_mm(turn, offset) > 0)
