"""Two programs, or a program and an editor, at one file: nothing is undone in silence, and no take is lost."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from forescale.engine.files.faults import ChangedElsewhere
from forescale.engine.kit import library, unsaved
from forescale.engine.shelf import profile_draft
from forescale.engine.shot.records import Take
from forescale.engine.states.takes import logged, merged, restored
from forescale.tui.session import Session, open_session
from tests.faults.program import Program
from tests.tui.app_pilot import press, running


@pytest.fixture
def path(home: Path) -> Path:
    """Return a shot of the user's own."""
    path = home / "shots" / "mine.toml"
    library.save_shot(path, library.load_shot(library.shot_path(library.DEMO)))
    return path


def take(number: int, minute: int, note: str = "") -> Take:
    return Take(number=number, time=datetime(2026, 5, 1, 10, minute), set="120 fps", note=note)


def with_takes(session: Session, *takes: Take) -> None:
    session.apply({"take": takes})


def edit(path: Path, old: str, new: str) -> None:
    """Change a file as an editor does."""
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))


# Through the session


def test_what_someone_else_saved_is_not_written_over(path: Path) -> None:
    first, second = open_session(path), open_session(path)
    with_takes(first, take(1, 0))
    first.save()
    second.apply({"place.model": "12 ft"})
    with pytest.raises(ChangedElsewhere):
        second.save()
    assert library.load_shot(path) == first.state.shot


def test_a_comment_of_someone_else_is_no_change_and_stays(path: Path) -> None:
    session = open_session(path)
    path.write_text(f"# checked by hand\n{path.read_text()}")
    session.apply({"place.model": "12 ft"})
    session.save()
    assert path.read_text().startswith("# checked by hand\n")
    assert library.load_shot(path) == session.state.shot


@pytest.mark.parametrize("way", [Session.keep_mine, Session.take_theirs])
def test_the_takes_of_both_are_kept_whichever_is_chosen(way, path: Path) -> None:
    start = open_session(path)
    with_takes(start, take(1, 0))
    start.save()
    first, second = open_session(path), open_session(path)
    with_takes(first, take(1, 0, "soft"), take(2, 20))
    first.apply({"place.model": "11 ft"})
    first.save()
    second.apply({"place.model": "12 ft"})
    with_takes(second, take(1, 0), take(2, 10), take(3, 30))
    way(second)
    shot = library.load_shot(path)
    assert shot == second.state.shot
    assert shot.take == (take(1, 0, "soft"), take(2, 10), take(2, 20), take(3, 30))
    assert shot.place.model == pytest.approx((12 if way is Session.keep_mine else 11) * 304.8)
    assert not second.unsaved
    assert second.undo()
    assert second.state.shot.place.model == pytest.approx(12 * 304.8)


@pytest.mark.parametrize("way", [Session.keep_mine, Session.take_theirs])
def test_each_take_still_names_the_state_that_it_was_shot_in(way, path: Path) -> None:
    first, second = open_session(path), open_session(path)
    for session, distance, minute in ((first, "11 ft", 0), (second, "12 ft", 1)):
        session.apply({"place.model": distance})
        session.apply(logged(session.state.shot, session.state.answer, datetime(2026, 5, 1, 10, minute)))
    first.save()
    way(second)
    shot = library.load_shot(path)
    assert [restored(shot, one).place.model for one in shot.take] == pytest.approx([11 * 304.8, 12 * 304.8])
    assert len({state.name for state in shot.state}) == 2


def test_logs_merge_in_the_order_of_each_though_the_clock_was_set_back() -> None:
    ours, theirs = (take(1, 50), take(2, 5), take(3, 6)), (take(1, 50), take(2, 55))
    found = merged(ours, theirs, ours[:1])
    assert set(found) == {*ours, *theirs}
    assert [one for one in found if one in ours] == list(ours)
    assert merged(ours, ours) == ours
    assert merged((), theirs) == theirs


def test_takes_that_many_programs_save_at_once_are_all_kept(path: Path) -> None:
    children = []
    for child in range(4):
        if (pid := os.fork()) == 0:
            try:
                for number in range(5):
                    _save_a_take(path, take(10 * child + number + 1, child))
                os._exit(0)
            finally:
                os._exit(1)
        children.append(pid)
    assert [os.waitpid(pid, 0)[1] for pid in children] == [0] * 4
    assert len(library.load_shot(path).take) == 20


def _save_a_take(path: Path, one: Take) -> None:
    session = open_session(path)
    with_takes(session, *session.state.shot.take, one)
    save: Callable[[], None] = session.save
    while True:
        try:
            save()
        except ChangedElsewhere:
            save = session.keep_mine
        else:
            return


def test_a_file_that_has_gone_is_written_anew(path: Path) -> None:
    session = open_session(path)
    session.apply({"place.model": "12 ft"})
    path.unlink()
    session.save()
    assert library.load_shot(path) == session.state.shot


# Through the app


async def test_a_save_over_a_changed_file_says_what_differs_and_asks(path: Path) -> None:
    async with running(str(path)) as pilot:
        await press(pilot, "right")
        edit(path, "[action]", "[action]\nheft = 2")
        text = " ".join((await press(pilot, "s")).split())
        assert "Changed elsewhere" in text
        assert "1:25" in text
        assert "heft" in text
        assert pilot.app.session.unsaved
        await press(pilot, "escape")
        assert pilot.app.session.unsaved
        assert library.load_shot(path).action.heft == 2
        await press(pilot, "s", "s")
        assert not pilot.app.session.unsaved
    assert library.load_shot(path).scale.ratio == 25


async def test_theirs_can_be_taken_and_undone(path: Path) -> None:
    async with running(str(path)) as pilot:
        await press(pilot, "right")
        edit(path, 'model = "10 ft"', 'model = "11 ft" # moved')
        await press(pilot, "s", "g")
        shot = pilot.app.session.state.shot
        assert (shot.place.model, shot.scale.ratio) == (pytest.approx(11 * 304.8), 24)
        assert not pilot.app.session.unsaved
        await press(pilot, "u")
        assert pilot.app.session.state.shot.scale.ratio == 25
    assert '"11 ft" # moved' in path.read_text()


async def test_a_file_broken_meanwhile_can_be_left_for_another(path: Path) -> None:
    async with running(str(path)) as pilot:
        await press(pilot, "right")
        path.write_text("schema = ")
        assert "is not TOML" in " ".join((await press(pilot, "s")).split())
        await press(pilot, "w", "text:mine-2", "enter")
        assert pilot.app.session.path == path.with_name("mine-2.toml")
    assert path.read_text() == "schema = "


async def test_leaving_over_a_changed_file_asks_too(path: Path) -> None:
    async with running(str(path)) as pilot:
        await press(pilot, "right")
        edit(path, 'model = "10 ft"', 'model = "11 ft"')
        assert "Changed elsewhere" in await press(pilot, "q", "s")
        await press(pilot, "s")
        assert pilot.app.return_value == 0


async def test_takes_logged_are_saved_when_the_rest_is_discarded(path: Path) -> None:
    async with running(str(path)) as pilot:
        await press(pilot, "right", "t", "a", "escape", "q", "x")
        assert pilot.app.return_value == 0
    shot = library.load_shot(path)
    assert (len(shot.take), shot.scale.ratio) == (1, 24)
    async with running(str(path)) as pilot:
        assert not pilot.app.session.unsaved
        assert "r brings back what was discarded last" in pilot.app.greeting
        await press(pilot, "r")
        assert pilot.app.session.state.shot.scale.ratio == 25


# Two programs


@pytest.mark.thorough
def test_a_running_program_never_takes_the_kept_work_of_another(path: Path, home: Path) -> None:
    with Program([str(path)], home) as first, Program([str(path)], home) as second:
        for program in (first, second):
            program.wait_for("kiln stack")
            assert "brought back" not in program.text
        first.send(b"t")
        first.send(b"a")
        first.wait_for("Take 1 is logged")
        with Program([str(path)], home) as third:
            third.wait_for("kiln stack")
            assert "brought back" not in third.text
            third.send(b"q")
            assert third.ended() == 0
        second.send(b"q")
        assert second.ended() == 0
        first.signal(signal.SIGKILL)
        first.ended()
    with Program([str(path)], home) as fourth:
        fourth.wait_for("brought back")
        fourth.send(b"s")
        fourth.wait_for("Saved: ")
        fourth.send(b"q")
        assert fourth.ended() == 0
    assert len(library.load_shot(path).take) == 1
    assert not list((home / "unsaved").iterdir())  # nothing is left where nothing is kept


@pytest.mark.thorough
def test_the_work_of_two_dead_programs_comes_back_with_both_ones_takes(path: Path, home: Path) -> None:
    with Program([str(path)], home) as first, Program([str(path)], home) as second:
        for program, before in ((first, b""), (second, b"\x1b[C")):
            program.wait_for("kiln stack")
            program.send(before)
            program.wait_still()
            program.send(b"t")
            program.send(b"a")
            program.wait_for("Take 1 is logged")
            program.wait_still(1.1)  # a take knows its second
        first.signal(signal.SIGKILL)
        second.signal(signal.SIGKILL)
    with Program([str(path)], home) as third:
        third.wait_for("Unsaved work of 2 runs was brought back")
        third.send(b"s")
        third.wait_for("Saved: ")
    shot = library.load_shot(path)
    assert (len(shot.take), shot.scale.ratio) == (2, 25)


def test_a_draft_of_a_profile_belongs_to_the_program_that_works_on_it() -> None:
    lens = library.lens("demo-prime-35").model_copy(update={"name": "mine", "title": "Changed"})
    draft = profile_draft.Draft("lenses", lens)
    come, go, done = os.pipe(), os.pipe(), 0
    pid = os.fork()
    if pid == 0:
        unsaved.let_go()
        draft.keep()
        os.write(come[1], b".")
        os.read(go[0], 1)
        os._exit(done)
    os.read(come[0], 1)
    assert not unsaved.kept_in("lenses")
    profile_draft.forget("lenses", "mine")
    os.write(go[1], b".")
    os.waitpid(pid, 0)
    assert unsaved.kept_in("lenses") == {"mine"}
    assert profile_draft.unsaved_profile("lenses", "mine") == lens


def test_kept_work_on_a_profile_that_cannot_be_read_is_set_aside_and_told() -> None:
    lens = library.lens("demo-prime-35").model_copy(update={"name": "mine"})
    draft = profile_draft.Draft("lenses", lens)
    draft.save()
    draft.change(lens.model_copy(update={"title": "Changed"}))
    draft.keep()
    (kept,) = unsaved.kept("lenses/mine.toml")
    kept.write_text("[broken")
    draft, said = profile_draft.open_draft("lenses", "mine")
    assert "cannot be read: it is set aside in" in said
    assert draft.present == lens
    assert [one.read_text() for one in unsaved.aside().iterdir()] == ["[broken"]
