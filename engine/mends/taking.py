"""Taking a remedy: its changes as an edit of the shot, and the answer to the shot with them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from forescale.engine.answer import answer
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.kit import assemble
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.solve.record import Answer

_ROW = re.compile(r"(\w+)\.(\d+)(?:\.(\w+))?")


def as_changes(setting: Setting, set_to: Mapping[str, str | None]) -> dict[str, Any]:
    """Return a remedy's changes as `edit.changed` takes them, those of a list's rows as the whole list anew."""
    changes: dict[str, Any] = {}
    for path, text in sorted(set_to.items(), key=_place, reverse=True):  # the last row first, lest the rest move up
        row = _ROW.fullmatch(path)
        if row is None:
            changes[path] = text
            continue
        section, place, name = row[1], int(row[2]) - 1, row[3]
        rows = changes.setdefault(section, [edit.opened(held, path) for held in getattr(setting, section)])
        if name is None:
            del rows[place]
        else:
            edit.put(rows[place], name, text)
    return changes


def _place(change: tuple[str, str | None]) -> int:
    row = _ROW.fullmatch(change[0])
    return 0 if row is None else int(row[2])


def taken(of: Answer, set_to: Mapping[str, str | None]) -> Answer | None:
    """Return the answer once a remedy is taken, None where the shot or its kit refuses it."""
    try:
        setting = edit.changed(of.setting, as_changes(of.setting, set_to))
        kit = of.kit
        if setting.kit != of.setting.kit:
            kit = assemble(setting.kit, kit.camera, kit.lens, kit.head)
        return answer(setting, kit, of.system)
    except BadInput:
        return None
