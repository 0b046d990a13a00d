"""What a finding proposes does mend it: set as the sentence says, through the app's own entries, and solved again."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import pytest
from cases import again, codes, solve, text_of
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import logarithmic, mm

from forescale.engine.answer import Answer
from forescale.engine.mends import mends
from forescale.engine.shot import edit

units = st.sampled_from(["metric", "imperial"])
PAN = {"move.axis": "pan", "move.sweep": "10 deg", "move.screen_time": "10 s"}
ANY_RATE = {"fps": {"min": 1, "max": 400}}


def proposed(found: Answer, code: str, pattern: str) -> re.Match[str]:
    """What the sentence under a code proposes."""
    match = re.search(pattern, text_of(found, code))
    assert match is not None, text_of(found, code)
    return match


def mended(found: Answer, entries: Mapping[str, str]) -> Answer:
    """The answer once these have been typed into their fields."""
    held = {path: edit.entry(path, text, found.setting, found.system, None)[0] for path, text in entries.items()}
    return again(found, edit.changed(found.setting, held))


@given(logarithmic(400, 30_000), logarithmic(1.2, 300), st.sampled_from([2.0, 4.0, 24.0, 87.1]), units)
def test_stand_it_at(model: float, beyond: float, ratio: float, system: str) -> None:
    place = {"place.model": mm(model), "place.background": mm(model * beyond), "scale.ratio": ratio, "units": system}
    found = solve(place)
    assume("size-mismatch" in codes(found))
    assume(found.lineup.match_distance_mm > 200)  # nearer, half a sixteenth of an inch is a size that shows
    assume("stand it at" in text_of(found, "size-mismatch"))  # not where the lens could not focus on it
    where = proposed(found, "size-mismatch", r"stand it at ([^;:(]+)")[1]
    assert "size-mismatch" not in codes(mended(found, {"place.model": where}))


@given(logarithmic(1.5, 300), units)
def test_it_stands_exactly_at(beyond: float, system: str) -> None:
    found = solve({"scale.ratio": None, "place.background": mm(30 + 4000 * beyond), "units": system})
    assume("ratio-chosen" in codes(found))
    where = proposed(found, "ratio-chosen", r"stands exactly at ([^;:]+);")[1]
    after = mended(found, {"place.model": where, "scale.ratio": f"1:{found.scale.ratio!r}"})
    assert after.lineup.size_error == pytest.approx(1, abs=1e-3)  # a sixteenth, or a centimetre from 10 m on


@given(logarithmic(1500, 1e6))
def test_a_filter(available: float) -> None:
    found = solve({"light.available": f"{available} lx"})
    assume("light-over" in codes(found))
    density = float(proposed(found, "light-over", r"ND ([\d.]+)\)")[1])
    through = available / 10**density
    after = again(found, edit.changed(found.setting, {"light.available": f"{through!r} lx"}))
    # A density of 0.3 is 0.997 of a stop, which at ten stops leaves another thirtieth.
    assert -0.11 < after.light.over_stops < 0.94
    assert "light-short" not in codes(after) or after.light.over_stops < -0.1


def test_a_stop_that_shows_but_false_detail_is_not_named_as_the_better() -> None:
    """f/128 passes 1/(550 nm · 128), 14 line pairs/mm of the 58; the best, f/20, has 6 % at so deep a zone's ends."""
    deep = {"place.model": None, "place.background": "200 mm", "place.model_near": "55 mm", "scale.ratio": None}
    lens = {"widest": "f/1.4", "smallest": "f/128", "focal_length": "12 mm", "close_focus": "72 mm", "pupil": []}
    found = solve(deep | {"focus.stop": "f/128"}, lens=lens, mode={"width": "8.3 mm", "fps": [24]})
    assert found.focus.covers
    assert found.focus.contrast is not None
    assert 0 < found.focus.contrast.best_worst < 0.07
    assert text_of(found, "past-best-stop").endswith("no detail is left even at the focus mark")
    assert not any(mend.set for mend in mends(found, next(f for f in found.findings if f.code == "past-best-stop")))


@given(logarithmic(800, 20_000), st.floats(1.2, 60), st.sampled_from(["f/11", "f/16", "f/22"]))
def test_the_stop_that_gives_more(model: float, beyond: float, stop: str) -> None:
    changes = {"place.model": mm(model), "place.background": mm(model * beyond), "scale.ratio": 1, "focus.stop": stop}
    found = solve(changes)
    assume("past-best-stop" in codes(found))
    better = proposed(found, "past-best-stop", r"is (\d+) % .* and (\S+) gives (\d+) %")
    after = mended(found, {"focus.stop": better[2]})
    assert "past-best-stop" not in codes(after)
    assert found.focus.contrast is not None
    assert after.focus.contrast is not None
    assert found.focus.contrast.worst == pytest.approx(int(better[1]) / 100, abs=0.005)
    assert after.focus.contrast.worst == pytest.approx(int(better[3]) / 100, abs=0.005)
    assert after.focus.contrast.worst > found.focus.contrast.worst


def test_a_split_field_lens_brings_the_near_part_to_the_background() -> None:
    found = solve({"place.model_near": "900 mm", "place.background_far": "inf"})
    power = float(proposed(found, "zone-short", r"lens of \+([\d.]+) over")[1])
    # Seen through it the model, 0.87 m to 4 m deep, must lie within a lens's reach of where it is focused: the middle.
    assert power == pytest.approx((1 / 0.87 + 1 / 4) / 2 - 1 / 128, abs=0.05)


@given(st.floats(0, 120), st.floats(1, 60), st.sampled_from([0.3, 1.0, 5.0]), st.sampled_from(["pan", "tilt"]), units)
def test_set_the_slide_at(slide: float, sweep: float, passing: float, axis: str, system: str) -> None:
    move = {"move.axis": axis, "move.sweep": f"{sweep!r} deg", "move.tolerance": passing, "units": system}
    head = {"tilt_drop": "40 mm"} if axis == "tilt" else {}
    for found in (solve(move, head=head), solve(move | {"move.slide": mm(slide)}, head=head)):
        for code in codes(found) & {"slide-to-set", "slip-over"}:
            place, within = proposed(found, code, r"holds at ([\d.]+) mm ± ([\d.]+) mm:").groups()
            after = mended(found, {"move.slide": place})
            # A tenth of a millimetre is as fine as it says, which is enough where the slide has that much room.
            assert "slip-over" not in codes(after) or float(within) < 0.05
            assert "slide-to-set" not in codes(after)
            for end in (float(place) - float(within), float(place) + float(within)):
                if 0 <= end <= 120 and float(within) >= 0.05:
                    largest = mended(found, {"move.slide": f"{end} mm"}).slip.largest_slip_px
                    assert abs(largest) <= passing * 1.03  # the tape, here kept, would shorten by so much


@given(st.floats(15, 60), st.sampled_from([0.3, 1.0]), st.sampled_from(["40 mm", "-90 mm"]))
def test_where_no_place_of_the_slide_holds_none_does(sweep: float, passing: float, drop: str) -> None:
    def slid(at: float) -> Answer:
        # The model and the background stay where they are, so the tape to them shortens as the camera goes forward.
        tape = {"place.model": mm(4090 - at), "place.background": mm(64090 - at), "focus.distance": "7 m"}
        move = {"move.axis": "tilt", "move.sweep": f"{sweep!r} deg", "move.tolerance": passing}
        return solve(tape | move | {"move.slide": mm(at)}, head={"tilt_drop": drop})

    assume("slide-none-holds" in codes(slid(60)))
    for at in range(0, 121, 10):
        largest = slid(at).slip.largest_slip_px
        assert largest is not None
        assert abs(largest) > passing * (1 - 1e-9)


@pytest.mark.parametrize(("slide", "word"), [("85 mm", "back 25 mm"), ("35 mm", "forward 25 mm")])
def test_slide_the_camera(slide: str, word: str) -> None:
    found = solve(PAN | {"move.slide": slide}, head={})
    way, by = proposed(found, "slip-over", r"slide the camera (forward|back) ([\d.]+) mm").groups()
    assert f"{way} {by} mm" == word
    stands = found.slip.slide_mm
    assert stands is not None
    after = mended(found, {"move.slide": f"{stands + float(by) * (1 if way == 'forward' else -1)} mm"})
    assert after.slip.slip_px == pytest.approx(0, abs=1e-6)


@given(st.sampled_from([12.0, 25.0, 100.0, 1000.0]), st.floats(5, 60))
def test_read_the_bench_at_a_smaller_sweep(focal: float, sweep: float) -> None:
    lens = {"focal_length": mm(focal), "close_focus": mm(focal * 3), "pupil": []}
    readings = [{"slide": "40 mm", "slip_px": -2}, {"slide": "80 mm", "slip_px": 2}]
    found = solve(PAN | {"move.sweep": f"{sweep!r} deg", "bench": readings}, lens=lens, head={})
    assume("bench-out-of-frame" in codes(found))
    smaller = proposed(found, "bench-out-of-frame", r"smaller sweep, ([\d.]+) deg or less")[1]
    assert "bench-out-of-frame" not in codes(mended(found, {"move.sweep": f"{smaller} deg"}))


def test_by_eye_the_next_place_halves_what_is_left() -> None:
    readings: list[dict[str, Any]] = [{"slide": "20 mm", "seen": "lags"}, {"slide": "100 mm", "seen": "outruns"}]
    for _ in range(6):
        found = solve(PAN | {"bench": readings}, head={})
        at = float(proposed(found, "bench-try-next", r"slide at ([\d.]+) mm")[1])
        readings.append({"slide": f"{at} mm", "seen": "lags" if at < 60.3 else "outruns"})
    assert at == pytest.approx(60.3, abs=80 / 2**5)


@pytest.mark.parametrize(
    ("model", "advice"),
    [
        ("4030 mm", "build at 1:16"),  # 64 m / 16 = 4 m ahead of the pupil: it stands there
        ("4030.3 mm", "build at 1:16"),  # to the millimetre it does too
        ("4050 mm", "build at 1:16 and stand it at 4.03 m"),
    ],
)
def test_a_chosen_ratio_sends_the_model_nowhere_that_it_stands_already(model: str, advice: str) -> None:
    found = solve({"scale.ratio": None, "place.model": model})
    said = text_of(found, "ratio-chosen")
    assert said.endswith(f"it stands exactly at 4.03 m; {advice}"), said
