"""The frames of film and sensors: their sizes, and what the engine makes of each."""

from __future__ import annotations

import math

import pytest
from cases import shipped, solve

from forescale.engine.kit.gauges import GAUGES, SOURCES_DIFFER_MM, gauge_text, pixel_doubt
from forescale.engine.kit.library import load_profile
from forescale.engine.kit.profiles import Camera
from forescale.engine.units import parse_length

# Width and height in mm. SMPTE and ISO gauges, from memory, but for 65 mm: VES Handbook of Visual Effects, table A.2.
# Sources differ by up to 0.2 mm, so that is the tolerance.
FORMATS = [
    ("Super 16", 12.52, 7.41),
    ("35 mm academy", 21.95, 16.00),
    ("Super 35 four-perforation", 24.89, 18.66),
    ("65 mm", 52.48, 23.01),
    ("17.3 × 13 mm", 17.3, 13.0),
    ("small still frame", 36.0, 24.0),
]

# The same frames in inches, as the American standards print them (SMPTE, from memory), through our own reading of a
# length and so to the millimetres above.
IN_INCHES = [
    ("Super 16", "0.493 in", "0.292 in"),
    ("35 mm academy", "0.864 in", "0.630 in"),
    ("Super 35 four-perforation", "0.980 in", "0.735 in"),
    ("65 mm", "2.066 in", "0.906 in"),
]

# Diagonals as they are quoted, in mm, from memory; to the last printed digit and the 0.2 mm of the sides.
DIAGONALS = [
    ("Super 16", 14.5),
    ("35 mm academy", 27.2),
    ("Super 35 four-perforation", 31.1),
    ("65 mm", 57.3),
    ("17.3 × 13 mm", 21.63),
    ("small still frame", 43.27),
]

SIZES = {name: (width, height) for name, width, height in FORMATS}


def solve_on(gauge: str, focal: str = "50 mm"):
    width, height = SIZES[gauge]
    return solve(
        {"focus.distance": "inf"},
        mode={"width": f"{width} mm", "height": f"{height} mm", "height_px": round(2000 * height / width)},
        lens={"focal_length": focal, "pupil": []},
    )


@pytest.mark.parametrize(("name", "width", "height"), FORMATS)
def test_the_usual_frames_are_as_printed(name: str, width: float, height: float) -> None:
    assert GAUGES[name] == pytest.approx((width, height), abs=0.2)


@pytest.mark.parametrize(("name", "width", "height"), IN_INCHES)
def test_inches_of_the_standards_come_to_the_same_frames(name: str, width: str, height: str) -> None:
    assert parse_length(width) == pytest.approx(SIZES[name][0], abs=0.2)
    assert parse_length(height) == pytest.approx(SIZES[name][1], abs=0.2)
    assert gauge_text(parse_length(width), parse_length(height)) == f"{name}, whole"


@pytest.mark.parametrize(("name", "diagonal_mm"), DIAGONALS)
def test_a_frames_diagonal_is_what_its_blur_is_measured_by(name: str, diagonal_mm: float) -> None:
    # "diagonal/1500" is the sharpness of a shot that says nothing else.
    assert solve_on(name).focus.coc_mm * 1500 == pytest.approx(diagonal_mm, abs=0.2)


@pytest.mark.parametrize("name", SIZES)
def test_a_frame_seen_through_a_lens_as_long_as_it_is_wide(name: str) -> None:
    # 2·atan(1/2) = 53.13°, whatever the frame: the angle of view of a pinhole.
    width, height = SIZES[name]
    lined = solve_on(name, f"{width} mm").lineup
    assert 2 * math.degrees(math.atan(lined.frame_width_model_mm / 2 / lined.model_mm)) == pytest.approx(
        53.13, abs=5e-3
    )
    assert lined.frame_width_model_mm / lined.frame_height_model_mm == pytest.approx(width / height, rel=1e-9)


# Tables of angles of view, focused at infinity; to a tenth of a degree.
ANGLES = [("across", 39.6), ("down", 27.0), ("corner to corner", 46.8)]


@pytest.mark.parametrize(("way", "printed_deg"), ANGLES)
def test_what_the_small_still_frame_sees_at_50_mm(way: str, printed_deg: float) -> None:
    lined = solve_on("small still frame").lineup
    across, down = lined.frame_width_model_mm, lined.frame_height_model_mm
    seen = {"across": across, "down": down, "corner to corner": math.hypot(across, down)}[way]
    assert 2 * math.degrees(math.atan(seen / 2 / lined.model_mm)) == pytest.approx(printed_deg, abs=0.05)


@pytest.mark.parametrize(
    ("camera", "mode", "name"),
    [
        ("demo-small-16", "HD full frame rate", "Super 16"),
        ("demo-cine-35", "4K full width", "Super 35 four-perforation"),
        ("demo-large-36", "6K full frame", "small still frame"),
    ],
)
def test_the_demo_cameras_are_as_wide_as_their_gauges(camera: str, mode: str, name: str) -> None:
    modes = {mode.name: mode for mode in load_profile(Camera, shipped("cameras", camera)).mode}
    assert gauge_text(modes[mode].width, modes[mode].height) == f"{name}, its full width"
    assert modes[mode].width / modes[mode].height == pytest.approx(16 / 9, rel=0.005)


def test_no_frame_is_taken_for_another() -> None:
    for name, (wide, _) in GAUGES.items():
        others = [other for called, (other, _) in GAUGES.items() if called != name]
        assert all(abs(other - wide) > 2 * SOURCES_DIFFER_MM for other in others)
    assert gauge_text(20.0, 15.0) == ""
    assert gauge_text(16.6, 9.35) == ""


def test_pixels_that_are_not_square_are_doubted() -> None:
    mode = load_profile(Camera, shipped("cameras", "demo-cine-35")).mode[0]
    assert pixel_doubt(mode) == ""
    low = mode.model_copy(update={"height": 8.0})
    assert "8.11 µm across and 6.94 µm down, not square" in pixel_doubt(low)  # 16.6 mm / 2048, 8 mm / 1152
