"""The long form of the trials, by one command: python -m tests.faults.long.

Prints a line a trial, and every failure; ends with 1 where there is any. A part alone is named: `... long keys`. The
numbers of tries are those of the table in DEVELOPERS.md; `--tries N` makes it at most N of each, `--seed N` others.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from tests.faults.tally import Tally

SAVES, APPS, FILES, KEYS = 700, 300, 20_000, 20_000
MOST_SHOWN = 20


def main() -> int:
    """Run the trials that are named, or all."""
    parser = argparse.ArgumentParser(description="Kill, mutate and press keys, many thousand times.")
    parser.add_argument("trial", nargs="*", metavar="TRIAL", help="saves, apps, files, keys; left out: all")
    parser.add_argument("--tries", type=int, help="at most so many of each")
    parser.add_argument("--seed", type=int, default=1, help="another seed tries other things")
    asked = parser.parse_args()
    failures = 0
    with tempfile.TemporaryDirectory() as folder:
        os.environ["FORESCALE_HOME"] = f"{folder}/home"
        for name, (tries, trial) in trials().items():
            if not asked.trial or name in asked.trial:
                place = Path(folder) / name
                place.mkdir()
                tally = trial(min(tries, asked.tries or tries), asked.seed, place)
                failures += len(tally.failures)
                print(tally, *tally.failures[:MOST_SHOWN], sep="\n  ", flush=True)
    return 1 if failures else 0


def trials() -> dict[str, tuple[int, Callable[[int, int, Path], Tally]]]:
    """Return each trial with its tries; loaded once the home is another than the user's."""
    from tests.faults.kills import kill_apps, kill_saves
    from tests.faults.mutations import try_files
    from tests.faults.random_keys import press_keys

    return {
        "saves": (SAVES, kill_saves),
        "apps": (APPS, kill_apps),
        "files": (FILES, in_home(try_files)),
        "keys": (KEYS, press_keys),
    }


def in_home(trial: Callable[[int, int, Path], Tally]) -> Callable[[int, int, Path], Tally]:
    """Return a trial that is given the user's folder, which it is to fill."""

    def run(tries: int, seed: int, _folder: Path) -> Tally:
        home = Path(os.environ["FORESCALE_HOME"])
        home.mkdir(exist_ok=True)
        return trial(tries, seed, home)

    return run


if __name__ == "__main__":
    sys.exit(main())
