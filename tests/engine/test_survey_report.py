"""The survey at work: shares of the frame as typed, what is found, and what goes into the shot as it is shown."""

from __future__ import annotations

import math
from typing import Any

import pytest
from cases import again, solve

from forescale.engine.answer import Answer
from forescale.engine.files.faults import BadInput
from forescale.engine.shot.edit import changed
from forescale.engine.survey import survey_rows as entry
from forescale.engine.survey import survey_rows as survey
from forescale.engine.units import parse_length

# The plain frame is 2000 pixels wide, 20 mm, behind a lens of 25 mm focused at infinity: 0.8 m of it at each metre.
PLAIN = {"focus.distance": "inf"}


@pytest.mark.parametrize(
    ("text", "share"),
    [("0.22", 0.22), ("22 %", 0.22), ("22%", 0.22), ("2,5 %", 0.025), ("450 px", 0.225), ("450/2048 px", 450 / 2048),
     ("450 px / 2048 px", 450 / 2048), ("450 of 2048 px", 450 / 2048), ("450/2048", 450 / 2048), ("100 %", 1.0)],
)  # fmt: skip
def test_a_share_is_read_as_part_percent_or_pixels(text: str, share: float) -> None:
    assert entry.read_share(text, 2000) == pytest.approx(share, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("22", "write 22 %, 0.22 or 450/2000 px"),
        ("120 %", "more than the whole frame"),
        ("2100 px", "more than the whole frame"),
        ("450/0 px", "0 px wide"),
        ("450/-3 px", "-3 px wide"),
        ("0", "out of range"),
        ("-5 %", "out of range"),
        ("nan", "not a number"),
        ("inf px", "not a number"),
        ("a third", "not a number"),
        ("", "nothing|not a number"),
        ("1,500 px", "without the comma"),
    ],
)
def test_what_is_no_share_is_refused_in_one_line(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says) as refused:
        entry.read_share(text, 2000)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("share", [0.0001, 0.22, 450 / 2048, 1.0])
def test_a_share_is_offered_for_change_as_it_is(share: float) -> None:
    found = solve({**PLAIN, "survey.frame_share": share})
    assert entry.read_share(entry.value_text(found, 1, "frame_share"), 2000) == pytest.approx(share, rel=1e-11)


def test_a_bare_visibility_is_in_kilometres_or_miles() -> None:
    held = {"survey.visibility": "8 km", "survey.visibility_by": "5 %"}
    assert entry.changes(solve(PLAIN), 1, "visibility", "8") == (held, "8 km, with 5 % of the contrast left")


@pytest.mark.parametrize(
    ("name", "text", "held"),
    [
        ("frame_share", "22 % of the height", {"frame_share": 0.22, "share_of": "height"}),
        ("frame_share", "250 px high", {"frame_share": 0.25, "share_of": "height"}),
        ("frame_share", "500/2000 px wide", {"frame_share": 0.25, "share_of": "width"}),
        ("frame_share", "22%", {"frame_share": 0.22, "share_of": "width"}),
        ("visibility", "8 km by 2 %", {"visibility": "8 km", "visibility_by": "2 %"}),
        ("visibility", "5 mi", {"visibility": "8046.72 m", "visibility_by": "5 %"}),
        ("feature_height", "2", {"feature_height": "2 m"}),
        ("name", "north tower", {"name": "north tower"}),
    ],
)
def test_an_entry_is_read_with_its_side_or_what_is_left(name: str, text: str, held: dict[str, Any]) -> None:
    changes, _ = entry.changes(solve(PLAIN), 1, name, text)
    assert changes == {f"survey.{key}": value for key, value in held.items()}
    seen = solve({**PLAIN, **{f"survey.{key}": value for key, value in held.items()}})
    again_held, _ = entry.changes(seen, 1, name, entry.value_text(seen, 1, name))
    kept = {key.removeprefix("survey."): value for key, value in again_held.items() if value is not None}
    assert kept == held


def test_a_share_of_the_frame_is_shown_to_four_digits_with_its_side() -> None:
    """247 of 2000 pixels are 12.35 %, 125 of the 1000 upright ones 12.5 %."""
    for text, told in (("247/2000 px wide", "12.35 % of the width"), ("125 px high", "12.5 % of the height")):
        seen = solve({**PLAIN, **entry.changes(solve(PLAIN), 1, "frame_share", text)[0]})
        assert entry.shown_text(seen, 1, "frame_share") == told
    assert entry.shown_text(solve(PLAIN), 1, "frame_share") == "-"


def test_what_is_read_anew_counts_now_and_a_second_has_its_own_path() -> None:
    seen = solve({**PLAIN, "survey": [{"frame_share": 0.2, "lens": "old"}]})
    changes, _ = entry.changes(seen, 1, "frame_share", "25 %")
    assert changes["survey.lens"] is None
    assert "survey.lens" not in entry.changes(seen, 1, "feature_width", "2 m")[0]
    assert set(entry.changes(seen, 2, "elevation", "9")[0]) == {"survey.2.elevation"}
    both = again(seen, changed(seen.setting, {**changes, "survey.2.elevation": "9 deg"}))
    assert survey.found(both, 2)[0].startswith("Size or distance: enter")
    assert entry.cleared(2, "elevation") == {"survey.2.elevation": None}
    assert len(changed(both.setting, entry.cleared(2, "elevation")).survey) == 1


def width_of(share: float, distance_from_pupil_mm: float) -> float:
    return share * 20 / 25 * distance_from_pupil_mm


def test_the_width_is_that_of_the_share_at_the_background() -> None:
    found = solve({**PLAIN, "survey.frame_share": 0.25})
    assert found.survey.feature_width_mm == pytest.approx(width_of(0.25, 64000), rel=1e-9)  # 12.8 m
    assert (
        "Width 12.8 m ± 340 mm (two standard errors), for 25 % of the frame's width, at 64.03 m, as taped"
        in survey.found(found)
    )


def test_the_distance_found_becomes_the_backgrounds_as_it_is_shown() -> None:
    found = solve({**PLAIN, "survey.frame_share": 0.25, "survey.feature_width": "20 m"})
    # 20 m over a quarter of the frame is 100 m from the pupil, 30 mm more on the tape.
    changes = survey.distance_change(found)
    assert changes == {"place.background": "100.03 m"}
    after = again(found, changed(found.setting, changes))
    assert after.setting.place.background == pytest.approx(100_030)
    told = survey.told_distance(found, after)
    assert told == "The background is now at 100.03 m, was 64.03 m; 1:16 matches it from 6.28 m"
    assert "the background stands there" in survey.found(after)[0]


def test_the_far_side_goes_along_where_it_would_be_left_nearer() -> None:
    near = {**PLAIN, "survey.frame_share": 0.25, "survey.feature_width": "20 m", "place.background_far": "80 m"}
    changes = survey.distance_change(solve(near))
    assert changes["place.background_far"] is None
    after = again(solve(near), changed(solve(near).setting, changes))
    assert "The farthest part was 80 m, nearer than that, and now goes with it" in survey.told_distance(
        solve(near), after
    )
    beyond = solve({**near, "place.background_far": "200 m"})
    assert "place.background_far" not in survey.distance_change(beyond)


def test_the_height_found_becomes_the_one_to_meet() -> None:
    found = solve({**PLAIN, "survey.elevation": "10 deg", "place.lens_height": "1.5 m"})
    height = 1500 + 64000 * math.tan(math.radians(10))  # 12.785 m, shown to a centimetre
    assert found.survey.feature_height_mm == pytest.approx(height)
    changes = survey.height_change(found)
    assert parse_length(changes["place.feature_height"]) == pytest.approx(height, abs=5)
    after = again(found, changed(found.setting, changes))
    told = survey.told_height(found, after)
    assert told.startswith(f"The tie-in height is now {changes['place.feature_height']}; on the model it is built at ")


def test_the_width_goes_on_the_build_list_under_a_new_name_or_an_old_one() -> None:
    found = solve({**PLAIN, "survey.frame_share": 0.25, "build": [{"part": "Wall", "real": "9 m", "quantity": 3}]})
    new, told = survey.part_change(found, "  shed  front ")
    assert [(part.part, part.real) for part in new["build"]] == [("Wall", 9000), ("shed front", 12800)]
    assert told == "shed front goes on the build list at 12.8 m"
    old, told = survey.part_change(found, "wall")
    assert [(part.part, part.real, part.quantity) for part in old["build"]] == [("Wall", 12800, 3)]
    assert told == "Wall on the build list becomes 12.8 m, was 9 m"
    with pytest.raises(ValueError, match="a name is needed"):
        survey.part_change(found, " ")


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({}, "Size or distance: enter the share of the frame"),
        ({}, "Height: enter the elevation of its top"),
        ({}, "Air: enter the visibility"),
        ({"survey.elevation": "10 deg"}, "The top is 11.28 m above the lens; enter the lens height"),
        ({"place.background": "inf", "survey.frame_share": 0.2}, "Size: at infinity no share tells it"),
        ({"place.background": "inf", "survey.elevation": "0 deg"}, "Height: at infinity no elevation tells it"),
        ({"place.background": "inf", "survey.visibility": "8 km"}, "Air: give the background a distance"),
        # exp(-2.996 × 0.064) = 0.8255; at 80 km 0.9976.
        (
            {"survey.visibility": "1 km"},
            "The air leaves 83 % of its contrast at 64.03 m, as taped: lift the model's paint 17 %",
        ),
        (
            {"survey.visibility": "80 km"},
            "The air leaves 100 % of its contrast at 64.03 m, as taped: leave the model's paint",
        ),
    ],
)
def test_what_is_found_or_missing_is_said(changes: dict[str, Any], says: str) -> None:
    told = survey.found(solve({**PLAIN, **changes}))
    assert any(text.startswith(says) for text in told), told
    assert not any("nan" in text or "None" in text for text in told)


@pytest.mark.parametrize(
    "putting", [survey.distance_change, survey.height_change, lambda of: survey.part_change(of, "a")]
)
def test_what_is_not_found_cannot_be_put_into_the_shot(putting: Any) -> None:
    bare: Answer = solve(PLAIN)
    with pytest.raises(BadInput, match="is found yet"):
        putting(bare)


def test_a_known_height_says_what_the_elevation_gives_beside_it() -> None:
    """4.475 m over a lens 2.1 m up, 64 m away: atan(4.475/64) is 4.00°."""
    read = {"elevation": "4 deg", "feature_height": "6.5 m", "frame_share": 0.25, "feature_width": "16 m"}
    told = " ".join(survey.found(solve({**PLAIN, "place.lens_height": "2.1 m", "survey": [read]})))
    assert "Height 6.5 m above the ground as entered (the elevation gives 7.694 m)" in told
