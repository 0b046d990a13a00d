"""A program in a pseudo-terminal: when its bytes come, how many, and how much memory it took."""

from __future__ import annotations

import fcntl
import os
import pty
import resource
import select
import signal
import struct
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

STILL_S = 0.15
# What a terminal answers when it is asked for itself, so that no program waits for an answer that never comes.
ANSWERS = ((b"\x1b[c", b"\x1b[?62;c"), (b"\x1b[?2026$p", b"\x1b[?2026;2$y"), (b"\x1b[?2048$p", b"\x1b[?2048;0$y"))


@dataclass
class Terminal:
    """A child at the other end of a pseudo-terminal."""

    argv: list[str]
    columns: int = 80
    lines: int = 24
    environ: dict[str, str] = field(default_factory=dict)

    def __enter__(self) -> Terminal:
        """Start the child."""
        self.started = time.perf_counter()
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.environ.update({"TERM": "xterm-256color", "COLORTERM": "truecolor", "LANG": "C.UTF-8"} | self.environ)
            os.execvp(self.argv[0], self.argv)
        size = struct.pack("HHHH", self.lines, self.columns, 0, 0)
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, size)
        return self

    def __exit__(self, *_: object) -> None:
        """End the child."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)

    def send(self, keys: bytes) -> float:
        """Send keys and return when."""
        os.write(self.fd, keys)
        return time.perf_counter()

    def read(self, still_s: float = STILL_S, at_most_s: float = 20.0) -> tuple[bytes, float]:
        """Return what comes until nothing has come for `still_s`, and when its last byte came."""
        got, last = b"", time.perf_counter()
        end = last + at_most_s
        while time.perf_counter() < end:
            ready, _, _ = select.select([self.fd], [], [], still_s)
            if not ready:
                if got:
                    break
                still_s = min(still_s, at_most_s)
                if time.perf_counter() - last > at_most_s:
                    break
                continue
            try:
                chunk = os.read(self.fd, 65536)
            except OSError:
                break
            for asked, answer in ANSWERS:
                if asked in chunk:
                    os.write(self.fd, answer)
            got, last = got + chunk, time.perf_counter()
        return got, last

    def read_for(self, seconds: float) -> bytes:
        """Return all that comes within a time."""
        got, end = b"", time.perf_counter() + seconds
        while (left := end - time.perf_counter()) > 0:
            if select.select([self.fd], [], [], left)[0]:
                got += os.read(self.fd, 65536)
        return got

    def processor_s(self) -> float:
        """Return the time that the processor has worked for the child so far, which no other program lengthens."""
        with open(f"/proc/{self.pid}/stat") as stat:
            user, system = stat.read().rpartition(")")[2].split()[11:13]
        return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")

    def peak_mb(self) -> float:
        """Return the child's peak memory so far in MB, as the kernel counts it."""
        with open(f"/proc/{self.pid}/status") as status:
            line = next(line for line in status if line.startswith("VmHWM"))
        return int(line.split()[1]) / 1024


@contextmanager
def slowed(pid: int, quota_us: int = 1000, period_us: int = 5000) -> Iterator[None]:
    """Hold a process to a quota of the processor by a cgroup of its own; raises OSError where none may be made."""
    base = next(path for path in (Path("/sys/fs/cgroup/cpu"), Path("/sys/fs/cgroup")) if path.is_dir())
    group = base / f"forescale-bench-{pid}"
    group.mkdir()
    try:
        if (group / "cpu.max").exists():
            (group / "cpu.max").write_text(f"{quota_us} {period_us}")
        else:
            (group / "cpu.cfs_period_us").write_text(str(period_us))
            (group / "cpu.cfs_quota_us").write_text(str(quota_us))
        (group / "cgroup.procs").write_text(str(pid))
        yield
    finally:
        (base / "cgroup.procs").write_text(str(pid))
        group.rmdir()


def children_peak_mb() -> float:
    """Return the largest peak memory of all children that ended, in MB."""
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
