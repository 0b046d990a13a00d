"""Faults as a screen says them: labels for the names of fields, files' own lines as they are."""

from __future__ import annotations

import re
from typing import Any

import pytest
from cases import shot

from forescale.engine.field_help import in_words
from forescale.engine.files.faults import At, BadInput, Fault, sentence
from forescale.engine.shot.edit import changed

SAID = [
    (
        Fault(sentence(At("place.background_far"), " is nearer than the background"), path=("place",)),
        "farthest part is nearer than the background",
        "place: background_far is nearer than the background",
    ),
    (
        Fault.at("place.model", "is missing and is needed"),
        "model at: is missing and is needed",
        "place.model: is missing and is needed",
    ),
    (
        Fault("130 mm is off the slide", path=("bench", 4, "slide")),
        "bench 4, slide at: 130 mm is off the slide",
        "bench 4.slide: 130 mm is off the slide",
    ),
    (
        Fault('no lens is called "x"', "write y", ("kit", "lens"), of='mark "noon"'),
        'mark "noon": lens: no lens is called "x"; write y',
        'mark "noon": kit.lens: no lens is called "x"; write y',
    ),
    (
        Fault.at("move", "the sweep must be less than 80°"),
        "the sweep must be less than 80°",
        "move: the sweep must be less than 80°",
    ),
    (
        Fault.at("close_focus", "is missing", file="/home/lenses/a.toml").under("kit.lens", ""),
        "lens: /home/lenses/a.toml: close_focus: is missing",
        "kit.lens: /home/lenses/a.toml: close_focus: is missing",
    ),
    (
        Fault.at("place", sentence(At("place.model_near"), " lies beyond the model"), file="a-shot.toml"),
        "a-shot.toml: place: model_near lies beyond the model",
        "a-shot.toml: place: model_near lies beyond the model",
    ),
    (
        Fault('"5 cubits": "cubits" is not a unit'),
        '"5 cubits": "cubits" is not a unit',
        '"5 cubits": "cubits" is not a unit',
    ),
]


@pytest.mark.parametrize(("fault", "on_screen", "in_file"), SAID)
def test_a_field_is_called_by_its_label_but_in_a_files_own_line(fault: Fault, on_screen: str, in_file: str) -> None:
    assert (in_words(fault), str(fault)) == (on_screen, in_file)


def test_a_readers_fault_tells_apart_what_is_wrong_and_what_were_right() -> None:
    with pytest.raises(BadInput) as refused:
        changed(shot({}), {"place.model": "300 m"})
    (fault,) = refused.value.faults
    assert (str(fault.wrong), fault.right) == ("place.background is nearer than the model", "it must stand behind it")


@pytest.mark.parametrize(
    "changes",
    [
        {"place.model": "300 m"},
        {"place.model_near": "50 m"},
        {"place.model": None, "place.model_near": "300 m"},
        {"place.background_far": "5 m"},
        {"place.background": None},
        {"action.kind": "junk"},
        {"light.iso": -1},
        {"limits.frame_min": 0.5, "limits.frame_max": 0.2},
        {"move.slide": 5},
    ],
)
def test_no_fault_of_a_shot_leaves_a_name_of_a_file_on_the_screen(changes: dict[str, Any]) -> None:
    with pytest.raises(BadInput) as refused:
        changed(shot({}), changes)
    for line in refused.value.faults:
        assert not re.search(r"[a-z]_[a-z]|[a-z]\.[a-z]|^place: ", in_words(line))
