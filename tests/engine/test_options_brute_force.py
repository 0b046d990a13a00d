"""A search against a plain nested loop over the answer: the same ways work, fail for the same reasons, rank alike."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Any

import pytest
from options_kit import HEAD, KIT, open_shot

from forescale.engine.answer import Answer, answer
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas.scale import STANDARD_RATIOS
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Camera, Lens, Mode, Rates
from forescale.engine.options.option import Option, Ranked
from forescale.engine.options.outcome import find_options
from forescale.engine.options.search import REASONS
from forescale.engine.options.to_try import Shelves
from forescale.engine.shot.edit import changed
from forescale.engine.shot.records import Setting

CAMERAS = tuple(  # in one mode the blur that passes for sharp was measured
    camera.model_copy(
        update={
            "mode": tuple(
                mode.model_copy(update={"sharpness": 0.012}) if mode.name == "crop" else mode for mode in camera.mode
            )
        }
    )
    for camera in KIT.cameras
)
FOCAL_MM = {"short": [25.0], "wide": [32.0], "zoom": [38.0, 40.0, 50.0, 52.0]}  # the customary ones and the two ends
AS_WRITTEN = 1e-8  # shares by which what is written out here may round otherwise

# What a shot may set or leave open, each a way through the search of its own.
SHOTS: dict[str, dict[str, Any]] = {
    "all open": {},
    "limits on size and frame": {"limits.build_max": "1.1 m", "limits.frame_min": 0.3, "limits.frame_max": 0.55},
    "ratio set": {"scale.ratio": "1:15"},
    "place set": {"place.model": "3.76 m"},
    "place set where no customary ratio matches it": {"place.model": "4 m"},
    "place and nearest part set": {"place.model": "3.76 m", "place.model_near": "3.4 m"},
    "ratio and place set, not quite matching": {"scale.ratio": "1:14", "place.model": "4 m"},
    "stop set": {"focus.stop": "T16", "light.available": "100000 lx"},
    "a stop that only some lenses have": {"focus.stop": "T32", "light.available": "1000000 lx"},
    "focus set": {"focus.distance": "7 m"},
    "focus set nearer than some lenses go": {"focus.distance": "850 mm", "place.background": "20 m"},
    "rate set": {"action.fps": 100, "limits.gravity": 2},
    "a background so near that small models stand inside the lens": {
        "action.kind": "still",
        "place.background": "3 m",
        "place.background_far": None,
    },
    "more gravity may pass, with heft": {"limits.gravity": 3, "action.heft": 1.3},
    "light short, ISO open": {"light.available": "6000 lx", "limits.short_stops": 0.5},
    "light short, ISO set": {"light.available": "6000 lx", "light.iso": 500},
    "a filter fitted, ISO open": {"light.available": "20000 lx", "light.nd": 2, "limits.short_stops": 0.5},
    "a filter fitted, ISO set": {"light.available": "40000 lx", "light.nd": 1, "light.iso": 500},
    "light unknown": {"light.available": None},
    "own ratios, other order": {"limits.ratios": ["1:7", "1:23"], "limits.order": ["build", "light"]},
    "kit held": {"limits.hold": ["camera", "focal_length"], "kit.lens": "zoom", "kit.focal_length": "50 mm"},
    "driven, playback at 25": {"action.kind": "driven", "action.playback_fps": 25},
    "still, background at infinity": {
        "action.kind": "still",
        "place.model": "5 m",
        "place.background": "inf",
        "place.background_far": None,
    },
    "a pan with the slide set": {
        "kit.head": "head",
        "move.axis": "pan",
        "move.sweep": "80 deg",
        "move.slide": "110 mm",
        "place.background": "5 m",
        "place.background_far": None,
    },
    "nothing to build": {"build": ()},
    "sharpness as measured, which one mode alone has": {"focus.sharpness": "measured"},
}


@dataclass(frozen=True)
class Way:
    camera: Camera
    mode: Mode
    lens: Lens
    focal_mm: float
    ratio: float

    @property
    def key(self) -> tuple[str, str, str, float, float]:
        return self.camera.name, self.mode.name, self.lens.name, self.focal_mm, self.ratio


def shelves_for(setting: Setting) -> Shelves:
    return Shelves(CAMERAS, KIT.lenses, HEAD if setting.kit.head else None)


def every_way(setting: Setting) -> list[Way]:
    kept, own = setting.limits.hold, setting.kit
    ratios = {ratio for ratio in STANDARD_RATIOS if ratio != 1} | set(setting.limits.ratios)
    place = setting.place
    if place.model is not None and place.model < place.background < math.inf:
        ratios |= {float(f"{place.background / place.model:.3g}")}  # the one at which the taped places agree
    return [
        Way(camera, mode, lens, focal, ratio)
        for camera in CAMERAS
        for mode in camera.mode
        for lens in KIT.lenses
        for focal in FOCAL_MM[lens.name]
        for ratio in ([setting.scale.ratio] if setting.scale.ratio else ratios)
        if ("camera" not in kept or camera.name == own.camera)
        and ("focal_length" not in kept or focal == own.focal_length)
    ]


def rate_for(setting: Setting, mode: Mode, ratio: float) -> float | None:
    """The rate set if the mode has it, the slowest of the mode that is fast enough, or its fastest."""
    action = setting.action
    froude = action.kind not in {"still", "driven"}
    wanted = action.fps or action.playback_fps * (math.sqrt(ratio) * action.heft if froude else 1)
    if isinstance(mode.fps, Rates):
        rates = sorted({mode.fps.min, mode.fps.max, *map(float, range(int(mode.fps.min), int(mode.fps.max) + 1))})
    else:
        rates = sorted(mode.fps)
    if action.fps is not None:
        return action.fps if action.fps in rates else None
    return next((rate for rate in rates if rate >= wanted * (1 - 1e-9)), rates[-1])


def answered(setting: Setting, way: Way, iso: float | None = None) -> Answer:
    with_ratio = changed(setting, {"scale.ratio": way.ratio} | ({} if iso is None else {"light.iso": iso}))
    kit = Kit(way.camera, way.mode, way.lens, way.focal_mm, shelves_for(setting).head)
    return answer(with_ratio, kit, "metric")


def two_digits_up(iso: float) -> float:
    number = Decimal(iso)
    step = Decimal(1).scaleb(number.adjusted() - 1)
    return float((number / step * (1 - Decimal("1e-9"))).to_integral_value(ROUND_CEILING) * step)


def tried(setting: Setting, way: Way) -> tuple[str, Answer | None]:
    """Return why a way fails, in the order in which reasons are asked, or "" and its answer."""
    limits, action = setting.limits, setting.action
    if setting.focus.sharpness.by == "measured" and way.mode.sharpness is None:
        return "blur", None
    largest = max((part.real for part in setting.build), default=0.0)
    if limits.build_max and largest / way.ratio > limits.build_max * (1 + AS_WRITTEN):
        return "build", None
    fps = rate_for(setting, way.mode, way.ratio)
    if fps is None:
        return "rate", None
    if action.kind == "falling":
        gravity = way.ratio / (fps / action.playback_fps) ** 2 * action.heft**2
        if gravity > limits.gravity * (1 + AS_WRITTEN):
            return "gravity", None
    try:
        found = answered(setting, way)
    except BadInput as bad:
        return ("move" if bad.lines[0].startswith("move") else "inside"), None
    assert found.speed.fps == fps
    return judged(setting, way, found)


def judged(setting: Setting, way: Way, found: Answer) -> tuple[str, Answer | None]:
    limits, focus = setting.limits, found.focus
    off = abs(found.lineup.size_error - 1) if math.isfinite(found.lineup.background_mm) else 0.0
    if off >= (0.10 if setting.scale.ratio else 0.015):
        return "match", None
    if focus.focus_mm < way.lens.close_focus * (1 - AS_WRITTEN):
        return "close", None
    said = {finding.code for finding in found.findings}
    if "stop-beyond-lens" in said:
        return "stop", None
    if found.scale.build:
        share = max(item.model_mm for item in found.scale.build) / found.lineup.frame_width_model_mm
        if limits.frame_min and share < limits.frame_min * (1 - AS_WRITTEN):
            return "small", None
        if limits.frame_max and share > limits.frame_max * (1 + AS_WRITTEN):
            return "large", None
    if not focus.covers:
        return "zone", None
    over = found.light.over_stops
    if over is not None and over < 0 and setting.light.iso is None:
        assert found.light.iso_needed is not None
        iso = min(two_digits_up(found.light.iso_needed), way.mode.iso_max)
        found = answered(setting, way, iso)
        over = found.light.over_stops
    if over is not None and over < -limits.short_stops - AS_WRITTEN:
        return "light", None
    return "", found


def levels(setting: Setting, found: Answer) -> tuple[int, ...]:
    """What falls right and is steady, then the goals in steps: three hundredths, tenths, quarters, third stops."""
    contrast, light = found.focus.contrast, found.light
    assert contrast is not None
    base_iso = setting.light.iso or found.kit.mode.iso_base
    drift = found.lineup.drift_tolerance_mm
    steps = {
        "contrast": round(contrast.worst / 0.03),
        "model": -round(math.log(found.scale.ratio, 1.1)),
        "tolerance": round(math.log(drift, 1.25)) if math.isfinite(drift) else 10**6,
        "light": -round(3 * math.log2(light.lux_needed * light.iso / base_iso)),
        "build": round(math.log(found.scale.ratio, 1.1)),
    }
    amiss = {"rate-low", "flicker"} & {finding.code for finding in found.findings}
    return (int(not amiss), *(steps[goal] for goal in setting.limits.order))


def beats(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    return one != other and all(a >= b for a, b in zip(one, other, strict=True))


def ranked(setting: Setting, works: dict[Way, Answer]) -> list[tuple[Way, bool]]:
    """The front, then the rest; each by its goals, the fewest changes of kit, the largest model, the names."""
    reached = {way: levels(setting, found) for way, found in works.items()}
    rows = []
    for way, own in reached.items():
        beaten = any(beats(other, own) for other in set(reached.values()))
        kit = setting.kit
        changes = (way.camera.name != kit.camera) + (way.mode.name != kit.mode) + (way.lens.name != kit.lens)
        changes += kit.focal_length is not None and way.focal_mm != kit.focal_length
        place = (beaten, [-step for step in own], changes, way.ratio, way.camera.name, way.mode.name, way.lens.name)
        rows.append(((*place, way.focal_mm), way, not beaten))
    rows.sort(key=lambda row: row[0])
    return [(way, front) for _, way, front in rows]


def key_of(row: Ranked) -> tuple[str, str, str, float, float]:
    option = row.option
    return (
        option.in_mode.camera.name,
        option.in_mode.mode.name,
        option.lens_at.lens.name,
        option.lens_at.focal_mm,
        option.ratio,
    )


def assert_same_numbers(option: Option, found: Answer) -> None:
    """Each number of a row must be the answer's own, to the last digit."""
    assert found.focus.contrast is not None
    assert option.model_mm == found.lineup.model_mm
    assert option.fps == found.speed.fps
    assert option.f_number == found.focus.f_number
    assert option.worst_contrast == found.focus.contrast.worst
    assert option.drift_tolerance_mm == found.lineup.drift_tolerance_mm
    assert option.iso == found.light.iso
    assert option.lux_with_nd == found.light.lux_with_nd
    assert option.over_stops == found.light.over_stops


@pytest.mark.thorough
@pytest.mark.parametrize("name", SHOTS)
def test_search_is_a_nested_loop_over_the_answer(name: str) -> None:
    setting = open_shot(SHOTS[name])
    ways = every_way(setting)
    outcomes = {way: tried(setting, way) for way in ways}
    works = {way: found for way, (_, found) in outcomes.items() if found is not None}
    reasons = Counter(reason for reason, _ in outcomes.values() if reason)

    result = find_options(setting, "metric", shelves_for(setting))

    assert result.searched == len(ways)
    assert result.working == len(works)
    assert {row.code: row.count for row in result.dropped} == dict(reasons)
    assert [row.count for row in result.dropped] == sorted(reasons.values(), reverse=True)
    expected = ranked(setting, works)
    assert [(key_of(row), row.front) for row in result.options] == [(way.key, front) for way, front in expected]
    for row, (way, _) in zip(result.options, expected, strict=True):
        assert_same_numbers(row.option, works[way])


def test_the_shots_above_reach_every_reason() -> None:
    dropped: set[str] = set()
    for changes in SHOTS.values():
        setting = open_shot(changes)
        dropped |= {row.code for row in find_options(setting, "metric", shelves_for(setting)).dropped}
    assert dropped == set(REASONS)
