"""Whole answers against the same answers worked by hand, number by number, from the tape and the profiles.

By hand is `by_hand.py`: the textbook formulas, in plain numbers. Both sides carry floats, so they agree to 1e-9;
what is coarser says why.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from by_hand_groups import Worked
from by_hand_slip import Turned
from cases import fields_of, shipped, solve
from worked_cases import CASES

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.files.faults import BadInput

FLOATS = 1e-9
# What the engine itself states: contrast to 1e-4 of Hopkins's integral; Student's t for one standard deviation
# by its expansion, to 2 %; the normal and the 95 % t to the digits of the printed table; Airy's factor to six digits.
COARSER = {
    **{f"contrast.{name}": 1e-4 for name in ("near", "focus", "far", "worst", "best_worst")},
    "focus.airy_mm": 1e-6,
    "scale.finest_model_mm": 1e-4,  # contrast to 1e-4
    "scale.finest_real_mm": 1e-4,
    "bench.std_error_mm": 0.02,
    "bench.band_mm": 3e-4,
    "slip.slide_best_mm": 5e-4,  # the move is tried at a few poses: a twentieth of a mm
    "slip.best_within_mm": 5e-4,
}
NOT_NUMBERS = {
    "scale": {"build", "stock", "rounding"},
    "speed": {"rates"},
    "focus": {"contrast"},
    "light": {"lamps"},
    "slip": {"axis", "pupil_known", "pupil_outside", "pupil_uncertainty_mm", "pupil_rows", "bench"},
    "survey": {
        *("name", "distance_by", "moved_on", "fault", "readings"),  # what each may be off: test_survey_sighted
        *("distance_error_mm", "feature_width_error_mm", "feature_height_error_mm"),
    },
    "bench": {"readings", "outside", "suspects", "bracket_mm", "try_next_mm", "contradicting", "fault", "mend"},
}
GROUPS = ("scale", "lineup", "speed", "focus", "contrast", "light", "slip", "survey")


@cache
def answered(name: str) -> Answer:
    return CASES[name].answer()


@cache
def by_hand(name: str) -> dict[str, dict[str, Any]]:
    given = CASES[name].given
    worked, turned = Worked(given), Turned(given)
    tables = {group: getattr(turned if group == "slip" else worked, group)() for group in GROUPS}
    return tables | ({"bench": turned.bench()} if given.bench else {})


def engine_group(name: str, group: str) -> Any:
    found = answered(name)
    if group in {"contrast", "bench"}:
        return getattr(found.focus if group == "contrast" else found.slip, group)
    return getattr(found, group)


@pytest.mark.parametrize(("name", "group"), [(name, group) for name in CASES for group in GROUPS])
def test_every_number_of_the_group(name: str, group: str) -> None:
    compare(name, group)


@pytest.mark.parametrize("name", [name for name, case in CASES.items() if case.given.bench])
def test_the_bench(name: str) -> None:
    compare(name, "bench")


def compare(name: str, group: str) -> None:
    found, expected = engine_group(name, group), by_hand(name)[group]
    wrong = {}
    for key, value in expected.items():
        given = getattr(found, key)
        if value is None or isinstance(value, bool):
            right = given is value
        else:
            right = given == pytest.approx(value, rel=COARSER.get(f"{group}.{key}", FLOATS), abs=1e-12)
        if not right:
            wrong[key] = f"{given!r}, by hand {value!r}"
    assert not wrong


@pytest.mark.parametrize("group", [*GROUPS, "bench"])
def test_no_number_of_the_group_is_left_unchecked(group: str) -> None:
    fields = set(fields_of(engine_group("kiln stack", group)))
    assert fields - NOT_NUMBERS.get(group, set()) == set(by_hand("kiln stack")[group])


def numbers(value: Any, path: str = "") -> Iterator[tuple[str, float]]:
    for name in fields_of(value):
        yield from numbers(getattr(value, name), f"{path}.{name}")
    if isinstance(value, float):
        yield path, value


@pytest.mark.parametrize("name", CASES)
def test_no_number_is_nan(name: str) -> None:
    found = answered(name)
    for group in GROUPS:
        for path, value in numbers(engine_group(name, group), group):
            assert not math.isnan(value), path
    assert found.stopped == any(finding.level == "stop" for finding in found.findings)


@pytest.mark.parametrize("name", CASES)
def test_contrast_can_be_left_out_and_nothing_else_changes(name: str) -> None:
    whole = answered(name)
    bare = answer(whole.setting, whole.kit, whole.system, with_contrast=False)
    assert bare.focus == whole.focus._replace(contrast=None)
    assert bare.scale == whole.scale._replace(finest_model_mm=None, finest_real_mm=None)
    for group in ("lineup", "speed", "light", "slip", "survey", "auto"):
        assert getattr(bare, group) == getattr(whole, group)


# Parts as the shop cuts them. 60 ft at half an inch to the foot is 30 in; 6 ft 9 in is 3 3/8 in; 3 in is 1/8 in.
SHOP = [
    ("kiln-stack", "stack above the roof", 762.0, "30 in", 0.0),
    ("kiln-stack", "stack at the base", 85.725, "3 3/8 in", 0.0),
    ("kiln-stack", "brick course", 3.175, "1/8 in", 0.0),
    ("lock-gate", "gate leaf", 750.0, "750 mm", 0.0),
    ("lock-gate", "balance beam", 650.0, "650 mm", 0.0),
    ("signal-lamp", "signal box", 300.0, "300 mm", 0.0),
]


@pytest.mark.parametrize(("shot", "part", "model_mm", "shop", "error_mm"), SHOP)
def test_the_build_list(shot: str, part: str, model_mm: float, shop: str, error_mm: float) -> None:
    _, found = answer_file(shipped("shots", shot))
    (item,) = [item for item in found.scale.build if item.part == part]
    assert item.model_mm == pytest.approx(model_mm, rel=FLOATS)
    assert item.shop == shop
    assert item.shop_error_real_mm == pytest.approx(error_mm, abs=1e-9)


# What cannot be is refused by its field. The pupil is 30 mm ahead and the focal length 25 mm, so nothing may stand
# nearer than 55 mm; 1:40 of a background 1 m from the pupil is 25 mm from it. A pan of 80° with the pupil 60 mm ahead
# of the axis brings it beyond a model 230 mm from the axis, which is then 230 mm · cos 80° = 40 mm away.
NEAR_PAN = {"move.axis": "pan", "move.sweep": "80 deg", "move.slide": "120 mm"}
REFUSED = [
    ({"place.model": "54 mm"}, "place.model: would stand 54 mm from the sensor plane", "beyond 55 mm"),
    ({"place.model_near": "50 mm"}, "place.model_near: would stand 50 mm from the sensor plane", "beyond 55 mm"),
    (
        {"place.model": None, "place.background": "1030 mm", "scale.ratio": 40},
        "place.model: would stand 55 mm",
        "inside",
    ),
    ({"place.model": None, "place.background": "inf"}, "place.model: is missing", "infinity"),
    ({"focus.distance": "50 mm"}, "focus.distance: lies inside the lens", "plain-lens"),
    ({"focus.distance": "55 mm"}, "focus.distance: lies inside the lens", "plain-lens"),
    (NEAR_PAN | {"place.model": "200 mm"}, "move: ", "ahead of the lens's entrance pupil"),
]


@pytest.mark.parametrize(("changes", "field", "why"), REFUSED)
def test_what_cannot_be_is_refused_by_its_field(changes: dict[str, Any], field: str, why: str) -> None:
    with pytest.raises(BadInput) as refusal:
        solve(changes, head={})
    (line,) = refusal.value.lines
    assert line.startswith(field)
    assert why in line


def test_a_place_worked_out_inside_the_lens_is_refused_as_if_taped() -> None:
    """The pupil lies 30 mm behind the sensor: 1:20 of 1030 mm is 51.5 mm ahead of it, 21.5 mm on the tape, 1:18 27 mm.

    The lens reaches to 25 mm, so that the first can be neither built nor typed.
    """
    behind = {"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": "-30 mm"}]}
    free = {"place.model": None, "place.background": "1000 mm"}
    for changes in (free | {"scale.ratio": 20}, {"place.model": "21.5 mm", "place.background": "1000 mm"}):
        with pytest.raises(BadInput, match=r"^place\.model: 21\.5 mm lies inside the lens; it must lie beyond 25 mm"):
            solve(changes, lens=behind)
    stands = solve(free | {"scale.ratio": 18}, lens=behind).lineup.model_mm
    assert stands == pytest.approx(1030 / 18 - 30)
    assert solve(free | {"place.model": f"{stands} mm"}, lens=behind).lineup.model_mm == stands


def test_a_pan_that_keeps_the_model_ahead_is_answered() -> None:
    assert solve(NEAR_PAN | {"place.model": "1 m"}, head={}).slip.slip_px is not None
    assert solve(NEAR_PAN | {"place.model": "200 mm", "move.slide": None}, head={}).slip.slip_px is None


def test_where_no_slide_is_read_the_axis_is_where_the_pupil_was_taped() -> None:
    found = solve(NEAR_PAN | {"place.model": "1 m", "place.background": "64030 mm", "move.slide": None}, head={})
    assert (found.slip.model_from_axis_mm, found.slip.background_from_axis_mm) == (970, 64_000)
