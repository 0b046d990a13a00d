"""Nothing is lost: saving, failed saves, work that comes back after a crash, and the one question on leaving."""

from __future__ import annotations

from pathlib import Path
from threading import Event, Thread

import pytest

from forescale.engine.kit import library
from forescale.engine.shot.records import Shot
from forescale.tui import app as tui_app
from forescale.tui import recovery
from forescale.tui.recovery import Work
from tests.tui.app_pilot import press, running


def kept(path: Path) -> Shot | None:
    """Return the unsaved work that is kept on a shot."""
    found = recovery.kept_work(path)
    return recovery.read_work(found[-1]).shot if found else None


async def test_a_shipped_shot_is_saved_under_a_name_and_opened_by_it():
    async with running() as pilot:
        await press(pilot, "right", "s", "backspace", "text:night-2", "enter")
        assert pilot.app.session.path == library.home() / "shots" / "night-2.toml"
        assert not pilot.app.session.unsaved
    assert library.load_shot(library.shot_path("night-2")).scale.ratio == 25
    assert recovery.last_path() == library.home() / "shots" / "night-2.toml"


async def test_a_second_save_goes_to_the_same_file():
    async with running() as pilot:
        await press(pilot, "s", "backspace", "text:mine", "enter", "right", "s")
        assert library.load_shot(library.shot_path("mine")).scale.ratio == 25


async def test_writing_over_another_file_asks_once():
    library.save_shot(library.home() / "shots" / "taken.toml", library.load_shot(library.shot_path("lock-gate")))
    async with running() as pilot:
        text = await press(pilot, "w", "backspace", "text:taken", "enter")
        assert "writes over it" in " ".join(text.split())
        assert library.load_shot(library.shot_path("taken")).title == "The lock gate gives way"
        await press(pilot, "enter")
        assert library.load_shot(library.shot_path("taken")).title == "The kiln stack falls"


async def test_a_save_that_fails_says_why_and_loses_nothing(monkeypatch):
    async with running() as pilot:
        await press(pilot, "s", "backspace", "text:mine", "enter", "right")

        def full(*_args: object) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr("os.replace", full)
        text = await press(pilot, "s")
        assert "No space left on device" in text
        assert pilot.app.session.unsaved
        assert pilot.app.session.state.answer.scale.ratio == 25


async def test_work_not_saved_comes_back_after_a_crash_and_can_be_undone():
    async with running() as pilot:
        await press(pilot, "right")
        pilot.app.keep()
        await pilot.app.workers.wait_for_complete()
    async with running() as pilot:
        assert pilot.app.session.state.answer.scale.ratio == 25
        assert "brought back" in pilot.app.greeting
        await press(pilot, "u")
        assert not pilot.app.session.unsaved


async def test_work_is_kept_once_the_keys_are_still(monkeypatch):
    monkeypatch.setattr("forescale.tui.app.KEEP_AFTER_S", 0.01)
    async with running() as pilot:
        await press(pilot, "right")
        await pilot.pause(0.05)
        await pilot.app.workers.wait_for_complete()
        assert kept(pilot.app.session.path) == pilot.app.session.state.shot


async def test_what_is_done_in_a_task_is_kept_before_the_key_returns(monkeypatch):
    monkeypatch.setattr("forescale.tui.app.KEEP_AFTER_S", 60)
    changes = (("t", "a"), ("g",), ("escape", "n", "k", "enter"), ("escape", "i", "enter", "text:Other", "enter"))
    async with running() as pilot:
        for keys in changes:
            await press(pilot, *keys)
            assert kept(pilot.app.session.path) == pilot.app.session.state.shot
        await press(pilot, "u", "u", "u", "u")
        assert kept(pilot.app.session.path) is None


@pytest.mark.parametrize(("within_s", "put_off"), [(120, 2), (0, 0)])
async def test_steps_on_the_board_put_keeping_off_but_not_for_long(monkeypatch, within_s, put_off):
    assert tui_app.KEEP_AFTER_S <= 0.3
    assert tui_app.KEEP_WITHIN_S <= 3
    monkeypatch.setattr("forescale.tui.app.KEEP_AFTER_S", 60)
    monkeypatch.setattr("forescale.tui.app.KEEP_WITHIN_S", within_s)
    async with running() as pilot:
        await press(pilot, "right")
        waits, resets = pilot.app._keep_timer, []
        assert waits is not None
        monkeypatch.setattr(waits, "reset", lambda: resets.append(1))
        await press(pilot, "right", "down", "right")
        assert len(resets) == put_off
        assert pilot.app._keep_timer is waits
        assert kept(pilot.app.session.path) is None


async def test_a_step_just_made_is_kept_when_another_shot_is_opened(monkeypatch):
    monkeypatch.setattr("forescale.tui.app.KEEP_AFTER_S", 60)
    async with running() as pilot:
        await press(pilot, "right", "o", "down", "enter")
        assert pilot.app.session.state.shot.title == "The lock gate gives way"
    shot = kept(library.shot_path("kiln-stack"))
    assert shot is not None
    assert shot.scale.ratio == 25


async def test_work_saved_under_another_name_does_not_come_back_under_the_old():
    async with running() as pilot:
        await press(pilot, "t", "a", "escape", "w", "backspace", "text:night-2", "enter")
    async with running() as pilot:
        assert not pilot.app.greeting
        assert not pilot.app.session.unsaved


def test_a_write_that_comes_late_never_puts_older_work_over_newer(monkeypatch):
    shot = library.load_shot(library.shot_path("kiln-stack"))
    newer = shot.model_copy(update={"title": "Newer"})
    path, begun, go_on = library.home() / "shots" / "mine.toml", Event(), Event()
    write = recovery.keep

    def slow(path: Path, work: Work | None) -> None:
        begun.set()
        go_on.wait(10)
        write(path, work)

    monkeypatch.setattr("forescale.tui.recovery.keep", slow)
    keeper = recovery.Keeper()
    keeper.want(path, Work(shot, ""))
    early = Thread(target=keeper.write)
    early.start()
    begun.wait(10)
    keeper.want(path, Work(newer, ""))
    late = Thread(target=keeper.write)
    late.start()
    go_on.set()
    early.join()
    late.join()
    assert kept(path) == newer


async def test_a_home_that_cannot_be_written_to_is_told_before_anything_goes(monkeypatch):
    def full(*_args: object, **_named: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    monkeypatch.setattr("pathlib.Path.unlink", full)
    async with running() as pilot:
        text = " ".join((await press(pilot, "t", "a")).split())
        assert "Not kept for after a crash" in text
        assert "No space left on device" in text
        assert "w on the board saves it to another place" in text
        assert len(pilot.app.session.state.shot.take) == 1
        assert "Not kept" not in await press(pilot, "t")
        text = " ".join((await press(pilot, "escape", "q", "x")).split())
        assert "No space left on device" in text
        assert "w saves elsewhere, x once more lets it go for good" in text
        await press(pilot, "x")
        assert pilot.app.return_value == 0


async def test_leaving_with_unsaved_work_asks_once():
    async with running() as pilot:
        text = await press(pilot, "right", "q")
        assert "leave without saving" in text
        await press(pilot, "escape")
        assert pilot.app.is_running
        await press(pilot, "t", "a", "escape", "right", "q", "x")
        assert pilot.app.return_value == 0
    shot = kept(library.shot_path("kiln-stack"))
    assert shot is not None
    assert (len(shot.take), shot.scale.ratio) == (1, 24)


async def test_leaving_can_save_on_the_way_out():
    async with running() as pilot:
        await press(pilot, "right", "q", "s", "backspace", "text:kept", "enter")
        assert pilot.app.return_value == 0
    assert library.load_shot(library.shot_path("kept")).scale.ratio == 25


async def test_leaving_with_nothing_unsaved_does_not_ask():
    async with running() as pilot:
        await press(pilot, "q")
        assert pilot.app.return_value == 0


async def test_no_key_leaves_unsaved_work_without_asking():
    async with running() as pilot:
        text = await press(pilot, "right", "ctrl+q")
        assert "leave without saving" in text
        await press(pilot, "escape", "t", "ctrl+q", "s")
        assert pilot.app.is_running
    async with running("lock-gate") as pilot:
        await press(pilot, "ctrl+q")
        assert pilot.app.return_value == 0


async def test_ctrl_c_copies_what_is_in_hand_and_leaves_nothing():
    async with running() as pilot:
        text = await press(pilot, "3", "down", "ctrl+c")
        assert "Sent to the terminal's clipboard: stop T20" in text
        assert pilot.app.clipboard == "stop T20"
        text = await press(pilot, "p", "ctrl+c")
        assert pilot.app.clipboard.startswith("stack above the roof")
        await press(pilot, "escape", "f5", "ctrl+c")
        assert "THE KILN STACK FALLS" in pilot.app.clipboard
        assert pilot.app.is_running


async def test_a_console_without_a_clipboard_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "linux")
    async with running() as pilot:
        assert "This console has no clipboard to copy to" in await press(pilot, "3", "ctrl+c")


async def test_no_new_shot_hides_a_built_in_one() -> None:
    async with running() as pilot:
        begun = ["o", "n", "text:Lock gate", "enter", "text:200 ft", "enter", "enter", "enter"]
        text = await press(pilot, *begun)
        assert "lock-gate-2" in text
        text = await press(pilot, "ctrl+u", "end", *["backspace"] * 12, "text:lock-gate", "enter")
        assert "lock-gate is the name of a built-in shot: give another name" in text
        await press(pilot, "backspace", "text:e-ours", "enter")
        assert library.own_path("shots", "lock-gate-ours").is_file()
        assert not library.own_path("shots", "lock-gate").exists()


async def test_a_slash_finds_in_a_list_and_on_a_page():
    async with running() as pilot:
        text = await press(pilot, "3", "e", "slash", "text:airy")
        assert "Enter, then / and Enter once more" in " ".join(text.split())
        text = await press(pilot, "enter", "ctrl+c")
        assert "Airy" in pilot.app.clipboard
        text = await press(pilot, "escape", "f5", "slash", "text:cautions", "enter")
        assert "CAUTIONS" in text.upper().splitlines()[1]
        assert "does not stand here" in await press(pilot, "slash", *["backspace"], "text:zebra")


async def test_a_slash_finds_what_stands_on_the_page_beside_the_list():
    async with running(height=40) as pilot:
        text = await press(pilot, "b", "slash", "text:two times of three")
        assert "does not stand here" not in text
        assert "Enter, then / and Enter once more" in " ".join(text.split())


async def test_what_was_undone_just_before_leaving_does_not_come_back(monkeypatch):
    monkeypatch.setattr("forescale.tui.app.KEEP_AFTER_S", 60)
    async with running() as pilot:
        await press(pilot, "right")
        pilot.app.keep_now()
        await press(pilot, "u", "q")
        assert pilot.app.return_value == 0
    assert kept(library.shot_path("kiln-stack")) is None


async def test_another_shot_is_opened_from_the_list():
    async with running() as pilot:
        text = await press(pilot, "o")
        assert "The lock gate gives way" in text
        assert "built-in, read-only" in text
        text = await press(pilot, "down", "enter")
        assert "The lock gate gives way" in text


async def test_a_file_that_cannot_be_opened_says_why_and_keeps_the_present_shot(tmp_path):
    broken = tmp_path / "broken.toml"
    broken.write_text("schema = ")
    async with running() as pilot:
        text = await press(pilot, "o", "g", f"text:{broken}", "enter")
        assert "is not TOML" in " ".join(text.split())
        await press(pilot, "escape", "escape")
        assert pilot.app.session.state.shot.title == "The kiln stack falls"


@pytest.mark.parametrize("broken", ["", "[kit]\n", "schema = 1"])
async def test_kept_work_that_cannot_be_read_is_set_aside_and_told(broken):
    async with running() as pilot:
        await press(pilot, "right")
        pilot.app.keep_now()
    (path,) = recovery.kept_work(library.shot_path("kiln-stack"))
    path.write_text(broken)
    async with running() as pilot:
        assert not pilot.app.session.unsaved
        assert "Unsaved work was kept but cannot be used" in pilot.app.greeting
        aside = Path(pilot.app.greeting.rpartition("it lies in ")[2])
    assert aside.read_text() == broken
    assert not recovery.kept_work(library.shot_path("kiln-stack"))


async def test_a_new_shot_is_begun_with_a_title_and_a_background():
    async with running() as pilot:
        await press(pilot, "o", "n", "text:The tower smokes", "enter", "text:180 ft", "enter", "enter")
        assert "Up, Down: still, driven" in " ".join((await press(pilot)).split())
        text = await press(pilot, "down", "down", "enter")
        assert "Name of its file: the-tower-smokes" in text
        text = await press(pilot, "enter")
        assert "k chooses camera and lens" in text
        session = pilot.app.session
        assert session.path == library.home() / "shots" / "the-tower-smokes.toml"
        assert session.state.shot.title == "The tower smokes"
        assert session.state.shot.place.background == 180 * 304.8
        assert session.state.shot.build == ()
        assert {"scale.ratio", "place.model", "focus.stop"} <= session.state.answer.auto
        assert session.state.shot.action.kind == "falling"
        assert not session.unsaved


async def test_what_a_new_shot_asks_is_refused_where_it_is_asked():
    async with running() as pilot:
        text = await press(pilot, "o", "n", "text:The tower", "enter", "text:200 ft", "enter", "text:300 ft", "enter")
        assert "must stand nearer than the background" in " ".join(text.split())
        await press(pilot, *["backspace"] * 6, "text:12 ft", "enter")
        text = " ".join((await press(pilot, "text:tower", "enter")).split())
        assert "is not known" in text
        assert "validation error" not in text


@pytest.mark.parametrize(
    ("title", "background", "says"), [("  ", "180 ft", "a title is needed"), ("x", "inf", "no place")]
)
async def test_a_new_shot_needs_both(title, background, says):
    async with running() as pilot:
        await press(pilot, "o", "n", f"text:{title}", "enter")
        text = await press(pilot, f"text:{background}", "enter") if title.strip() else await press(pilot)
        assert says in " ".join(text.split())
        await press(pilot, "escape", "escape")
        assert pilot.app.session.state.shot.title == "The kiln stack falls"


async def test_title_and_units_are_changed_and_undone():
    async with running() as pilot:
        await press(
            pilot, "i", "enter", "text:The other stack", "enter", "down", "down", "enter", "text:metric", "enter"
        )
        shot = pilot.app.session.state.shot
        assert (shot.title, shot.units) == ("The other stack", "metric")
        text = await press(pilot, "escape")
        assert "3.048 m" in text
        await press(pilot, "u", "u")
        assert not pilot.app.session.unsaved


async def test_leaving_the_name_leaves_the_saving():
    async with running() as pilot:
        await press(pilot, "w", "escape")
        assert pilot.app.screen is pilot.app.board


async def test_the_theme_is_kept_for_next_time_with_the_other_settings():
    library.home().mkdir(parents=True)
    (library.home() / "config.toml").write_text('[keys]\nundo = "9"\n')
    async with running() as pilot:
        assert "daylight" in await press(pilot, "f3")
    async with running() as pilot:
        assert pilot.app.theme == "daylight"
        assert pilot.app.config.keys == {"undo": "9"}


async def test_enter_leaves_what_was_found_in_hand_and_asked_again_goes_on():
    async with running() as pilot:
        await press(pilot, "3", "e", "slash", "text:stop")
        found = pilot.shown.text_in_hand()
        assert "stop" in found
        await press(pilot, "enter")
        assert pilot.shown.text_in_hand() == found
        await press(pilot, "slash", "enter")
        assert "stop" in pilot.shown.text_in_hand() != found
