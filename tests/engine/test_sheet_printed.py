"""The pages measured as Chromium prints them, on A4 and US letter: their number, their texts, what page 1 says."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from cases import shipped, solve
from hypothesis import HealthCheck, Phase, given, reject, settings
from hypothesis import strategies as st
from printed import PAPER_MM, PAPERS, Paper, Sheet, printed
from shot_strategies import worded_changes
from strategies import kits

from forescale.engine.answer import Answer, answer_file
from forescale.engine.answer.to_set import to_set
from forescale.engine.files.faults import BadInput
from forescale.engine.sheet.page import sheet_html
from forescale.engine.shot.records import Shot

SET_PT, LEAST_PT = 17.99, 9.99
SHOTS = 50
MARGIN_MM = 9.5  # of 10: a PDF has whole points for the page and rounded letters


def check(pages: list[Sheet], paper: Paper, found: Answer) -> None:
    """See what holds of any shot: page 1 is one page, none is blank, nothing small, nothing lies on anything else."""
    assert "WITH" in [text.text for text in pages[1].texts[:30]], "page 1 is one page"
    for number, page in enumerate(pages, start=1):
        assert (page.wide, page.high) == pytest.approx(PAPER_MM[paper], abs=0.5)
        assert f"page {number} of {len(pages)}" in page.words
        assert re.search(r"\d{4}-\d{2}-\d{2}", page.words)
        assert len(page.texts) > 12, "a page with nothing on it"
        assert min(text.points for text in page.texts) >= LEAST_PT
        assert not page.overlaps()
        for text in page.texts:
            assert text.left >= MARGIN_MM
            assert text.right <= page.wide - MARGIN_MM, (number, text)
            assert text.foot <= page.high - MARGIN_MM
    check_first(pages[0], found)


def check_first(page: Sheet, found: Answer) -> None:
    """See everything that is set by hand on page 1, at 18 points, each with a box for what was shot."""
    large = " ".join(text.text for text in page.texts if text.points >= SET_PT)
    assert "SET" in page.words
    items = [item for item in to_set(found) if not item.path.startswith("point.")]
    for item in items:
        if re.fullmatch(r"[ -~]{1,12}", item.text) and "  " not in item.text:
            assert item.text in large, item
    boxes = [line for line in page.lines if len(line) == 5]
    assert len(boxes) >= len(items)


@pytest.mark.thorough
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_the_demos_print_as_they_should(name: str, paper: Paper, tmp_path: Path) -> None:
    shot, found = answer_file(shipped("shots", name))
    html = sheet_html(shot, found)
    pages = printed(html, paper, tmp_path)
    check(pages, paper, found)
    assert len(pages) <= 8
    for finding in found.findings:
        if finding.code.startswith("caution-"):
            assert finding.text.split()[0] in pages[0].words


EVERYTHING: dict[str, Any] = {
    "title": "The weir house goes over while the whole village looks on from the other bank " * 3,
    "action.kind": "fire, water, smoke, falling, driven",
    "place.lens_height": "2.2 m",
    "place.feature_height": "12 m",
    "stand.area": "1.1 m2",
    "stand.area_height": "0.9 m",
    "stand.weight": "40 kg",
    "stand.foot_deep": "1.2 m",
    "lamp": [{"name": "key", "gives": "2000 lx", "at": "3 m", "stands": "2 m"}],
    "move.axis": "pan",
    "move.sweep": "15 deg",
    "move.start": "5 deg",
    "move.tilt_sweep": "3 deg",
    "move.travel": "400 mm right",
    "move.screen_time": "5 s",
    "move.slide": "60 mm",
    "point": [
        {"name": f"point {n}", "distance": "60 m", "aside": "1 m left", "height": f"{n} m"} for n in range(1, 41)
    ],
    "sun.latitude": "51.2 deg N",
    "sun.longitude": "2.4 deg W",
    "sun.date": "2026-06-21",
    "sun.time": "20:30",
    "sun.utc_offset": "+1 h",
    "sun.facing": "300 deg",
}


@pytest.mark.thorough
@pytest.mark.parametrize("paper", PAPERS)
def test_page_1_holds_what_is_set_every_caution_and_where_the_rest_is(paper: Paper, tmp_path: Path) -> None:
    """What has no room there, points and findings, is left out whole, and the page says that all stand farther on."""
    found = solve(EVERYTHING)
    assert isinstance(found.setting, Shot)
    pages = printed(sheet_html(found.setting, found), paper, tmp_path)
    check(pages, paper, found)
    first, rest = pages[0].words, " ".join(page.words for page in pages[1:])
    cautions = [one.text for one in found.findings if one.code.startswith("caution-")]
    assert len(cautions) == 11
    assert all(" ".join(text.split()[:6]) in first for text in cautions)
    assert "POINTS (40 in all, under What the lens sees)" in first
    assert "point 1 over the ground" in first
    assert "point 40" not in first
    assert "point 40" in rest
    assert " ".join(EVERYTHING["title"].split()) in rest


@cache
def generated() -> list[tuple[Answer, Paper]]:
    """Fifty answers to any shot with a paper for each; the same in each process."""
    answers: list[tuple[Answer, Paper]] = []

    @given(worded_changes(), kits(), st.sampled_from(PAPERS))
    @settings(max_examples=SHOTS, phases=[Phase.generate], derandomize=True, suppress_health_check=list(HealthCheck))
    def collect(changes: dict[str, Any], kit: dict[str, Any], paper: Paper) -> None:
        try:
            answers.append((solve(changes, mode=kit["mode"], lens=kit["lens"], head=kit["head"]), paper))
        except BadInput:
            reject()

    collect()
    return answers


@pytest.mark.thorough
@pytest.mark.parametrize("number", range(SHOTS))  # a test each, so that all processors share them
def test_any_shot_prints_as_it_should(number: int, tmp_path: Path) -> None:
    found, paper = generated()[number]
    assert isinstance(found.setting, Shot)
    check(printed(sheet_html(found.setting, found), paper, tmp_path), paper, found)
