"""The line-up from the side, and the move from above, or a tilt from the side, up toward its end; all to scale."""

import math

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.kit.profiles import Head
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.slip_check import head_turns, slide_goal
from forescale.engine.units import angle_text, number_text, tape_text
from forescale.tui.diagrams.bars import lengths, lettered
from forescale.tui.diagrams.canvas import GAP, Canvas, Text, diagram, sample
from forescale.tui.diagrams.plot import Extent, Plot, PlotAxis, round_lengths, round_values, ruler, steps

BREAK_FROM = 3.0  # a background more than so many times as far as the model stands past a break
PAST = 1.3  # times as far as the model, how far the lines of sight are followed then
PLOT_FROM = 4  # rows; with fewer the tape alone is drawn
SIGHTS_FROM = 22  # columns beside the lens's height; likewise
STEEPEST_DEG = 85.0  # past it a line would run along the axis's own column
PICTURE_FROM = 6  # rows; with fewer the slide alone is drawn


@diagram
def side(canvas: Canvas, answer: Answer) -> None:
    """Draw the side view, or the tape alone in little room or where no height is known; the legend is its last row."""
    line, glyphs, height = answer.lineup, canvas.glyphs, canvas.height
    reach, broken = reached(answer)
    base = 0
    lens = answer.setting.place.lens_height
    texts = () if lens is None else lengths(lens, answer.system)
    fit = [text for text in texts if canvas.width - len(text) >= SIGHTS_FROM]
    if height >= PLOT_FROM and lens is not None and fit:
        base = height - (3 if height >= 6 else 2)
        _sights(canvas, answer, base, lens, fit[0])
    else:
        axis = PlotAxis(0.0, reach, 1, canvas.width - 1, endless=broken)
        tape(canvas, base, axis, answer)
        model = axis.cell(line.model_mm)
        columns = {glyphs.lens: axis.first, glyphs.model: model}
        for letter, column in (columns | {glyphs.background: max(axis.cell(line.background_mm), model + 1)}).items():
            canvas.letter(base, column, letter)
    named = [(f"{glyphs.lens} lens", "value"), (f"{glyphs.model} model", "value")]
    reads = [f"reads as {Words(answer).ratio(line.reads_as_ratio)}"] if math.isfinite(line.reads_as_ratio) else []
    left_out = [f"{glyphs.break_mark} left out"] if broken else []
    canvas.side_by_side(base + 2, [*named, (f"{glyphs.background} background", "value"), *reads, *left_out])


def reached(answer: Answer) -> tuple[float, bool]:
    """Return how far from the camera the drawing is to scale, mm of tape, and whether the background lies past it."""
    model, background = answer.lineup.model_mm, answer.lineup.background_mm
    broken = background > BREAK_FROM * model
    return (PAST * model if broken else 1.05 * background), broken


def tape(canvas: Canvas, row: int, axis: PlotAxis, answer: Answer) -> None:
    """Draw the tape along a row, with the distances of model and background below it, and round ones between."""
    line, glyphs = answer.lineup, canvas.glyphs
    for letter, mm in ((glyphs.background, line.background_mm), (glyphs.model, line.model_mm)):
        canvas.place([row + 1], axis.cell(mm), lettered(letter, mm, answer))
    ruler(canvas, row, axis, round_lengths(0.0, axis.high, canvas.width // 12, answer.system))


def _sights(canvas: Canvas, answer: Answer, base: int, lens: float, lens_text: str) -> None:
    """Draw heights over the tape: the lens, the lines of sight to feature and foot, the model between or hung."""
    line, glyphs, system, place = answer.lineup, canvas.glyphs, answer.system, answer.setting.place
    reach, broken = reached(answer)
    hang = lens if line.hang_height_mm is None else line.hang_height_mm
    heights = [hang] if line.foot_height_mm is None else [hang, line.foot_height_mm]
    ends = [lens + (height - lens) * reach / line.model_mm for height in heights]
    low, high = min(lens, *ends), max(lens, *ends)
    spare = 0.08 * (high - low) or 100.0
    below = max(spare, 0.81 * (high - low) / (base - 0.75))  # a row, lest the baseline pass for the lens's own height
    up = (low - below, high + spare)
    numbers = {lens: lens_text} | round_lengths(*up, steps(base), system)
    plot = Plot(canvas, base, (0.0, reach), up, numbers, endless=broken)
    for end in dict.fromkeys(ends):
        plot.curve([(0.0, lens), (reach, end)], glyphs.dot, "hint", 2)
    at, top, stands = plot.x.cell(line.model_mm), plot.y.cell(hang), len(heights) > 1
    far = max(plot.x.cell(line.background_mm), at + 1)
    canvas.letter(plot.y.cell(lens), plot.x.first, glyphs.lens)
    canvas.letter(top, at, glyphs.model)
    canvas.letter(plot.y.cell(ends[0]), far, glyphs.background)
    if place.feature_height:
        text = f"{tape_text(place.feature_height, system)} up"
        canvas.write(plot.y.cell(ends[0]), far - GAP - len(text), text)
    if line.hang_height_mm is not None:
        texts = [f"tie-in {text}" for text in lengths(hang, system)]
        any(canvas.write(row, at - 1 - len(text), text) for text in texts for row in (top - 1, top, top + 1))
    tape(canvas, base, plot.x, answer)
    plot.put()
    canvas.down(plot.x.first, plot.y.cell(lens) + 1, base - 1, glyphs.vertical)
    foot, ground = (min(plot.y.cell(low[-1]), base - 1) if stands else base - 1 for low in (heights, ends))
    canvas.down(at, *((top + 1, foot, glyphs.solid) if stands else (0, top - 1, glyphs.vertical)), "curve")
    canvas.down(far, plot.y.cell(ends[0]) + 1, ground, glyphs.shade)
    for column in (at, far):
        canvas.mark(base, column, glyphs.tee_up)
    if up[0] > 0:  # the ground lies farther down than the baseline
        canvas.mark(base, plot.x.first - 1, glyphs.break_mark[0])


@diagram
def plan(canvas: Canvas, answer: Answer) -> None:
    """Draw, as the height grows: what the move is in words, the slide, its numbers, the legend, the picture above."""
    head = answer.kit.head if head_turns(answer) else None
    slides = head is not None
    below = min(canvas.height, 4 if slides else 2)
    picture = canvas.height - below if canvas.height - below >= PICTURE_FROM else 0
    if picture:
        _picture(canvas, answer, picture - 2)
    if head is not None and below > 1:
        _slide(canvas, answer, head, picture)
    words = picture + min(below - 1, 2 if slides else 0)
    canvas.side_by_side(words, _words(answer))
    canvas.side_by_side(words + 1, _legend(canvas, answer, slides=slides, picture=picture > 0))


def _picture(canvas: Canvas, answer: Answer, base: int) -> None:
    """Draw the lens's axis and field at the line-up and at the ends of the move, and what the model must cover."""
    line, slip, glyphs, system = answer.lineup, answer.slip, canvas.glyphs, answer.system
    tilts = slip.axis in TILTS
    frame = line.frame_height_model_mm if tilts else line.frame_width_model_mm
    half_deg = math.degrees(math.atan(frame / 2 / answer.setup.model_mm))
    ways = dict.fromkeys((0.0, slip.sweep_deg, -slip.start_deg)) if head_turns(answer) else {0.0: None}
    edges = {turn: [_slope(turn + half_deg), _slope(turn - half_deg)] for turn in ways}
    highest, lowest = max(edges[max(ways)]), min(edges[min(ways)])
    reach, broken = reached(answer)
    up = (lowest * reach, highest * reach)
    numbers = {mm: tape_text(abs(mm), system) if mm else "0" for mm in round_lengths(*up, steps(base), system)}
    plot = Plot(canvas, base, (0.0, reach), up, numbers, endless=broken)
    for turn in ways:
        sign, style, every = (glyphs.point, "curve", 1) if turn else (glyphs.dot, "drawing", 3)
        plot.curve([(0.0, 0.0), (reach, _slope(turn) * reach)], sign, style, every)
    for slope in dict.fromkeys([*edges[0.0], highest, lowest]):
        plot.curve([(0.0, 0.0), (reach, slope * reach)], glyphs.dot, "hint", 3)
    at, far, middle = plot.x.cell(line.model_mm), plot.x.last, plot.y.cell(0.0)
    canvas.letter(middle, plot.x.first, glyphs.axis if head_turns(answer) else glyphs.lens)
    canvas.letter(middle, at, glyphs.model)
    canvas.letter(middle, max(plot.x.cell(line.background_mm), at + 1), glyphs.background)
    top, bottom = (plot.y.cell(slope * line.model_mm) for slope in (highest, lowest))
    for turn in filter(None, ways):
        canvas.place([plot.y.cell(_slope(turn) * reach)], far - 8, [angle_text(abs(turn))])
    cover = line.cover_height_mm if tilts else line.cover_width_mm
    if cover is not None and head_turns(answer):
        texts = [f"cover {text}" for text in lengths(cover, system)]
        any(canvas.write(row, at - 1 - len(text), text) for text in texts for row in (top, top + 1))
    tape(canvas, base, plot.x, answer)
    plot.put()
    canvas.down(at, top, min(bottom, base - 1), glyphs.vertical, "ok")
    canvas.mark(base, at, glyphs.tee_up)


def _slope(turn_deg: float) -> float:
    return math.tan(math.radians(min(max(turn_deg, -STEEPEST_DEG), STEEPEST_DEG)))


def _slide(canvas: Canvas, answer: Answer, head: Head, row: int) -> None:
    slip, glyphs, goal = answer.slip, canvas.glyphs, slide_goal(answer)
    axis = PlotAxis(head.slide_min, head.slide_max, 0, canvas.width - 1)
    unit = Words(answer).on_slide.unit_mm
    values = round_values(head.slide_min / unit, head.slide_max / unit, canvas.width // 8)
    holds: list[Extent] = []
    if goal is not None:
        holds = [(goal.place_mm - goal.within_mm, goal.place_mm + goal.within_mm, glyphs.shade_light, "ok")]
    for reading, letter in ((slip.slide_mm, glyphs.slide), (slip.slide_for_zero_mm, glyphs.zero)):
        if reading is not None and head.slide_min <= reading <= head.slide_max:
            canvas.letter(row, axis.cell(reading), letter)
    ruler(canvas, row, axis, {value * unit: number_text(value, 4) for value in values}, holds)


def _words(answer: Answer) -> list[str]:
    slip, scale = answer.slip, Words(answer).on_slide
    if not head_turns(answer):
        return ["nothing turns"]
    if not slip.pupil_known:
        pupil = "pupil not measured"
    elif slip.offset_mm is None:
        pupil = "no head is named" if answer.kit.head is None else "slide not set"
    elif abs(slip.offset_mm) < 0.05:
        pupil = "P on A"
    else:
        pupil = f"P {scale.told(abs(slip.offset_mm))} {'ahead of' if slip.offset_mm > 0 else 'behind'} A"
    slide = [] if slip.slide_mm is None or answer.kit.head is None else [f"slide {scale.mark(slip.slide_mm)}"]
    return [pupil, *slide, f"{slip.axis} {angle_text(slip.sweep_deg or slip.start_deg)}"]


def _legend(canvas: Canvas, answer: Answer, *, slides: bool, picture: bool) -> list[Text]:
    turning = head_turns(answer)
    glyphs, zero, scale = canvas.glyphs, answer.slip.slide_for_zero_mm, Words(answer).on_slide
    told: list[Text] = []
    if slides:
        told += [] if zero is None else [(f"{glyphs.zero} no slip at {scale.told(zero)}", "value")]
        told += [(f"{glyphs.slide} slide", "value")]
        told += [] if slide_goal(answer) is None else [(f"{glyphs.shade_light} holds", "ok")]
    if picture:
        told += [(f"{sample(glyphs, glyphs.point)} turned", "curve")] if turning else []
        told += [(f"{sample(glyphs, glyphs.dot, 3)} field", "hint")]
    letters = [f"{glyphs.axis} axis", f"{glyphs.pupil} pupil"] if turning else [f"{glyphs.lens} lens"] * picture
    letters += [f"{glyphs.model} model", f"{glyphs.background} background"] * picture
    return [*told, *((text, "value") for text in letters)]
