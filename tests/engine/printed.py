"""Printing a page as a person does, by headless Chromium, and measuring what lies there, in mm from the upper left.

The PDF is read by pdfplumber. Where Chromium is not installed the tests that measure skip and say so.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import dist
from pathlib import Path
from typing import Any, Literal

import pytest

Paper = Literal["A4", "letter"]
PAPERS: tuple[Paper, ...] = ("A4", "letter")
PAPER_MM: dict[str, tuple[float, float]] = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
MM = 25.4 / 72
QUIET = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-pdf-header-footer"),
)


def _browser() -> str | None:
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)


@dataclass(frozen=True)
class Text:
    """A run of letters on one line with no gap: its box in mm and its size in points."""

    text: str
    left: float
    top: float
    right: float
    foot: float
    points: float


@dataclass(frozen=True)
class Sheet:
    """One printed page."""

    wide: float
    high: float
    texts: tuple[Text, ...]
    lines: tuple[tuple[tuple[float, float], ...], ...]  # every stroked line or path, as its places

    @property
    def words(self) -> str:
        """All that is written, in the order of the page."""
        return " ".join(text.text for text in self.texts)

    def lengths(self) -> list[float]:
        """The length of each line from its first place to its last along it."""
        return [sum(dist(a, b) for a, b in pairwise(line)) for line in self.lines]

    def overlaps(self) -> list[tuple[Text, Text]]:
        """Return the texts that lie on each other by more than a hair."""
        return [(a, b) for number, a in enumerate(self.texts) for b in self.texts[number + 1 :] if _overlap(a, b)]


def _overlap(a: Text, b: Text, hair: float = 0.25) -> bool:
    across = min(a.right, b.right) - max(a.left, b.left)
    down = min(a.foot, b.foot) - max(a.top, b.top)
    return across > hair and down > hair + 0.2 * min(a.foot - a.top, b.foot - b.top)


def printed(html: str, paper: Paper, folder: Path) -> list[Sheet]:
    """Return the pages as printed on a paper; skips where there is no Chromium."""
    browser = _browser()
    if browser is None:
        pytest.skip("Chromium is not installed: nothing was measured on paper")
    assert "size:" not in html.partition("</style>")[0].partition("@page")[2].partition("}")[0], "it names no paper"
    page, pdf = folder / f"{paper}.html", folder / f"{paper}.pdf"
    page.write_text(html.replace("</head>", f"<style>@page{{size:{paper}}}</style></head>", 1), encoding="utf-8")
    words = [browser, *QUIET, f"--user-data-dir={folder / 'browser'}", f"--print-to-pdf={pdf}", page.as_uri()]
    subprocess.run(words, check=True, capture_output=True, timeout=120)
    return list(_sheets(pdf))


def _sheets(pdf: Path) -> Iterator[Sheet]:
    import pdfplumber

    with pdfplumber.open(pdf) as document:
        for page in document.pages:
            chars = page.extract_words(extra_attrs=["size", "upright"], keep_blank_chars=False, use_text_flow=True)
            yield Sheet(
                page.width * MM,
                page.height * MM,
                tuple(map(_text, chars)),
                tuple(_places(item) for item in (*page.lines, *page.curves, *page.rects) if item["stroke"]),
            )


def _text(word: dict[str, Any]) -> Text:
    left, top, right, bottom = (word[side] * MM for side in ("x0", "top", "x1", "bottom"))
    points = word["size"] if word["upright"] else word["x1"] - word["x0"]  # of a turned one the width is the size
    return Text(word["text"], left, top, right, bottom, points=round(points, 2))


def _places(item: dict[str, Any]) -> tuple[tuple[float, float], ...]:
    places = tuple((x * MM, y * MM) for x, y in item["pts"])
    return (*places, places[0]) if item["object_type"] == "rect" else places
