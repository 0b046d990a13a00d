"""The build list: what is typed into it, and the sentences on parts, stock and place."""

from __future__ import annotations

from typing import Any

import pytest
from cases import solve

from forescale.engine.kit import library
from forescale.engine.parts import build_list
from forescale.engine.parts.build_list import PartCell
from forescale.engine.shot import edit
from forescale.engine.shot.sections import Part, Stock
from forescale.engine.solve.built import cutting
from forescale.tui.session import Session, open_session

INCH, FOOT = 25.4, 304.8


@pytest.fixture
def session() -> Session:
    """Return a session on the first demo, at 1:24."""
    return open_session(library.shot_path("kiln-stack"))


def taken(cell: PartCell, text: str) -> Any:
    """Return the part or stock as it is with a text typed into a cell."""
    return cell.taken(text)


def test_a_cell_takes_what_was_typed_and_reads_it_back(session):
    answer = session.state.answer
    part = build_list.new_part("wall", 10 * FOOT)
    assert taken(PartCell(answer, part, "size"), "12").real == pytest.approx(12 * FOOT)
    assert PartCell(answer, part, "size").read("12 ft") == "12 ft, 6 in on the model"
    assert taken(PartCell(answer, part, "model"), "6").real == pytest.approx(12 * FOOT)
    assert PartCell(answer, part, "model").read("152.4 mm") == "12 ft, 6 in on the model"
    assert taken(PartCell(answer, part, "quantity"), "4").quantity == 4
    assert taken(PartCell(answer, part, "name"), "  long   wall ").part == "long wall"
    stock = build_list.new_stock("dowel", 3 / 16 * INCH)
    assert PartCell(answer, stock, "size").read("1/4") == "1/4 in"
    assert taken(PartCell(answer, stock, "name"), "rod").item == "rod"


def test_a_number_alone_is_in_one_unit_whatever_size_stands_there():
    answer = solve({"units": "metric"})
    for real_mm in (20.0, 500.0, 9000.0):
        cell = PartCell(answer, build_list.new_part("wall", real_mm), "size")
        assert (cell.unit, taken(cell, "0.6").real) == ("m", 600)
        cell = PartCell(answer, build_list.new_stock("dowel", real_mm), "size")
        assert (cell.unit, taken(cell, "6").size) == ("mm", 6)
    assert (build_list.unit_of("imperial"), build_list.unit_of("imperial", stock=True)) == ("ft", "in")
    assert PartCell(answer, build_list.new_part("wall", 900.0), "model").unit == answer.scale.rounding.split()[1]


def test_a_cell_begins_with_an_entry_that_reads_back_as_it_stands(session):
    answer = session.state.answer
    for record in (*session.state.shot.build, *session.state.shot.stock):
        for column in ("name", "size") if isinstance(record, Stock) else ("name", "quantity", "size"):
            cell = PartCell(answer, record, column)
            assert cell.taken(cell.text()) == record


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "100001", "x", "", "nan", "1,000"])
def test_a_quantity_is_a_whole_number_of_parts(text):
    with pytest.raises(ValueError, match=r"."):
        build_list.read_quantity(text)


@pytest.mark.parametrize("text", ["", "0", "-1 ft", "inf", "nan", "1,500 ft", "ft"])
def test_a_size_that_is_none_is_refused(session, text):
    part = Part(part="wall", real="10 ft")
    for column in ("size", "model"):
        with pytest.raises(ValueError, match=r"."):
            PartCell(session.state.answer, part, column).taken(text)


def test_stock_reads_both_ways(session):
    # At half an inch to the foot 3/16 in stands for 4 1/2 in, and 4 in asks for a sixth of an inch.
    dowel = build_list.new_stock("dowel", 3 / 16 * INCH)
    session.apply({"stock": (*session.state.shot.stock, dowel)})
    answer = session.state.answer
    assert build_list.stock_text(answer, answer.scale.stock[1]) == "3/16 in dowel reads as 4 1/2 in at 1:24"
    want = build_list.wanted_text(answer, 4 * INCH)
    assert want.startswith("4 in is 0.1667 in at 1:24")
    assert want.endswith("nearest at hand: 3/16 in dowel, which reads as 4 1/2 in")
    assert "1/16 in card, which reads as" in build_list.wanted_text(answer, 1 * INCH)


def test_what_no_shop_can_cut_is_said(session):
    text = build_list.wanted_text(session.state.answer, 0.5 * INCH)
    assert "too fine to cut to 1/16 in" in text


def test_roundings_go_round():
    seen = ["1/16 in"]
    for _ in range(4):
        seen.append(build_list.next_rounding(seen[-1]))
    assert tuple(seen) == build_list.ROUNDINGS
    assert build_list.next_rounding(seen[-1]) == "1/16 in"


def test_the_second_scale_gives_its_own_rounding_at_its_own_full_size(session):
    session.apply({"scale.compare": "1:32"})
    answer = session.state.answer
    course = answer.scale.build[2]
    # 3 in at 1:32 is 3/32 in; the shop cuts 1/16 in, which stands for 2 in.
    assert course.compare_shop == "1/16 in"
    assert course.compare_shop_error_real_mm == pytest.approx(-1 * INCH)
    assert build_list.part_text(answer, course).endswith("1/16 in at 1:32, 1 in too small at full size")


def test_the_place_speaks_of_the_second_scale_only_where_there_is_one(session):
    assert not any("1:48" in text for text in build_list.place_texts(session.state.answer))
    session.apply({"scale.compare": "1:48"})
    # 24 fps times the root of 48 is 166.3; 240 ft over 48 is 5 ft from the pupil, 0.94 in ahead of the mark.
    [text] = [text for text in build_list.place_texts(session.state.answer) if text.startswith("1:48")]
    assert "need 166.3 fps" in text
    assert "would stand at 5 ft" in text


def test_a_background_at_infinity_leaves_the_second_scale_without_a_place(session):
    endless = {"place.background": "inf", "place.background_far": None, "point": None, "outline": None}
    session.apply({"scale.compare": "1:48"} | endless)
    [text] = [text for text in build_list.place_texts(session.state.answer) if text.startswith("1:48")]
    assert "may stand anywhere" in text
    assert "inf" not in text


def test_a_locked_camera_has_no_move_to_cover(session):
    session.apply({"move.axis": "none"})
    assert not any("cover" in text for text in build_list.place_texts(session.state.answer))


def test_rows_keep_to_their_list():
    assert edit.inserted((1, 3), 1, 2) == (1, 2, 3)
    assert edit.replaced((1, 2, 3), 1, 5) == (1, 5, 3)
    assert edit.without((1, 2, 3), 0) == (2, 3)
    assert edit.moved((1, 2, 3), 0, 2) == (2, 3, 1)
    assert edit.moved((1, 2, 3), 2, 1) == (1, 2, 3)
    assert edit.moved((1, 2, 3), 0, -1) == (1, 2, 3)


@pytest.mark.parametrize(("quantity", "says"), [(1, "sill: "), (4, "sill, 4 of them: ")])
def test_a_part_says_how_many_there_are_of_it_where_there_are_several(session, quantity, says):
    session.apply({"build": ({"part": "sill", "real": "4 ft", "quantity": quantity},)})
    answer = session.state.answer
    assert build_list.part_text(answer, answer.scale.build[0]).startswith(says)


@pytest.mark.parametrize(
    ("part", "says"),
    [
        # 50 ft wide and 30 ft tall: the full size says nothing of how deep it is, so that 237 lb would be a guess.
        ({"wide": "50 ft", "tall": "30 ft"}, "; not weighed until it is said how deep it is"),
        ({"wide": "50 ft"}, "; not weighed until it is said how deep and how tall it is"),
        # 2 in × 25 in × 15 in at 1:24, of 700 kg/m3: 750 cubic inches, 8.603 kg.
        ({"wide": "50 ft", "tall": "30 ft", "deep": "4 ft"}, "; it weighs 19 lb"),
        ({"wide": "30 ft", "deep": "4 ft"}, "; it weighs 19 lb, its full size taken for how tall it is"),
        ({"wide": "30 ft", "deep": "4 ft", "quantity": 2}, "; all of them weigh 37.9 lb, its full size taken for how"),
        ({"wide": "50 ft", "density": None}, ""),
    ],
)
def test_a_weight_says_what_is_taken_for_it_or_what_it_lacks(part: dict[str, Any], says: str):
    of = {"part": "panel", "real": "50 ft", "density": "700 kg/m3"} | part
    found = solve({"units": "imperial", "scale.ratio": "1:24", "build": [{k: v for k, v in of.items() if v}]})
    assert build_list.weight_text(found, 0).startswith(says) if says else build_list.weight_text(found, 0) == ""


def test_a_part_without_its_depth_adds_no_weight_and_no_false_face():
    of = {"part": "panel", "real": "50 ft", "wide": "50 ft", "tall": "30 ft", "density": "700 kg/m3", "material": "ply"}
    found = solve({"scale.ratio": "1:24", "build": [of]})
    assert found.stand is not None
    assert (found.stand.parts_weight_kg, found.stand.unweighed) == (None, 1)
    [total] = cutting(found).totals
    assert total.weight_kg is None
    assert total.area_m2 == pytest.approx(25 * 15 * 0.0254**2)
