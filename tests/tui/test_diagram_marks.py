"""The marks in the diagrams: each where the answer puts it."""

import functools
import math
import operator
import re
from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.units import parse_length
from forescale.tui.diagrams import curves
from forescale.tui.diagrams.canvas import BRAILLE, Canvas, Dots, sample
from forescale.tui.glyphs import ASCII, BOX, FULL, GLYPHS
from forescale.tui.runs import row_text
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
    assert FULL.break_mark in drawn("side_view", "kiln-stack", 60, 3)[0]
    assert FULL.break_mark not in drawn("side_view", "touching", 60, 3)[0]


@pytest.mark.parametrize(("shot", "rises"), [("kiln-stack", 1), ("level sight", 0), ("falling sight", -1)])
def test_the_sight_rises_and_falls_with_the_feature(shot, rises):
    (lens, _), (model, _), (background, _) = standing(shot, 60, 9)
    assert (lens > background) - (lens < background) == rises
    assert min(lens, background) <= model <= max(lens, background)


def test_heights_and_distances_are_told():
    text = "\n".join(drawn("side_view", "kiln-stack", 70, 9))
    for told in ("tie-in 5 ft 7 7/16 in", "5 ft ┤L", "20 ft up", "M 10 ft", "B 240 ft", "// left out"):
        assert told in text
    assert "up" not in "\n".join(drawn("side_view", "no heights", 70, 9))


def heights(lines):
    """The numbers of the axis up by their rows, in the unit of the first; they stand where an even scale has them."""
    told = {row: re.match(r"\s*([^\s│].*?) [┤└]", line) for row, line in enumerate(lines)}
    rows = {row: number(found[1]) for row, found in told.items() if found}
    assert len(rows) >= 2, lines
    (top, high), (bottom, low) = min(rows.items()), max(rows.items())
    per_row = (high - low) / (top - bottom)
    assert all(abs(bottom + (value - low) / per_row - row) <= 1 for row, value in rows.items())
    return lambda row: low + (row - bottom) * per_row


def number(text):
    """A number with or without its unit; lengths in mm."""
    return parse_length(text) if re.search("ft|in|m$", text) else float(text.removesuffix(" %"))


@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate"])
def test_the_model_hangs_as_high_as_the_answer_on_the_axis_up(shot):
    lines, line = drawn("side_view", shot, 80, 30, BOX), found(shot).lineup
    at = heights(lines)
    row = next(row for row, text in enumerate(lines) if "M" in text)
    assert at(row) == pytest.approx(line.hang_height_mm, abs=abs(at(0) - at(1)))
    assert len(re.findall(r"(?<!\S)\d+ (?:ft|m)\b", lines[28])) >= 2


# The rate bar.


def test_ideal_and_set_rate_stand_on_the_mode():
    bar, numbers, looks, gravity = drawn("rate_bar", "lock-gate", 160, 4)
    assert bar.index("I") < bar.index("R")
    assert numbers.index("R 72 fps") < numbers.index("top 120 fps")
    assert looks.index("toy") < looks.index("small") < looks.index("slow")
    assert gravity.startswith("gravity looks 0.965 (1 is right): right")


def test_each_rate_of_the_mode_has_its_tick():
    rates = found("signal-lamp").kit.mode.fps
    bar = drawn("rate_bar", "signal-lamp", 120, 1)[0]
    # The lowest rate is the one that is set, and so under its letter.
    assert bar.count(FULL.cross) + bar.count("R") == len(rates)


def test_an_ideal_past_the_mode_lies_off_its_heavy_line():
    bar, *_, gravity = drawn("rate_bar", "heavy beyond the mode", 80, 4)
    assert bar.rindex(FULL.horizontal) < bar.index("R") < bar.rindex(FULL.dot)
    assert bar.index("R") < bar.index(FULL.heavy) < bar.index("I")
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


@pytest.mark.parametrize("glyphs", GLYPHS.values(), ids=GLYPHS)
@pytest.mark.parametrize(("width", "height"), [(36, 5), (38, 6), (58, 5), (78, 5), (118, 14)])
def test_both_stops_are_drawn_each_in_its_colour_and_named_at_every_size(width, height, glyphs):
    rows = curves.contrast(found("kiln-stack"), width, height, glyphs)
    used, best = sample(glyphs, glyphs.point), sample(glyphs, glyphs.other_point, 2)
    assert row_text(rows[-1]).startswith(f"{used} T20 in use  {best} T16 best")
    assert {style for row in rows[:-2] for text, style in row if text.strip()} >= {"curve", "hint"}


def test_one_curve_where_the_stop_in_use_is_the_best():
    rows = curves.contrast(found("lock-gate"), 80, 12, BOX)
    assert "T8 in use" in row_text(rows[-1])
    assert "best" not in row_text(rows[-1])
    assert "hint" not in {style for row in rows for _, style in row}


@pytest.mark.parametrize("shot", ["kiln-stack", "lock-gate", "signal-lamp", "infinite"])
def test_the_curve_is_as_high_as_the_contrast(shot):
    """At the focus: the row of the point, read off the numbers of the axis, is the answer's contrast."""
    lines = drawn("contrast_curve", shot, 100, 30, BOX)
    axis = next(row for row, line in enumerate(lines) if BOX.bottom_left in line)
    column = lines[axis].index("F")
    row = next(row for row in range(axis) if lines[row][column : column + 1] == BOX.point)
    at = heights(lines)
    assert at(row) == pytest.approx(100 * found(shot).focus.contrast.focus, abs=abs(at(0) - at(1)))
    assert at(axis) == pytest.approx(0, abs=1e-9)


# The view of the move.


def test_axis_and_targets_stand_along_the_lens_axis():
    lines = drawn("plan_view", "far off zero", 60, 16)
    line = next(line for line in lines if "A" in line)
    assert line.index("A") < line.index("M") < line.index("B")
    assert any(line.startswith("P 61.7 mm behind A  slide 0 mm  pan 60 deg") for line in lines)


def test_the_slide_is_drawn_with_where_it_should_be():
    lines = drawn("plan_view", "tight tolerance", 70, 9)
    rail = next(row for row, line in enumerate(lines) if "Z" in line)
    assert lines[rail].index("S") == 69  # 120 mm, the slide's end
    assert lines[rail].index("Z") / 69 == pytest.approx(62.07 / 120, abs=0.01)
    assert lines[rail + 1].split() == ["0", "20", "40", "60", "80", "100", "120"]
    assert any(line.startswith("Z no slip at 62.1 mm") for line in lines)


def test_where_the_move_holds_is_shaded_on_the_slide():
    rail = drawn("plan_view", "kiln-stack", 120, 3)[0]
    goal = slide_goal(found("kiln-stack"))
    shaded = [at for at, char in enumerate(rail) if char in {FULL.shade_light, "S", "Z"}]
    assert shaded[0] == pytest.approx((goal.place_mm - goal.within_mm) * 119 / 120, abs=1)
    assert shaded[-1] == pytest.approx((goal.place_mm + goal.within_mm) * 119 / 120, abs=1)


@pytest.mark.parametrize("shot", ["kiln-stack", "tight tolerance"])
def test_the_field_and_the_turn_are_to_scale(shot):
    """At the model: what must be covered, off the numbers of the axis up, and where the turned axis passes it."""
    lines, line = drawn("plan_view", shot, 100, 40, BOX), found(shot).lineup
    column = next(line.index("M") for line in lines if "M" in line)
    at = heights(lines[:25])  # above the middle; below it the numbers grow again
    rows = [row for row, text in enumerate(lines[:35]) if text[column : column + 1] in {BOX.vertical, BOX.tee_up, "M"}]
    row = abs(at(0) - at(1))
    assert abs(at(rows[0]) - at(rows[-1])) == pytest.approx(line.cover_width_mm, abs=2 * row)


@pytest.mark.parametrize(
    ("shot", "says"),
    [("no move", "nothing turns"), ("pupil unknown", "pupil not measured"), ("no head", "no head is named"),
     ("slide not set", "slide not set")],
)  # fmt: skip
def test_what_is_missing_is_said(shot, says):
    lines = drawn("plan_view", shot, 60, 9)
    assert says in "\n".join(lines)


def test_the_turn_goes_upwards_from_the_axis():
    lines = drawn("plan_view", "kiln-stack", 80, 16)
    start = next(row for row, line in enumerate(lines) if "A" in line)
    end = next(row for row, line in enumerate(lines) if "15 deg" in line)
    assert end < start


# The slip curve.


@pytest.mark.parametrize("shot", ["kiln-stack", "far off zero", "tight tolerance", "tilt"])
@pytest.mark.parametrize("height", [7, 14, 24])
def test_the_curve_of_slip_begins_at_nothing_and_ends_at_the_answers_slip(shot, height):
    """Read off the numbers of the axis, which stand where an even scale has them."""
    lines = drawn("slip_curve", shot, 80, height, BOX)
    at = heights(lines)
    row = abs(at(0) - at(1))
    left = next(line.index(BOX.bottom_left) for line in lines if BOX.bottom_left in line) + 1
    for column, slip in ((left, 0.0), (79, found(shot).slip.slip_px)):
        drawn_at = [at(row) for row, line in enumerate(lines[:-2]) if line[column : column + 1] == BOX.point]
        assert any(abs(px - slip) <= row for px in drawn_at), (column, slip, drawn_at)


@pytest.mark.parametrize("every", [1, 2, 3, 4, 6])
def test_a_legend_shows_a_line_as_it_is_drawn(every):
    canvas = Canvas(12, 1, FULL)
    dots = Dots(canvas, 0, 0, 11, 0)
    dots.curve(((-0.25, -0.125), (11.25, -0.125)), ".", every=every)
    dots.put()
    shown = sample(FULL, ".", every)
    assert len(shown) == len(sample(BOX, ".", every))  # so that every table has its letters in the same places
    assert row_text(canvas.rows()[0]).replace(" ", "\N{BRAILLE PATTERN BLANK}").startswith(shown)


def test_what_may_pass_is_drawn_to_scale_in_a_colour_of_its_own():
    rows = curves.slip_in_move(found("kiln-stack"), 60, 14, BOX)
    at = heights([row_text(row) for row in rows])
    passes = [row for row, runs in enumerate(rows[:-1]) if any(style == "ok" for _, style in runs)]
    assert [at(row) for row in passes] == pytest.approx([1.0, -1.0], abs=abs(at(0) - at(1)) / 2)


def test_the_signs_of_the_slip_curve_are_said_in_little_room_too():
    assert drawn("slip_curve", "kiln-stack", 78, 5)[-1] == (
        f"⠒⠒ slip in px over 15 deg  {sample(FULL, '.', 4)} 1 may pass  + model outruns, - lags"
    )
    said = f"⠒⠒ slip in px  {sample(FULL, '.', 4)} 1 may pass  + model outruns, - lags"
    assert drawn("slip_curve", "kiln-stack", 78, 14)[-1] == said
    assert "** slip in px over 15 deg  .. 1 may pass" in drawn("slip_curve", "kiln-stack", 78, 5, ASCII)[-1]


@pytest.mark.parametrize(
    ("shot", "says"),
    [("no move", "nothing turns"), ("pupil unknown", "pupil not measured"), ("no head", "no head is named"),
     ("slide not set", "slide not set")],
)  # fmt: skip
def test_no_slip_is_drawn_that_is_not_known(shot, says):
    lines = drawn("slip_curve", shot, 60, 9, BOX)
    assert says in lines[:2]
    assert BOX.point not in "".join(lines)


@given(
    across=st.integers(0, 20).map(lambda quarters: quarters / 4),
    steps=st.lists(st.floats(0.2, 3) | st.integers(1, 12).map(lambda quarters: quarters / 4), min_size=2, max_size=30),
    slope=st.floats(-1, 1, allow_subnormal=False),
)
def test_a_curve_of_short_lines_has_no_gap_between_two_dots(across, steps, slope):
    canvas = Canvas(110, 110, FULL)
    dots = Dots(canvas, 0, 0, 109, 109)
    places = [*accumulate(steps, initial=across)]
    dots.curve([(place, 50 + slope * place / 2) for place in places], "*")
    dots.put()
    columns = zip(*(row_text(row).ljust(110) for row in canvas.rows()), strict=True)
    set_in = [
        functools.reduce(operator.or_, (ord(sign) - BRAILLE for sign in one if sign != " "), 0) for one in columns
    ]
    halves = "".join("01"[bool(bits & half)] for bits in set_in for half in (0x47, 0xB8)).strip("0")
    assert len(halves) > 0
    assert "0" not in halves


def test_dashes_take_every_other_cell_whole():
    for glyphs, dash in ((FULL, "⠤"), (ASCII, "-")):
        canvas = Canvas(20, 1, glyphs)
        dots = Dots(canvas, 0, 0, 19, 0)
        dots.curve(((-0.25, 0), (19.75, 0)), glyphs.horizontal, every=0)
        dots.put()
        assert row_text(canvas.rows()[0]) == " ".join(dash * 10)
