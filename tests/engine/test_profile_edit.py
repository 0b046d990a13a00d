"""Profiles changed by text: what is read at each kind of field, there and back, rows, and what is refused."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from forescale.engine.files.faults import BadInput, read_model
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Camera, Lens, Profile, Rates
from forescale.engine.shelf import profile_edit, profile_fields
from forescale.engine.shelf.profile_fields import FieldPlace
from forescale.engine.units import UnitSystem

SHIPPED = [
    (shelf, name)
    for shelf in library.PROFILES
    for name in sorted(path.stem for path in (library.SHIPPED / shelf).glob("*.toml"))
]


def shipped(shelf: library.Shelf, name: str) -> Any:
    """Return a shipped profile."""
    return library.load_profile(library.PROFILES[shelf], library.SHIPPED / shelf / f"{name}.toml")


def at(profile: Profile, name: str, row: int | None = None) -> FieldPlace:
    """Return a place by its field's name in the file."""
    return next(place for place in profile_fields.places(profile) if (place.name, place.row) == (name, row))


def typed(profile: Profile, name: str, text: str, row: int | None = None, system: UnitSystem = "metric") -> Any:
    """Return a profile with a text typed at a field."""
    return profile_edit.with_text(profile, at(profile, name, row), text, system)


LENS, ZOOM = shipped("lenses", "demo-prime-35"), shipped("lenses", "demo-zoom-24-80")
CAMERA, HEAD = shipped("cameras", "demo-cine-35"), shipped("heads", "demo-slide-head")


@pytest.mark.parametrize(("shelf", "name"), SHIPPED)
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_every_field_reads_back_as_it_is_written(shelf, name, system):
    profile = shipped(shelf, name)
    for place in profile_fields.places(profile):
        text = profile_fields.entry_text(profile, place, system)
        assert profile_edit.with_text(profile, place, text, system) == profile, place


@pytest.mark.parametrize("shelf", list(library.PROFILES))
def test_a_new_profile_is_whole_and_says_its_values_only_begin(shelf):
    made = profile_edit.new(shelf, "made")
    assert "Starting values" in made.notes
    assert library.load_profile(library.PROFILES[shelf], library.save_profile(shelf, made)) == made


def test_a_starting_value_is_marked_until_it_is_typed_be_it_the_same() -> None:
    """Field by field: what is typed is known, what is not stays a guess, also on the shelf."""
    made = profile_edit.new("lenses", "made")
    assert {*made.guesses} == {"focal_length", "marks", "widest", "smallest", "transmission_loss", "close_focus"}
    for name, text in (("close focus", "500 mm"), ("focal length", "24 mm to 80 mm")):
        place = next(one for one in profile_fields.places(made) if one.label == name)
        assert profile_fields.shown_text(made, place, "metric").endswith(" (a guess)")
        made = profile_edit.with_text(made, place, text, "metric")
        assert "guess" not in profile_fields.shown_text(made, place, "metric")
    assert {*made.guesses} == {"marks", "widest", "smallest", "transmission_loss"}
    kept = library.load_profile(type(made), library.save_profile("lenses", made))
    assert kept.guesses == made.guesses


@pytest.mark.parametrize("shelf", list(library.PROFILES))
def test_enter_on_an_unchanged_guess_confirms_it(shelf) -> None:
    made = profile_edit.new(shelf, "made")
    for place in profile_fields.places(made):
        if "guess" in profile_fields.shown_text(made, place, "imperial"):
            made = profile_edit.with_text(made, place, profile_fields.entry_text(made, place, "imperial"), "imperial")
    assert not any("guess" in profile_fields.shown_text(made, place, "metric") for place in profile_fields.places(made))


def test_a_mode_of_another_size_has_that_size_for_sure() -> None:
    camera: Any = profile_edit.new("cameras", "made")
    assert {"width", "height", "fps"} < {*camera.mode[0].guesses}
    wide = profile_edit.with_mode(camera, 0, "wide", "17.3 x 9.75 mm, 3072 x 1728").mode[1]
    assert {*wide.guesses} == {"fps", "iso_base", "iso_max"}


def test_only_a_field_can_be_a_guess() -> None:
    with pytest.raises(BadInput, match='there is no field "colour" to be a guess'):
        read_model(type(LENS), LENS.model_dump(exclude_none=True) | {"guesses": ["colour"]})


def test_every_field_of_a_profile_has_its_place():
    for profile in (CAMERA, LENS, HEAD):
        own = set(type(profile).model_fields) - {"schema_version", "mode", "pupil", "guesses"}
        if profile is LENS:
            own -= {"focal_min", "focal_max"}
        places = profile_fields.places(profile)
        assert {place.name for place in places if place.row is None} == own
        for row, record in enumerate(profile_fields.rows_of(profile)):
            inner = {place.name for place in places if place.row == row}
            assert inner == set(type(record).model_fields) - {
                "strip",
                "guesses",
            }  # test strips have a task of their own


def test_a_bare_number_is_read_in_the_unit_shown():
    assert typed(LENS, "close_focus", "400").close_focus == 400
    assert typed(LENS, "close_focus", "1", system="imperial").close_focus == 304.8
    assert typed(LENS, "ahead", "-3", row=0).pupil[0].ahead == -3
    assert typed(LENS, "uncertainty", "0.4", row=0).pupil[0].uncertainty == 0.4
    assert typed(LENS, "uncertainty", "0.4", row=0, system="imperial").pupil[0].uncertainty == 0.4
    assert typed(HEAD, "slide_step", "0.5", system="imperial").slide_step == 0.5
    assert typed(CAMERA, "readout", "8", row=0).mode[0].readout == 0.008
    assert typed(CAMERA, "readout", "8.3 ms", row=0).mode[0].readout == 0.0083
    with pytest.raises(BadInput, match=r"readout 8000 ms is longer than a frame: a frame at 120 fps lasts 8.33 ms"):
        typed(CAMERA, "readout", "8 s", row=0)


def test_a_head_is_shown_and_typed_as_its_slide_is_marked():
    inches = typed(HEAD, "slide_step", "1/16 in")
    for system in ("metric", "imperial"):
        assert profile_fields.shown_text(HEAD, at(HEAD, "slide_max"), system).endswith(" mm")
        assert profile_fields.shown_text(inches, at(inches, "slide_step"), system) == "1/16 in"
        assert typed(HEAD, "tilt_drop", "90", system=system).tilt_drop == 90
        assert typed(inches, "tilt_drop", "3 1/2", system=system).tilt_drop == pytest.approx(3.5 * 25.4)


def test_a_focal_length_makes_a_prime_or_a_zoom():
    zoom = typed(LENS, profile_fields.FOCAL, "24 to 80 mm")
    assert (zoom.focal_length, zoom.focal_min, zoom.focal_max, zoom.is_zoom) == (None, 24, 80, True)
    prime = typed(zoom, profile_fields.FOCAL, "2 in")
    assert (prime.focal_length, prime.focal_min, prime.is_zoom) == (50.8, None, False)


@pytest.mark.parametrize(
    ("text", "rates"),
    [
        ("24", (24,)),
        ("60, 24 30", (24, 30, 60)),
        ("24 24", (24,)),
        ("23.976 fps", (23.976,)),
        ("1 to 120", Rates(min="1", max="120")),
    ],
)
def test_rates_are_read_as_a_list_or_a_span(text, rates):
    assert typed(CAMERA, "fps", text, row=0).mode[0].fps == rates


@pytest.mark.parametrize("text", ["24,25", "24,25,30", "", "24 to", "fps", "0", "nan", "inf", "60 to 24", "24/0"])
def test_rates_that_could_mean_two_things_or_none_are_refused(text):
    with pytest.raises((ValueError, BadInput)):
        typed(CAMERA, "fps", text, row=0)


def test_other_marks_on_the_ring_keep_the_numbers_on_it():
    marked = typed(LENS, "marks", "f")
    assert (marked.marks, marked.widest.value, marked.smallest.value) == ("f", LENS.widest.value, LENS.smallest.value)
    assert {marked.widest.marks, marked.smallest.marks} == {"f"}
    assert typed(LENS, "widest", "2").widest.marks == "T"
    with pytest.raises(BadInput, match="marked in T-stops"):
        typed(LENS, "widest", "f/2")


def test_what_may_be_left_out_goes_by_an_empty_entry_the_rest_is_needed():
    assert typed(CAMERA, "readout", "", row=0).mode[0].readout is None
    assert typed(LENS, "measured", " ", row=0).pupil[0].measured is None
    assert typed(LENS, "squeeze", "").squeeze == 1
    for name in ("close_focus", "widest", profile_fields.FOCAL):
        with pytest.raises(BadInput, match="is missing and is needed"):
            typed(LENS, name, "")


def test_faults_call_fields_by_their_labels():
    with pytest.raises(BadInput, match="base ISO 6400 is above top ISO 3200"):
        typed(CAMERA, "iso_base", "6400", row=0)
    with pytest.raises(BadInput, match="slide from must be below slide to"):
        typed(HEAD, "slide_max", "0")
    with pytest.raises(BadInput, match="mode: is missing"):
        typed(CAMERA, "name", "", row=1)


def test_a_day_is_read_and_nothing_like_one_is_guessed():
    assert typed(LENS, "measured", "2026-04-01", row=1).pupil[1].measured == date(2026, 4, 1)
    for text in ("1.4.2026", "04/01/26", "2026-13-01", "today"):
        with pytest.raises(ValueError, match="is not a day"):
            typed(LENS, "measured", text, row=0)


@pytest.mark.parametrize(
    "text", ["17.3 x 9.75 mm, 3072 x 1728", "17.3x9.75, 3072x1728 px", "17.3 × 9.75 mm 3072 × 1728"]
)
def test_a_new_mode_has_size_and_pixels_of_one_entry_and_no_readout(text: str) -> None:
    assert isinstance(CAMERA, Camera)
    mode = profile_edit.with_mode(CAMERA, 0, "wide", text).mode[1]
    assert (mode.width, mode.height, mode.width_px, mode.height_px) == (17.3, 9.75, 3072, 1728)
    assert mode.readout is None
    assert profile_edit.size_text(mode) == "17.3 x 9.75 mm, 3072 x 1728"
    with pytest.raises(ValueError, match=r"write 17\.3 x 9\.75 mm"):
        profile_edit.with_mode(CAMERA, 0, "wide", "17.3 mm")


def test_rows_are_put_in_moved_and_taken_away():
    assert isinstance(CAMERA, Camera)
    more = profile_edit.with_mode(CAMERA, 0, " slow  motion ")
    assert [mode.name for mode in more.mode] == ["2K centre crop", "slow motion", "4K full width"]
    assert profile_edit.with_row_moved(more, 2, -2).mode[0].name == "4K full width"
    assert profile_edit.with_row_moved(more, 2, 1) == more
    assert profile_edit.without_row(more, 1) == CAMERA
    with pytest.raises(BadInput, match="two modes are called"):
        profile_edit.with_mode(CAMERA, 0, "4K full width")
    with pytest.raises(BadInput, match="needs one mode"):
        profile_edit.without_row(profile_edit.without_row(CAMERA, 0), 0)


def test_a_pupil_row_is_made_of_what_was_typed():
    assert isinstance(ZOOM, Lens)
    typed_row = {"focal_length": "35", "focus": "10", "ahead": "-4.5"}
    lens = profile_edit.with_pupil(ZOOM, 1, typed_row, "imperial")
    assert (lens.pupil[1].focal_length, lens.pupil[1].focus, lens.pupil[1].ahead) == (35, 3048, -4.5)
    assert (lens.pupil[0], *lens.pupil[2:]) == ZOOM.pupil
    for name, wrong in (("focal_length", "0"), ("focus", "-1 ft"), ("ahead", "3 m")):
        with pytest.raises(ValueError, match="out of range"):
            profile_edit.with_pupil(ZOOM, 0, typed_row | {name: wrong}, "imperial")


def test_a_name_that_no_file_can_have_is_refused():
    for name in ("", ".hidden", "a/b", "two words", "../up"):
        with pytest.raises(BadInput):
            profile_edit.copied(LENS, name)


def test_a_distance_is_shown_in_the_units_of_the_shot_and_stays_as_it_is():
    place = at(LENS, "close_focus")
    shown = profile_fields.entry_text(LENS, place, "imperial")
    assert shown == profile_fields.shown_text(LENS, place, "imperial")
    assert shown.endswith("in")
    assert getattr(profile_edit.with_text(LENS, place, shown, "imperial"), "close_focus") == LENS.close_focus  # noqa: B009
    assert profile_fields.alone_means(LENS, place, "imperial") == "ft"
    assert typed(LENS, "close_focus", "3", system="imperial").close_focus == 914.4
    assert profile_fields.alone_means(LENS, at(LENS, "ahead", 0), "imperial") == "mm"


@pytest.mark.parametrize(
    ("profile", "name", "like"),
    [
        (CAMERA, "width_px", "2048"),
        (CAMERA, "fps", "24"),
        (CAMERA, "readout", "6 s or 20 ms"),
        (LENS, "squeeze", "1.5"),
    ],
)
def test_what_is_no_value_is_answered_by_an_example_of_the_field(profile, name, like):
    with pytest.raises(ValueError, match=f"; write it like {like}$"):
        typed(profile, name, "abc", None if profile is LENS else 0)


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("width", "", "width: is missing and is needed"),
        ("width_px", "", "pixels across: is missing and is needed"),
        ("fps", "", "rates: is missing and is needed"),
        ("iso_max", "320", "mode 1: base ISO 800 is above top ISO 320"),
        ("readout", "50 ms", "mode 1: readout 50 ms is longer than a frame: a frame at 60 fps lasts 16.7 ms"),
    ],
)
def test_a_fault_of_the_only_mode_is_one_clear_line(name: str, text: str, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        typed(profile_edit.new("cameras", "mine"), name, text, row=0)
    assert refused.value.lines == (says,)


def test_a_camera_without_a_mode_needs_one() -> None:
    with pytest.raises(BadInput, match="mode: holds nothing; it needs 1 at least"):
        read_model(Camera, {"schema": 1, "name": "mine", "mode": []})


def test_no_step_is_larger_than_the_slide() -> None:
    with pytest.raises(BadInput, match="larger than the whole slide"):
        typed(HEAD, "slide_step", "5 m")


def test_no_pupil_is_found_focused_nearer_than_the_lens_focuses() -> None:
    with pytest.raises(BadInput, match="no pupil is found focused nearer"):
        typed(LENS, "focus", "50 mm", row=0)
    with pytest.raises(BadInput, match="no pupil is found focused nearer"):
        profile_edit.pupil_field(LENS, "focus", "50 mm", "metric")


def test_a_blur_is_told_in_millimetres_where_feet_are_used_too() -> None:
    mode = {"name": "whole", "width": "20 mm", "height": "10 mm", "width_px": 2000, "height_px": 1000, "fps": [24]}
    table = mode | {"iso_base": 400, "iso_max": 800, "sharpness": "0.014 mm", "sharpness_error": "0.002 mm"}
    camera = Camera.model_validate({"schema": 1, "name": "one", "mode": [table]})
    told = {one.name: profile_fields.shown_text(camera, one, "imperial") for one in profile_fields.places(camera)}
    assert (told["sharpness"], told["sharpness_error"]) == ("0.014 mm", "0.002 mm")
