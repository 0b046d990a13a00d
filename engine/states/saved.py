"""States of a shot saved under names, to go back to or to compare with; a file has them as `mark`."""

from collections.abc import Sequence
from datetime import datetime

from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.records import SavedState, Setting, Shot


def setting_of(shot: Shot) -> Setting:
    """Return what a saved state keeps of a shot: all that is set, without its title, states and takes."""
    return Setting.model_construct(**{name: getattr(shot, name) for name in Setting.model_fields})


def keep(shot: Shot, name: str, time: datetime) -> tuple[SavedState, ...]:
    """Return the shot's saved states with its present one as one more; raises BadInput where the name cannot be."""
    return *shot.mark, SavedState(name=checked_name(shot.mark, name), kept=time, setting=setting_of(shot))


def plain_name(name: str) -> str:
    """Return a name as it is kept: on one line, without spaces around it."""
    return " ".join(name.split())


def checked_name(states: Sequence[SavedState], name: str, instead_of: str | None = None) -> str:
    """Return a name for a saved state, or one `instead_of` its old; BadInput where it is empty or another's."""
    name = plain_name(name)
    if not name:
        raise BadInput('a saved state needs a name, such as "before lunch"')
    if name != instead_of and any(state.name == name for state in states):
        raise BadInput(f'there is a saved state called "{name}" already: give this one another name')
    return name


def free_name(states: Sequence[SavedState], wanted: str) -> str:
    """Return the name wanted, with a number after it where it is taken."""
    taken, name, number = {state.name for state in states}, wanted, 1
    while name in taken:
        number += 1
        name = f"{wanted} ({number})"
    return name


def renamed(states: Sequence[SavedState], place: int, name: str) -> tuple[SavedState, ...]:
    """Return the states with the one at `place` (from 0) under another name; raises BadInput."""
    new = states[place].model_copy(update={"name": checked_name(states, name, states[place].name)})
    return edit.replaced(tuple(states), place, new)
