"""The survey's formulas: yardsticks wide and high, two elevations, what each result may be off, a lens of its own."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from cases import codes, solve

from forescale.engine.answer.readings import as_now, kept, kept_in
from forescale.engine.files.toml_files import read_toml
from forescale.engine.formulas.projection import Frame
from forescale.engine.formulas.survey import EDGE_PX, SHARE_ERROR, Sighted, Sighting, errors, sighted
from forescale.engine.kit import library
from forescale.engine.sheet.data import sheet_data
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot

LENS = Frame(image_mm=25.0, width_mm=20.0, height_mm=10.0, width_px=2000, height_px=1000)
FAR = 64_000.0


def spanned_high(height_mm: float, distance_mm: float, aim_deg: float) -> float:
    """The share of the frame's height that an upright thing spans about the picture's middle, by plain projection."""
    aim = math.radians(aim_deg)
    middle = distance_mm * math.tan(aim)

    def up(h: float) -> float:
        away = distance_mm * math.cos(aim) + h * math.sin(aim)
        return LENS.image_mm * (h * math.cos(aim) - distance_mm * math.sin(aim)) / away

    low, high = middle - height_mm, middle
    while high - low > 1e-9:  # where its foot must be for its middle to be the picture's
        foot = (low + high) / 2
        low, high = (foot, high) if up(foot) + up(foot + height_mm) < 0 else (low, foot)
    return (up(low + height_mm) - up(low)) / LENS.height_mm


@pytest.mark.parametrize("aim", [0.0, 4.4, -12.0])
def test_a_yardstick_of_known_height_gives_distance_and_the_other_way(aim: float) -> None:
    share = spanned_high(2000.0, FAR, aim)
    by_size = sighted(Sighting(math.inf, share=share, of_height=True, height_mm=2000.0, aim_deg=aim), LENS)
    assert (by_size.by, by_size.distance_mm) == ("share", pytest.approx(FAR, rel=1e-8))
    assert sighted(Sighting(FAR, share=share, of_height=True, aim_deg=aim), LENS).height_mm == pytest.approx(
        2000.0, rel=1e-8
    )


@pytest.mark.parametrize("rise", [9000.0, -4000.0])
def test_two_elevations_or_a_height_give_the_distance_others_count_on(rise: float) -> None:
    here, nearer = (math.degrees(math.atan2(rise, away)) for away in (FAR, FAR - 15_000))
    two = sighted(
        Sighting(30_000, elevation=here, elevation_nearer=nearer, nearer_mm=15_000, lens_height_mm=5000), LENS
    )
    assert (two.by, two.distance_mm) == ("two elevations", pytest.approx(FAR, rel=1e-9))
    assert two.height_mm == pytest.approx(5000 + rise, rel=1e-9)
    one = sighted(Sighting(30_000, elevation=here, height_mm=5000 + rise, lens_height_mm=5000), LENS)
    assert (one.by, one.distance_mm) == ("height", pytest.approx(FAR, rel=1e-9))


@pytest.mark.parametrize(
    "read",
    [
        Sighting(FAR, elevation=8.0, elevation_nearer=7.0, nearer_mm=5000),
        Sighting(FAR, elevation=0.0, elevation_nearer=7.0, nearer_mm=5000),
        Sighting(FAR, elevation=8.0, height_mm=1000.0, lens_height_mm=1500.0),
        Sighting(FAR, elevation=1e-7, height_mm=9e6, lens_height_mm=1500.0),
        Sighting(-5.0, share=0.2),
    ],
)
def test_what_cannot_have_been_read_is_refused_in_words(read: Sighting) -> None:
    with pytest.raises(ValueError, match=r"level|1000 km|behind the lens"):
        sighted(read, LENS)


# Against trials: each reading off by its error, normal, the spread of the results taken (JCGM 101:2008).
READ: list[tuple[Sighting, str]] = [
    (Sighting(FAR, share=0.22), "width_mm"),
    (Sighting(FAR, share=0.22, width_mm=14_000.0), "distance_mm"),
    (Sighting(FAR, share=0.22, width_mm=14_000.0, elevation=9.5, lens_height_mm=1500.0), "height_mm"),
    (Sighting(FAR, elevation=8.0, elevation_nearer=14.0, nearer_mm=25_000.0), "distance_mm"),
    (Sighting(FAR, elevation=8.0, elevation_nearer=14.0, nearer_mm=25_000.0, lens_height_mm=0.0), "height_mm"),
    (Sighting(FAR, elevation=9.5, height_mm=12_000.0, lens_height_mm=1500.0), "distance_mm"),
]


@pytest.mark.parametrize(("read", "of"), READ)
def test_an_error_is_the_spread_that_readings_so_far_off_give(read: Sighting, of: str) -> None:
    random, found = np.random.default_rng(7), []
    share = math.hypot(SHARE_ERROR * (read.share or 0), math.sqrt(2) * EDGE_PX / 2000)
    off = {"share": share, "elevation": 0.25, "elevation_nearer": 0.25, "nearer_mm": 25 + 0.01 * 15_000}
    off["taped_mm"] = 25 + 0.01 * 54_000  # 25 mm up to 10 m, a hundredth beyond
    for _ in range(4000):
        drawn = {name: getattr(read, name) for name in off}
        put = {name: value + random.normal(0, off[name]) for name, value in drawn.items() if value is not None}
        found.append(getattr(sighted(read._replace(**put), LENS), of))

    def result(one: Sighted) -> float | None:
        return getattr(one, of)

    assert errors(read, LENS, result) == pytest.approx(np.std(found), rel=0.08)


# Through the answer


def shipped(**changes: Any) -> tuple[Shot, Any]:
    from forescale.engine.answer import answer
    from forescale.engine.kit.kit import load_kit

    shot = edit.changed(library.load_shot(library.shelf_file("shots", "kiln-stack").path), changes)
    assert isinstance(shot, Shot)
    return shot, answer(shot, load_kit(shot.kit), shot.units)


SEEN = {"survey": [{"name": "tower", "frame_share": 0.22, "feature_width": "14 m"}, {"elevation": "9.5 deg"}]}


def test_a_reading_means_the_same_after_a_new_lens_and_can_count_anew() -> None:
    _, before = shipped(**SEEN)
    wide = {"kit.lens": "demo-zoom-24-80", "kit.focal_length": "24 mm", "bench": None}
    swapped, _ = shipped(**SEEN, **wide)
    noted = swapped.model_copy(update=kept_in(swapped, before))
    assert noted.survey[0].lens == "demo-prime-35"
    _, after = shipped(**{"survey": noted.survey}, **wide)
    assert after.survey.distance_mm == pytest.approx(before.survey.distance_mm, rel=1e-4)
    assert "survey-moved" not in codes(after)
    _, anew = shipped(**{"survey": as_now(noted.survey)}, **wide)
    assert anew.survey.distance_mm < 0.8 * before.survey.distance_mm


def test_a_rig_that_moved_asks_for_a_new_reading_and_blames_no_tape() -> None:
    _, before = shipped(survey=[{"frame_share": 0.22, "elevation": "9 deg"}])
    moved = {"place.background": "200 ft", "place.lens_height": "9 ft", "survey": kept(before)["survey"]}
    _, after = shipped(**moved)
    assert after.survey.moved_on == ("background", "lens height")
    assert after.survey.feature_height_mm == pytest.approx(before.survey.feature_height_mm, rel=1e-4)
    assert "survey-moved" in codes(after)
    assert "survey-stale" not in codes(after)


def test_every_reading_stands_in_json_the_first_ones_keys_as_before() -> None:
    shot, found = shipped(**SEEN)
    told = sheet_data(shot, found)["survey"]
    assert [reading["name"] for reading in told["readings"]] == ["tower", ""]
    for key in ("feature_width_mm", "distance_mm", "feature_height_mm", "air_contrast"):
        assert told[key] == told["readings"][0][key]
    assert told["readings"][0]["distance_by"] == "share"
    assert told["readings"][0]["distance_error_mm"] == pytest.approx(0.0101 * told["distance_mm"], rel=0.02)


def test_a_table_of_the_first_version_is_read_and_written_as_a_row(tmp_path: Path) -> None:
    path = tmp_path / "old.toml"
    text = library.shelf_file("shots", "kiln-stack").path.read_text()
    path.write_text(f'{text}\n# seen from the road\n[survey]\nframe_share = "22 %"\nvisibility = "8 km"\n')
    shot = library.load_shot(path)
    assert (shot.survey[0].frame_share, shot.survey[0].visibility) == (0.22, 8e6)
    changed = edit.changed(shot, {"survey.2.elevation": "9 deg"})
    assert isinstance(changed, Shot)
    library.save_shot(path, changed)
    assert [set(row) for row in read_toml(path)["survey"]] == [{"frame_share", "visibility"}, {"elevation"}]
    assert "# seen from the road" in path.read_text()
    assert solve({"survey": {"frame_share": 0.22}}).survey.feature_width_mm is not None


def test_a_kit_that_changes_scale_and_place_says_so_first() -> None:
    from forescale.engine.compare.differences import effect

    _, before = shipped(**{"scale.ratio": None, "place.model": None, "place.model_near": None, "bench": None})
    _, after = shipped(**{"scale.ratio": "1:12", "place.model": None, "place.model_near": None, "bench": None})
    assert effect(before, after)[0].text.startswith(f"Scale 1:{before.scale.ratio:g} → 1:12; model at ")
