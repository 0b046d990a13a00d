"""The keys of tasks: a letter means one thing in all of them, in the one table that footers, help and lists read."""

from __future__ import annotations

from textual.binding import Binding

from forescale.tui.keys import NO_KEY, USABLE
from forescale.tui.tasks.frame.task_screen import TaskScreen
from forescale.tui.tasks.frame.verbs import VERBS
from tests.tui.test_task_help import screens

# The same in each task by its frame.
AND_NO_TASK = {"escape", "f1,question_mark", "space,f2", "slash", "f3", "f4", "enter", "left", "right"}


def test_no_two_verbs_have_one_key_and_each_can_be_typed_anywhere() -> None:
    keys = [verb.key for verb in VERBS.values()]
    assert len(set(keys)) == len(keys)
    assert len({verb.action for verb in VERBS.values()}) == len(keys)
    assert all(USABLE.fullmatch(key) for key in keys)


def test_a_letter_means_the_same_in_every_task_that_has_it() -> None:
    meant = {verb.key: verb.action for verb in VERBS.values()}
    used = set()
    for kind in screens():
        for binding in kind.BINDINGS:
            assert isinstance(binding, Binding)
            if binding.key in AND_NO_TASK or binding.key == NO_KEY:
                continue
            assert binding.action == meant[binding.key], (kind, binding.key, binding.action)
            assert callable(getattr(kind, f"action_{binding.action.partition('(')[0]}", None)), (kind, binding.action)
            assert binding.tooltip
            used.add(binding.key)
    assert used == set(meant)  # none is kept for nothing


def test_what_has_no_letter_can_be_done_from_the_list() -> None:
    for kind in screens():
        for binding in kind.BINDINGS:
            if isinstance(binding, Binding) and binding.key == NO_KEY:
                assert callable(getattr(kind, f"action_{binding.action.partition('(')[0]}", None)), (
                    kind,
                    binding.action,
                )
                assert binding.tooltip


def test_every_task_has_the_keys_of_the_frame() -> None:
    assert {binding.key for binding in TaskScreen.BINDINGS if isinstance(binding, Binding)} == AND_NO_TASK - {"enter"}
