"""The program in a pseudo-terminal, as a person runs it: keys in, a screen out, signals and sizes, and how it ended."""

from __future__ import annotations

import fcntl
import math
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pyte

ROOT = Path(__file__).resolve().parents[2]
MODULE = "forescale.tui.cli.commands"
# What a terminal answers when it is asked for itself, so that no program waits for an answer that never comes.
ANSWERS = ((b"\x1b[c", b"\x1b[?62;c"), (b"\x1b[?2026$p", b"\x1b[?2026;2$y"), (b"\x1b[?2048$p", b"\x1b[?2048;0$y"))
IDLE_LOOKS = 5
GIVE_UP_S = 60.0  # so long a machine with much to do may take; a program that hangs takes longer
NOBODY = 65534


def environment(home: Path, **more: str) -> dict[str, str]:
    """Return the environment of a program whose user's files lie in `home`."""
    path = os.pathsep.join([str(ROOT / ".package"), str(ROOT), *filter(None, sys.path)])
    own = {"FORESCALE_HOME": str(home), "PYTHONPATH": path, "TERM": "xterm-256color", "LANG": "C.UTF-8"}
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "TMPDIR") if name in os.environ}
    return kept | own | {"PYTHONDONTWRITEBYTECODE": "1"} | more


@dataclass
class Program:
    """One run of the app. `prepare` is called in the child before the program begins, to set limits or another user."""

    words: Sequence[str]
    home: Path
    columns: int = 80
    lines: int = 24
    environ: dict[str, str] = field(default_factory=dict)
    prepare: Callable[[], None] | None = None
    python: str = sys.executable
    folder: Path | None = None
    status: int | None = None
    got: bytearray = field(default_factory=bytearray)

    def __enter__(self) -> Program:
        """Start the program."""
        self._screen = pyte.Screen(self.columns, self.lines)
        self._stream = pyte.ByteStream(self._screen)
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            self._become()
        self.resize(self.columns, self.lines)
        return self

    def _become(self) -> None:
        """Be the program, in the child."""
        try:
            if self.folder is not None:
                os.chdir(self.folder)
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", self.lines, self.columns, 0, 0))
            if self.prepare is not None:
                self.prepare()
            argv = [self.python, "-m", MODULE, *self.words]
            os.execve(self.python, argv, environment(self.home, **self.environ))
        finally:
            os._exit(99)

    def __exit__(self, *_: object) -> None:
        """End the program, if it has not ended."""
        if self.status is None:
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
        if self.fd >= 0:
            os.close(self.fd)

    def resize(self, columns: int, lines: int) -> None:
        """Give the terminal another size, of which the kernel tells the program."""
        self.columns, self.lines = columns, lines
        self._screen.resize(lines, columns)
        if self.fd >= 0:
            fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))

    def send(self, keys: bytes) -> None:
        """Type these keys, reading meanwhile what comes: a terminal never lets its program wait."""
        while keys:
            self.read(0.0)
            assert self.fd >= 0, f"the program ended ({self.status}) before it could be typed to:\n{self.said()}"
            _, ready, _ = select.select([], [self.fd], [], 0.05)
            if ready:
                keys = keys[os.write(self.fd, keys[:512]) :]

    def read(self, wait_s: float) -> bytes:
        """Return what comes next within a time; nothing where nothing comes."""
        if self.fd < 0 or not select.select([self.fd], [], [], wait_s)[0]:
            return b""
        try:
            chunk = os.read(self.fd, 65536)
        except OSError:  # the program has gone
            chunk = b""
        if not chunk:
            self._gone()
            return b""
        for asked, answer in ANSWERS:
            if asked in chunk:
                os.write(self.fd, answer)
        self._stream.feed(chunk)
        self.got += chunk
        return chunk

    def _gone(self) -> None:
        self._reap(0)
        os.close(self.fd)
        self.fd = -1

    @property
    def text(self) -> str:
        """What the screen shows, spaces and line ends made one space."""
        return " ".join(" ".join(self._screen.display).split())

    def rows(self) -> list[str]:
        """Return what the screen shows, a text a row."""
        return list(self._screen.display)

    def forget_screen(self) -> None:
        """Let the terminal lose what it shows, as when another program has drawn over it."""
        self._screen.reset()

    def stopped(self) -> bool:
        """Tell whether the program has been stopped."""
        return Path(f"/proc/{self.pid}/stat").read_text().rpartition(")")[2].split()[0] == "T"

    def wait_for(self, text: str, give_up_s: float = GIVE_UP_S) -> None:
        """Wait until the screen shows a text."""
        self.wait_until(lambda: text in self.text, f'"{text}" to be shown', give_up_s)

    def wait_until(self, true: Callable[[], bool], what: str, give_up_s: float = GIVE_UP_S) -> None:
        """Wait until something is so."""
        end = time.monotonic() + give_up_s
        while not true():
            assert self.fd >= 0, f"the program ended ({self.status}) before it could come to {what}:\n{self.said()}"
            assert time.monotonic() < end, f"waited in vain for {what}; the screen:\n" + "\n".join(self._screen.display)
            self.read(0.05)

    def wait_still(self, still_s: float = 0.3) -> None:
        """Wait until nothing has come for a time."""
        while self.read(still_s):
            pass

    def wait_idle(self, hang_s: float = math.inf) -> None:
        """Wait until nothing has come for a while and none of its threads wants the processor.

        Raises AssertionError where it takes so much of the processor's time and gives no sign of life.
        """
        looks, spent = 0, self.cpu_s()
        while self.fd >= 0 and looks < IDLE_LOOKS:
            came, used = self.read(0.03), self.cpu_s() if self.fd >= 0 else 0.0
            spent, looks = (used, 0) if came else (spent, 0 if self._at_work() else looks + 1)
            assert used - spent < hang_s, f"no sign of life at {self.columns} × {self.lines}: {self.said()[-500:]!r}"

    def _at_work(self) -> bool:
        try:
            told = [thread.read_text() for thread in Path(f"/proc/{self.pid}/task").glob("*/stat")]
        except OSError:  # one has just ended
            return True
        return any(thread.rpartition(")")[2].split()[0] in "RD" for thread in told)

    def signal(self, number: int) -> None:
        """Send the program a signal."""
        os.kill(self.pid, number)

    def ended(self, give_up_s: float = GIVE_UP_S) -> int:
        """Wait for the end and return the exit code; negative is the signal that ended it."""
        end = time.monotonic() + give_up_s
        while self.status is None:
            assert time.monotonic() < end, "the program does not end; the screen:\n" + "\n".join(self._screen.display)
            if self.fd >= 0:
                self.read(0.05)
            else:
                time.sleep(0.01)
            self._reap(os.WNOHANG)
        return self.status

    def hang_up(self) -> None:
        """Close the terminal, as a lost connection does."""
        os.close(self.fd)
        self.fd = -1

    def _reap(self, how: int) -> None:
        if self.status is None:
            pid, status = os.waitpid(self.pid, how)
            if pid:
                self.status = os.waitstatus_to_exitcode(status)

    def said(self) -> str:
        """Return the last of what came, the terminal's own codes left in."""
        return bytes(self.got[-4000:]).decode("utf-8", "replace")

    def memory_mb(self) -> float:
        """Return the memory that the program holds now, in MB, as the kernel counts it."""
        status = Path(f"/proc/{self.pid}/status").read_text()
        lines = [line for line in status.splitlines() if line.startswith("VmRSS")]
        assert lines, f"the program ended ({self.ended()}):\n{self.said()}"
        return int(lines[0].split()[1]) / 1024

    def cpu_s(self) -> float:
        """Return the processor's time that the program has used, in seconds."""
        fields = Path(f"/proc/{self.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def as_nobody() -> None:
    """Become a user to whom other people's closed folders are closed."""
    os.setgroups([])
    os.setgid(NOBODY)
    os.setuid(NOBODY)


@cache
def python_of_nobody() -> str | None:
    """Return a Python that another user can run the program with; None where there is none, or nobody to become."""
    if os.geteuid() != 0:
        return None
    for python in (sys.executable, f"/usr/bin/python{sys.version_info.major}.{sys.version_info.minor}"):
        argv = [python, "-c", f"import {MODULE}, textual.app"]
        try:
            subprocess.run(argv, check=True, preexec_fn=as_nobody, env=environment(Path("/")), capture_output=True)
        except (OSError, subprocess.SubprocessError):
            continue
        return python
    return None
