"""How far one natural step of a field goes, up or down; a large step is what Shift takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

LARGE = 3  # small steps in a large one, where no other size is given


@dataclass(frozen=True, slots=True)
class By:
    """A step of this much, and a large one, in the unit that the value is held in."""

    small: float
    large: float


@dataclass(frozen=True, slots=True)
class Rungs:
    """From one of these values to the next; a large step goes on by three."""

    values: tuple[float, ...]


# An inch or 5 cm on a tape, ten times as much far off; the mode's next rate; the lens's next mark; a third of a stop of
# light; a little more or less of what sharp is said in.
Step = By | Rungs | Literal["tape", "mode's rates", "lens's marks", "third of a stop", "sharpness"]
