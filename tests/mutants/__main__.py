"""python -m tests.mutants: change the program in small ways, one at a time, and tell which changes no test notices.

The first run makes a map of which tests run which lines, and keeps it until code or tests change.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
from collections import Counter
from dataclasses import replace
from itertools import islice
from pathlib import Path

from tests.mutants.changes import Mutant, changed, mutants
from tests.mutants.cover import ROOMS, ROOT, CoverMap, cover_map, likeliest, reaching
from tests.mutants.trial import Trial, load_heavy, try_all

WORDS = {True: "killed", False: "survived", None: "left out"}


def main() -> int:
    """Try mutants, print a line for each, and return 1 where fewer than nine in ten were noticed."""
    asked = _asked()
    cover = cover_map(asked.tests)
    load_heavy()
    paths = sorted((ROOT / asked.rooms).rglob("*.py"))
    found = islice(mutants(paths, random.Random(asked.seed)), asked.skip, asked.skip + asked.count)
    with tempfile.NamedTemporaryFile("w+") as told:  # told from a fork

        def tell(trial: Trial, noticed: bool | None) -> None:
            word = WORDS[noticed] if trial.tests else "reached by no test"
            line = f"{word}: {trial.mutant.path.relative_to(ROOT)}:{trial.change.lines.start}: {trial.mutant.kind}: "
            line += f"{trial.change.before}  ->  {trial.change.after}"
            print(line, flush=True)
            print(word, file=told, flush=True)
            if not noticed and asked.survivors:
                with asked.survivors.open("a") as file:
                    print(line, file=file)

        try_all([_trial(mutant, cover, asked.most_seconds) for mutant in found], asked.tests, tell)
        seen = Counter(Path(told.name).read_text().splitlines())
    print(*(f"{word} {number}" for word, number in seen.items()), sep=", ")
    return 0 if seen[WORDS[True]] >= 0.9 * (seen.total() - seen[WORDS[None]]) else 1


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Change the program in small ways and see whether the tests notice.")
    parser.add_argument("--count", type=int, default=300, help="how many changes")
    parser.add_argument("--seed", type=int, default=1, help="another seed makes others")
    parser.add_argument("--rooms", choices=ROOMS, default="engine", help="where")
    parser.add_argument("--tests", nargs="+", default=["tests"], help="which tests are asked")
    parser.add_argument("--skip", type=int, default=0, help="leave out the first so many, to go on after a break")
    parser.add_argument("--most-seconds", type=float, default=20, help="of tests on one change")
    parser.add_argument("--survivors", type=Path, help="a file to which each change that no test notices is added")
    return parser.parse_args()


def _trial(mutant: Mutant, cover: CoverMap, most_s: float) -> Trial:
    change = changed(mutant)
    if not cover.running(str(mutant.path.relative_to(ROOT)), change.around):
        change = replace(change, function=None)  # run while the program is imported, before any test is, if at all
    tests = likeliest(reaching(mutant, change, cover), cover, most_s)
    return Trial(mutant, change, [cover.tests[test] for test in tests], sum(cover.seconds[test] for test in tests))


if __name__ == "__main__":
    sys.exit(main())
