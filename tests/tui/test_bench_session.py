"""Readings on the bench remember where the rig stood when the shot's places become others."""

from __future__ import annotations

import pytest

from forescale.engine.answer.readings import as_now
from forescale.engine.kit import library
from forescale.tui.session import Session, open_session

FT = 304.8


def kiln() -> Session:
    return open_session(library.shelf_file("shots", "kiln-stack").path)


def places(session: Session) -> set[tuple[float | None, float | None]]:
    return {(row.model, row.background) for row in session.state.shot.bench}


@pytest.mark.parametrize(("path", "text"), [("place.model", "11 ft"), ("place.background", "250 ft")])
def test_a_place_that_changes_is_noted_as_it_was(path: str, text: str) -> None:
    session = kiln()
    assert places(session) == {(None, None)}
    session.apply({path: text})
    assert places(session) == {(10 * FT, 240 * FT)}
    session.apply({path: "12 ft" if path == "place.model" else "260 ft"})
    assert places(session) == {(10 * FT, 240 * FT)}


def test_a_moved_rig_makes_no_disagreement_of_the_readings() -> None:
    session = kiln()
    session.apply({"place.model_near": "18 ft", "place.model": "20 ft"})
    found = session.state.answer.slip.bench
    assert found is not None
    assert found.suspects == ()
    session.apply({"bench": as_now(session.state.shot.bench)})
    counted_now = session.state.answer.slip.bench
    assert counted_now is not None
    assert counted_now.suspects == ("distance", "focal length", "sweep")


def test_what_moves_nothing_notes_nothing() -> None:
    session = kiln()
    session.apply({"light.iso": 1600, "place.lens_height": "6 ft", "scale.ratio": "1:25"})
    assert places(session) == {(None, None)}


def test_a_ratio_that_moves_a_model_left_open_does() -> None:
    session = kiln()
    session.apply({"place.model": None, "place.model_near": None})
    assert places(session) == {(10 * FT, 240 * FT)}
    session.apply({"bench": as_now(session.state.shot.bench)})
    stood = session.state.answer.lineup.model_mm
    session.apply({"scale.ratio": "1:20"})
    assert places(session) == {(stood, 240 * FT)}
