"""What a search says of itself on kits and limits at the edge: nothing, one mode, everything, a contradiction."""

from __future__ import annotations

from typing import get_args

import pytest
from options_kit import KIT, ONE, SHORT, TWO, WIDE, camera, lens, mode, open_shot

from forescale.engine.files.faults import BadInput
from forescale.engine.options.outcome import Gathering, Outcome, find_options
from forescale.engine.options.search import REASONS, Reason, search
from forescale.engine.options.to_try import Shelves, plan
from forescale.engine.shot.records import Setting


def searched(setting: Setting, shelves: Shelves = KIT) -> Outcome:
    return find_options(setting, "metric", shelves)


def counts(found: Outcome) -> dict[str, int]:
    return {row.code: row.count for row in found.dropped}


def test_no_lens_reaches() -> None:
    """200 mm and 300 mm at a 24 mm frame hold no zone from a few metres to 90 m at f/22."""
    long = tuple(lens(f"long-{mm}", focal_length=f"{mm} mm", close_focus="2.5 m") for mm in (200, 300))
    slow_is_fine = open_shot({"action.kind": "still", "limits.ratios": ["1:30"]})
    found = searched(slow_is_fine, Shelves(KIT.cameras, long))
    assert found.working == 0
    assert not found.options
    assert set(counts(found)) <= {"zone", "close", "inside"}
    assert str(found.verdict) == (
        f"No lens at hand reaches. None of {found.searched} ways works: {counts(found)['zone']} fail because model "
        "and background are not both held sharp at a stop that may be used. No one thing that is set would mend it "
        "by being given up."
    )


def test_every_reason_why_a_way_fails_is_told_in_words_of_its_own() -> None:
    """They end "3 fail because ..."."""
    assert [*REASONS] == [*get_args(Reason)]
    told = [str(reason) for reason in REASONS.values()]
    assert len(set(told)) == len(told)
    assert all(reason.partition(" ")[0] in {"the", "model", "there"} for reason in told)


def test_one_mode_only() -> None:
    """1:24 wants 118 fps, which 1.5 times gravity lets down to 96: only the crop of the one and no other has it."""
    slow = camera("slow", mode("whole", 24, [24, 25, 48, 60]))
    found = searched(open_shot({"scale.ratio": "1:24"}), Shelves((ONE, slow), (SHORT,)))
    assert {(row.option.in_mode.camera.name, row.option.in_mode.mode.name) for row in found.options} == {
        ("one", "crop")
    }
    assert str(found.verdict) == (
        "Only one mode works, crop of one, in 1 of 3 ways; 2 fail, all because the mode is too slow for the model to "
        "look heavy."
    )


def test_everything_works() -> None:
    setting = open_shot({"scale.ratio": "1:4", "action.kind": "still", "focus.sharpness": "0.3 mm"})
    found = searched(setting, Shelves((ONE, TWO), (SHORT, WIDE)))
    assert found.searched == found.working == 6
    assert found.dropped == ()
    assert str(found.verdict) == "All 6 ways work: choose by what you want most."


def test_limits_that_contradict_each_other_are_both_named() -> None:
    """120 fps serves 1:25, or 1:37.5 at 1.5 times gravity; 9 m within 200 mm is 1:45 at least."""
    shelves = Shelves((ONE,), KIT.lenses)
    soft = {"focus.sharpness": "0.1 mm", "light.available": None}
    found = searched(open_shot(soft | {"limits.build_max": "200 mm"}), shelves)
    assert found.working == 0
    assert set(counts(found)) == {"build", "gravity"}
    without_build = searched(open_shot(soft), shelves).working
    without_gravity = searched(open_shot(soft | {"limits.build_max": "200 mm", "limits.gravity": 100}), shelves).working
    assert without_build > 0
    assert without_gravity > 0
    assert str(found.verdict).endswith(
        f"What is set contradicts itself: without limits.build_max {without_build} ways would work, "
        f"without limits.gravity {without_gravity}."
    )


def test_a_limit_that_alone_is_in_the_way_is_named() -> None:
    setting = open_shot({"scale.ratio": "1:15", "limits.frame_min": 5.0})
    found = searched(setting)
    assert found.working == 0
    freed = searched(open_shot({"scale.ratio": "1:15"})).working
    assert f"Without limits.frame_min {freed} ways would work." in str(found.verdict)


def test_held_kit_in_the_way_is_named() -> None:
    setting = open_shot({"scale.ratio": "1:24", "kit.mode": "whole", "limits.hold": ["camera", "mode"]})
    found = searched(setting)
    assert found.working == 0
    freed = searched(open_shot({"scale.ratio": "1:24", "kit.mode": "whole"})).working
    assert f"ithout limits.hold {freed}" in str(found.verdict)


def test_a_place_that_fits_no_customary_ratio_is_tried_at_its_own() -> None:
    """60 m over 4 m is 15 from the sensor plane, and 1:15 then fits every lens whose pupil is near it."""
    found = searched(open_shot({"place.model": "4 m"}))
    assert found.working > 0
    assert {row.option.ratio for row in found.options} == {15}
    named = searched(open_shot({"place.model": "4 m", "limits.ratios": ["1:15"]}))
    assert (named.working, named.searched) == (found.working, found.searched)


def test_an_unbounded_model_is_pointed_out_where_its_size_is_searched() -> None:
    told = "Nothing bounds the size of the model"
    assert told in str(searched(open_shot()).verdict)
    assert told not in str(searched(open_shot({"limits.build_max": "2 m"})).verdict)
    assert told not in str(searched(open_shot({"scale.ratio": "1:15"})).verdict)


def test_most_of_what_fails_is_named_first() -> None:
    found = searched(open_shot())
    first = found.dropped[0]
    assert first.count == max(row.count for row in found.dropped)
    failing = found.searched - found.working
    assert f"{failing} fail, {first.count} of them because {first.reason}" in str(found.verdict)


def test_how_many_work_with_hardly_any_contrast_is_told() -> None:
    found = searched(open_shot())
    faint = [row.option for row in found.options if row.option.worst_contrast < 0.1]
    assert 1 < len(faint) < found.working
    assert f"{len(faint)} of those that work have under 10 % contrast: fine detail is all but lost" in str(
        found.verdict
    )
    clear = searched(open_shot({"scale.ratio": "1:4", "action.kind": "still", "focus.sharpness": "0.3 mm"}))
    assert min(row.option.worst_contrast for row in clear.options) > 0.1
    assert "contrast" not in str(clear.verdict)


def test_before_all_is_tried_nothing_is_claimed_of_the_whole() -> None:
    to_try = plan(open_shot({"limits.build_max": "1 mm"}), "metric", KIT)
    gathering = Gathering(to_try)
    assert str(gathering.outcome().verdict) == f"0 of {to_try.ways} ways tried so far; 0 work."
    gathering.add(next(search(to_try)))
    assert str(gathering.outcome().verdict) == f"{len(to_try.ratios)} of {to_try.ways} ways tried so far; 0 work."


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"limits.frame_min": 0.2, "build": ()}, "limits.frame_min: needs something to be built"),
        ({"limits.build_max": "1 m", "build": ()}, "limits.build_max: needs something to be built"),
        ({"place.background": "inf", "place.background_far": None}, "place.model: must be set"),
        ({"kit.camera": "gone", "limits.hold": ["camera"]}, 'limits.hold: no camera at hand is "gone"'),
        ({"kit.lens": "gone", "limits.hold": ["lens"]}, 'limits.hold: no lens at hand is "gone"'),
        ({"kit.lens": "zoom", "limits.hold": ["focal_length"]}, "limits.hold: no lens at hand"),
    ],
)
def test_what_cannot_be_searched_is_refused_in_a_line(changes: dict[str, object], fault: str) -> None:
    with pytest.raises(BadInput) as bad:
        plan(open_shot(changes), "metric", KIT)
    (line,) = bad.value.lines
    assert line.startswith(fault)


@pytest.mark.parametrize(
    ("limits", "fault"),
    [
        ({"limits.frame_min": 0.5, "limits.frame_max": 0.4}, "frame_min is above frame_max"),
        ({"limits.order": []}, "order must name what counts"),
        ({"limits.order": ["light", "light"]}, "order must name what counts"),
        ({"limits.order": ["beauty"]}, "'beauty' is not known"),
        ({"limits.hold": ["head"]}, "'head' is not known"),
        ({"limits.gravity": 0.5}, "is out of range"),
    ],
)
def test_limits_that_make_no_sense_are_refused(limits: dict[str, object], fault: str) -> None:
    with pytest.raises(BadInput, match=fault):
        open_shot(limits)


def test_a_part_exactly_as_large_as_may_be_built_is_built() -> None:
    """9 m at 1:45 is 200 mm."""
    still = {"scale.ratio": "1:45", "action.kind": "still", "focus.sharpness": "0.3 mm"}
    assert counts(searched(open_shot(still | {"limits.build_max": "200 mm"}))).get("build") is None
    assert counts(searched(open_shot(still | {"limits.build_max": "199.9 mm"})))["build"] > 0
