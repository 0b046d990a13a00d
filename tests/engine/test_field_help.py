"""Every field of a shot has help, and the range that it tells is the one that the field keeps."""

from __future__ import annotations

import pytest
from pydantic import BaseModel
from workings_cases import types_in

from forescale.engine.answer import answer_file
from forescale.engine.answer.in_force import in_force, number_at
from forescale.engine.answer.natural_step import stepped
from forescale.engine.field_help import FIELD_HELP, range_of
from forescale.engine.fields.kinds import Sharpness
from forescale.engine.kit.library import shot_path
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.units import EntryError, UnitSystem
from forescale.engine.workings import WORKINGS


def leaves(record: type[BaseModel], start: str = "") -> set[str]:
    """Return the paths of all fields of a record that hold a value and no further record."""
    found = set()
    for name, field in record.model_fields.items():
        inner = [kind for kind in types_in(field.annotation) if isinstance(kind, type) and issubclass(kind, BaseModel)]
        found |= leaves(inner[0], f"{start}{name}.") if inner else {f"{start}{name}"}
    return found


def test_every_field_of_a_shot_has_help_and_no_other() -> None:
    assert set(FIELD_HELP) == leaves(Setting)


def test_help_is_whole_and_labels_fit_a_pane() -> None:
    labels = [field.label for field in FIELD_HELP.values()]
    assert len(set(labels)) == len(labels)
    for path, field in FIELD_HELP.items():
        assert 0 < len(field.label) <= 13, path
        for text in (field.what, field.enters, field.measure):
            assert text.strip().endswith("."), (path, text)


def test_the_trades_word_for_the_pupil_stands_once_and_is_put_right() -> None:
    texts: list[tuple[object, ...]] = list(FIELD_HELP.values())
    texts += [(working.name, working.meaning, working.formula, working.source) for working in WORKINGS.values()]
    joined = "\n".join("\n".join(map(str, text)) for text in texts)
    assert joined.casefold().count("nodal") == 1
    assert "nodal point" in FIELD_HELP["kit.head"].enters
    assert "entrance pupil is the right one" in FIELD_HELP["kit.head"].enters


@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_ranges_are_those_that_the_fields_keep(system: UnitSystem) -> None:
    for path in FIELD_HELP:
        assert range_of(path, system).strip()
        quantity = edit.quantity_of(Setting, path)
        if quantity is not None:
            assert range_of(path, system) == quantity.range_text(system)
    far = {"metric": "10 mm to 100 km or inf", "imperial": "3/8 in to 62 mi or inf"}
    assert range_of("place.background", system) == far[system]
    assert range_of("action.kind", system) == "one of still, driven, falling, water, smoke, fire"
    assert range_of("build.quantity", system) == "1 to 100000"


def test_the_range_of_sharpness_is_the_one_it_keeps() -> None:
    *parts, measured = range_of("focus.sharpness", "metric").split(", ")
    assert len(parts) == 3
    assert str(Sharpness.read(measured.removeprefix("or "))) == "measured"
    for part in parts:
        for end in part.split(" to "):
            Sharpness.read(end.strip())
    for past in ("diagonal/99", "diagonal/20001", "0.0004 mm", "1.1 mm", "0.2 px", "101 px"):
        with pytest.raises(ValueError, match="out of range"):
            Sharpness.read(past)


def test_what_stands_in_for_a_field_is_a_number_of_the_answer() -> None:
    answer = answer_file(shot_path("signal-lamp"))[1]
    for path, field in FIELD_HELP.items():
        if key := field.chosen or field.follows:
            assert number_at(key, answer) is not None, path
            assert in_force(path, answer) is not None, path


ROWS = {"build", "stock", "bench", "survey", "point", "outline", "piece", "miss", "witness", "lamp", "cue"}


@pytest.mark.parametrize("system", ["imperial", "metric"])
@pytest.mark.parametrize("large", [False, True])
def test_a_step_up_goes_up_and_reads_as_a_file_does(system: UnitSystem, large: bool) -> None:
    answer = answer_file(shot_path("kiln-stack"), system)[1]
    for path in FIELD_HELP:
        section = path.partition(".")[0]
        if section in ROWS or not isinstance(in_force(path, answer), float):
            continue
        held, quantity = stepped(answer, path, +1, large=large), edit.quantity_of(Setting, path)
        assert quantity is not None
        assert quantity.read(held) >= in_force(path, answer), path


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_what_is_no_value_is_answered_by_examples_that_the_field_takes(system: UnitSystem) -> None:
    for path in FIELD_HELP:
        quantity = edit.quantity_of(Setting, path)
        if quantity is None or quantity.kind == "filter":
            continue
        for nonsense in ("abc", "5 quux"):
            with pytest.raises(EntryError) as refusal:
                edit.complete(quantity, nonsense, system)
            assert refusal.value.right.startswith("write it like "), path
            like, _, _ = refusal.value.right.removeprefix("write it like ").partition("; ")
            for example in like.replace(" or ", ", ").split(", "):
                assert edit.complete(quantity, example.strip('"'), system), (path, example)


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_a_number_alone_is_read_in_the_unit_that_is_told(system: UnitSystem) -> None:
    units = {path: edit.alone_means(edit.quantity_of(Setting, path), system) for path in FIELD_HELP}
    sided = {"sun.latitude", "sun.longitude", "sun.declination", "sun.sun_seen", "point.aside", "witness.aside"}
    for path, unit in units.items():
        quantity = edit.quantity_of(Setting, path)
        if quantity is not None and unit not in {"", "stops"} and path not in sided:
            one = next(one for one in ("1", "0.5", "200") if quantity.low <= quantity.parse(one, unit) <= quantity.high)
            assert edit.complete(quantity, one, system) == edit.complete(quantity, f"{one} {unit}", system), path
    assert (units["stand.pull"], units["scale.kerf"]) == (("N", "mm") if system == "metric" else ("lbf", "in"))
    assert (units["light.nd"], units["scale.ratio"], units["kit.focal_length"]) == ("stops", "", "mm")
