"""Every remedy of every finding is taken: no entry is refused, the finding is gone, its price says what comes."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from cases import again, solve
from hypothesis import HealthCheck, given, reject, settings
from shown import PAN, Shown, seen, slips
from shown_all import SHOWN
from shown_day import SUN
from strategies import kits, shot_changes

from forescale.engine.answer import Answer, Finding, answer_file
from forescale.engine.answer.readings import READINGS, TAKEN_WITH
from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.kit.kit import assemble
from forescale.engine.mends import as_changes, mends, taken
from forescale.engine.mends.taking import sentence
from forescale.engine.shot import edit
from forescale.engine.solve.record import Mend

Table = dict[str, Any]
GRAVITY = ["ok", "note", "warn", "stop"]


def itself(mend: Mend) -> dict[str, str | None]:
    """What a remedy sets, without what it has readings say of how they were taken."""

    def noted(path: str) -> bool:
        rows, _, name = path.rpartition(".")
        return rows.partition(".")[0] in READINGS and name in {*TAKEN_WITH, "lens_height", "ratio"}

    return {path: text for path, text in mend.set.items() if text is None or not noted(path)}


def typed(found: Answer, mend: Mend) -> Answer:
    """The shot with a remedy typed in: each text must be one that its field on the board takes."""
    for path, text in mend.set.items():
        if text is not None and not path.startswith(("bench", "kit")):
            edit.entry(path, text, found.setting, found.system, None)
    setting = edit.changed(found.setting, as_changes(found.setting, mend.set))
    if setting.kit == found.setting.kit:
        return again(found, setting)
    kit = found.kit
    return again(found, setting, assemble(setting.kit, kit.camera, kit.lens, kit.head))


def check(found: Answer, finding: Finding, mend: Mend) -> None:
    """See that a remedy does what it says."""
    assert mend.text
    assert "\n" not in mend.text
    for text in itself(mend).values():
        if text is not None:
            assert text.removesuffix(" deg") in mend.text, (mend.text, mend.set)
    if not mend.set:
        return
    after = typed(found, mend)
    before, left = (Counter(one.code for one in answer.findings) for answer in (found, after))
    assert left[finding.code] < before[finding.code], (finding.text, mend)
    had = {one.code: GRAVITY.index(one.level) for one in found.findings}
    came = [one for one in after.findings if one.level in {"warn", "stop"} and one.level != had.get(one.code)]
    graver = [one for one in came if GRAVITY.index(one.level) > had.get(one.code, 0)]
    assert not any(one.level == "stop" for one in graver), (finding.text, mend)
    for one in graver[:2]:
        assert (one.short or one.text) in (mend.price or ""), (finding.text, mend, one.text)


def check_all(changes: Table, kit: Table) -> int:
    try:
        found = solve(changes | ({} if kit["head"] is None else {"kit.head": "plain-head"}), **kit)
    except BadInput:
        reject()
    offered = [(finding, mend) for finding in found.findings for mend in mends(found, finding)]
    for finding, mend in offered:
        check(found, finding, mend)
    return len(offered)


@given(shot_changes(), kits())
def test_every_remedy_of_any_shot_can_be_taken(changes: Table, kit: Table) -> None:
    check_all(changes, kit)


@pytest.mark.long
@pytest.mark.parametrize("_part", range(20))
@given(shot_changes(), kits())
@settings(max_examples=50, derandomize=False, suppress_health_check=[HealthCheck.too_slow])
def test_every_remedy_of_a_thousand_shots_can_be_taken(_part: int, changes: Table, kit: Table) -> None:
    check_all(changes, kit)


@pytest.mark.parametrize("shown", SHOWN, ids=[f"{shown.code} {number}" for number, shown in enumerate(SHOWN)])
def test_every_remedy_of_the_shots_made_for_a_finding_can_be_taken(shown: Shown) -> None:
    found = shown.answer()
    for finding in found.findings:
        for mend in mends(found, finding):
            check(found, finding, mend)


# Worked by hand from the numbers beside each shot: what is to be set, the first that can be.
FIRST_SET: dict[str, list[Table]] = {
    "meet-out-of-frame": [{"place.aim": "4.6 deg up"}, {"place.aim": "4.6 deg down"}],
    # 4.14° of 10° are held with 11.27° above the axis; 0.99 of it, and begun 5.98° farther the other way
    "meet-leaves-frame": [{"place.aim": "6 deg up"}, {"place.aim": "6 deg down"}],
    "cover-endless": [{"move.sweep": "63.2 deg"}],  # 85° − 21.74°
    "outline-leaves-frame": [{"move.sweep": "4.38 deg"}],  # 21.74° − atan(20/64)
    "gravity-as-read": [{"place.model": "4.03 m"}],
    "rate-chosen": [{"action.fps": "96"}],
    "fall-cut": [{"action.screen_time": "1.94 s"}],  # 1.931 s
    "cue-late": [{"action.screen_time": "6 s"}],
    "survey-moved": [dict.fromkeys(("survey.1.model", "survey.1.background", "survey.1.lens_height"))],
    "survey-stale": [{"place.background": "60.04 m"}],  # 9.57 · 25.083 / (0.2 · 20) = 60.01 m from the pupil
    "stand-falls": [{"stand.ballast": "23.1 kg"}],  # 43.0 kg less 20
    "too-small": [{"scale.rounding": "0.1 mm"}],
    "travel-over": [{"move.travel": "1.7 mm right"}],
    "lamp-near": [{"lamp.1.stands": "2.5 m"}],  # five times 0.5 m
    # 0.5 m deep: 0.5/(2^(1/6) − 1) = 4.083 m, and a hundredth
    "lamp-falls-off": [{"lamp.1.stands": "4.124 m"}],
    "sun-down": [{"sun.time": "21:20"}],  # it sets at 21:29
    "piece-size": [{"piece.1.stands": "6.03 m"}],
    "piece-rate": [{"piece.1.ratio": "1:16", "piece.1.stands": None}],  # 96 fps serves (96/24)²
    "piece-soft": [{"place.model_near": "2.03 m", "focus.distance": None, "focus.stop": None}],
    "piece-slips": [{"move.slide": "60 mm"}],
    "slide-too-coarse": [{"move.sweep": "7.6 deg"}],  # 10° · 9.4 mm / 12.5 mm
}


@pytest.mark.parametrize("code", FIRST_SET)
def test_what_can_be_set_is_offered_with_its_number(code: str) -> None:
    answers = [shown.answer() for shown in SHOWN if shown.code == code]
    found = [[itself(mend) for mend in offered(one, code) if mend.set] for one in answers]
    assert [sets[0] for sets in found if sets][: len(FIRST_SET[code])] == FIRST_SET[code]


@pytest.mark.parametrize("shown", SHOWN, ids=[f"{shown.code} {number}" for number, shown in enumerate(SHOWN)])
def test_what_only_a_hand_can_do_is_no_part_of_what_is_so(shown: Shown) -> None:
    """It stands among the remedies, sets nothing, and the sentence is whole without it."""
    found = shown.answer()
    for finding in found.findings:
        if finding.by_hand:
            assert Mend(finding.by_hand) in mends(found, finding)
            assert finding.by_hand not in finding.text
            assert finding.by_hand[0].islower()


def test_a_lamp_may_stand_so_far_off_that_it_reads_as_the_sun() -> None:
    """0.3 m wide: from 0.3 m · 108 / 1.5 on, and a hundredth; a hundred of them still give light enough."""
    far = {"name": "key", "gives": "2000 lx", "at": "3 m", "stands": "2 m", "size": "0.3 m"}
    assert not any(
        mend.set for mend in offered(solve({"lamp": [far]}), "lamp-soft")
    )  # the picture would be far too dark
    mend = offered(solve({"lamp": [far | {"number": 100}]}), "lamp-soft")[0]
    assert dict(mend.set) == {"lamp.1.stands": "21.82 m"}
    assert mend.text == "stand key at 21.82 m"
    assert mend.price == "6.9 stops less of its light"  # log2((21.82 / 2)²)


BACKWARDS = slips((40, 2), (60, 0), (80, -2))


def test_slips_counted_backwards_can_be_turned_round() -> None:
    """The plain head's zero is at 60 mm, and a slide forward makes the model outrun."""
    found = solve(PAN | {"bench": BACKWARDS}, head={})
    mend = offered(found, "bench-slope")[0]
    assert dict(mend.set) == {"bench.1.slip_px": "-2", "bench.2.slip_px": "0", "bench.3.slip_px": "2"}
    assert mend.text == "count the slips as -2, 0, 2 px"
    check(found, next(one for one in found.findings if one.code == "bench-slope"), mend)


def test_readings_with_other_kit_can_be_taken_out() -> None:
    rows = slips((40, -2), (60, 0), (80, 2))
    rows[1]["lens"] = "another-lens"
    found = solve(PAN | {"bench": rows}, head={})
    assert [dict(mend.set) for mend in offered(found, "bench-other-kit")] == [{"bench.2": None}]


def offered(found: Answer, code: str) -> tuple[Mend, ...]:
    finding = next(one for one in found.findings if one.code == code)
    return mends(found, finding)


def test_a_better_mark_that_opens_the_lens_comes_before_closing_down() -> None:
    """Model 4 m and background 64 m from the pupil: f/5 from 7.53 m, half of it more from 5.5 m."""
    first, second, *_ = offered(solve({"focus.distance": "5.5 m", "focus.stop": "f/4"}), "zone-short")
    assert dict(first.set) == {"focus.distance": "7.559 m", "focus.stop": "f/5"}
    assert first.text == "focus at 7.559 m and set f/5"
    assert set(second.set) == {"focus.stop"}


def test_a_remedy_of_three_changes_names_each() -> None:
    set_to = {"place.background_far": None, "focus.distance": "7 m", "focus.stop": "f/8"}
    assert sentence(solve(), set_to) == "let the far end go, focus at 7 m and set f/8"


def test_what_sends_one_round_says_so_in_its_price() -> None:
    """Where the stop that holds the zone lies past the best, each remedy names what comes of it."""
    changes = {"place.model": "930 mm", "place.background": "14430 mm"}
    held = solve(changes | {"focus.stop": "f/22"})
    best = offered(held, "past-best-stop")[0]
    assert best.price is not None
    assert best.price == "then: Not all sharp at f/18"


def test_a_larger_model_stands_where_it_matches_with_its_nearest_part() -> None:
    """80 fps serves 1:11.1: at 64/11.1 = 5.766 m from the pupil, and a part 0.3 m nearer at 1:16 is 0.432 m nearer."""
    found = solve({"place.model_near": "3730 mm"}, mode={"fps": [24, 80]})
    mend = offered(found, "rate-low")[0]
    assert dict(mend.set) == {
        "scale.ratio": "1:11.1",
        "action.fps": "80",
        "place.model": "5.796 m",
        "place.model_near": "5.363 m",
    }


def test_taking_a_row_out_leaves_the_others() -> None:
    rows = seen((40, "outruns"), (50, "lags"), (55, "lags"), (80, "outruns"))
    found = solve(PAN | {"bench": rows}, head={})
    left = edit.changed(found.setting, as_changes(found.setting, {"bench.1": None, "bench.3.slide": "58 mm"}))
    assert [(row.slide, row.seen) for row in left.bench] == [(50, "lags"), (58, "lags"), (80, "outruns")]


def test_a_model_that_would_stand_beyond_the_background_is_refused() -> None:
    """1:1 of what is 80 m off stands 80 m off, and the background at 4 m."""
    far = {"place.seems_at": "80 m", "scale.ratio": "1:1", "place.model": None, "place.background": "4 m"}
    with pytest.raises(BadInput, match=r"model: would stand 80000 mm from the sensor plane, beyond the background"):
        solve(far)
    assert solve(far | {"place.seems_at": "4 m"}).lineup.model_mm == pytest.approx(4000)


def test_a_smaller_turn_leaves_readings_as_they_were_taken() -> None:
    """Else a bench read over 15° would count as one over 5.3°, and the remedy would cost it."""
    _, found = answer_file(library.shot_path("kiln-stack"))
    skew = next(one for one in found.findings if one.code == "readout-skew")
    turn = next(mend for mend in mends(found, skew) if "move.sweep" in mend.set)
    assert turn.price == "a smaller turn"
    assert [turn.set[f"bench.{row}.sweep"] for row in (1, 2, 3, 4)] == ["15 deg"] * 4
    after = taken(found, turn.set)
    assert after.slip.bench.slide_for_zero_mm == pytest.approx(found.slip.bench.slide_for_zero_mm, abs=0.01)
    assert not {"bench-slope", "bench-contradicts"} & {one.code for one in after.findings}


def test_another_time_is_the_nearest_clear_one_on_either_side() -> None:
    """At 20:30 the disc is in the picture; it leaves it to the side and below, and was above it two hours before."""
    aimed = {"place.lens_height": "1.5 m", "sun.facing": "305.1 deg", "place.aim": "17.6 deg up"}
    turned = SUN | aimed | {"move.axis": "pan", "move.sweep": "20 deg"}
    found = solve(turned | {"sun.time": "20:30"})
    (seen_there,) = [one for one in found.findings if one.code == "sun-in-frame"]
    assert [mend.set["sun.time"] for mend in mends(found, seen_there)] == ["20:40", "18:50"]
    clear = {at: solve(turned | {"sun.time": at}).sun for at in ("18:50", "19:00", "20:40")}
    assert [sun is not None and sun.in_frame for sun in clear.values()] == [False, True, False]


@pytest.mark.parametrize("share", [0.5, 0.51, 0.55, 0.62])
def test_what_leaves_the_frame_is_told_at_the_turn_that_is_offered(share: float) -> None:
    """Neither is rounded up: after 6.998° is told as 6.99°, the most that the remedy turns."""
    aside = {"point": [{"name": "eave", "distance": "64 m", "aside": f"{10 * share!r} m left", "height": "2 m"}]}
    found = solve(PAN | aside | {"move.sweep": "30 deg", "place.lens_height": "1.5 m"})
    (lost,) = [one for one in found.findings if one.code == "point-leaves-frame"]
    (offered, *_) = mends(found, lost)
    assert f"after {offered.set['move.sweep']} of 30 deg" in lost.text
