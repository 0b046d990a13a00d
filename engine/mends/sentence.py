"""The sentence of a remedy, made from the changes that it stands for."""

from __future__ import annotations

import re
from collections.abc import Mapping

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Answer
from forescale.engine.units import filter_text, parse_length

_TO = {
    "scale.ratio": "build at {}",
    "scale.rounding": "cut to {}",
    "place.model": "stand it at {}",
    "place.model_near": "its nearest part at {}",
    "place.background": "find a background at {}",
    "place.seems_at": "let it stand for what is {} off",
    "place.aim": "aim it {}",
    "kit.focal_length": "zoom to {}",
    "move.start": "begin {} before the line-up",
    "place.background_far": "hold sharp to {} only",
    "focus.distance": "focus at {}",
    "focus.stop": "set {}",
    "action.fps": "set {} fps",
    "action.shutter": "set a shutter of {}",
    "action.screen_time": "show {} of it",
    "light.iso": "set ISO {}",
    "move.screen_time": "let the move take {} on the screen",
    "move.sweep": "turn {}",
    "move.slide": "set the slide at {}",
    "move.travel": "carry it {}",
    "sun.time": "shoot at {}",
    "sun.date": "shoot on {}",
    "kit.mode": "take the mode {}",
    "stand.ballast": "hold it by {} of ballast in all",
    "lamp.stands": "stand {name} at {}",
    "piece.stands": "stand {name} at {}",
    "piece.ratio": "build {name} at {}",
    "piece.seems_at": "let {name} stand for what is {} off",
}
_OPEN = {
    "place.model": "let it stand where it matches",
    "place.model_near": "tape its nearest part again where it then stands",
    "place.background_far": "let the far end go",
    "place.seems_at": "let it stand for the background",
    "focus.distance": "let the focus be split evenly",
    "focus.stop": "let the stop follow",
    "action.fps": "let the rate follow",
    "light.iso": "leave ISO at the mode's base",
    "piece.stands": "let {name} stand where it matches",
}
_ROW = re.compile(r"(\w+)\.(\d+)(\.\w+)?")


def sentence(of: Answer, set_to: Mapping[str, str | None]) -> str:
    """Return a remedy's changes as one would say them: "focus at 17 ft 6 in and set f/14"."""
    parts = [_part(of, path, text) for path, text in set_to.items()]
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _part(of: Answer, path: str, text: str | None) -> str:
    name, row = "", _ROW.fullmatch(path)
    if row is not None:
        if row[3] is None:
            return f"take reading {row[2]} out"
        path, name = f"{row[1]}{row[3]}", getattr(getattr(of.setting, row[1])[int(row[2]) - 1], "name", "")
    if text is None:
        return _OPEN[path].format(name=name) if path in _OPEN else f"leave out {FIELD_HELP[path].label.lower()}"
    if path == "light.nd":
        return "take the ND out (0)" if text == "0" else f"fit a filter of {filter_text(float(text))}"
    if path == "move.slide" and (stands := of.setting.move.slide) is not None:
        by = parse_length(text) - stands
        return f"slide the camera {'forward' if by > 0 else 'back'} {Words(of).on_slide.mark(abs(by))}, to {text}"
    if path == "action.shutter":
        return f"set a shutter of {text.removesuffix(' deg')}°"
    if path == "move.sweep":
        return f"turn {text.removesuffix(' deg')}° at most"
    return _TO.get(path, f"set {FIELD_HELP[path].label.lower()} to {{}}").format(text, name=name)
