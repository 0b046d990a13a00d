"""The words of what is told at the line-up and on coming back: for each component how far to go, and its error."""

from __future__ import annotations

from typing import Any

from forescale.engine.findings.line_up import CAMERA, HEAD, LABELS, MODEL, WAYS

_FIT = "Golub and Van Loan, Matrix Computations, 5.5; OpenCV's solvePnP finds the same"
_ERROR = "the square root of the sum of (1 / singular value)² along it, from limits.reading_px"
_ERROR_MEANING = "One standard error of it: the truth lies within two of them 95 times of 100."
_MOVE = "(place of least misses) − (place that gives the misses read), least squares by SVD"
_ENDS = "place of least misses"
_BACK = "−(place that gives the tapes and pictures read now), least squares by SVD"
_MISSES = "read what misses at two points or more, at more for the turns of the model"
_MARKS = "read four witness marks again, by tape or in the picture"
_UNREAD = "put up witness marks, not read yet"
_STRAYS = "√(mean of (read − foretold)²)"
_TELLS = "How finely the marks would tell where the camera stands, the largest of the three errors of place, "
_SHORT = {"right": "aside"}


def line_up_words() -> dict[str, list[Any]]:
    """Return the rows of the groups `correction` and `come_back`, as words.toml has those of the others."""
    rows: dict[str, list[Any]] = {}

    def add(key: str, name: str, meaning: str, formula: str, needs: str, source: str = _FIT) -> None:
        rows[key] = [name, meaning, formula, "by the fit: {}", ["frame"], source, needs, []]

    def add_moves(group: str, what: str, fields: tuple[str, ...], formula: str, needs: str) -> None:
        for field in fields:
            name, unit = field.split("_")
            label = f"{what} {_SHORT.get(name, name)}"
            add(f"{group}.{field}", label, f"How far to go, {LABELS[field]}; + is {WAYS[field][0]}.", formula, needs)
            add(f"{group}.{name}_error_{unit}", f"{label} error", _ERROR_MEANING, _ERROR, needs)

    for what, fields in (("camera", CAMERA), ("model", MODEL)):
        group = f"correction.{what}"
        add_moves(group, what, fields, _MOVE, _MISSES)
        strays = "What no place of it explains of the misses read, root mean square of a coordinate."
        add(f"{group}.residual_px", f"{what} strays", strays, _STRAYS, _MISSES)
        left = f"The longest miss that is foretold once the {what} is moved as told."
        add(f"{group}.left_px", f"{what} leaves", left, "the longest miss foretold there", _MISSES, "definition")
        for field in CAMERA:
            name = field.removesuffix("_mm")
            ends = f"Where the {what} then stands against the tapes, {LABELS[field]}; + is {WAYS[field][0]}."
            add(f"{group}.ends_{field}", f"{what} ends {_SHORT.get(name, name)}", ends, _ENDS, _MISSES)
    add_moves("come_back", "back", (*CAMERA, *HEAD), _BACK, _MARKS)
    add("come_back.residual_mm", "tapes stray", "What no place explains of the tapes.", _STRAYS, _MARKS)
    add("come_back.residual_px", "marks stray", "What no place explains of the pictures.", _STRAYS, _MARKS)
    away = ("How far off the marks are on the mean.", "mean of the straight distances", "put up witness marks")
    add("come_back.mean_distance_mm", "marks stand off", *away, "definition")
    for name, how, tells in (("tapes", "tapes", "by tapes"), ("picture", "pictures", "in the picture")):
        add(f"come_back.would_tell_by_{name}_mm", f"{how} tell", f"{_TELLS}{tells} alone.", _ERROR, _UNREAD)
    return rows
