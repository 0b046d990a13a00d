"""The JSON answer has every key that scripts count on, the CSV every part, the page all that the sheet says."""

from __future__ import annotations

import csv
import io
import json
from html.parser import HTMLParser
from typing import Any

import pytest
from cases import shipped, shot, solve

from forescale.engine.answer import answer_file
from forescale.engine.sheet.data import BUILD_HEADS, build_csv, sheet_json
from forescale.engine.sheet.page import sheet_html
from forescale.engine.sheet.sections import sections
from forescale.engine.sheet.text import sheet_text

DEMOS = ["kiln-stack", "lock-gate", "signal-lamp"]
# The names that people write into scripts, so they stay put.
KEYS: dict[str, str] = {
    "scale": "ratio inches_per_foot build detail_model_mm detail_real_mm",
    "lineup": "match_distance_mm reads_as_ratio size_error hang_height_mm foot_height_mm frame_width_model_mm "
    "frame_height_model_mm cover_width_mm drift_tolerance_mm place_tolerance_mm",
    "speed": "ideal_fps fps apparent_gravity largest_ratio set_time_s frames exposure_s model_speed_mm_s "
    "move_set_time_s crossing_s data_mb",
    "focus": "coc_mm focal_length_mm f_number near_needed_mm far_needed_mm focus_mm stop_needed near_mm far_mm "
    "hyperfocal_mm covers contrast airy_mm split_dioptres",
    "light": "lux_needed footcandles_needed over_stops nd_stops iso_needed flicker_safe safe_fps safe_shutter_deg",
    "slip": "pupil_ahead_mm offset_mm slip_px slip_mm tolerance_mm slide_for_zero_mm bench",
    "survey": "feature_width_mm distance_mm feature_height_mm air_contrast",
}
BUILD_KEYS = "part real_mm model_mm shop shop_error_real_mm"
CONTRAST_KEYS = "frequency_lpmm near focus far best_f_number best_worst"
BENCH_KEYS = (
    "slide_for_zero_mm std_error_mm pupil_ahead_mm slope_px_per_mm slope_predicted_px_per_mm readings "
    "bracket_mm try_next_mm"
)


def refuse_constant(name: str) -> None:
    raise AssertionError(f"{name} is no JSON")


def loaded(text: str) -> dict[str, Any]:
    data = json.loads(text, parse_constant=refuse_constant)
    assert isinstance(data, dict)
    return data


def of_demo(name: str) -> dict[str, Any]:
    return loaded(sheet_json(*answer_file(shipped("shots", name))))


def of_plain(changes: dict[str, Any]) -> dict[str, Any]:
    return loaded(sheet_json(shot(changes), solve(changes, head={})))


@pytest.mark.parametrize("name", DEMOS)
def test_every_key_is_there(name: str) -> None:
    data = of_demo(name)
    assert {"title", "units", "kit", "auto", "findings"} <= data.keys()
    for group, keys in KEYS.items():
        assert set(keys.split()) <= data[group].keys(), group
    assert set(CONTRAST_KEYS.split()) <= data["focus"]["contrast"].keys()
    for part in data["scale"]["build"]:
        assert set(BUILD_KEYS.split()) <= part.keys()
    for finding in data["findings"]:
        assert {"pane", "level", "code", "text"} <= finding.keys()
        assert finding["level"] in {"ok", "note", "warn", "stop"}


def test_the_bench_has_its_keys_by_number_and_by_eye() -> None:
    assert set(BENCH_KEYS.split()) <= of_demo("kiln-stack")["slip"]["bench"].keys()
    rows = [{"slide": "40 mm", "seen": "lags"}, {"slide": "80 mm", "seen": "outruns"}]
    bench = of_plain({"move": {"axis": "pan", "sweep": "5 deg"}, "bench": rows})["slip"]["bench"]
    assert bench["bracket_mm"] == [40, 80]
    assert bench["try_next_mm"] == 60


def test_infinity_is_null_and_said_to_be_infinite() -> None:
    data = of_plain({"place.background": "inf"})
    for group, key in (("lineup", "match_distance_mm"), ("focus", "far_needed_mm")):
        assert data[group][key] is None
        assert data[group][f"{key}_infinite"] is True


def test_what_is_not_known_is_null_and_not_said_to_be_infinite() -> None:
    light = of_plain({})["light"]
    assert light["over_stops"] is None
    assert "over_stops_infinite" not in light


def test_the_shot_itself_comes_with_its_answer() -> None:
    data = of_demo("kiln-stack")
    assert data["kit"] == {
        "camera": "demo-cine-35",
        "mode": "2K centre crop",
        "lens": "demo-prime-35",
        "focal_length_mm": 35.0,
        "head": "demo-slide-head",
    }
    assert data["shot"]["place"]["model"] == "10 ft"
    assert set(data["auto"]) == {"action.fps", "focus.distance", "focus.stop", "light.iso"}
    assert data["lineup"]["model_mm"] == 3048


def test_what_may_be_off_comes_with_it_in_the_order_that_matters() -> None:
    margins = of_demo("kiln-stack")["sensitivity"]
    assert [row["rank"] for row in margins] == list(range(1, len(margins) + 1))
    assert {"path", "value", "unit", "less", "more"} <= margins[0].keys()


def test_units_change_the_words_and_no_number() -> None:
    path = shipped("shots", "kiln-stack")
    own, other = (loaded(sheet_json(*answer_file(path, system))) for system in ("imperial", "metric"))
    assert (own["units"], other["units"]) == ("imperial", "metric")
    for group in ("lineup", "speed", "focus", "light", "slip", "survey"):
        assert own[group] == other[group]


def test_the_build_list_has_a_line_a_part() -> None:
    quoted: dict[str, Any] = {"part": 'a "quoted", part\nin two lines', "real": "10 m"}
    parts = [quoted, {"part": "wall", "real": "1 m", "quantity": 3}]
    changes = {"build": parts, "scale.ratio": "1:16"}
    rows = list(csv.DictReader(io.StringIO(build_csv(shot(changes), solve(changes)))))
    assert tuple(rows[0]) == BUILD_HEADS
    assert [row["part"] for row in rows] == [" ".join(part["part"].split()) for part in parts]
    # 10 m at 1:16 is 625 mm exactly; 1 m is 62.5 mm, on a half millimetre.
    assert [(row["quantity"], float(row["model_mm"]), row["cut"]) for row in rows] == [
        ("1", 625.0, "625 mm"),
        ("3", 62.5, "62.5 mm"),
    ]


def test_a_shot_with_nothing_to_build_has_the_heads_alone() -> None:
    changes: dict[str, Any] = {"build": []}
    assert build_csv(shot(changes), solve(changes)).splitlines() == [",".join(BUILD_HEADS)]


class Page(HTMLParser):
    """Collects the tags, the attributes and the words of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[str] = []
        self.words = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes.extend(name for name, _ in attrs)

    def handle_data(self, data: str) -> None:
        self.words += f"{data} "


@pytest.mark.parametrize("name", DEMOS)
def test_the_page_says_all_that_the_sheet_says(name: str) -> None:
    asked, found = answer_file(shipped("shots", name))
    page = Page(sheet_html(asked, found))
    words = " ".join(page.words.split())
    assert asked.title in words
    for section in sections(asked, found):
        assert section.title in words
    for finding in found.findings:
        assert finding.text.split(";")[0] in words
    assert page.tags.count("svg") == 1


def test_the_page_needs_nothing_else_and_runs_nothing() -> None:
    page = Page(sheet_html(*answer_file(shipped("shots", "kiln-stack"))))
    assert not {"script", "link", "img", "iframe", "object"} & set(page.tags)
    assert not {"src", "href", "onclick", "onload"} & set(page.attributes)


def test_the_page_holds_a_users_words_as_words() -> None:
    changes = {"title": "<script>alert(1)</script>", "build": [{"part": "<b>&", "real": "10 m"}]}
    page = Page(sheet_html(shot(changes), solve(changes)))
    assert "script" not in page.tags
    assert "<b>&" in page.words
    assert "<script>alert(1)</script>" in page.words


PARTS = [
    {"part": "=2+3", "real": "3 m", "wide": "1 m", "deep": "0.5 m", "density": "500 kg/m3", "material": "@ply"},
    {"part": "rail", "real": "3 m", "pitch": "0.31 m", "quantity": 9, "material": "@ply"},
    {"part": "-wire", "real": "2 mm"},
]
BUILT: dict[str, Any] = {"build": PARTS, "stock": [{"item": "+card", "size": "1 mm"}], "scale.compare": "1:10"}


def test_the_shops_list_has_the_second_ratio_the_stock_and_materials() -> None:
    rows = list(csv.DictReader(io.StringIO(build_csv(shot(BUILT), solve(BUILT)))))
    assert [row["kind"] for row in rows] == ["part", "part", "part", "stock", "material"]
    first, rail, _, stock, material = rows
    assert (first["second_cut"], first["second_ratio"]) == ("300 mm", "10.0")
    assert float(first["weight_kg"]) == pytest.approx(3 * 0.5 * 500 / 16**3, rel=1e-5)
    # 310/16 is 19.375, cut 19.5: eight pitches on, 1 mm too far.
    assert float(rail["pitch_error_mm"]) == pytest.approx(1.0)
    assert (stock["cut"], float(stock["real_mm"]), stock["second_cut"]) == ("1 mm", 16, "10 mm")
    # Ten pieces of 3 m, a cut of 3 mm after each; one face of 3 by 1 m.
    assert float(material["model_mm"]) == pytest.approx(10 * (3000 / 16 + 3))
    assert float(material["area_m2"]) == pytest.approx(3 / 256, rel=1e-4)


def test_no_cell_begins_as_a_formula_does() -> None:
    text = build_csv(shot(BUILT), solve(BUILT))
    for row in csv.reader(io.StringIO(text)):
        for cell in row:
            assert not cell.startswith(("=", "+", "@", "\t", "\r")), cell
            assert not cell.startswith("-") or float(cell) < 0, cell


def test_what_is_cut_and_what_stands_are_told_alike_in_every_form() -> None:
    changes = BUILT | {"stand": {"area": "1 m2", "area_height": "0.5 m", "foot_deep": "1 m", "weight": "20 kg"}}
    data, found = of_plain(changes), solve(changes)
    text = sheet_text(shot(changes), found)
    assert data["stand"]["stop_gust_mm_s"] == found.stand.stop_gust_mm_s
    assert "STOP AND CLEAR AT ..... 6.8 m/s" in text
    assert "too small" in text
    assert data["scale"]["cutting"]["pieces"][2]["too_small"]
    assert [place["mm"] for place in data["scale"]["running"][0]["places"]][:3] == [
        0,
        19.5,
        38.5,
    ]  # 38.75: a half goes down
    assert "0 mm, 19.5 mm, 38.5 mm" in text
    assert "would put the last 1 mm too far" in " ".join(text.split())
