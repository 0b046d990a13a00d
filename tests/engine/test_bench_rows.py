"""A slip reading as it is typed, with what it was taken, and which readings cannot be true with the rest."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from cases import codes, solve, text_of
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.answer import Answer
from forescale.engine.answer.readings import TAKEN_WITH, as_now, kept
from forescale.engine.bench.bench_entry import (
    in_words,
    new_row,
    of_its_own,
    of_shot,
    read_slide,
    read_slip,
    slip_text,
    way_of,
)
from forescale.engine.bench.bench_report import next_places, report, steps
from forescale.engine.formulas.bench_doubts import contradicting
from forescale.engine.formulas.bench_fit import Reading, fit
from forescale.engine.formulas.slip import Turn, slip_mm
from forescale.engine.kit.profiles import Head
from forescale.engine.solve.turning import bench_line
from forescale.engine.units import UnitSystem

# What is typed

ENTRIES = [
    ("14.5", "pixels", "imperial", {"slip_px": 14.5}),
    ("-3 px", "tape", "imperial", {"slip_px": -3}),
    ("3.9", "eye", "metric", {"slip_px": 3.9}),
    ("+2px", "eye", "metric", {"slip_px": 2}),
    ("4", "tape", "imperial", {"slip_at_background": 101.6}),
    ("-4 1/2 in", "pixels", "imperial", {"slip_at_background": -114.3}),
    ("40", "tape", "metric", {"slip_at_background": 40}),
    ("0", "pixels", "metric", {"slip_px": 0}),
    ("0", "eye", "metric", {"seen": "locked"}),
    ("+", "eye", "metric", {"seen": "outruns"}),
    ("-", "eye", "metric", {"seen": "lags"}),
    ("Out", "pixels", "metric", {"seen": "outruns"}),
    ("lag", "tape", "metric", {"seen": "lags"}),
    ("locked", "eye", "metric", {"seen": "locked"}),
]


@pytest.mark.parametrize(("text", "way", "system", "means"), ENTRIES)
def test_an_entry_is_read_in_its_own_way_or_the_one_chosen(
    text: str, way: Any, system: UnitSystem, means: dict[str, Any]
) -> None:
    row = new_row(50.0, read_slip(text, way, system))
    for name in ("slip_px", "slip_at_background", "seen"):
        wanted = means.get(name)
        assert getattr(row, name) == (pytest.approx(wanted) if isinstance(wanted, float) else wanted), name
    assert read_slip(slip_text(row, system), way_of(row), system) == read_slip(text, way, system)


@pytest.mark.parametrize(
    ("text", "way", "says"),
    [
        ("l", "eye", "write outruns, lags or locked"),
        ("maybe", "eye", "write outruns, lags or locked"),
        ("", "pixels", "nothing entered; write pixels as in -3.5 px, a tape's 4 in, or outruns, lags, locked"),
        ("", "tape", "nothing entered; write pixels"),
        ("", "eye", "nothing entered; write outruns, lags or locked"),
        ("5 kg", "pixels", "write pixels"),
        ("nan", "pixels", "is no slip"),
        ("inf px", "pixels", "not a number"),
        ("1e9 px", "pixels", "out of range"),
        ("four", "tape", "four"),
        ("1,000", "pixels", "without the comma"),
    ],
)
def test_what_cannot_be_a_slip_is_refused_in_one_line(text: str, way: Any, says: str) -> None:
    with pytest.raises(ValueError, match=says) as refused:
        read_slip(text, way, "imperial")
    assert "\n" not in str(refused.value)


def test_a_slide_is_read_in_mm_and_kept_on_the_head() -> None:
    head = Head.model_validate(
        {
            "schema": 1,
            "name": "h",
            "slide_min": "0 mm",
            "slide_max": "120 mm",
            "slide_step": "1 mm",
            "sensor_at_zero": "-86 mm",
        }
    )
    assert read_slide("60", head, "imperial") == 60  # as the slide is marked, whatever the shot's units
    assert read_slide("2 in", head, "imperial") == pytest.approx(50.8)
    assert read_slide("130", None, "metric") == 130
    assert read_slide("2 1/2", None, "imperial") == pytest.approx(63.5)  # no head: the shot's units
    with pytest.raises(ValueError, match="130 mm is off the slide of h, which runs 0 mm to 120 mm"):
        read_slide("130", head, "metric")


def test_what_was_read_is_said_with_which_way_the_near_stick_went() -> None:
    def said(text: str, way: Any = "pixels") -> str:
        return in_words(new_row(50.0, read_slip(text, way, "imperial")), "imperial")

    assert said("14.5") == "14.5 px: the near target outran"
    assert said("-3") == "3 px: the near target lagged behind"
    assert said("0") == "0 px: the two stayed together"
    assert said("-4 in") == "4 in on the tape at the background: the near target lagged behind"
    assert said("lags") == "by eye: the near target lagged behind the far one"


# With what it was taken

HEAD = {"name": "plain-head"}
PAN = {"move.axis": "pan", "move.sweep": "12 deg", "kit.head": "plain-head"}
ROWS = [{"slide": f"{slide} mm", "slip_px": slip} for slide, slip in ((30, -12.1), (60, 0.2), (90, 11.8))]


def zero(found: Answer) -> float:
    assert found.slip.bench is not None
    assert found.slip.bench.slide_for_zero_mm is not None
    return found.slip.bench.slide_for_zero_mm


@pytest.mark.parametrize(
    "taken", [{"lens": "other"}, {"head": "other"}, {"axis": "tilt"}, {"focal_length": "26 mm"}], ids=str
)
def test_a_reading_with_another_kit_or_axis_does_not_count_and_it_is_said(taken: dict[str, str]) -> None:
    stray = {"slide": "60 mm", "slip_px": 40} | taken
    mixed = solve({**PAN, "bench": [ROWS[0], stray, *ROWS[1:]]}, head=HEAD)
    assert zero(mixed) == zero(solve({**PAN, "bench": ROWS}, head=HEAD))
    assert text_of(mixed, "bench-other-kit").startswith("Reading 2 was taken with another")
    alone = solve({**PAN, "bench": [stray]}, head=HEAD)
    assert alone.slip.bench is not None
    assert next(iter(taken.values())) in str(alone.slip.bench.fault)
    assert "bench-fault" in codes(alone)


def test_a_reading_off_this_heads_slide_is_no_fault_if_of_another() -> None:
    far = {"slide": "400 mm", "slip_px": 1, "head": "other"}
    assert zero(solve({**PAN, "bench": [far, *ROWS]}, head=HEAD)) == pytest.approx(60, abs=2)


def test_noted_readings_say_what_they_were_taken_with_and_count_anew() -> None:
    of = solve({**PAN, "bench": ROWS}, head=HEAD)
    rows = kept(of)["bench"]
    assert {tuple(getattr(row, name) for name in TAKEN_WITH) for row in rows} == {
        (
            "plain-camera",
            "plain-mode",
            "plain-lens",
            25.0,
            of.focus.focus_mm,
            "plain-head",
            "pan",
            12.0,
            4030.0,
            64030.0,
            0.0,
        )
    }
    elsewhere = {"move.axis": "tilt", "move.sweep": "3 deg", "place.model": "5 m"}
    written = [row.model_dump(exclude_none=True, context={"units": "metric"}) for row in rows]
    assert kept(solve({**elsewhere, "bench": written}, head=HEAD))["bench"] == rows
    assert as_now(rows) == of.setting.bench


def test_the_place_of_a_model_left_open_is_noted_as_it_was_chosen() -> None:
    of = solve({**PAN, "place.model": None, "bench": ROWS}, head=HEAD)
    assert {row.model for row in kept(of)["bench"]} == {of.lineup.model_mm}


def test_each_reading_counts_over_its_own_sweep() -> None:
    """Slips of the geometry at two sweeps, in one bench: its zero comes back, as far as the pixels are kept."""
    model, background, image, pixel = 4000.0, 64000.0, 25.15724, 0.01
    rows = []
    for slide, sweep in ((30, 12), (45, 5), (75, 5), (95, 12)):
        turn = Turn(sweep_deg=sweep, model_mm=model, background_mm=background, image_distance_mm=image)
        rows.append({"slide": f"{slide} mm", "slip_px": slip_mm(turn, slide - 60.0) / pixel, "sweep": f"{sweep} deg"})
    mixed = solve({**PAN, "move.slide": "60 mm", "bench": rows}, head=HEAD)
    assert zero(mixed) == pytest.approx(60, abs=0.01)
    assert mixed.slip.bench is not None
    assert mixed.slip.bench.suspects == ()
    # The same slips taken as read over one sweep would not lie on a line.
    over_one = [{key: value for key, value in row.items() if key != "sweep"} for row in rows]
    off = bench_line(solve({**PAN, "move.slide": "60 mm", "bench": over_one}, head=HEAD))
    own = bench_line(mixed)
    assert off is not None
    assert own is not None
    assert max(abs(point.residual_px) for point in own.points) < 0.02
    assert max(abs(point.residual_px) for point in off.points) > 0.5


def slips_at(model: float, background: float, image: float) -> list[dict[str, Any]]:
    """Slips of the geometry over 12°, with no slip at 60 mm; model and background from the pupil."""
    turn = Turn(sweep_deg=12, model_mm=model, background_mm=background, image_distance_mm=image)
    return [{"slide": f"{at} mm", "slip_px": slip_mm(turn, at - 60.0) / 0.01} for at in (30, 45, 75, 95)]


def test_readings_from_where_the_rig_stood_before_are_no_disagreement() -> None:
    """The slope goes with 1/d: at 4 m it is half as steep again as at 6 m, where the rig has gone."""
    rows = slips_at(4000, 64000, 25.083)
    moved = {**PAN, "move.slide": "60 mm", "place.model": "6030 mm", "place.background": "96030 mm"}
    as_if_now = solve({**moved, "bench": rows}, head=HEAD)
    assert "bench-slope" in codes(as_if_now)
    kept = [row | {"model": "4030 mm", "background": "64030 mm"} for row in rows]
    found = solve({**moved, "bench": kept}, head=HEAD)
    assert "bench-slope" not in codes(found)
    assert zero(found) == pytest.approx(60, abs=0.05)
    assert found.slip.bench is not None
    # Laid out as read at 6 m; the picture's own scale, v, is the present one: 25.055 mm for 25.083 mm.
    assert found.slip.bench.slope_px_per_mm == pytest.approx(found.slip.bench.slope_predicted_px_per_mm, rel=2e-3)


def test_readings_of_another_place_tell_the_zero_of_a_shot_without_slip() -> None:
    kept = [row | {"model": "4030 mm", "background": "64030 mm"} for row in slips_at(4000, 64000, 25.083)]
    still = {**PAN, "place.model": "6030 mm", "place.background": "6030 mm"}
    assert zero(solve({**still, "bench": kept}, head=HEAD)) == pytest.approx(60, abs=0.05)
    assert "nothing can slip here" in text_of(
        solve({**still, "bench": slips_at(4000, 64000, 25.083)}, head=HEAD), "bench-fault"
    )


def test_a_bench_over_its_own_sweep_is_told_in_the_pixels_of_that_sweep() -> None:
    """At 15° a mm makes v·(1 − d/D)·sin 15°/(d·cos² 15°·p) px, d and D from the axis (pinhole, by hand)."""
    image, pixel, model, background = 25.15724, 0.01, 4000.0, 64000.0
    turn = Turn(sweep_deg=15, model_mm=model, background_mm=background, image_distance_mm=image)
    rows = [
        {"slide": f"{at} mm", "slip_px": slip_mm(turn, at - 60.0) / pixel + off, "sweep": "15 deg"}
        for at, off in ((30, 0.5), (45, -0.5), (75, -0.5), (95, 0.5))
    ]
    found = solve({**PAN, "move.slide": "60 mm", "move.sweep": "20 deg", "bench": rows}, head=HEAD)
    angle = math.radians(15)
    by_hand = image * (1 - model / background) * math.sin(angle) / (model * math.cos(angle) ** 2 * pixel)
    assert found.slip.bench is not None
    assert found.slip.bench.slope_predicted_px_per_mm == pytest.approx(by_hand, rel=0.01)
    assert found.slip.bench.slope_px_per_mm == pytest.approx(by_hand, rel=0.02)
    line, at, off = bench_line(found), np.array([30, 45, 75, 95]), np.array([0.5, -0.5, -0.5, 0.5])
    straight = off - np.polyval(np.polyfit(at, off, 1), at)
    assert line is not None
    assert [point.residual_px for point in line.points] == pytest.approx(list(straight), abs=0.02)
    read = next(step.text for step in steps(found) if step.title == "Read")
    assert f"over 15 deg, a millimetre of slide is worth {by_hand:.2f} px" in read


def test_the_bench_is_read_level_and_its_zero_carried_to_the_aim() -> None:
    """A lens tilted 2° up over an axis 70 mm below has its pupil 70·tan 2° = 2.44 mm farther back."""
    image = 25.15724
    turn = Turn(sweep_deg=12, model_mm=4000.0, background_mm=64000.0, image_distance_mm=image)
    level = [(at, slip_mm(turn, at - 60.0) / 0.01) for at in (30, 45, 75, 95)]
    head = HEAD | {"tilt_drop": "70 mm"}
    aimed = solve({**PAN, "place.aim": "2 deg up"}, head=head)
    own = of_its_own(of_shot(aimed), aimed)
    assert own == {"aim": 0.0}
    rows = [{"slide": f"{at} mm", "slip_px": px, "aim": "0 deg"} for at, px in level]
    found = solve({**PAN, "place.aim": "2 deg up", "bench": rows}, head=head)
    assert zero(found) == pytest.approx(60 + 70 * math.tan(math.radians(2)), abs=0.1)
    line = bench_line(found)
    assert line is not None
    assert line.zero_mm == pytest.approx(60, abs=0.1)  # as it was read
    assert [point.slide_mm for point in line.points] == [30, 45, 75, 95]
    assert report(found)[0].text.startswith("On the bench as read nothing slips at 60.0 mm")
    assert any("reckoned level, not 2 deg up" in step.text for step in steps(found))


def test_a_length_on_the_tape_counts_at_the_background_that_it_hung_at() -> None:
    """100 mm at 64 m is as much picture as 150 mm at 96 m."""
    moved = {**PAN, "move.slide": "60 mm", "place.background": "96030 mm"}
    near = [{"slide": "90 mm", "slip_at_background": "100 mm", "background": "64030 mm"}]
    line = bench_line(solve({**moved, "bench": near}, head=HEAD))
    now = bench_line(solve({**moved, "bench": [{"slide": "90 mm", "slip_at_background": "150 mm"}]}, head=HEAD))
    assert line is not None
    assert now is not None
    assert line.points[0].slip_px == pytest.approx(now.points[0].slip_px)


def test_a_reading_that_says_it_was_taken_inside_out_is_a_fault_in_words() -> None:
    rows = [ROWS[0] | {"model": "8 m", "background": "5 m"}]
    text = text_of(solve({**PAN, "bench": rows}, head=HEAD), "bench-fault")
    assert text.endswith("a reading cannot have been so: the background must not stand nearer than the model")


def test_readings_in_the_frame_over_their_own_sweep_are_not_warned_of() -> None:
    wide = {**PAN, "move.sweep": "40 deg"}
    assert "bench-out-of-frame" in codes(solve({**wide, "bench": ROWS}, head=HEAD))
    own = [row | {"sweep": "12 deg"} for row in ROWS]
    assert "bench-out-of-frame" not in codes(solve({**wide, "bench": own}, head=HEAD))


def test_a_tape_at_a_background_without_end_is_a_fault_in_words() -> None:
    rows = [{"slide": "50 mm", "slip_at_background": "100 mm"}]
    found = solve({**PAN, "place.background": "inf", "bench": rows}, head=HEAD)
    assert "needs the distance of the background" in text_of(found, "bench-fault")


# Which readings are doubted

TURN = Turn(sweep_deg=12, model_mm=3048, background_mm=73152, image_distance_mm=35.4)
PIXEL = 16.6 / 2048


def readings(slides: list[float], noise: list[float], zero_mm: float = 60.0) -> list[Reading]:
    return [
        Reading(slide, float(round(slip_mm(TURN, slide - zero_mm) / PIXEL + off)))
        for slide, off in zip(slides, noise, strict=True)
    ]


def doubted(taken: list[Reading]) -> tuple[int, ...]:
    return contradicting(taken, fit(taken, TURN, PIXEL), TURN, PIXEL)


def test_two_readings_that_change_places_about_the_zero_are_noise() -> None:
    taken = readings([30, 59, 61, 90], [0, 1.3, -1.3, 0])
    assert [reading.slip_px for reading in taken][1:3] == [1, -1]
    assert doubted(taken) == ()


@pytest.mark.parametrize("wrong", range(5))
def test_a_lost_sign_or_a_digit_too_many_is_named(wrong: int) -> None:
    slides = [20.0, 40.0, 62.0, 80.0, 100.0]
    noise = [0.0] * 5
    noise[wrong] = 35.0
    assert doubted(readings(slides, noise)) == (wrong,)


def test_readings_by_eye_are_named_beside_those_in_pixels() -> None:
    taken = [*readings([30, 60, 90], [0, 0, 0]), Reading(40, seen="outruns"), Reading(80, seen="outruns")]
    assert doubted(taken) == (3,)


@given(st.lists(st.tuples(st.floats(0, 120), st.integers(-40, 40)), min_size=2, max_size=8))
def test_any_readings_have_an_answer_and_name_only_what_is_there(pairs: list[tuple[float, int]]) -> None:
    taken = [Reading(slide, float(slip)) for slide, slip in pairs]
    try:
        found = fit(taken, TURN, PIXEL)
    except ValueError:
        return
    assert set(contradicting(taken, found, TURN, PIXEL)) <= set(range(len(taken)))


@pytest.mark.parametrize(("sweep", "turns"), [("0 deg", 10.0), ("1 deg", 1.0)])
def test_a_bench_turns_by_what_the_shot_turns_however_little(sweep: str, turns: float) -> None:
    assert of_shot(solve({"move.axis": "pan", "move.sweep": sweep}, head={})).sweep_deg == turns


def test_without_a_head_the_next_readings_lie_to_either_side() -> None:
    """-2 px at 56 mm and 2 px at 66 mm: nothing slips at 61 mm; to the nearest 5 mm."""
    rows = [{"slide": "56 mm", "slip_px": -2}, {"slide": "66 mm", "slip_px": 2}]
    found = solve({"move.axis": "pan", "move.sweep": "10 deg", "bench": rows})
    assert next_places(found) == (20.0, 100.0)


def test_a_bench_in_a_still_shot_has_its_line() -> None:
    """The first reading has a move of its own, the second says only where the model stood: drawn as in the answer."""
    rows = [
        {"slide": "50 mm", "slip_px": -3, "axis": "pan", "sweep": "10 deg"},
        {"slide": "60 mm", "slip_px": -1, "model": "1.5 m"},
        {"slide": "80 mm", "slip_px": 2},
    ]
    found = solve({"move.axis": "none", "bench": rows}, head=HEAD)
    assert found.slip.bench is not None
    line = bench_line(found)
    assert line is not None
    assert line.zero_mm == found.slip.bench.slide_for_zero_mm
