"""Faults as a screen says them: labels for the names of fields, files' own lines as they are."""

from __future__ import annotations

import re
from typing import Any

import pytest
from cases import shot

from forescale.engine.field_help.fault_words import in_words
from forescale.engine.files.faults import BadInput
from forescale.engine.shot.edit import changed

SAID = [
    ("shot: place: background_far is nearer than the background", "far side is nearer than the background"),
    ("place: model_near lies beyond the model", "nearest part lies beyond the model"),
    ("place.model: is missing and is needed", "model at: is missing and is needed"),
    ("shot: bench 4.slide: 130 mm is off the slide", "bench 4, slide at: 130 mm is off the slide"),
    ("limits: frame_min is above frame_max", "fill at least is above fill at most"),
    ('mark "noon": kit.lens: no lens is called "x"', 'mark "noon": lens: no lens is called "x"'),
    ("action.kind: 'junk' is not known", "action: 'junk' is not known"),
    ("move: the sweep must be less than 80°", "the sweep must be less than 80°"),
    ("kit.lens: /home/lenses/a.toml: close_focus: is missing", "lens: /home/lenses/a.toml: close_focus: is missing"),
    ("a-shot.toml: place: model_near lies beyond the model", "a-shot.toml: place: model_near lies beyond the model"),
    ("/home/b.toml: place.model: is missing", "/home/b.toml: place.model: is missing"),
    ('"5 furlongs": "furlongs" is not a unit', '"5 furlongs": "furlongs" is not a unit'),
]


@pytest.mark.parametrize(("line", "said"), SAID)
def test_a_field_is_called_by_its_label_but_in_a_files_own_line(line: str, said: str) -> None:
    assert in_words(line) == said


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
