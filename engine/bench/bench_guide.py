"""How to find the entrance pupil, in six steps for someone who never did it, with the shot's own numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.bench import bench_report
from forescale.engine.bench.bench_entry import BenchSetup, as_left, of_shot
from forescale.engine.findings.built import DEFER
from forescale.engine.findings.words import Words
from forescale.engine.shot.sections import TILTS
from forescale.engine.units import angle_text, number_text, tape_text


class Step(NamedTuple):
    """One step: what is done, in a word or two, and how; the caution that belongs to it, or none."""

    title: str
    text: str
    caution: str = ""


def steps(answer: Answer, bench: BenchSetup | None = None) -> tuple[Step, ...]:
    """Return the six steps for a bench set up so, or as its last reading left it.

    An upright stick shows a slip to the side, a level bar one up or down.
    """
    bench = bench or as_left(answer)
    near = "bar" if bench.axis in TILTS else "stick"
    return (*_set_up(answer, bench, near), _turn(answer, bench, near), *_read(answer, bench, near))


def _set_up(answer: Answer, bench: BenchSetup, near: str) -> Iterator[Step]:
    kit, system, tilts = answer.kit, answer.system, bench.axis in TILTS
    near_at, far_at = tape_text(bench.near_mm, system), tape_text(bench.far_mm, system)
    where = f"{far_at} from that mark" if math.isfinite(bench.far_mm) else "as far off as can be seen"
    as_shot = bench == replace(of_shot(answer), axis=bench.axis, sweep_deg=bench.sweep_deg)
    here = "where model and background are" if as_shot else "where there is room: e sets how far"
    title, near_one, far_one = "Two sticks", "Stand a thin straight stick", "The edge of a wall or a mast"
    if tilts:
        title, near_one, far_one = "Two level bars", "Fix a thin straight bar level", "The edge of a roof or a sill"
    yield Step(
        title,
        f"{near_one} {near_at} from the sensor-plane mark, and another {where}, {here}. "
        f"{far_one} will do for the far one.",
        f"Keep the far {near}, and whoever holds it, off roads and edges: {DEFER}.",
    )
    slide = "the slide" if kit.head is None else f"the slide of {kit.head.name}"
    shift = "raise or lower the whole camera" if tilts else "shift the whole tripod sideways"
    yield Step(
        "Line them up",
        f"Level the head. Set {kit.focal_mm:g} mm and focus at {tape_text(answer.focus.focus_mm, system)}, and leave "
        f"both alone: the entrance pupil moves with them. Set {slide}, read its scale, then {shift} until the near "
        f"{near} covers the far one in the middle of the picture.",
        "Hold the camera while the slide is loose, and lock it before letting go: a heavy lens tips it.",
    )


def _turn(answer: Answer, bench: BenchSetup, near: str) -> Step:
    leaves, sweep = answer.slip.leaves_frame_deg, angle_text(bench.sweep_deg)
    verb = {"tilt": "Tilt up", "tilt down": "Tilt down", "pan left": "Pan left"}.get(bench.axis, "Pan")
    own = "" if bench.sweep_deg == answer.slip.sweep_deg else ", the bench's own sweep; the shot keeps its own"
    text = f"{verb} by {sweep}{own}, so that the {near}s cross to the picture's edge."
    if leaves is not None and leaves < bench.sweep_deg and bench.axis == answer.slip.axis:
        text = (
            f"{verb} as far as the {near}s stay in the picture. The sweep is {sweep}, and they "
            f"leave it after {leaves:.1f} deg: set the bench's own sweep to {leaves * 0.9:.0f} deg with e."
        )
    return Step("Turn", text)


def _read(answer: Answer, bench: BenchSetup, near: str) -> Iterator[Step]:
    found, places = answer.slip.bench, bench_report.next_places(answer)
    slope = found.slope_predicted_px_per_mm if found else None
    worth = f" Here a millimetre of slide is worth {number_text(slope, 2)} px." if slope else ""
    yield Step(
        "Read",
        f"See how far the near {near} has come away from the far one. Plus if it outran it, going farther "
        f"{'up or down' if bench.axis in TILTS else 'across'} the picture; minus if it lagged; 0 if the two still "
        "stand together. Key a takes a reading: in pixels, counted on the recorded picture; as a length with its unit, "
        f"off a tape hung at the far {near}; or what the eye sees on a monitor: outruns, lags, locked.{worth}",
    )
    advice = f" Next: {' and '.join(map(Words(answer).on_slide.mark, places))}." if places else ""
    yield Step(
        "Slide, and again",
        "Slide the camera elsewhere, line up anew, and turn by the same sweep. Three places at the least, some where "
        f"it outruns and some where it lags, far apart: the error shrinks with their spread.{advice}",
    )
    yield Step(
        "Keep it",
        "Where nothing slips the lens turns about its entrance pupil. Others call that the nodal point, which is "
        f"another place in the lens. Key p sets the slide there; s writes the pupil into {answer.kit.lens.name}, for "
        f"every shot with this lens. Set the slide there and turn once more: the {near}s must stay together.",
    )
