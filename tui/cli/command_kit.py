"""`forescale kit`: the profiles and shots at hand."""

import argparse

from forescale.engine.files.faults import BadInput, nearest
from forescale.tui.cli.command_line import listed, run_module

ACTIONS = {
    "list": "list what stands on the shelves, and whose it is",
    "show": "show what stands on the shelves under a name",
    "check": "check files, or every file in a folder, one line a fault",
    "import": "start a profile from the open catalogue of cameras and lenses",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("action", metavar="ACTION", nargs="?", default="list", help="what to do; left out: list")
    parser.add_argument("words", metavar="...", nargs=argparse.REMAINDER, help="what the action takes")
    parser.epilog = listed("forescale kit", ACTIONS)


def run(arguments: argparse.Namespace) -> int:
    """Run the action."""
    action = arguments.action
    if action not in ACTIONS:
        raise BadInput(f'forescale kit: "{action}" is unknown; {nearest(action, ACTIONS)}')
    return run_module(f"kit_{action}", f"forescale kit {action}", ACTIONS[action], arguments.words)
