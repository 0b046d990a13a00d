"""Signals: a request to end keeps the work first, and a program that was stopped paints its whole screen again."""

import asyncio
import os
import signal
from collections.abc import Callable
from contextlib import suppress
from threading import Timer
from types import FrameType

ENDING = ("SIGTERM", "SIGHUP", "SIGQUIT", "SIGINT")
GIVE_UP_S = 2.0  # a terminal that has gone takes nothing more, and whoever writes to it may wait for ever


def listen(keep: Callable[[], object], leave: Callable[[int], object], paint: Callable[[], object]) -> None:
    """Let signals reach the app, where the system has them."""
    loop = asyncio.get_running_loop()
    with suppress(NotImplementedError, RuntimeError, ValueError):
        for name in ENDING:
            if number := getattr(signal, name, None):
                loop.add_signal_handler(number, _end, keep, leave)
        _paint_after_stop(paint, loop)


def _end(keep: Callable[[], object], leave: Callable[[int], object]) -> None:
    with suppress(Exception):
        keep()
    last = Timer(GIVE_UP_S, os._exit, (0,))
    last.daemon = True
    last.start()
    leave(0)


def _paint_after_stop(paint: Callable[[], object], loop: asyncio.AbstractEventLoop) -> None:
    """Follow Textual's own handlers of a stop: none takes up what was not laid down, and all is painted at the end."""
    stop, go_on = signal.getsignal(signal.SIGTSTP), signal.getsignal(signal.SIGCONT)
    if not callable(stop) or not callable(go_on):
        return
    stopped = False

    def lay_down(number: int, frame: FrameType | None) -> None:
        nonlocal stopped
        stopped = True
        stop(number, frame)

    def take_up(number: int, frame: FrameType | None) -> None:
        nonlocal stopped
        if stopped:
            stopped = False
            go_on(number, frame)
        loop.call_soon_threadsafe(paint)

    signal.signal(signal.SIGTSTP, lay_down)
    signal.signal(signal.SIGCONT, take_up)
