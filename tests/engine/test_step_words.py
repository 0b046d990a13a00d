"""Undo and redo in words: the field by its label, both its values, and how many changes more."""

from __future__ import annotations

from datetime import datetime

from forescale.engine.answer import answer
from forescale.engine.compare.differences import changed_by_step, step_words
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot
from forescale.engine.states import takes


def demo() -> Shot:
    return library.load_shot(library.shot_path("kiln-stack"))


def changed(shot: Shot, **values: object) -> Shot:
    made = edit.changed(shot, {name.replace("__", "."): value for name, value in values.items()})
    assert isinstance(made, Shot)
    return made


def said(before: Shot, after: Shot) -> tuple[str, ...]:
    return step_words("Undone", changed_by_step(before, after))


def test_a_field_is_called_by_its_label_with_both_its_values() -> None:
    shot = demo()
    other = changed(shot, place__feature_height="18 ft")
    assert said(other, shot) == ("Undone: tie-in height 20 ft again, was 18 ft", "Undone: tie-in height 20 ft again")
    words = step_words("Redone", changed_by_step(shot, other))
    assert words == ("Redone: tie-in height 18 ft, was 20 ft", "Redone: tie-in height 18 ft")


def test_values_that_look_alike_are_told_exactly_and_are_no_list() -> None:
    shot = demo()
    assert said(changed(shot, place__model="3048.1 mm"), shot)[0].count("again, was") == 1
    assert said(shot, changed(shot, place__model="10 ft 6 in"))[0] == "Undone: model at 10 ft 6 in again, was 10 ft"


def test_of_several_fields_the_first_is_named_and_the_others_counted() -> None:
    shot = demo()
    other = changed(shot, place__model="11 ft", place__background="250 ft", move__slide="60 mm")
    full, brief = said(other, shot)
    assert full == "Undone: model at 10 ft again, was 11 ft, and 2 more"
    assert brief == "Undone: model at 10 ft again, and 2 more"


def test_a_field_given_to_the_program_is_left_open_again() -> None:
    shot = demo()
    assert said(shot, changed(shot, scale__ratio=None))[0] == "Undone: scale left open again, was 1:24"


def test_lists_are_counted_and_a_list_of_as_many_rows_was_changed() -> None:
    shot = demo()
    assert said(changed(shot, build=()), shot)[0].startswith("Undone: build list ")
    assert said(changed(shot, build=shot.build[::-1]), shot) == ("Undone: a change of the build list",)


def test_what_the_file_holds_beside_the_fields_is_told_too() -> None:
    shot = demo()
    found = answer(shot, load_kit(shot.kit), shot.units)
    one = changed(shot, **takes.logged(shot, found, datetime(2026, 7, 14, 9, 30)))
    assert said(one, shot)[0] == "Undone: a take is gone"
    assert said(changed(one, take=takes.changed(one.take, 0, good=True)), one) == ("Undone: a change of the takes",)
    assert said(changed(shot, title="Other"), shot)[0] == "Undone: title The kiln stack falls again, was Other"
    assert said(changed(shot, notes="Other"), shot) == ("Undone: a change of the notes",)
    assert said(changed(shot, units="metric"), shot)[0] == "Undone: units imperial again, was metric"


def test_a_bench_that_noted_where_it_was_read_is_no_change_beside_another() -> None:
    shot = demo()
    assert shot.bench
    noted = tuple(row.model_copy(update={"model": 3048.0}) for row in shot.bench)
    assert said(changed(shot, bench=noted, place__model="11 ft"), shot)[0] == "Undone: model at 10 ft again, was 11 ft"
    assert said(changed(shot, bench=noted), shot) == ("Undone: a change of the bench",)


def test_of_no_difference_only_the_step_is_said() -> None:
    assert said(demo(), demo()) == ("Undone",)
