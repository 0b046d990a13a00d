"""The pages measured as Chromium prints them, on A4 and US letter: their number, their texts, what page 1 says."""

from __future__ import annotations

import re
from pathlib import Path
from tempfile import TemporaryDirectory
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
MARGIN_MM = 9.5  # of 10: a PDF has whole points for the page and rounded letters


def check(html: str, pages: list[Sheet], paper: Paper, found: Answer) -> None:
    """See what holds of any shot: as many pages as it says, none blank, nothing small, nothing on anything else."""
    assert len(pages) == html.count("<div class='leaf'>")
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
    check(html, pages, paper, found)
    assert len(pages) <= 8
    for finding in found.findings:
        if finding.code.startswith("caution-"):
            assert finding.text.split()[0] in pages[0].words


@pytest.mark.wild
@given(worded_changes(), kits(), st.sampled_from(PAPERS))
@settings(
    max_examples=50, deadline=None, phases=[Phase.generate], suppress_health_check=list(HealthCheck), derandomize=True
)
def test_any_shot_prints_as_it_should(changes: dict[str, Any], kit: dict[str, Any], paper: Paper) -> None:
    try:
        found = solve(changes, mode=kit["mode"], lens=kit["lens"], head=kit["head"])
    except BadInput:
        reject()
    assert isinstance(found.setting, Shot)
    html = sheet_html(found.setting, found)
    with TemporaryDirectory() as folder:
        check(html, printed(html, paper, Path(folder)), paper, found)
