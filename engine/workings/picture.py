"""The workings of the picture group: what the lens sees, and where points, outlines and pieces stand in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.lineup import PINHOLE, SHRINK
from forescale.engine.workings.speed import FROUDE
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, Working, told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_NEEDS = "enter the aim of the lens, or a point, an outline or a piece"
_POINTS = "enter a point where model and place must meet"
_OUTLINES = "enter an outline of the model"
_PIECES = "enter a piece at a scale of its own"
_shares = on.always("Shares of the frame at the line-up, from its left edge and its bottom.")


def _field(of: Answer, side: str, key: str) -> str:
    return f"2 × atan({side} / (2 × {Figures.mm(of.setup.image_mm)})) = {value_text(key, of)}"


def _horizon(of: Answer) -> str:
    say, height = Figures(of), Figures.mm(of.kit.mode.height)
    low = f"{say.mm(of.setup.image_mm)} × tan({say.degrees(of.setup.aim_deg)}) / {height}"
    return f"0.5 − {low} = {value_text('picture.horizon_up', of)}"


def _each(
    row: str,
    name: str,
    meaning: str,
    formula: str,
    needs: str,
    source: str = PINHOLE,
    conventions: on.Convention = _shares,
) -> Working:
    """Return the working of a number of each row, told row by row."""
    key = f"picture.{row}"
    return Working(
        key=key,
        name=name,
        meaning=meaning,
        formula=formula,
        put_in=lambda of: f"row by row: {value_text(key, of)}",
        conventions=conventions,
        leads_to=(),
        source=source,
        needs=needs,
    )


def _point(field: str, name: str, meaning: str, formula: str, needs: str = _POINTS, source: str = PINHOLE) -> Working:
    return _each(f"points.{field}", name, meaning, formula, needs, source=source)


def _outline(field: str, name: str, meaning: str, formula: str, source: str = PINHOLE) -> Working:
    return _each(f"outlines.{field}", name, meaning, formula, _OUTLINES, source=source)


def _piece(field: str, name: str, meaning: str, formula: str, source: str = SHRINK) -> Working:
    return _each(f"pieces.{field}", name, meaning, formula, _PIECES, source=source, conventions=on.tape)


_HEIGHTS = f"{_POINTS}, and the height of the lens"
_MOVES = f"{_POINTS}, a move, a head and its slide, and a lens whose pupil is known"

WORKINGS = (
    told(
        "picture.aim_deg",
        lambda of: f"as entered: {value_text('picture.aim_deg', of)}",
        on.always("From the level, up is +."),
    ),
    told(
        "picture.field_across_deg",
        lambda of: _field(of, Figures(of).across(of.kit.mode.width), "picture.field_across_deg"),
        on.picture,
    ),
    told(
        "picture.field_up_deg",
        lambda of: _field(of, Figures.mm(of.kit.mode.height), "picture.field_up_deg"),
        on.picture,
    ),
    told("picture.horizon_up", _horizon, _shares),
    _point("frame_across", "point across", "Where the real point stands across the frame.", "1/2 + v·X / (Z·w)"),
    _point("frame_up", "point up", "Where the real point stands up the frame.", "1/2 + v·Y / (Z·height)"),
    _point(
        "model_distance_mm",
        "point to scale",
        "How far off the point belongs to scale, on the tape.",
        "z/S",
        _POINTS,
        SHRINK,
    ),
    _point("model_aside_mm", "aside to scale", "How far aside the point belongs to scale.", "x/S", _POINTS, SHRINK),
    _point("model_height_mm", "high to scale", "How high it belongs to scale.", "L + (h − L)/S", _HEIGHTS, SHRINK),
    _point(
        "stands_mm", "point stands at", "How far off the model has it as it stands.", "d + (z − D)/S", _POINTS, SHRINK
    ),
    _point("sight_aside_mm", "sight aside", "How far aside the line of sight passes there.", "x·z'/z"),
    _point("sight_height_mm", "sight height", "How high the line of sight passes there.", "L + (h − L)·z'/z", _HEIGHTS),
    _point(
        "miss_across_px",
        "misses across",
        "The picture of the model less that of the place, to the right.",
        "built − real",
    ),
    _point("miss_up_px", "misses up", "The picture of the model less that of the place, upward.", "built − real"),
    _point(
        "slip_px",
        "point slips",
        "How far model and place part there over the move, at most.",
        "miss − that at the line-up",
        _MOVES,
    ),
    _point(
        "leaves_deg",
        "leaves at",
        "The turn from the line-up at which the real point leaves the frame.",
        "where its picture meets an edge",
        f"{_POINTS} that a turn carries out of the frame",
    ),
    _point(
        "leaves_share",
        "leaves after",
        "The share of the way to the far end at which it leaves the frame.",
        "where its picture meets an edge",
        f"{_POINTS} that the move carries out of the frame",
    ),
    _outline("left", "left edge", "Where an outline ends on the left of the frame.", "least of 1/2 + v·X / (Z·w)"),
    _outline("right", "right edge", "Where an outline ends on the right.", "largest of 1/2 + v·X / (Z·w)"),
    _outline("bottom", "lower edge", "Where an outline ends below.", "least of 1/2 + v·Y / (Z·height)"),
    _outline("top", "upper edge", "Where an outline ends above.", "largest of 1/2 + v·Y / (Z·height)"),
    _outline("model_width_mm", "outline width", "How wide an outline of the model is built.", "extent / S", SHRINK),
    _outline("model_height_mm", "outline height", "How high an outline of the model is built.", "extent / S", SHRINK),
    _outline("edge_blur_px", "edge blur", "How soft its softest corner is.", "f/N·v·|1/s − 1/Z| / p", "the thin lens"),
    _outline("overlap_mm", "overlap", "How far a cut edge reaches past its join to hide it.", "Z/v·(b/2 + 2·t·p)"),
    _piece("ratio", "piece's scale", "The scale of a piece.", "as entered", DEFINITION),
    _piece("stands_mm", "piece stands at", "How far off a piece stands.", "as taped; left open, D/S", DEFINITION),
    _piece("match_distance_mm", "piece matches at", "Where a piece of its scale looks as large as it should.", "D/S"),
    _piece("size_error", "piece's size", "How large a piece looks over how large it should.", "(D/d)/S"),
    _piece(
        "ideal_fps",
        "piece's rate",
        "The rate at which a piece's action would look heavy.",
        "playback × √S × heft",
        FROUDE,
    ),
    _piece(
        "apparent_gravity",
        "piece's gravity",
        "How strong gravity looks on a piece at the rate that runs.",
        "S/k²",
        FROUDE,
    ),
    _each(
        "pieces.slip_px",
        "piece slips",
        "How far a piece parts from the background over the move, at most.",
        "slip of the lens axis on its plane",
        f"{_PIECES}, a move, a head and its slide, and a lens whose pupil is known",
    ),
)
