"""Random shots as their files hold them: sound ones with odd words in them, and ones with a single fault."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, composite
from strategies import shot_changes

from forescale.engine.files.toml_files import read_toml
from forescale.engine.kit.library import SHIPPED

ODD_WORDS = ["壁" * 90, "e\u0301" * 60, "\x1b[31mred", "two\nlines\tand a tab", "a" * 150, "<b>&'\"]]>"]
words = st.text(min_size=1, max_size=60) | st.sampled_from(ODD_WORDS)
lengths = st.sampled_from(["0.01 mm", "3 in", "60 ft", "6.7 m", "99 km"])


@composite
def worded_changes(draw: DrawFn) -> dict[str, Any]:
    """Changes of the plain shot with any words in the title, the notes, the parts, the stock and the takes."""
    more = {"wide": lengths, "deep": lengths, "tall": lengths, "pitch": lengths, "material": words}
    more["density"] = st.just("450 kg/m3")
    parts = st.fixed_dictionaries({"part": words, "real": lengths, "quantity": st.integers(1, 100_000)}, optional=more)
    stock = st.fixed_dictionaries({"item": words, "size": lengths})
    takes = st.fixed_dictionaries({"time": st.just("2026-03-14T09:30:00Z"), "set": words, "note": words})
    return draw(shot_changes()) | {
        "title": draw(words),
        "notes": draw(st.just("") | words),
        "build": draw(st.lists(parts, max_size=3)),
        "stock": draw(st.lists(stock, max_size=2)),
        "take": draw(st.lists(takes, max_size=2)),
        "scale.compare": draw(st.none() | st.sampled_from([8.0, 87.1])),
    }


# What no length, number, angle, time or choice may be, and the fields of each kind.
NO_LENGTHS = ["nan", "inf", "-inf", "-3 ft", "0 mm", "1,500 mm", "12", "10 bananas", "", "ten feet", 12, 3.5, True, []]
NO_NUMBERS = [float("nan"), float("inf"), float("-inf"), -1, 0, "fast", True, [], {}, "nan", "24 fps", 1e300]
NO_ANGLES = ["nan", "inf", "-400 deg", "400 deg", 15, "15", "15 ft", True, []]
NO_TIMES = ["nan", "inf", "-6 s", "0 s", 6, "6", "6 ft", True, []]
NO_CHOICES = ["sideways", "", 1, True, []]
FAULTS: dict[str, list[Any]] = {
    "place.model": NO_LENGTHS,
    "place.model_near": NO_LENGTHS,
    "place.background": [value for value in NO_LENGTHS if value != "inf"],
    "action.fps": NO_NUMBERS,
    "action.playback_fps": NO_NUMBERS,
    "action.heft": NO_NUMBERS,
    "light.iso": NO_NUMBERS,
    "light.mains": NO_NUMBERS,
    "light.available": ["nan", "inf", "-5 lx", "20000", 20000, "5 ft", True],
    "action.screen_time": NO_TIMES,
    "move.screen_time": NO_TIMES,
    "action.shutter": NO_ANGLES,
    "move.sweep": NO_ANGLES,
    "action.kind": NO_CHOICES,
    "move.axis": NO_CHOICES,
    "units": NO_CHOICES,
    "move.slide": ["nan", "inf", "130 mm", "-1 mm", 63, "63", True],
    "scale.ratio": ["nan", "inf", "24:1", "1:0", 0, -24, 0.5, float("nan"), "1:20000", True, []],
    "focus.stop": ["nan", "f/0", "f/-8", "T", "f/1000", True, []],
    "focus.sharpness": ["sharp", "nan px", "-1 px", "diagonal/0", "diagonal/inf", 2, True],
    "kit.camera": ["demo-cine", "", "../../x", 5, True, []],
    "kit.mode": ["2K center crop", "", 5],
    "kit.lens": ["demo-prim-35", "", 5],
    "kit.head": ["demo-slide", "", 5],
    "kit.focal_length": ["50 mm", "nan", "-35 mm", 35],
    "schema": [0, 2, "1", 1.5],
    "title": ["", 5, True, []],
    "place": [5, "far", [], True],
    "build": [5, "stack", {}],
}


@composite
def faulty_shots(draw: DrawFn) -> tuple[dict[str, Any], str]:
    """What a shot file holds with one field wrong, and the field's path."""
    data = read_toml(SHIPPED / "shots" / "kiln-stack.toml")
    path = draw(st.sampled_from(sorted(FAULTS)))
    value = draw(st.sampled_from(FAULTS[path]))
    *sections, key = path.split(".")
    inner = data
    for section in sections:
        inner = inner.setdefault(section, {})
    inner[key] = deepcopy(value)
    return data, path
