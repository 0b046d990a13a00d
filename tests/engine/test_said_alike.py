"""What is said of one number on every surface: to the same digits, a limit rounded to its safe side."""

from __future__ import annotations

import math
import re

from cases import codes, solve

from forescale.engine.answer import answer, answer_file
from forescale.engine.compare.differences import chief_answers
from forescale.engine.findings.words import Words
from forescale.engine.kit import library
from forescale.engine.mends import mends
from forescale.engine.moved.moved import usual_choice, work_out
from forescale.engine.moved.to_do import what_to_do
from forescale.engine.sheet.sections.build import stand
from forescale.engine.sheet.sections.place import lineup, place
from forescale.engine.shot import edit
from forescale.engine.units import WEIGHT, length_text, no_less_text, parse_length, wind_text
from forescale.engine.workings.values import value_text
from forescale.tui.panes.each_pane import focus as content
from forescale.tui.panes.each_pane import scale

STAND = {
    "stand.area": "1 m2",
    "stand.area_height": "0.5 m",
    "stand.foot_deep": "1 m",
    "stand.weight": "40 kg",
    "stand.gust": "20 mph",
    "scale.ratio": "1:24",
}


def test_ballast_and_winds_are_told_alike_on_paper_and_in_the_workings() -> None:
    """By hand: F = 1.8·½·1.25·8.9408²·1 = 89.93 N; 1.5·F/0.4/9.80665 = 34.39 kg, of which the model brings 10."""
    found = solve({**STAND, "stand.weight": "10 kg"})
    rows = {row.label: row.shown for row in stand(Words(found))}
    assert found.stand is not None
    assert math.isclose(found.stand.ballast_needed_kg or 0.0, 24.388, abs_tol=0.001)
    assert rows["Ballast needed in all"] == value_text("stand.ballast_needed_kg", found) == "24.4 kg"
    assert rows["Slides at"] == value_text("stand.slides_at_mm_s", found) == "4.8 m/s"  # √(0.4·98.07/1.5/1.125) = 4.821
    assert rows["The gust reads as"] == value_text("stand.gust_reads_mm_s", found) == "42.9 m/s"  # 8.9408·24/5 = 42.916


def test_a_limit_is_rounded_to_its_safe_side_and_any_other_to_the_nearest() -> None:
    assert [wind_text(11_997, "metric", limit=limit) for limit in (True, False)] == ["11.9 m/s", "12 m/s"]
    assert wind_text(12_700, "metric", limit=True) == "12.7 m/s"
    assert wind_text(20 * 447.04 * math.sqrt(24), "imperial") == "98 mph"  # 97.98
    assert no_less_text(44.34, WEIGHT, "metric") == "44.4 kg"
    assert no_less_text(44.3, WEIGHT, "metric") == "44.3 kg"


def test_a_crack_is_told_alike_and_one_part_is_one() -> None:
    found = solve({**STAND, "build": [{"part": "a", "real": "3 m"}], "action.kind": "falling"})
    rows = {row.label: f"{row.shown} {row.remark}" for row in stand(Words(found))}
    assert "117.6 times where a crack decides" in rows["Too strong"]
    assert value_text("stand.crack_factor", found) == "117.6 times"


def test_a_zone_that_is_not_held_is_told_apart_from_the_stop_that_is_set() -> None:
    shown = [solve({"focus.stop": f"f/{stop}"}) for stop in (8, 11, 13, 16, 22)]
    for found in shown:
        row = next(row.text for row in content(found).answers if row.key == "focus.stop_needed")
        short = not found.focus.covers and found.focus.stop_needed > found.focus.f_number
        assert ("does not hold it" in row) == short


def test_a_match_is_told_to_a_sixteenth_wherever_it_is_told() -> None:
    """By hand: 283 ft 7 in over 24 is 11 ft 9.79 in, from the pupil, which stands ahead of the mark."""
    shot, of = answer_file(library.shot_path("kiln-stack"))
    far = {"place.model": "13 ft", "place.model_near": None, "place.background": "283 ft 7 in"}
    found = answer(edit.changed(shot, far), of.kit, of.system)
    match = length_text(found.lineup.match_distance_mm, "imperial")
    assert re.fullmatch(r"11 ft (9|10) \d+/16 in", match)
    mended = next(mends(found, one)[0].text for one in found.findings if one.code == "size-mismatch")
    moved = work_out(found, {"place.model": found.lineup.model_mm + 100}, usual_choice(found))
    assert moved.after.lineup.model_mm == parse_length(match)
    told = [next(row.shown for row in lineup(Words(found)) if row.label == "Match at"), mended]
    told += [
        scale(found).answers[0].text,
        value_text("lineup.match_distance_mm", found),
        chief_answers(found)["match at"],
    ]
    told += [next(step.text for step in what_to_do(moved) if step.subject == "model")]
    assert [text for text in told if match not in text] == []


def test_a_share_has_the_digits_that_its_distance_follows_from() -> None:
    rows = {row.label: row.shown for row in place(Words(solve({"survey.frame_share": 0.04786})))}
    assert rows["Spans, of the frame's width"] == "4.79 %"


def test_nothing_is_said_of_a_foot_where_the_model_hangs() -> None:
    stands, hangs = (solve(STAND | {"place.mount": mount}) for mount in ("stands", "hangs"))
    foot = "held_kg held_needed_kg ballast_needed_kg tips_at_mm_s slides_at_mm_s stop_gust_mm_s stop_mean_mm_s holds"
    assert None not in {getattr(stands.stand, name) for name in foot.split()}
    assert {getattr(hangs.stand, name) for name in foot.split()} == {None}
    assert hangs.stand is not None
    assert math.isclose(hangs.stand.wind_n or 0.0, 89.93, abs_tol=0.01)
    told = [any(code.startswith("stand-") for code in codes(of)) for of in (stands, hangs)]
    assert told == [True, False]
