"""A shot: everything that a shot file says, validated and frozen."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from forescale.engine.fields.kinds import Record
from forescale.engine.files.faults import Unfit, read_model
from forescale.engine.shot.day_records import Cue, Lamp, Sun
from forescale.engine.shot.pictured import OutlineRow, PieceRow, PointRow, check_pictured
from forescale.engine.shot.readings import MOST_READINGS, BenchRow, MissRow, SurveyRow, WitnessRow, check_readings
from forescale.engine.shot.sections import (
    Action,
    Focus,
    KitChoice,
    LightSet,
    Limits,
    Move,
    Part,
    Place,
    ScaleChoice,
    Stand,
    Stock,
)
from forescale.engine.units import UnitSystem


class Setting(Record):
    """All that is set for a shot: what a mark keeps.

    The defaults are made without validation, which would build every section's validator on import.
    """

    kit: KitChoice
    scale: ScaleChoice = ScaleChoice.model_construct()
    build: tuple[Part, ...] = ()
    stock: tuple[Stock, ...] = ()
    action: Action = Action.model_construct()
    place: Place
    focus: Focus = Focus.model_construct()
    light: LightSet = LightSet.model_construct()
    move: Move = Move.model_construct()
    point: tuple[PointRow, ...] = ()
    outline: tuple[OutlineRow, ...] = ()
    piece: tuple[PieceRow, ...] = ()
    miss: tuple[MissRow, ...] = ()
    witness: tuple[WitnessRow, ...] = ()
    bench: Annotated[tuple[BenchRow, ...], Field(max_length=MOST_READINGS)] = ()
    survey: tuple[SurveyRow, ...] = ()
    limits: Limits = Limits.model_construct()
    stand: Stand = Stand.model_construct()
    sun: Sun = Sun.model_construct()
    lamp: tuple[Lamp, ...] = ()
    cue: tuple[Cue, ...] = ()

    @model_validator(mode="after")
    def _pictured(self) -> Self:
        check_pictured(self.point, self.outline, self.piece, self.place)
        check_readings(self.miss, self.witness, self.point, self.place)
        return self

    @model_validator(mode="before")
    @classmethod
    def _one_survey(cls, data: Any) -> Any:
        """Take a table of one reading, as files of the first version have it, for a list of one."""
        held = data.get("survey") if isinstance(data, Mapping) else None
        return {**data, "survey": [held]} if isinstance(held, Mapping) else data


class Mark(Record):
    """A state of the shot kept under a name, to go back to or to compare with."""

    name: str = Field(min_length=1)
    kept: datetime
    setting: Setting


class StoredState(Mark):
    """What was set for a take, and for every other that was set alike: without parts, bench, survey and limits."""


class Take(Record):
    """One take: when, what was set, whether it was good (None: not judged yet), a note, the weather and the model.

    `state` names the stored state that it was shot in. A number left out follows that of the take before.
    """

    number: Annotated[int, Field(ge=1)] | None = None
    time: datetime
    set: str
    good: bool | None = None
    note: str = ""
    state: str | None = None
    weather: str = ""
    model: str = ""


class Shot(Setting):
    """A shot file."""

    schema_version: Literal[1] = Field(alias="schema")
    title: str = Field(min_length=1)
    notes: str = ""
    units: UnitSystem = "imperial"
    mark: tuple[Mark, ...] = ()
    state: tuple[StoredState, ...] = ()
    take: tuple[Take, ...] = ()

    @model_validator(mode="after")
    def _states_named(self) -> Self:
        known = {state.name for state in self.state}
        for place, take in enumerate(self.take, start=1):
            if take.state is not None and take.state not in known:
                raise Unfit(f'take {place}, state: no stored state is called "{take.state}"')
        return self

    @classmethod
    def read(cls, data: Mapping[str, Any], where: str = "") -> Self:
        """Validate what a file holds; raises BadInput with one line a fault."""
        return read_model(cls, data, where)

    def dump(self) -> dict[str, Any]:
        """Return what a file of this shot holds, lengths as text in the shot's own units."""
        body = self.model_dump(exclude_none=True, exclude_defaults=True, context={"units": self.units})
        return {"schema": self.schema_version, "title": self.title, "units": self.units} | body
