"""Printing a page as a person does, by headless Chromium, and measuring what lies there, in mm from the upper left.

One browser prints all pages of a process, told so through a pipe by its DevTools protocol. The PDF is read by
pdfplumber. Where Chromium is not installed the tests that measure skip and say so.
"""

from __future__ import annotations

import atexit
import base64
import json
import os
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from itertools import pairwise, takewhile
from math import dist
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

import pytest

Paper = Literal["A4", "letter"]
PAPERS: tuple[Paper, ...] = ("A4", "letter")
PAPER_MM: dict[str, tuple[float, float]] = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
MM = 25.4 / 72
QUIET = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync", "--remote-debugging-pipe"),
)


class Browser:
    """A headless Chromium that listens on its descriptor 3 and answers on 4, messages of JSON that end in a zero."""

    def __init__(self, program: str) -> None:
        self.folder = TemporaryDirectory(ignore_cleanup_errors=True)
        hears, self.told = os.pipe()
        self.said, says = os.pipe()

        def put() -> None:  # the pipes where the browser looks for them
            ends = os.dup(hears), os.dup(says)
            os.dup2(ends[0], 3)
            os.dup2(ends[1], 4)

        words = [program, *QUIET, f"--user-data-dir={self.folder.name}"]
        self.process = subprocess.Popen(
            words, close_fds=False, preexec_fn=put, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        os.close(hears)
        os.close(says)
        self.heard, self.count, self.loaded = b"", 0, False

    def ask(self, method: str, session: str | None = None, **params: Any) -> dict[str, Any]:
        """Return what the browser answers to a command of its protocol."""
        self.count += 1
        message = {"id": self.count, "method": method, "params": params}
        message |= {"sessionId": session} if session else {}
        os.write(self.told, json.dumps(message).encode() + b"\0")
        while (answer := self._hear()).get("id") != self.count:
            pass
        assert "error" not in answer, answer
        return answer["result"]

    def _hear(self) -> dict[str, Any]:
        while b"\0" not in self.heard:
            more = os.read(self.said, 1 << 20)
            assert more, "the browser has ended"
            self.heard += more
        message, _, self.heard = self.heard.partition(b"\0")
        told = json.loads(message)
        self.loaded = self.loaded or told.get("method") == "Page.loadEventFired"
        return told

    def pdf(self, page: Path) -> bytes:
        """Return a page as it prints, on the paper that its style names."""
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        self.ask("Page.enable", session)
        self.loaded = False
        self.ask("Page.navigate", session, url=page.as_uri())
        while not self.loaded:
            self._hear()
        found = self.ask("Page.printToPDF", session, preferCSSPageSize=True)["data"]
        self.ask("Target.closeTarget", targetId=target)
        return base64.b64decode(found)

    def close(self) -> None:
        """End the browser and what it kept."""
        self.process.kill()
        self.process.wait()
        self.folder.cleanup()


@cache
def browser() -> Browser | None:
    """Return the browser of this process, None where there is no Chromium."""
    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
    if program is None:
        return None
    found = Browser(program)
    atexit.register(found.close)
    return found


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
        ordered = sorted(self.texts, key=lambda text: text.top)
        return [
            (a, b)
            for number, a in enumerate(ordered, start=1)
            for b in takewhile(lambda b, foot=a.foot: b.top < foot, ordered[number:])  # type: ignore[misc]
            if _overlap(a, b)
        ]


def _overlap(a: Text, b: Text, hair: float = 0.25) -> bool:
    across = min(a.right, b.right) - max(a.left, b.left)
    down = min(a.foot, b.foot) - max(a.top, b.top)
    return across > hair and down > hair + 0.2 * min(a.foot - a.top, b.foot - b.top)


def printed(html: str, paper: Paper, folder: Path) -> list[Sheet]:
    """Return the pages as printed on a paper; skips where there is no Chromium."""
    if (found := browser()) is None:
        pytest.skip("Chromium is not installed: nothing was measured on paper")
    assert "size:" not in html.partition("</style>")[0].partition("@page")[2].partition("}")[0], "it names no paper"
    page = folder / f"{paper}.html"
    page.write_text(html.replace("</head>", f"<style>@page{{size:{paper}}}</style></head>", 1), encoding="utf-8")
    return list(_sheets(found.pdf(page)))


def _sheets(pdf: bytes) -> Iterator[Sheet]:
    import pdfplumber

    with pdfplumber.open(BytesIO(pdf)) as document:
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
