"""What the app costs, beside an empty Textual app measured in the same run: `python tests/bench/bench_app.py`."""

from __future__ import annotations

import compileall
import statistics
import sys
import tempfile
from pathlib import Path

from terminal import Terminal, slowed

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
OURS = [str(Path(sys.executable).with_name("forescale")), "kiln-stack"]  # as its users start it
EMPTY = [sys.executable, str(HERE / "empty_app.py")]
STARTS, NUDGES, SLOW_NUDGES = 9, 500, 100
SIZES = {"80 × 24": (80, 24), "120 × 40, the view beside": (120, 40), "160 × 50, the view beside": (160, 50)}
# The keys that lead to a field of each kind from the board's first field, and back.
FIELDS: dict[str, bytes] = {
    "ratio": b"1",
    "tape distance": b"1" + b"\x1b[B",
    "rate": b"2" + b"\x1b[B",
    "shutter": b"2" + b"\x1b[B" * 2,
    "stop": b"3" + b"\x1b[B",
    "slide": b"4" + b"\x1b[B" * 2,
}


def start(argv: list[str], home: str) -> tuple[float, float, float]:
    """Return the time to the first board's last byte and of the processor, in s, and the peak memory in MB."""
    with Terminal(argv, environ={"FORESCALE_HOME": home}) as terminal:
        _, last = terminal.read()
        return last - terminal.started, terminal.processor_s(), terminal.peak_mb()


def starts(home: str) -> tuple[list[float], list[float]]:
    """Return the medians of ours and of the empty app, started in turn: what slows the machine slows both."""
    runs = [(start(OURS, home), start(EMPTY, home)) for _ in range(STARTS)]
    both = zip(*runs, strict=True)
    ours, empty = ([statistics.median(each) for each in zip(*of_one, strict=True)] for of_one in both)
    return ours, empty


def nudges(terminal: Terminal, keys: bytes, count: int) -> str:
    """Return what nudges cost: from key to last byte and of the processor's time, in ms, and the most bytes of one."""
    terminal.send(keys)
    terminal.read(at_most_s=5.0)
    times, most, worked = [], 0, terminal.processor_s()
    for number in range(count):
        sent = terminal.send(b"\x1b[C" if number % 8 < 4 else b"\x1b[D")
        got, last = terminal.read(still_s=0.03, at_most_s=1.0)
        if got:
            times.append(1000 * (last - sent))
            most = max(most, len(got))
    times.sort()
    worked = 1000 * (terminal.processor_s() - worked) / count
    high = times[int(0.95 * len(times))]
    return (
        f"median {statistics.median(times):5.1f} ms   95th {high:5.1f} ms   worked {worked:5.1f} ms   most {most} bytes"
    )


def main() -> None:
    """Print every number with its yardstick beside it."""
    for package in (".package/forescale", "engine", "tui"):  # as an installation does, and as Textual is
        compileall.compile_dir(ROOT / package, quiet=1)
    with tempfile.TemporaryDirectory() as home:
        start(OURS, home)
        names = ("start to first full board, s", "start, the processor's time, s", "peak memory, MB")
        for name, ours, empty in zip(names, *starts(home), strict=True):
            print(f"{name:32}{ours:8.3f}   empty app {empty:8.3f}   {ours / empty:.2f} times")
        for size, (columns, lines) in SIZES.items():
            print(size)
            with Terminal(OURS, columns, lines, {"FORESCALE_HOME": home}) as terminal:
                terminal.read()
                for name, keys in FIELDS.items():
                    print(f"  nudge of {name:14} {nudges(terminal, keys, NUDGES)}")
                terminal.read_for(2.0)
                print(f"  sent in 5 s of idleness  {len(terminal.read_for(5.0))} bytes")
                try:
                    with slowed(terminal.pid):
                        print(f"  the processor at a fifth {nudges(terminal, FIELDS['tape distance'], SLOW_NUDGES)}")
                except OSError as refused:
                    print(f"  the processor at a fifth: no cgroup may be made here ({refused.strerror})")


if __name__ == "__main__":
    main()
