"""`forescale options`: the ways to shoot it with the kit at hand, best first. Starts no screen."""

import argparse

from forescale.engine.kit import library
from forescale.engine.options.outcome import find_options
from forescale.engine.options.printed import options_json, options_text
from forescale.engine.options.to_try import at_hand
from forescale.tui.cli.command_line import DONE, STOPPED, complain, say

SHOWN = 10


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("shot", metavar="SHOT", help="a shot file, or the name of a saved or built-in shot")
    parser.add_argument("--json", action="store_true", help="print every number as JSON: mm, s, degrees, lux")
    parser.add_argument("--limit", metavar="N", type=_count, help=f"print N ways; left out: {SHOWN}, all as JSON")
    parser.epilog = (
        "What the shot sets is kept: ratio, place of the model, rate, focus, stop. What\n"
        "it leaves out is searched, with all cameras, modes and lenses at hand.\n"
        "[limits] in the shot says what to hold, what may pass and what counts.\n"
        "exit codes: 0 done; 1 nothing works; 2 bad input."
    )


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) < 1:
        raise argparse.ArgumentTypeError(f'"{text}" is not a count; write a whole number from 1 on')
    return int(text)


def run(arguments: argparse.Namespace) -> int:
    """Search, and print what was found."""
    path = library.shot_path(arguments.shot)
    shot = library.load_shot(path)
    shelves = at_hand(shot.kit)
    complain([f"{fault} (left out)" for fault in shelves.faults])
    limit = arguments.limit if arguments.limit or arguments.json else SHOWN
    found = find_options(shot, shot.units, shelves, keep=limit, where=str(path))
    say((options_json if arguments.json else options_text)(found, limit))
    return DONE if found.working else STOPPED
