"""`forescale sheet`: one shot on paper. Starts no screen."""

import argparse
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import cast

from forescale.engine.answer import Answer, answer_file
from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import write_text
from forescale.engine.kit import library
from forescale.engine.mends import joined
from forescale.engine.shot.records import Shot
from forescale.tui.cli.command_line import DONE, STOPPED, complain, say, say_exactly

STANDARD_OUTPUT = "-"
SHEET = "forescale.engine.sheet"
# What each option writes: where the form is made, and what it is.
PAPERS: dict[str, tuple[str, str, str]] = {
    "svg": ("drawing.page", "sheet_svg", "the shot from above and from the side, to scale, as SVG"),
    "html": ("page", "sheet_html", "the sheet with the drawing as a page to print"),
    "templates": ("templates.pages", "sheet_templates", "templates at true size, to print"),
    "csv": ("data", "build_csv", "the build list as CSV"),
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("shot", metavar="SHOT", help="a shot file, or the name of a saved or built-in shot")
    parser.add_argument("--json", action="store_true", help="print every number as JSON: mm, s, degrees, lux")
    parser.add_argument("--units", choices=("metric", "imperial"), help="show these units and not the shot's own")
    for option, (_, _, what) in PAPERS.items():
        parser.add_argument(f"--{option}", metavar="FILE", help=f"write {what}; - is standard output")
    parser.epilog = (
        "exit codes: 0 done; 1 answered, but a finding says that it cannot work as set; 2 bad input.\n"
        "With a FILE asked for and no --json, nothing else is printed."
    )


def run(arguments: argparse.Namespace) -> int:
    """Print or write the sheet; everything is worked out before anything is written."""
    targets = {option: target for option in PAPERS if (target := getattr(arguments, option)) is not None}
    _check(targets, arguments.json)
    shot, answer = answer_file(library.shot_path(arguments.shot), arguments.units)
    texts, printed = {option: _made(*PAPERS[option][:2], shot, answer) for option in targets}, None
    if arguments.json or not targets:
        printed = _made(*(("data", "sheet_json") if arguments.json else ("text", "sheet_text")), shot, answer)
    for option, target in targets.items():
        if target != STANDARD_OUTPUT:
            write_text(Path(target), texts[option], devices=True)
    if printed is not None:
        say(printed)
    for option, target in targets.items():
        if target == STANDARD_OUTPUT:
            say_exactly(texts[option])
    if printed is None:
        stops = (finding for finding in answer.findings if finding.level == "stop")
        complain([f"{arguments.shot}: {joined(answer, finding)}" for finding in stops])
    return STOPPED if answer.stopped else DONE


def _check(targets: dict[str, str], as_json: bool) -> None:
    wanted = [*targets.values(), *([STANDARD_OUTPUT] if as_json else [])]
    for place in wanted:
        if wanted.count(place) > 1:
            where = "standard output" if place == STANDARD_OUTPUT else place
            raise BadInput(f"{where}: two things cannot be written to one place; give each a file of its own")
    if "" in wanted:
        raise BadInput("a file's name is empty; write - for standard output")


def _made(module: str, function: str, shot: Shot, answer: Answer) -> str:
    make = cast(Callable[[Shot, Answer], str], getattr(import_module(f"{SHEET}.{module}"), function))
    return make(shot, answer)
