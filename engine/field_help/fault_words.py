"""A fault in a shot as a screen says it: with the fields under their labels, where a file's line has their names."""

from __future__ import annotations

import re

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.shot.records import Setting

_SHOT = "shot: "
_SECTION = re.compile(rf"({'|'.join(Setting.model_fields)})( \d+)?(\.\w+)?: ")
_FIELD = re.compile(r"\b([a-z]+)( \d+)?\.([a-z_]+)\b")
_LONG_NAME = re.compile(r"\b[a-z]+(?:_[a-z]+)+\b")


def in_words(fault: str) -> str:
    """Return a line of `BadInput` for a screen: "far side: ..." for "shot: place.background_far: ...".

    Paths give way to labels, as do the names with an underscore of the section that the line is about. A line on a
    file stays as it is, since the file is where its reader will look.
    """
    line = fault.removeprefix(_SHOT)
    if _about_a_file(line):
        return line
    about = _SECTION.match(line)
    if about is None:
        return _FIELD.sub(_label_of_path, line)
    section, row, name = about.groups()
    said = _LONG_NAME.sub(lambda name: _label(section, name[0]) or name[0], _FIELD.sub(_label_of_path, line))
    return said if row or name else said.removeprefix(f"{section}: ")


def _about_a_file(line: str) -> bool:
    subject = line.partition(": ")[0]
    return "/" in subject or subject.endswith(".toml")


def _label_of_path(path: re.Match[str]) -> str:
    """Return a path's label, after the number of its row if it has one: "bench 4, slide at"."""
    section, row, name = path.groups()
    label = _label(section, name)
    if label is None:
        return path[0]
    return f"{section}{row}, {label}" if row else label


def _label(section: str, name: str) -> str | None:
    help_on = FIELD_HELP.get(f"{section}.{name}")
    return None if help_on is None else help_on.label
