"""Stored states: all that was set for a take, equal ones kept once, to hold beside now and to go back to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from forescale.engine.shot.records import Setting, Shot, StoredState, Take
from forescale.engine.states.marks import free_name, setting_of

LEFT_OUT = ("build", "stock", "bench", "survey", "limits")  # what belongs to the shot, whatever is set for a take


def stored(shot: Shot, name: str, time: datetime) -> tuple[tuple[StoredState, ...], str]:
    """Return the shot's states with its present one among them, and the name that it has there.

    Where an equal one is stored already it is that, whatever `name` was wanted.
    """
    without = {part: Setting.model_fields[part].default for part in LEFT_OUT}
    setting = setting_of(shot).model_copy(update=without)
    same = next((state for state in shot.state if state.setting == setting), None)
    if same is not None:
        return shot.state, same.name
    name = free_name(shot.state, name)
    return (*shot.state, StoredState(name=name, kept=time, setting=setting)), name


def restored(shot: Shot, take: Take) -> Shot | None:
    """Return the shot with everything set as it was for a take, the rest as it is; None where no state was stored."""
    state = next((state for state in shot.state if state.name == take.state), None)
    if state is None:
        return None
    kept = (name for name in Setting.model_fields if name not in LEFT_OUT)
    return shot.model_copy(update={name: getattr(state.setting, name) for name in kept})


def still_named(states: Sequence[StoredState], takes: Sequence[Take]) -> tuple[StoredState, ...]:
    """Return the states that a take names."""
    named = {take.state for take in takes}
    return tuple(state for state in states if state.name in named)
