"""`forescale sheet`: one shot on paper. Starts no screen."""

import argparse
from pathlib import Path

from forescale.engine.answer import answer_file
from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import write_text
from forescale.engine.kit import library
from forescale.engine.mends import joined
from forescale.engine.sheet.forms import sheet_as
from forescale.tui.cli.command_line import DONE, STOPPED, complain, say, say_exactly

STANDARD_OUTPUT = "-"
PAPERS = {  # what each option writes, in a form and in words
    "svg": (".svg", "the shot from above and from the side, to scale, as SVG"),
    "html": (".html", "the sheet with the drawing as a page to print"),
    "templates": (".templates.html", "templates at true size, to print"),
    "csv": (".csv", "the build list as CSV"),
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("shot", metavar="SHOT", help="a shot file, or the name of a saved or built-in shot")
    parser.add_argument("--json", action="store_true", help="print every number as JSON: mm, s, degrees, lux")
    parser.add_argument("--units", choices=("metric", "imperial"), help="show these units and not the shot's own")
    for option, (_, what) in PAPERS.items():
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
    texts = {option: sheet_as(PAPERS[option][0], shot, answer) for option in targets}
    printed = None
    if arguments.json or not targets:
        printed = sheet_as(".json" if arguments.json else ".txt", shot, answer)
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
