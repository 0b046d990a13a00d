"""The console script: which command is meant, and how whatever goes wrong is said."""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Sequence

from forescale.engine.files.faults import BadInput, nearest
from forescale.tui.cli.command_line import (
    BAD_INPUT,
    DONE,
    FAILED,
    Parser,
    SubCommand,
    complain,
    let_go,
    listed,
    run_named,
    say,
)

NAME = "forescale"
COMMANDS: dict[str, SubCommand] = {
    "sheet": SubCommand(
        "forescale.tui.cli.command_sheet", "print a shot's sheet: text, JSON, a drawing, a page, the build list"
    ),
    "options": SubCommand("forescale.tui.cli.command_options", "rank the ways to shoot it with the kit at hand"),
    "kit": SubCommand(
        "forescale.tui.cli.command_kit", "list, show, check and start the cameras, lenses, heads and shots at hand"
    ),
}


def main(words: Sequence[str] | None = None) -> int:
    """Run what the command line asks for and return the exit code; never lets a traceback through."""
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")  # none is wanted, and looking for them takes a while
    gc.disable()  # imports leave nothing to collect, and looking for it takes a tenth of the start; the app enables it
    try:
        return _run(list(sys.argv[1:] if words is None else words))
    except BadInput as bad:
        complain(bad.faults)
        return BAD_INPUT
    except KeyboardInterrupt:
        let_go()
        signal.signal(signal.SIGINT, signal.SIG_DFL)  # whoever waits learns that it was ended, as by any other signal
        signal.raise_signal(signal.SIGINT)
        return FAILED
    except Exception as error:
        from forescale.tui.crash import told

        complain([told(error)])
        return FAILED
    finally:
        let_go()
        gc.freeze()  # the process ends here: nothing is left that is worth looking through


def _run(words: list[str]) -> int:
    if words and words[0] in COMMANDS:
        return run_named(NAME, words[0], COMMANDS, words[1:])
    if "--version" in words:
        from forescale import __version__

        say(f"{NAME} {__version__}\n")
        return DONE
    return _open_app(words)


def _open_app(words: list[str]) -> int:
    """Open the app on the shot named, or on the one last worked on."""
    from forescale.tui.config import THEMES

    does = "Work out a shot that joins a scale miniature to a real background in one exposure."
    parser = Parser(NAME, does, listed(NAME, COMMANDS))
    parser.add_argument(
        "shot",
        metavar="SHOT",
        nargs="*",
        help="a shot file, or the name of a saved or built-in shot, to open in the app; left out: the one last worked "
        "on. A file called as a command is opened by ./NAME",
    )
    parser.add_argument("--glyphs", choices=("ascii", "box", "full"), help="the signs that the screen's font has")
    parser.add_argument("--theme", choices=THEMES, metavar="NAME", help=f"the colours: {', '.join(THEMES)}")
    parser.add_argument("--version", action="store_true", help="print the version and leave")
    arguments = parser.parse_args(words)
    if len(arguments.shot) > 1:
        raise BadInput(f'{NAME}: no command is called "{arguments.shot[0]}"; {nearest(arguments.shot[0], COMMANDS)}')
    from forescale.engine.kit.library import shot_path
    from forescale.tui.app import open_app

    path = shot_path(arguments.shot[0]) if arguments.shot else None
    return open_app(path, arguments.glyphs, arguments.theme)


if __name__ == "__main__":
    sys.exit(main())
