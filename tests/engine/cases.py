"""A plain shot and a kit of round numbers, and a way to change them: where the tests of the answer start.

The frame is 20 mm by 10 mm with pixels of 0.01 mm, the lens 25 mm with its pupil 30 mm ahead of the sensor
whatever the focus, so that 4030 mm on the tape is 4 m from the pupil. As it stands nothing is amiss with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

from forescale.engine.answer import Answer, answer
from forescale.engine.kit.kit import Kit, assemble
from forescale.engine.kit.profiles import Camera, Head, Lens
from forescale.engine.mends import joined
from forescale.engine.shot.records import Setting, Shot

Table = dict[str, Any]
LEVEL: Table = {
    "place.aim": None,
    "point": None,
    "outline": None,
}  # a demo seen by a level lens, nothing in its picture

CAMERA: Table = {
    "name": "plain-camera",
    "width": "20 mm",
    "height": "10 mm",
    "width_px": 2000,
    "height_px": 1000,
    "fps": [24, 25, 48, 96, 120],
    "iso_base": 800,
    "iso_max": 3200,
}
LENS: Table = {
    "name": "plain-lens",
    "focal_length": "25 mm",
    "marks": "f",
    "widest": "f/2",
    "smallest": "f/22",
    "close_focus": "300 mm",
    "pupil": [
        {"focal_length": "25 mm", "focus": "inf", "ahead": "30 mm"},
        {"focal_length": "25 mm", "focus": "300 mm", "ahead": "30 mm"},
    ],
}
HEAD: Table = {
    "name": "plain-head",
    "slide_min": "0 mm",
    "slide_max": "120 mm",
    "slide_step": "1 mm",
    "sensor_at_zero": "-90 mm",
}
SHOT: Table = {
    "schema": 1,
    "title": "A plain shot",
    "units": "metric",
    "kit": {"camera": "plain-camera", "mode": "plain-mode", "lens": "plain-lens"},
    "scale": {"ratio": "1:16"},
    "build": [{"part": "wall", "real": "200 m"}],
    "action": {"kind": "falling"},
    "place": {"model": "4030 mm", "background": "64030 mm"},
}


def _with(table: Mapping[str, Any], changes: Mapping[str, Any]) -> Table:
    """Return a copy of a table with the values at dotted paths changed, None taking one away."""
    changed = deepcopy(dict(table))
    for path, value in changes.items():
        *sections, key = path.split(".")
        inner = changed
        for section in sections:
            inner = inner.setdefault(section, {})
        inner.pop(key, None)
        if value is not None:
            inner[key] = value
    return changed


def kit(
    setting: Setting,
    mode: Mapping[str, Any] | None = None,
    lens: Mapping[str, Any] | None = None,
    head: Mapping[str, Any] | None = None,
) -> Kit:
    """Return the plain kit with these changes; the head is there only where changes of it are given."""
    table = _with(CAMERA, mode or {})
    name = table.pop("name")
    camera = Camera.model_validate({"schema": 1, "name": name, "mode": [table | {"name": "plain-mode"}]})
    glass = Lens.model_validate({"schema": 1} | _with(LENS, lens or {}))
    tripod = None if head is None else Head.model_validate({"schema": 1} | _with(HEAD, head))
    return assemble(setting.kit, camera, glass, tripod)


def shot(changes: Mapping[str, Any] | None = None) -> Shot:
    """Return the plain shot with what a file would hold at these paths."""
    return Shot.read(_with(SHOT, changes or {}))


def solve(
    changes: Mapping[str, Any] | None = None,
    *,
    mode: Mapping[str, Any] | None = None,
    lens: Mapping[str, Any] | None = None,
    head: Mapping[str, Any] | None = None,
) -> Answer:
    """Return the answer to the plain shot with these changes to it and to its kit."""
    setting = shot(changes)
    return answer(setting, kit(setting, mode, lens, head), setting.units)


def again(found: Answer, setting: Setting, other: Kit | None = None) -> Answer:
    """Return the answer to another setting with the same kit, or another."""
    return answer(setting, other or found.kit, found.system)


def codes(found: Answer) -> set[str]:
    """Return the codes of an answer's findings."""
    return {finding.code for finding in found.findings}


def text_of(found: Answer, code: str) -> str:
    """Return the one sentence that an answer has under a code, with its first remedy."""
    (text,) = [joined(found, finding) for finding in found.findings if finding.code == code]
    return text


def fields_of(record: Any) -> tuple[str, ...]:
    """Return the names of a record's fields, a named tuple's or a dataclass's; none of anything else."""
    return getattr(record, "_fields", None) or tuple(getattr(record, "__dataclass_fields__", ()))


def shipped(shelf: str, name: str) -> Path:
    """Return a file of the shipped profiles."""
    return Path(__file__).resolve().parents[2] / "profiles" / shelf / f"{name}.toml"
