"""What there is to know of one field of a shot, beside its kind and range, which stand in its record."""

from __future__ import annotations

from dataclasses import dataclass

from forescale.engine.fields.steps import Step


@dataclass(frozen=True, slots=True)
class FieldHelp:
    """One field of a shot: its label, its help, its natural step, and what stands in for it where it is left open.

    `label` is what the crew calls it, 13 characters at most; `what` it is, how it `enters` the answer, how to
    `measure` or find it on set; `leads_to` are the keys of the numbers that it goes into first. `step` is one natural
    step of it, and a value that nobody has set begins at `first`. Left open, it is what the program chose: the number
    of the answer at the key `chosen`; or, where nothing is chosen but another value holds, that at `follows`.
    """

    label: str
    what: str
    enters: str
    measure: str
    leads_to: tuple[str, ...]
    step: Step = "tape"
    first: float | None = None
    chosen: str = ""
    follows: str = ""
