"""What undo keeps, and what a profile that changes costs."""

from __future__ import annotations

from forescale.engine.kit import library
from forescale.tui import session as session_module
from forescale.tui.session import MOST_STEPS, open_session
from tests.tui.app_pilot import press, running


async def test_a_run_of_one_key_is_undone_in_one_step_others_one_by_one() -> None:
    async with running() as pilot:
        session = pilot.app.session
        await press(pilot, "right", "right", "right")
        assert session.state.answer.scale.ratio > 25
        assert len(session.done) == 1
        await press(pilot, "left", "down", "right")
        assert len(session.done) == 3
        await press(pilot, "u", "u", "u")
        assert session.state.answer.scale.ratio == 24
        assert not session.unsaved


async def test_what_was_saved_within_a_run_can_be_gone_back_to() -> None:
    async with running() as pilot:
        await press(pilot, "right", "s", "backspace", "text:mine", "enter", "right", "u")
        assert pilot.app.session.state.answer.scale.ratio == 25
        assert not pilot.app.session.unsaved


def test_undo_keeps_a_thousand_steps() -> None:
    session = open_session(library.shot_path(library.DEMO))
    first = session.propose({"action.fps": 60})
    second = session.propose({"action.fps": 48})
    for _ in range(MOST_STEPS):
        session.move_to(first)
        session.move_to(second)
    assert len(session.done) == MOST_STEPS


def test_a_changed_profile_costs_one_answer_and_one_for_each_step_gone_to(monkeypatch) -> None:
    session = open_session(library.shot_path(library.DEMO))
    for fps in range(25, 65):
        session.apply({"action.fps": fps})
    solved: list[object] = []
    solve = session_module.solve
    monkeypatch.setattr(session_module, "solve", lambda shot, kit: solved.append(shot) or solve(shot, kit))
    lens = library.lens("demo-prime-35").model_copy(update={"notes": "Changed"})
    library.save_profile("lenses", lens)
    session.reload_kit()
    assert len(solved) == 1
    assert session.state.kit.lens == lens
    assert session.undo()
    assert session.state.kit.lens == lens
    assert len(solved) == 2


def test_a_step_that_the_profiles_no_longer_serve_is_passed_over() -> None:
    own = library.camera("demo-cine-35")
    kept = own.model_copy(update={"name": "mine"})
    library.save_profile("cameras", kept)
    session = open_session(library.shot_path(library.DEMO))
    session.apply({"kit.camera": "mine"})
    session.apply({"kit.camera": "demo-cine-35"})
    (library.home() / "cameras" / "mine.toml").unlink()
    session.reload_kit()
    assert session.undo()
    assert session.state.shot.kit.camera == "demo-cine-35"
    assert not session.undo()
