"""Marks: kept, compared, gone back to, renamed and deleted, by keys alone from a cold start."""

from __future__ import annotations

from pathlib import Path

import pytest

from forescale.engine.kit import library
from forescale.engine.shot.rows import WitnessRow
from forescale.tui.tasks.compare import Compared, compared_rows
from tests.tui.app_pilot import press, running
from tests.tui.sizes import every_size_and_table


def words(text: str) -> str:
    """A screen's text without its line breaks."""
    return " ".join(text.split())


async def keep(pilot: object, name: str) -> str:
    """Keep the present state under a name, the entry's own suggestion being typed over."""
    return await press(pilot, "n", "a", f"text:{name}", "enter", "escape")  # type: ignore[arg-type]


async def test_without_marks_the_list_says_how_to_keep_one() -> None:
    async with running() as pilot:
        assert "No saved states yet: a keeps the present state" in await press(pilot, "n")
        for key in ("b", "c", "e", "x"):
            assert "No saved states yet" in await press(pilot, key)
        assert not pilot.app.session.unsaved


async def test_a_state_is_kept_under_a_name_and_says_what_differs_from_now() -> None:
    async with running() as pilot:
        await keep(pilot, "wide")
        assert "not saved" in await press(pilot, "1", "right")  # the next standard ratio
        text = await press(pilot, "n")
        (line,) = [line for line in text.splitlines() if line.startswith(" wide")]
        assert "scale 1:24" in line


async def test_a_suggested_name_is_taken_by_enter_and_is_never_one_taken() -> None:
    async with running() as pilot:
        await press(pilot, "n", "a", "enter", "a", "enter", "a", "enter")
        names = [mark.name for mark in pilot.app.session.state.shot.mark]
        assert len(set(names)) == 3
        assert all(name.startswith("at ") for name in names)


async def test_going_back_says_that_it_takes_witness_marks_along() -> None:
    async with running() as pilot:
        await keep(pilot, "before the marks")
        pilot.app.session.apply(
            {"witness": (WitnessRow(name="kerb", distance="10 ft", aside="2 ft left", height="1 in"),)}
        )
        text = words(await press(pilot, "n", "b"))
        assert "undo brings witness marks and all else back" in text
        assert pilot.app.session.state.shot.witness == ()
        await press(pilot, "u")
        assert len(pilot.app.session.state.shot.witness) == 1


@pytest.mark.parametrize(("typed", "says"), [("text:wide", 'called "wide" already'), ("text: ", "needs a name")])
async def test_a_taken_or_empty_name_is_refused_and_its_text_stays(typed: str, says: str) -> None:
    async with running() as pilot:
        await keep(pilot, "wide")
        text = await press(pilot, "n", "a", typed, "enter")
        assert says in text
        assert "Name:" in text
        assert len(pilot.app.session.state.shot.mark) == 1


async def test_going_back_is_one_change_that_undo_takes_away() -> None:
    async with running() as pilot:
        await keep(pilot, "wide")
        await press(pilot, "1", "right")
        board = await press(pilot, "n", "b")
        assert 'Set as for "wide"' in board
        assert pilot.app.session.state.shot.scale.ratio == 24
        await press(pilot, "u")
        assert pilot.app.session.state.shot.scale.ratio != 24
        assert len(pilot.app.session.state.shot.mark) == 1


async def test_a_mark_is_compared_with_now_by_what_differs_alone() -> None:
    async with running() as pilot:
        await keep(pilot, "wide")
        await press(pilot, "m", "text:11 ft", "enter", "d", "t", "text:leave", "enter", "escape")
        text = await press(pilot, "n", "down", "enter")
        rows = {line[:17].strip(): line for line in text.splitlines()}
        assert text.splitlines()[1].split() == ["differs", "wide", "now"]
        assert "10 ft" in rows["model at"]
        assert "11 ft" in rows["model at"]
        for told in ("focus mark", "stop", "reads as"):
            assert told in rows
        assert "rate" not in rows  # which is as it was
        assert "so it looks" in words(text)


async def test_any_two_marks_are_compared() -> None:
    async with running() as pilot:
        await keep(pilot, "one")
        await press(pilot, "1", "right")
        await keep(pilot, "two")
        await press(pilot, "1", "right")
        text = await press(pilot, "n", "c")
        assert '"two" is the first of two' in text
        text = await press(pilot, "down", "c")
        assert [head in text.splitlines()[1] for head in ("two", "one", "now")] == [True, True, False]
        assert "1:25" in text
        assert "1:24" in text


async def test_two_states_alike_say_so() -> None:
    async with running() as pilot:
        await keep(pilot, "wide")
        assert "They do not differ" in await press(pilot, "n", "enter")


async def test_a_mark_is_renamed_and_deleted_and_undo_brings_it_back() -> None:
    async with running() as pilot:
        await keep(pilot, "one")
        await keep(pilot, "two")
        await press(pilot, "n", "e", "text:wide", "enter")
        assert [mark.name for mark in pilot.app.session.state.shot.mark] == ["one", "wide"]
        text = await press(pilot, "e", "text:one", "enter")
        assert 'called "one" already' in text
        text = await press(pilot, "escape", "down", "x")
        assert '"one" is deleted' in text
        assert [mark.name for mark in pilot.app.session.state.shot.mark] == ["wide"]
        await press(pilot, "u")
        assert [mark.name for mark in pilot.app.session.state.shot.mark] == ["one", "wide"]
        await press(pilot, "r")
        assert [mark.name for mark in pilot.app.session.state.shot.mark] == ["wide"]


async def test_marks_are_saved_with_the_shot(tmp_path: Path) -> None:
    path = tmp_path / "night.toml"
    async with running() as pilot:
        await keep(pilot, "wide")
        await press(pilot, "w", *["backspace"], f"text:{path}", "enter")
        assert not pilot.app.session.unsaved
    async with running(str(path)) as pilot:
        assert " wide" in await press(pilot, "n")


async def test_a_save_that_fails_loses_no_mark(tmp_path: Path) -> None:
    folder = tmp_path / "card"
    folder.mkdir()
    path = folder / "night.toml"
    library.save_shot(path, library.load_shot(library.shot_path("lock-gate")))
    async with running(str(path)) as pilot:
        await keep(pilot, "wide")
        path.unlink()
        folder.rmdir()
        folder.write_text("the card is full of something else")
        text = await press(pilot, "s")
        assert "cannot be written" in text
        assert pilot.app.session.unsaved
        assert " wide" in await press(pilot, "n")


async def test_a_mark_whose_kit_is_gone_says_so_and_cannot_be_gone_back_to(home: Path) -> None:
    lens = home / "lenses" / "old-35.toml"
    lens.parent.mkdir(parents=True)
    shipped = library.shelf_file("lenses", "demo-prime-35").path.read_text()
    lens.write_text(shipped.replace('"demo-prime-35"', '"old-35"'))
    shot = library.load_shot(library.shot_path("signal-lamp"))
    library.save_shot(
        home / "shots" / "old.toml", shot.model_copy(update={"kit": _with_lens(shot.kit, "old-35"), "point": ()})
    )
    async with running("old") as pilot:
        await keep(pilot, "old")
        state = pilot.app.session.state
        lens.unlink()
        pilot.app.session.apply({"kit.lens": "demo-prime-35"})
        text = await press(pilot, "n")
        assert "its kit is gone" in text
        assert '"old-35"' in words(text)
        text = await press(pilot, "b")
        assert "old-35" in text
        assert pilot.app.session.state.shot.kit.lens == "demo-prime-35"
        text = await press(pilot, "enter")
        assert "no answer" in text
        assert "demo-prime-35" in text
        assert state.shot.kit.lens == "old-35"


def _with_lens(kit: object, lens: str) -> object:
    return kit.model_copy(update={"lens": lens})  # type: ignore[attr-defined]


async def test_a_name_with_brackets_is_shown_as_it_was_typed() -> None:
    async with running() as pilot:
        await press(pilot, "n", "a", *["left_square_bracket", "b", "right_square_bracket"], "enter")
        assert "[b]" in await press(pilot, "escape", "n")


@every_size_and_table()
async def test_every_size_shows_list_and_comparison_whole(width: int, height: int, glyphs: str) -> None:
    async with running(width=width, height=height, glyphs=glyphs) as pilot:
        await keep(pilot, "the wide one before lunch")
        await press(pilot, "m", "text:10 ft 11 15/16 in", "enter", "d", "t", "text:leave", "enter", "escape")
        text = await press(pilot, "n", "down")
        assert "the wide one before" in text
        assert "model at 10 ft, nearest part 9 ft 4 in" in words(text)
        assert "a keep" in text
        text = await press(pilot, "enter")
        assert "the wide one" in text
        assert "lunch" in text
        assert "10 ft 11 15/16 in" in text
        assert "10 ft 3 15/16 in" in text
        if glyphs == "ascii":
            assert text.isascii()


async def test_going_back_to_what_does_not_differ_does_nothing_and_says_so() -> None:
    async with running() as pilot:
        await keep(pilot, "wide")
        assert 'Nothing differs from "wide", so nothing is changed' in words(await press(pilot, "n", "b"))
        assert len(pilot.app.session.done) == 1


async def test_what_is_to_be_looked_at_goes_by_the_boards_own_word() -> None:
    async with running() as pilot:
        session = pilot.app.session
        worse = session.propose({"focus.stop": "T4"})
        now, then = (Compared("", one.shot, one.answer) for one in (session.state, worse))
        names = {what for what, _, _ in compared_rows(now, then, "imperial")}
        assert "look" in names
        assert "warn" not in names


async def test_lists_of_points_say_how_many_and_not_twice_what() -> None:
    async with running() as pilot:
        session = pilot.app.session
        points = session.state.shot.point
        session.apply({"point": points[:1]})
        assert "points 2 again, was 1" in words(await press(pilot, "u"))
        session.apply({"point": (points[1], points[0])})
        assert "a change of the points" in words(await press(pilot, "u"))
