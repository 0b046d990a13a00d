"""Whole answers against OpenCV's camera over generated scenes: aimed, panned, tilted, carried, squeezed, in pieces.

`projectPoints` (OpenCV 4, "Camera Calibration and 3D Reconstruction": x right, y down, z forward) draws every thing at
poses that are turned here by OpenCV's own rotations; the tape and the head are worked as a crew would.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field
from typing import Any

import cv2
import numpy as np
import pytest
from cases import solve

from forescale.engine.answer import Answer
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import slip
from forescale.engine.solve.turning import turn_geometry

AHEAD = 30.0  # of the plain lens
PX = 1e-6  # both sides count in doubles
FAR = 20_000.0  # px, beyond which a picture's last digits are lost


def rotation(axis: int, degrees: float) -> np.ndarray:
    vector = np.zeros(3)
    vector[axis] = math.radians(degrees)
    return cv2.Rodrigues(vector)[0]


@dataclass
class Scene:
    """A shot drawn at random: what is typed, and the same in plain numbers, y down."""

    seed: int
    changes: dict[str, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        draw = random.Random(self.seed)
        self.aim = draw.choice((0.0, draw.uniform(-12, 12)))
        self.height, self.ratio = draw.uniform(0, 3000), draw.choice((8.0, 16.0, 24.0))
        self.axis = draw.choice(("none", "pan", "pan left", "tilt", "tilt down"))
        turns = self.axis != "none"
        self.sweep, self.start = draw.uniform(2, 25) * turns, draw.choice((0.0, draw.uniform(1, 15))) * turns
        pans = self.axis.startswith("pan")
        self.tilt_sweep = draw.choice((0.0, draw.uniform(-5, 5))) * pans
        self.way, self.carried = draw.choice(("left", "right", "up", "down", "forward", "back")), draw.uniform(1, 200)
        self.travels = not turns or draw.random() < 0.3
        self.model, self.seems = draw.uniform(3000, 6000), draw.uniform(40_000, 90_000)
        self.background = draw.choice((self.seems, self.seems * draw.uniform(0.8, 2)))
        self.slide, self.squeeze = draw.uniform(40, 80), draw.choice((1.0, 2.0))
        self.drop, self.lead = draw.choice((0.0, draw.uniform(20, 150))), draw.uniform(-20, 20)
        self.piece_ratio = draw.uniform(6, 12)
        self.points = [
            (
                draw.uniform(-0.3, 0.3) * self.seems,
                draw.uniform(0, 0.3) * self.seems,
                self.seems * draw.uniform(0.9, 1.1),
            )
            for _ in range(3)
        ]

    def typed(self) -> dict[str, Any]:
        names = ("pillar", "gable", "on the piece")
        rows = [
            {"name": name, "aside": _aside(x), "height": f"{h!r} mm", "distance": f"{z!r} mm"}
            for name, (x, h, z) in zip(names, self.points, strict=True)
        ]
        rows[2]["piece"] = "fence"
        move: dict[str, Any] = {"axis": self.axis, "sweep": f"{self.sweep!r} deg", "start": f"{self.start!r} deg"}
        move |= {"tilt_sweep": f"{self.tilt_sweep!r} deg", "slide": f"{self.slide!r} mm", "screen_time": "9 s"}
        if self.travels:
            move["travel"] = f"{self.carried!r} mm {self.way}"
        place = {"model": self.model, "background": self.background, "seems_at": self.seems, "lens_height": self.height}
        return {
            "scale.ratio": self.ratio,
            "place": {name: f"{mm!r} mm" for name, mm in place.items()} | {"aim": f"{self.aim!r} deg"},
            "move": move,
            "point": rows,
            "piece": [{"name": "fence", "ratio": self.piece_ratio, "seems_at": f"{self.seems!r} mm"}],
        }

    def answer(self) -> Answer:
        head = {"tilt_drop": f"{self.drop!r} mm", "tilt_ahead": f"{self.lead!r} mm"}
        return solve(self.typed(), lens={"squeeze": self.squeeze}, head=head)

    # The same by hand, in OpenCV's directions

    def level(self, tape: float) -> float:
        return tape - AHEAD * math.cos(math.radians(self.aim))

    def real(self) -> np.ndarray:
        """The points, and what the lens axis meets at the background."""
        slope = math.tan(math.radians(self.aim))
        away = self.level(self.background)
        rows = [(x, -h, self.level(z)) for x, h, z in self.points]
        return np.array([*rows, (0.0, -self.height - away * slope, away)])

    def built(self) -> np.ndarray:
        """The points on model and piece as they stand, and what the lens axis meets at the model."""
        seems, stands = self.level(self.seems), self.level(self.model)
        slope = math.tan(math.radians(self.aim))
        made = [(self.ratio, stands)] * 2 + [(self.piece_ratio, seems / self.piece_ratio)]
        rows = [
            (x / by, -self.height - (h - self.height) / by, at + (self.level(z) - seems) / by)
            for (x, h, z), (by, at) in zip(self.points, made, strict=True)
        ]
        return np.array([*rows, (0.0, -self.height - stands * slope, stands)])

    def turned(self, share: float) -> tuple[float, float]:
        """Pan to the right and tilt up at a share of the way."""
        along = share * self.sweep
        pan = {"pan": along, "pan left": -along}.get(self.axis, 0.0)
        tilt = {"tilt": along, "tilt down": -along}.get(self.axis, 0.0)
        return pan, self.aim + tilt + share * self.tilt_sweep

    def pupil(self, share: float) -> np.ndarray:
        """Where the head and the travel have the pupil, from where it is at the line-up."""
        along = {"right": (1, 0, 0), "up": (0, -1, 0), "forward": (0, 0, 1)}
        along |= {"left": (-1, 0, 0), "down": (0, 1, 0), "back": (0, 0, -1)}
        carried = np.array(along[self.way]) * self.carried * share * self.travels
        return self._on_head(*self.turned(share)) - self._on_head(*self.turned(0.0)) + carried

    def _on_head(self, pan: float, tilt: float) -> np.ndarray:
        if self.axis == "none":
            return np.zeros(3)
        ahead = self.slide - 90 + AHEAD - self.lead
        on_arm = rotation(0, tilt) @ np.array([0.0, -self.drop, ahead]) + np.array([0.0, 0.0, self.lead])
        return rotation(1, pan) @ on_arm

    def pixels(self, found: Answer, things: np.ndarray, share: float) -> np.ndarray:
        """The pictures of things, right and up + from the frame's middle; nan behind the lens."""
        pan, tilt = self.turned(share)
        seen = (things - self.pupil(share) - np.array([0.0, -self.height, 0.0])) @ rotation(1, -pan).T
        image = found.setup.image_mm / 0.01
        across = np.array([[image / self.squeeze, 0, 0], [0, image, 0], [0, 0, 1]])
        turn = np.array([math.radians(-tilt), 0.0, 0.0])
        drawn = cv2.projectPoints(seen, turn, np.zeros(3), across, None)[0][:, 0] * (1, -1)
        drawn[(seen @ rotation(0, -tilt).T)[:, 2] <= 0] = np.nan
        return drawn

    def shares(self, count: int) -> list[float]:
        first = -self.start / self.sweep if self.sweep else 0.0
        return sorted({*np.linspace(first, 1.0, count).tolist(), 0.0, 1.0})


def _aside(x: float) -> str:
    return f"{abs(x)!r} mm {'right' if x > 0 else 'left'}"


def check(scene: Scene) -> bool:
    """Hold one answer against the camera; returns whether there was a picture to hold it against."""
    try:
        found = scene.answer()
    except BadInput:
        return False  # it carries the lens past the model
    assert found.picture is not None
    shares = scene.shares(24)
    misses = np.array([scene.pixels(found, scene.built(), u) - scene.pixels(found, scene.real(), u) for u in shares])
    here, there = misses[shares.index(0.0)], misses[-1]
    if np.isnan(misses).any() or np.abs(misses).max() > FAR:
        return False
    lengths = np.hypot(*np.moveaxis(misses - here, 2, 0)).max(axis=0)
    first = scene.pixels(found, scene.real(), 0.0)
    for row, point in enumerate(found.picture.points):
        share = first[row] / (found.kit.mode.width_px, found.kit.mode.height_px) + 0.5
        assert (point.frame_across, point.frame_up) == pytest.approx(tuple(share), abs=1e-9)
        assert (point.miss_across_px, point.miss_up_px) == pytest.approx(tuple(here[row]), abs=PX)
        assert point.slip_px is not None
        assert lengths[row] - PX <= point.slip_px <= lengths[row] * 1.02 + 1e-4
    end = there[3] - here[3]
    path = scene.pixels(found, scene.real(), 1.0)[3] - first[3]
    assert found.slip.slip_px == pytest.approx(math.copysign(np.hypot(*end), float(end @ path)), abs=PX)
    assert found.slip.largest_slip_px is not None
    assert lengths[3] - PX <= abs(found.slip.largest_slip_px) <= lengths[3] * 1.02 + 1e-4
    return True


def test_every_number_of_the_picture_is_that_of_opencv() -> None:
    assert sum(check(Scene(seed)) for seed in range(120)) > 90


@pytest.mark.thorough
def test_every_number_of_the_picture_is_opencvs_in_a_thousand_scenes() -> None:
    assert sum(check(Scene(seed)) for seed in range(1000)) > 750


@pytest.mark.parametrize("seed", range(40))
def test_a_level_lens_slips_by_the_closed_form(seed: int) -> None:
    """Turned about one axis, to 1e-9 px; the closed form of `formulas.slip`, multiplied out."""
    scene = Scene(seed)
    scene.aim = scene.tilt_sweep = scene.start = 0.0
    scene.travels, scene.axis, scene.sweep = False, random.Random(seed).choice(("pan", "tilt", "tilt down")), 14.0
    found = scene.answer()
    turning = turn_geometry(found.setting.move, found.kit, found.setup)
    assert turning is not None
    assert found.slip.offset_mm is not None
    expected = slip.slip_mm(turning.turn, found.slip.offset_mm) / turning.pixel_mm
    assert found.slip.slip_px == pytest.approx(expected, abs=1e-9, rel=1e-12)


@pytest.mark.parametrize("seed", range(40))
def test_an_aimed_pan_slips_by_its_closed_form_too(seed: int) -> None:
    scene = Scene(seed)
    scene.tilt_sweep, scene.travels, scene.axis, scene.sweep = 0.0, False, "pan", 14.0
    scene.aim = scene.aim or 5.0
    found = scene.answer()
    turning = turn_geometry(found.setting.move, found.kit, found.setup)
    assert turning is not None
    assert found.slip.offset_mm is not None
    expected = slip.slip_mm(turning.turn, found.slip.offset_mm) / turning.pixel_mm
    assert found.slip.slip_px == pytest.approx(expected, abs=1e-9, rel=1e-9)
    assert found.slip.slide_for_zero_mm is not None
    still = solve(scene.typed() | {"move.slide": f"{found.slip.slide_for_zero_mm!r} mm"}, **_kit(scene))
    assert still.slip.largest_slip_px == pytest.approx(0.0, abs=1e-9)


def _kit(scene: Scene) -> dict[str, Any]:
    head = {
        "tilt_drop": f"{scene.drop!r} mm",
        "tilt_ahead": f"{scene.lead!r} mm",
        "slide_max": "2 m",
        "slide_min": "-2 m",
    }
    return {"lens": {"squeeze": scene.squeeze}, "head": head}


@pytest.mark.parametrize(("drop", "expected"), [(120, -4.153), (60, -2.077), (0, 0.0)])
def test_the_slip_of_an_aimed_lens_worked_by_exact_rays(drop: float, expected: float) -> None:
    """40 mm focused at 21 ft, 17.3 mm on 2144 px, model 12 ft, wall 84 ft, aimed 4.4° up, panned 20°; three digits."""
    found = solve(
        {
            "place": {"model": "12 ft", "background": "84 ft", "aim": "4.4 deg up"},
            "focus.distance": "21 ft",
            "move": {"axis": "pan", "sweep": "20 deg", "slide": "0 mm"},
        },
        mode={"width": "17.3 mm", "width_px": 2144, "height": "9.1 mm", "height_px": 1128},
        lens={"focal_length": "40 mm", "pupil": [{"focal_length": "40 mm", "focus": "inf", "ahead": "0 mm"}]},
        head={"sensor_at_zero": "0 mm", "tilt_drop": f"{drop} mm"},
    )
    assert found.slip.slip_px == pytest.approx(expected, abs=6e-4)


def test_the_best_slide_has_the_least_of_the_largest_slips() -> None:
    for seed in range(12):
        scene = Scene(seed)
        scene.axis, scene.sweep, scene.tilt_sweep, scene.travels = "tilt", 20.0, 0.0, False
        scene.drop = 60.0 + seed
        at = solve(scene.typed(), **_kit(scene)).slip.slide_best_mm
        assert at is not None
        most = [
            abs(solve(scene.typed() | {"move.slide": f"{at + off!r} mm"}, **_kit(scene)).slip.largest_slip_px or 0.0)
            for off in (-1.0, 0.0, 1.0)
        ]
        assert most[1] < min(most[0], most[2])


def test_a_bench_read_at_another_aim_finds_the_same_pupil() -> None:
    """Slips of an aimed camera fed to the bench of a level one: the pupil, 30 mm ahead, must come back."""
    head = {"tilt_drop": "110 mm", "tilt_ahead": "12 mm", "slide_min": "-200 mm", "slide_max": "300 mm"}
    move = {"move.axis": "pan", "move.sweep": "12 deg"}
    rows = []
    for slide in (40, 60, 80):
        read = solve(move | {"place.aim": "6 deg up", "move.slide": f"{slide} mm"}, head=head)
        rows.append({"slide": f"{slide} mm", "slip_px": read.slip.slip_px, "aim": "6 deg up", "focus": "7559.4 mm"})
    for aim in ("0 deg", "6 deg up", "3 deg down"):
        bench = solve(move | {"place.aim": aim, "bench": rows}, head=head).slip.bench
        assert bench is not None
        assert bench.pupil_ahead_mm == pytest.approx(AHEAD, abs=0.05)  # v moves a little with the aim
