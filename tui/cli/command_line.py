"""What all commands share: one line a fault, output that no locale or closed pipe can break, sub-commands by name."""

import argparse
import io
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from importlib import import_module
from typing import NoReturn, TextIO

from forescale.engine.files.faults import BadInput, Fault, first_of
from forescale.engine.sheet.cells import clean, powerless

DONE, STOPPED, BAD_INPUT, FAILED = 0, 1, 2, 3


class Parser(argparse.ArgumentParser):
    """A parser that says in one line what is wrong."""

    def __init__(self, prog: str, does: str, epilog: str | None = None) -> None:
        """Make a parser whose help keeps the epilog's lines."""
        kept = argparse.RawDescriptionHelpFormatter
        super().__init__(prog=prog, description=does, epilog=epilog, allow_abbrev=False, formatter_class=kept)

    def error(self, message: str) -> NoReturn:
        """Raise BadInput, which the console script prints as it does any other fault."""
        raise BadInput(f"{self.prog}: {message}; see {self.prog} --help")


def run_module(name: str, prog: str, does: str, words: Sequence[str]) -> int:
    """Run `add_arguments` and `run` of a module of commands on the words behind its name; raises BadInput."""
    module = import_module(f"forescale.tui.cli.{name}")
    parser = Parser(prog, f"{does[0].upper()}{does[1:]}.")
    module.add_arguments(parser)
    code: int = module.run(parser.parse_args(words))
    return code


def listed(prog: str, commands: Mapping[str, str]) -> str:
    """Return the sub-commands and what each does, one a line, for a help text."""
    names = [f"  {name:<10}{does}" for name, does in commands.items()]
    return "\n".join(["commands:", *names, "", f"{prog} COMMAND --help says more of each."])


def say(text: str) -> None:
    """Print text on standard output; what the terminal's locale has no sign for becomes a question mark."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")
    _through(lambda: sys.stdout.write(powerless(text)))


def say_exactly(text: str) -> None:
    """Print the text of a file on standard output, in UTF-8 whatever the locale."""
    _through(lambda: sys.stdout.buffer.write(text.encode("utf-8")))


def complain(faults: Sequence[Fault | str]) -> None:
    """Print each fault as one line on standard error, the first twenty and how many more there are."""
    if isinstance(sys.stderr, io.TextIOWrapper):
        sys.stderr.reconfigure(errors="backslashreplace")
    with suppress(OSError, AttributeError):  # closed, full, or its reader has left: there is nowhere else to say it
        for fault in first_of(BadInput(*faults).faults):
            sys.stderr.write(f"{clean(str(fault))}\n")
        sys.stderr.flush()


def _through(write: Callable[[], object]) -> None:
    """Write to the end; raises BadInput where the place is full. A reader who has left ends it in silence."""
    if sys.stdout is None:
        raise BadInput("standard output: is closed, so nothing can be printed")
    try:
        write()
        sys.stdout.flush()
    except BrokenPipeError:
        _drop(sys.stdout)
    except OSError as error:
        _drop(sys.stdout)
        raise BadInput(f"standard output: cannot be written: {error.strerror}") from None


def let_go() -> None:
    """Flush what was printed; where its reader has left, as a terminal that has gone, it goes nowhere."""
    for stream in (sys.stdout, sys.stderr):
        try:
            if stream is not None:
                stream.flush()
        except OSError:
            _drop(stream)


def _drop(stream: TextIO) -> None:
    """Send what is still to be flushed to nowhere, or the interpreter would fail on it once more at its end."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
