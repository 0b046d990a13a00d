"""Files of thousands of rows: what is worked out of them grows with the rows, not with their square."""

from __future__ import annotations

import math
import random
from datetime import datetime, timedelta

import pytest

from forescale.engine.answer import answer
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas.bench_fit import Reading, Seen, bracket
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.kit.profiles import Camera
from forescale.engine.shot.records import Shot, Take
from forescale.engine.shot.rows import MOST_READINGS
from forescale.engine.states.takes import merged, numbered
from tests.faults.mutations import within

MANY = 4_000
START = datetime(2026, 5, 1)
SIGNS: dict[int, Seen] = {-1: "lags", 0: "locked", 1: "outruns"}


def kiln(**more: object) -> Shot:
    dump = library.load_shot(library.SHIPPED / "shots" / f"{library.DEMO}.toml").dump()
    return Shot.read(dump | more)


def readings_px(count: int) -> list[dict[str, object]]:
    return [{"slide": f"{20 + 100 * n / count:.4f} mm", "slip_px": -30 + 60 * n / count} for n in range(count)]


def readings_by_eye(count: int) -> list[dict[str, object]]:
    return [
        {"slide": f"{20 + 100 * n / count:.4f} mm", "seen": "lags" if n < count / 2 else "outruns"}
        for n in range(count)
    ]


@pytest.mark.parametrize("rows", [readings_px, readings_by_eye])
def test_a_bench_of_a_thousand_readings_is_answered(rows) -> None:
    with within(4):
        shot = kiln(bench=rows(MOST_READINGS))
        assert answer(shot, load_kit(shot.kit), "metric").slip.bench.readings in {MOST_READINGS, 0}
    with pytest.raises(BadInput, match="more than 1000"):
        kiln(bench=rows(MOST_READINGS + 1))


def test_thousands_of_modes_and_takes_are_read() -> None:
    dump = library.profile_dump(library.camera("demo-cine-35"))
    modes = [dump["mode"][0] | {"name": f"mode {n}"} for n in range(MANY)]
    takes = tuple(Take(number=n, time=START + timedelta(seconds=n), set="x") for n in range(1, MANY))
    with within(4):
        assert len(Camera.model_validate(dump | {"mode": modes}).mode) == MANY
        assert merged(takes[: MANY // 2], takes[MANY // 3 :], takes[:100]) == takes
        assert len(list(numbered(takes))) == len(takes)


def test_modes_of_one_name_are_told_among_thousands() -> None:
    dump = library.profile_dump(library.camera("demo-cine-35"))
    modes = [dump["mode"][0] | {"name": f"mode {n % (MANY - 1)}"} for n in range(MANY)]
    with within(4), pytest.raises(ValueError, match='two modes are called "mode 0"'):
        Camera.model_validate(dump | {"mode": modes})


def test_thousands_of_faults_are_told_as_twenty_and_a_count() -> None:
    with within(4), pytest.raises(BadInput) as refusal:
        kiln(build=[{"part": "x", "real": n, "width": n} for n in range(MANY)])
    assert len(refusal.value.lines) == 21
    assert refusal.value.lines[-1].startswith("and ")
    assert refusal.value.lines[-1].endswith(" more faults")


def contradicting_by_trying(readings: list[Reading]) -> set[int]:
    """The fewest readings without which the rest are in order, by trying every order: what the quick way must find."""
    signs = {"lags": -1, "locked": 0, "outruns": 1}
    edges = [*sorted({reading.slide_mm for reading in readings}), math.inf]
    wrong_sets = [
        {
            number
            for number, one in enumerate(readings)
            if signs[one.seen] != (one.slide_mm >= outruns) - (one.slide_mm < locked)
        }
        for first, locked in enumerate(edges)
        for outruns in edges[first:]
    ]
    fewest = min(map(len, wrong_sets))
    return set().union(*(wrong for wrong in wrong_sets if len(wrong) == fewest))


def test_readings_by_eye_that_contradict_are_those_every_order_finds() -> None:
    chance = random.Random(4)
    for _ in range(1500):
        readings = [
            Reading(5.0 * chance.randint(0, 6), seen=SIGNS[chance.choice([-1, 0, 1])])
            for _ in range(chance.randint(1, 9))
        ]
        assert set(bracket(readings).contradicting) == contradicting_by_trying(readings), readings
