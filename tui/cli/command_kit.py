"""`forescale kit`: the profiles and shots at hand."""

import argparse

from forescale.engine.files.faults import BadInput, nearest
from forescale.tui.cli.command_line import SubCommand, listed, run_named

DOES = {
    "list": "list what stands on the shelves, and whose it is",
    "show": "show what stands on the shelves under a name",
    "check": "check files, or every file in a folder, one line a fault",
    "import": "start a profile from the open catalogue of cameras and lenses",
}
ACTIONS = {name: SubCommand(f"forescale.tui.cli.kit_{name}", does) for name, does in DOES.items()}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("action", metavar="ACTION", nargs="?", default="list", help="what to do; left out: list")
    parser.add_argument("words", metavar="...", nargs=argparse.REMAINDER, help="what the action takes")
    parser.epilog = listed("forescale kit", ACTIONS)


def run(arguments: argparse.Namespace) -> int:
    """Run the action."""
    if arguments.action not in ACTIONS:
        raise BadInput(f'forescale kit: "{arguments.action}" is unknown; {nearest(arguments.action, ACTIONS)}')
    return run_named("forescale kit", arguments.action, ACTIONS, arguments.words)
