"""Keys, pastes and sizes at random, in a terminal: the app answers to the last, and its memory stays what it was."""

from __future__ import annotations

import os
import random
import tempfile
import time
from pathlib import Path
from typing import Any

from tests.faults.program import Program, as_nobody, python_of_nobody
from tests.faults.tally import Tally

LETTERS = "abcdefghijklmnoprstuvwxyz"  # without q, which leaves
KEYS = (
    *[key.encode() for key in LETTERS + "0123456789/?~ .,'\"-+=:"],
    *[b"\x1b[A", b"\x1b[B", b"\x1b[C", b"\x1b[D"] * 8,
    *[b"\x1b[H", b"\x1b[F", b"\x1b[5~", b"\x1b[6~", b"\x1b[1;2C", b"\x1b[Z", b"\x1b[3~"] * 2,
    *[b"\r", b"\t", b"\x7f"] * 4,
    *[b"\x1b"] * 8,
    *[b"\x1bOP", b"\x1bOQ", b"\x1bOR", b"\x1bOS", b"\x1b[15~"],
)
PASTES = (
    b"10 ft", b"1:48", b"f/11", b"~", b"~n/x", b"/", b"/dev/zero", b"../../x", b"a" * 300, b"nan", b"10' 6\"",
    b"\xf0\x9f\x98\x80", b"\xc3\xa9" * 40, b"con", b"-x", b"x.", b"2 m", b"240 fps", b"=1+1", b"\xe2\x80\xae", b"0",
)  # fmt: skip
BURST, BURSTS = 20, 5  # keys in a burst, and bursts after which Esc alone must lead back to the board
MOST_FAILURES = 20
HANG_S = 2.0  # of the processor's time, without a sign of life
TASKS = (*b"fekbypgdntmcv65joiw ", b"\x1b[15~", b"\x1bOQ")  # the keys that open one
MOST_SCREENS = 20  # over one another
LONG = 2000  # keys from which on memory is looked at
STEADY = 1.2  # how much larger the memory may be at the end than when each had been opened, and Pint loaded by a unit


def press_keys(tries: int, seed: int, folder: Path) -> Tally:
    """Send so many keys, in bursts between which the window changes its size; `folder` takes all that is written."""
    tally, chance = Tally("random keys, sizes and pastes"), random.Random(seed)
    for one in (folder, *folder.parents):  # another user has to come in
        if one.stat().st_uid == os.geteuid() and str(one).startswith(f"{tempfile.gettempdir()}/"):
            one.chmod(0o777 if one == folder else 0o755)
    python = python_of_nobody()  # what is typed may be a path: to no folder of the system
    who: dict[str, Any] = {} if python is None else {"python": python, "prepare": as_nobody}
    where = {"HOME": str(folder), "TMPDIR": str(folder)}
    memory: list[float] = []
    while tally.tries < tries:
        with Program([], folder / "home", folder=folder, environ=where, **who) as program:
            try:
                program.wait_for("1 Scale")
                if tries >= LONG:
                    _open_all(program)
                while tally.tries < tries and program.fd >= 0:
                    _burst(program, chance, tally)
                    if program.fd >= 0 and tally.seen["bursts"] % BURSTS == 0:
                        _back(program)
                    if program.fd >= 0 and tries >= LONG:
                        memory.append(program.memory_mb())
                if program.fd >= 0:
                    _back(program)
            except (AssertionError, OSError) as failure:
                tally.failures.append(f"after {tally.tries} keys: {failure}")
            if program.fd < 0 and tally.tries < tries:
                tally.failures.append(f"ended with {program.ended()} after {tally.tries} keys:\n{program.said()}")
        if len(tally.failures) > MOST_FAILURES:
            break
    _judge_memory(memory, tally)
    return tally


def _open_all(program: Program) -> None:
    """Open every task once, and read a unit that has to be looked up: all that is loaded when first used is loaded."""
    for key in (*TASKS, b"\x1b[B\r\x153 furlongs\r"):
        program.send(bytes([key]) if isinstance(key, int) else key)
        program.wait_idle()
        _back(program)


def _back(program: Program) -> None:
    """Come back to the board, which answers at once since no key waits any more."""
    program.resize(80, 24)
    program.wait_idle()
    for _ in range(MOST_SCREENS):
        if "q quit" in program.text:  # in the footer of the board alone
            return
        program.send(b"\x1b")
        program.wait_idle()
    raise AssertionError(f"not back on the board: {program.text}")


def _burst(program: Program, chance: random.Random, tally: Tally) -> None:
    """Send some keys, give the window another size, and wait for a sign of life."""
    for _ in range(BURST):
        tally.tries += 1
        paste = chance.random() < 0.03
        program.send(b"\x1b[200~" + chance.choice(PASTES) + b"\x1b[201~" if paste else chance.choice(KEYS))
    before = (program.columns, program.lines)
    while (size := _size(chance)) == before:
        pass
    spent, end = program.cpu_s(), time.monotonic() + 60
    program.resize(*size)
    while not program.read(0.05):
        if program.fd < 0:
            return
        assert program.cpu_s() - spent < HANG_S, f"no sign of life at {size}; before: {program.said()[-500:]!r}"
        assert time.monotonic() < end, f"no sign of life for a minute at {size}; before: {program.said()[-500:]!r}"
    program.wait_idle(HANG_S)  # so that no key waits longer than the burst that it is in
    tally.count("bursts")
    del program.got[:-4000]


def _size(chance: random.Random) -> tuple[int, int]:
    if chance.random() < 0.3:
        return chance.randint(1, 12), chance.randint(1, 8)
    return chance.choice([(80, 24), (chance.randint(1, 300), chance.randint(1, 100)), (chance.randint(30, 120), 24)])


def _judge_memory(memory: list[float], tally: Tally) -> None:
    if len(memory) < 10:
        return
    tenth = max(len(memory) // 10, 1)
    early, late = (sorted(part)[len(part) // 2] for part in (memory[:tenth], memory[-tenth:]))
    tally.count(f"memory by tenths {' '.join(f'{one:.0f}' for one in memory[:: len(memory) // 10])} MB")
    if late > STEADY * early:
        tally.failures.append(f"memory grew from {early:.0f} MB to {late:.0f} MB")
