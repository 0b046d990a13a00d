"""The workings: every number of the answer explains itself."""

from pathlib import Path
from typing import Any, NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.answer.in_force import number_at
from forescale.engine.files.toml_files import read_own
from forescale.engine.findings.line_up import CAMERA, HEAD, LABELS, MODEL, WAYS
from forescale.engine.formulas.moves import TAPE_READING_MM
from forescale.engine.formulas.stand import SAFETY
from forescale.engine.solve.record import Pane
from forescale.engine.workings.put_in import Texts, convention, put_in
from forescale.engine.workings.values import is_known, value_text

_PANES: dict[Pane, tuple[str, ...]] = {
    "scale": ("scale", "lineup", "survey", "stand", "picture", "correction", "come_back"),
    "speed": ("speed", "light", "timing", "sun"),
    "focus": ("focus",),
    "slip": ("slip",),
}
_FIT = "Golub and Van Loan, Matrix Computations, 5.5; OpenCV's solvePnP finds the same"
_ERROR = "the square root of the sum of (1 / singular value)² along it, from limits.reading_px"
_ERROR_BACK = f"{_ERROR}, and {TAPE_READING_MM:g} mm for each tape and each way of a mark's place"
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


class Working(NamedTuple):
    """How one number of the answer comes about, as words.toml has it.

    `formula` is in the symbols of the manual; `put_in` the same with braces for a shot's numbers, or several by when
    they hold, empty where the sums have it; `holds` is what holds of tape, pupil and stops, in words or by name.
    `needs` says what to enter where the number is not known; empty where it always is. `leads_to` are the keys of the
    numbers that it goes into, `function` is the one in `engine/formulas` that holds the relation.
    """

    name: str
    meaning: str
    needs: str
    formula: str
    put_in: Texts
    holds: tuple[Texts, ...]
    source: str
    leads_to: tuple[str, ...]
    function: str = ""


class Explanation(NamedTuple):
    """A working for one shot, all of it text; `leads_to` are names; `function` is empty where it is no formula's."""

    name: str
    value_text: str
    meaning: str
    formula: str
    put_in: str
    conventions: str
    leads_to: tuple[str, ...]
    source: str
    function: str


def _line_up_words() -> dict[str, list[Any]]:
    """Return the rows of the groups `correction` and `come_back`, as words.toml has those of the others."""
    rows: dict[str, list[Any]] = {}

    def add(key: str, name: str, meaning: str, formula: str, needs: str, source: str = _FIT) -> None:
        rows[key] = [name, meaning, needs, formula, "by the fit: {}", ["frame"], source, []]

    def add_moves(group: str, what: str, fields: tuple[str, ...], formula: str, needs: str, error: str) -> None:
        for field in fields:
            name, unit = field.split("_")
            label = f"{what} {_SHORT.get(name, name)}"
            add(f"{group}.{field}", label, f"How far to go, {LABELS[field]}; + is {WAYS[field][0]}.", formula, needs)
            add(f"{group}.{name}_error_{unit}", f"{label} error", _ERROR_MEANING, error, needs)

    for what, fields in (("camera", CAMERA), ("model", MODEL)):
        group = f"correction.{what}"
        add_moves(group, what, fields, _MOVE, _MISSES, _ERROR)
        strays = "What no place of it explains of the misses read, root mean square of a coordinate."
        add(f"{group}.residual_px", f"{what} strays", strays, _STRAYS, _MISSES)
        left = f"The longest miss that is foretold once the {what} is moved as told."
        add(f"{group}.left_px", f"{what} leaves", left, "the longest miss foretold there", _MISSES, "definition")
        for field in CAMERA:
            name = field.removesuffix("_mm")
            ends = f"Where the {what} then stands against the tapes, {LABELS[field]}; + is {WAYS[field][0]}."
            add(f"{group}.ends_{field}", f"{what} ends {_SHORT.get(name, name)}", ends, _ENDS, _MISSES)
    add_moves("come_back", "back", (*CAMERA, *HEAD), _BACK, _MARKS, _ERROR_BACK)
    add("come_back.residual_mm", "tapes stray", "What no place explains of the tapes.", _STRAYS, _MARKS)
    add("come_back.residual_px", "marks stray", "What no place explains of the pictures.", _STRAYS, _MARKS)
    away = ("How far off the marks are on the mean.", "mean of the straight distances", "put up witness marks")
    add("come_back.mean_distance_mm", "marks stand off", *away, "definition")
    for name, how, tells in (("tapes", "tapes", "by tapes"), ("picture", "pictures", "in the picture")):
        add(f"come_back.would_tell_by_{name}_mm", f"{how} tell", f"{_TELLS}{tells} alone.", _ERROR_BACK, _UNREAD)
    return rows


def _working(
    name: str, meaning: str, needs: str, formula: str, put: Texts, holds: list[str], source: str, *more: Any
) -> Working:
    notes = _WORDS["notes"]
    held = tuple(notes.get(text, text) for text in holds)
    margin = f"{SAFETY:g}"
    told = (notes.get(text, text).replace("{margin}", margin) for text in (meaning, needs, formula, source))
    meaning, needs, formula, source = told
    return Working(name, meaning, needs, formula, put, held, source, *more)


_WORDS = read_own(Path(__file__).with_name("words.toml"))
_ROWS = _WORDS["numbers"] | _line_up_words()
WORKINGS = {key: _working(*it) for own in _PANES.values() for key, it in _ROWS.items() if key.partition(".")[0] in own}


def keys_of_pane(pane: Pane) -> tuple[str, ...]:
    """Return the keys of a pane's numbers in the order in which a person reads them."""
    return tuple(key for key in WORKINGS if key.partition(".")[0] in _PANES[pane])


def keys_here(pane: Pane, answer: Answer) -> tuple[str, ...]:
    """Return the keys of a pane's numbers but for groups that this shot has not: pieces, the sun, a survey."""
    told = {"survey": bool(answer.setting.survey)}  # another group is there where it says anything
    groups = ((key, key.rpartition(".")[0]) for key in keys_of_pane(pane))
    return tuple(key for key, group in groups if told.get(group, number_at(group, answer) not in (None, ())))


def explain(key: str, answer: Answer) -> Explanation:
    """Return how the number at a key comes about in this shot; raises KeyError where there is no such number."""
    it = WORKINGS[key]
    value = value_text(key, answer)
    put = put_in(it.put_in, key, answer) if is_known(key, answer) else f"{value}: {it.needs}"
    holds = " ".join(convention(texts, answer) for texts in it.holds)
    leads_to = tuple(WORKINGS[other].name for other in it.leads_to)
    return Explanation(it.name, value, it.meaning, it.formula, put, holds, leads_to, it.source, it.function)
