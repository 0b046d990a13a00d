"""The answer as a record: every group of numbers for one shot, and the findings on them."""

import dataclasses
from collections.abc import Callable, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.solve import groups
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.picture_groups import ComeBackAnswer, CorrectionAnswer, PictureAnswer
from forescale.engine.solve.timing import TimingAnswer
from forescale.engine.units import UnitSystem

if TYPE_CHECKING:
    from forescale.engine.solve.sun_group import SunAnswer

Pane = Literal["scale", "speed", "focus", "slip"]
Level = Literal["ok", "note", "warn", "stop"]
LEVELS: tuple[Level, ...] = ("stop", "warn", "note", "ok")


@dataclasses.dataclass(frozen=True)
class Finding:
    """One sentence on the shot, its words written when they are first asked for: a search asks for few."""

    pane: Pane
    level: Level
    code: str
    field: str  # where to mend it
    write: Callable[[], tuple[str, str, str]] = dataclasses.field(repr=False, compare=False)

    @cached_property
    def _words(self) -> tuple[str, str, str]:
        return self.write()

    @property
    def text(self) -> str:
        """The whole sentence."""
        return self._words[0]

    @property
    def short(self) -> str:
        """The same in at most 70 characters, where it is long; cut at a clause, its first words make sense alone."""
        return self._words[1]

    @property
    def by_hand(self) -> str:
        """What a person can do that nothing in the file does."""
        return self._words[2]

    def _asdict(self) -> dict[str, str]:
        return {key: getattr(self, key) for key in ("pane", "level", "code", "text", "field", "short", "by_hand")}


class Mend(NamedTuple):
    """A remedy: its sentence, the changes that it stands for, and what it costs."""

    text: str
    set: Mapping[str, str | None] = {}  # path (rows from 1: "bench.2.slide") to what a file holds; None: open, no row
    price: str | None = None


class Answer(NamedTuple):
    """Every number of the job for one shot, and what is to be said of them."""

    setting: Setting
    kit: Kit
    system: UnitSystem
    setup: LensSetup
    scale: groups.ScaleAnswer
    lineup: groups.LineupAnswer
    speed: groups.SpeedAnswer
    focus: groups.FocusAnswer
    light: groups.LightAnswer
    slip: groups.SlipAnswer
    survey: groups.SurveyAnswer
    picture: PictureAnswer | None
    correction: CorrectionAnswer | None
    come_back: ComeBackAnswer | None
    auto: frozenset[str]  # the fields that the program chose because the shot left them open
    stand: groups.StandAnswer | None = None
    sun: "SunAnswer | None" = None
    timing: TimingAnswer | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def stopped(self) -> bool:
        """Whether a finding says that the shot cannot work as set."""
        return any(finding.level == "stop" for finding in self.findings)
