"""Mutants tried, each in a fork: the tests that reach its change are run there, until one fails.

A change within a function is put into the function where it stands, in a process that has collected every test. Any
other is made while the program is imported, in a process that has loaded the heavy libraries alone.
"""

from __future__ import annotations

import gc
import importlib
import importlib.machinery
import os
import resource
import signal
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import _lru_cache_wrapper
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

import pytest

from tests.mutants.changes import Changed, Mutant
from tests.mutants.cover import ROOT

HEAVY = (
    "hypothesis", "numpy", "scipy.optimize", "scipy.stats", "cv2", "pydantic", "pint", "tomlkit", "tomli_w", "pyte",
    "pdfplumber", "syrupy", "pytest_asyncio", "xml.etree.ElementTree", "textual.app", "textual.widgets",
    "textual.pilot", "textual.containers",
)  # fmt: skip
GRACE_S, TIMES = 15.0, 3  # how much longer than usual the changed program may take before it counts as noticed
WALL = 20  # how much longer than its processor's time it may take on a busy machine
OPTIONS = ("-x", "-q", "-s", "--no-summary", "-p", "no:cacheprovider", "-n", "0", "--snapshot-warn-unused")

NOT_MADE = 98


@dataclass(frozen=True)
class Trial:
    """A mutant, the tests that are to notice it, and how long they usually take."""

    mutant: Mutant
    change: Changed
    tests: list[str]
    usual_s: float

    @property
    def limit_s(self) -> int:
        """How long the changed program may take before it counts as noticed."""
        return int(TIMES * self.usual_s + GRACE_S)


Tell = Callable[[Trial, bool | None], None]


def load_heavy() -> None:
    """Load what takes long, once for all forks; the tries of Hypothesis are the same for each, and fail at once."""
    for name in HEAVY:
        importlib.import_module(name)
    from hypothesis import Phase, settings

    quick = (Phase.explicit, Phase.generate)
    settings.register_profile("mutants", deadline=None, derandomize=True, database=None, phases=quick)
    settings.load_profile("mutants")


def try_all(trials: list[Trial], asked: list[str], tell: Tell) -> None:
    """Try mutants on the tests asked for and tell of each whether a test noticed it, those within functions first."""
    in_functions = [one for one in trials if one.change.function is not None]
    sys.stdout.flush()
    pid = os.fork()
    if pid == 0:
        os._exit(int(pytest.main([*OPTIONS, *asked], plugins=[InFunctions(in_functions, tell)])))
    os.waitpid(pid, 0)
    for trial in trials:
        if trial.change.function is None:
            pid = _fork(trial)
            if pid == 0:
                _import_changed(trial)
            tell(trial, _noticed(pid, trial))


class InFunctions:
    """Takes the place of the run of the collected tests: forks for each mutant, and lets the run go on there alone."""

    def __init__(self, trials: list[Trial], tell: Tell) -> None:
        self.trials, self.tell = trials, tell

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool | None:
        """Try every mutant, its module loaded; return None in a fork, upon which the tests are run there."""
        collected = {item.nodeid: item for item in session.items}
        for trial in self.trials:
            importlib.import_module(_module(trial.mutant.path))
            pid = _fork(trial)
            if pid == 0:
                _put_in(trial.mutant, trial.change)
                session.items[:] = [collected[test] for test in trial.tests if test in collected]
                return None
            self.tell(trial, _noticed(pid, trial))
        return True


class Only:
    """Runs the tests of a trial alone, in its order."""

    def __init__(self, trial: Trial) -> None:
        self.place = {test: at for at, test in enumerate(trial.tests)}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Leave out every other test."""
        items[:] = sorted((one for one in items if one.nodeid in self.place), key=lambda one: self.place[one.nodeid])


def _module(path: Path) -> str:
    return ".".join(("forescale", *path.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")


def _fork(trial: Trial) -> int:
    """Fork; what is forked says nothing, and has a bounded time on the processor."""
    sys.stdout.flush()
    pid = os.fork()
    if pid == 0:
        os.setsid()
        resource.setrlimit(resource.RLIMIT_CPU, (trial.limit_s, trial.limit_s + 1))
        nothing = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nothing, stream)
    return pid


def _noticed(pid: int, trial: Trial) -> bool | None:
    """Tell whether a test failed or time ran out; None where the change could not be made."""
    end = time.monotonic() + WALL * trial.limit_s
    while time.monotonic() < end:
        done, status = os.waitpid(pid, os.WNOHANG)
        if done:
            assert status != pytest.ExitCode.USAGE_ERROR << 8 or trial.change.function is None, "pytest was not run"
            return None if status == NOT_MADE << 8 else status != 0
        time.sleep(0.02)
    os.killpg(pid, signal.SIGKILL)
    os.waitpid(pid, 0)
    return True


def _put_in(mutant: Mutant, change: Changed) -> None:
    """Give the function its changed code, wherever it is held, and forget what functions have kept of earlier calls."""
    file, made = f"/{mutant.path.relative_to(ROOT)}", False
    changed = dict(_codes(compile(change.tree, file, "exec")))
    gc.unfreeze()  # what the tests' own start has frozen is not among the objects that are looked through
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename.endswith(file):
            code = changed.get((one.__code__.co_qualname, one.__code__.co_firstlineno))
            if (
                code is not None
                and code.co_qualname == change.function
                and code.co_freevars == one.__code__.co_freevars
            ):
                one.__code__, made = code.replace(co_filename=one.__code__.co_filename), True
        elif isinstance(one, _lru_cache_wrapper) and one.__module__.startswith("forescale"):
            one.cache_clear()
    if not made:
        os._exit(NOT_MADE)


def _codes(code: CodeType) -> Iterator[tuple[tuple[str, int], CodeType]]:
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield (one.co_qualname, one.co_firstlineno), one
            yield from _codes(one)


def _import_changed(trial: Trial) -> None:
    """Run the tests on a program whose module comes from the changed tree when it is imported."""
    plain = importlib.machinery.SourceFileLoader.get_code

    def get_code(loader: Any, name: str) -> CodeType | None:
        changed = Path(loader.path).resolve() == trial.mutant.path
        return compile(trial.change.tree, loader.path, "exec") if changed else plain(loader, name)

    importlib.machinery.SourceFileLoader.get_code = get_code  # type: ignore[assignment, method-assign]
    files = sorted({test.partition("::")[0] for test in trial.tests})
    os._exit(int(pytest.main([*OPTIONS, *files], plugins=[Only(trial)])))
