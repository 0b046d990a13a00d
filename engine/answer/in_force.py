"""What stands at a field or a number of an answer, set by a person or chosen by the program."""

from typing import Any

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.shot import edit
from forescale.engine.solve.record import Answer
from forescale.engine.units import Stop


def number_at(key: str, answer: Answer) -> Any:
    """Return what stands at a key of the answer, a tuple for a list of parts, None unknown; AttributeError of none."""
    node: Any = answer
    for name in key.split("."):
        if type(node) is tuple:
            node = tuple(getattr(item, name) for item in node)
        elif node is not None:
            node = getattr(node, name)
    return node


def in_force(path: str, answer: Answer) -> Any:
    """Return the value of a field: as set, or, where it is left open, what the registry says stands in for it."""
    value, field = edit.value_at(answer.setting, path), FIELD_HELP.get(path)
    if value is not None or field is None or not (key := field.chosen or field.follows):
        return value
    found = number_at(key, answer)
    return Stop(found, answer.kit.lens.marks, marked=True) if path == "focus.stop" else found
