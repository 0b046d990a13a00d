"""Marks: states of a shot kept under names, to go back to or to compare with."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.records import Mark, Setting, Shot


def setting_of(shot: Shot) -> Setting:
    """Return what a mark keeps of a shot: all that is set, without its title, marks and takes."""
    return Setting.model_construct(**{name: getattr(shot, name) for name in Setting.model_fields})


def keep(shot: Shot, name: str, time: datetime) -> tuple[Mark, ...]:
    """Return the shot's marks with its present state as one more; raises BadInput where the name cannot be."""
    return *shot.mark, Mark(name=checked_name(shot.mark, name), kept=time, setting=setting_of(shot))


def plain_name(name: str) -> str:
    """Return a name as it is kept: on one line, without spaces around it."""
    return " ".join(name.split())


def checked_name(marks: Sequence[Mark], name: str, instead_of: str | None = None) -> str:
    """Return a name for a mark, or one `instead_of` its old; BadInput where it is empty or another mark's."""
    name = plain_name(name)
    if not name:
        raise BadInput('a saved state needs a name, such as "before lunch"')
    if name != instead_of and any(mark.name == name for mark in marks):
        raise BadInput(f'there is a saved state called "{name}" already: give this one another name')
    return name


def free_name(marks: Sequence[Mark], wanted: str) -> str:
    """Return the name wanted, with a number after it where it is taken."""
    taken, name, number = {mark.name for mark in marks}, wanted, 1
    while name in taken:
        number += 1
        name = f"{wanted} ({number})"
    return name


def renamed(marks: Sequence[Mark], place: int, name: str) -> tuple[Mark, ...]:
    """Return the marks with the one at `place` (from 0) under another name; raises BadInput."""
    old = marks[place]
    new = old.model_copy(update={"name": checked_name(marks, name, old.name)})
    return edit.replaced(tuple(marks), place, new)
