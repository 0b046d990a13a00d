"""The log of takes, and the states in which they were shot: all that was set, equal ones kept once."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from heapq import merge
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words, move_text
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting, Shot, StoredState, Take
from forescale.engine.states.saved import free_name, setting_of
from forescale.engine.units import angle_text, filter_text, number_text, stopwatch_text

LEFT_OUT = ("build", "stock", "bench", "survey", "limits")  # what belongs to the shot, whatever is set for a take


def numbered(takes: Sequence[Take]) -> Iterator[tuple[int, Take]]:
    """Yield each take with its number: as set, or the one after the take before it."""
    number = 0
    for take in takes:
        number = take.number if take.number is not None else number + 1
        yield number, take


def what_is_set(answer: Answer) -> str:
    """Return all that a crew sets for a take as one line, as the shot stands: rate to slide, then the places."""
    words, light, move = Words(answer), answer.light, answer.setting.move
    parts = [words.rate(answer.speed.fps), angle_text(answer.setting.action.shutter)]
    parts += [words.stop(answer.focus.f_number), f"focus {words.length(answer.focus.focus_mm)}"]
    parts += [f"ISO {number_text(light.iso, 5)}", filter_text(light.nd_fitted) if light.nd_fitted else "no ND"]
    if answer.speed.move_set_time_s is not None:
        parts.append(move_text(answer))
    if move.slide is not None:
        parts.append(f"slide {words.on_slide.mark(move.slide)}")
    if answer.kit.lens.is_zoom:
        parts.append(Words.focal(answer.kit.focal_mm))
    parts.append(f"{words.ratio(answer.scale.ratio)} model at {words.length(answer.lineup.model_mm)}")
    parts.append(f"background {words.length(answer.lineup.background_mm)}")
    if answer.timing is not None and answer.timing.cues:
        calls = (f"{cue.name} at {stopwatch_text(cue.set_s)}" for cue in answer.timing.cues)
        parts.append(f"cues {' and '.join(calls)}")
    return ", ".join(parts)


def judged(take: Take) -> str:
    """Return whether a take was good, in words; a dash where nobody has said so yet."""
    return {True: "good", False: "no good", None: "-"}[take.good]


def take_text(take: Take) -> str:
    """Return what was set for a take, and how the weather and the model were where that was written."""
    lines = (("weather", take.weather), ("model", take.model))
    return "; ".join((take.set, *(f"{what}: {line}" for what, line in lines if line)))


def stored(shot: Shot, name: str, time: datetime) -> tuple[tuple[StoredState, ...], str]:
    """Return the shot's states with its present one among them, and its name there: an equal one's, else `name`."""
    setting = setting_of(shot).model_copy(update={part: Setting.model_fields[part].default for part in LEFT_OUT})
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


def logged(shot: Shot, answer: Answer, time: datetime) -> dict[str, Any]:
    """Return the change that logs one more take, not judged yet, numbered after the highest, its state stored."""
    number = 1 + max((number for number, _ in numbered(shot.take)), default=0)
    states, state = stored(shot, f"take {number}", time)
    return {"state": states, "take": (*shot.take, Take(number=number, time=time, set=what_is_set(answer), state=state))}


def changed(takes: Sequence[Take], place: int, **changes: object) -> tuple[Take, ...]:
    """Return the takes with the one at `place` (from 0) changed, every number staying as it is."""
    kept = _with_numbers(takes)
    return edit.replaced(kept, place, kept[place].model_copy(update=changes))


def without(takes: Sequence[Take], place: int) -> tuple[Take, ...]:
    """Return the takes without the one at `place` (from 0), every other number staying as it is."""
    return edit.without(_with_numbers(takes), place)


def merged(ours: Sequence[Take], theirs: Sequence[Take], base: Sequence[Take] = ()) -> tuple[Take, ...]:
    """Return the takes of two logs, each once, by time; of one in both, what differs from `base`, else ours."""
    logs = [{(take.time, take.number): take for take in _with_numbers(log)} for log in (ours, theirs, base)]
    mine, other, before = logs
    both = {key: other[key] if mine[key] == before.get(key) else mine[key] for key in mine.keys() & other.keys()}
    ordered = [key for _, key in merge(*([(key[0], key) for key in log] for log in (mine, other)))]
    takes = mine | other | both
    return tuple(takes[key] for key in dict.fromkeys(ordered))


def with_takes_of(other: Shot, shot: Shot, base: Shot | None = None) -> Shot:
    """Return `shot` with the takes of both, and with the states that those of the other were shot in."""
    names, renamed, states = {state.setting: state.name for state in reversed(shot.state)}, {}, list(shot.state)
    for state in other.state:
        if state.setting not in names:
            names[state.setting] = free_name(states, state.name)
            states.append(state.model_copy(update={"name": names[state.setting]}))
        renamed[state.name] = names[state.setting]
    theirs = [take.model_copy(update={"state": take.state and renamed.get(take.state)}) for take in other.take]
    takes = merged(shot.take, theirs, base.take if base else ())
    return shot.model_copy(update={"state": still_named(states, takes), "take": takes})


def _with_numbers(takes: Sequence[Take]) -> tuple[Take, ...]:
    return tuple(take.model_copy(update={"number": number}) for number, take in numbered(takes))
