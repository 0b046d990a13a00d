"""What a search prints and what is told of a moved rig, and of two shots, is as it was: see `test_pinned.py`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from cases import again
from options_kit import HEAD, KIT, open_shot
from pinned import written
from pinned_shots import WHOLE
from syrupy.assertion import SnapshotAssertion

from forescale.engine.answer.jsonable import jsonable
from forescale.engine.bench.bench_report import stored_text
from forescale.engine.compare.differences import answers_that_differ, changed_by_step, effect, step_words
from forescale.engine.moved.moved import MovedChoice, distances_now, forward_each, work_out
from forescale.engine.moved.to_do import other_ways, price_of_keeping, what_to_do
from forescale.engine.options.option import as_changes
from forescale.engine.options.outcome import find_options
from forescale.engine.options.printed import options_data, options_text
from forescale.engine.options.to_try import Shelves
from forescale.engine.shot.edit import changed
from forescale.engine.shot.records import Shot
from forescale.engine.survey.survey_rows import told_distance, told_height

Table = dict[str, Any]
ROWS = 5
WAYS: dict[str, Table] = {
    "all open": {},
    "little light": {"light.available": "2500 lx", "light.mains": 50, "limits.short_stops": 1},
    "in feet, two things count": {
        **{"limits.order": ["model", "light"], "action.fps": 48, "place.lens_height": "5 ft"},
        **{"limits.frame_min": 0.1, "limits.frame_max": 0.9, "light.iso": 400},
    },
    "all but the kit set": {"scale.ratio": "1:24", "place.model": "2.5 m", "focus.stop": "f/11", "action.heft": 1.3},
    "nothing works": {"limits.build_max": "100 mm"},
    "a pan with the shot's own kit": {
        **{"limits.hold": ["camera", "lens"], "move.axis": "pan", "move.sweep": "12 deg", "kit.head": "head"},
        **{"action.kind": "driven", "limits.ratios": ["1:30"]},
    },
}


@pytest.mark.parametrize("name", WAYS)
def test_a_search_prints_what_it_printed(name: str, snapshot: SnapshotAssertion) -> None:
    shelves = Shelves(KIT.cameras, KIT.lenses, HEAD) if "kit.head" in WAYS[name] else KIT
    found = find_options(open_shot(WAYS[name]), "imperial" if "feet" in name else "metric", shelves)
    weighed = [jsonable(row.option) for row in found.options[:ROWS]]
    numbers = [{key: one for key, one in way.items() if isinstance(one, float)} for way in weighed]
    rows = [*map(written, numbers), *(str(as_changes(row.option)) for row in found.options[:ROWS])]
    told = [{key: one for key, one in way.items() if key != "focus"} for way in options_data(found, 2)["options"]]
    assert "\n".join([options_text(found, ROWS), *rows, *map(written, told)]) == snapshot


# Of each rig the shot, what is taped anew in mm, and whether focus and stop are kept, the model moved, the camera was.
KEPT, SOLVED = (True, True, None), (False, False, None)
MOVED: dict[str, tuple[str, Table, MovedChoice]] = {
    "the kiln's camera, nearer": ("kiln-stack", {"place.model": 2895.6}, MovedChoice(*KEPT, camera_moved=True)),
    "the kiln's model, farther, and darker": (
        "kiln-stack",
        {"place.model": 3200.4, "light.available": 9000},
        MovedChoice(*SOLVED),
    ),
    "the kiln's slide, the lens lower": (
        "kiln-stack",
        {"move.slide": 75, "place.lens_height": 1371.6},
        MovedChoice(*KEPT),
    ),
    "the lock's camera, farther": ("lock-gate", {"place.background": 37500}, MovedChoice(*KEPT, camera_moved=True)),
    "the lock's background": (
        "lock-gate",
        {"place.background": 33000, "light.available": 5000},
        MovedChoice(keep_focus=False, keep_stop=True, move_model=False),
    ),
    "a tilt's model": ("a tilt", {"place.model": 4300}, MovedChoice(*KEPT)),
    "a climbing pan's camera": (
        "a pan to the left that climbs",
        {"place.model": 3962.4},
        MovedChoice(*SOLVED, camera_moved=True),
    ),
    "a bright day": ("signal-lamp", {"light.available": 90_000}, MovedChoice(*KEPT)),
}


@pytest.mark.parametrize("name", MOVED)
def test_a_moved_rig_is_told_what_it_was(name: str, snapshot: SnapshotAssertion) -> None:
    shot, taped, choice = MOVED[name]
    before = WHOLE[shot]()[1]
    moved = work_out(before, taped, choice)

    def told() -> Iterator[str]:
        yield (
            written(jsonable(distances_now(before, taped, choice.camera_moved)))
            + f"; forward {sum(forward_each(before, taped)[:1]):.9g}"
        )
        for step in what_to_do(moved):
            yield f"{step.subject}: {step.before_text} > {step.after_text}; {step.text}; {step.also}"
        yield from other_ways(moved)
        yield price_of_keeping(moved)
        yield f"{moved.model_moves} {moved.hindrance}"
        yield str(moved.after.setting.place)

    assert "\n".join(told()) == snapshot


CHANGED: dict[str, tuple[str, Table]] = {
    "nearer and wider open": ("kiln-stack", {"place.model": "9 ft 6 in", "focus.stop": "T11", "build": ()}),
    "slower and darker": ("lock-gate", {"action.fps": 48, "light.available": "900 lx", "light.nd": 1}),
    "from afar": ("signal-lamp", {"place.background": "inf", "scale.ratio": "1:14", "title": "The lamp"}),
    "turned farther": ("everything", {"move.sweep": "20 deg", "move.slide": "70 mm", "place.feature_height": "9 m"}),
    "pieces gone": ("a track with pieces", {"outline": (), "point": (), "piece": (), "move.travel": "9 mm left"}),
    "without its sun": ("the day, by the sun", {"sun.facing": "200 deg", "sun.sun_seen": None, "notes": "Later."}),
}


@pytest.mark.parametrize("name", CHANGED)
def test_two_shots_differ_in_what_they_differed(name: str, snapshot: SnapshotAssertion) -> None:
    shot, before = WHOLE[CHANGED[name][0]]()
    other = changed(shot, CHANGED[name][1])
    assert isinstance(other, Shot)
    after, steps = again(before, other), changed_by_step(shot, other)

    def told() -> Iterator[str]:
        yield from (f"{one.path} {one.what}: {one.first} > {one.second}" for one in steps)
        yield from (f"{one.what}: {one.first} > {one.second}" for one in answers_that_differ(before, after))
        yield from (f"{one.level or None}: {one.text}" for one in effect(before, after))
        yield from (*step_words("Undone", steps), *step_words("Redone", steps[1:]))
        yield from (told_distance(before, after), told_height(before, after), stored_text(before, after))

    assert "\n".join(told()) == snapshot
