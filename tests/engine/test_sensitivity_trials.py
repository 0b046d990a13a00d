"""How far off a value may be, over generated shots: each edge turns where it says, contrast counted, none is hidden."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from cases import kit, shot
from hypothesis import HealthCheck, given, reject, settings
from scipy.optimize import minimize_scalar
from strategies import kits, shot_changes

from forescale.engine.answer import answer
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import lineup
from forescale.engine.kit.kit import Kit
from forescale.engine.margins.sensitivity import (
    GROWTH,
    HALVINGS,
    LEAST_MM,
    STOP_ERROR,
    STOP_STRIDE,
    Sensitivity,
    as_it_stands,
    sensitivity,
)
from forescale.engine.shot.records import Setting

Turned = set[tuple[str, str, bool]]
KNOWN_TO = GROWTH ** (1 / 2**HALVINGS) - 1
LOOKED = 12  # places between here and as far as it is tried


def grave(setting: Any, with_kit: Kit) -> Turned | None:
    """What is amiss, by level, code and the side to which size, zone, stop and slip are wrong; None for no shot."""
    try:
        found = answer(setting, with_kit, setting.units)
    except BadInput:
        return None
    zone, slip = found.focus, found.slip.largest_slip_px or 0.0
    sides = {
        "size-mismatch": found.lineup.size_error > 1,
        "zone-short": zone.near_mm > zone.near_needed_mm,
        "slip-over": slip > 0,
    }
    amiss = (one for one in found.findings if one.level in {"warn", "stop"})
    return {(one.level, one.code, sides.get(one.code, False)) for one in amiss}


def moved(stands: Setting, row: Sensitivity, off: float) -> Setting:
    """The shot with one value so far off."""
    section, _, name = row.path.partition(".")
    record = getattr(stands, section)
    held = getattr(record, name)
    value = replace(held, value=held.value * 2 ** (off / 2)) if row.unit == "stops" else held + off
    return stands.model_copy(update={section: record.model_copy(update={name: value})})


IN_ORDER = ("model_near", "model", "background", "background_far")  # no tape passes the next on its right side


def reach(stands: Setting, row: Sensitivity, sign: int) -> float:
    """How far a value is tried: to its neighbour, a tenth or twice of itself, or as many stops as there may be."""
    if row.unit == "stops":
        return 8.0
    free, name = 0.9 * row.value if sign < 0 else row.value, row.path.removeprefix("place.")
    if name not in IN_ORDER:
        return free
    here = IN_ORDER.index(name)
    others = (getattr(stands.place, other) for other in (IN_ORDER[here + 1 :] if sign > 0 else IN_ORDER[:here]))
    room = (sign * (one - row.value) for one in others if one is not None)
    return min([free, *(one for one in room if one >= 0)])


def edges(changes: dict[str, Any], parts: dict[str, Any]) -> Iterator[tuple[Setting, Kit, Sensitivity, int]]:
    """Every row of a shot either way, with the shot as it will stand on the day, the largest part alone."""
    try:
        setting = shot(changes | ({} if parts["head"] is None else {"kit.head": "plain-head"}))
        with_kit = kit(setting, **parts)
        rows = sensitivity(setting, with_kit, setting.units)
        stands = as_it_stands(answer(setting, with_kit, setting.units))
    except BadInput:
        reject()
    stands = stands.model_copy(update={"bench": (), "stock": ()})
    for row in rows:
        if row.unit != "deg" and row.path != "move.slide":
            yield from ((stands, with_kit, row, sign) for sign in (-1, 1))


def usual_error(stands: Setting, row: Sensitivity) -> float:
    """What a person is usually off by: the tape, or a sixth of a stop."""
    if row.unit == "stops":
        return STOP_ERROR
    return max(lineup.tape_error_mm(row.value, stands.limits.tape_error), LEAST_MM)


def least_missed(stands: Setting, with_kit: Kit, row: Sensitivity, sign: int) -> list[float]:
    """Where the points miss least as far as a value is tried: they may meet for less than any step, there alone."""

    def worst(off: float) -> float:
        try:
            picture = answer(moved(stands, row, sign * float(off)), with_kit, "metric", with_contrast=False).picture
        except BadInput:
            return 1e9 + off
        assert picture is not None
        seen = ((one.miss_across_px, one.miss_up_px) for one in picture.points)
        return max((1e9 + off if x is None or y is None else math.hypot(x, y) for x, y in seen), default=0.0)

    if not stands.point or row.path not in {"place.model", "place.background", "place.seems_at"}:
        return []
    far = reach(stands, row, sign)
    return [float(minimize_scalar(worst, bounds=(0.0, far), method="bounded", options={"xatol": 1e-9 * far}).x)]


def check(changes: dict[str, Any], parts: dict[str, Any]) -> None:
    for stands, with_kit, row, sign in edges(changes, parts):
        edge, as_set = row.less if sign < 0 else row.more, grave(stands, with_kit)
        assert as_set is not None  # what the program chose may be set
        met = least_missed(stands, with_kit, row, sign)
        for off in met:
            if edge is None or off < 0.999 * edge.off:
                after = grave(moved(stands, row, sign * off), with_kit)
                assert after == as_set or (edge is None and after is None), (row.path, sign, off)
        if edge is None:
            far = reach(stands, row, sign)
            for step in range(1, LOOKED + 1):
                after = grave(moved(stands, row, sign * far * 0.999 * step / LOOKED), with_kit)
                assert after is None or after == as_set, (row.path, sign, step)
            continue
        for share in (0.3, 0.7, 0.999):
            assert grave(moved(stands, row, sign * edge.off * share), with_kit) == as_set, (row.path, sign, share)
        error = usual_error(stands, row)
        past = edge.off * (1 + 1.01 * KNOWN_TO) + 1.01 * error / 2**HALVINGS * (edge.off <= error)
        past = min(past, edge.off + STOP_STRIDE) if row.unit == "stops" else past
        told = (edge.finding.level, edge.finding.code)  # what comes may go again before so far
        steps = [edge.off + (past - edge.off) * step / LOOKED for step in range(1, LOOKED)]
        turned = [past, *(off for off in met if edge.off <= off <= past)]
        there = [grave(moved(stands, row, sign * off), with_kit) for off in (*turned, *steps)]
        assert any(one != as_set for one in there[: len(turned)]), (row.path, sign)
        assert not edge.comes or any(one is None or told in {said[:2] for said in one} for one in there), row.path


@given(shot_changes(), kits())
@settings(max_examples=3)
def test_each_edge_of_any_shot_turns_where_it_says(changes: dict[str, Any], parts: dict[str, Any]) -> None:
    check(changes, parts)


@pytest.mark.long
@pytest.mark.parametrize("_part", range(20))
@given(shot_changes(), kits())
@settings(max_examples=50, derandomize=False, suppress_health_check=[HealthCheck.too_slow])
def test_each_edge_of_a_thousand_shots_turns_where_it_says(
    _part: int, changes: dict[str, Any], parts: dict[str, Any]
) -> None:
    check(changes, parts)
