"""What a search says, in the app's own words: a field by its label, where a file has its name."""

from __future__ import annotations

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting

MAY_VARY = ("scale.ratio", "place.model", "action.fps", "focus.distance", "focus.stop", "light.iso")


def in_app(path: str) -> str:
    """Return what a field is called: 'the limit "largest part"' for limits.build_max."""
    return f'{"the limit " if path.startswith("limits.") else ""}"{FIELD_HELP[path].label}"'


def set_in(setting: Setting) -> list[str]:
    """Return the fields set in a shot that a search could let vary."""
    return [path for path in MAY_VARY if edit.value_at(setting, path) is not None]


def labels_of(paths: tuple[str, ...] | list[str]) -> str:
    """Return the labels of fields, with commas between."""
    return ", ".join(FIELD_HELP[path].label for path in paths)


def named_among(text: str, held: list[str]) -> tuple[str, ...]:
    """Return the fields that an entry names, by label, "all" or "none"; raises BadInput for one that is not held."""
    rest = text.strip().lower()
    if rest in {"", "none"}:
        return ()
    if rest == "all":
        return tuple(held)
    named = tuple(path for path in held if FIELD_HELP[path].label.lower() in rest)
    for path in named:
        rest = rest.replace(FIELD_HELP[path].label.lower(), "")
    if rest.replace(",", "").split():
        raise BadInput(f'"{rest.strip(" ,")}" is not set in the shot; type all, none, or of {labels_of(held)}')
    return named
