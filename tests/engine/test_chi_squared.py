"""The tail of the chi-squared distribution against SciPy's."""

from __future__ import annotations

import pytest
from scipy.stats import chi2

from forescale.engine.formulas.chances import chance_above


@pytest.mark.parametrize("freedom", range(1, 40))
def test_the_tail_is_that_of_scipy(freedom: int) -> None:
    for value in (1e-6, 0.3, 1.0, freedom / 2, freedom, 2.0 * freedom, 80.0):
        assert chance_above(value, freedom) == pytest.approx(chi2.sf(value, freedom), rel=1e-10, abs=1e-300)


def test_of_no_errors_only_nothing_can_come() -> None:
    assert chance_above(0.0, 0) == 1.0
    assert chance_above(1e-9, 0) == 0.0
