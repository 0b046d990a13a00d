"""The drawing: true to the scale it states, lines of sight straight, breaks said, and one self-contained file."""

from __future__ import annotations

import itertools
import math
import re
from xml.etree import ElementTree

import pytest
from cases import LEVEL, again, shipped, shot, solve
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.sheet.drawing.ink import TEXT_MM, Ink, escaped, fitted, text_width_mm
from forescale.engine.sheet.drawing.page import sheet_svg
from forescale.engine.sheet.drawing.shot_views import ROW_MM, draw_plan, draw_side, plan_view, side_view
from forescale.engine.sheet.drawing.views import ASIDE_MM, dimension, levelled, paper_scale, scale_text, strip
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot

SVG = "{http://www.w3.org/2000/svg}"
DRAWN_MM = 0.011  # places are written to 0.01 mm, so a distance between two is right to that
FOOT = 304.8


def level(name: str) -> tuple[Shot, Answer]:
    """A demo seen by a level lens, with nothing in its picture: the plain lines of the drawing."""
    whole, found = answer_file(shipped("shots", name))
    plain = edit.changed(whole, LEVEL)
    assert isinstance(plain, Shot)
    return plain, again(found, plain)


def drawing(name: str) -> ElementTree.Element:
    return ElementTree.fromstring(sheet_svg(*level(name)))


def texts(drawn: ElementTree.Element) -> list[str]:
    return ["".join(element.itertext()) for element in drawn.iter(f"{SVG}text")]


def uprights(drawn: ElementTree.Element, view: str) -> list[tuple[float, float]]:
    """Return the bold upright lines of a view, left to right, each by its place and its length on paper."""
    group = next(g for g in drawn.iter(f"{SVG}g") if g.get("clip-path") == f"url(#{view})")
    lines = [line for line in group.iter(f"{SVG}line") if line.get("class") == "bold"]
    ends = [[float(line.get(end, "nan")) for end in ("x1", "x2", "y1", "y2")] for line in lines]
    return sorted((x1, y2 - y1) for x1, x2, y1, y2 in ends if x1 == x2)


def scales(drawn: ElementTree.Element) -> list[tuple[float, float]]:
    """Return the scales that each view says it is drawn to, before and beyond its break."""
    said = [text for text in texts(drawn) if text.startswith("to scale")]
    return [(float(found[0]), float(found[-1])) for text in said if (found := re.findall(r"1:([\d.]+)", text))]


@pytest.mark.parametrize(
    ("name", "model", "background"), [("kiln-stack", 10 * FOOT, 240 * FOOT), ("lock-gate", 4530, 36000)]
)
@pytest.mark.parametrize("view", ["plan", "side"])
def test_the_model_stands_at_the_stated_scale(name: str, model: float, background: float, view: str) -> None:
    drawn = drawing(name)
    before, beyond = scales(drawn)[0 if view == "plan" else 1]
    sensor, stood, real = (place for place, _ in uprights(drawn, view))
    assert (stood - sensor) * before == pytest.approx(model, abs=2 * DRAWN_MM * before)
    # Beyond the break the place is shrunk about the pupil, which lies ahead of the sensor by a few paper hundredths.
    pupil_on_paper = 24 / before if name == "kiln-stack" else 31 / before
    assert (real - sensor - pupil_on_paper) * beyond == pytest.approx(background, rel=0.002)


def test_the_model_is_as_wide_as_it_must_cover() -> None:
    drawn = drawing("kiln-stack")
    _, found = level("kiln-stack")
    (before, _), *_ = scales(drawn)
    assert uprights(drawn, "plan")[1][1] * before == pytest.approx(
        found.lineup.cover_width_mm, abs=2 * DRAWN_MM * before
    )


def test_the_line_of_sight_meets_both_points() -> None:
    """A point h above the lens at the background D lies on the straight line through h·d/D at the model's d."""
    _, found = level("kiln-stack")
    view = side_view(found, 20, 20, 270, 80)
    setup = found.setup
    rise = 20 * FOOT - 5 * FOOT
    built = rise / found.scale.ratio
    slopes = [
        (view.axis - view.height(height, distance)) / (view.strip.at(distance) - view.strip.start_mm)
        for height, distance in ((built, setup.model_mm), (rise, setup.background_mm))
    ]
    # The model stands 0.76 % off its exact match (24.18 for 24), and so does the line.
    assert slopes[0] == pytest.approx(slopes[1] * found.lineup.size_error, rel=1e-9)


def test_every_distance_that_a_crew_tapes_is_dimensioned() -> None:
    written = texts(drawing("kiln-stack"))
    for label in ("nearest part 9 ft 4 in", "model 10 ft", "background 240 ft", "lens 5 ft", "point 20 ft"):
        assert label in written
    for begins in ("focus mark ", "frame ", "cover ", "sharp "):
        assert any(text.startswith(begins) for text in written)


def test_a_point_whose_name_has_no_room_is_numbered_and_told_beside() -> None:
    names = {"upper corner of the gable towards the road": "2200 mm left", "post": "300 mm right"}
    names["lower left corner of the door of the third house"] = "800 mm right"
    rows = [{"name": name, "distance": "12030 mm", "aside": aside, "height": "2 m"} for name, aside in names.items()]
    changes = {"place.lens_height": "1500 mm", "point": rows}
    drawn = ElementTree.fromstring(sheet_svg(shot(changes), solve(changes)))
    group = next(g for g in drawn.iter(f"{SVG}g") if g.get("clip-path") == "url(#sight)")
    assert texts(group) == ["1", "2 post", "3"]
    first, _, third = names
    assert " ".join(texts(drawn)).endswith(f"Point 1: {first} Point 3: {third}")


def test_a_break_is_said_and_drawn_only_where_it_is_needed() -> None:
    far, near = drawing("kiln-stack"), ElementTree.fromstring(sheet_svg(*solved_pair(3.0)))
    assert all("up to the break" in text for text in texts(far) if text.startswith("to scale"))
    assert len(broken(far)) == 4
    assert not any("break" in text for text in texts(near))
    assert not broken(near)


def broken(drawn: ElementTree.Element) -> list[ElementTree.Element]:
    """Return the lines of the breaks in the views from above and from the side."""
    groups = [g for g in drawn.iter(f"{SVG}g") if g.get("clip-path") != "url(#sight)"]
    return [line for group in groups for line in group.iter(f"{SVG}polyline")]


def solved_pair(times: float) -> tuple[Shot, Answer]:
    changes = {"place.background": f"{30 + 4000 * times} mm", "scale.ratio": times}
    return shot(changes), solve(changes)


def test_a_background_at_infinity_is_said_not_to_be_to_scale() -> None:
    changes = {"place.background": "inf"}
    written = texts(ElementTree.fromstring(sheet_svg(shot(changes), solve(changes))))
    assert written.count("background at infinity") == 2
    assert any("beyond it not to scale" in text for text in written)


def test_without_a_lens_height_no_ground_is_drawn_and_it_is_said() -> None:
    assert any("Lens height not taped" in text for text in texts(drawing("signal-lamp")))


@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_the_file_stands_alone(name: str) -> None:
    text = sheet_svg(*answer_file(shipped("shots", name)))
    assert text.startswith('<?xml version="1.0" encoding="UTF-8"?>\n<svg ')
    assert set(re.findall(r"https?://[^\"' <]+", text)) == {"http://www.w3.org/2000/svg"}
    assert not re.search(r"<script|<image|href|@import|url\((?!#)", text)


@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_what_is_drawn_lies_within_its_frame(name: str) -> None:
    drawn = drawing(name)
    _, _, wide, high = map(float, drawn.get("viewBox", "").split())
    for element in drawn.iter(f"{SVG}text"):
        assert 0 < float(element.get("x", "nan")) < wide
        assert 0 < float(element.get("y", "nan")) < high


def test_the_title_block_names_shot_kit_and_setting() -> None:
    written = " ".join(texts(drawing("kiln-stack")))
    for word in ("The kiln stack falls", "demo-cine-35", "demo-prime-35", "1:24", "120 fps", "slide at 63 mm"):
        assert word in written


def test_the_plan_lies_lengthwise_whatever_way_the_move_goes() -> None:
    _, found = level("kiln-stack")
    view = plan_view(found, 20, 20, 270, 120)
    assert view.top < view.axis < view.foot
    assert view.foot - view.axis > view.axis - view.top, "the move, drawn downwards, takes the larger part"


@given(st.floats(1e-3, 1e9))
def test_a_drawing_scale_is_the_next_handy_one(smallest: float) -> None:
    scale = paper_scale(smallest)
    assert smallest * (1 - 1e-9) <= scale <= smallest * 4 / 3 * (1 + 1e-9)  # the widest step is from 1.5 to 2


@pytest.mark.parametrize(("scale", "text"), [(40, "1:40"), (2.5, "1:2.5"), (0.2, "5:1"), (1, "1:1")])
def test_a_scale_is_written_as_on_a_drawing(scale: float, text: str) -> None:
    assert scale_text(scale) == text


@given(st.floats(500, 20_000), st.floats(1.0, 1e5))
def test_a_strip_keeps_order_and_stays_on_the_paper(reach: float, times: float) -> None:
    along = strip(20.0, 270.0, reach, reach * times, 1.0)
    distances = [reach * share for share in (0, 0.3, 1, 1.1, math.sqrt(times), times)]
    places = [along.at(distance) for distance in sorted(distances)]
    assert places == sorted(places)
    assert all(20.0 <= place <= 270.0 for place in places)
    assert along.shows(reach)
    assert along.shows(reach * times)
    assert along.at(math.inf) == 270.0


def test_a_mark_of_xml_in_a_title_stays_a_text() -> None:
    changes = {"title": "<b>&\"'"}
    drawn = ElementTree.fromstring(sheet_svg(shot(changes), solve(changes)))
    assert drawn.findtext(f"{SVG}title") == "<b>&\"'"
    assert escaped("<b>&\"'") == "&lt;b&gt;&amp;&quot;&#x27;"


def up_and_down(element: ElementTree.Element) -> tuple[float, float]:
    """Return the paper heights between which a text stands."""
    y, long = float(element.get("y", "nan")), text_width_mm("".join(element.itertext()))
    return (y - long / 2, y + long / 2) if element.get("transform") else (y - TEXT_MM, y)


@pytest.mark.parametrize("moves", [{}, {"move.axis": "tilt", "move.sweep": "15 deg"}, {"move.axis": "none"}])
@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_no_label_lies_on_an_axis(name: str, moves: dict[str, str]) -> None:
    setting, found = level(name)
    changed = edit.changed(setting, moves)
    drawn = ElementTree.fromstring(sheet_svg(setting, answer(changed, found.kit, found.system)))
    chains = [line for line in drawn.iter(f"{SVG}line") if line.get("class") == "chain"]
    axes = [float(line.get("y1", "nan")) for line in chains]
    assert len(axes) == 2
    for element in drawn.iter(f"{SVG}text"):
        top, foot = up_and_down(element)
        assert not any(top < axis < foot for axis in axes), "".join(element.itertext())


def test_the_sharp_zone_stands_clear_of_the_view_below() -> None:
    drawn = drawing("kiln-stack")
    (zone,) = [box for box in drawn.iter(f"{SVG}rect") if box.get("class") == "grey"]
    below = min(float(line.get("y1", "nan")) for line in drawn.iter(f"{SVG}line") if line.get("x1") == "1.00")
    lines = sorted({float(line.get("y1", "nan")) for line in drawn.iter(f"{SVG}line") if line.get("x1") == "1.00"})
    foot = float(zone.get("y", "nan")) + float(zone.get("height", "nan"))
    assert below < foot < lines[1] - 0.5


def test_a_dimension_too_short_for_its_label_has_it_beside() -> None:
    ink = Ink()
    ink.across(10, 12, 5, "a long label")
    label = next(element for element in ink.elements if element.startswith("<text"))
    assert 'text-anchor="start"' in label
    assert float(re.search(r'x="([\d.]+)"', label)[1]) > 12


def test_a_label_beside_a_dimension_ends_three_mm_past_the_end_at_most() -> None:
    view, label = plan_view(solve(), 20, 20, 270, 120), "wide 3 m"
    fits = view.strip.end_mm + 3 - 1 - text_width_mm(label)
    for x, right in ((fits - 0.1, True), (fits + 0.1, False)):
        ink = Ink()
        dimension(ink, view, x, (view.axis + 20, view.axis + 22), label)
        (left, _, wide, _) = ink.labels[-1]
        assert (left > x) is right
        assert left + wide <= view.strip.end_mm + 3 + DRAWN_MM


@pytest.mark.parametrize(
    ("axis", "sweep", "start", "where"),
    [
        ("pan", 10, 0, "the end of the move, turned right"),
        ("tilt", 10, 0, "the end of the move, turned up"),
        ("tilt down", 10, 0, "the end of the move, turned down"),
        ("pan left", 0, 10, "the start of the move, turned right"),
        ("pan", 10, 10, "both ends of the move"),
    ],
)
def test_the_dashes_are_said_to_be_where_the_move_ends(axis: str, sweep: int, start: int, where: str) -> None:
    changes = {"move.axis": axis, "move.sweep": f"{sweep} deg", "move.start": f"{start} deg"}
    drawing = " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", sheet_svg(shot(changes), solve(changes))))
    assert f"Dashes: the frame at {where}." in drawing


def test_a_label_is_cut_only_where_it_is_longer_than_its_room() -> None:
    text = "The kiln stack"
    assert fitted(text, text_width_mm(text)) == text
    assert fitted(text, text_width_mm("The kiln s…")) == "The kiln s…"
    assert fitted(text, text_width_mm("The kiln s…") - 0.01) == "The kiln…"


@pytest.mark.parametrize("paper_mm", [3, 5, 6, 7.5, 9, 11])
def test_the_frames_width_is_never_drawn_on_the_nearest_part(paper_mm: float) -> None:
    """The nearest part stands so far from the model on paper, and the dimension at least half its own room from it."""
    front = plan_view(solve(), 20, 20, 270, 120).strip.front
    found = solve({"place.model_near": f"{4030 - paper_mm * front} mm"})
    view, ink = plan_view(found, 20, 20, 270, 120), Ink()
    draw_plan(ink, found, view)
    ends = "".join(rf' {name}="([\d.]+)"' for name in ("x1", "y1", "x2", "y2"))
    lines = [
        (kind, *map(float, at)) for e in ink.elements for kind, *at in re.findall(rf'<line class="(\w+)"{ends}', e)
    ]
    (near,) = {x for kind, x, _, to, _ in lines if kind == "dash" and x == to}
    wide = found.lineup.frame_width_model_mm / view.strip.front
    (drawn,) = [x for kind, x, y, to, foot in lines if kind == "line" and x == to and abs(foot - y - wide) < 0.05]
    assert abs(drawn - near) >= ASIDE_MM / 2 - DRAWN_MM


def test_the_sharp_zone_lies_one_row_under_the_last_tape() -> None:
    view, ink = plan_view(solve(), 20, 20, 270, 120), Ink()
    draw_plan(ink, solve(), view)
    drawn = "".join(ink.elements)
    (top, high) = map(float, re.search(r'<rect class="grey"[^>]* y="([\d.]+)"[^>]* height="([\d.]+)"', drawn).groups())
    level = re.findall(r'<line class="line" x1="[\d.]+" y1="([\d.]+)" x2="[\d.]+" y2="\1"/>', drawn)
    assert top + high / 2 - max(map(float, level)) == pytest.approx(ROW_MM, abs=DRAWN_MM)


def test_tapes_stand_in_the_order_in_which_they_are_drawn() -> None:
    """Aimed 30° up, a lens meets 4.03 m on the level tape at 4.62 m along itself: the mark at 4.33 m comes before."""
    found = solve({"place.aim": "30 deg", "place.lens_height": "2 m", "focus.distance": "4.33 m"})
    view, ink = plan_view(found, 20, 20, 270, 120), Ink()
    draw_plan(ink, found, view)
    told = re.findall(r">(focus mark|model|background) [^<]*<", "".join(ink.elements))
    assert told[:3] == ["focus mark", "model", "background"]


WIDE = {"move.axis": "pan left", "move.sweep": "15 deg", "move.start": "5 deg", "move.slide": None, "bench": None}
NO_FAR = {"place.background_far": None}


@pytest.mark.parametrize("changes", [{}, WIDE])
def test_the_legends_are_whole_and_no_word_lies_on_a_break(changes: dict[str, str | None]) -> None:
    whole, found = answer_file(shipped("shots", "kiln-stack"))
    flat = 0
    for feet in (*range(60, 400, 20), "inf"):
        background = "inf" if feet == "inf" else f"{feet} ft"
        other = edit.changed(whole, changes | NO_FAR | LEVEL | {"place.background": background})
        assert isinstance(other, Shot)
        drawn = ElementTree.fromstring(sheet_svg(other, again(found, other)))
        assert not [text for text in texts(drawn) if text.endswith("…")]
        edges = [float(place.partition(",")[0]) for line in broken(drawn) for place in line.get("points", "").split()]
        for word in (one for one in drawn.iter(f"{SVG}text") if one.text == "background" and not one.get("transform")):
            long, x = text_width_mm("background"), float(word.get("x", "nan"))
            left = x - long if word.get("text-anchor") == "end" else x
            flat += 1
            assert not edges or left >= max(edges) or left + long <= min(edges)
    assert flat or not changes


def test_the_words_of_the_scale_keep_two_millimetres_from_the_bars_label() -> None:
    kept = set()
    for background in ("400 m", "1.5 km", "20 km"):
        for model, ratio in (("32 m", 2), ("16 m", 4), ("8 m", 8)):
            changes = {"place.model": model, "place.background": background, "scale.ratio": ratio}
            drawn = list(ElementTree.fromstring(sheet_svg(shot(changes), solve(changes))).iter(f"{SVG}text"))
            for words in (one for one in drawn if (one.text or "").startswith("to scale")):
                (label,) = [one for one in drawn if one.get("y") == words.get("y") and one.get("text-anchor") == "end"]
                begins = float(label.get("x", "nan")) - text_width_mm(label.text or "")
                kept.add(begins - float(words.get("x", "nan")) - text_width_mm(words.text or ""))
    assert min(kept) >= 2 - DRAWN_MM


def test_the_sign_of_the_break_goes_down_the_paper() -> None:
    """From the top of the view in a zigzag of 6 mm to its foot, on either side of the break."""
    drawn = "".join(sheet_svg(*level("kiln-stack")))
    lines = [
        [tuple(map(float, place.split(","))) for place in points.split()]
        for points in re.findall(r'<polyline class="line" points="([^"]*)"', drawn)
    ]
    signs = [line for line in lines if len(line) == 6 and {x - line[0][0] for x, _ in line} >= {0.0, 1.5, -1.5}]
    assert len(signs) == 4  # two views
    for sign in signs:
        down = [later - sooner for (_, sooner), (_, later) in itertools.pairwise(sign)]
        assert down[1:4] == pytest.approx([2, 2, 2], abs=DRAWN_MM)
        assert min(down) > 0


def test_the_frame_makes_room_for_the_height_of_the_lens() -> None:
    places = {"place.model": "794.2 mm", "place.background": "794.2 mm", "place.lens_height": "919 mm"}
    found = solve(places | {"units": "imperial", "place.model_near": None, "scale.ratio": 4})
    ink, view = Ink(), side_view(found, 17.0, 116.0, 185.0, 171.5)
    draw_side(ink, found, view)
    written = [element for element in ink.elements if element.startswith("<text")]
    assert any("lens 3 ft" in text for text in written)
    assert any("frame " in text for text in written)
    for number, (left, top, wide, high) in enumerate(ink.labels):
        for other in ink.labels[number + 1 :]:
            apart = left + wide <= other[0] or other[0] + other[2] <= left
            assert apart or top + high <= other[1] or other[1] + other[3] <= top


def test_both_arrows_of_a_dimension_are_as_long() -> None:
    ink = Ink()
    ink.across(10, 60, 5, "wide")
    heads = [re.findall(r"([\d.]+),[\d.]+", one) for one in ink.elements if one.startswith("<poly")]
    left, right = (sorted({float(x) for x in head}) for head in heads)
    assert (left, right) == ([10, 11.6], [58.4, 60])


def test_labels_at_one_place_stand_in_the_next_free_lines_above_and_below() -> None:
    ink = Ink()
    for _ in range(7):
        ink.label(100, 50, "frame 3 m")
    line = ink.labels[0][3] + 0.1
    places = [(top + high / 2 - 50) / line for _, top, _, high in ink.labels]
    assert places == pytest.approx([0, -1, 1, -2, 2, -3, 3])


def test_a_width_too_short_for_its_words_has_them_beyond_its_end() -> None:
    """At 120 mm the frame at the model is 11 mm on paper, and the words do not lie in it."""
    found = solve(lens={"focal_length": "120 mm", "pupil": [], "close_focus": "1 m"})
    ink, view = Ink(), plan_view(found, 20, 20, 270, 120)
    draw_plan(ink, found, view)
    (height,) = re.findall(r'y="([\d.]+)"[^>]*>frame 661 mm<', "".join(ink.elements))
    half = found.lineup.frame_width_model_mm / 2
    assert not view.height(half, found.setup.model_mm) < float(height) < view.height(-half, found.setup.model_mm)


def test_the_table_is_drawn_under_the_model() -> None:
    """The lens 1.5 m up, the ground a sixteenth of that below it: the table 1.406 m high, ten mm of it on paper."""
    found = solve({"place.lens_height": "1.5 m"})
    ink, view = Ink(), side_view(found, 17, 116, 185, 171.5)
    draw_side(ink, found, view)
    place, height = view.strip.at(found.setup.model_mm), view.height(-1500 / 16, found.setup.model_mm)
    ends = f'x1="{place - 5:.2f}" y1="{height:.2f}" x2="{place + 5:.2f}" y2="{height:.2f}"'
    assert f'<line class="bold" {ends}/>' in ink.elements


def test_no_arrow_is_drawn_over_the_words_of_another() -> None:
    """What lies on the words of the frame's height, the table's arrow, is drawn before their patch of paper."""
    found = solve(
        {"place.model": "1.2 m", "place.background": "19.2 m", "place.lens_height": "1.5 m", "scale.ratio": 16}
    )
    ink, view = Ink(), side_view(found, 17, 116, 185, 171.5)
    draw_side(ink, found, view)
    arrow = f'x1="{view.strip.at(found.setup.model_mm) - 2 * ASIDE_MM:.2f}"'
    table = next(place for place, one in enumerate(ink.elements) if one.startswith("<line") and arrow in one)
    words = next(place for place, one in enumerate(ink.elements) if ">frame " in one)
    assert table < words


def test_the_frames_height_is_told_between_the_rays_of_an_aimed_lens() -> None:
    """Aimed 20° up, z·(tan(20° + β) − tan(20° − β)), β half the frame's angle: 1.817 m where 1.698 m lies square."""
    found = levelled(solve({"place.lens_height": "1.5 m", "place.aim": "20 deg up"}))
    ink, view = Ink(), side_view(found, 17, 116, 185, 171.5)
    draw_side(ink, found, view)
    assert ">frame 1.817 m<" in "".join(ink.elements)
