"""What the bench says: the zero and its error, whether that will do, where to read next, and the six steps."""

from __future__ import annotations

from typing import Any

import pytest
from cases import solve

from forescale.engine.answer import Answer
from forescale.engine.bench.bench_report import doubts, next_places, report, steps, stored_text

HEAD = {"name": "plain-head"}
PAN = {"move.axis": "pan", "move.sweep": "12 deg", "kit.head": "plain-head"}


def bench(*readings: tuple[float, Any], **changes: Any) -> Answer:
    """A bench of these readings: slide, and pixels or what the eye saw."""
    rows = [
        {"slide": f"{slide} mm", ("seen" if isinstance(slip, str) else "slip_px"): slip} for slide, slip in readings
    ]
    fields = {path.replace("_", ".", 1): value for path, value in changes.items()}
    head = None if fields.get("kit.head", "") is None else HEAD
    return solve({**PAN, **fields, "bench": rows}, head=head)


def texts(found: Answer) -> list[str]:
    return [text for text, _ in report(found)]


GOOD = ((10.0, -6.3), (35, -3.2), (60, 0.1), (85, 3.2), (110, 6.6))  # 0.128 px a mm of slide in this geometry


def test_the_zero_stands_with_its_error_beside_what_may_pass() -> None:
    found = bench(*GOOD)
    told = texts(found)
    assert found.slip.bench is not None
    assert found.slip.bench.std_error_mm is not None
    assert told[0].startswith(f"Zero at {found.slip.bench.slide_for_zero_mm:.1f} mm ± ")
    assert told[0].endswith("(two times of three)")
    assert told[1].startswith("Good enough: the zero is 95 times of 100 within ± ")
    assert told[2].startswith("Entrance pupil 30.")
    assert "the profile has 30.0 mm, between" in told[2]
    assert found.slip.tolerance_mm is not None
    assert found.slip.bench.band_mm is not None
    assert found.slip.bench.band_mm < found.slip.tolerance_mm
    assert doubts(found) == ()
    assert next_places(found) == ()


def test_an_error_larger_than_what_may_pass_is_not_good_enough() -> None:
    tight = bench(*GOOD, move_tolerance=0.02)
    assert any(text.startswith("Not good enough yet") for text in texts(tight))
    assert not any(good for _, good in report(tight))
    assert next_places(tight) == (0.0, 120.0)
    one_error = bench(*GOOD, move_tolerance=0.04)  # one standard error would pass: 95 times of 100 judge alone
    assert any(text.startswith("Not good enough yet") for text in texts(one_error))


@pytest.mark.parametrize(
    ("readings", "says"),
    [
        ((), ("No readings yet", "Read at 30 mm and 90 mm first, then between")),
        (((40, -8.0),), ("one reading gives no error",)),
        (((40, -2.56), (80, 2.56)), ("two readings give no error", "Read next at 0 mm and 120 mm")),
        (((40, "lags"),), ("By eye, the zero lies above 40 mm", "Read next at 80 mm")),
        (((40, "lags"), (80, "outruns")), ("By eye, the zero lies between 40 mm and 80 mm", "Read next at 60 mm")),
        (((40, "lags"), (60, "locked"), (80, "outruns")), ("By eye, locked at 60.0 mm", "Entrance pupil 30.0 mm")),
        (((40, -8.0), (40, -7.0)), ("No zero yet",)),
    ],
)
def test_few_readings_say_what_they_give_and_what_to_read_next(
    readings: tuple[tuple[float, Any], ...], says: tuple[str, ...]
) -> None:
    told = " | ".join(texts(bench(*readings)))
    for text in says:
        assert text in told


def test_reading_where_it_says_by_number_ends_in_good_enough() -> None:
    """A bench led by the advice alone, each slip rounded to a pixel, 0.128 px a mm about 57 mm."""
    readings: list[tuple[float, float]] = []
    for _ in range(8):
        places = next_places(bench(*readings)) if readings else (30.0, 90.0)
        readings += [(place, float(round(0.128 * (place - 57)))) for place in places]
        if readings and not next_places(bench(*readings)):
            break
    assert len(readings) <= 8
    assert [text.partition(":")[0] for text, good in report(bench(*readings)) if good] == ["Good enough"]


def test_without_a_head_it_is_said_what_the_pupil_lacks() -> None:
    told = texts(bench(*GOOD, kit_head=None))
    assert told[0].startswith("Zero at ")
    assert "takes the head" in told[-1]


DOUBTFUL = [
    (((40, -8.0), (40, -7.0)), {}, "stand at one place"),
    (((70, 4.0), (85, 10.0), (100, 16.0)), {}, "all lie to one side"),
    (((40, 8.0), (60, 0.0), (80, -8.0)), {}, "counted backwards"),
    (
        ((10, -19.8), (60, 0.1), (110, 20.1)),
        {"place_model": "8 m"},
        "check the distance, the focal length or the sweep",
    ),
    (((10, -6.0), (35, -3.0), (60, 30.0), (85, 3.0), (110, 7.0)), {}, "Reading 3 contradicts the others"),
    (((40, "outruns"), (50, "lags"), (60, "lags"), (80, "outruns")), {}, "Reading 1 contradicts"),
    (GOOD, {"move_sweep": "40 deg"}, "leaves the frame after"),
    (GOOD, {"move_axis": "none"}, "set axis and sweep"),
]


@pytest.mark.parametrize(("readings", "changes", "says"), DOUBTFUL)
def test_what_is_suspicious_is_said(
    readings: tuple[tuple[float, Any], ...], changes: dict[str, Any], says: str
) -> None:
    assert says in " | ".join(doubts(bench(*readings, **changes)))


# The six steps


def test_the_guide_has_six_steps_with_the_shots_own_numbers() -> None:
    told = steps(bench(*GOOD))
    assert len(told) == 6
    assert "4.03 m" in told[0].text
    assert "64.03 m" in told[0].text
    assert "25 mm" in told[1].text
    assert "12 deg" in told[2].text
    assert told[0].caution.endswith("follow local codes and the licensed person on set.")
    assert "lock it" in told[1].caution


def test_the_guide_names_the_pupil_right_and_the_other_word_once() -> None:
    text = " ".join(f"{step.title} {step.text} {step.caution}" for step in steps(bench(*GOOD)))
    assert text.casefold().count("nodal") == 1
    assert "Others call that the nodal point, which is another place" in text


def test_the_guide_says_to_turn_less_where_the_sticks_would_leave() -> None:
    told = steps(bench(*GOOD, move_sweep="40 deg"))
    # 20 mm of frame at 25.1 mm: half of it is 21.7 degrees.
    assert "they leave it after 21.74 deg: set the bench's own sweep to 20 deg" in told[2].text


@pytest.mark.parametrize("changes", [{"kit_head": None}, {"move_axis": "none"}, {"place_background": "inf"}])
def test_the_guide_serves_a_shot_that_lacks_something(changes: dict[str, Any]) -> None:
    for step in steps(bench(**changes)):
        assert step.text.strip().endswith(".")
        assert "None" not in step.text
        assert "infinity" not in step.text


@pytest.mark.parametrize(("axis", "verb"), [("tilt", "Tilt up by 5 deg"), ("tilt down", "Tilt down by 5 deg")])
def test_a_tilt_is_read_on_level_bars_lined_up_in_height(axis: str, verb: str) -> None:
    """An upright stick slides along itself in a tilt and shows nothing; moving the tripod aside lines up nothing."""
    told = steps(bench(*GOOD, move_axis=axis, move_sweep="5 deg"))
    text = " ".join(f"{step.title} {step.text} {step.caution}" for step in told)
    assert "stick" not in text
    assert "sideways" not in text
    assert "across" not in text
    assert "bar level 4.03 m from the sensor-plane mark" in told[0].text
    assert "raise or lower the whole camera until the near bar covers the far one" in told[1].text
    assert told[2].text.startswith(verb)
    assert "going farther up or down the picture" in told[3].text


def test_a_pan_is_read_on_upright_sticks_lined_up_sideways() -> None:
    told = steps(bench(*GOOD))
    assert "Stand a thin straight stick 4.03 m" in told[0].text
    assert "shift the whole tripod sideways until the near stick covers" in told[1].text
    assert told[2].text.startswith("Pan by 12 deg")
    assert told[4].text.startswith("Slide the camera elsewhere on its head; the sticks stay where they are. Line up")


def test_a_stored_pupil_says_what_it_changes() -> None:
    """Ahead of the axis by 3 mm: 25.083 · 3 · tan 10° / cos 10° · (1/4000 − 1/64000) / 0.01 is 0.316 px."""
    pan = PAN | {"move.sweep": "10 deg", "move.slide": "63 mm"}
    unknown, known = solve(pan, head=HEAD, lens={"pupil": []}), solve(pan, head=HEAD)
    other = solve(pan, head=HEAD, lens={"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": "24 mm"}]})
    at = "At 25 mm focused at 7.559 m: the pupil is now taken at 30.0 mm"
    assert stored_text(unknown, known) == f"{at}, it was not known; slide 60.0 mm for no slip; slip 0.32 px"
    assert stored_text(other, known) == (
        f"{at}, it was 24.0 mm; slide 60.0 mm for no slip, was 66.0 mm; slip 0.32 px, was -0.32 px"
    )


def test_by_eye_the_zero_may_be_off_by_the_farther_end_of_the_bracket() -> None:
    told = texts(bench((50.0, "lags"), (58, "locked"), (70, "outruns")))
    assert any("the zero is by eye within ± 12 mm" in line for line in told), told
    assert not any("by eye within" in line for line in texts(bench((50.0, "lags"), (58, "locked"))))
