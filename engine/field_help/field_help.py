"""What the help on one field of a shot says."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FieldHelp:
    """Help on one field of a shot.

    `label` is what the crew calls it, 13 characters at most; `what` it is, how it `enters` the answer, how to
    `measure` or find it on set; `leads_to` are the keys of the numbers that it goes into first.
    """

    label: str
    what: str
    enters: str
    measure: str
    leads_to: tuple[str, ...]
