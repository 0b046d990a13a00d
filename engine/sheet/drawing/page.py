"""The drawing's sheet of paper: both views, their scales, what the lens sees, the title block; the sun's day."""

import math
from collections.abc import Sequence
from itertools import groupby, pairwise

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words, move_text, moves
from forescale.engine.formulas.projection import Point, Pose, in_frame
from forescale.engine.sheet.cells import clean, wrap
from forescale.engine.sheet.drawing.ink import Ink, fitted, text_width_mm
from forescale.engine.sheet.drawing.shot_views import draw_plan, draw_side, plan_view, side_view
from forescale.engine.sheet.drawing.views import BEHIND_MM, WORD_MM, DrawnView, levelled
from forescale.engine.sheet.sections.whole_shot import verdict
from forescale.engine.shot.records import Shot
from forescale.engine.shot.sections import WAYS
from forescale.engine.solve.view import View, frame_corners, outline_points, stances, view_of
from forescale.engine.units import INCH_MM, UnitSystem, angle_text, filter_text, number_text
from forescale.engine.units.compass import DAY_S, clock_text

WIDE_MM, HIGH_MM = 190.0, 250.0  # as much as a page of either paper has below its stamp
MARGIN_MM = 1.0
HEAD_MM = 7.0
LINE_MM = 4.5  # from line to line
CLOSEST_MM = 3.9  # where the lines are many
PLAN_MM = 108.0  # the height of the view from above with its dimensions
SIDE_MM = 68.0  # and of that from the side
HEAD_NAME_MM = 32.5
SIGHT_MM = 88.0  # the most that the picture takes of the width
BAR_MM = 30.0  # the longest bar
CROSS_MM = 1.8
FAR = 40.0  # frames away, a place is off every paper
LARGE_UNIT_MM: dict[UnitSystem, float] = {"metric": 1000.0, "imperial": 12 * INCH_MM}
SUN_HIGH_MM = 42.0
DAY_LEFT_MM, DAY_LONG_MM = 9.0, 176.0  # the day, from midnight to midnight
HORIZON_MM, UP_MM = 36.0, 30.0  # where nothing rises over the ground, and how far over it the zenith is
STEPS = 288
SAYS = "Line: how high the sun stands, by the hour; grey: the same light; dot: {}"
FACES = "; dashes: ahead of the lens, or behind it"


def sheet_svg(shot: Shot, answer: Answer) -> str:
    """Return the drawing as an SVG file of its own."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{inline_svg(shot, answer)}'


def inline_svg(shot: Shot, answer: Answer) -> str:
    """Return the drawing as an element to stand inside a page."""
    left, right = MARGIN_MM + BEHIND_MM + 2, WIDE_MM - MARGIN_MM - 4
    plan_foot = MARGIN_MM + PLAN_MM
    sight_top = plan_foot + SIDE_MM
    level = levelled(answer)
    plan = plan_view(level, left, MARGIN_MM + HEAD_MM, right, plan_foot)
    side = side_view(level, left, plan_foot + HEAD_MM, right, sight_top - 5.5)
    pane = LensPane(answer, MARGIN_MM + 2, sight_top + HEAD_MM, SIGHT_MM, HIGH_MM - sight_top - HEAD_MM - MARGIN_MM - 2)
    ink = Ink()
    ink.box(0, 0, WIDE_MM, HIGH_MM, "paper")
    ink.box(MARGIN_MM, MARGIN_MM, WIDE_MM - 2 * MARGIN_MM, HIGH_MM - 2 * MARGIN_MM)
    draw_plan(ink, level, plan)
    draw_side(ink, level, side)
    legend = draw_sight(ink, answer, pane)
    _head(ink, answer, plan)
    _head(ink, answer, side)
    ink.line(MARGIN_MM, sight_top, WIDE_MM - MARGIN_MM, sight_top)
    ink.text(MARGIN_MM + 2, sight_top + 5, "What the lens sees", style="head")
    _block(ink, [*_notes(shot, answer), *legend], MARGIN_MM + SIGHT_MM + 6, sight_top + 5)
    return ink.svg(WIDE_MM, HIGH_MM, shot.title)


def _head(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Write what the view is and its scale, and draw a bar to check the print by."""
    foot = view.top - 1.8
    end = view.strip.end_mm + 2
    ink.line(MARGIN_MM, view.top - HEAD_MM, WIDE_MM - MARGIN_MM, view.top - HEAD_MM)
    ink.text(MARGIN_MM + 2, foot, view.name, style="head")
    longest = BAR_MM * view.strip.front  # the bar is a round length, 12 mm to 30 mm of paper
    unit = LARGE_UNIT_MM[answer.system]
    power = unit * 10.0 ** math.floor(math.log10(longest / unit))
    length = max(step * power for step in (1, 2, 5) if step * power <= longest * (1 + 1e-9))
    bar = length / view.strip.front
    label = Words(answer).length(length)
    ink.box(end - bar, foot - 1.2, bar, 1.2, "solid")
    ink.text(end - bar - 1.5, foot, label, anchor="end")
    room = end - bar - 1.5 - text_width_mm(label) - 2 - MARGIN_MM - HEAD_NAME_MM
    whole = view.strip.words
    words = whole if text_width_mm(whole) <= room else whole.rpartition(",")[0]
    ink.text(MARGIN_MM + HEAD_NAME_MM, foot, fitted(words, room))


def _block(ink: Ink, lines: list[str], left: float, top: float) -> None:
    """Write lines under each other, the first large, closer where they are many; what no page holds is not begun."""
    room, high = WIDE_MM - MARGIN_MM - 2 - left, HIGH_MM - MARGIN_MM - top - 2
    ink.text(left, top, fitted(lines[0], room / 1.3), style="head")
    wrapped = [part for line in lines[1:] for part in _broken(clean(line), room)]
    step = max(min(LINE_MM, high / len(wrapped)), CLOSEST_MM)
    for row, part in enumerate(wrapped[: int(high / step)], start=1):
        ink.text(left, top + step * row, part)


def _broken(text: str, room_mm: float) -> list[str]:
    """Return a text in as few lines as its letters allow."""
    columns = int(room_mm)
    while columns > 2 and max(map(text_width_mm, wrap(text, columns)), default=0.0) > room_mm:
        columns -= 1
    return wrap(text, columns)


def _notes(shot: Shot, answer: Answer) -> list[str]:
    """Return title and verdict, how the drawing is to be read, the kit and what is set."""
    kit = answer.kit
    voice = Words(answer)
    slip = answer.slip
    lit = answer.light
    lines = [shot.title, f"Verdict: {verdict(answer)[0].value}", "Distances on the tape, from the sensor-plane mark."]
    if slip.axis != "none":
        ends, begins = WAYS[slip.axis]
        where = f"the start of the move, turned {begins}" if slip.start_deg else f"the end of the move, turned {ends}"
        where = "both ends of the move" if slip.start_deg and slip.sweep_deg else where
        lines.append(f"Dashes: the frame at {where}.")
    if answer.setting.place.lens_height is None:
        lines.append("Lens height not taped, so no ground is drawn.")
    lines += [
        "Printed at full size the scales hold: check the bars.",
        f"{kit.camera.name}, {kit.mode.name}",
        f"{kit.lens.name} at {voice.focal(kit.focal_mm)}, {'no head' if kit.head is None else kit.head.name}",
        f"Scale {voice.ratio(answer.scale.ratio)}, {voice.to_the_foot()}",
        f"Focus mark {voice.length(answer.focus.focus_mm)}, stop {voice.stop(answer.focus.f_number)}",
        f"{voice.rate(answer.speed.fps)}, shutter {angle_text(answer.setting.action.shutter)}",
        f"ISO {number_text(lit.iso, 5)}{f', {filter_text(lit.nd_fitted)}' if lit.nd_fitted else ''}",
    ]
    if moves(answer):
        slide = "" if slip.slide_mm is None else f", slide at {voice.reading(slip.slide_mm)}"
        lines.append(f"{move_text(answer)}{slide}")
    return lines


class LensPane:
    """The frame on paper: its left and upper edge and its size."""

    def __init__(self, answer: Answer, left: float, top: float, wide: float, high: float) -> None:
        """Fit the frame into the room, its shape kept."""
        self.view: View = view_of(answer.setting, answer.kit, answer.setup)
        frame = self.view.frame
        self.wide = min(wide, high * frame.width_mm / frame.height_mm)
        self.high = self.wide * frame.height_mm / frame.width_mm
        self.left, self.top = left, top

    def at(self, across: float, up: float) -> tuple[float, float]:
        """Return the paper place of shares of the frame."""
        return self.left + across * self.wide, self.top + (1 - up) * self.high

    def seen(self, point: Point, at: Pose) -> tuple[float, float] | None:
        """Return the paper place of a point, None behind the lens or far out."""
        share = in_frame(point, at, self.view.frame)
        return None if share is None or abs(share.across) > FAR or abs(share.up) > FAR else self.at(*share)


def draw_sight(ink: Ink, answer: Answer, pane: LensPane) -> list[str]:
    """Draw the picture at the line-up; in dashes the frame at either end of the move. Return the legend."""
    ink.clip("sight", pane.left, pane.top, pane.wide, pane.high)
    if answer.picture is not None:
        _, level = pane.at(0, answer.picture.horizon_up)
        ink.line(pane.left, level, pane.left + pane.wide, level, "chain")
    placed = stances(answer.setting, answer.kit, answer.setup, "shot")
    for row in answer.setting.outline:
        points = outline_points(row, answer.setting, answer.setup, placed)
        _run(ink, pane, points, pane.view.line_up, "bold" if row.of == "model" else "line")
    if pane.view.moves:
        for share in {pane.view.move.first, pane.view.move.last}:
            corners = frame_corners(pane.view, share)
            _run(ink, pane, [*corners, corners[0]], pane.view.line_up, "dash")
    legend = _points(ink, answer, pane)
    ink.end()
    ink.box(pane.left, pane.top, pane.wide, pane.high, "bold")
    return legend


def _run(ink: Ink, pane: LensPane, points: Sequence[Point], at: Pose, style: str) -> None:
    """Draw a run of lines as far as it can be seen."""
    for seen, places in groupby((pane.seen(point, at) for point in points), key=lambda place: place is not None):
        if seen:
            ink.shape([place for place in places if place is not None], style, closed=False)


def _points(ink: Ink, answer: Answer, pane: LensPane) -> list[str]:
    """Draw the points to meet: a ring for the real one, a cross for the model's, number and name outward.

    Where a name has no room its number stands alone; return what those stand for.
    """
    frame = pane.view.frame
    legend = []
    for number, point in enumerate(answer.picture.points if answer.picture else (), start=1):
        if point.frame_across is None or point.frame_up is None or not point.in_frame:
            continue
        x, y = pane.at(point.frame_across, point.frame_up)
        ink.circle(x, y, CROSS_MM * 0.7)
        if point.miss_across_px is not None and point.miss_up_px is not None:
            over = x + point.miss_across_px / frame.width_px * pane.wide
            up = y - point.miss_up_px / frame.height_px * pane.high
            ink.line(over - CROSS_MM, up, over + CROSS_MM, up)
            ink.line(over, up - CROSS_MM, over, up + CROSS_MM)
        leftward = x < pane.left + pane.wide / 2
        room = min((x - pane.left if leftward else pane.left + pane.wide - x), pane.wide / 2) - 4
        beside, anchor = (x - 3, "end") if leftward else (x + 3, "start")
        label = clean(point.name)
        if text_width_mm(f"{number} {label}") > room:
            legend.append(f"Point {number}: {label}")
            label = ""
        edges = (pane.top, pane.top + pane.high)
        ink.label(beside, y - WORD_MM, f"{number} {label}".rstrip(), anchor=anchor, within=edges)
    return legend


def sun_strip(answer: Answer) -> tuple[str, str]:
    """Return the day from midnight to midnight as a drawing, and what it shows; a shot whose sun is known."""
    from forescale.engine.formulas.sun import from_bearing_deg  # loaded only where the shot asks for the sun
    from forescale.engine.solve.sun_group import path_of_day

    ink = Ink()
    found = answer.sun
    there = answer.setting.sun
    assert found is not None
    top = HORIZON_MM - UP_MM
    for first, last in found.windows:
        start, end = (_x(int(text[:2]) * 3600 + int(text[3:]) * 60) for text in (first, last))
        ink.box(start, top, end - start, UP_MM, "grey")
    for up in (0, 30, 60, 90):
        ink.line(DAY_LEFT_MM, _y(up), DAY_LEFT_MM + DAY_LONG_MM, _y(up), "line" if up == 0 else "faint")
        ink.text(DAY_LEFT_MM - 1, _y(up) + 1.2, f"{up}°", anchor="end")
    for hour in range(0, 25, 3):
        ink.line(_x(hour * 3600), HORIZON_MM, _x(hour * 3600), HORIZON_MM + 1.5)
        ink.text(_x(hour * 3600), SUN_HIGH_MM - 0.9, f"{hour:02}", anchor="middle")
    path = path_of_day(there, STEPS)
    ink.clip("day", DAY_LEFT_MM, top, DAY_LONG_MM, UP_MM)
    ink.shape([(_x(at), _y(seen.elevation_deg)) for at, seen in path], "bold", closed=False)
    if found.facing_deg is not None:
        aside = [(at, seen.elevation_deg, from_bearing_deg(seen.azimuth_deg, found.facing_deg)) for at, seen in path]
        for (_, _, before), (at, elevation, after) in pairwise(aside):
            if before * after <= 0 and elevation > 0:
                ink.line(_x(at), top, _x(at), HORIZON_MM, "dash")
                ink.label(_x(at), top + 2.5, "ahead" if abs(after) < 90 else "behind")
    ink.end()
    if found.up:
        ink.circle(_x(there.time or 0.0), _y(found.elevation_deg), 1.4, "solid")
    says = SAYS.format(clock_text(there.time or 0.0)) + ("" if found.facing_deg is None else FACES)
    return ink.svg(WIDE_MM, SUN_HIGH_MM, "The day of the sun"), says


def _x(seconds: float) -> float:
    return DAY_LEFT_MM + seconds / DAY_S * DAY_LONG_MM


def _y(elevation_deg: float) -> float:
    return HORIZON_MM - elevation_deg / 90 * UP_MM
