"""What there is to cut, and on which pages it lies."""

from __future__ import annotations

import re

import pytest
from cases import shot, solve

from forescale.engine.findings.words import Words
from forescale.engine.formulas.silhouette import Corner, extent
from forescale.engine.sheet.templates import figures as layout
from forescale.engine.sheet.templates.figures import Figure, face_figure, figures, outline_figure, sides
from forescale.engine.sheet.templates.pages import sheet_templates
from forescale.engine.shot.sections import Part


def part(**sizes: str) -> Part:
    return Part.model_validate({"part": "box", "real": "3 m"} | sizes)


def test_the_full_size_stands_for_the_one_size_left_out() -> None:
    assert sides(part()) == {}
    assert sides(part(wide="1 m")) == {"face": (1000, 3000)}
    assert sides(part(wide="1 m", deep="2 m")) == {"front": (1000, 3000), "side": (2000, 3000), "top": (1000, 2000)}
    assert sides(part(wide="1 m", deep="2 m", tall="4 m"))["front"] == (1000, 4000)


def test_a_full_size_that_is_one_of_two_stands_for_no_third() -> None:
    assert sides(part(wide="3 m", tall="2 m")) == {"front": (3000, 2000)}
    assert sides(part(wide="3 m")) == {}


def test_an_outline_is_as_large_as_it_says_its_arc_on_the_circle() -> None:
    """A wall 2 m wide with a half round top 1 m high, at 1:8: 250 mm wide, 1 m of wall and the arc 125 + 125 mm."""
    corners = [Corner(-1000, 0), Corner(-1000, 1000), Corner(0, 2000, arc=True), Corner(1000, 1000), Corner(1000, 0)]
    figure = outline_figure("wall", "", corners, 8, closed=True)
    assert extent(figure.cut[0]) == pytest.approx((-125, 0, 125, 250))
    for x, y in figure.cut[0]:
        if y > 125.001:
            assert (x**2 + (y - 125) ** 2) ** 0.5 == pytest.approx(125)


def test_small_figures_share_a_page_without_touching() -> None:
    several = [face_figure(f"face {number}", "", 20 + 5 * number, 10 + 20 * number) for number in range(9)]
    for page in layout.shared(several):
        boxes = []
        for figure, (x, y) in page:
            left, bottom, right, top = figure.box
            boxes.append((left + x, bottom + y, right + x, top + y + layout.NAME_MM))
            assert min(boxes[-1]) >= 0
            assert boxes[-1][2] <= layout.WINDOW_WIDE_MM
            assert boxes[-1][3] <= layout.WINDOW_HIGH_MM
        for number, a in enumerate(boxes):
            for b in boxes[number + 1 :]:
                assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_what_goes_over_too_many_pages_is_listed_and_not_printed() -> None:
    changes = {"build": [{"part": "dam", "real": "300 m", "wide": "400 m"}]}
    text = sheet_templates(shot(changes), solve(changes))
    assert "too large to print" in text
    assert text.count("<div class='leaf'>") == 1  # the rule
    assert solve(changes).scale.ratio == 16


def test_a_figure_may_go_over_forty_pages_in_a_row_and_no_more() -> None:
    """Pages of 230 mm laid 10 mm over each other, 10 mm free at either end: 40 · 220 + 10 − 20 mm."""
    for long, count in ((8790, 40), (8790.1, 0)):
        assert len(layout.tiles(Figure("post", "", (((0, 0), (0, long)),)))) == count


RULED = [
    ("imperial", 1, "1/2 in, 1 in, 1 1/2 in"),
    ("imperial", 8, "3 in, 6 in, 9 in"),
    ("imperial", 24, "1 ft, 2 ft, 3 ft"),
    ("imperial", 100, "5 ft, 10 ft, 15 ft"),
    ("imperial", 240, "10 ft, 20 ft, 30 ft"),
    ("imperial", 1000, "50 ft, 100 ft, 150 ft"),
    ("imperial", 2000, "100 ft, 200 ft, 300 ft"),
    ("imperial", 10_000, "500 ft, 1000 ft, 1500 ft"),
    ("metric", 1, "10 mm, 20 mm, 30 mm"),
    ("metric", 4, "50 mm, 100 mm, 150 mm"),
    ("metric", 8, "100 mm, 200 mm, 300 mm"),
    ("metric", 24, "500 mm, 1 m, 1.5 m"),
    ("metric", 100, "1 m, 2 m, 3 m"),
    ("metric", 240, "5 m, 10 m, 15 m"),
    ("metric", 1000, "10 m, 20 m, 30 m"),
    ("metric", 2000, "50 m, 100 m, 150 m"),
    ("metric", 10_000, "100 m, 200 m, 300 m"),
]


@pytest.mark.parametrize(("system", "ratio", "words"), RULED)
def test_the_words_of_a_rule_stand_at_round_lengths(system: str, ratio: float, words: str) -> None:
    """The next step at which they stand 9 mm of paper or more apart: at 1:24, 216 mm in full size or more."""
    changes = {"units": system, "scale.ratio": ratio}
    text = sheet_templates(shot(changes), solve(changes))
    _, _, ruled = text.partition(f"1:{ratio}: full size")
    assert re.findall(r'text-anchor="start">([^<]*)<', ruled)[:3] == words.split(", ")


def test_a_part_of_one_length_gets_a_rod_and_one_too_small_its_reason() -> None:
    """A post of 4 m at 1:16 is 250 mm; a bead of 5 mm is 0.3 mm, less than a pencil line is worth."""
    changes = {"scale.ratio": "1:16", "build": [{"part": "post", "real": "4 m"}, {"part": "bead", "real": "5 mm"}]}
    post, bead, *_ = figures(Words(solve(changes)))
    assert post.name == "post, length"
    assert post.box == pytest.approx((0, 0, 6, 250))
    assert [text for _, text in post.words] == ["0", "250 mm"]
    assert bead.lines == ()
    text = sheet_templates(shot(changes), solve(changes))
    assert "post, length" in text
    assert re.search(r"bead, length</td><td>[^<]*no width is given</td><td>too small to draw", text)


def test_a_background_at_infinity_has_no_card() -> None:
    changes = {"build": [{"part": "gate", "real": "3 m", "wide": "1 m"}], "place.background": "inf"}
    assert not any("cut-out" in figure.name for figure in figures(Words(solve(changes))))
    near = changes | {"place.background": "64030 mm"}
    assert any("cut-out" in figure.name for figure in figures(Words(solve(near))))


def test_names_that_could_do_harm_come_out_as_text() -> None:
    name = "<script>alert(1)</script>\" onload='x' \x1b[31m\u202e"
    changes = {"title": name, "build": [{"part": name, "real": "3 m", "wide": "1 m"}]}
    text = sheet_templates(shot(changes), solve(changes))
    assert "<script" not in text
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert not re.search(r"<(?!style)[^>]*\bonload=", text)
    assert set(re.findall(r"https?://[^\"' <]+", text)) <= {"http://www.w3.org/2000/svg"}


def test_a_figure_may_take_the_room_of_a_page_to_the_last_millimetre() -> None:
    """178 by 230 mm, less 7 to each side, and 11 over it for its name and 7 under it."""
    for wide, high, fits in ((164, 212, True), (164.1, 212, False), (164, 212.1, False)):
        assert layout.is_small(Figure("gate", "", (((0, 0), (wide, high)),))) is fits
    halves = [Figure(name, "", (((0, 0), (160, 97)),)) for name in "ab"]  # 97 + 11 + 7 is half of 230
    assert [[figure.name for figure, _ in page] for page in layout.shared(halves)] == [["a", "b"]]


def test_a_cross_is_named_beside_it_towards_the_middle_of_the_page() -> None:
    changes = {"build": [{"part": "dam", "real": "4 m", "wide": "8 m"}]}
    text = sheet_templates(shot(changes), solve(changes))
    level = re.findall(r'<line class="tick" x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="\2"/>', text)
    middles = {(float(start) + float(end)) / 2 for start, _, end in level}
    names = re.findall(r'<text class="text" x="([\d.]+)" y="[\d.]+" text-anchor="(start|end)">[a-z]\d</text>', text)
    assert {side for _, side in names} == {"start", "end"}
    assert {float(x) + (-1 if side == "start" else 1) for x, side in names} <= middles


def test_small_figures_stand_beside_each_other_while_there_is_room() -> None:
    """Three of 50 mm and their gaps of 7 go into 178 mm, the fourth under them."""
    figures_there = [Figure(name, "", (((0, 0), (50, 20)),)) for name in "abcd"]
    (page,) = layout.shared(figures_there)
    assert [place[0] for _, place in page] == [0, 57, 114, 0]
    assert page[0][1][1] == page[1][1][1] == page[2][1][1] == page[3][1][1] + 20 + layout.NAME_MM + layout.GAP_MM


def test_both_centre_lines_of_a_face_run_past_its_edges() -> None:
    assert face_figure("gate", "", 100, 200).box == (-4, -4, 104, 204)
