"""How to find the entrance pupil, in six steps for someone who never did it, with the shot's own numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.bench import bench_report
from forescale.engine.findings.cautions import DEFER
from forescale.engine.shot.records import TILTS
from forescale.engine.units import angle_text, number_text, tape_text

USUAL_SWEEP_DEG = 10.0


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what is done, in a word or two, and how; the caution that belongs to it, or none."""

    title: str
    text: str
    caution: str = ""


def steps(answer: Answer) -> tuple[Step, ...]:
    """Return the six steps."""
    return (_sticks(answer), _line_up(answer), _turn(answer), _read(answer), _again(answer), _keep(answer))


def _tilts(answer: Answer) -> bool:
    return answer.slip.axis in TILTS


def _near(answer: Answer) -> str:
    """Return what is lined up: an upright stick shows a slip to the side, a level bar one up or down."""
    return "bar" if _tilts(answer) else "stick"


def _sticks(answer: Answer) -> Step:
    line = answer.lineup
    near = tape_text(line.model_mm, answer.system)
    far = tape_text(line.background_mm, answer.system)
    where = f"{far} from that mark" if math.isfinite(line.background_mm) else "as far off as can be seen"
    title, near_one, far_one = "Two sticks", "Stand a thin straight stick", "The edge of a wall or a mast"
    if _tilts(answer):
        title, near_one, far_one = "Two level bars", "Fix a thin straight bar level", "The edge of a roof or a sill"
    return Step(
        title,
        f"{near_one} {near} from the sensor-plane mark, where the model goes, and another {where}, "
        f"where the background is. {far_one} will do for the far one.",
        f"Keep the far {_near(answer)}, and whoever holds it, off roads and edges: {DEFER}.",
    )


def _line_up(answer: Answer) -> Step:
    kit = answer.kit
    mark = tape_text(answer.focus.focus_mm, answer.system)
    head = kit.head
    slide = "the slide" if head is None else f"the slide of {head.name}"
    shift = "raise or lower the whole camera" if _tilts(answer) else "shift the whole tripod sideways"
    return Step(
        "Line them up",
        f"Level the head. Set {kit.focal_mm:g} mm and focus at {mark}, and leave both alone: the entrance pupil moves "
        f"with them. Set {slide}, read its scale, then {shift} until the near {_near(answer)} "
        "covers the far one in the middle of the picture.",
        "Hold the camera while the slide is loose, and lock it before letting go: a heavy lens tips it.",
    )


def _turn(answer: Answer) -> Step:
    slip, things = answer.slip, f"{_near(answer)}s"
    verb = {"tilt": "Tilt up", "tilt down": "Tilt down"}.get(slip.axis, "Pan")
    sweep = slip.sweep_deg or USUAL_SWEEP_DEG
    text = f"{verb} by {angle_text(sweep)}, the sweep of this shot, so that the {things} cross to the picture's edge."
    if slip.axis == "none" or slip.sweep_deg == 0:
        text = f"{verb} by {angle_text(sweep)}. No move is set yet: w sets the sweep, v pan or tilt."
    leaves = slip.leaves_frame_deg
    if leaves is not None and leaves < slip.sweep_deg:
        text = (
            f"{verb} as far as the {things} stay in the picture. The move is {angle_text(slip.sweep_deg)}, and they "
            f"leave it after {leaves:.1f} deg: set the sweep to {leaves * 0.9:.0f} deg with w while reading, and back "
            "afterwards; the readings keep the sweep that they were taken over."
        )
    return Step("Turn", text)


def _read(answer: Answer) -> Step:
    bench, near = answer.slip.bench, _near(answer)
    slope = bench.slope_predicted_px_per_mm if bench else None
    worth = f" Here a millimetre of slide is worth {number_text(slope, 2)} px." if slope else ""
    return Step(
        "Read",
        f"See how far the near {near} has come away from the far one. Plus if it outran it, going farther "
        f"{'up or down' if _tilts(answer) else 'across'} the picture; minus if it lagged; 0 if the two still stand "
        "together. Key p takes pixels, counted on the recorded picture; t a length, read off a tape hung at the far "
        f"{near}; e what the eye sees on a monitor." + worth,
    )


def _again(answer: Answer) -> Step:
    places = " and ".join(f"{place:g} mm" for place in bench_report.next_places(answer))
    advice = f" Next: {places}." if places else ""
    return Step(
        "Slide, and again",
        "Slide the camera elsewhere, line up anew, and turn by the same sweep. Three places at the least, some where "
        "it outruns and some where it lags, far apart: the error shrinks with their spread." + advice,
    )


def _keep(answer: Answer) -> Step:
    return Step(
        "Keep it",
        "Where nothing slips the lens turns about its entrance pupil. Others call that the nodal point, which is "
        f"another place in the lens. Key z sets the slide there; s writes the pupil into {answer.kit.lens.name}, for "
        f"every shot with this lens. Set the slide there and turn once more: the {_near(answer)}s must stay together.",
    )
