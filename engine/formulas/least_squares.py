"""A few unknown lengths from readings that depend on them: least squares, and what the readings cannot tell.

Readings and what is predicted of them are counted in the readings' own standard errors, unknowns in mm, so that the
inverse of a singular value is the standard error, in mm, along its direction (Golub and Van Loan, *Matrix
Computations*, 5.5: the rank-deficient least squares problem by SVD).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from forescale.engine.formulas.chi_squared import chance_above

if TYPE_CHECKING:
    import numpy

Predict = Callable[[Sequence[float]], Sequence[float] | None]

SETTLED_MM = 0.01
NUDGE_MM = 0.1
ROUNDS = 25
HALVINGS = 8
BLIND = 0.1  # an unknown with more of its unit vector than this in directions left out is not told
HOLDS = 0.01  # readings hold together unless chance makes so large a misfit more rarely than this


@dataclass(frozen=True, slots=True)
class Fit:
    """The unknowns found and their standard errors, both in mm, None where the readings cannot tell one.

    `held` are the unknowns as they were fitted, in every case. `residuals` is read less predicted, in standard
    errors; `freedom` how many readings there are beyond what was found.
    """

    values: tuple[float | None, ...]
    errors: tuple[float | None, ...]
    held: tuple[float, ...]
    residuals: tuple[float, ...]
    freedom: int
    pull: Any = field(repr=False, compare=False)  # the kept left singular vectors: how each reading pulls at the fit

    @property
    def misfit(self) -> float:
        """The sum of the squared residuals."""
        return sum(one * one for one in self.residuals)

    @property
    def holds(self) -> bool:
        """Whether errors of reading alone explain what is left, 99 times of 100."""
        return self.freedom == 0 or chance_above(self.misfit, self.freedom) >= HOLDS


def fit(predict: Predict, readings: Sequence[float], unknowns: int, largest_error_mm: float) -> Fit | None:
    """Return the unknowns, near 0, that predict the readings best; None where no such place is found.

    `predict` returns one number a reading, or None where nothing can be predicted from such unknowns. A direction
    in which the error would pass `largest_error_mm` is left out: the unknowns stay 0 along it.
    """
    import numpy as np

    at, told = np.zeros(unknowns), predict([0.0] * unknowns)
    for _ in range(ROUNDS):
        slopes = None if told is None else _slopes(predict, at)
        if told is None or slopes is None:
            return None
        left, sizes, right = np.linalg.svd(slopes, full_matrices=False)
        kept = sizes * largest_error_mm > 1
        left, sizes, right = left[:, kept], sizes[kept], right[kept]
        wrong = np.asarray(readings) - told
        step = right.T @ ((left.T @ wrong) / sizes)
        if float(np.linalg.norm(step)) < SETTLED_MM:
            return _found(at, wrong, left, sizes, right)
        at, told = _stepped(predict, at, step, readings)
    return None


def _slopes(predict: Predict, at: numpy.ndarray) -> numpy.ndarray | None:
    """Return how each prediction changes with each unknown, a column an unknown, by central differences."""
    import numpy as np

    columns = []
    for place in range(len(at)):
        shift = np.zeros(len(at))
        shift[place] = NUDGE_MM
        on, back = predict(list(at + shift)), predict(list(at - shift))
        if on is None or back is None:
            return None
        columns.append((np.asarray(on) - back) / (2 * NUDGE_MM))
    return np.column_stack(columns)


def _stepped(
    predict: Predict, at: numpy.ndarray, step: numpy.ndarray, readings: Sequence[float]
) -> tuple[numpy.ndarray, Sequence[float] | None]:
    """Return the place after a step and its predictions, the step halved while it leads where the misfit grows."""
    import numpy as np

    before = float(np.linalg.norm(np.asarray(readings) - predict(list(at))))
    for _ in range(HALVINGS):
        told = predict(list(at + step))
        if told is not None and float(np.linalg.norm(np.asarray(readings) - told)) <= before * (1 + 1e-9):
            return at + step, told
        step = step / 2
    return at + step, predict(list(at + step))


def _found(
    at: numpy.ndarray, wrong: numpy.ndarray, left: numpy.ndarray, sizes: numpy.ndarray, right: numpy.ndarray
) -> Fit:
    import numpy as np

    dropped = np.sqrt(np.clip(1 - (right**2).sum(axis=0), 0, None))
    errors = np.sqrt(((right / sizes[:, None]) ** 2).sum(axis=0))
    told = [bool(share <= BLIND) for share in dropped]
    return Fit(
        tuple(float(value) if known else None for value, known in zip(at, told, strict=True)),
        tuple(float(error) if known else None for error, known in zip(errors, told, strict=True)),
        tuple(map(float, at)),
        tuple(map(float, wrong)),
        len(wrong) - len(sizes),
        left,
    )


def doubtful(found: Fit, rows_each: int, least: int) -> tuple[int, ...]:
    """Return the readings (from 0, each of so many rows) that the others gainsay, where there are `least` or more.

    One is doubtful where, foretold from the rest, it lies outside the ellipse that holds 1 − 0.01/n of such readings,
    while the rest holds together at 99 %. Leaving out is worked from the fit to all (Cook and Weisberg, *Residuals and
    Influence in Regression*, 1982, 2.2), which is exact where predictions are straight lines.
    """
    count = len(found.residuals) // rows_each
    if count < least:
        return ()
    return tuple(place for place in range(count) if _gainsaid(found, place, rows_each, count))


def _gainsaid(found: Fit, place: int, rows_each: int, count: int) -> bool:
    import numpy as np

    rows = slice(place * rows_each, (place + 1) * rows_each)
    own, pull = np.asarray(found.residuals[rows]), found.pull[rows]
    free = np.eye(rows_each) - pull @ pull.T
    if float(np.linalg.det(free)) < 1e-9:  # nothing else tells what this one does
        return False
    outside = float(own @ np.linalg.solve(free, own))
    rest = chance_above(found.misfit - outside, found.freedom - rows_each)
    return chance_above(outside, rows_each) < HOLDS / count and rest >= HOLDS
