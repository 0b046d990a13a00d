"""Comments in a file that a person wrote stay when the program saves it."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.files.comments import with_comments
from forescale.engine.files.toml_files import read_toml, write_toml
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Lens
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot

WRITTEN = """\
# Night two, the yard.
schema = 1
title = "The kiln stack falls"
units = "imperial"

[kit]
camera = "demo-cine-35"   # hired
mode = "2K centre crop"
lens = "demo-prime-35"

[[build]]                 # full size
part = "stack"
real = "60' 0\\""          # paced out

[[build]]
part = "lip"
real = "2 ft"

[action]
kind = "falling"

[place]
# taped twice
model = "10' 0\\""         # to the plumb line
background = "240 ft"

[focus]
stop = "auto"             # or T16
"""

FIRST_LINES = 'schema = 1\ntitle = "Rows"\n'
KIT_AND_PLACE = """
[kit]
camera = "demo-cine-35"
mode = "2K centre crop"
lens = "demo-prime-35"

[place]
background = "240 ft"
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "night.toml"
    path.write_text(WRITTEN, encoding="utf-8")
    return path


def saved(file: Path, changes: dict[str, Any]) -> str:
    """Change the shot in a file, save it there, and return what the file then holds."""
    shot = edit.changed(library.load_shot(file), changes)
    assert isinstance(shot, Shot)
    library.save_shot(file, shot)
    assert library.load_shot(file) == shot
    return file.read_text(encoding="utf-8")


def test_what_is_saved_unchanged_stays_letter_by_letter(file: Path) -> None:
    assert saved(file, {}) == WRITTEN


def test_a_changed_value_keeps_its_comment_and_the_rest_its_words(file: Path) -> None:
    text = saved(file, {"place.model": "11 ft"})
    assert text == WRITTEN.replace('model = "10\' 0\\""', 'model = "11 ft"')


def test_what_the_file_says_outright_stays_where_it_is_what_is_usual(file: Path) -> None:
    assert 'stop = "T16"             # or T16' in saved(file, {"focus.stop": "T16"})
    assert "[focus]" not in saved(file, {"focus.stop": None})  # set by then, and so taken out


def test_rows_that_stay_keep_theirs_when_another_comes_or_goes(file: Path) -> None:
    parts = library.load_shot(file).build
    more = saved(file, {"build": (*parts, parts[1].model_copy(update={"part": "cap # 2"}))})
    assert "# paced out" in more
    assert 'part = "cap # 2"' in more
    fewer = saved(file, {"build": parts[:1]})
    assert "# paced out" in fewer
    assert "lip" not in fewer


ROWS = """
# the tall one
[[build]]
part = "stack"
real = "60 ft"   # paced out

# the low one
[[build]]
part = "lip"
real = "2 ft"    # by eye
# the last
[[build]]
part = "cap"
real = "3 ft"
"""
IN_LINE = """
build = [
    {part = "stack", real = "60 ft"},   # paced out
    {part = "lip", real = "2 ft"},      # by eye
    {part = "cap", real = "3 ft"},      # off a drawing
]
"""


@pytest.mark.parametrize("left", [(1, 2), (0, 2), (0, 1), (2,), (1, 0, 2), (2, 1, 0), (1,)])
def test_a_row_goes_or_moves_with_its_comments_and_no_other_takes_them(file: Path, left: tuple[int, ...]) -> None:
    file.write_text(FIRST_LINES + ROWS + KIT_AND_PLACE)
    parts = library.load_shot(file).build
    text = saved(file, {"build": tuple(parts[place] for place in left)})
    above, beside = ("# the tall one", "# the low one", "# the last"), ("# paced out", "# by eye", "")
    for place, part in enumerate(("stack", "lip", "cap")):
        assert (above[place] in text) == (place in left)
        row = f'{above[place]}\n[[build]]\npart = "{part}"\n'
        assert (row in text) == (place in left)
        assert (beside[place] in text) == (place in left or not beside[place])


@pytest.mark.parametrize("left", [(1, 2), (0, 2), (0, 1), (2,)])
def test_a_row_in_one_line_goes_with_the_comment_beside_it(file: Path, left: tuple[int, ...]) -> None:
    file.write_text(FIRST_LINES + IN_LINE + KIT_AND_PLACE)
    parts = library.load_shot(file).build
    beside = ("# paced out", "# by eye", "# off a drawing")
    text = saved(file, {"build": tuple(parts[place] for place in left)})
    assert [beside[place] in text for place in range(3)] == [place in left for place in range(3)]


@pytest.mark.parametrize("rows", [ROWS, IN_LINE])
def test_a_row_that_is_changed_or_new_takes_no_comment_of_another(file: Path, rows: str) -> None:
    file.write_text(FIRST_LINES + rows + KIT_AND_PLACE)
    first, *others = library.load_shot(file).build
    new = first.model_copy(update={"part": "new"})
    for build in ((new, *others), (new, first, *others), (first, new, *others)):
        file.write_text(FIRST_LINES + rows + KIT_AND_PLACE)
        row = next(row for row in saved(file, {"build": build}).split("part = ") if row.startswith('"new"'))
        assert ("# paced out" in row) == (first not in build)
        assert "# by eye" not in row.partition("\n")[0]


def test_what_stands_in_a_list_keeps_its_comment_too(file: Path) -> None:
    tries = '[limits]\nratios = [\n  "1:12",   # as last year\n  "1:20",   # what the shop has\n]\n'
    file.write_text(FIRST_LINES + KIT_AND_PLACE + tries)
    text = saved(file, {"limits.ratios": ["1:20", "1:32"]})
    assert '"1:20",   # what the shop has\n' in text
    assert "last year" not in text


def test_a_new_section_finds_its_place(file: Path) -> None:
    text = saved(file, {"light.iso": 400, "move.axis": "pan", "notes": "wet"})
    assert text.startswith("# Night two, the yard.\n")
    assert "# taped twice" in text


def test_a_mark_that_an_editor_puts_before_the_text_is_passed_over(file: Path) -> None:
    file.write_text(WRITTEN, encoding="utf-8-sig")
    assert saved(file, {}) == WRITTEN


def test_a_profile_and_a_configuration_keep_theirs_too(home: Path) -> None:
    shipped = library.load_profile(Lens, library.shelf_file("lenses", "demo-prime-35").path)
    path = library.save_profile("lenses", shipped)
    path.write_text("# my own\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    library.save_profile("lenses", shipped.model_copy(update={"notes": "scratched"}))
    assert path.read_text(encoding="utf-8").startswith("# my own\n")
    assert library.load_profile(Lens, path).notes == "scratched"
    config = home / "config.toml"
    config.write_text('theme = "indoors"  # for now\n', encoding="utf-8")
    write_toml(config, read_toml(config) | {"theme": "daylight"})
    assert config.read_text(encoding="utf-8") == 'theme = "daylight"  # for now\n'


@pytest.mark.parametrize("broken", ["# not TOML\n= 3", '# no shot\nschema = 1\ntitle = "x"\nwrong = 3\n'])
def test_a_file_that_cannot_be_read_is_written_anew(file: Path, broken: str) -> None:
    shot = library.load_shot(file)
    file.write_text(broken, encoding="utf-8")
    library.save_shot(file, shot)
    assert library.load_shot(file) == shot


changes = st.fixed_dictionaries(
    {},
    optional={
        "place.model": st.none() | st.floats(2000, 5000).map(lambda mm: f"{mm!r} mm"),
        "scale.ratio": st.none() | st.sampled_from(["1:12", "1:48"]),
        "units": st.sampled_from(["imperial", "metric"]),
        "title": st.text("ab #\"'\\[]=", min_size=1, max_size=8).filter(str.strip),
        "notes": st.text("ab #\"'\\\n[]=", max_size=8),
        "action.kind": st.sampled_from(["still", "water"]),
        "action.fps": st.none() | st.sampled_from([48, 96]),
        "focus.stop": st.none() | st.just("T8"),
        "kit.head": st.none() | st.just("demo-slide-head"),
        "light.iso": st.none() | st.just(400),
        "build": st.lists(st.sampled_from("abc").map(lambda name: {"part": name, "real": "2 ft"}), max_size=4).map(
            tuple
        ),
    },
)


@given(st.lists(changes, min_size=1, max_size=4))
def test_whatever_is_saved_over_a_commented_file_reads_back_as_it_was(steps: list[dict[str, Any]]) -> None:
    text = WRITTEN
    shot: Any = Shot.read(tomllib.loads(WRITTEN), "written")
    for step in steps:
        shot = edit.changed(shot, step)
        new = tomli_w.dumps(shot.dump())
        text = with_comments(text, new, lambda held: Shot.read(held, "held").dump()) or new
        assert Shot.read(tomllib.loads(text), "text") == shot
    assert text.startswith("# Night two, the yard.")
