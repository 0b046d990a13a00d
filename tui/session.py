"""The shot under work: its state, every change of it, and the file that it came from. Knows nothing of a screen."""

from collections.abc import Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from forescale.engine.answer import Answer, answer
from forescale.engine.answer.readings import READINGS, kept_in
from forescale.engine.field_help import in_words
from forescale.engine.files.disk import alone, digest, resolved
from forescale.engine.files.faults import BadInput, ChangedElsewhere, faults_of
from forescale.engine.kit import library
from forescale.engine.kit.kit import Kit, load_kit
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.states.takes import with_takes_of

if TYPE_CHECKING:
    from forescale.engine.bench.bench_entry import BenchSetup

MOST_STEPS = 1000  # to be undone


class State(NamedTuple):
    """One state of the shot with its answer; never changed, only followed by another."""

    shot: Shot
    kit: Kit
    answer: Answer


@dataclass(slots=True)
class Session:
    """The present state, the way to those before and after it, and where it is saved.

    `done` and `undone` hold what each step back or on sets anew. `saved` is what the file holds; `found` tells its
    content, as it was read or written here, from any other. `run` is the key that made the last change, where more
    presses of it are to be undone in one step with it. `bench` is how the bench is set up for readings to come, where
    that was said.
    """

    state: State
    path: Path
    saved: Shot | None
    found: str = ""
    undone: list[dict[str, Any]] = field(default_factory=list)
    done: list[dict[str, Any]] = field(default_factory=list)
    run: str = ""
    bench: "BenchSetup | None" = None

    @property
    def unsaved(self) -> bool:
        """Whether the shot differs from what its file holds."""
        return self.state.shot != self.saved

    @property
    def shipped(self) -> bool:
        """Whether the file is one of the shipped, which are read-only."""
        return resolved(self.path).is_relative_to(library.SHIPPED)

    def propose(self, changes: Mapping[str, Any], *, keeping: Collection[str] = READINGS) -> State:
        """Return the state that changes lead to, the readings of `keeping` kept as they were taken; raises BadInput."""
        if "point" in changes:  # a miss that was read at a point that is gone says nothing any more
            known = {point.name for point in edit.changed(self.state.shot, {**changes, "miss": ()}).point}
            changes = {"miss": tuple(miss for miss in self.state.shot.miss if miss.point in known), **changes}
        shot = edit.changed(self.state.shot, changes)
        assert isinstance(shot, Shot)
        return self.solved(shot.model_copy(update=kept_in(shot, self.state.answer, keeping)))

    def solved(self, shot: Shot) -> State:
        """Return another state of the shot with its answer; raises BadInput where its kit is gone."""
        return solve(shot, self.state.kit if shot.kit == self.state.shot.kit else None)

    def apply(self, changes: Mapping[str, Any], *, keeping: Collection[str] = READINGS, run: str = "") -> None:
        """Make these changes, as one step with those of the same `run`; raises BadInput and changes nothing if not."""
        self.move_to(self.propose(changes, keeping=keeping), run)

    def move_to(self, state: State, run: str = "") -> None:
        """Make `state` the present one, to be undone like any other change."""
        if state.shot == self.state.shot and state.kit == self.state.kit:
            return
        back = differing(self.state.shot, state.shot)
        if run and run == self.run and self.done:
            back |= self.done.pop()
        self.done.append(back)
        del self.done[:-MOST_STEPS]
        self.undone.clear()
        self.state, self.run = state, run

    def undo(self) -> bool:
        """Go one change back; False where there is none."""
        return self._step(self.done, self.undone)

    def redo(self) -> bool:
        """Take one undone change back again; False where there is none."""
        return self._step(self.undone, self.done)

    def _step(self, come: list[dict[str, Any]], gone: list[dict[str, Any]]) -> bool:
        self.run = ""
        shot = self.state.shot  # on to the last that the profiles still serve, solved with them now
        while come:
            shot = shot.model_copy(update=come.pop())
            with suppress(BadInput):
                state = self.solved(shot)
                gone.append(differing(self.state.shot, shot))
                self.state = state
                return True
        return False

    def reload_kit(self) -> None:
        """Solve the shot anew with the profiles as they are now, which is no step to undo; raises BadInput."""
        self.state = solve(self.state.shot, None)

    def save(self, path: Path | None = None) -> None:
        """Write the shot to its file, or to a new one; raises BadInput, ChangedElsewhere for another's change."""
        target = path or self.path
        with alone(target.parent):
            if resolved(target) == resolved(self.path) and self._changed_elsewhere():
                raise ChangedElsewhere(f"{self.path} was changed elsewhere since it was opened here")
            library.save_shot(target, self.state.shot)
            self.path, self.saved, self.found = target, self.state.shot, digest(target)
        self.run = ""

    def _changed_elsewhere(self) -> bool:
        if digest(self.path) in {"", self.found}:
            return False
        with suppress(BadInput):
            return library.load_shot(self.path) != self.saved
        return True

    def keep_mine(self) -> None:
        """Save over another's change, the takes of both kept; raises BadInput, ChangedElsewhere for one more change."""
        found = digest(self.path)
        with suppress(BadInput):
            both = with_takes_of(library.load_shot(self.path), self.state.shot, self.saved)
            self.move_to(solve(both, self.state.kit))
        self.found = found
        self.save()

    def take_theirs(self) -> None:
        """Take what the file holds now as one more change, the takes of both kept and saved; raises BadInput."""
        found, theirs = digest(self.path), library.load_shot(self.path)
        self.move_to(solve(with_takes_of(self.state.shot, theirs, self.saved), None))
        self.saved, self.found = theirs, found
        if self.unsaved:
            self.save()


def solve(shot: Shot, kit: Kit | None) -> State:
    """Return a shot with its answer, its kit from the shelves unless given; raises BadInput."""
    kit = kit or load_kit(shot.kit)
    return State(shot, kit, answer(shot, kit, shot.units))


def open_session(path: Path) -> Session:
    """Return a session on the shot in a file; raises BadInput."""
    found, shot = digest(path), library.load_shot(path)
    return Session(solve(shot, None), path, shot, found)


def differing(shot: Shot, other: Shot) -> dict[str, Any]:
    """Return what makes a shot of another: its tables and rows that differ, by name."""
    return {name: held for name, held in shot if held != getattr(other, name)}


def with_setting(shot: Shot, setting: Setting) -> Shot:
    """Return the shot with everything that a mark keeps set as in `setting`, its name, marks and takes kept."""
    return shot.model_copy(update={name: getattr(setting, name) for name in Setting.model_fields})


def reasons(fault: Exception, of: Path | None = None) -> str:
    """Return a fault as one line for the screen, its fields under their labels; that it is `of` a file goes unsaid."""
    return "; ".join(in_words(one._replace(file="") if one.file == str(of) else one) for one in faults_of(fault))
