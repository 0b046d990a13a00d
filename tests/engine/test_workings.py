"""Every number of the answer explains itself, and every field of a shot; the sums in the texts come out."""

from __future__ import annotations

import math
import re
import typing
from importlib import import_module
from pathlib import Path

import pytest
from cases import fields_of, solve
from put_in_sums import equations, outcome
from workings_cases import CASES, DEMOS, case, types_in

from forescale.engine import workings
from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.kit import library
from forescale.engine.solve import groups, picture_groups, sun_group, timing
from forescale.engine.units import UnitSystem, parse_length
from forescale.engine.workings import WORKINGS, Explanation, explain, keys_here, keys_of_pane, value_text
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.put_in import SYMBOLS
from forescale.engine.workings.sums import SUMS
from forescale.engine.workings.sums_slip import SLIP_SUMS

ERROR = "scale.build.shop_error_real_mm"
GROUPS = {
    "scale": groups.ScaleAnswer,
    "scale.build": groups.BuildItem,
    "scale.stock": groups.StockItem,
    "lineup": groups.LineupAnswer,
    "speed": groups.SpeedAnswer,
    "focus": groups.FocusAnswer,
    "focus.contrast": groups.ContrastAnswer,
    "light": groups.LightAnswer,
    "sun": sun_group.SunAnswer,
    "sun.rig_shadow": sun_group.RigShadow,
    "timing": timing.TimingAnswer,
    "slip": groups.SlipAnswer,
    "slip.bench": groups.BenchAnswer,
    "survey": groups.SurveyAnswer,
    "stand": groups.StandAnswer,
    "picture": picture_groups.PictureAnswer,
    "picture.points": picture_groups.PicturePoint,
    "picture.outlines": picture_groups.PictureOutline,
    "picture.pieces": picture_groups.PicturePiece,
    "correction.camera": picture_groups.CameraMoves,
    "correction.model": picture_groups.ModelMoves,
    "come_back": picture_groups.ComeBackAnswer,
}
SEEN = ("picture.points.", "picture.outlines.", "picture.pieces.", "correction.", "come_back.")  # told, not worked out
# Not numbers, and yet what people read as results.
VERDICTS = {"focus.covers", "light.flicker_safe", "scale.build.shop", "scale.build.compare_shop"}


def numbers() -> set[str]:
    """Return the keys of all fields of the answer's groups whose type holds a number."""
    found = set()
    for group, kind in GROUPS.items():
        for name, annotation in typing.get_type_hints(kind).items():
            if {int, float} & set(types_in(annotation)):
                found.add(f"{group}.{name}")
    return found


def test_every_number_of_the_answer_has_a_working_and_nothing_else_has() -> None:
    assert set(WORKINGS) == numbers() | VERDICTS


def test_all_groups_of_the_answer_are_looked_at() -> None:
    kinds = {kind for name, kind in vars(groups).items() if fields_of(kind) and "Answer" in name}
    assert kinds <= set(GROUPS.values())
    assert set(Answer._fields) & set(GROUPS) == {group for group in GROUPS if "." not in group}


@pytest.mark.parametrize("name", CASES)
def test_explanations_are_whole_and_say_nothing_only_programmers_read(name: str) -> None:
    for key in WORKINGS:
        explained = explain(key, case(name))
        for field, value in zip(Explanation._fields, explained, strict=True):
            for text in value if isinstance(value, tuple) else (value,):
                assert text.strip() or field == "function", (key, field)
                assert not re.search(r"\b(nan|inf|None|True|False|e[+-]\d+)\b", text), (key, text)
        assert explained.put_in[-1] not in " :;,=", (key, explained.put_in)


@pytest.mark.parametrize("name", CASES)
def test_the_sums_come_out_by_their_printed_digits(name: str) -> None:
    for key in WORKINGS:
        put_in = explain(key, case(name)).put_in
        for sides in equations(put_in):
            ranges = [outcome(side, result=side is sides[-1]) for side in sides]
            assert max(low for low, _ in ranges) <= min(high for _, high in ranges), (key, put_in, ranges)


def test_a_sum_is_put_in_for_nearly_every_number_not_entered_or_chosen() -> None:
    worked = {key for name in CASES for key in WORKINGS if equations(explain(key, case(name)).put_in)}
    in_words = {key for key in WORKINGS if key not in worked}
    entered = {key for key, working in WORKINGS.items() if "as entered" in working.formula or working.formula == "t"}
    seen = {key for key in in_words if key.startswith(SEEN)}
    assert in_words - entered - seen == {
        *(key for key in WORKINGS if key.startswith("sun.") and key != "sun.shadow_per_height"),
        "light.pulse_depth",
        "scale.ratio",
        "scale.build.shop",
        "scale.build.compare_shop",
        "lineup.model_mm",
        "lineup.background_mm",
        "speed.fps",
        "speed.rates",
        "speed.top_fps",
        "light.nd_stops",
        "survey.distance_error_mm",
        "survey.feature_width_error_mm",
        "survey.feature_height_error_mm",
        "light.flicker_safe",
        "focus.focal_length_mm",
        "focus.near_needed_mm",
        "focus.far_needed_mm",
        "focus.covers",
        "focus.contrast.best_f_number",
        "focus.contrast.best_worst",
        "slip.largest_slip_px",
        "slip.slide_best_mm",
        "slip.best_within_mm",
        "slip.travel_allowed_mm",
        "slip.pupil_ahead_mm",
        "slip.pupil_uncertainty_mm",
        "slip.bench.slide_for_zero_mm",
        "slip.bench.slope_px_per_mm",
        "slip.bench.bracket_mm",
        "slip.bench.contradicting",
        "stand.parts_weight_kg",
        "stand.unweighed",
        "stand.tips_at_mm_s",
        "stand.slides_at_mm_s",
        "stand.stop_gust_mm_s",
        "stand.stop_mean_mm_s",
        "stand.gust_reads_mm_s",
    }


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("(240 ft − 0.942 in) / 24 + 0.942 in = 10 ft 0 7/8 in", "(240 ft − 0.942 in) / 24 = 10 ft 0 7/8 in"),
        ("24 fps × √24 × 1 = 117.6 fps", "24 fps × √24 × 1 = 117.8 fps"),
        ("√((16.6 mm)² + (9.35 mm)²) / 1500 = 0.0127 mm", "√((16.6 mm)² + (9.35 mm)²) / 1500 = 0.0128 mm"),
        ("250 × 20.288² / (0.0041667 s × 800) = 30900 lx", "250 × 20.288² / (0.0041667 s × 800) = 31000 lx"),
        ("half: atan(16.6 mm / (2 × 35.225 mm)) = 13.26°", "half: atan(16.6 mm / (2 × 35.225 mm)) = 13.4°"),
        ("MTF(0.5, 0) = 39 %", "MTF(0.5, 0) = 40 %"),
    ],
)
def test_the_check_of_sums_tells_a_wrong_one(right: str, wrong: str) -> None:
    for text, comes_out in ((right, True), (wrong, False)):
        [sides] = equations(text)
        (low, high), (least, most) = outcome(sides[0], result=False), outcome(sides[1], result=True)
        assert (max(low, least) <= min(high, most)) is comes_out


def test_no_sum_is_so_coarse_that_it_would_come_out_anyhow() -> None:
    """The printed digits leave a twentieth at most, but for differences that come to nearly nothing."""
    differences = {"scale.build.shop_error_real_mm", "slip.offset_mm"}
    for key in WORKINGS:
        for sides in equations(explain(key, case("kiln-stack")).put_in):
            low, high = outcome(sides[0], result=False)
            assert key in differences or high - low <= 0.05 * max(abs(low), abs(high)), (key, sides)


@pytest.mark.parametrize(("name", "system"), [("kiln-stack", "imperial"), ("metric rounding", "metric")])
def test_what_the_rounding_costs_is_what_the_shop_cuts_less_what_is_right(name: str, system: UnitSystem) -> None:
    of = case(name, system)
    assert of.scale.build
    for item in of.scale.build:
        off_mm = parse_length(item.shop) * of.scale.ratio - item.real_mm
        assert item.shop_error_real_mm == pytest.approx(off_mm, abs=1e-9)
        stated = parse_length(re.findall(rf"{item.part}: .*? = ([^;]+)", explain(ERROR, of).put_in)[0])
        assert stated == pytest.approx(off_mm, rel=5e-3, abs=1e-9)  # three printed digits


@pytest.mark.parametrize("name", CASES)
def test_the_value_shown_is_the_one_that_the_sum_ends_with(name: str) -> None:
    for key in WORKINGS:
        if not key.startswith(("scale.build.", "scale.stock.", "picture.")):
            explained = explain(key, case(name))
            assert explained.value_text in explained.put_in, key


def test_an_answer_without_contrast_says_so() -> None:
    of = case("kiln-stack")
    bare = answer(of.setting, of.kit, of.system, with_contrast=False)
    for key in WORKINGS:
        if key.startswith("focus.contrast."):
            assert (
                explain(key, bare).put_in == "not known: left out of this answer, which was asked for without contrast"
            )


@pytest.mark.parametrize("name", DEMOS)
def test_both_systems_tell_the_same_and_each_in_its_own_units(name: str) -> None:
    for key in WORKINGS:
        metres = explain(key, case(name, "metric"))
        assert not re.search(r"\d k?m\b", explain(key, case(name, "imperial")).value_text), key
        if key not in {"scale.inches_per_foot", "light.footcandles_needed"}:
            assert not re.search(r"\d (ft|in|fc|mph)\b", f"{metres.value_text} {metres.put_in}"), key
    assert value_text("lineup.background_mm", case("kiln-stack", "imperial")) == "240 ft"
    assert value_text("lineup.background_mm", case("kiln-stack", "metric")) == "73.15 m"


def test_values_are_those_of_the_answer_as_people_read_them() -> None:
    of = case("kiln-stack")
    assert value_text("speed.fps", of) == "120 fps"
    assert value_text("scale.ratio", of) == "1:24"
    assert value_text("speed.model_speed_mm_s", of) == "not known"
    assert of.focus.far_mm == math.inf
    assert value_text("focus.far_mm", of) == "infinity"
    assert value_text("scale.build.shop", of).startswith("stack above the roof 30 in; stack at the base 3 3/8 in")
    assert explain("lineup.match_distance_mm", of).put_in == (
        "(240 ft / cos(6°) − 0.942 in) / 24 × cos(6°) + 0.942 in × cos(6°) = 10 ft 0 7/8 in"
    )


def test_where_a_number_is_not_known_the_text_says_what_to_enter() -> None:
    for name in CASES:
        for key, working in WORKINGS.items():
            explained = explain(key, case(name))
            if explained.value_text in {"not known", "none to use", "without end"}:
                assert working.needs, (name, key)
                assert explained.put_in == f"{explained.value_text}: {working.needs}"


def test_every_number_is_known_in_some_case() -> None:
    known = {key for name in CASES for key in WORKINGS if value_text(key, case(name)) != "not known"}
    assert known == set(WORKINGS)


def test_names_are_short_and_told_apart_and_sources_are_given() -> None:
    names = [working.name for working in WORKINGS.values()]
    assert len(set(names)) == len(names)
    assert max(len(name) for name in names) <= 26
    for working in WORKINGS.values():
        assert working.source.strip()
        assert working.formula.strip()
        assert working.meaning.endswith(".")


def test_every_sum_and_every_symbol_is_put_in_somewhere() -> None:
    puts = {
        key: dict([("", one.put_in)] if isinstance(one.put_in, str) else one.put_in) for key, one in WORKINGS.items()
    }
    assert {key for key, texts in puts.items() if "" in texts.values()} == set(SUMS | SLIP_SUMS)
    room = Path(workings.__file__).parent
    texts = [text for texts in puts.values() for text in texts.values()]
    texts += [str(held) for working in WORKINGS.values() for held in working.holds]
    texts += [path.read_text(encoding="utf-8").replace("{{", "{") for path in room.glob("sums*.py")]
    for symbol in SYMBOLS:
        assert any(f"{{{symbol}}}" in text or f'"{symbol}"' in text for text in texts), symbol


def test_each_working_leads_to_the_one_function_that_the_answer_calls() -> None:
    rooms = ("solve", "kit", "formulas", "bench")
    engine = Path(workings.__file__).parents[1]
    calls = "\n".join(path.read_text(encoding="utf-8") for room in rooms for path in (engine / room).glob("*.py"))
    named = {working.function for working in WORKINGS.values()} - {""}
    assert len(named) > 70
    for name in named:
        module, _, function = name.partition(".")
        assert callable(getattr(import_module(f"forescale.engine.formulas.{module}"), function)), name
        assert re.search(rf"\b{function}\b", calls.replace(f"def {function}(", "")), name


def test_what_was_entered_explains_itself_whatever_lens_there_is_now() -> None:
    survey = [{"feature_height": "6 m", "focus": "10 mm"}]
    explained = explain("survey.feature_height_mm", solve({"survey": survey}, lens={"focal_length": "12 mm"}))
    assert explained.put_in == "as entered: 6 m"


def test_numbers_lead_to_numbers_and_not_to_themselves() -> None:
    for key, working in WORKINGS.items():
        assert set(working.leads_to) <= set(WORKINGS) - {key}, key
    for path, field in FIELD_HELP.items():
        assert set(field.leads_to) <= set(WORKINGS), path


def test_panes_share_all_numbers_between_them() -> None:
    keys = [key for pane in typing.get_args(typing.get_type_hints(keys_of_pane)["pane"]) for key in keys_of_pane(pane)]
    assert sorted(keys) == sorted(WORKINGS)
    starts = {key.partition(".")[0] for key in keys_of_pane("scale")}
    assert starts == {"scale", "lineup", "survey", "stand", "picture", "correction", "come_back"}
    assert {key.partition(".")[0] for key in keys_of_pane("speed")} == {"speed", "light", "timing", "sun"}


def test_groups_that_a_shot_has_not_are_not_listed() -> None:
    found = case("kiln-stack")
    assert found.setting.survey == ()
    keys = keys_here("scale", found)
    assert not [key for key in keys if key.startswith(("survey.", "come_back.", "picture.pieces."))]
    assert set(keys) < set(keys_of_pane("scale"))
    assert "scale.ratio" in keys


def test_texts_use_plain_characters_and_a_few_signs() -> None:
    """The Linux console's fonts have no others; the glyph table maps these."""
    allowed = re.compile(r"[ -~×÷√°²·−]*")
    for name in CASES:
        for key in WORKINGS:
            for text in explain(key, case(name)):
                assert allowed.fullmatch("".join(text)), (key, text)
    for field in FIELD_HELP.values():
        assert allowed.fullmatch("".join((field.label, field.what, field.enters, field.measure)))


def test_a_slide_that_is_marked_in_inches_is_told_in_inches() -> None:
    found = case("a slide in inches")
    for key in ("slip.slide_for_zero_mm", "slip.tolerance_mm", "slip.pupil_ahead_mm", "slip.bench.slide_for_zero_mm"):
        explained = explain(key, found)
        assert re.fullmatch(r"[\d.−]+ in", explained.value_text), key
        assert (
            "mm" not in explained.put_in.replace("35.225 mm", "").partition(" × sin")[0] or key == "slip.tolerance_mm"
        )
    assert explain("slip.slide_mm", found).conventions.startswith("In inches along the slide")
    assert value_text("slip.bench.slope_px_per_mm", found).endswith(" px an inch")
    assert value_text("slip.bench.slope_px_per_mm", case("level")).endswith(" px a mm")


@pytest.mark.parametrize(
    ("name", "says"),
    [("kiln-stack", None), ("tilt", "level with it"), ("far from the tilt", "12 mm ahead of it")],
)
def test_a_tilt_counts_from_its_own_axis(name: str, says: str | None) -> None:
    text = explain("slip.offset_mm", case(name)).conventions
    assert "counted from the pan axis." in text
    assert ("The tilt turns about an axis of its own" in text) == (says is not None)
    assert says is None or says in text


def test_a_tilted_lens_has_its_slide_worked_with_the_numbers_of_the_head() -> None:
    # 60 · tan 5° + 20 · (1 − 1 / cos 5°) + 90 − 30 = 65.17; at 70 the pupil lies 70 − 90 + 30 − 20 ahead: −10.
    aimed = {"place.aim": "5 deg up", "place.lens_height": "1.5 m", "move.axis": "pan", "move.sweep": "10 deg"}
    head = {"tilt_drop": "60 mm", "tilt_ahead": "20 mm"}
    found = solve(aimed | {"move.slide": "70 mm"}, head=head)
    assert found.slip.slide_for_zero_mm == pytest.approx(65.173, abs=0.001)
    assert explain("slip.slide_for_zero_mm", found).put_in == (
        "60 mm × tan(5°) + 20 mm × (1 − 1 / cos(5°)) + (90 mm − 30 mm) = 65.17 mm"
    )
    assert found.slip.offset_mm == pytest.approx(
        -10 * math.cos(math.radians(5)) - 60 * math.sin(math.radians(5)) + 20, abs=0.001
    )
    assert explain("slip.offset_mm", found).put_in == (
        "(70 mm − 90 mm + 30 mm − 20 mm) × cos(5°) + 20 mm − 60 mm × sin(5°) = 4.81 mm"
    )


def test_the_least_rate_of_a_mode_is_told_to_four_digits_as_any_rate_is() -> None:
    told = explain("speed.rates", solve(mode={"fps": {"min": 23.976, "max": 120}})).value_text
    assert told == "any whole rate from 23.98 to 120 fps"


@pytest.mark.parametrize(("mm", "text"), [(304.7, "12 in"), (12 * 25.4, "1 ft"), (0.0, "0 in"), (-25.4, "−1 in")])
def test_a_length_is_told_as_it_is_taped_from_a_foot_on(mm: float, text: str) -> None:
    assert Figures(solve({"units": "imperial"})).small(mm) == text


def test_lengths_along_the_slide_are_added_with_their_signs() -> None:
    say = Figures(solve())
    assert say.along(0.5, -86) == "0.5 mm − 86 mm"
    assert say.along(-0.5, 86) == "−0.5 mm + 86 mm"
    assert say.along(0, 0) == "0 mm"
    assert [say.signed(mm) for mm in (-3.2, 0.0, 3.2)] == ["(−3.2 mm)", "0 mm", "3.2 mm"]


@pytest.mark.parametrize(
    ("ahead", "sum_"),
    [("0.5 mm", "(64.03 m − 0.5 mm) / 16 + 0.5 mm"), ("-0.5 mm", "(64.03 m + 0.5 mm) / 16 − 0.5 mm")],
)
def test_a_pupil_half_a_millimetre_off_is_put_in_with_its_sign(ahead: str, sum_: str) -> None:
    found = solve(lens={"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": ahead}]})
    assert explain("lineup.match_distance_mm", found).put_in.startswith(f"{sum_} = ")


def test_at_infinity_a_point_is_met_at_the_height_of_the_lens() -> None:
    endless = {"place.background": "inf", "place.lens_height": "1.5 m", "place.feature_height": "6 m"}
    assert explain("lineup.hang_height_mm", solve(endless)).put_in.endswith("every line of sight is level: 1.5 m")


def test_the_error_of_the_bench_is_widened_by_students_t() -> None:
    """Five readings leave three degrees of freedom: 1.197 for 68.27 % (any table of Student's t)."""
    rows = [{"slide": f"{20 * at} mm", "slip_px": px} for at, px in enumerate((-4.3, -1.9, 0.2, 1.9, 4.4), start=1)]
    bench = solve({"move.axis": "pan", "move.sweep": "10 deg", "bench": rows}, head={})
    told = re.match(r"noise = ([\d.]+) × ([\d.]+) = ([\d.]+);", explain("slip.bench.std_error_mm", bench).put_in)
    assert told is not None
    widening, scatter, noise = map(float, told.groups())
    assert widening == pytest.approx(1.197, abs=0.002)
    assert widening * scatter == pytest.approx(noise, rel=1e-4)


def test_skew_and_what_leaves_the_frame_are_told_with_their_numbers() -> None:
    """The demo's lens is aimed, so no short formula holds: its pace and places are put in instead."""
    _, of = answer_file(library.shot_path("kiln-stack"))
    assert re.search(r": [\d.]+ × 0\.005 s = 5\.657 px$", explain("speed.readout_skew_px", of).put_in)
    told = explain("picture.points.leaves_deg", of).put_in
    assert "across: roof at the stack's left 47 %" in told
    assert "12.57°" in told  # 12.576, as the finding and the sheet have it
