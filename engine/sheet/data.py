"""Every number of the answer as JSON, and the build list as CSV: for scripts and for the shop."""

from __future__ import annotations

from typing import Any

from forescale.engine.answer import Answer, Finding
from forescale.engine.answer.jsonable import jsonable
from forescale.engine.findings.line_up_words import come_back_says, correction_says
from forescale.engine.margins.sensitivity import sensitivity
from forescale.engine.mends import mends
from forescale.engine.shot.records import Shot
from forescale.engine.solve.stop_table import stop_table
from forescale.engine.units import length_text

GROUPS = ("scale", "lineup", "speed", "focus", "light", "slip", "survey", "picture", "correction", "come_back")
BUILD_HEADS = ("part", "quantity", "real", "cut", "real_mm", "model_mm", "cut_error_real_mm")


def sheet_data(shot: Shot, answer: Answer) -> dict[str, Any]:
    """Return the answer as plain JSON values: mm, s, degrees, lux; null is unknown or, where said so, infinite.

    `focus.stops` is every stop of the lens; `sensitivity` is how far each value may be off before a finding turns;
    `findings[].mends` is what would mend each; `shot` is what was set, as a file words it.
    """
    head = {"title": shot.title, "units": answer.system, "kit": _kit(answer)}
    groups = {name: jsonable(found) for name in GROUPS if (found := getattr(answer, name)) is not None}
    groups["focus"]["stops"] = jsonable(stop_table(answer).rows)
    if answer.correction is not None:
        groups["correction"]["says"] = list(correction_says(answer, answer.correction))
    if answer.come_back is not None:
        groups["come_back"]["says"] = list(come_back_says(answer, answer.come_back))
    margins = {"sensitivity": jsonable(sensitivity(answer.setting, answer.kit, answer.system))}
    said = {"auto": jsonable(answer.auto), "findings": [_finding(answer, one) for one in answer.findings]}
    setting = {key: value for key, value in shot.dump().items() if key not in {"mark", "state", "take"}}
    return head | groups | margins | said | {"shot": jsonable(setting)}


def _finding(answer: Answer, finding: Finding) -> dict[str, Any]:
    return {**jsonable(finding), "mends": jsonable(mends(answer, finding))}


def _kit(answer: Answer) -> dict[str, Any]:
    kit = answer.kit
    return {
        "camera": kit.camera.name,
        "mode": kit.mode.name,
        "lens": kit.lens.name,
        "focal_length_mm": kit.focal_mm,
        "head": None if kit.head is None else kit.head.name,
    }


def sheet_json(shot: Shot, answer: Answer) -> str:
    """Return the answer as a JSON text that any strict reader takes."""
    import json

    return json.dumps(sheet_data(shot, answer), indent=2, allow_nan=False) + "\n"


def build_csv(shot: Shot, answer: Answer) -> str:  # noqa: ARG001 - called as every other form is
    """Return the build list as CSV, one part a line, lengths in mm with the shop's cut as text beside them."""
    import csv
    from io import StringIO

    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(BUILD_HEADS)
    for item in answer.scale.build:
        texts = (item.part, item.quantity, length_text(item.real_mm, answer.system), item.shop)
        exact = (item.real_mm, item.model_mm, item.shop_error_real_mm)
        writer.writerow((*texts, *(round(mm, 6) + 0.0 for mm in exact)))
    return text.getvalue()
