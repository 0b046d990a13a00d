"""What many shots say is as it was: every number, row, sentence, remedy and price, kept in the snapshot beside this.

That something is kept says that it has not changed, not that it is right; for that are the tests by hand and against
what is published. After a wanted change run this file with `--snapshot-update`, and look at the difference.
"""

from __future__ import annotations

from functools import cache

import pytest
from pinned import SURFACES, apart, keyed
from pinned_shots import OF_FINDINGS, PLAIN, SHOTS, WHOLE, Solved
from syrupy.assertion import SnapshotAssertion

# What is longer, told of those shots alone that have most to tell of it.
TALL = "a tall tilt to a point above the frame"
PICTURED = ("kiln-stack", "a pan to the left that climbs", "a track with pieces", "the day, by the sun")
OF_FEW = {
    "margins": (PLAIN, "kiln-stack", "lock-gate", "everything", "a track with pieces"),
    "workings": (
        *(*PICTURED, "everything", "a tilt", "misses read", "witness marks", "lamps on mains"),
        *("a zoom, surveyed in feet", "a bench by the tape"),
    ),
    "drawing": (*PICTURED, PLAIN, "lock-gate", "fire, water and smoke", "a background at infinity", TALL),
}
TOLD = [(name, surface) for name in WHOLE for surface in SURFACES if name in OF_FEW.get(surface, (name,))]


@cache
def solved(name: str) -> Solved:
    return SHOTS[name]()


@cache
def lines(name: str, surface: str) -> dict[str, str]:
    return keyed(SURFACES[surface](*solved(name)))


def own(name: str, surface: str) -> str:
    """What a shot says that the plain one does not."""
    return apart(lines(name, surface), {} if name == PLAIN else lines(PLAIN, surface))


@pytest.mark.parametrize(("name", "surface"), TOLD)
def test_a_shot_says_what_it_said(name: str, surface: str, snapshot: SnapshotAssertion) -> None:
    assert own(name, surface) == snapshot


@pytest.mark.parametrize("name", OF_FINDINGS)
def test_a_finding_is_mended_as_it_was(name: str, snapshot: SnapshotAssertion) -> None:
    """And what else is said there that the plain shot does not say, by its name."""
    code, there, plain = name.partition(" ")[2], lines(name, "findings"), lines(PLAIN, "findings")
    told = [f"{key}: {line}" for key, line in there.items() if f" {code} " in key]
    beside = [key for key in there if key not in plain and f" {code} " not in key and ", mend" not in key]
    assert "\n".join([*told, f"beside it: {', '.join(beside)}"]) == snapshot
