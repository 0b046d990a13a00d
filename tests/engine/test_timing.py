"""Falls, swings, toppling and puffing: recomputed values, the equation of motion solved by SciPy, a published rule."""

import math

import pytest
from scipy.integrate import quad, solve_ivp

from forescale.engine.formulas.timing import LET_GO_SHARE, fall_s, model_s, puff_hz, running_frame, swing_s, topple_s

FOOT = 304.8

# Recomputed, √(2h/g), g 9.80665, printed to a millisecond: height in ft, ratio, full size, at model size.
FALLS = [(60, 24, 1.931, 0.394), (14, 16, 0.933, 0.233)]


@pytest.mark.parametrize(("feet", "ratio", "real", "model"), FALLS)
def test_falls(feet: float, ratio: float, real: float, model: float) -> None:
    assert fall_s(feet * FOOT) == pytest.approx(real, abs=6e-4)
    assert model_s(fall_s(feet * FOOT), ratio) == pytest.approx(model, abs=6e-4)


def test_a_fall_of_14_ft_at_1_to_16_takes_22_frames_at_96() -> None:
    assert model_s(fall_s(14 * FOOT), 16) * 96 == pytest.approx(22, abs=0.5)


# Recomputed: 60 ft, printed to a millisecond.
def test_toppling() -> None:
    real = topple_s(60 * FOOT)
    assert real == pytest.approx(2.509, abs=6e-4)
    assert real * LET_GO_SHARE == pytest.approx(3.285, abs=6e-4)
    assert model_s(real, 24) == pytest.approx(0.512, abs=6e-4)
    assert model_s(real * LET_GO_SHARE, 24) == pytest.approx(0.671, abs=6e-4)


def test_toppling_solves_the_equation_of_motion() -> None:
    """l·θ'' = 3g/2·sin θ; from rest at the upright the body has θ' = √(3g/l·(1 − cos θ)) at 10°."""
    length, gravity = 18.288, 9.80665
    lean = math.radians(10)
    start = (lean, math.sqrt(3 * gravity / length * (1 - math.cos(lean))))

    def down(_time: float, state: tuple[float, float]) -> float:
        return state[0] - math.pi / 2

    down.terminal = True  # type: ignore[attr-defined]
    solved = solve_ivp(
        lambda _time, state: (state[1], 1.5 * gravity / length * math.sin(state[0])),
        (0, 10), start, events=down, rtol=1e-10, atol=1e-12,
    )  # fmt: skip
    assert topple_s(length * 1000) == pytest.approx(solved.t_events[0][0], rel=1e-7)


def test_let_go_at_ten_degrees_by_quadrature() -> None:
    """∫dθ/√(3g/l·(cos 10° − cos θ)), its root at the start taken out by θ = 10° + x²; the share to its last digit."""
    lean = math.radians(10)
    let_go, _ = quad(
        lambda x: 2 * x / math.sqrt(math.cos(lean) - math.cos(lean + x * x)), 0, math.sqrt(math.pi / 2 - lean)
    )
    from_upright, _ = quad(lambda angle: 1 / math.sqrt(1 - math.cos(angle)), lean, math.pi / 2)
    assert let_go / from_upright == pytest.approx(LET_GO_SHARE, abs=5e-6)


# Cetegen & Ahmed 1993, 1.5/√D: 9 ft of fire, and its 1:16 model; printed to three digits.
@pytest.mark.parametrize(("feet", "hertz"), [(9, 0.906), (9 / 16, 3.62)])
def test_puffing(feet: float, hertz: float) -> None:
    assert puff_hz(feet * FOOT) == pytest.approx(hertz, abs=5e-3)


def test_a_seconds_pendulum() -> None:
    assert swing_s(993.9) == pytest.approx(2, abs=5e-4)  # printed in tables as 0.994 m at 45° latitude


@pytest.mark.parametrize(("seconds", "fps", "frame"), [(0, 96, 1), (0.1, 120, 13), (0.0999, 120, 12), (1 / 3, 24, 9)])
def test_the_frame_that_runs_at_a_cue(seconds: float, fps: float, frame: int) -> None:
    assert running_frame(seconds, fps) == frame
