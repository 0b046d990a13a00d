"""Marks and takes as records of a shot: names, numbers, what differs, and the file they are kept in."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.compare.differences import answers_that_differ, fields_that_differ, findings_changed, in_few_words
from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot, Take
from forescale.engine.states import saved, takes
from forescale.engine.states.takes import restored, still_named

AT = datetime(2026, 7, 14, 14, 32, 5)


def demo(name: str = "kiln-stack") -> tuple[Shot, Answer]:
    return answer_file(library.shot_path(name))


def changed(shot: Shot, **changes: object) -> Shot:
    found = edit.changed(shot, {key.replace("__", "."): value for key, value in changes.items()})
    assert isinstance(found, Shot)
    return found


def answered(of: Answer, shot: Shot) -> Answer:
    return answer(shot, of.kit, of.system)


# Marks


def test_a_mark_keeps_all_that_is_set_and_nothing_of_the_log() -> None:
    shot, found = demo()
    shot = changed(shot, **takes.logged(shot, found, AT))
    (mark,) = saved.keep(shot, "  before   lunch ", AT)
    assert mark.name == "before lunch"
    assert mark.kept == AT
    assert mark.setting.place == shot.place
    assert not hasattr(mark.setting, "take")
    assert fields_that_differ(mark.setting, shot, "imperial") == ()


@pytest.mark.parametrize("name", ["", "   ", "\t"])
def test_a_mark_needs_a_name(name: str) -> None:
    with pytest.raises(BadInput, match="needs a name"):
        saved.keep(demo()[0], name, AT)


def test_two_marks_of_one_name_are_refused_and_a_free_name_is_found() -> None:
    shot, _ = demo()
    kept = saved.keep(shot, "wide", AT)
    with pytest.raises(BadInput, match='called "wide" already'):
        saved.keep(changed(shot, mark=kept), " wide ", AT)
    assert saved.free_name(kept, "wide") == "wide (2)"
    assert saved.free_name(kept, "close") == "close"


def test_renaming_to_its_own_name_passes_and_to_anothers_does_not() -> None:
    shot, _ = demo()
    kept = saved.keep(changed(shot, mark=saved.keep(shot, "one", AT)), "two", AT)
    assert [mark.name for mark in saved.renamed(kept, 0, "one")] == ["one", "two"]
    assert [mark.name for mark in saved.renamed(kept, 1, "three")] == ["one", "three"]
    with pytest.raises(BadInput):
        saved.renamed(kept, 1, "one")


def test_only_the_mark_in_hand_is_deleted() -> None:
    shot, _ = demo()
    kept = saved.keep(changed(shot, mark=saved.keep(shot, "one", AT)), "two", AT)
    assert [mark.name for mark in edit.without(kept, 0)] == ["two"]


@pytest.mark.parametrize("name", ["kiln-stack", "lock-gate", "signal-lamp"])
def test_marks_and_takes_come_back_from_the_file_as_they_were(name: str, tmp_path: Path) -> None:
    shot, found = demo(name)
    other = changed(shot, place__lens_height="1.05 m", focus__stop="T11", **takes.logged(shot, found, AT))
    kept = changed(other, mark=saved.keep(other, 'odd "name" [b]', AT))
    library.save_shot(tmp_path / "kept.toml", kept)
    read = library.load_shot(tmp_path / "kept.toml")
    assert read.mark == kept.mark
    assert read.take == kept.take
    text = (tmp_path / "kept.toml").read_text()
    assert "kept = 2026-07-14T14:32:05\n" in text.replace(" 14:32", "T14:32")  # a local time, with no offset


# What differs


def test_fields_are_told_apart_as_people_read_them() -> None:
    shot, _ = demo()
    other = changed(shot, place__model="11 ft", focus__stop="T11", scale__ratio=None, build=shot.build[:1])
    found = {one.what: (one.first, one.second) for one in fields_that_differ(shot, other, "imperial")}
    assert found == {
        "scale": ("1:24", "left open"),
        "build list": ("3 parts", "1 part"),
        "model at": ("10 ft", "11 ft"),
        "stop": ("left open", "T11"),
    }


@pytest.mark.parametrize(
    ("change", "first", "second"),
    [
        ({"place__model": "10.0137 ft"}, "10 ft", "10 ft 0 3/16 in"),  # a sixteenth there, as the pane has it
        ({"place__background": "240.02 ft"}, "240 ft", "240 ft 0 1/4 in"),  # alike in whole inches
        ({"place__model": "3048.1 mm"}, "10 ft", "10 ft, 0.0039 in more"),
        ({"place__lens_height": "1523.9 mm"}, "5 ft", "5 ft, 0.0039 in less"),
    ],
)
def test_what_differs_is_told_as_a_pane_has_it_or_as_finely_as_it_takes(
    change: dict[str, object], first: str, second: str
) -> None:
    shot, _ = demo()
    (one,) = fields_that_differ(shot, changed(shot, **change), "imperial")
    assert (one.first, one.second) == (first, second)


def test_a_list_of_the_same_length_that_differs_says_so() -> None:
    shot, _ = demo()
    (one,) = fields_that_differ(shot, changed(shot, build=shot.build[::-1]), "imperial")
    assert (one.first, one.second) == ("3 parts", "3 parts, changed")


def test_the_first_few_words_count_what_they_leave_out() -> None:
    shot, _ = demo()
    other = changed(shot, place__model="11 ft", focus__stop="T11", scale__ratio=None)
    found = fields_that_differ(shot, other, "imperial")
    assert in_few_words(found) == "scale 1:24, model at 10 ft, 1 more"
    assert in_few_words(()) == "nothing"


def test_chief_answers_that_differ_are_the_answers_own() -> None:
    shot, first = demo()
    second = answered(first, changed(shot, place__model="11 ft", focus__stop="T11"))
    found = {one.what: (one.first, one.second) for one in answers_that_differ(first, second)}
    assert found["model at"] == ("10 ft", "11 ft")
    assert found["stop"] == ("T20", "T11")
    assert "rate" not in found
    assert answers_that_differ(first, first) == ()


def test_findings_come_and_go_by_what_they_are_about() -> None:
    shot, first = demo()
    shot = changed(shot, bench=())
    first = answered(first, shot)
    second = answered(first, changed(shot, place__model="12 ft", light__available=None))
    change = findings_changed(first, second)
    assert [finding.code for finding in change.brought if finding.level != "note"] == ["size-mismatch"]
    assert "light-short" in [finding.code for finding in change.gone]
    assert findings_changed(second, second).brought == findings_changed(second, second).gone == ()


# Takes


def test_a_take_says_all_that_was_set() -> None:
    said = takes.what_is_set(demo()[1])
    for part in ("120 fps", "180 deg", "T20", "focus 18 ft 1 5/8 in", "ISO 800", "slide 63 mm", "1:24 model at 10 ft"):
        assert part in said
    assert "no ND" in said


def test_a_take_says_the_filter_that_is_fitted_not_the_one_proposed() -> None:
    shot, found = demo("lock-gate")
    assert found.light.fit_stops == 1
    assert ", no ND," in takes.what_is_set(found)
    assert ", 2 stops (ND 0.6)," in takes.what_is_set(answered(found, changed(shot, light__nd=2)))


def log_of_two() -> tuple[Take, ...]:
    shot, found = demo()
    shot = changed(shot, **takes.logged(shot, found, AT))
    return changed(shot, **takes.logged(shot, found, AT)).take


def unstored(log: tuple[Take, ...]) -> tuple[Take, ...]:
    return tuple(take.model_copy(update={"state": None}) for take in log)


def test_takes_are_numbered_on_from_the_highest() -> None:
    log = log_of_two()
    assert [number for number, _ in takes.numbered(log)] == [1, 2]
    assert [take.good for take in log] == [None, None]
    shot, found = demo()
    third = takes.logged(changed(shot, take=takes.without(unstored(log), 0)), found, AT)["take"]
    assert [number for number, _ in takes.numbered(third)] == [2, 3]


def test_a_take_whose_number_a_file_leaves_out_follows_the_one_before() -> None:
    one, two = log_of_two()
    log = (one.model_copy(update={"number": 7}), two.model_copy(update={"number": None}))
    assert [number for number, _ in takes.numbered(log)] == [7, 8]
    assert [take.number for take in takes.without(log, 0)] == [8]


def test_changing_one_take_leaves_the_others_and_the_numbers() -> None:
    noted = takes.changed(log_of_two(), 1, note="wind", good=False)
    assert [(take.number, take.good, take.note) for take in noted] == [(1, None, ""), (2, False, "wind")]


def test_takes_stand_on_the_sheet_under_their_own_numbers() -> None:
    shot, found = demo()
    log = takes.changed(takes.without(unstored(log_of_two()), 0), 0, good=False, note="gust at the end", weather="haze")
    text = sheet_text(changed(shot, take=log), found)
    (line,) = [line for line in text.splitlines() if "2026-07-14" in line]
    assert line.split()[0] == "2"
    assert " no good " in line
    assert "gust" in text
    assert "weather: haze" in " ".join(text.split())


# Stored states


def test_takes_set_alike_share_a_state_and_another_gets_its_own() -> None:
    shot, found = demo()
    shot = changed(shot, **takes.logged(shot, found, AT))
    shot = changed(shot, **takes.logged(shot, found, AT))
    benched = changed(shot, bench=())
    shot = changed(shot, **takes.logged(benched, found, AT))
    assert [take.state for take in shot.take] == ["take 1"] * 3
    stopped = changed(shot, focus__stop="T11")
    shot = changed(stopped, **takes.logged(stopped, answered(found, stopped), AT))
    assert [take.state for take in shot.take] == ["take 1", "take 1", "take 1", "take 4"]
    assert [state.name for state in shot.state] == ["take 1", "take 4"]
    for part in ("build", "stock", "bench", "survey", "limits"):
        assert not getattr(shot.state[0].setting, part) or part in {"survey", "limits"}


def test_a_state_brings_back_what_was_set_but_not_parts_bench_or_log() -> None:
    shot, found = demo()
    shot = changed(shot, **takes.logged(shot, found, AT))
    later = changed(shot, focus__stop="T11", place__model="11 ft", light__available="900 fc", build=shot.build[:1])
    back = restored(later, later.take[0])
    assert back is not None
    for part in ("kit", "scale", "action", "place", "focus", "light", "move"):
        assert getattr(back, part) == getattr(shot, part)
    assert back.build == later.build
    assert back.bench == later.bench
    assert back.take == later.take
    assert restored(later, later.take[0].model_copy(update={"state": None})) is None


def test_states_are_read_back_from_a_file_and_still_shared(tmp_path: Path) -> None:
    shot, found = demo()
    shot = changed(shot, **takes.logged(shot, found, AT))
    library.save_shot(tmp_path / "kept.toml", shot)
    again = library.load_shot(tmp_path / "kept.toml")
    assert again.state == shot.state
    assert takes.logged(again, answered(found, again), AT)["state"] == shot.state


def test_a_take_that_names_no_stored_state_is_refused_in_one_line(tmp_path: Path) -> None:
    path = tmp_path / "odd.toml"
    body = library.shot_path("kiln-stack").read_text()
    path.write_text(f'{body}\n[[take]]\ntime = 2026-07-14T09:30:00\nset = "120 fps"\nstate = "dawn"\n')
    with pytest.raises(BadInput, match='take 1, state: no stored state is called "dawn"') as fault:
        library.load_shot(path)
    assert len(fault.value.lines) == 1


def test_a_state_that_no_take_names_any_more_goes() -> None:
    shot, found = demo()
    shot = changed(shot, **takes.logged(shot, found, AT))
    assert still_named(shot.state, shot.take) == shot.state
    assert still_named(shot.state, ()) == ()
