"""A zero beyond the end of the slide is told only where the slip as set is too much."""

from __future__ import annotations

import pytest

from forescale.engine.answer import answer, answer_file
from forescale.engine.kit import library
from forescale.engine.mends import mends
from forescale.engine.shot import edit


def _slip_codes(slide: str, slide_max: float) -> set[str]:
    """The codes on the kiln stack's slip, whose zero is at 62.1 mm ± 2.6 mm, on a head that goes so far."""
    _, of = answer_file(library.shelf_file("shots", "kiln-stack").path)
    assert of.kit.head is not None
    kit = of.kit._replace(head=of.kit.head.model_copy(update={"slide_max": slide_max}))
    found = answer(edit.changed(of.setting, {"move.slide": slide, "bench": ()}), kit, of.system)
    return {said.code for said in found.findings if said.pane == "slip"}


def test_a_slide_that_ends_short_of_the_zero_but_holds_the_slip_is_well() -> None:
    assert _slip_codes("61 mm", 61.5) == {"slip-ok"}


def test_a_slide_that_ends_where_the_slip_is_too_much_is_out_of_reach() -> None:
    assert _slip_codes("45 mm", 50.0) == {"slide-out-of-reach", "slip-over"}


@pytest.mark.parametrize(
    ("slide", "way"),
    [  # 17.9 mm and 42.1 mm along a lens aimed 6 deg up: times its cosine, and its sine
        ("80 mm", "17.8 mm farther, and the lens 1.9 mm lower"),
        ("20 mm", "41.9 mm nearer, and the lens 4.4 mm higher"),
        (None, ""),
    ],
)
def test_a_slide_that_is_set_anew_takes_the_camera_from_its_tapes(slide: str | None, way: str) -> None:
    shot, of = answer_file(library.shot_path("kiln-stack"))
    moved = answer(edit.changed(shot, {"move.slide": slide}), of.kit, of.system)
    found = next(one for one in moved.findings if one.code in {"slip-over", "slide-to-set"})
    mend = next(one for one in mends(moved, found) if "move.slide" in one.set)
    assert mend.text.endswith(", then tape anew") is bool(way)  # which doing it on the board cannot do
    assert (mend.price or "") == (f"what was taped before it then stands {way}" if way else "")
