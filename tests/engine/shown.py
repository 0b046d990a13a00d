"""A finding with the shot that shows it, what it says there, and the good shot beside it.

The numbers in the tables are worked by hand from the plain shot (see `cases.py`): model 4 m and background 64 m from
the pupil, so focus at 2·4·64/68 = 7.529 m, image at 25.083 mm, half the frame's angle 21.74°; f/4.93 needed, f/5 (5.04)
set; 96 fps at 1:16.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from cases import solve

from forescale.engine.answer import Answer

Table = dict[str, Any]
PAN: Table = {"move.axis": "pan", "move.sweep": "10 deg", "move.screen_time": "10 s"}
TILT: Table = PAN | {"move.axis": "tilt", "move.sweep": "30 deg"}
HEAD: Table = {"head": {}}


def slips(*rows: tuple[int, float]) -> list[Table]:
    return [{"slide": f"{slide} mm", "slip_px": px} for slide, px in rows]


def seen(*rows: tuple[int, str]) -> list[Table]:
    return [{"slide": f"{slide} mm", "seen": what} for slide, what in rows]


@dataclass(frozen=True)
class Shown:
    """A shot that shows a finding, what the sentence says there, and a change after which it is gone."""

    code: str
    level: str
    changes: Table
    says: tuple[str, ...]
    good: Table
    kit: Table = field(default_factory=dict)
    good_kit: Table | None = None

    def answer(self) -> Answer:
        return solve(self.changes, **self.kit)

    def neighbour(self) -> Answer:
        return solve(self.changes | self.good, **(self.kit if self.good_kit is None else self.good_kit))
