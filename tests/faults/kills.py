"""The program killed at any moment: in the midst of a save through the engine, and at work in a terminal."""

from __future__ import annotations

import os
import random
import signal
import time
from pathlib import Path

from forescale.engine.files.faults import BadInput
from forescale.engine.files.toml_files import clear_parts
from forescale.engine.kit import library
from forescale.engine.shot.records import Shot
from tests.faults.program import Program
from tests.faults.tally import Tally

LATEST_S = 0.25  # a save with comments takes some hundredths of a second
PARTS = ".forescale-*"


def kill_saves(tries: int, seed: int, folder: Path) -> Tally:
    """Kill a process that saves the same file over and over, each time with another title."""
    tally, chance = Tally("killed in mid-save through the engine"), random.Random(seed)
    path = folder / "killed.toml"
    first = library.load_shot(library.shot_path(library.DEMO))
    library.save_shot(path, first)
    path.write_text(f"# a person's own comment\n{path.read_text()}")
    library.save_shot(path, first)  # once here: what it loads would else be loaded by each that is killed
    for _ in range(tries):
        tally.tries += 1
        _kill_one(path, first, chance.uniform(0.001, LATEST_S), by_its_work=tally.tries % 2 == 0)
        try:
            title = library.load_shot(path).title
        except BadInput as fault:
            tally.failures.append(f"{fault}")
            continue
        if not (title == first.title or title.startswith("Save ")) or "# a person's own" not in path.read_text():
            tally.failures.append(f"{path} holds what nobody saved: {title}")
        tally.count("with a new title" if title != first.title else "before the first was done")
        if any(folder.glob(PARTS)):
            tally.count("left a temporary file, cleared")
        clear_parts(folder)
        if any(folder.glob(PARTS)):
            tally.failures.append("a temporary file is left")
        if title != first.title:
            library.save_shot(path, first)
    return tally


def _kill_one(path: Path, shot: Shot, after_s: float, by_its_work: bool) -> None:
    """Kill after a time by the clock or of the processor's: on a busy machine little is done in one by the clock."""
    begun, begin = os.pipe()
    pid = os.fork()
    if pid == 0:
        try:
            os.write(begin, b".")
            if by_its_work:
                signal.signal(signal.SIGPROF, signal.SIG_DFL)  # ends it like SIGKILL, in the midst of anything
                signal.setitimer(signal.ITIMER_PROF, after_s)
            for number in range(1_000_000):
                library.save_shot(path, shot.model_copy(update={"title": f"Save {number}"}))
        finally:
            os._exit(99)
    os.read(begun, 1)
    if not by_its_work:
        time.sleep(after_s)
        os.kill(pid, signal.SIGKILL)
    _, status = os.waitpid(pid, 0)
    assert os.WTERMSIG(status) in {signal.SIGKILL, signal.SIGPROF}
    os.close(begun)
    os.close(begin)


def kill_apps(tries: int, seed: int, folder: Path) -> Tally:
    """Kill the app while it logs takes, steps values and saves; every take that it said it logged must come back."""
    tally, chance = Tally("killed at work in a terminal"), random.Random(seed)
    for number in range(tries):
        tally.tries += 1
        home = folder / f"home-{number}"
        path = home / "shots" / "killed.toml"
        path.parent.mkdir(parents=True)
        library.save_shot(path, library.load_shot(library.SHIPPED / "shots" / f"{library.DEMO}.toml"))
        logged = _work_until_killed(path, home, chance)
        try:
            shown = _takes_after(path, home)
        except AssertionError as failure:
            tally.failures.append(str(failure))
            continue
        tally.count("came back" if logged else "killed before the first take")
        if shown < logged:
            tally.failures.append(f"{logged} takes were said to be logged, and {shown} came back")
    return tally


def _work_until_killed(path: Path, home: Path, chance: random.Random) -> int:
    """Return how many takes the app said it had logged before it was killed."""
    logged = 0
    with Program([str(path)], home) as program:
        program.wait_for("kiln stack")
        program.send(b"t")
        for _ in range(chance.randrange(1, 4)):
            program.send(b"a")
            program.wait_for(f"Take {logged + 1} is logged")
            logged += 1
        program.send(b"\x1b" * chance.randrange(2))
        program.wait_still(0.1)
        program.send(chance.choice([b"", b"a", b"s", b"\x1b[C", b"\x1b[Cs", b"ss\x1b[C"]))
        time.sleep(chance.uniform(0.0, 0.5))
        program.signal(signal.SIGKILL)
        assert program.ended() == -signal.SIGKILL
    return logged


def _takes_after(path: Path, home: Path) -> int:
    """Start the app once more, let it save, and return how many takes the file then holds."""
    with Program([str(path)], home) as program:
        program.wait_for("kiln stack")
        program.send(b"s")
        program.wait_for("Saved: ")
        program.send(b"q")
        code = program.ended()
        assert code == 0, f"ended with {code} after a kill:\n{program.said()}"
    parts = list(home.rglob(PARTS))
    assert not parts, f"temporary files are left: {parts}"
    return len(library.load_shot(path).take)
