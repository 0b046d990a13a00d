"""Where the entrance pupil stands between the rows of a profile, against SciPy's linear interpolation."""

import math

import pytest
from cases import again, codes, shot, solve, text_of
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError
from scipy.interpolate import RegularGridInterpolator

from forescale.engine.files.faults import BadInput
from forescale.engine.kit.profiles import PupilRow
from forescale.engine.kit.pupil import not_measured_at, prime_doubt, pupil_at
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot.edit import changed
from forescale.engine.workings import explain


def row(focal: float, focus: float, ahead: float, uncertainty: float | None = None) -> PupilRow:
    return PupilRow.model_construct(focal_length=focal, focus=focus, ahead=ahead, uncertainty=uncertainty)


FOCALS, FOCUSES = (24.0, 50.0, 80.0), (500.0, 2000.0, math.inf)
AHEAD = {24.0: (70.0, 66.0, 62.0), 50.0: (50.0, 44.0, 41.0), 80.0: (5.0, -7.0, -12.0)}
GRID = [row(focal, focus, ahead) for focal in FOCALS for focus, ahead in zip(FOCUSES, AHEAD[focal], strict=True)]
NEARNESS = [1 / focus for focus in reversed(FOCUSES)]
BY_SCIPY = RegularGridInterpolator((FOCALS, NEARNESS), [AHEAD[focal][::-1] for focal in FOCALS])


@given(st.floats(24, 80), st.floats(500, 1e9))
def test_between_rows_it_is_linear_in_focal_length_and_one_over_focus(focal: float, focus: float) -> None:
    found = pupil_at(GRID, focal, focus)
    assert found.ahead_mm == pytest.approx(BY_SCIPY([focal, 1 / focus])[0], rel=1e-9, abs=1e-9)
    assert found.known
    assert not found.outside


@pytest.mark.parametrize("at", GRID)
def test_at_a_row_it_is_the_row(at: PupilRow) -> None:
    found = pupil_at(GRID, at.focal_length, at.focus)
    assert found.ahead_mm == at.ahead
    assert found.rows == (at,)
    assert not found.outside


def test_halfway_by_hand() -> None:
    # Between 2 m and infinity half of 1/focus is 4 m; at 24 mm that is 64, at 50 mm 42.5; 37 mm is halfway again.
    found = pupil_at(GRID, 37, 4000)
    assert found.ahead_mm == pytest.approx((64 + 42.5) / 2, rel=1e-12)
    assert len(found.rows) == 4


# Beyond the span: focal length, focus, and where the nearest row would be asked instead.
BEYOND = [(18, 2000, 24, 2000), (135, math.inf, 80, math.inf), (50, 300, 50, 500), (18, 300, 24, 500)]


@pytest.mark.parametrize(("focal", "focus", "nearest_focal", "nearest_focus"), BEYOND)
def test_outside_the_span_the_nearest_row_serves_and_it_is_said(
    focal: float, focus: float, nearest_focal: float, nearest_focus: float
) -> None:
    found = pupil_at(GRID, focal, focus)
    assert found.outside
    assert found.ahead_mm == pupil_at(GRID, nearest_focal, nearest_focus).ahead_mm


def test_a_focal_length_with_fewer_rows_takes_its_own_nearest() -> None:
    rows = [row(24, math.inf, 62), row(24, 1000, 64), row(50, math.inf, 41)]
    found = pupil_at(rows, 37, 1000)
    assert found.ahead_mm == pytest.approx((64 + 41) / 2, rel=1e-12)
    assert found.outside


def test_without_rows_it_is_at_the_sensor_plane_and_said_to_be_unknown() -> None:
    found = pupil_at([], 50, 3000)
    assert (found.ahead_mm, found.known) == (0, False)


def test_the_uncertainty_between_two_rows_is_that_of_a_weighted_mean() -> None:
    # Halfway, independent: √(0.6² + 0.8²)/2 = 0.5 mm.
    rows = [row(24, math.inf, 60, 0.6), row(50, math.inf, 40, 0.8)]
    assert pupil_at(rows, 37, math.inf).uncertainty_mm == pytest.approx(0.5, rel=1e-12)
    assert pupil_at([rows[0], row(50, math.inf, 40)], 37, math.inf).uncertainty_mm is None


# The pupil in an answer, where it moves with the focus mark and the mark with the pupil

STEEP = [
    {"focal_length": "25 mm", "focus": "inf", "ahead": "20 mm"},
    {"focal_length": "25 mm", "focus": "0.5 m", "ahead": "120 mm"},
]


@pytest.mark.parametrize("model", ["700 mm", "1.2 m", "4 m"])
@pytest.mark.parametrize("ratio", ["1:4", "1:12"])
def test_mark_and_pupil_agree(model: str, ratio: str) -> None:
    found = solve({"place.model": model, "scale.ratio": ratio}, lens={"pupil": STEEP})
    ahead, mark = found.slip.pupil_ahead_mm, found.focus.focus_mm
    share = (1 / mark) / (1 / 500)
    assert ahead == pytest.approx(20 + share * 100, rel=1e-9)
    # The mark is where the pupil's own distances put it: 1/s is the mean of 1/near and 1/far.
    near, far = found.focus.near_needed_mm - ahead, found.focus.far_needed_mm - ahead
    assert 2 / (mark - ahead) == pytest.approx(1 / near + 1 / far, rel=1e-9)


def test_setting_the_mark_that_was_chosen_gives_the_same_pupil() -> None:
    found = solve({"place.model": "700 mm"}, lens={"pupil": STEEP})
    marked = again(found, changed(found.setting, {"focus.distance": f"{found.focus.focus_mm!r} mm"}))
    assert marked.slip.pupil_ahead_mm == pytest.approx(found.slip.pupil_ahead_mm, rel=1e-9)


def test_an_unmeasured_focus_is_said_and_a_measured_one_is_not() -> None:
    assert "pupil-outside" not in codes(solve(lens={"pupil": STEEP}))
    outside = solve(lens={"pupil": STEEP[:1]})
    assert "25 mm focused at infinity" in text_of(outside, "pupil-outside")
    assert outside.slip.pupil_outside


@pytest.mark.parametrize(
    ("focal", "read_at", "focus", "outside"),
    [
        (35.0, 8472.0, 8324.0, False),  # 35²·(1/8324 − 1/8472) is 0.003 mm, which no bench tells
        (35.0, 8472.0, 6500.0, False),  # 0.044 mm
        (35.0, 8472.0, 6000.0, True),  # 0.060 mm
        (35.0, 8472.0, math.inf, True),  # 0.145 mm
        (18.0, 8472.0, math.inf, False),  # 0.038 mm
        (50.0, 600.0, 605.0, False),  # within a hundredth, as near as a ring can be set
        (50.0, 600.0, 612.0, True),  # 0.082 mm
    ],
)
def test_a_focus_near_which_the_pupil_stays_counts_as_measured(
    focal: float, read_at: float, focus: float, outside: bool
) -> None:
    rows = [row(focal, read_at, 30.0)]
    assert pupil_at(rows, focal, focus).outside is outside
    assert not_measured_at(rows, focal, focus) == ("focus" if outside else "")


def test_an_unknown_pupil_is_said() -> None:
    found = solve(lens={"pupil": []})
    assert "pupil-unknown" in codes(found)
    assert not found.slip.pupil_known
    assert found.lineup.match_distance_mm == pytest.approx(64030 / 16, rel=1e-12)


# A lens whose pupil goes back as the focus comes nearer: a smaller model wants a nearer focus, and that a larger model.
CONTRARY = [
    {"focal_length": "25 mm", "focus": "inf", "ahead": "120 mm"},
    {"focal_length": "25 mm", "focus": "0.5 m", "ahead": "20 mm"},
]


@pytest.mark.parametrize("step", range(40))
def test_mark_and_pupil_agree_where_the_ratio_is_between_two(step: int) -> None:
    # 1:24 of the background stands at the close focus of 700 mm, give or take half a per cent over the steps.
    background = 80 + 24 * 620 * (1 + (step - 20) / 4000)
    found = solve(
        {"scale.ratio": None, "place.model": None, "place.background": f"{background!r} mm"},
        lens={"pupil": CONTRARY, "close_focus": "700 mm"},
    )
    assert found.scale.ratio in {20, 24}
    ahead, mark = found.slip.pupil_ahead_mm, found.focus.focus_mm
    assert ahead == pytest.approx(120 - 100 * 500 / mark, abs=1e-6)
    near, far = found.focus.near_needed_mm - ahead, found.focus.far_needed_mm - ahead
    assert 2 / (mark - ahead) == pytest.approx(1 / near + 1 / far, rel=1e-9)


def test_a_pupil_beyond_the_close_focus_is_refused_with_the_profile() -> None:
    with pytest.raises(ValidationError, match="a pupil lies beyond close_focus"):
        solve(lens={"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": "300 mm"}]})


ZOOM = {
    "focal_length": None,
    "focal_min": "24 mm",
    "focal_max": "50 mm",
    "pupil": [
        {"focal_length": "24 mm", "focus": "1 m", "ahead": "62 mm", "uncertainty": "1 mm"},
        {"focal_length": "50 mm", "focus": "1 m", "ahead": "41 mm", "uncertainty": "1 mm"},
    ],
}


@pytest.mark.parametrize(
    ("focal", "mark", "off"),
    [
        ("32 mm", "7 m", "focus"),
        ("24 mm", "7 m", "focus"),
        ("24 mm", "1 m", ""),
        ("32 mm", "1 m", ""),
        ("20 mm", "1 m", "focal length"),
        ("60 mm", "7 m", "focal length and focus"),
    ],
)
def test_what_was_not_measured_is_named_and_nothing_else(focal: str, mark: str, off: str) -> None:
    lens = ZOOM | {"focal_min": "18 mm", "focal_max": "70 mm"}
    found = solve({"kit.focal_length": focal, "focus.distance": mark}, lens=lens)
    assert found.slip.pupil_outside == bool(off)
    if off:
        assert f"was not measured at this {off};" in text_of(found, "pupil-outside")


def test_between_two_focal_lengths_the_pupil_is_said_to_lie_between() -> None:
    found = solve({"kit.focal_length": "32 mm", "focus.distance": "7 m"}, lens=ZOOM)
    assert found.slip.pupil_ahead_mm == pytest.approx(62 - 21 * 8 / 26, rel=1e-9)  # 55.54 mm
    said = text_of(found, "pupil-outside")
    assert "what lies between the readings at 24 mm focused at 1 m and 50 mm focused at 1 m serves" in said
    assert "nearest" not in said
    assert explain("slip.pupil_ahead_mm", found).put_in == (
        "not measured at this focus; between 62 mm focused at 1 m at a focal length of 24 mm and 41 mm focused at 1 m "
        "at a focal length of 50 mm: 55.54 mm"
    )
    paper = sheet_text(shot({"kit.focal_length": "32 mm", "focus.distance": "7 m"}), found)
    assert "not measured at this focus" in paper
    assert "nearest reading" not in paper


def test_a_pupil_of_a_prime_found_at_another_focal_length_is_doubted() -> None:
    rows = [{"focal_length": f"{mm} mm", "focus": "inf", "ahead": "30 mm"} for mm in (25, 24, 26)]
    doubted = solve(lens={"pupil": rows}).kit.lens
    said = "a pupil of it was found at 24 mm, and the lens itself is said to be of 25 mm"
    assert prime_doubt(doubted) == said
    assert prime_doubt(doubted.model_copy(update={"pupil": doubted.pupil[:1]})) == ""


@pytest.mark.parametrize("smallest", ["f/2", "f/1.4"])
def test_a_lens_closes_down_past_its_widest_stop(smallest: str) -> None:
    with pytest.raises(ValidationError, match="must be a smaller number"):
        solve(lens={"widest": "f/2", "smallest": smallest})


def test_a_lens_focuses_no_nearer_than_its_focal_length() -> None:
    with pytest.raises(ValidationError, match="lies inside the focal length"):
        solve(lens={"close_focus": "25 mm", "pupil": []})
    assert solve(lens={"close_focus": "25.1 mm", "pupil": []}).kit.lens.close_focus == 25.1


def test_a_focus_at_the_focal_length_from_the_pupil_lies_inside_the_lens() -> None:
    """300 mm on the tape with the pupil 274 ahead are 26 mm, whose image lies 1/(1/25 − 1/26) behind; 25 has none."""
    found = [{"focal_length": "25 mm", "focus": "inf", "ahead": f"{ahead} mm"} for ahead in (274, 275)]
    just = solve({"focus.distance": "300 mm"}, lens={"pupil": found[:1]})
    assert just.setup.image_mm == pytest.approx(650)
    with pytest.raises(BadInput, match=r"focus\.distance: lies inside the lens"):
        solve({"focus.distance": "300 mm"}, lens={"pupil": found[1:]})
