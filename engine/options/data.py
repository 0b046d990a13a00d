"""A search as JSON: each option with its kit, place, trade and the groups of its full answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from forescale.engine.answer.jsonable import jsonable
from forescale.engine.options.option import option_answer, to_mind
from forescale.engine.options.outcome import Outcome
from forescale.engine.options.rank import Ranked
from forescale.engine.options.search import Miss
from forescale.engine.options.to_try import CameraMode, LensAt
from forescale.engine.options.trade import trade

GROUPS = ("scale", "lineup", "speed", "focus", "light")


def options_data(found: Outcome, limit: int | None = None, misses: Sequence[Miss] = ()) -> dict[str, Any]:
    """Return a search as plain JSON values, the first `limit` options with all their numbers: mm, s, degrees, lux."""
    data = {
        "options": [_option(row, found) for row in found.options[:limit]],
        "dropped": [{"code": row.code, "reason": row.reason, "count": row.count} for row in found.dropped],
        "searched": found.searched,
        "working": found.working,
        "verdict": str(found.verdict),
    }
    if misses:
        data["failed"] = [
            {"kit": _kit(miss.in_mode, miss.lens_at), "ratio": miss.ratio, "code": miss.reason} for miss in misses
        ]
    return data


def options_json(found: Outcome, limit: int | None = None, misses: Sequence[Miss] = ()) -> str:
    """Return a search as a JSON text that any strict reader takes."""
    import json

    return json.dumps(options_data(found, limit, misses), indent=2, allow_nan=False) + "\n"


def _option(row: Ranked, found: Outcome) -> dict[str, Any]:
    option, answer = row.option, option_answer(row.option)
    assert found.top is not None  # there is a best one where there is any
    head = {
        "kit": _kit(option.in_mode, option.lens_at),
        "place": {"model_mm": option.model_mm},
        "front": row.front,
        "trade": trade(option, found.top),
        "warnings": [finding.code for finding in to_mind(answer)],
    }
    return head | {name: jsonable(getattr(answer, name)) for name in GROUPS}


def _kit(in_mode: CameraMode, lens_at: LensAt) -> dict[str, Any]:
    return {
        "camera": in_mode.camera.name,
        "mode": in_mode.mode.name,
        "lens": lens_at.lens.name,
        "focal_length_mm": lens_at.focal_mm,
    }
