"""Random shots and kits for the tests that hold for all of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from typing import Any, get_args, get_origin

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy
from pydantic import BaseModel

from forescale.engine.fields.kinds import Quantity, Sharpness
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.shot.rows import ShareOf, SurveyRow, VisibilityBy
from forescale.engine.shot.sections import ActionKind, Axis, Fills, Mount, Rounding
from forescale.engine.units import Stop, third_stops

Table = dict[str, Any]
SECTIONS = ("kit", "scale", "action", "place", "focus", "light", "move", "survey", "limits")
GO_WITH_A_MOVE = {"move.start", "move.tilt_sweep", "move.travel"}  # refused alone
CHOICES: dict[str, tuple[str, ...]] = {
    "action.kind": get_args(ActionKind),
    "move.axis": get_args(Axis),
    "place.fills": get_args(Fills),
    "place.mount": get_args(Mount),
    "scale.rounding": get_args(Rounding),
    "survey.share_of": get_args(ShareOf),
    "survey.visibility_by": get_args(VisibilityBy),
}


def paths() -> Iterator[str]:
    """Every field of the sections of a shot that are tables, by its path."""
    for section in SECTIONS:
        kind = SurveyRow if section == "survey" else Setting.model_fields[section].annotation
        assert isinstance(kind, type)
        assert issubclass(kind, BaseModel)
        fields = kind.model_fields.items()
        named = (f"{section}.{name}" for name, field in fields if get_origin(field.annotation) is not tuple)
        yield from (path for path in named if path not in GO_WITH_A_MOVE)


def marked_stops() -> SearchStrategy[Stop]:
    """Stops as marked, and as measured."""
    marks = st.sampled_from([None, "f", "T"])
    marked = st.builds(Stop, st.sampled_from(third_stops(1, 64)), marks, st.just(True))
    return marked | st.builds(Stop, st.floats(0.5, 256), marks, st.just(False)).filter(_is_between_marks)


def _is_between_marks(stop: Stop) -> bool:
    return abs(6 * math.log2(stop.value) - round(6 * math.log2(stop.value))) > 1e-9


def sharpnesses() -> SearchStrategy[Sharpness]:
    return (
        st.builds(Sharpness, st.just("diagonal"), st.floats(100, 20000))
        | st.builds(Sharpness, st.just("length"), st.floats(0.0005, 1))
        | st.builds(Sharpness, st.just("pixels"), st.floats(0.25, 100))
    )


def values_of(path: str) -> SearchStrategy[Any] | None:
    """Values that the field at a path may hold, None for a free text."""
    if path == "focus.stop":
        return marked_stops()
    if path == "focus.sharpness":
        return sharpnesses()
    if path in CHOICES:
        return st.sampled_from(CHOICES[path])
    quantity = edit.quantity_of(Shot, path)
    return None if quantity is None else numbers(quantity)


def numbers(quantity: Quantity) -> SearchStrategy[float]:
    plain = st.floats(quantity.low, quantity.high)
    return plain | st.just(math.inf) if quantity.infinite else plain


def field_values() -> SearchStrategy[tuple[str, Any]]:
    """A field of a shot by its path, and a value that it may hold."""
    return st.one_of([st.tuples(st.just(path), strategy) for path, strategy in _BY_PATH.items()])


def mm(value: float) -> str:
    return "inf" if math.isinf(value) else f"{value!r} mm"


def in_file(path: str, value: Any) -> Any:
    """What a file holds at a path for a value."""
    quantity = edit.quantity_of(Shot, path) if path not in {"focus.stop", "focus.sharpness"} else None
    bare = quantity is not None and quantity.kind in {"number", "share", "filter"}
    return value if bare else edit.text_of(value, quantity, "metric")


def logarithmic(low: float, high: float) -> SearchStrategy[float]:
    """Numbers from `low` to `high`, as many in each octave, four digits each so that a failure can be read."""
    return st.floats(math.log(low), math.log(high)).map(lambda power: float(f"{math.exp(power):.4g}"))


def _places(model: float, beyond: float, near: float | None, far: float | None, left_open: int) -> Table:
    background = model * beyond
    return {
        "place.model": None if left_open == 0 else mm(model),
        "place.background": mm(background),
        "place.model_near": None if near is None else mm(model * near),
        "place.background_far": None if far is None else mm(background * far),
    }


_BY_PATH = {path: strategy for path in paths() if (strategy := values_of(path)) is not None}
_SET = ("action", "focus", "light", "survey", "place.lens_height", "place.feature_height", "scale.rounding")
_FREE = {path: strategy.map(partial(in_file, path)) for path, strategy in _BY_PATH.items() if path.startswith(_SET)}
_SLIDE = st.floats(0, 120).map(mm)
_SEEN = st.sampled_from(["outruns", "lags", "locked"])
_READING = st.fixed_dictionaries({"slide": _SLIDE, "slip_px": st.integers(-40, 40)}) | st.fixed_dictionaries(
    {"slide": _SLIDE, "seen": _SEEN}
)
_PLACES = st.builds(
    _places,
    model=logarithmic(200, 20_000),
    beyond=st.just(1.0) | logarithmic(1, 1000) | st.just(math.inf),
    near=st.none() | st.floats(0.3, 1),
    far=st.none() | st.floats(1, 4) | st.just(math.inf),
    left_open=st.integers(0, 3),
)
_MOVE = st.fixed_dictionaries(
    {
        "move.axis": st.sampled_from(["none", "pan", "pan", "tilt", "tilt down"]),
        "move.sweep": st.floats(0, 80).map(lambda angle: f"{angle!r} deg"),
        "move.slide": st.none() | _SLIDE,
        "move.screen_time": st.none() | st.floats(0.5, 60).map(lambda time: f"{time!r} s"),
        "move.tolerance": st.sampled_from([0.05, 1.0, 20.0]),
        "scale.ratio": st.none() | st.sampled_from([1.0, 4.0, 16.0, 24.0, 87.1, 500.0]),
        "action.fps": st.none() | st.sampled_from([24.0, 50.0, 96.0, 120.0, 33.3, 5.0]),
        "units": st.sampled_from(["metric", "imperial"]),
        "bench": st.just([]) | st.lists(_READING, max_size=4),
    }
)
_SIDES = st.tuples(st.floats(0, 1), st.sampled_from(["left", "right"]))
_POINT = st.tuples(_SIDES, st.floats(-0.2, 0.6), st.none() | st.floats(0.7, 1.5))
_CORNERS = [
    ["2 m left", "0 m"],
    ["1 m left", "9 m"],
    ["0 m", "10 m", "arc"],
    ["1 m right", "9 m"],
    ["2 m right", "0 m"],
]


@st.composite
def _pictures(draw: Any) -> Table:
    """An aim, points, an outline, a piece, misses, a move to both sides that tilts and is carried: some or none."""
    named: tuple[str, ...] = ("gable", "door", "mast", "gate")[: draw(st.integers(0, 4))]
    points: list[Table] = []
    for name, ((aside, side), height, away) in zip(named, [draw(_POINT) for _ in named], strict=True):
        where = {"aside": f"{60_000 * aside!r} mm {side}", "height": f"{30_000 * height!r} mm"}
        points.append({"name": name, **where, "distance": f"{60_000 * (away or 1.0)!r} mm"})
    if named and draw(st.booleans()):
        points[-1] = {"name": named[-1], "frame_across": draw(st.floats(0, 1)), "frame_up": draw(st.floats(0, 1))}
    found: Table = {
        "place.aim": draw(st.none() | st.floats(-15, 15).map(lambda aim: f"{aim!r} deg")),
        "place.fills": draw(st.sampled_from(["part", "frame"])),
        "place.lens_height": f"{draw(st.floats(0, 5000))!r} mm",
        "point": points,
        "outline": draw(st.sampled_from([[], [{"name": "arch", "corners": _CORNERS}]])),
        "piece": draw(st.sampled_from([[], [{"name": "fence", "ratio": 8.0, "seems_at": "20 m"}]])),
        "miss": [{"point": name, "across_px": draw(st.integers(-9, 9)), "up_px": 2} for name in named[:3]],
    }
    if draw(st.booleans()):
        found |= {
            "move.start": f"{draw(st.floats(0, 20))!r} deg",
            "move.travel": f"{draw(st.floats(0, 300))!r} mm left",
        }
        found |= {"move.axis": draw(st.sampled_from(["pan", "pan left"])), "move.sweep": "12 deg"}
        found |= {"move.tilt_sweep": draw(st.sampled_from(["0 deg", "3 deg up", "2 deg down"]))}
    return found


def _joined(parts: tuple[Table, Table, Table, Table]) -> Table:
    """Return changes together; an outline at infinity has no size."""
    free, places, move, picture = parts
    if places["place.background"] == "inf":
        picture = {path: value for path, value in picture.items() if path != "outline"}
    return free | places | move | picture


_SHOT_CHANGES: SearchStrategy[Table] = st.tuples(
    st.fixed_dictionaries({}, optional=_FREE), _PLACES, _MOVE, st.just({}) | _pictures()
).map(_joined)


def _kit(
    focal: float, close: float, rows: list[tuple[str, float]], lens: Table, mode: Table, head: Table | None
) -> Table:
    pupil = [{"focal_length": mm(focal), "focus": focus, "ahead": mm(ahead)} for focus, ahead in rows]
    glass = lens | {"focal_length": mm(focal), "close_focus": mm(focal + close), "pupil": pupil}
    return {"lens": glass, "mode": mode, "head": head}


_LENS = st.fixed_dictionaries(
    {
        "marks": st.sampled_from(["f", "T"]),
        "widest": st.sampled_from(["1.4", "2.8", "4"]),
        "smallest": st.sampled_from(["5.6", "16", "22"]),
        "transmission_loss": st.sampled_from([0.0, 0.3, 1.5]),
        "squeeze": st.sampled_from([1.0, 1.33, 2.0]),
    }
)
_MODE = st.fixed_dictionaries(
    {
        "fps": st.sampled_from([[24], [24, 25, 48, 96, 120], {"min": 1, "max": 120}, {"min": 6, "max": 59.94}]),
        "readout": st.sampled_from([None, "0 ms", "5 ms", "8 ms"]),
        "data_rate": st.sampled_from([None, 400]),
        "width": st.sampled_from(["8.3 mm", "20 mm", "52.48 mm"]),
    }
)
_HEAD = st.fixed_dictionaries(
    {
        "sensor_at_zero": st.floats(-150, 20).map(mm),
        "tilt_drop": st.sampled_from(["0 mm", "-50 mm", "120 mm"]),
        "tilt_ahead": st.sampled_from(["0 mm", "15 mm"]),
    }
)
_KITS: SearchStrategy[Table] = st.builds(
    _kit,
    focal=st.sampled_from([12.0, 25.0, 35.0, 100.0]),
    close=logarithmic(60, 2000),
    rows=st.lists(
        st.tuples(st.sampled_from(["inf", "300 mm", "2 m"]), st.floats(-100, 70)),
        max_size=2,
        unique_by=lambda row: row[0],
    ),
    lens=_LENS,
    mode=_MODE,
    head=st.none() | _HEAD,
)


def shot_changes() -> SearchStrategy[Table]:
    """Changes of the plain shot that lead anywhere that a file may lead, in distances that someone may tape."""
    return _SHOT_CHANGES


def kits() -> SearchStrategy[Table]:
    """Changes of the plain kit: any camera mode, lens and head that a profile may describe, within reason."""
    return _KITS
