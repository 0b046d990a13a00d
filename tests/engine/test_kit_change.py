"""Other kit for a shot: what is changed with it, what is said, and what it makes of the chief numbers."""

from __future__ import annotations

import pytest

from forescale.engine.compare.differences import clause, effect
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Rates
from forescale.engine.shelf.kit_shelf import choices, with_focal_length, with_head, with_lens, with_mode
from forescale.engine.solve.speed_light import runs_at
from forescale.tui.session import Session, open_session


@pytest.fixture
def session() -> Session:
    """Return a session on the first demo."""
    return open_session(library.shot_path("kiln-stack"))


def test_a_mode_runs_at_its_own_rates():
    camera = library.camera("demo-cine-35")
    assert runs_at(camera.mode[0], 120)
    assert not runs_at(camera.mode[0], 110)
    span = camera.mode[0].model_copy(update={"fps": Rates(min="1", max="60")})
    assert (runs_at(span, 1), runs_at(span, 23.5), runs_at(span, 60.1)) == (True, True, False)


def test_what_a_mode_has_is_kept_and_what_it_has_not_is_given_back(session):
    session.apply({"action.fps": 50, "light.iso": 800})
    small = library.camera("demo-small-16")
    kept = with_mode(session.state.shot, small, small.mode[0])
    assert (set(kept.fields), kept.said) == ({"kit.camera", "kit.mode"}, ())
    session.apply({"action.fps": 120, "light.iso": 12800})
    given_back = with_mode(session.state.shot, library.camera("demo-cine-35"), library.camera("demo-cine-35").mode[1])
    assert (given_back.fields["action.fps"], given_back.fields["light.iso"]) == (None, None)
    assert len(given_back.said) == 2


def test_a_zoom_is_set_to_the_nearest_focal_length_that_it_has(session):
    zoom = library.lens("demo-zoom-24-80").model_copy(update={"focal_min": 50.0})
    change = with_lens(session.state.kit, zoom)
    assert change.fields["kit.focal_length"] == "50.0 mm"
    assert change.said == ("demo-zoom-24-80 has no 35 mm: it is set to 50 mm",)
    kit = session.state.kit._replace(focal_mm=60.0)
    assert with_lens(kit, zoom).said == ()


def test_a_prime_leaves_the_focal_length_out(session):
    session.apply(with_lens(session.state.kit, library.lens("demo-zoom-24-80")).fields)
    session.apply(with_lens(session.state.kit, library.lens("demo-prime-25")).fields)
    assert session.state.shot.kit.focal_length is None
    assert session.state.kit.focal_mm == 25


def test_a_focal_length_is_read_in_mm_and_kept_within_the_zoom():
    zoom = library.lens("demo-zoom-24-80")
    assert with_focal_length(zoom, "50")[0].fields["kit.focal_length"] == "50.0 mm"
    assert with_focal_length(zoom, "2 in")[1] == "50.8 mm"
    for wrong in ("81", "23.9", "-50", "x"):
        with pytest.raises(ValueError, match=r"out of range|not a length"):
            with_focal_length(zoom, wrong)


def test_another_head_says_that_the_slide_is_to_be_read_anew(session):
    head = library.head("demo-slide-head").model_copy(update={"name": "other"})
    change = with_head(session.state.shot, head)
    assert "set it anew on other" in change.said[0]
    assert change.fields == {"kit.head": "other", "move.slide": None}
    assert with_head(session.state.shot, library.head("demo-slide-head")).said == ()
    assert with_head(session.state.shot, None).fields == {"kit.head": None}


def test_the_effect_gives_the_ratios_of_the_chief_numbers(session):
    before = session.state.answer
    after = session.propose({"kit.mode": "4K full width"}).answer
    numbers, *findings = effect(before, after)
    # The frame is as wide as the sensor: 24.9 mm for 16.6 mm is 1.5 times. Half the rate of 120 is the mode's top.
    assert "Frame width" in numbers.text
    assert "(× 1.5)" in numbers.text
    assert "rate 120 fps → 60 fps (× 0.5)" in numbers.text
    lux = after.light.lux_needed / before.light.lux_needed
    assert f"(× {lux:.3g})" in numbers.text
    assert {line.level for line in findings} <= {"ok", "note", "warn", "stop"}
    assert any(line.level == "stop" and "reads as a toy" in line.text for line in findings)
    assert any(line.text == "No longer: The light is 0.6 stops short" for line in findings)


def test_no_change_says_so(session):
    [line] = effect(session.state.answer, session.state.answer)
    assert line.text == "No chief number changes"


def test_a_clause_ends_at_the_first_pause_that_leaves_its_sense():
    assert clause("The light is short: add light; or wait") == "The light is short"
    assert clause("T22 holds it, but at a price; T16 is best") == "T22 holds it, but at a price"


def test_every_mode_lens_and_head_can_be_chosen_or_says_why_not(session):
    for shelf in ("cameras", "lenses", "heads"):
        for choice in choices(shelf):
            change = choice.change(session.state.shot, session.state.kit)
            assert session.propose(change.fields).shot.kit is not None
    assert [choice.name for choice in choices("heads")] == ["demo-slide-head", ""]
    assert {choice.whose for choice in choices("lenses")} == {"built-in"}


def test_what_a_stop_does_to_the_contrast_is_told_with_the_light(session):
    worst = [
        f"{100 * session.propose({'focus.stop': stop}).answer.focus.contrast.worst:.0f} %" for stop in ("T8", "T16")
    ]
    before, after = (session.propose({"focus.stop": stop}).answer for stop in ("T8", "T16"))
    told = effect(before, after)[0].text
    assert told.startswith("Stop T8 → T16; light needed ")
    assert "(× 4); " in told
    assert f"worst contrast {worst[0]} → {worst[1]}" in told
