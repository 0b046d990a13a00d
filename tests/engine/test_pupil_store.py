"""A pupil put into the lens's profile: the row, the file, what is replaced, and what is never written over."""

from __future__ import annotations

import math
import os
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from cases import solve

from forescale.engine.answer import Answer, answer
from forescale.engine.bench.pupil_store import found_row, objection, store, told_stored, zero_to_set
from forescale.engine.files.faults import BadInput, ChangedElsewhere
from forescale.engine.files.toml_files import read_toml, write_toml
from forescale.engine.findings.words import Words
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.kit.profiles import Lens, PupilRow
from forescale.engine.kit.pupil import pupil_at, rows_text
from forescale.engine.shot.edit import changed
from forescale.engine.shot.records import Shot
from forescale.engine.shot.rows import BenchRow

TODAY = date(2026, 4, 1)
DEMO = "demo-prime-35"


def demo(rows: list[dict[str, Any]] | None = None, **changes: Any) -> Answer:
    """The answer to the kiln stack, with its own readings or others, and fields changed (place_model=…)."""
    shot = library.load_shot(library.SHIPPED / "shots" / "kiln-stack.toml")
    fields = {path.replace("_", ".", 1): value for path, value in changes.items()}
    if rows is not None:
        fields["bench"] = tuple(BenchRow.model_validate(row) for row in rows)
    setting = changed(shot, fields)
    assert isinstance(setting, Shot)
    return answer(setting, load_kit(setting.kit), setting.units, with_contrast=False)


def reading(slide: float, **slip: Any) -> dict[str, Any]:
    return {"slide": f"{slide} mm", **slip}


def user_file(home: Path) -> Path:
    return home / "lenses" / f"{DEMO}.toml"


# What is stored


def test_the_row_is_the_benchs_pupil_at_the_present_setting() -> None:
    found = demo()
    bench = found.slip.bench
    assert bench is not None
    row = found_row(found, TODAY)
    # By hand: the pupil is on the pan axis at the zero, so it is ahead of the sensor by -zero - sensor_at_zero.
    assert row.ahead == pytest.approx(-bench.slide_for_zero_mm - -86.0, abs=0.006)
    # So that 1.96 of it hold the pupil 95 times of 100, as the band does: of four readings more than a standard error.
    assert row.uncertainty == pytest.approx(bench.band_mm / 1.96, abs=0.006)
    assert row.uncertainty > 1.2 * bench.std_error_mm
    assert row.focal_length == 35
    assert row.focus == pytest.approx(found.focus.focus_mm, abs=0.06)
    assert row.measured == TODAY


def test_it_is_stored_for_the_focus_at_which_it_was_read() -> None:
    """Not for the mark that the shot has by now, where nobody has read anything."""
    found = demo([reading(slide, slip_px=px, focus="30 ft") for slide, px in ((40, -8.4), (60, -0.7), (80, 7.0))])
    row = found_row(found, TODAY)
    assert row.focus == pytest.approx(9144.0, abs=0.1)
    assert row.focus != pytest.approx(found.focus.focus_mm, abs=1)


def test_the_file_reads_back_and_every_shot_with_the_lens_finds_it(home: Path) -> None:
    row = found_row(demo(), TODAY)
    stored = store(library.lens(DEMO), row)
    assert stored.path == user_file(home)
    assert row in library.lens(DEMO).pupil
    after = demo()
    assert after.slip.pupil_ahead_mm == pytest.approx(row.ahead, abs=0.01)
    assert after.slip.pupil_uncertainty_mm == pytest.approx(row.uncertainty, rel=0.05)


def test_right_after_storing_the_pupil_counts_as_measured_here() -> None:
    """The pupil moves the automatic focus by a hair, which is no other focus mark."""
    bare = library.lens(DEMO).model_copy(update={"pupil": ()})
    library.save_profile("lenses", bare)
    before = demo()
    assert not before.slip.pupil_known
    store(bare, found_row(before, TODAY))
    after = demo()
    assert after.focus.focus_mm != before.focus.focus_mm
    assert after.slip.pupil_known
    assert not after.slip.pupil_outside


def test_a_shipped_lens_is_copied_under_its_name_and_stays_as_it_is(home: Path) -> None:
    shipped = library.SHIPPED / "lenses" / f"{DEMO}.toml"
    held = shipped.read_bytes()
    first = store(library.lens(DEMO), found_row(demo(), TODAY))
    assert first.copied
    assert "built-in" in told_stored(first, Words(demo()))
    assert shipped.read_bytes() == held
    assert library.shelf_file("lenses", DEMO).path == user_file(home)
    again = store(library.lens(DEMO), found_row(demo(), TODAY))
    assert not again.copied
    loaded, original = library.lens(DEMO), library.load_profile(Lens, shipped)
    assert loaded.model_copy(update={"pupil": ()}) == original.model_copy(update={"pupil": ()})


def test_a_row_of_the_same_focal_length_and_focus_alone_is_replaced() -> None:
    lens = library.lens(DEMO)
    for focus, kept in ((4000.0, 3), (4000 * 1.009, 3), (4000 * 1.02, 4), (math.inf, 4)):
        row = PupilRow.model_construct(focal_length=35.0, focus=focus, ahead=20.0, uncertainty=0.5, measured=TODAY)
        stored = store(lens, row)
        lens = library.lens(DEMO)
        assert len(lens.pupil) == kept, focus
        assert row in lens.pupil
        assert all(old not in lens.pupil for old in stored.replaced)
    assert lens.pupil == tuple(sorted(lens.pupil, key=lambda one: (one.focal_length, one.focus)))


def test_a_zooms_ring_set_a_hair_off_a_row_counts_as_that_row() -> None:
    found = demo(kit_lens="demo-zoom-24-80", kit_focal_length="50.3 mm")
    assert found_row(found, TODAY).focal_length == 50
    between = demo(kit_lens="demo-zoom-24-80", kit_focal_length="37 mm")
    assert found_row(between, TODAY).focal_length == 37


def test_two_readings_or_a_locked_one_by_eye_store_no_uncertainty() -> None:
    assert found_row(demo([reading(40, slip_px=-8), reading(85, slip_px=9)]), TODAY).uncertainty is None
    rows = [reading(50, seen="lags"), reading(62, seen="locked"), reading(74, seen="outruns")]
    by_eye = found_row(demo(rows), TODAY)
    assert by_eye.uncertainty is None
    assert by_eye.ahead == pytest.approx(86 - 62)


@pytest.mark.parametrize(
    ("rows", "changes", "says"),
    [
        ([], {}, "no readings yet"),
        ([reading(40, slip_px=-8), reading(40, slip_px=-7)], {}, "stand at one place"),
        ([reading(40, seen="lags"), reading(80, seen="outruns")], {}, "until one looks locked"),
        (None, {"kit_head": None}, "name the head in the kit"),
        (None, {"move_axis": "none"}, "set axis and sweep"),
        ([reading(40, slip_px=-8, lens="demo-prime-75")], {}, "take new readings"),
    ],
)
def test_without_a_pupil_nothing_is_stored_and_it_is_said_what_is_missing(
    rows: list[dict[str, Any]] | None, changes: dict[str, Any], says: str
) -> None:
    with pytest.raises(BadInput, match=says) as refused:
        found_row(demo(rows, **changes), TODAY)
    assert len(refused.value.lines) == 1


def test_with_a_slide_rule_and_no_head_the_bench_still_has_its_zero() -> None:
    found = demo(kit_head=None)
    assert found.slip.bench is not None
    assert found.slip.bench.slide_for_zero_mm == pytest.approx(demo().slip.bench.slide_for_zero_mm, abs=0.01)
    assert found.slip.bench.pupil_ahead_mm is None
    assert zero_to_set(found)[0] == pytest.approx(2.439 * 25.4)  # told in the shot's inches


# What is never lost


def test_a_file_changed_since_it_was_loaded_is_not_written_over(home: Path) -> None:
    loaded = library.lens(DEMO)
    row = found_row(demo(), TODAY)
    library.save_profile("lenses", loaded.model_copy(update={"notes": "scratched front element"}))
    held = user_file(home).read_bytes()
    with pytest.raises(ChangedElsewhere, match="has changed since it was loaded; nothing was written") as refusal:
        store(loaded, row)
    assert str(user_file(home)) in str(refusal.value)
    assert user_file(home).read_bytes() == held
    store(library.lens(DEMO), row)
    assert library.lens(DEMO).notes == "scratched front element"


def test_a_file_that_cannot_be_read_any_more_is_not_written_over(home: Path) -> None:
    loaded = library.lens(DEMO)
    user_file(home).parent.mkdir(parents=True)
    user_file(home).write_text("schema = 1\nname = ")
    with pytest.raises(BadInput, match="is not TOML"):
        store(loaded, found_row(demo(), TODAY))
    assert user_file(home).read_text() == "schema = 1\nname = "


def test_a_write_that_breaks_leaves_the_file_whole_and_nothing_beside_it(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store(library.lens(DEMO), found_row(demo(), TODAY))
    held = user_file(home).read_bytes()
    loaded = library.lens(DEMO)
    row = PupilRow.model_construct(focal_length=35.0, focus=900.0, ahead=30.0, uncertainty=None, measured=TODAY)

    def broken(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", broken)
    with pytest.raises(BadInput, match="No space left"):
        store(loaded, row)
    monkeypatch.undo()
    assert user_file(home).read_bytes() == held
    assert [path.name for path in user_file(home).parent.iterdir()] == [f"{DEMO}.toml"]


def test_fields_of_the_lens_are_kept_when_a_row_is_added(home: Path) -> None:
    store(library.lens(DEMO), found_row(demo(), TODAY))
    kept = read_toml(user_file(home))
    assert kept["transmission_loss"] == 0.3
    assert kept["notes"].startswith("Invented")
    assert kept["pupil"][-1] == {"focal_length": "35 mm", "focus": "inf", "ahead": "23.4 mm", "uncertainty": "0.6 mm",
                                 "measured": date(2026, 3, 14)}  # fmt: skip


# The zero on the head in hand


def other_head(home: Path, **fields: Any) -> None:
    head = {"slide_min": "0 mm", "slide_max": "150 mm", "slide_step": "1 mm", "sensor_at_zero": "-120 mm"}
    write_toml(home / "heads/other-head.toml", {"schema": 1, "name": "other-head", **head, **fields}, folders=True)


def test_on_another_head_the_zero_comes_of_the_stored_pupil(home: Path) -> None:
    """The slide of that head starts 34 mm farther back, so the same pupil needs 34 mm more."""
    other_head(home)
    noted = [reading(40, slip_px=-8), reading(55, slip_px=-3), reading(70, slip_px=3), reading(85, slip_px=9)]
    noted = [row | {"head": "demo-slide-head"} for row in noted]
    store(library.lens(DEMO), found_row(demo(noted), TODAY))
    here, found_here = zero_to_set(demo(noted))
    there, found_there = zero_to_set(demo(noted, kit_head="other-head"))
    assert found_here == "as the bench found it"
    assert found_there == "from the pupil in the lens's profile"
    assert there == pytest.approx(here + 34, abs=0.15)  # each to a tenth, the pupil to a hundredth


def test_a_zero_off_the_slide_is_refused_with_the_heads_range(home: Path) -> None:
    other_head(home, slide_max="90 mm")
    with pytest.raises(BadInput, match=r"96\.\d mm, and other-head runs from 0 mm to 90 mm"):
        zero_to_set(demo([], kit_head="other-head"))


def test_no_zero_is_said() -> None:
    with pytest.raises(BadInput, match="no zero is known yet"):
        zero_to_set(demo([], kit_head=None))


# What speaks against storing


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        (None, ""),
        ([reading(40, slip_px=-8), reading(85, slip_px=9)], "fewer than three"),
        ([reading(70, slip_px=3), reading(85, slip_px=9), reading(100, slip_px=15)], "to one side"),
        (
            [reading(40, slip_px=8), reading(55, slip_px=-3), reading(70, slip_px=3), reading(85, slip_px=9)],
            "reading 1",
        ),
        ([reading(at, slip_px=2 * px) for at, px in ((40, -9), (55, -3), (70, 3), (85, 9))], "was to be expected"),
        ([reading(55, slip_px=-3), reading(60, slip_px=1), reading(70, slip_px=3)], "may be off by"),
    ],
)
def test_what_speaks_against_storing_is_one_clause(rows: list[dict[str, Any]] | None, says: str) -> None:
    told = objection(demo(rows))
    assert says in told
    assert bool(told) == bool(says)


# Between which rows


def test_a_zoom_says_between_which_rows_its_pupil_lies() -> None:
    zoom = library.lens("demo-zoom-24-80")
    assert rows_text(pupil_at(zoom.pupil, 35, math.inf).rows, "metric") == "between 24 mm and 50 mm at infinity"
    assert rows_text(pupil_at(zoom.pupil, 24, math.inf).rows, "metric") == "as at 24 mm, infinity"
    prime = library.lens(DEMO)
    assert rows_text(pupil_at(prime.pupil, 35, 5000).rows, "imperial") == "between 35 mm at infinity and 4 ft"
    near_a_row = pupil_at(prime.pupil, 35, 1.002 * prime.pupil[-1].focus)  # as near as a ring can be set
    assert rows_text(near_a_row.rows, "imperial") == "as at 35 mm, 4 ft"
    assert rows_text((), "metric") == ""


def test_a_zero_at_the_very_end_of_the_slide_can_be_set() -> None:
    for at_zero, zero in (("-30 mm", 0.0), ("-150 mm", 120.0)):
        found = solve({"move.axis": "pan", "move.sweep": "10 deg"}, head={"sensor_at_zero": at_zero})
        assert zero_to_set(found)[0] == zero
    with pytest.raises(BadInput, match="runs from"):
        zero_to_set(solve({"move.axis": "pan", "move.sweep": "10 deg"}, head={"sensor_at_zero": "-29 mm"}))
