"""Every number of the answer as JSON, and the build list as CSV: for scripts and for the shop."""

import csv
import json
from collections.abc import Iterator
from io import StringIO
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.answer.jsonable import jsonable
from forescale.engine.findings.line_up import come_back_says, correction_says
from forescale.engine.margins.sensitivity import sensitivity
from forescale.engine.mends import mends
from forescale.engine.sheet.cells import clean
from forescale.engine.shot.records import Shot
from forescale.engine.solve.built import Cutting, cutting, running
from forescale.engine.solve.focus_zone import stop_table
from forescale.engine.units import length_text

GROUPS = (
    *("scale", "lineup", "speed", "focus", "light", "slip", "survey", "picture"),
    *("correction", "come_back", "stand", "sun", "timing"),
)
BEGINS_FORMULA = ("=", "+", "-", "@")
BUILD_HEADS = (
    *("part", "quantity", "real", "cut", "real_mm", "model_mm", "cut_error_real_mm"),
    *("kind", "second_ratio", "second_cut", "second_error_real_mm", "material", "wide_mm", "deep_mm", "tall_mm"),
    *("pitch_mm", "pitch_error_mm", "weight_kg", "area_m2"),
)


def sheet_data(shot: Shot, answer: Answer) -> dict[str, Any]:
    """Return the answer as plain JSON values: mm, s, degrees, lux; null is unknown or, where said so, infinite.

    `focus.stops` is every stop of the lens; `scale.cutting` and `scale.running` are what the bench cuts and sets out;
    `sensitivity` is how far each value may be off before a finding turns;
    `findings[].mends` is what would mend each; `shot` is what was set, as a file words it.
    """
    kit = {name: getattr(answer.kit, name).name for name in ("camera", "mode", "lens")}
    kit |= {"focal_length_mm": answer.kit.focal_mm, "head": answer.kit.head and answer.kit.head.name}
    head = {"title": shot.title, "units": answer.system, "kit": kit}
    groups = {name: jsonable(found) for name in GROUPS if (found := getattr(answer, name)) is not None}
    groups["focus"]["stops"] = jsonable(stop_table(answer).rows)
    groups["scale"]["cutting"] = jsonable(cutting(answer))
    groups["scale"]["running"] = [jsonable(one) for one in running(answer)]
    if answer.correction is not None:
        groups["correction"]["says"] = list(correction_says(answer, answer.correction))
    if answer.come_back is not None:
        groups["come_back"]["says"] = list(come_back_says(answer, answer.come_back))
    margins = {"sensitivity": jsonable(sensitivity(answer.setting, answer.kit, answer.system))}
    found = [jsonable(one) | {"mends": jsonable(mends(answer, one))} for one in answer.findings]
    for finding in found:
        del finding["by_hand"]  # among what mends it
    said = {"auto": jsonable(answer.auto), "findings": found}
    setting = {key: value for key, value in shot.dump().items() if key not in {"mark", "state", "take"}}
    return head | groups | margins | said | {"shot": jsonable(setting)}


def sheet_json(shot: Shot, answer: Answer) -> str:
    """Return the answer as a JSON text that any strict reader takes."""
    return json.dumps(sheet_data(shot, answer), indent=2, allow_nan=False) + "\n"


def build_csv(shot: Shot, answer: Answer) -> str:  # noqa: ARG001 - called as every other form is
    """Return the build list as CSV, lengths in mm with the shop's cut as text beside them.

    One part a line, then one stock at hand, then one material in all; `kind` tells them apart. A text that a
    spreadsheet would take for a formula begins with an apostrophe.
    """
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(BUILD_HEADS)
    for row in _build_rows(answer, cutting(answer)):
        row["second_ratio"] = answer.scale.compare_ratio if row["kind"] != "material" else None
        if row.get("real_mm") is not None:
            row["real"] = length_text(row["real_mm"], answer.system)
        writer.writerow(map(_cell, (row.get(head) for head in BUILD_HEADS)))
    return text.getvalue()


def _cell(value: Any) -> Any:
    """Return a value as a cell: an apostrophe before a formula makes it a text (OWASP, "CSV Injection")."""
    if isinstance(value, float):
        return round(value, 6) + 0.0
    if not isinstance(value, str):
        return value
    text = clean(value)
    return f"'{text}" if text.startswith(BEGINS_FORMULA) else text


def _build_rows(answer: Answer, cut: Cutting) -> Iterator[dict[str, Any]]:
    """Yield the parts, then each stock, its own size as the model's and what it reads as, then the materials."""
    for item, piece in zip(answer.scale.build, cut.pieces, strict=True):
        known = {"part": item.part, "quantity": item.quantity, "cut": item.shop, "real_mm": item.real_mm}
        known |= {"model_mm": item.model_mm, "cut_error_real_mm": item.shop_error_real_mm, "kind": "part"}
        known |= {"second_cut": item.compare_shop, "second_error_real_mm": item.compare_shop_error_real_mm}
        yield known | {head: getattr(piece, head) for head in BUILD_HEADS if hasattr(piece, head)}
    for stock in answer.scale.stock:
        own = length_text(stock.size_mm, answer.system, fraction=64)
        second = stock.compare_reads_as_mm
        known = {"part": stock.item, "kind": "stock", "cut": own, "real_mm": stock.reads_as_mm}
        told = None if second is None else length_text(second, answer.system)
        yield known | {"model_mm": stock.size_mm, "second_cut": told}
    for one in cut.totals:
        known = {"part": one.material, "material": one.material, "quantity": one.pieces, "kind": "material"}
        yield known | {"model_mm": one.length_mm, "area_m2": one.area_m2, "weight_kg": one.weight_kg}
