"""What the app costs, beside an empty Textual app measured in the same run: `python tests/bench/bench_app.py`."""

from __future__ import annotations

import compileall
import statistics
import sys
import tempfile
from pathlib import Path

from terminal import Terminal

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
OURS = [sys.executable, "-m", "forescale.tui.cli.commands", "kiln-stack"]
EMPTY = [sys.executable, str(HERE / "empty_app.py")]
STARTS, NUDGES = 9, 500
# The keys that lead to a field of each kind from the board's first field, and back.
FIELDS: dict[str, bytes] = {
    "ratio": b"1",
    "tape distance": b"1" + b"\x1b[B",
    "rate": b"2" + b"\x1b[B",
    "shutter": b"2" + b"\x1b[B" * 2,
    "stop": b"3" + b"\x1b[B",
    "slide": b"4" + b"\x1b[B" * 2,
}


def starts(argv: list[str], home: str) -> tuple[float, float]:
    """Return the median time to the last byte of the first board in s, and the peak memory in MB."""
    times, peaks = [], []
    for _ in range(STARTS):
        with Terminal(argv, environ={"FORESCALE_HOME": home}) as terminal:
            _, last = terminal.read()
            times.append(last - terminal.started)
            peaks.append(terminal.peak_mb())
    return statistics.median(times), statistics.median(peaks)


def nudges(terminal: Terminal, keys: bytes) -> tuple[float, float, float]:
    """Return the median and 95th percentile from key to last byte in ms, and the most bytes of one nudge."""
    terminal.send(keys)
    terminal.read()
    times, most = [], 0
    for number in range(NUDGES):
        sent = terminal.send(b"\x1b[C" if number % 8 < 4 else b"\x1b[D")
        got, last = terminal.read(still_s=0.03, at_most_s=1.0)
        if got:
            times.append(1000 * (last - sent))
            most = max(most, len(got))
    times.sort()
    return statistics.median(times), times[int(0.95 * len(times))], most


def main() -> None:
    """Print every number with its yardstick beside it."""
    for package in ("engine", "tui"):  # as an installation does, and as Textual is
        compileall.compile_dir(ROOT / package, quiet=1)
    with tempfile.TemporaryDirectory() as home:
        starts(OURS, home)
        ours, ours_mb = starts(OURS, home)
        empty, empty_mb = starts(EMPTY, home)
        print(f"start to first full board   {ours:.3f} s   empty app {empty:.3f} s   {ours / empty:.2f} times")
        print(
            f"peak memory                 {ours_mb:.1f} MB  empty app {empty_mb:.1f} MB  {ours_mb / empty_mb:.2f} times"
        )
        with Terminal(OURS, environ={"FORESCALE_HOME": home}) as terminal:
            terminal.read()
            for name, keys in FIELDS.items():
                median, high, most = nudges(terminal, keys)
                print(f"nudge of {name:14} median {median:5.1f} ms   95th {high:5.1f} ms   most {most} bytes")
            terminal.read_for(2.0)
            print(f"sent in 5 s of idleness     {len(terminal.read_for(5.0))} bytes")


if __name__ == "__main__":
    main()
