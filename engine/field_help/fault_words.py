"""A fault as a screen says it: with the fields under their labels, where a file's line has their names."""

from __future__ import annotations

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.files.faults import Fault, FieldPath, field_path


def in_words(fault: Fault) -> str:
    """Return a fault for a screen: "far side: ..." where its line in a file has "place.background_far: ...".

    One in a file stays as it is, since the file is where its reader will look; one of a whole section needs no more
    than the labels of the fields that it names.
    """
    if fault.file:
        return str(fault)
    return fault.spelt("" if len(fault.path) == 1 else place_in_words(fault.path), called)


def place_in_words(path: FieldPath) -> str:
    """Return a field's label, after the number of its row if it has one: "bench 4, slide at"."""
    section, name = path[:1], path[-1:]
    label = FIELD_HELP.get(".".join(map(str, section + name)))
    if label is None:
        return field_path(path)
    return f"{field_path(path[:2])}, {label.label}" if len(path) == 3 else label.label


def called(path: str) -> str:
    """Return a field's label, or its path where it has none."""
    return FIELD_HELP[path].label if path in FIELD_HELP else path
