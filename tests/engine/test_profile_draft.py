"""A profile under work: undo, saving whole, renaming, clashes with another's change, and what is kept after a crash."""

from __future__ import annotations

import pytest

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library, unsaved
from forescale.engine.kit.profiles import Lens
from forescale.engine.shelf import profile_draft
from forescale.engine.shelf.kit_shelf import refuse_breaking, saved_users, users
from forescale.engine.shelf.profile_draft import (
    ChangedElsewhere,
    Draft,
    digest,
    free_name,
    open_draft,
    own_path,
)
from forescale.engine.shelf.profile_edit import copied, new
from forescale.tui.session import open_session

SHELF: library.Shelf = "lenses"


def lens(name: str = "mine", title: str = "") -> Lens:
    """Return a lens of one's own."""
    made = new(SHELF, name)
    assert isinstance(made, Lens)
    return made.model_copy(update={"title": title})


def saved(name: str = "mine") -> Draft:
    """Return a draft whose profile is on the shelf."""
    draft = Draft(SHELF, lens(name))
    draft.save()
    return draft


def test_a_draft_is_saved_whole_and_opens_as_it_was():
    draft = saved()
    assert not draft.unsaved
    again, said = open_draft(SHELF, "mine")
    assert (again.present, again.found, said) == (draft.present, digest(own_path(SHELF, "mine")), "")


def test_changes_are_undone_and_redone_and_a_new_one_ends_what_was_undone():
    draft = saved()
    draft.change(lens(title="a"))
    draft.change(lens(title="b"))
    draft.change(lens(title="b"))
    assert draft.undo()
    assert draft.present.title == "a"
    assert draft.redo()
    assert draft.undo()
    draft.change(lens(title="c"))
    assert not draft.redo()
    assert draft.undo()
    assert draft.undo()
    assert not draft.undo()
    assert not draft.unsaved


def test_a_file_changed_elsewhere_is_not_written_over_unless_that_is_said():
    draft = saved()
    other, _ = open_draft(SHELF, "mine")
    other.change(lens(title="theirs"))
    other.save()
    draft.change(lens(title="mine"))
    with pytest.raises(ChangedElsewhere):
        draft.save()
    assert library.lens("mine").title == "theirs"
    draft.save(over=True)
    assert library.lens("mine").title == "mine"


def test_a_file_taken_away_elsewhere_is_a_clash_too():
    draft = saved()
    own_path(SHELF, "mine").unlink()
    draft.change(lens(title="mine"))
    with pytest.raises(ChangedElsewhere):
        draft.save()


def test_a_file_that_has_come_meanwhile_is_not_written_over():
    draft = Draft(SHELF, lens())
    saved()
    draft.change(lens(title="second"))
    with pytest.raises(ChangedElsewhere):
        draft.save()
    assert library.lens("mine").title == ""


def test_reloading_takes_the_others_work_and_undo_brings_ones_own_back():
    draft = saved()
    other, _ = open_draft(SHELF, "mine")
    other.change(lens(title="theirs"))
    other.save()
    draft.change(lens(title="mine"))
    draft.reload()
    assert (draft.present.title, draft.unsaved) == ("theirs", False)
    draft.undo()
    assert draft.present.title == "mine"
    draft.save()
    assert library.lens("mine").title == "mine"


def test_renaming_takes_the_old_file_away_and_saving_as_leaves_it():
    draft = saved()
    draft.change(copied(draft.present, "renamed"))
    draft.save()
    assert set(library.shelf_files(SHELF)) - {path.stem for path in (library.SHIPPED / SHELF).glob("*")} == {"renamed"}
    draft.change(draft.present.model_copy(update={"title": "second"}))
    draft.save_as("another")
    assert (library.lens("renamed").title, library.lens("another").title) == ("", "second")
    assert not draft.unsaved


def test_unsaved_work_is_kept_and_comes_back_with_undo_to_the_file():
    draft = saved()
    draft.change(lens(title="half done"))
    draft.keep()
    assert unsaved.kept_in(SHELF) == {"mine"}
    again, said = open_draft(SHELF, "mine")
    assert again.present.title == "half done"
    assert "brought back" in said
    again.undo()
    again.keep()
    assert unsaved.kept_in(SHELF) == frozenset()


def test_kept_work_still_knows_which_file_it_began_from():
    draft = saved()
    draft.change(lens(title="half done"))
    draft.keep()
    other = Draft(SHELF, lens(title="theirs"))
    other.save(over=True)
    draft.keep()
    again, _ = open_draft(SHELF, "mine")
    with pytest.raises(ChangedElsewhere):
        again.save()


def test_kept_work_follows_a_new_name_and_goes_when_it_is_saved():
    draft = Draft(SHELF, lens("first"))
    draft.keep()
    draft.change(copied(draft.present, "second"))
    draft.keep()
    assert unsaved.kept_in(SHELF) == {"second"}
    draft.save()
    assert unsaved.kept_in(SHELF) == frozenset()


def test_a_name_must_be_free():
    saved()
    draft = Draft(SHELF, lens("kept"))
    draft.keep()
    for taken in ("mine", "kept"):
        with pytest.raises(BadInput, match="one of yours already"):
            free_name(SHELF, taken)
    for wrong in ("", " ", "/", "..."):
        with pytest.raises(BadInput, match="a name is needed, such as field-35"):
            free_name(SHELF, wrong)
    for typed, made in (("My cam", "my-cam"), ("a/b", "a-b"), ("../../x", "x"), ("Cam_2.b", "Cam_2.b")):
        assert free_name(SHELF, typed) == made
    assert free_name(SHELF, " demo-prime-35 ") == "demo-prime-35"


def test_a_profile_is_deleted_with_the_work_kept_on_it():
    draft = saved()
    draft.change(lens(title="half done"))
    draft.keep()
    profile_draft.delete(SHELF, "mine")
    assert "mine" not in library.shelf_files(SHELF)
    assert unsaved.kept_in(SHELF) == frozenset()


def test_users_are_the_shot_and_its_marks_and_the_saved_shots():
    session = open_session(library.shot_path("kiln-stack"))
    assert users(session.state.shot, SHELF, "demo-prime-35") == ("this shot",)
    assert users(session.state.shot, SHELF, "mine") == ()
    assert saved_users(SHELF, "demo-prime-35") == ("kiln-stack", "signal-lamp")


def test_a_profile_in_use_keeps_its_name_and_one_that_is_not_is_free():
    state = open_session(library.shot_path("kiln-stack")).state
    renamed = copied(state.kit.lens, "renamed")
    with pytest.raises(BadInput, match="its name must stay"):
        refuse_breaking(state.shot, state.kit, SHELF, "demo-prime-35", renamed)
    refuse_breaking(state.shot, state.kit, SHELF, "demo-prime-75", renamed)


def test_work_that_was_brought_back_is_saved_over_the_file_it_began_from():
    draft = saved()
    draft.change(lens(title="half done"))
    draft.keep()
    again, _ = open_draft(SHELF, "mine")
    again.save()
    assert library.lens("mine").title == "half done"
