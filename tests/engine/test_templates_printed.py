"""Templates measured on paper: printed by Chromium on A4 and US letter, every length taken off the PDF.

Widths and heights are worked out here from the full sizes alone: size / S.
"""

from __future__ import annotations

import math
from math import dist
from pathlib import Path
from typing import Any

import pytest
from cases import shot, solve
from printed import PAPERS, Paper, Sheet, printed

from forescale.engine.sheet.templates.pages import RULE_MM, sheet_templates

FOOT, INCH = 304.8, 25.4
ON_TEMPLATE, ON_RULE, ON_BAR = 0.2, 0.1, 0.1  # mm that may be off
PARTS = [
    {"part": "stack", "real": "60 ft", "wide": "6 ft 9 in", "deep": "6 ft 9 in"},
    {"part": "kiln door", "real": "8 ft", "wide": "5 ft", "tall": "8 ft", "quantity": 2},
    {"part": "brick course", "real": "3 in", "pitch": "3 in", "quantity": 24},
]
# A wall 2 m wide and 1 m high with a half round of 1 m on it.
CORNERS = [["1 m left", "0 m"], ["1 m left", "1 m"], ["0 m", "2 m", "arc"], ["1 m right", "1 m"], ["1 m right", "0 m"]]
SHOT: dict[str, Any] = {
    "scale.ratio": "1:24",
    "scale.compare": "1:16",
    "place.lens_height": "1.5 m",
    "build": PARTS,
    "outline": [{"name": "wall", "corners": CORNERS}],
}
BARS = {"imperial": (7 * INCH, 9.5 * INCH), "metric": (180.0, 250.0)}
Line = tuple[tuple[float, float], ...]


def sheets(paper: Paper, folder: Path, system: str = "imperial") -> list[Sheet]:
    changes = SHOT | {"units": system}
    return printed(sheet_templates(shot(changes), solve(changes)), paper, folder)


def straight(sheet: Sheet) -> list[Line]:
    return [line for line in sheet.lines if len(line) == 2]


def check_bars(pages: list[Sheet], system: str) -> None:
    """See both bars on every page but the first, each as long as it says."""
    across, up = BARS[system]
    for page in pages[1:]:
        level = max(abs(a[0] - b[0]) for a, b in straight(page) if abs(a[1] - b[1]) < 0.01 and a[1] > 250)
        assert level == pytest.approx(across, abs=ON_BAR)
        upright = max(abs(a[1] - b[1]) for a, b in straight(page) if abs(a[0] - b[0]) < 0.01 and a[0] < 20)
        assert upright == pytest.approx(up, abs=ON_BAR)


def check_rule(page: Sheet, edge: float, every_mm: float) -> None:
    """See the ticks on a rule's edge at whole steps from its foot, over all its length."""
    level = [(a, b) for a, b in straight(page) if abs(a[1] - b[1]) < 0.01 and 1 < abs(a[0] - b[0]) < 4]
    ticks = sorted(a[1] for a, b in level if abs(a[0] - edge) < 0.1 or abs(b[0] - edge) < 0.1)
    assert len(ticks) > 200 / every_mm
    for tick in ticks:
        steps = round((ticks[-1] - tick) / every_mm)
        assert ticks[-1] - tick == pytest.approx(steps * every_mm, abs=ON_RULE)


def faces(pages: list[Sheet]) -> list[tuple[float, float]]:
    """The width and height of every closed figure of four corners."""
    rings = [line for page in pages for line in page.lines if len(line) == 5 and dist(line[0], line[-1]) < 0.01]
    return [(dist(ring[0], ring[1]), dist(ring[1], ring[2])) for ring in rings]


def has(found: list[tuple[float, float]], wide: float, tall: float) -> bool:
    return any(abs(w - wide) <= ON_TEMPLATE and abs(t - tall) <= ON_TEMPLATE for w, t in found)


@pytest.mark.thorough
def test_a_part_its_rule_and_the_bars_measure_as_they_say(tmp_path: Path) -> None:
    check_paper("A4", "imperial", tmp_path)


@pytest.mark.thorough
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_both_papers_in_both_systems_measure_as_they_say(paper: Paper, system: str, tmp_path: Path) -> None:
    check_paper(paper, system, tmp_path)


def check_paper(paper: Paper, system: str, folder: Path) -> None:
    pages = sheets(paper, folder, system)
    check_bars(pages, system)
    found = faces(pages)
    assert has(found, 5 * FOOT / 24, 8 * FOOT / 24)  # the door
    assert has(found, 6.75 * FOOT / 24, 60 * FOOT / 24)  # the stack, over several pages
    held = 2 * FOOT if system == "imperial" else 600  # the card, the background 64 m off
    check_outline(pages, 1 / 24)
    check_outline(pages, held / 64_000)
    check_courses(pages)
    check_joins(pages)
    rule = next(page for page in pages if "true" in page.words and "left edge" in page.words)
    left = min(text.left for text in rule.texts if text.text == "1:24:")
    check_rule(rule, left, FOOT / 24 / 12 if system == "imperial" else 50 / 24)
    check_rule(rule, left + RULE_MM, INCH / 16 if system == "imperial" else 1.0)
    for page in pages:
        assert not page.overlaps()
        assert min(text.points for text in page.texts) >= 9.99
        assert page.texts, "a blank page"
    assert f"page 1 of {len(pages)}" in pages[0].words
    for number, page in enumerate(pages[1:], start=1):
        assert f"sheet {number} of {len(pages) - 1}" in page.words


def check_outline(pages: list[Sheet], scale: float) -> None:
    """See the wall at a scale: as wide and as high as 2 m, and its edge 1 + 2 + 1 m and the half round's π m long."""
    ways = [line for page in pages for line in page.lines if len(line) > 100]
    for way in ways:
        across, down = zip(*way, strict=True)
        if abs(max(across) - min(across) - 2000 * scale) < 1:
            assert max(across) - min(across) == pytest.approx(2000 * scale, abs=ON_TEMPLATE)
            assert max(down) - min(down) == pytest.approx(2000 * scale, abs=ON_TEMPLATE)
            ring = [*way, way[0]] if dist(way[0], way[-1]) > 0.01 else way
            assert sum(map(dist, ring, ring[1:])) == pytest.approx((4000 + math.pi * 1000) * scale, abs=ON_TEMPLATE)
            return
    raise AssertionError("there is no such outline")


def check_courses(pages: list[Sheet]) -> None:
    """See 24 courses at 1/8 in, each from the datum."""
    page = next(page for page in pages[1:] if "brick course, setting" in page.words)
    ticks = sorted({round(a[1], 3) for a, b in straight(page) if abs(dist(a, b) - 6) < 0.02})
    assert len(ticks) == 24
    for number, tick in enumerate(reversed(ticks)):
        assert ticks[-1] - tick == pytest.approx(number * INCH / 8, abs=ON_RULE)


def check_joins(pages: list[Sheet]) -> None:
    """See the figure that goes over several pages lie the same against a cross on either side of a join."""
    tiles = [page for page in pages if "stack, front" in page.words and "cross" in page.words and "b2" in page.words]
    tiles = [page for page in tiles if any(len(line) == 5 for line in page.lines)][-2:]
    assert len(tiles) == 2
    off = []
    for page in tiles:
        ring = max((line for line in page.lines if len(line) == 5), key=lambda line: dist(line[1], line[2]))
        mark = next(text for text in page.texts if text.text == "b2")
        levels = [a for a, b in straight(page) if abs(dist(a, b) - 10) < 0.02 and abs(a[1] - b[1]) < 0.01]
        cross = min(levels, key=lambda place: dist(place, (mark.left, mark.top)))
        off.append((cross[0] - ring[0][0], cross[1] - ring[0][1]))
    assert off[0] == pytest.approx(off[1], abs=0.05)
