"""The console script: which command is meant, and how whatever goes wrong is said."""

import gc
import os
import signal
import sys
from collections.abc import Sequence

from forescale.engine.files.faults import BadInput, nearest
from forescale.tui.cli import command_line as line

NAME = "forescale"
COMMANDS = {
    "sheet": "print a shot's sheet: text, JSON, a drawing, a page, the build list",
    "options": "rank the ways to shoot it with the kit at hand",
    "kit": "list, show, check and start the cameras, lenses, heads and shots at hand",
}


def main(words: Sequence[str] | None = None) -> int:
    """Run what the command line asks for and return the exit code; never lets a traceback through."""
    gc.disable()  # imports leave nothing to collect, and looking for it takes a tenth of the start; the app enables it
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")  # no other package has a say in files; looking costs 8 ms
    try:
        return _run(list(sys.argv[1:] if words is None else words))
    except BadInput as bad:
        line.complain(bad.faults)
        return line.BAD_INPUT
    except KeyboardInterrupt:
        line.let_go()
        signal.signal(signal.SIGINT, signal.SIG_DFL)  # whoever waits learns that it was ended, as by any other signal
        signal.raise_signal(signal.SIGINT)
        return line.FAILED
    except Exception as error:
        from forescale.tui.crash import told

        line.complain([told(error)])
        return line.FAILED
    finally:
        line.let_go()
        gc.freeze()  # the process ends here: nothing is left that is worth looking through


def _run(words: list[str]) -> int:
    """Run the command that is meant, or open the app on the shot named, or on the one last worked on."""
    if words and words[0] in COMMANDS:
        return line.run_module(f"command_{words[0]}", f"{NAME} {words[0]}", COMMANDS[words[0]], words[1:])
    if "--version" in words:
        from forescale import __version__

        line.say(f"{NAME} {__version__}\n")
        return line.DONE
    from forescale.tui.config import THEMES

    does = "Work out a shot that joins a scale miniature to a real background in one exposure."
    parser = line.Parser(NAME, does, line.listed(NAME, COMMANDS))
    what = "a shot file, or the name of a saved or built-in shot, to open in the app; left out: the one last worked on"
    called = "A file called as a command is opened by ./NAME"
    parser.add_argument("shot", metavar="SHOT", nargs="*", help=f"{what}. {called}")
    parser.add_argument("--glyphs", choices=("ascii", "box", "full"), help="the signs that the screen's font has")
    parser.add_argument("--theme", choices=THEMES, metavar="NAME", help=f"the colours: {', '.join(THEMES)}")
    parser.add_argument("--version", action="store_true", help="print the version and leave")
    arguments = parser.parse_args(words)
    if len(arguments.shot) > 1:
        raise BadInput(f'{NAME}: no command is called "{arguments.shot[0]}"; {nearest(arguments.shot[0], COMMANDS)}')
    from forescale.engine.kit.library import shot_path
    from forescale.tui.app import open_app

    return open_app(shot_path(arguments.shot[0]) if arguments.shot else None, arguments.glyphs, arguments.theme)


if __name__ == "__main__":
    sys.exit(main())
