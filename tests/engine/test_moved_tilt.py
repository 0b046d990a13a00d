"""A moved rig on a head that tilts about an axis below the lens: the slide that the crew is told holds the whole tilt.

With a rise h the slip on the way to a turn θ is (v/d)·(e·θ − h·θ²/2), for small angles and a far background. It is
largest on the way at θ = e/h, where it is (v/d)·e²/(2h), so a slip of t may pass from e = h·θ/2 − t·d/(v·θ), by the
end of the turn, to e = √(2h·t·d/v), by the way to it. Worked out here; nothing calls the engine's own.
"""

from __future__ import annotations

import math

import pytest

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.kit import library
from forescale.engine.moved.moved import usual_choice, work_out
from forescale.engine.moved.to_do import what_to_do
from forescale.engine.shot import edit

RISE, SWEEP = 150.0, 15.0


def tilting(slide: str | None, tolerance: float) -> Answer:
    """The kiln stack on a head whose tilt axis lies low, over a tilt."""
    _, of = answer_file(library.shelf_file("shots", "kiln-stack").path)
    assert of.kit.head is not None
    head = of.kit.head.model_copy(update={"tilt_drop": RISE, "slide_max": 200.0})
    move = {"move.axis": "tilt", "move.sweep": f"{SWEEP:g} deg", "move.slide": slide, "move.tolerance": tolerance}
    return answer(edit.changed(of.setting, move), of.kit._replace(head=head), of.system)


@pytest.mark.parametrize("slide", ["40 mm", None])
def test_the_slide_told_holds_the_whole_tilt(slide: str | None) -> None:
    """1.5 px may pass, and this tilt strays by h·θ²·v/(8·d·p) = 1.8 px on the way to an end without slip."""
    before = tilting(slide, 1.5)
    moved = work_out(before, {"place.model": 3050.0}, usual_choice(before))
    told = next(step for step in what_to_do(moved) if step.subject == "slide")
    place = float(told.after_text.removesuffix(" mm"))
    strayed, turn = 1.5 * 16.6 / 2048 * 3050 / 35.2, math.radians(SWEEP)  # t·d/v, with v = 35.2 mm
    offset = (RISE * turn / 2 - strayed / turn + math.sqrt(2 * RISE * strayed)) / 2  # 2 % off at 15°: 0.3 mm
    assert place == pytest.approx(86 - before.slip.pupil_ahead_mm + offset, abs=0.5)
    after = tilting(f"{place} mm", 1.5)
    assert after.slip.largest_slip_px is not None
    assert abs(after.slip.largest_slip_px) <= 1.5
    assert "± 0.0" not in told.text


def test_a_slide_that_no_place_of_which_holds_is_not_told() -> None:
    before = tilting(None, 1.0)
    moved = work_out(before, {"place.model": 3050.0}, usual_choice(before))
    assert "slide" not in {step.subject for step in what_to_do(moved)}
    assert "slide-none-holds" in {said.code for said in moved.after.findings}


@pytest.mark.parametrize("way", [1, -1])
def test_a_slide_typed_under_an_aimed_lens_carries_it_along_its_axis(way: int) -> None:
    """40 mm along a lens aimed 20° up: 40·cos 20° nearer to all that is taped, and 40·sin 20° higher."""
    aimed = {"place.aim": "20 deg up", "place.lens_height": "5 ft", "place.seems_at": None, "miss": ()}
    shot, of = answer_file(library.shot_path("kiln-stack"))
    before = answer(edit.changed(shot, aimed), of.kit, of.system)
    slide = before.setting.move.slide
    assert slide is not None
    found = work_out(before, {"move.slide": slide + way * 40}, usual_choice(before)).taped.setting
    nearer, higher = way * 40 * math.cos(math.radians(20)), way * 40 * math.sin(math.radians(20))
    was, now = before.setting.place, found.place
    assert now.lens_height == pytest.approx(was.lens_height + higher, abs=0.2)
    for name in ("model", "model_near", "background", "background_far"):
        assert getattr(now, name) == pytest.approx(getattr(was, name) - nearer, abs=0.2), name
