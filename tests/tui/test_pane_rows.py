"""What a pane answers, in every row that any screen is large enough for, and how the field in hand is set off."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, get_args

import pytest

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.kit import library
from forescale.engine.shot.edit import changed
from forescale.engine.solve.record import Pane
from forescale.engine.units import UnitSystem
from forescale.engine.workings import keys_of_pane
from forescale.tui.board import board_view
from forescale.tui.glyphs import FULL
from forescale.tui.keys import BOARD_KEYS
from forescale.tui.panes import TITLES, each_pane
from forescale.tui.panes.arrange import Arranged, Look, Typing, arrange, paths_of
from forescale.tui.panes.content import AnswerRow, reason, verdict_of
from forescale.tui.runs import row_text
from forescale.tui.session import State, open_session
from tests.read_numbers import read

PANES = each_pane.CONTENTS
DEMOS = ["kiln-stack", "lock-gate", "signal-lamp"]
SYSTEMS: list[UnitSystem] = ["imperial", "metric"]
WITHOUT_A_NUMBER = {"nothing falls: any rate serves", "locked off: nothing slips"}

Numbers = Callable[[Answer], list[float | None]]
# Of each row, by the number that explains it, the numbers in their order; None is one that is no answer's.
ROWS: dict[str, Numbers] = {
    "lineup.match_distance_mm": lambda of: [
        of.lineup.match_distance_mm,
        round(100 * abs(of.lineup.size_error - 1), 1),
    ],
    "lineup.frame_width_model_mm": lambda of: [of.lineup.frame_width_model_mm, of.lineup.frame_height_model_mm],
    "lineup.frame_height_model_mm": lambda of: [of.lineup.frame_height_model_mm],
    "lineup.cover_width_mm": lambda of: [of.lineup.cover_width_mm, of.lineup.cover_height_mm],
    "lineup.drift_tolerance_mm": lambda of: [of.lineup.drift_tolerance_mm],
    "lineup.place_tolerance_mm": lambda of: [of.lineup.place_tolerance_mm],
    "lineup.foot_height_mm": lambda of: [of.lineup.foot_height_mm],
    "scale.finest_model_mm": lambda of: [of.scale.finest_model_mm, of.scale.finest_real_mm],
    "speed.apparent_gravity": lambda of: [of.speed.apparent_gravity],
    "speed.screen_time_s": lambda of: [of.speed.screen_time_s],
    "speed.crossing_s": lambda of: [of.speed.crossing_s],
    "speed.largest_ratio": lambda of: [of.speed.largest_ratio],
    "speed.frames": lambda of: [of.speed.frames],
    "speed.data_mb": lambda of: [of.speed.data_mb],
    "light.lux_needed": lambda of: [of.light.lux_needed, *((of.light.fit_stops or 0) * each for each in (1, 0.3))],
    "light.lux_with_nd": lambda of: [of.light.lux_with_nd],
    "light.iso_needed": lambda of: [of.light.iso_needed],
    "light.safe_fps": lambda of: [of.light.safe_shutter_deg],
    "focus.near_mm": lambda of: [of.focus.near_mm, of.focus.far_mm],
    "focus.stop_needed": lambda of: [of.kit.lens.mark(of.focus.stop_needed)],
    "focus.contrast.best_f_number": lambda of: [
        100 * of.focus.contrast.worst,
        of.kit.lens.mark(of.focus.contrast.best_f_number),
        100 * of.focus.contrast.best_worst,
    ],
    "focus.contrast.near": lambda of: [
        of.focus.contrast.frequency_lpmm,
        *(100 * share for share in (of.focus.contrast.near, of.focus.contrast.focus, of.focus.contrast.far)),
    ],
    "focus.hyperfocal_mm": lambda of: [of.focus.hyperfocal_mm],
    "focus.coc_mm": lambda of: [1000 * of.focus.coc_mm, 1000 * of.focus.airy_mm],
    "slip.slip_px": lambda of: [abs(of.slip.slip_px)],
    "slip.slide_for_zero_mm": lambda of: [of.slip.slide_for_zero_mm, of.slip.tolerance_mm],
    "slip.bench.slide_for_zero_mm": lambda of: [None, of.slip.bench.band_mm],
    "slip.offset_mm": lambda of: [abs(of.slip.offset_mm)],
    "slip.model_from_axis_mm": lambda of: [of.slip.model_from_axis_mm],
}


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("pane", PANES)
def test_each_row_shows_the_numbers_that_it_is_explained_by(pane: Pane, name: str, system: UnitSystem) -> None:
    _, of = answer_file(library.shot_path(name), system)
    for row in PANES[pane](of).answers:
        shown = read(row.text)
        if row.text in WITHOUT_A_NUMBER:
            assert not shown
            continue
        if row.name:  # a part or a stock by its name
            sizes = {**{one.part: one.model_mm for one in of.scale.build}}
            sizes |= {one.item: one.reads_as_mm for one in of.scale.stock}
            expected: list[float | None] = [sizes[row.name]]
        elif row.key == "slip.pupil_ahead_mm":
            expected = [of.slip.pupil_ahead_mm] if "sensor" in row.text else [None, None]
        else:
            expected = [one for one in ROWS[row.key](of) if one is None or math.isfinite(one)]
        assert 0 < len(shown) <= len(expected), (row, shown)
        for (value, one), right in zip(shown, expected, strict=False):
            near = right is None or value == pytest.approx(right, rel=0.004, abs=min(one, 0.13 * right))
            assert near, (row, value, right)


def test_the_iso_that_the_light_asks_for_is_never_told_as_less() -> None:
    _, of = answer_file(library.shot_path("kiln-stack"))
    assert of.light.iso_needed == pytest.approx(1234.78, abs=0.01)
    assert "this light asks for ISO 1240" in [row.text for row in each_pane.speed(of).answers]


def _filtered() -> Answer:
    _, of = answer_file(library.shot_path("kiln-stack"))
    return answer(changed(of.setting, {"light.nd": 2}), of.kit, of.system)


def test_the_light_that_is_needed_counts_the_filter_that_is_fitted() -> None:
    of = _filtered()
    (needs,) = [row for row in each_pane.speed(of).answers if row.key == "light.lux_with_nd"]
    assert read(needs.text)[0][0] == pytest.approx(4 * of.light.lux_needed, rel=0.004)


def test_every_row_that_is_listed_is_in_some_pane() -> None:
    answers = [answer_file(library.shot_path(name), system)[1] for name in DEMOS for system in SYSTEMS]
    answers.append(_filtered())
    keys = {row.key for of in answers for content in PANES.values() for row in content(of).answers if not row.name}
    assert set(ROWS) == keys - {"slip.pupil_ahead_mm"}


def test_every_pane_has_all_that_a_pane_needs() -> None:
    panes = get_args(Pane)
    of = answer_file(library.shot_path("kiln-stack"))[1]
    keys = [key.action for key in BOARD_KEYS if key.id.startswith("pane-")]
    assert panes == tuple(TITLES) == board_view.PANES == tuple(PANES)
    assert keys[: len(panes)] == [f"pane('{pane}')" for pane in panes]
    for pane in panes:
        assert keys_of_pane(pane)
        assert any(finding.pane == pane for finding in of.findings)
        assert paths_of(PANES[pane](of))


def texts(arranged: Arranged) -> set[str]:
    return {row_text(row).rstrip() for row in (*arranged.rows, *arranged.beside)}


@pytest.mark.parametrize("pane", TITLES)
def test_a_tall_pane_shows_all_rows_a_low_one_on_further_pages(pane: Pane) -> None:
    state = open_session(library.shot_path("kiln-stack")).state
    content = PANES[pane](state.answer)
    number = list(TITLES).index(pane) + 1
    wanted = {f" {row.name} {row.text}" if row.name else f" {row.text}" for row in content.answers}
    tall = arrange(number, pane, content, state, Look(90, 60, FULL, content.fields[0].path))
    assert tall.pages == 1
    assert wanted <= texts(tall)
    low = Look(60, 9, FULL, content.fields[0].path)
    pages = arrange(number, pane, content, state, low).pages
    assert pages > 1
    seen = set[str]()
    for page in range(pages):
        arranged = arrange(number, pane, content, state, low._replace(page=page))
        assert len(arranged.rows) == 9
        seen |= texts(arranged)
    assert wanted <= seen


@pytest.mark.parametrize("pane", TITLES)
def test_the_field_in_hand_and_no_other_is_set_off(pane: Pane) -> None:
    state = open_session(library.shot_path("kiln-stack")).state
    content = PANES[pane](state.answer)
    number = list(TITLES).index(pane) + 1
    for path in paths_of(content):
        found = arrange(number, pane, content, state, Look(40, 30, FULL, path))
        assert found.hand_row is not None
        title, *rows = found.rows
        assert title[0][1] == "hand"
        set_off = [place for place, row in enumerate(rows, start=1) if any(style == "hand" for _, style in row)]
        assert set_off == [found.hand_row]
        pointer, label, value, *_ = found.rows[found.hand_row]
        assert (pointer[0], pointer[1], label[1], value[1]) == (FULL.pointer, "hand", "hand", "hand")
    rest = arrange(number, pane, content, state, Look(40, 30, FULL))
    assert rest.hand_row is None
    assert not any(style == "hand" for row in rest.rows for _, style in row)


def test_limits_too_long_for_a_line_keep_their_label_and_both_ends() -> None:
    state = open_session(library.shot_path("kiln-stack")).propose({"focus.distance": "300 in", "focus.stop": "T1.5"})
    content = each_pane.focus(state.answer)
    text = content.answers[0].text
    assert len(text) > 36
    rows = [row_text(row) for row in arrange(3, "focus", content, state, Look(39, 11, FULL)).rows]
    assert text in " ".join(" ".join(rows).split())
    assert any("from 22 ft 5 in to 27 ft 11 in" in row for row in rows)  # above the bar, to the safe side


def test_an_answer_of_two_lines_stands_whole_on_one_page() -> None:
    state = open_session(library.shot_path("signal-lamp")).state
    content = each_pane.slip(state.answer)
    begins, ends = "   between 35 mm at infinity and", "   1.219 m"
    for height in range(7, 16):
        look, seen = Look(39, height, FULL, content.fields[0].path), list[tuple[bool, bool]]()
        for page in range(arrange(4, "slip", content, state, look).pages):
            rows = texts(arrange(4, "slip", content, state, look._replace(page=page)))
            seen.append((begins in rows, ends in rows))
        assert seen.count((True, True)) == 1, (height, seen)
        assert set(seen) <= {(True, True), (False, False)}, (height, seen)


def test_what_is_carried_and_does_not_turn_is_not_said_to_stand_still() -> None:
    carried = {"move.axis": "none", "move.travel": "2 in left"}
    state = open_session(library.shot_path("kiln-stack")).propose(carried)
    said = texts(arrange(4, "slip", each_pane.slip(state.answer), state, Look(78, 40, FULL)))
    assert any(row.startswith(" model outruns by ") for row in said)
    assert " nothing turns" in said
    assert not any("no move" in row or "nothing can slip" in row for row in said)


def test_a_move_that_ends_at_the_line_up_turns_from_where_it_begins() -> None:
    begun = {"move.sweep": "0 deg", "move.start": "10 deg"}
    state = open_session(library.shot_path("kiln-stack")).propose(begun)
    shown = arrange(4, "slip", each_pane.slip(state.answer), state, Look(113, 14, FULL))
    drawn = " ".join(map(row_text, shown.drawn))
    assert "pan 10 deg" in drawn
    assert "slip in px" in drawn
    assert "nothing turns" not in drawn


def test_what_is_said_of_an_entry_takes_four_lines_at_most() -> None:
    state = open_session(library.shot_path("kiln-stack")).state
    content = PANES["scale"](state.answer)
    for words, lines in ((5, 1), (20, 4), (60, 4)):
        path = content.fields[0].path
        look = Look(30, 40, FULL, path, Typing(path, "word " * words, refused=False))
        rows = [row_text(row) for row in arrange(1, "scale", content, state, look).rows]
        assert sum(row.startswith("   word") for row in rows) == lines


@pytest.mark.parametrize(("height", "page", "drawn"), [(11, 0, True), (13, 1, False), (14, 1, True)])
def test_a_bar_is_drawn_where_two_rows_are_left_and_not_without_its_scale(height: int, page: int, drawn: bool) -> None:
    state = open_session(library.shot_path("kiln-stack")).state
    look = Look(40, height, FULL, "scale.ratio", page=page)
    *_, bar, scale = (row_text(row) for row in arrange(1, "scale", PANES["scale"](state.answer), state, look).rows)
    assert ("M 10 ft  B 240 ft" in scale) is drawn
    assert bar.startswith("  L─") is drawn
    assert drawn or not scale


@pytest.mark.parametrize("shot", DEMOS)
def test_no_row_is_wider_than_its_column_on_any_page(shot: str) -> None:
    state = open_session(library.shot_path(shot)).state
    for pane, fill_of in PANES.items():
        content = fill_of(state.answer)
        for width in (78, 99, 100, 104, 120, 160):
            for height in (5, 8, 13, 22):
                look = Look(width, height, FULL, in_hand=paths_of(content)[0])
                for page in range(arrange(1, pane, content, state, look).pages):
                    found = arrange(1, pane, content, state, look._replace(page=page))
                    left, beside = look.columns
                    texts = len(found.beside) or 1
                    assert max(len(row_text(row)) for row in found.rows[1 : 1 + texts]) <= left, (pane, look, page)
                    assert max(map(len, map(row_text, found.beside)), default=0) <= beside, (pane, look, page)


@pytest.mark.parametrize("shot", DEMOS)
def test_each_row_stands_once_whatever_wraps_in_one_column_alone(shot: str) -> None:
    state = open_session(library.shot_path(shot)).propose({"units": "imperial"})
    for pane, fill_of in PANES.items():
        content = fill_of(state.answer)
        long = AnswerRow("a row that has room where it is wide", brief="a row that has\nno room")
        rows = (long, long, *(row._replace(name="") for row in content.answers))
        marked = [(f"#{at} ", row) for at, row in enumerate(rows)]
        content = content._replace(
            answers=tuple(row._replace(text=at + row.text, brief=row.brief and at + row.brief) for at, row in marked)
        )
        for width in range(100, 161, 4):
            for height in (7, 9, 11, 13, 22):
                look, seen = Look(width, height, FULL, paths_of(content)[0]), list[str]()
                for page in range(arrange(1, pane, content, state, look).pages):
                    found = arrange(1, pane, content, state, look._replace(page=page))
                    both = [row_text(row).split() for row in (*found.rows, *found.beside)]
                    seen += [f"{words[0]} " for words in both if words and words[0].startswith("#")]
                assert sorted(seen) == sorted(at for at, _ in marked), (pane, look)


GUST = {"area": "1 m2", "area_height": "0.5 m", "foot_deep": "1 m", "weight": "20 kg", "gust": "10 m/s"}  # 6.8 m/s


def _reason_rows(pane: Pane, state: State, look: Look) -> str:
    """Return what a pane gives as its reason, from the row with its sign on."""
    level, said = verdict_of(state.answer, pane)[0], reason(state.answer, pane)
    found = arrange(1, pane, PANES[pane](state.answer), state, look)
    texts = [row_text(row).strip() for row in (*found.beside, *found.rows[1:])]
    start = texts.index(next(text for text in texts if text.startswith(f"{getattr(FULL, level)} {said[:8]}")))
    return " ".join(texts[start : start + 2])


@pytest.mark.parametrize("width", [39, 40, 79, 113])
@pytest.mark.parametrize(
    ("pane", "changes", "says"),
    [
        ("scale", {}, "2 of 2 points miss, one 2 px high"),
        ("focus", {}, "Diffraction at T20: contrast 47 %"),
        ("scale", {"stand": GUST}, "Model slides in the gusts: it holds to 15.2 mph"),
    ],
)
def test_the_reason_of_a_verdict_is_read_to_its_end(pane: Pane, changes: dict[str, Any], says: str, width: int) -> None:
    state = open_session(library.shot_path("kiln-stack")).propose(changes)
    assert says in _reason_rows(pane, state, Look(width, 11, FULL, paths_of(PANES[pane](state.answer))[0]))
