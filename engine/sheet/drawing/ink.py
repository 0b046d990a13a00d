"""Marks on paper: SVG elements in millimetres from the upper left corner."""

import html

from forescale.engine.sheet.cells import clean, powerless, width

Box = tuple[float, float, float, float]  # left, top, width, height
Span = tuple[float, float]  # from one height on paper to another
TEXT_MM = 3.53  # 10 pt
ARROW_MM = 1.6
_NARROW = frozenset("iljtfrI.,:;'|!()[]/ -")
_BROAD = frozenset("mwMW@%—…")

STYLE = """
.line{fill:none;stroke:#000;stroke-width:.18}
.bold{fill:none;stroke:#000;stroke-width:.7}
.dash{fill:none;stroke:#000;stroke-width:.18;stroke-dasharray:1.6 1.1}
.chain{fill:none;stroke:#000;stroke-width:.2;stroke-dasharray:5 1 .8 1}
.cut{fill:none;stroke:#000;stroke-width:.5}
.tick{fill:none;stroke:#000;stroke-width:.15}
.faint{fill:none;stroke:#888;stroke-width:.13}
.solid{fill:#000;stroke:none}
.grey{fill:#bbb;stroke:none}
.paper{fill:#fff;stroke:none}
.text{font-family:Arial,Helvetica,sans-serif;font-size:3.53px;fill:#000}
.head{font-family:Arial,Helvetica,sans-serif;font-size:4.2px;font-weight:bold;fill:#000}
""".strip()


def escaped(text: str) -> str:
    """Return a text as XML may hold it, inside an element or a quoted attribute, without control characters."""
    return html.escape(powerless(text))


def text_width_mm(text: str) -> float:
    """Return about how wide a label comes out, rather more: by the widths of a common sans-serif's letters."""
    return TEXT_MM * sum(map(_letter, text))


def _letter(char: str) -> float:
    """Return the width of a letter, as a share of the size of the type."""
    if char in _NARROW:
        return 0.32
    if char in _BROAD:
        return 0.92
    return 0.74 if char.isupper() else 0.59 if char.isascii() else max(width(char) * 0.62, 0.0)


def fitted(text: str, room_mm: float) -> str:
    """Return a text that takes no more than so much room, cut with an ellipsis."""
    text = clean(text)
    if text_width_mm(text) <= room_mm:
        return text
    while text and text_width_mm(f"{text}…") > room_mm:
        text = text[:-1]
    return f"{text.rstrip()}…"


def _meet(one: Box, other: Box) -> bool:
    """Return whether two boxes lie on each other."""
    return all(one[side] < other[side] + other[side + 2] and other[side] < one[side] + one[side + 2] for side in (0, 1))


class Ink:
    """Collects the elements of a drawing in the order in which they are to lie on each other."""

    def __init__(self) -> None:
        """Begin with a blank paper."""
        self.elements: list[str] = []
        self.labels: list[Box] = []

    def line(self, x1: float, y1: float, x2: float, y2: float, style: str = "line") -> None:
        """Draw a straight line."""
        self.elements.append(f'<line class="{style}" x1="{x1:.2f}" y1="{y1:.2f}" x2="{x2:.2f}" y2="{y2:.2f}"/>')

    def shape(self, points: list[tuple[float, float]], style: str = "solid", *, closed: bool = True) -> None:
        """Draw a polygon, or an open run of lines."""
        listed = " ".join(f"{x:.2f},{y:.2f}" for x, y in points)
        self.elements.append(f'<{"polygon" if closed else "polyline"} class="{style}" points="{listed}"/>')

    def box(self, x: float, y: float, wide: float, high: float, style: str = "line") -> None:
        """Draw a rectangle from its upper left corner."""
        size = f'width="{wide:.2f}" height="{high:.2f}"'
        self.elements.append(f'<rect class="{style}" x="{x:.2f}" y="{y:.2f}" {size}/>')

    def circle(self, x: float, y: float, radius: float, style: str = "line") -> None:
        """Draw a circle about its middle."""
        self.elements.append(f'<circle class="{style}" cx="{x:.2f}" cy="{y:.2f}" r="{radius:.2f}"/>')

    def text(
        self, x: float, y: float, text: str, *, anchor: str = "start", style: str = "text", up: bool = False
    ) -> None:
        """Write a text with its foot at y; `up` turns it to read from below, about the same place."""
        turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if up else ""
        place = f'x="{x:.2f}" y="{y:.2f}" text-anchor="{anchor}"'
        self.elements.append(f'<text class="{style}" {place}{turn}>{escaped(clean(text))}</text>')

    def label(
        self, x: float, y: float, text: str, *, anchor: str = "middle", up: bool = False, within: Span | None = None
    ) -> None:
        """Write a text with its middle at the height y, on a patch of paper that keeps it legible over lines.

        Where another label lies there it stands in the next free line above or below, `up` to the left or right; one
        that must stand `within` two heights is left out where no line there is free.
        """
        long = text_width_mm(text)
        high = TEXT_MM * 1.1
        before = {"start": 0.0, "middle": long / 2, "end": long}[anchor]
        for step in (0, -1, 1, -2, 2, -3, 3, None):
            aside = (step or 0) * (high + 0.1)
            box = (x - before, y - high / 2 + aside, long, high)
            if up:
                box = (x - high / 2 + aside, y - long + before, high, long)
            inside = within is None or within[0] < box[1] < within[1] - high
            if inside and not any(_meet(box, other) for other in self.labels):
                break
        if step is None and within is not None:
            return
        self.labels.append(box)
        self.box(*box, "paper")
        x, y = (x + aside + TEXT_MM * 0.35, y) if up else (x, y + aside + TEXT_MM * 0.35)
        self.text(x, y, text, anchor=anchor, up=up)

    def across(self, x1: float, x2: float, y: float, label: str) -> None:
        """Draw a dimension from left to right with its label in it, or beside it where it is too short for one."""
        self.line(x1, y, x2, y)
        self._arrow(x1, y, -1, 0)
        self._arrow(x2, y, 1, 0)
        inside = x2 - x1 > text_width_mm(label) + 4
        self.label((x1 + x2) / 2 if inside else x2 + 1.5, y, label, anchor="middle" if inside else "start")

    def upright(self, x: float, top: float, foot: float) -> None:
        """Draw a dimension up and down, without its label."""
        self.line(x, top, x, foot)
        self._arrow(x, top, 0, -1)
        self._arrow(x, foot, 0, 1)

    def _arrow(self, x: float, y: float, right: int, down: int) -> None:
        """Draw an arrow's head with its tip at a place."""
        back_x, back_y = x - right * ARROW_MM, y - down * ARROW_MM
        aside_x, aside_y = down * ARROW_MM / 5, right * ARROW_MM / 5
        self.shape([(x, y), (back_x + aside_x, back_y + aside_y), (back_x - aside_x, back_y - aside_y)])

    def clip(self, name: str, x: float, y: float, wide: float, high: float) -> None:
        """Let nothing that follows, up to `end`, show outside a rectangle."""
        window = f'<rect x="{x:.2f}" y="{y:.2f}" width="{wide:.2f}" height="{high:.2f}"/>'
        self.elements.append(f'<clipPath id="{name}">{window}</clipPath><g clip-path="url(#{name})">')

    def end(self) -> None:
        """End what `clip` began."""
        self.elements.append("</g>")

    def svg(self, wide: float, high: float, title: str) -> str:
        """Return the drawing as one element, so many millimetres wide and high."""
        size = f'width="{wide:g}mm" height="{high:g}mm" viewBox="0 0 {wide:g} {high:g}"'
        opening = f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img">'
        name = f"<title>{escaped(clean(title))}</title>"
        return "\n".join((opening, name, f"<style>{STYLE}</style>", *self.elements, "</svg>\n"))
