"""How to find the entrance pupil, in six steps for someone who never did it, with the shot's own numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from forescale.engine.answer import Answer
from forescale.engine.bench import bench_report
from forescale.engine.bench.bench_setup import BenchSetup, as_left, of_shot
from forescale.engine.findings.cautions import DEFER
from forescale.engine.findings.words import Words
from forescale.engine.shot.records import TILTS
from forescale.engine.units import angle_text, number_text, tape_text


@dataclass(frozen=True, slots=True)
class BenchStep:
    """One step: what is done, in a word or two, and how; the caution that belongs to it, or none."""

    title: str
    text: str
    caution: str = ""


def steps(answer: Answer, bench_setup: BenchSetup | None = None) -> tuple[BenchStep, ...]:
    """Return the six steps for a bench set up so, or as its last reading left it."""
    bench = as_left(answer) if bench_setup is None else bench_setup
    first = (_sticks(answer, bench), _line_up(answer, bench), _turn(answer, bench))
    return (*first, _read(answer, bench), _again(answer), _keep(answer, bench))


def _near(bench: BenchSetup) -> str:
    """Return what is lined up: an upright stick shows a slip to the side, a level bar one up or down."""
    return "bar" if bench.axis in TILTS else "stick"


def _sticks(answer: Answer, bench: BenchSetup) -> BenchStep:
    near, far = tape_text(bench.near_mm, answer.system), tape_text(bench.far_mm, answer.system)
    where = f"{far} from that mark" if math.isfinite(bench.far_mm) else "as far off as can be seen"
    as_shot = bench == replace(of_shot(answer), axis=bench.axis, sweep_deg=bench.sweep_deg)
    here = "where model and background are" if as_shot else "where there is room: d sets how far"
    title, near_one, far_one = "Two sticks", "Stand a thin straight stick", "The edge of a wall or a mast"
    if bench.axis in TILTS:
        title, near_one, far_one = "Two level bars", "Fix a thin straight bar level", "The edge of a roof or a sill"
    return BenchStep(
        title,
        f"{near_one} {near} from the sensor-plane mark, and another {where}, {here}. "
        f"{far_one} will do for the far one.",
        f"Keep the far {_near(bench)}, and whoever holds it, off roads and edges: {DEFER}.",
    )


def _line_up(answer: Answer, bench: BenchSetup) -> BenchStep:
    kit = answer.kit
    mark = tape_text(answer.focus.focus_mm, answer.system)
    head = kit.head
    slide = "the slide" if head is None else f"the slide of {head.name}"
    shift = "raise or lower the whole camera" if bench.axis in TILTS else "shift the whole tripod sideways"
    return BenchStep(
        "Line them up",
        f"Level the head. Set {kit.focal_mm:g} mm and focus at {mark}, and leave both alone: the entrance pupil moves "
        f"with them. Set {slide}, read its scale, then {shift} until the near {_near(bench)} "
        "covers the far one in the middle of the picture.",
        "Hold the camera while the slide is loose, and lock it before letting go: a heavy lens tips it.",
    )


def _turn(answer: Answer, bench: BenchSetup) -> BenchStep:
    things, leaves = f"{_near(bench)}s", answer.slip.leaves_frame_deg
    verb = {"tilt": "Tilt up", "tilt down": "Tilt down", "pan left": "Pan left"}.get(bench.axis, "Pan")
    own = "" if bench.sweep_deg == answer.slip.sweep_deg else ", the bench's own sweep; the shot keeps its own"
    text = f"{verb} by {angle_text(bench.sweep_deg)}{own}, so that the {things} cross to the picture's edge."
    if leaves is not None and leaves < bench.sweep_deg and bench.axis == answer.slip.axis:
        text = (
            f"{verb} as far as the {things} stay in the picture. The sweep is {angle_text(bench.sweep_deg)}, and they "
            f"leave it after {leaves:.1f} deg: set the bench's own sweep to {leaves * 0.9:.0f} deg with w."
        )
    return BenchStep("Turn", text)


def _read(answer: Answer, bench_setup: BenchSetup) -> BenchStep:
    bench, near = answer.slip.bench, _near(bench_setup)
    slope = bench.slope_predicted_px_per_mm if bench else None
    worth = f" Here a millimetre of slide is worth {number_text(slope, 2)} px." if slope else ""
    return BenchStep(
        "Read",
        f"See how far the near {near} has come away from the far one. Plus if it outran it, going farther "
        f"{'up or down' if bench_setup.axis in TILTS else 'across'} the picture; minus if it lagged; 0 if the two "
        "still stand together. Key p takes pixels, counted on the recorded picture; t a length, read off a tape hung "
        f"at the far {near}; e what the eye sees on a monitor." + worth,
    )


def _again(answer: Answer) -> BenchStep:
    places = " and ".join(map(Words(answer).on_slide.mark, bench_report.next_places(answer)))
    advice = f" Next: {places}." if places else ""
    return BenchStep(
        "Slide, and again",
        "Slide the camera elsewhere, line up anew, and turn by the same sweep. Three places at the least, some where "
        "it outruns and some where it lags, far apart: the error shrinks with their spread." + advice,
    )


def _keep(answer: Answer, bench: BenchSetup) -> BenchStep:
    return BenchStep(
        "Keep it",
        "Where nothing slips the lens turns about its entrance pupil. Others call that the nodal point, which is "
        f"another place in the lens. Key z sets the slide there; s writes the pupil into {answer.kit.lens.name}, for "
        f"every shot with this lens. Set the slide there and turn once more: the {_near(bench)}s must stay together.",
    )
