"""A few unknown lengths from readings that depend on them.

By least squares, with how well each is known and what the readings cannot tell. Readings of unknowns and what is
predicted of them are counted in the readings' own standard errors, unknowns in mm, so that the inverse of a singular
value is the standard error, in mm, along its direction (Golub and Van Loan, *Matrix Computations*, 5.5: the
rank-deficient least squares problem by SVD).
"""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from forescale.engine.formulas.chances import chance_above

if TYPE_CHECKING:  # loaded by what fits, and not at the start of everything
    from numpy import float64
    from numpy.typing import NDArray

    Floats = NDArray[float64]

Predict = Callable[[Sequence[float]], Sequence[float] | None]

SETTLED_MM = 0.01
NUDGE_MM = 0.1
ROUNDS = 25
HALVINGS = 8
SURE = 2  # standard errors that a move must pass to be told from none, and with which it is said either way
NOT_CHANCE = 0.05  # rarer than this, what was held at 0 is missed
BLIND = 0.1  # an unknown with more of its unit vector than this in directions left out is not told
HOLDS = 0.01  # readings hold together unless chance makes so large a misfit more rarely than this


class Fit(NamedTuple):
    """The unknowns found and their standard errors, both in mm, None where the readings cannot tell one."""

    values: tuple[float | None, ...]
    errors: tuple[float | None, ...]
    held: tuple[float, ...]  # the unknowns as they were fitted, in every case
    residuals: tuple[float, ...]  # read less predicted, in standard errors
    freedom: int  # readings beyond what was found
    pull: "Floats"  # the kept left singular vectors: how each reading pulls at the fit
    slopes: "Floats"  # how each prediction changes with each unknown, 1/mm

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

    wanted = np.asarray(readings)

    def slopes(at: "Floats") -> "Floats | None":
        """Return how each prediction changes with each unknown, a column an unknown, by central differences."""
        ends = [(predict(list(at + shift)), predict(list(at - shift))) for shift in NUDGE_MM * np.eye(unknowns)]
        if any(on is None or back is None for on, back in ends):
            return None
        return np.column_stack([(np.asarray(on) - back) / (2 * NUDGE_MM) for on, back in ends])

    at = np.zeros(unknowns)
    told = predict([0.0] * unknowns)
    for _ in range(ROUNDS):
        tangent = None if told is None else slopes(at)
        if told is None or tangent is None:
            return None
        left, sizes, right = np.linalg.svd(tangent, full_matrices=False)
        kept = sizes * largest_error_mm > 1
        left, sizes, right = left[:, kept], sizes[kept], right[kept]
        wrong = wanted - told
        step = right.T @ ((left.T @ wrong) / sizes)
        if float(np.linalg.norm(step)) < SETTLED_MM:
            dropped = np.sqrt(np.clip(1 - (right**2).sum(axis=0), 0, None))
            errors = np.sqrt(((right / sizes[:, None]) ** 2).sum(axis=0))
            told_apart = [bool(share <= BLIND) for share in dropped]
            values = tuple(float(one) if tells else None for one, tells in zip(at, told_apart, strict=True))
            known = tuple(float(one) if tells else None for one, tells in zip(errors, told_apart, strict=True))
            freedom = len(wrong) - len(sizes)
            return Fit(values, known, tuple(map(float, at)), tuple(map(float, wrong)), freedom, left, tangent)
        for _ in range(HALVINGS):  # a step that leads where the misfit grows is halved
            told = predict(list(at + step))
            if told is not None and np.linalg.norm(wanted - told) <= np.linalg.norm(wrong) * (1 + 1e-9):
                break
            step = step / 2
        else:
            told = predict(list(at + step))
        at = at + step
    return None


def surest(values: Sequence[float], slopes: "Floats", may_be: Sequence[bool]) -> dict[int, tuple[float, float]]:
    """Return which unknowns (from 0), by how much and with which error, remain when what is not sure is held at 0.

    What may not be is held at once, then one by one what passes SURE errors least, the rest fitted anew each time to
    the same predictions (backward elimination: Seber and Lee, *Linear Regression Analysis*, 2003, 12.4), as long as
    chance explains all that is held together. Two that only together explain the readings are so not both left out.
    """
    import numpy as np

    foretold = slopes @ np.asarray(values)
    left = [n for n, may in enumerate(may_be) if may]
    count = len(left)
    found: dict[int, tuple[float, float]] = {}
    least = 0.0
    while True:
        at, *_ = np.linalg.lstsq(slopes[:, left], foretold, rcond=None)
        missed = float(((foretold - slopes[:, left] @ at) ** 2).sum())
        least = missed if len(left) == count else least
        if len(left) < count and chance_above(max(missed - least, 0.0), count - len(left)) < NOT_CHANCE:
            return found
        errors = np.sqrt(np.diag(np.linalg.pinv(slopes[:, left].T @ slopes[:, left])))
        found = {n: (float(one), float(error)) for n, one, error in zip(left, at, errors, strict=True)}
        unsure = [n for n, (one, error) in found.items() if abs(one) <= SURE * error]
        if not unsure:
            return found
        left.remove(min(unsure, key=lambda n: abs(found[n][0]) / (found[n][1] or 1.0)))


def doubtful(found: Fit, rows_each: int, least: int) -> tuple[int, ...]:
    """Return the readings (from 0, each of so many rows) that the others gainsay, where there are `least` or more.

    One is doubtful where, foretold from the rest, it lies outside the ellipse that holds 1 − 0.01/n of such readings,
    while the rest holds together at 99 %. Leaving out is worked from the fit to all (Cook and Weisberg, *Residuals and
    Influence in Regression*, 1982, 2.2), which is exact where predictions are straight lines.
    """
    count = len(found.residuals) // rows_each
    if count < least:
        return ()
    import numpy as np

    named = []
    for place in range(count):
        rows = slice(place * rows_each, (place + 1) * rows_each)
        own = np.asarray(found.residuals[rows])
        pull = found.pull[rows]
        free = np.eye(rows_each) - pull @ pull.T
        if float(np.linalg.det(free)) < 1e-9:  # nothing else tells what this one does
            continue
        outside = float(own @ np.linalg.solve(free, own))
        rest = chance_above(found.misfit - outside, found.freedom - rows_each)
        if chance_above(outside, rows_each) < HOLDS / count and rest >= HOLDS:
            named.append(place)
    return tuple(named)
