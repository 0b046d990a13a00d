"""The marks in the diagrams: each where the answer puts it."""

import math
import re

import pytest

from forescale.engine.units import number_text
from forescale.tui.glyphs import ASCII, FULL, GLYPHS
from tests.tui.diagram_shots import SHOTS, drawn, found

# The distance bar.


@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp"])
@pytest.mark.parametrize("width", [24, 38, 80, 160])
def test_model_focus_and_background_stand_in_order_on_the_bar(shot, width):
    bar = drawn("distance_bar", shot, width, 3)[1]
    assert bar.index("M") < bar.index("F") < bar.index("B")


@pytest.mark.parametrize("width", [40, 80, 160])
def test_the_sharp_zone_lies_around_the_focus(width):
    bar = drawn("distance_bar", "signal-lamp", width, 1)[0]
    heavy = [at for at, char in enumerate(bar) if char == FULL.heavy]
    assert heavy[0] - 1 <= bar.index("M") < bar.index("F") < bar.index("B") < heavy[-1] < width - 1
    assert bar[-1] == FULL.horizontal


def test_the_bar_is_logarithmic():
    """4 m, 7.368 m and 48 m: the columns between are as the logarithms of their ratios."""
    bar = drawn("distance_bar", "signal-lamp", 200, 1)[0]
    model, focus, background = (bar.index(letter) for letter in "MFB")
    share = math.log(found("signal-lamp").focus.focus_mm / 4000) / math.log(12)
    assert (focus - model) / (background - model) == pytest.approx(share, abs=1 / 170)


def test_the_bar_goes_on_past_a_break_where_sharpness_has_no_end():
    top, bar = drawn("distance_bar", "kiln-stack", 60, 3)[:2]
    assert top.endswith("to infinity")
    assert bar.endswith(f"{FULL.break_mark}{FULL.heavy}{FULL.right}")


def test_a_background_at_infinity_stands_at_the_end():
    bar, texts = drawn("distance_bar", "infinite", 60, 2)
    assert bar[-1] == "B"
    assert texts.endswith("B infinity")


def test_what_is_not_sharp_is_said_to_be_soft():
    texts = drawn("distance_bar", "soft", 80, 4)
    assert "M 10 ft soft" in texts[2]
    assert "B 240 ft soft" not in texts[2]
    bar = texts[1]
    assert bar.index("M") < bar.index(FULL.heavy) < bar.index("F")


def test_nothing_that_the_stop_just_holds_is_called_soft():
    assert not any(
        "soft" in line for shot in ("kiln-stack", "signal-lamp") for line in drawn("distance_bar", shot, 120, 8)
    )


@pytest.mark.parametrize("width", [60, 100, 150])
def test_round_distances_stand_where_they_belong(width):
    bar, scale = drawn("distance_bar", "signal-lamp", width, 8)[1:3]
    ticks = [at for at, char in enumerate(bar) if char == FULL.tee_down]
    texts = list(re.finditer(r"\d+ m", scale))
    assert [text.group() for text in texts][:2] == ["5 m", "10 m"]
    assert all(text.start() <= tick < text.end() for tick, text in zip(ticks, texts, strict=True))


# The side view.


def standing(shot, width, height):
    """The (row, column) of lens, model and background in the picture, which ends at the ground."""
    lines = drawn("side_view", shot, width, height)
    ground = next(row for row, line in enumerate(lines) if FULL.horizontal in line)
    bare = [line.replace("hang", "    ") for line in lines[: ground + 1]]
    return [next((row, line.index(letter)) for row, line in enumerate(bare) if letter in line) for letter in "LMB"]


@pytest.mark.parametrize("shot", SHOTS)
@pytest.mark.parametrize("size", [(24, 2), (38, 4), (60, 8), (120, 20)])
def test_the_model_stands_between_lens_and_background(shot, size):
    (_, lens), (_, model), (_, background) = standing(shot, *size)
    assert lens < model < background


def test_distance_left_out_is_marked_and_only_then():
    assert FULL.break_mark in drawn("side_view", "kiln-stack", 60, 3)[1]
    assert FULL.break_mark not in drawn("side_view", "touching", 60, 3)[1]


@pytest.mark.parametrize(("shot", "rises"), [("kiln-stack", 1), ("level sight", 0), ("falling sight", -1)])
def test_the_sight_rises_and_falls_with_the_feature(shot, rises):
    (lens, _), (model, _), (background, _) = standing(shot, 60, 9)
    assert (lens > background) - (lens < background) == rises
    assert min(lens, background) <= model <= max(lens, background)


def test_heights_and_distances_are_told():
    text = "\n".join(drawn("side_view", "kiln-stack", 70, 9))
    for told in ("hang 5 ft 7 7/16 in", "5 ft up", "20 ft up", "M 10 ft", "B 240 ft", "not to scale"):
        assert told in text
    assert "up" not in "\n".join(drawn("side_view", "no heights", 70, 9))


# The rate bar.


def test_ideal_and_set_rate_stand_on_the_mode():
    bar, numbers, looks, gravity = drawn("rate_bar", "lock-gate", 160, 4)
    assert bar.index("I") < bar.index("R")
    assert numbers.index("R 72 fps") < numbers.index("top 120 fps")
    assert looks.index("toy") < looks.index("small") < looks.index("slow")
    assert gravity.startswith("gravity looks 0.96 (1 is right): right")


def test_each_rate_of_the_mode_has_its_tick():
    rates = found("signal-lamp").kit.mode.fps
    bar = drawn("rate_bar", "signal-lamp", 120, 1)[0]
    # The lowest rate is the one that is set, and so under its letter.
    assert bar.count(FULL.cross) + bar.count("R") == len(rates)


def test_an_ideal_past_the_mode_lies_off_its_heavy_line():
    bar, *_, gravity = drawn("rate_bar", "heavy beyond the mode", 80, 4)
    assert bar.rindex(FULL.heavy) < bar.index("R") < bar.index("I")
    assert gravity.startswith("gravity looks 8 (1 is right): toy")


@pytest.mark.parametrize("shot", ["signal-lamp", "driven"])
def test_no_weight_is_drawn_where_nothing_falls(shot):
    lines = drawn("rate_bar", shot, 80, 5)
    assert "nothing falls or flows: any rate will do" in lines[2]
    assert "toy" not in "".join(lines)


def test_a_mode_with_a_range_of_rates_shows_its_ends():
    bar, numbers = drawn("rate_bar", "any rate", 120, 2)
    assert numbers.split("  ")[0].strip() == "low 1 fps"
    assert numbers.rstrip().endswith("top 240 fps")
    assert bar.index(FULL.cross) < bar.index("R") < bar.rindex(FULL.cross)
    assert bar.count(FULL.cross) == 2


# The contrast curve.


def test_both_stops_are_drawn_and_named():
    lines = drawn("contrast_curve", "kiln-stack", 80, 12)
    assert "● T20 in use" in lines[-1]
    assert "○ T16 best" in lines[-1]
    plot = "".join(line[8:] for line in lines[:9])
    assert FULL.point in plot
    assert FULL.other_point in plot


@pytest.mark.parametrize(("width", "height"), [(36, 5), (38, 6), (58, 5), (78, 5), (118, 14)])
@pytest.mark.parametrize("glyphs", GLYPHS.values(), ids=GLYPHS)
def test_every_sign_of_the_curves_is_said_at_every_size(width, height, glyphs):
    said = f"{glyphs.point} T20 in use  {glyphs.other_point} T16 best  {glyphs.both_points} both"
    assert drawn("contrast_curve", "kiln-stack", width, height, glyphs)[-1].startswith(said)


def test_one_curve_where_the_stop_in_use_is_the_best():
    lines = drawn("contrast_curve", "lock-gate", 80, 12)
    assert "T8 in use" in lines[-1]
    assert "best" not in lines[-1]
    assert FULL.other_point not in "".join(lines)


@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp", "infinite"])
def test_the_curve_is_as_high_as_the_contrast(shot):
    """At the focus: the row of the point, read off the numbers of the axis, is the answer's contrast."""
    lines = drawn("contrast_curve", shot, 100, 30)
    axis = next(line for line in lines if FULL.bottom_left in line)
    bottom = lines.index(axis) - 1
    column = axis.index("F")
    high, low = (int(lines[row].split("%")[0]) / 100 for row in (0, bottom))
    marks = {FULL.point, FULL.both_points}
    row = next(row for row in range(bottom + 1) if lines[row][column : column + 1] in marks)
    step = (high - low) / bottom
    assert high - row * step == pytest.approx(found(shot).focus.contrast.focus, abs=step)


def test_contrast_in_words_where_there_is_no_room():
    lines = drawn("contrast_curve", "kiln-stack", 38, 3)
    assert lines == ["T20: N 47 %  F 51 %  E 47 %", "best T16: worst 50 %", "contrast at 39 line pairs/mm"]
    assert drawn("contrast_curve", "contrast left out", 38, 2) == ["contrast not worked out", ""]


# The view of the move.


def test_axis_pupil_and_targets_stand_along_the_lens_axis():
    line, _, words = drawn("plan_view", "far off zero", 60, 3)
    assert line.index("P") < line.index("A") < line.index("M") < line.index("B")
    assert words.startswith("P 61.7 mm behind A  slide 0 mm  pan 60 deg")


def test_a_pupil_within_tolerance_stands_against_the_axis():
    assert "AP" in drawn("plan_view", "kiln-stack", 60, 3)[0]
    assert "AP" not in drawn("plan_view", "tight tolerance", 60, 3)[0]


def test_the_slide_is_drawn_with_where_it_should_be():
    lines = drawn("plan_view", "tight tolerance", 70, 9)
    rail = next(line for line in lines if line.startswith("0 "))
    assert rail.index("Z") < rail.index("S")
    assert rail.endswith("S 120 mm")
    assert (rail.index("Z") - 2) / (rail.index("S") - 2) == pytest.approx(62.07 / 120, abs=0.01)
    assert lines[-1].startswith("Z no slip at 62.1 mm")


@pytest.mark.parametrize(
    ("shot", "says"),
    [("no move", "no move: nothing turns"), ("pupil unknown", "pupil not measured"), ("no head", "no head is named"),
     ("slide not set", "slide not set")],
)  # fmt: skip
def test_what_is_missing_is_said(shot, says):
    lines = drawn("plan_view", shot, 60, 9)
    assert says in "\n".join(lines)
    assert "P" not in lines[3]


def test_the_turn_goes_upwards_from_the_axis():
    lines = drawn("plan_view", "kiln-stack", 80, 16)
    start = next(row for row, line in enumerate(lines) if "A" in line)
    end = next(row for row, line in enumerate(lines) if "15 deg" in line)
    assert end < start


# The slip curve.


@pytest.mark.parametrize("shot", ["kiln-stack", "far off zero", "tight tolerance"])
def test_the_curve_of_slip_ends_at_the_answers_slip(shot):
    """The curve's last point stands in the row that carries the number of the answer's slip."""
    lines = drawn("slip_curve", shot, 80, 24)
    end = found(shot).slip.slip_px
    row = next(row for row, line in enumerate(lines) if line[79:80] == FULL.point)
    assert lines[row].split()[0] == f"{'+' if end > 0 else ''}{number_text(end)}"


def numbered(lines):
    """The row of each number of the slip curve's upright axis."""
    numbers = ((row, line.split(glyph)[0].strip()) for row, line in enumerate(lines) for glyph in "┤┼" if glyph in line)
    return {number: row for row, number in numbers if number}


@pytest.mark.parametrize("shot", ["kiln-stack", "far off zero", "tight tolerance", "tilt"])
@pytest.mark.parametrize("height", [5, 6, 9, 14, 24])
def test_the_curve_of_slip_starts_on_the_zero_row(shot, height):
    lines = drawn("slip_curve", shot, 80, height)
    zero = numbered(lines)["0"]
    left = lines[zero].index(FULL.cross) + 1
    assert [row for row, line in enumerate(lines) if line[left : left + 1] == FULL.point] == [zero]


@pytest.mark.parametrize("shot", ["kiln-stack", "far off zero", "tight tolerance", "tilt"])
@pytest.mark.parametrize("height", [5, 6, 9, 14, 24])
def test_zero_what_may_pass_and_the_end_have_a_row_each(shot, height):
    slip, rows = found(shot).slip, numbered(drawn("slip_curve", shot, 78, height))
    passes, end = number_text(slip.tolerance_px), number_text(slip.slip_px)
    end = f"+{end}" if slip.slip_px > 0 else end
    named = {"0", f"+{passes}", f"-{passes}", end}
    assert named <= rows.keys()
    assert len({rows[name] for name in named}) == 4
    assert sorted(named, key=lambda name: rows[name]) == sorted(named, key=float, reverse=True)


@pytest.mark.parametrize("shot", ["far off zero", "tight tolerance"])
@pytest.mark.parametrize("height", [5, 9, 24])
def test_no_slip_that_shows_is_drawn_on_the_line_of_what_may_pass(shot, height):
    slip, lines = found(shot).slip, drawn("slip_curve", shot, 78, height)
    sign = "+" if slip.slip_px > 0 else "-"
    line = lines[numbered(lines)[f"{sign}{number_text(slip.tolerance_px)}"]]
    left = lines[numbered(lines)["0"]].index(FULL.cross) + 1
    per_column = abs(slip.slip_px) / (77 - left)
    assert line[left:].count(FULL.point) <= 1 + slip.tolerance_px / per_column


def test_the_signs_of_the_slip_curve_are_said_in_little_room_too():
    assert "● slip in px  ░ may pass up to here" in drawn("slip_curve", "kiln-stack", 78, 5)[-1]
    assert drawn("slip_curve", "kiln-stack", 78, 14)[-1] == (
        "● slip in px  ░ may pass up to here  + model outruns  - lags"
    )
    assert "* slip in px  : may pass up to here" in drawn("slip_curve", "kiln-stack", 78, 5, ASCII)[-1]


def test_what_may_pass_is_a_band():
    lines = drawn("slip_curve", "kiln-stack", 60, 14)
    band = [row for row, line in enumerate(lines[:12]) if FULL.shade_light in line]
    assert [lines[row].split()[0] for row in band] == ["+1", "-1"]
    curve = [row for row, line in enumerate(lines[:12]) if FULL.point in line]
    assert band[0] < min(curve) <= max(curve) < band[1]


@pytest.mark.parametrize(
    ("shot", "says"),
    [("no move", "no move"), ("pupil unknown", "pupil not measured"), ("no head", "no head is named"),
     ("slide not set", "slide not set")],
)  # fmt: skip
def test_no_slip_is_drawn_that_is_not_known(shot, says):
    lines = drawn("slip_curve", shot, 60, 9)
    assert says in lines[:2]
    assert FULL.point not in "".join(lines)


def test_slip_in_words_where_there_is_no_room():
    assert drawn("slip_curve", "kiln-stack", 38, 3) == ["slip +0.351 px at 15 deg", "1 px may pass", "it will not show"]
    assert drawn("slip_curve", "far off zero", 38, 3)[2] == "the model lags"
