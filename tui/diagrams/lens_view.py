"""What the lens sees, to scale: frame, horizon, place and model in outline, points to meet, the ends of the move."""

from collections.abc import Sequence
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.findings.picture import misses_by
from forescale.engine.formulas.projection import Share
from forescale.engine.solve.lens_view import LensView, SeenLine, lens_view_of
from forescale.engine.units import angle_text, number_text
from forescale.tui.diagrams.canvas import GAP, NARROWEST, Canvas, Dots, Text, diagram, sample
from forescale.tui.glyphs import Glyphs, wrapped
from forescale.tui.runs import Row

CELL = 0.5  # a cell's width over its height
WIDEST = 3.0  # frames that are shown side by side at most, where a move goes far
LEAST_ROWS = 6  # with fewer nothing could be told apart
NAMES = 9  # points that have a digit
LOWEST = 7  # rows; with fewer nothing is drawn, since the table says the same
SEEN_PX = 0.5  # from which on a miss is told in the view
LEAST_PX = 0.05  # what nobody can read is no miss
REACH = 0.2  # of the frame's width: how long the longest miss is drawn


class _Window(NamedTuple):
    """The part of the picture that is drawn, in shares of the frame, and the cells that it fills."""

    left: float
    right: float
    bottom: float
    top: float
    columns: int
    rows: int

    def place(self, share: Share) -> tuple[float, float]:
        """Return the column and row of a share."""
        across, down = share.across - self.left, self.top - share.up
        wide, high = self.right - self.left, self.top - self.bottom
        return across / wide * (self.columns - 1), down / high * (self.rows - 1)

    def cell(self, share: Share) -> tuple[int, int]:
        """Return the row and column of a share, whole."""
        column, row = self.place(share)
        return round(row), round(column)


@diagram
def draw(canvas: Canvas, answer: Answer) -> None:
    """Draw the view, with as much of its legend below as has room; the legend alone where the view has none."""
    picture = lens_view_of(answer)
    lines, points = _line_legend(answer, picture, canvas.glyphs), _point_legend(answer, picture)
    below, rows = [*lines, *points], canvas.height - len(_in_rows([*lines, *points], canvas.width))
    if rows < LEAST_ROWS:  # a third of it then, what to act on first
        below, rows = [*points, *lines], max(canvas.height - canvas.height // 3, LEAST_ROWS)
    if canvas.height < LEAST_ROWS:
        rows = 0
    else:
        window = _window(picture, canvas.width, rows)
        _lines(canvas, window, picture)
        _points(canvas, window, picture)
        rows = window.rows
    for row, texts in enumerate(_in_rows(below, canvas.width, canvas.height - rows), start=rows):
        canvas.side_by_side(row, texts)


def legend(answer: Answer, width: int, glyphs: Glyphs) -> list[Row]:
    """Return the whole legend in as many rows as it takes."""
    picture = lens_view_of(answer)
    rows = _in_rows([*_line_legend(answer, picture, glyphs), *_point_legend(answer, picture)], width)
    canvas = Canvas(width, len(rows), glyphs)
    for row, texts in enumerate(rows):
        canvas.side_by_side(row, texts)
    return canvas.rows()


def _window(picture: LensView, width: int, rows: int) -> _Window:
    """Return the frame and what of the move's ends stands beside it, at its true shape in the room there is."""
    ends = [*picture.begin, *picture.end]
    across = [0.0, 1.0, *(min(max(share.across, 1 - WIDEST), WIDEST) for share in ends)]
    up = [0.0, 1.0, *(min(max(share.up, 1 - WIDEST), WIDEST) for share in ends)]
    left, right, bottom, top = min(across), max(across), min(up), max(up)
    shape = picture.shape * (right - left) / (top - bottom) / CELL
    columns = min(width, max(round(rows * shape), 2))
    return _Window(left, right, bottom, top, columns, min(rows, max(round(columns / shape), 2)))


def _lines(canvas: Canvas, window: _Window, picture: LensView) -> None:
    """Draw outlines, the ends of the move, horizon and table, and over all else the frame at the line-up."""
    glyphs = canvas.glyphs
    fine = glyphs.name == "full"  # else a row and a column have one dot
    dots = Dots(canvas, 0, 0, window.columns - 1, window.rows - 1)

    def run(line: SeenLine, sign: str, style: str, every: int) -> None:
        dots.curve(map(window.place, line), sign, style, every)

    for outline in picture.outlines:
        look = (glyphs.solid, "curve", 1) if outline.of == "model" else (glyphs.dot, "hint", 1 + fine)
        for line in outline.lines:
            run(line, *look)
    for end in (picture.begin, picture.end):
        run((*end, *end[:1]), glyphs.break_mark[0], "drawing", 4 if fine else 1)
    table, row = picture.table_up, window.place(Share(0.0, picture.horizon_up))[1]
    horizon = ((-0.25, row), (window.columns - 0.25, row))
    dots.curve(horizon, glyphs.horizontal, every=0)  # dashes, unlike all other lines
    if table is not None:
        run((Share(0.25, table), Share(0.75, table)), glyphs.heavy, "drawing", 3)
    dots.put()
    (bottom, left), (top, right) = window.cell(Share(0.0, 0.0)), window.cell(Share(1.0, 1.0))
    canvas.box(top, left, bottom, right)
    canvas.mark(*window.cell(Share(0.5, 0.5)), glyphs.cross)


def _points(canvas: Canvas, window: _Window, picture: LensView) -> None:
    """Draw the points by their numbers, side by side where one would hide another, and where the model has each."""
    (bottom, left), (top, right) = window.cell(Share(0.0, 0.0)), window.cell(Share(1.0, 1.0))
    seen: list[tuple[float, int, int, int, int]] = []  # share across, number, row, column, the last that it may have
    for number, point in enumerate(picture.points[:NAMES], start=1):
        real = None if point.real is None else window.cell(point.real)
        if real is not None and point.real is not None:
            (row, column), last = real, max(real[1], canvas.width - 1)
            if point.real.inside:  # not on the frame's own lines
                row, column, last = min(max(row, top + 1), bottom - 1), max(column, left + 1), right - 1
            seen.append((point.real.across, number, row, column, last))
        if point.built is not None and (built := window.cell(point.built)) != real:
            canvas.mark(*built, canvas.glyphs.other_point, "curve")
    taken: dict[int, int] = {}  # by row, the column of the last number, from the left
    for place, (_, number, row, column, last) in enumerate(seen := sorted(seen)):
        later = sum(one[2] == row for one in seen[place + 1 :])
        taken[row] = min(max(column, taken.get(row, -2) + 2), last - 2 * later)
        canvas.letter(row, taken[row], str(number))


def _line_legend(answer: Answer, picture: LensView, glyphs: Glyphs) -> list[Text]:
    kinds, aim = {outline.of for outline in picture.outlines}, answer.setup.aim_deg
    texts: list[Text] = [f"{glyphs.cross} middle, {f'aimed {angle_text(aim)}' if aim else 'level'}"]
    texts += [(f"{sample(glyphs, glyphs.solid)} model", "curve")] if "model" in kinds else []
    texts += [(f"{sample(glyphs, glyphs.dot, 2)} place", "hint")] if "place" in kinds else []
    texts += [(f"{sample(glyphs, glyphs.heavy, 3)} table", "drawing")] if picture.table_up is not None else []
    ends = picture.end or picture.begin
    texts += [(f"{sample(glyphs, glyphs.break_mark[0], 4)} move's ends", "drawing")] if ends else []
    return texts + [(f"{sample(glyphs, glyphs.horizontal, 0)} horizon", "drawing")] * (0 < picture.horizon_up < 1)


def _point_legend(answer: Answer, picture: LensView) -> list[Text]:
    texts: list[Text] = []
    told = answer.picture.points if answer.picture is not None else ()
    for number, (point, one) in enumerate(zip(picture.points[:NAMES], told, strict=False), start=1):
        by, miss = " and ".join(text for _, text in misses_by(one, SEEN_PX)), ""
        if one.miss_across_px is not None and one.miss_up_px is not None:
            miss = f" misses {by}" if by else " meets"
        away = point.real is None or not point.real.inside
        where = ", not in frame" if away else ", leaves the frame" if point.leaves else ""
        texts.append((f"{number} {point.name}{miss}{where}", "value"))
    return texts


def _in_rows(texts: list[Text], width: int, most: int = 1000) -> list[list[Text]]:
    """Return texts side by side in as few rows as hold them in their order, a longer one wrapped, up to so many."""
    rows: list[list[Text]] = []
    used = width + 1
    for one in texts:
        text, sign = (one, "answer") if isinstance(one, str) else one
        lead, _, told = text.partition(" ")
        lines = wrapped(told, width, f"{lead} ")
        if len(rows) + len(lines) - (used + GAP + len(text) <= width) > most:
            break
        for place, line in enumerate(lines):
            if used + GAP + len(line) > width:
                rows.append([])
                used = -GAP
            rows[-1].append((line, "answer" if place else sign))
            used = width if place else used + GAP + len(line)  # nothing stands behind what was wrapped
    return rows


class Drawn(NamedTuple):
    """A point by its letter, where the frame has it (shares), and its miss in pixels; None where it is not told."""

    letter: str
    across: float | None
    up: float | None
    miss: tuple[float | None, float | None]

    @property
    def inside(self) -> bool:
        """Whether the frame holds the point, so that it is drawn."""
        return all(share is not None and 0 <= share <= 1 for share in (self.across, self.up))


def misses(
    points: Sequence[Drawn], frame_px: tuple[float, float], title: str, width: int, height: int, glyphs: Glyphs
) -> list[Row]:
    """Return the frame at its true shape with points and misses, and how much longer these are drawn; blank if low."""
    canvas = Canvas(width, height, glyphs)
    columns = min(width, round((height - 1) / CELL * frame_px[0] / frame_px[1]))
    rows = round(columns * CELL * frame_px[1] / frame_px[0])
    if width < NARROWEST or height < LOWEST or rows < LOWEST - 2:
        return canvas.rows()
    told = [(across, up) for across, up in (point.miss for point in points) if across is not None and up is not None]
    longest = max((max(abs(across), abs(up)) for across, up in told), default=0.0)
    times = REACH * frame_px[0] / longest if longest >= LEAST_PX else 0.0
    outside = " ".join(point.letter for point in points if not point.inside)
    left_out = f"; outside the frame: {outside}" if outside else ""
    what, by = f"{title}, {glyphs.point} the model", f"{number_text(times, 2)} times"
    said = (f"{what}, drawn {by} as long", f"{what}, {by}", f"{title}, {by}")
    heads = [f"{text}{left_out}" for text in (said if times else (f"{title}: none",))]
    any(canvas.write(0, 0, text) for text in (*heads, f"outside: {outside}"[:width]))
    canvas.box(1, 0, rows, columns - 1)
    dots, tips = Dots(canvas, 1, 2, columns - 2, rows - 1), []
    for point in points:
        if point.across is None or point.up is None or not point.inside:
            continue
        column, row = point.across * (columns - 1), 1 + (1 - point.up) * (rows - 1)
        across, up = point.miss
        if times and across is not None and up is not None:
            to = column + across * times / frame_px[0] * (columns - 1), row - up * times / frame_px[1] * (rows - 1)
            dots.curve(((column, row), to), glyphs.dot, "curve")
            tips.append(_within(to[1], to[0], rows, columns))
        canvas.letter(*_within(row, column, rows, columns), point.letter)
    dots.put()
    for tip in tips:
        canvas.mark(*tip, glyphs.point, "curve")
    return canvas.rows()


def _within(row: float, column: float, rows: int, columns: int) -> tuple[int, int]:
    """Return the nearest cell within the frame, whose own lines stand in rows 1 and `rows` and in the outer columns."""
    return min(max(round(row), 2), rows - 1), min(max(round(column), 1), columns - 2)
