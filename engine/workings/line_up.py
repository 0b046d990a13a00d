"""The workings of what is told at the line-up and on coming back."""

from __future__ import annotations

from forescale.engine.findings.line_up_words import CAMERA, HEAD, LABELS, MODEL, WAYS
from forescale.engine.workings import conventions as on
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, Working

_FIT = "Golub and Van Loan, Matrix Computations, 5.5; OpenCV's solvePnP finds the same"
_ERROR = "the square root of the sum of (1 / singular value)² along it, from limits.reading_px"
_MOVE = "(place of least misses) − (place that gives the misses read), least squares by SVD"
_BACK = "−(place that gives the tapes and pictures read now), least squares by SVD"
_MISSES = "read what misses at two points or more, at more for the turns of the model"
_MARKS = "read four witness marks again, by tape or in the picture"
_SHORT = {"right": "aside", "forward": "ahead"}
_STRAYS = "√(mean of (read − foretold)²)"
_UNREAD = "put up witness marks, not read yet"
_frame = on.always("Right, up and level forward are positive, in the way that the lens looks at the line-up.")


def _working(key: str, name: str, meaning: str, formula: str, needs: str, source: str = _FIT) -> Working:
    return Working(
        key=key,
        name=name,
        meaning=meaning,
        formula=formula,
        put_in=lambda of: f"by the fit: {value_text(key, of)}",
        conventions=_frame,
        leads_to=(),
        source=source,
        needs=needs,
    )


def _moves(group: str, what: str, names: tuple[str, ...], formula: str, needs: str) -> tuple[Working, ...]:
    """Return the workings of each component that is told, and of its error."""
    found = []
    for field in names:
        name, unit = field.split("_")
        label = f"{what} {_SHORT.get(name, name)}"
        meaning = f"How far to go, {LABELS[field]}; + is {WAYS[field][0]}."
        error = "One standard error of it: the truth lies within two of them 95 times of 100."
        found.append(_working(f"{group}.{field}", label, meaning, formula, needs))
        found.append(_working(f"{group}.{name}_error_{unit}", f"{label} error", error, _ERROR, needs))
    return tuple(found)


def _rest(group: str, what: str) -> tuple[Working, ...]:
    left = f"The longest miss that is foretold once the {what} is moved as told."
    strays = "What no place of it explains of the misses read, root mean square of a coordinate."
    return (
        _working(f"{group}.residual_px", f"{what} strays", strays, _STRAYS, _MISSES),
        _working(f"{group}.left_px", f"{what} leaves", left, "the longest miss foretold there", _MISSES, DEFINITION),
    )


_TELLS = "How finely the marks would tell where the camera stands, the largest of the three errors of place, "
WORKINGS = (
    *_moves("correction.camera", "camera", CAMERA, _MOVE, _MISSES),
    *_rest("correction.camera", "camera"),
    *_moves("correction.model", "model", MODEL, _MOVE, _MISSES),
    *_rest("correction.model", "model"),
    *_moves("come_back", "back", (*CAMERA, *HEAD), _BACK, _MARKS),
    _working(
        "come_back.residual_mm",
        "tapes stray",
        "What no place explains of the tapes.",
        _STRAYS,
        _MARKS,
    ),
    _working(
        "come_back.residual_px",
        "marks stray",
        "What no place explains of the pictures.",
        _STRAYS,
        _MARKS,
    ),
    _working(
        "come_back.mean_distance_mm",
        "marks stand off",
        "How far off the marks are on the mean.",
        "mean of the straight distances",
        "put up witness marks",
        DEFINITION,
    ),
    _working(
        "come_back.would_tell_by_tapes_mm",
        "tapes tell",
        f"{_TELLS}by tapes alone.",
        _ERROR,
        _UNREAD,
    ),
    _working(
        "come_back.would_tell_by_picture_mm",
        "pictures tell",
        f"{_TELLS}in the picture alone.",
        _ERROR,
        _UNREAD,
    ),
)
