"""`forescale kit check`: whether files hold what they should, one line a fault."""

import argparse
from pathlib import Path
from typing import Any

from forescale.engine.answer import answer_file
from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.files.toml_files import read_toml
from forescale.engine.kit import library
from forescale.engine.kit.gauges import pixel_doubt
from forescale.engine.kit.profiles import Camera
from forescale.engine.sheet.cells import clean
from forescale.tui.cli.command_line import BAD_INPUT, DONE, complain, say
from forescale.tui.config import config_path, load_config

# A key that files of only one shelf have, for a file that stands on none.
TELLING_KEYS: dict[str, library.Shelf] = {"place": "shots", "mode": "cameras", "marks": "lenses", "slide_min": "heads"}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    what = "a file, a folder for every .toml file in it, or a name"
    parser.add_argument("files", metavar="FILE", nargs="+", help=what)


def run(arguments: argparse.Namespace) -> int:
    """Check every file, print those that are right, and complain of the rest."""
    faults: list[Fault] = []
    for word in arguments.files:
        try:
            files = _files(word)
        except BadInput as bad:
            faults.extend(bad.faults)
            continue
        for file in files:
            try:
                say(f"{clean(str(file))}: {clean(_loaded(file))}\n")
            except BadInput as bad:
                faults.extend(bad.faults)
    complain(faults)
    return BAD_INPUT if faults else DONE


def _files(word: str) -> list[Path]:
    """Return the file that is meant, those in the folder that is meant, or those that a name stands for."""
    path = Path(word)
    if path.is_dir():
        if found := sorted(file for file in path.rglob("*.toml") if file.is_file()):
            return found
        raise BadInput(Fault("there is no .toml file in it", file=str(path)))
    named = [entries[word].path for entries in map(library.shelf_files, library.ONE_OF) if word in entries]
    return named if named and not path.exists() else [path]


def _loaded(path: Path) -> str:
    """Return what a file is, once it has been read, and whether it is right; raises BadInput with its faults."""
    if path.absolute() == config_path().absolute():
        load_config()
        return "your settings, and right"
    shelf, doubts = _shelf(path, read_toml(path)), ""
    if shelf == "shots":
        answer_file(path)
    else:
        profile = library.load_profile(library.PROFILES[shelf], path)
        if isinstance(profile, Camera):
            doubts = "; ".join(filter(None, map(pixel_doubt, profile.mode)))
    shipped = library.SHIPPED / shelf / path.name
    hides = shipped.is_file() and path.resolve() != shipped
    what = f"a {library.ONE_OF[shelf]}{' that hides the built-in one' if hides else ''}"
    return f"{what}, though {doubts}" if doubts else f"{what}, and right"


def _shelf(path: Path, data: dict[str, Any]) -> library.Shelf:
    """Return the shelf that a file stands on, or the one whose files hold what it holds."""
    standing_on = [shelf for shelf in library.ONE_OF if path.absolute().parent.name == shelf]
    if told := standing_on or [shelf for key, shelf in TELLING_KEYS.items() if key in data]:
        return told[0]
    right = f"put it in a folder called {', '.join(library.ONE_OF)}"
    raise BadInput(Fault("is no camera, lens, head or shot by what it holds", right, file=str(path)))
