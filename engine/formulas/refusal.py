"""A sum that cannot be done, with what would mend it."""

from __future__ import annotations


class CannotBe(ValueError):
    """Numbers that have no answer: what is `wrong`, and what would be `right`, in words that may stand alone."""

    def __init__(self, wrong: str, right: str = "") -> None:
        self.wrong, self.right = wrong, right
        super().__init__(f"{wrong}; {right}" if right else wrong)
