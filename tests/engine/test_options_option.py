"""One option: put on the shot it gives the same numbers, its JSON is whole and strict, nothing is ever nan."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from cases import fields_of
from options_kit import HEAD, KIT, ONE, lens, open_shot

from forescale.engine.answer import answer
from forescale.engine.kit.kit import assemble
from forescale.engine.kit.library import SHIPPED, load_shot, save_shot
from forescale.engine.options.option import Option, as_changes, taken
from forescale.engine.options.outcome import find_options
from forescale.engine.options.printed import options_data, options_json, options_text
from forescale.engine.options.search import search
from forescale.engine.options.to_try import Shelves, at_hand, lenses_at, plan
from forescale.engine.shot.edit import changed

PAN = {"kit.head": "head", "move.axis": "pan", "move.sweep": "15 deg"}


def options(changes: dict[str, Any], shelves: Shelves = KIT) -> list[Option]:
    found = [row.option for row in find_options(open_shot(changes), "metric", shelves).options]
    assert found
    return found


@pytest.mark.parametrize("changes", [{}, {"scale.ratio": "1:15"}, {"light.available": "6000 lx"}, PAN])
def test_put_on_the_shot_an_option_gives_its_own_numbers(changes: dict[str, Any]) -> None:
    """As an app would: the changes into the shot, its kit from the shelves by name, the answer to that."""
    shelves = Shelves(KIT.cameras, KIT.lenses, HEAD)
    for option in options(changes, shelves)[::9]:
        shot = changed(option.to_try.setting, as_changes(option))
        cameras = {camera.name: camera for camera in KIT.cameras}
        lenses = {lens.name: lens for lens in KIT.lenses}
        kit = assemble(shot.kit, cameras[shot.kit.camera], lenses[shot.kit.lens], HEAD)
        on_board = answer(shot, kit, "metric")
        full = taken(option)[1]
        assert (on_board.scale, on_board.lineup, on_board.speed) == (full.scale, full.lineup, full.speed)
        assert (on_board.focus, on_board.light, on_board.slip) == (full.focus, full.light, full.slip)
        assert on_board.focus.contrast is not None
        assert on_board.focus.contrast.worst == option.worst_contrast
        assert on_board.light.iso == option.iso
        assert on_board.light.over_stops == option.over_stops


def test_what_is_open_stays_open_and_a_prime_takes_the_focal_length_away() -> None:
    zoomed = open_shot({"kit.lens": "zoom", "kit.focal_length": "45 mm"})
    found = [row.option for row in find_options(zoomed, "metric", KIT).options]
    prime = next(option for option in found if not option.lens_at.lens.is_zoom)
    zoom = next(option for option in found if option.lens_at.lens.is_zoom and option.lens_at.focal_mm == 45)
    assert as_changes(prime)["kit.focal_length"] is None
    assert as_changes(zoom)["kit.focal_length"] == "45 mm"
    assert not as_changes(prime).keys() & {"place.model", "action.fps", "focus.stop", "focus.distance", "light.iso"}


def test_iso_is_raised_only_as_far_as_the_light_needs() -> None:
    short = options({"light.available": "6000 lx"})
    raised = [option for option in short if option.iso > 400]
    assert 0 < len(raised) < len(short)
    for option in raised:
        needed = 400 * option.base_lux / 6000
        assert needed * (1 - 1e-9) <= option.iso <= needed * 1.1
        assert option.iso <= option.in_mode.mode.iso_max
        assert as_changes(option)["light.iso"] == f"{option.iso:g}"
    for option in short:
        assert option.iso > 400 or option.base_lux <= 6000


def test_a_zoom_is_tried_at_its_ends_at_customary_lengths_and_as_it_is() -> None:
    zoom = KIT.lenses[2]
    assert zoom.name == "zoom"
    tried = lenses_at(Shelves(KIT.cameras, (zoom,)), open_shot({"kit.lens": "zoom", "kit.focal_length": "45 mm"}))
    assert [lens_at.focal_mm for lens_at in tried] == [38, 40, 45, 50, 52]


def numbers(value: Any) -> Iterator[float]:
    for name in fields_of(value):
        if name not in {"to_try", "in_mode", "lens_at"}:
            yield from numbers(getattr(value, name))
    if isinstance(value, float):
        yield value


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"limits.ratios": ["1:1"]},
        {"action.kind": "still", "place.model": "5 m", "place.background": "inf", "place.background_far": None},
        {"light.available": None},
    ],
)
def test_no_number_of_an_option_is_nan(changes: dict[str, Any]) -> None:
    """At 1:1 model and background stand at one place, so no drift shows: infinite, and still no nan."""
    for option in options(changes):
        assert not any(math.isnan(number) for number in numbers(option))


def test_a_model_at_full_size_is_tried_only_where_it_is_asked_for() -> None:
    assert 1 not in plan(open_shot(), "metric", KIT).ratios
    asked = options({"limits.ratios": ["1:1"]})
    assert any(option.ratio == 1 and math.isinf(option.drift_tolerance_mm) for option in asked)


def test_json_has_the_keys_that_scripts_rely_on() -> None:
    found = find_options(open_shot(PAN), "metric", Shelves(KIT.cameras, KIT.lenses, HEAD))
    data = json.loads(options_json(found, 3))
    assert data["searched"] == found.searched
    assert sum(row["count"] for row in data["dropped"]) == found.searched - found.working
    assert all(set(row) >= {"reason", "count"} for row in data["dropped"])
    assert len(data["options"]) == 3
    for row, ranked in zip(data["options"], found.options, strict=False):
        assert set(row["kit"]) == {"camera", "mode", "lens", "focal_length_mm"}
        assert row["place"] == {"model_mm": ranked.option.model_mm}
        assert row["front"] is ranked.front
        assert row["trade"]
        assert row["scale"]["ratio"] == ranked.option.ratio
        assert row["lineup"]["drift_tolerance_mm"] == ranked.option.drift_tolerance_mm
        assert row["speed"]["fps"] == ranked.option.fps
        assert row["focus"]["contrast"]["worst"] == ranked.option.worst_contrast
        assert row["light"]["iso"] == ranked.option.iso


def test_json_says_infinity_as_null() -> None:
    shot = open_shot({"limits.ratios": ["1:1"], "limits.order": ["model"]})
    rows = options_data(find_options(shot, "metric", KIT), 1)["options"]
    assert rows[0]["lineup"]["drift_tolerance_mm"] is None
    assert rows[0]["lineup"]["drift_tolerance_mm_infinite"] is True


def test_each_failed_way_is_listed_where_asked() -> None:
    to_try = plan(open_shot({"scale.ratio": "1:24"}), "metric", KIT)
    misses = [miss for batch in search(to_try, with_misses=True) for miss in batch.misses]
    found = find_options(open_shot({"scale.ratio": "1:24"}), "metric", KIT)
    assert len(misses) == found.searched - found.working
    assert {miss.reason for miss in misses} == {row.code for row in found.dropped}


def test_text_is_plain_and_fits_a_page_whatever_the_names() -> None:
    """79 columns at most, whatever a profile is called; what a terminal could act upon is not let through."""
    long_mode = KIT.cameras[0].mode[1].model_copy(update={"name": "crop " * 30 + "\x1b[31m"})
    named = KIT.cameras[0].model_copy(update={"mode": (long_mode,)})
    text = options_text(find_options(open_shot(), "imperial", Shelves((named,), KIT.lenses)), None)
    assert max(map(len, text.splitlines())) <= 79
    assert "\x1b" not in text
    assert text.count("crop crop") > 5


def test_limits_outlive_a_save(tmp_path: Path) -> None:
    limits = {
        "limits.ratios": ["1:7", "1:43.5"],
        "limits.hold": ["camera", "lens"],
        "limits.order": ["model", "light"],
        "limits.build_max": "2.4 m",
        "limits.frame_min": 0.25,
        "limits.frame_max": 1.5,
        "limits.short_stops": 0.5,
        "limits.gravity": 2.25,
    }
    shot = open_shot(limits)
    save_shot(tmp_path / "kept.toml", shot)
    assert load_shot(tmp_path / "kept.toml").limits == shot.limits


def test_broken_profiles_are_left_out_and_named(home: Path) -> None:
    (home / "lenses").mkdir(parents=True)
    broken = home / "lenses" / "broken.toml"
    broken.write_text('schema = 1\nname = "broken"\n', encoding="utf-8")
    shot = load_shot(SHIPPED / "shots" / "kiln-stack.toml")
    shelves = at_hand(shot.kit)
    assert "broken" not in {lens.name for lens in shelves.lenses}
    assert shelves.head is not None
    assert shelves.faults
    assert all(str(fault).startswith(f"{broken}: ") for fault in shelves.faults)
    assert find_options(shot, shot.units, shelves).working > 0


def test_a_zoom_is_tried_at_ends_at_customary_lengths_and_as_it_is() -> None:
    zoom = lens("zoom", focal_min="9 mm", focal_max="34 mm")
    asked = open_shot({"kit.lens": "zoom", "kit.focal_length": "30 mm"})
    tried = [one.focal_mm for one in lenses_at(Shelves((ONE,), (zoom,)), asked)]
    assert tried == [9, 10, 12, 14, 16, 18, 20, 21, 24, 25, 28, 30, 32, 34]
