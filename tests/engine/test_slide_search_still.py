"""A search for the slide where moving it changes next to nothing: it stays where it was, and nothing overflows."""

import pytest

from forescale.engine.formulas.projection import Pixels
from forescale.engine.formulas.slip import least_at


@pytest.mark.parametrize("change", [0.0, 1e-200, 1e-300, 5e-324])
def test_a_slip_that_the_slide_does_not_change_leaves_the_slide(change: float) -> None:
    assert least_at(lambda mm: [Pixels(3.0 * change + mm * change, 0.0)], 12.0) == 12.0


def test_a_slip_that_it_changes_is_brought_to_nothing() -> None:
    assert least_at(lambda mm: [Pixels(2 * (mm - 40), 0.0)], 12.0) == pytest.approx(40, abs=1e-6)  # 2 px a mm from 40
