"""Which tests run which lines: the whole default run once, with coverage, and what came of it kept."""

from __future__ import annotations

import hashlib
import json
import os
import re
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Generator
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path
from typing import Any

import coverage
import pytest

from tests.mutants.changes import Changed, Mutant

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("engine", "tui")
KEPT = ROOT / ".pytest_cache" / "mutants"
PART = "MUTANTS_PART"  # the environment's name for the folder that each process of the run writes to

Lines = dict[int, list[int]]


@dataclass(frozen=True)
class CoverMap:
    """Tests by their number with the seconds that each took, and the numbers of those that run a line of a file."""

    tests: list[str]
    seconds: list[float]
    lines: dict[str, Lines]

    def running(self, file: str, lines: range) -> set[int]:
        """Return the tests that run any of these lines."""
        by_line = self.lines.get(file, {})
        return {test for line in lines for test in by_line.get(line, [])}


def cover_map(asked: list[str]) -> CoverMap:
    """Return the map of the code and these tests as they stand, made anew where either has changed."""
    path = KEPT / f"{_fingerprint(asked)}.json"
    if not path.exists():
        KEPT.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory() as folder:
            argv = [sys.executable, "-m", "pytest", "-n", "2", "-q", "-p", "tests.mutants.cover", *asked]
            subprocess.run(argv, cwd=ROOT, env=os.environ | {PART: folder}, check=False)
            parts = [json.loads(part.read_text()) for part in sorted(Path(folder).iterdir())]
        path.write_text(json.dumps(_joined(parts)))
    found = json.loads(path.read_text())
    lines = {file: {int(line): tests for line, tests in by.items()} for file, by in found["lines"].items()}
    return CoverMap(found["tests"], found["seconds"], lines)


def _fingerprint(asked: list[str]) -> str:
    found = (path for room in (*ROOMS, "tests") for path in (ROOT / room).rglob("*.py"))
    files = sorted(path for path in found if path.parent.name != "mutants")
    read = [*(path.read_bytes() for path in files), *(name.encode() for name in asked)]
    return hashlib.sha256(b"".join(read)).hexdigest()[:16]


def _joined(parts: list[dict[str, Any]]) -> dict[str, Any]:
    tests = [test for part in parts for test in part["seconds"]]
    number = {test: at for at, test in enumerate(tests)}
    lines: dict[str, dict[str, list[int]]] = {}
    for part in parts:
        for file, by_line in part["lines"].items():
            for line, names in by_line.items():
                lines.setdefault(file, {}).setdefault(line, []).extend(number[name] for name in names if name in number)
    seconds = [taken for part in parts for taken in part["seconds"].values()]
    return {"tests": tests, "seconds": seconds, "lines": lines}


class ByTest:
    """Counts the lines for each test apart."""

    def __init__(self) -> None:
        self.cover = coverage.Coverage(data_file=None, include=[f"{ROOT / room}/*" for room in ROOMS])
        self.cover.start()
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        self.cover.switch_context(item.nodeid)
        begun = time.process_time()
        done = yield
        self.seconds[item.nodeid] = round(time.process_time() - begun, 3)
        self.cover.switch_context("")
        return done

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Leave out a test that fails as it is: it would fail on any change."""
        if report.failed:
            self.failed.add(report.nodeid)

    def pytest_sessionfinish(self) -> None:
        self.cover.stop()
        data = self.cover.get_data()
        lines = {str(Path(file).relative_to(ROOT)): data.contexts_by_lineno(file) for file in data.measured_files()}
        sound = {test: taken for test, taken in self.seconds.items() if test not in self.failed}
        said = json.dumps({"seconds": sound, "lines": lines})
        (Path(os.environ[PART]) / f"{os.getpid()}.json").write_text(said)


def pytest_configure(config: pytest.Config) -> None:
    """Count in the processes that run tests; the one that hands them out runs none."""
    if PART in os.environ and "PYTEST_XDIST_WORKER" in os.environ:
        config.pluginmanager.register(ByTest())


def reaching(mutant: Mutant, change: Changed, cover: CoverMap) -> set[int]:
    """Return the tests that reach a change: by its lines, else by its function, else by who reads the names it sets."""
    file = str(mutant.path.relative_to(ROOT))
    found = cover.running(file, change.lines) or cover.running(file, change.around)
    of = mutant.path.stem
    imports = re.compile(rf"^from \S*\b{of}\b|import .*\b{of}\b", re.MULTILINE)
    for name in change.names:
        word = re.compile(rf"\b{name}\b")
        for other, by_line in cover.lines.items():
            whole = (ROOT / other).read_text()
            if other != file and not imports.search(whole):
                continue  # a name of the same letters, but another's
            text = whole.splitlines()
            found = found.union(*(tests for line, tests in by_line.items() if word.search(text[line - 1])))
    return found or cover.running(file, range(1, 10_000))


def likeliest(tests: set[int], cover: CoverMap, most_s: float) -> list[int]:
    """Return tests in the order to run them, as many as the time reaches for: the quickest of each file in turn."""
    by_file: dict[str, list[int]] = defaultdict(list)
    for test in sorted(tests, key=lambda test: cover.seconds[test]):
        by_file[cover.tests[test].partition("::")[0]].append(test)
    taken: list[int] = []
    for turn in zip_longest(*by_file.values()):
        for test in sorted((one for one in turn if one is not None), key=lambda test: cover.seconds[test]):
            if cover.seconds[test] <= most_s:
                most_s -= cover.seconds[test]
                taken.append(test)
    return taken
