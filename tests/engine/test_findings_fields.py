"""Where each finding is mended, and in which pane it stands, told by hand."""

from __future__ import annotations

import pytest
from cases import solve
from test_findings import SHOWN

from forescale.engine.findings.words import Words

# What is behind each word is where a person would go to put it right.
WHERE = {
    "scale scale.ratio": "ratio-chosen",
    "scale scale.rounding": "too-small",
    "scale place.background": "no-size-to-match",
    "scale place.model": "size-mismatch size-hair points-miss",
    "scale place.aim": "meet-out-of-frame outline-cut point-out-of-frame",
    "scale place.lens_height": "lens-height-missing",
    "scale move.sweep": "cover-endless meet-leaves-frame outline-leaves-frame point-leaves-frame",
    "scale build": "cover-wider over-frame",
    "scale survey.visibility": "air",
    "scale survey.frame_share": "survey-fault survey-gainsaid survey-moved survey-stale",
    "scale piece.1.stands": "piece-size",
    "scale point.1.frame_across": "point-lost",
    "scale miss": "line-up-misses line-up-meets miss-stale",
    "scale witness": "come-back",
    "scale stand.area": "stand-open",
    "scale stand.ballast": "stand-falls",
    "scale stand.gust": "stand-wind stand-sways hung-wind",
    "scale stand.specific_strength": "too-strong",
    "speed action.fps": "rate-missing rate-low rate-high rate-chosen background-slow flicker",
    "speed action.shutter": "bands flicker",
    "speed action.real_speed": "real-speed-missing",
    "speed action.screen_time": "fall-cut cue-late",
    "speed action.topple": "topple-whole",
    "speed action.fire_width": "flame-dim",
    "speed move.screen_time": "judder move-longer readout-skew",
    "speed light.iso": "iso-missing light-short",
    "speed light.available": "light-short light-differs",
    "speed light.kelvin": "colour-differs",
    "speed light.nd": "light-over",
    "speed light.mains": "mains-missing",
    "speed lamp.1.stands": "lamp-near lamp-falls-off",
    "speed lamp.1.size": "lamp-soft",
    "speed sun.latitude": "sun-open",
    "speed sun.time": "sun-down sun-in-frame rig-shadow light-not-now",
    "speed sun.date": "light-never-matches",
    "speed place.model": "gravity-as-read",
    "speed piece.1.ratio": "piece-rate",
    "speed scale.ratio": "flame smoke-curl smoke-plume surface-tension",
    "focus focus.stop": "stop-beyond-lens zone-short zone-hair soft-at-edge past-best-stop",
    "focus focus.distance": "inside-close-focus",
    "focus place.model_near": "nearest-behind soft-in-picture",
    "focus place.background_far": "soft-in-picture",
    "focus kit.lens": "pupils-taken-equal",
    "focus piece.1.stands": "piece-soft",
    "slip kit.head": "head-missing slide-out-of-reach",
    "slip move.slide": "slide-to-set slip-over slip-hair slip-uncertain slide-too-coarse piece-slips",
    "slip move.sweep": "slide-none-holds bench-out-of-frame",
    "slip move.travel": "travel-over",
    "slip bench": "pupil-unknown pupil-outside bench-contradicts bench-fault bench-outside bench-slope slip-uncertain"
    " bench-no-error bench-try-next",
}
TOLD = {code for codes in WHERE.values() for code in codes.split()}


@pytest.mark.parametrize("shown", [shown for shown in SHOWN if shown.code in TOLD], ids=lambda shown: shown.code)
def test_a_finding_leads_to_where_it_is_mended(shown) -> None:
    led = {f"{one.pane} {one.field}" for one in shown.answer().findings if one.code == shown.code}
    assert led <= {where for where, codes in WHERE.items() if shown.code in codes.split()}
    if shown.code == "flicker":  # a shutter mends it where a frame has room for a pulse
        assert led == {"speed action.fps" if "take lamps" in shown.says else "speed action.shutter"}
    if shown.code == "light-short":
        assert led == {"speed light.available" if shown.level == "stop" else "speed light.iso"}


def test_each_is_shown() -> None:
    """A caution leads nowhere: it is heeded, not mended."""
    assert {shown.code for shown in SHOWN if shown.level != "ok" and not shown.code.startswith("caution-")} == TOLD


def test_a_slide_length_has_two_digits_and_from_a_centimetre_on_a_tenth() -> None:
    words = Words(solve())
    assert words.slide(9.876) == "9.9 mm"
    assert words.slide(0.1234) == "0.12 mm"
    assert words.slide(62.149) == "62.1 mm"
