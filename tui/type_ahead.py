"""Keys taken one at a time: what is typed ahead of a slow screen goes where it would have gone had one waited."""

import asyncio
from collections import deque
from contextlib import suppress
from typing import TypeVar

from textual import events
from textual.app import App
from textual.message_pump import MessagePump

Result = TypeVar("Result")
ROUNDS = 3  # a key, what it does, and what follows from that: each is a message that goes up through the widgets
MOST_KEYS = 40
LOOK_S = 0.02  # a widget that has gone away answers no more: how often to look
LOOKS = 100  # and when to give up


class TypeAhead(App[Result]):
    """An app that holds each key back until the one before has done all that it does."""

    def __init__(self, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._ahead: deque[events.Key] = deque()
        self._in_hand: events.Key | None = None
        self._taking: asyncio.Task[None] | None = None
        self.last_keys: deque[str] = deque(maxlen=MOST_KEYS)  # for a report of a failure, what is typed left out

    @property
    def keys_wait(self) -> bool:
        """Whether keys wait for their turn, or the last one taken is still at work."""
        return self._taking is not None and not self._taking.done()

    async def on_event(self, event: events.Event) -> None:
        """Put a new key behind those that wait; let everything else through."""
        if not isinstance(event, events.Key) or event.is_forwarded or event is self._in_hand:
            await super().on_event(event)
            return
        self._ahead.append(event)
        if not self.keys_wait:
            self._taking = asyncio.create_task(self._take_keys())

    async def _take_keys(self) -> None:
        while self._ahead:
            self._in_hand = self._ahead.popleft()
            key, character = self._in_hand.key, self._in_hand.character
            typed = self.focused is not None and self.focused.check_consume_key(key, character)
            self.last_keys.append("*" if typed else key)
            if not self.post_message(self._in_hand):
                return
            await self._settled()

    async def _settled(self) -> None:
        """Wait until every widget from the focus up to the app has handled what it was sent."""
        await _handled(self)
        for _ in range(ROUNDS):
            for widget in (self.focused or self.screen).ancestors_with_self:
                await _handled(widget)


async def _handled(pump: MessagePump) -> None:
    """Wait until a widget has handled all that it has been sent so far, or has gone away."""
    done = asyncio.Event()
    for _ in range(LOOKS if pump.post_message(events.Callback(done.set)) else 0):
        with suppress(TimeoutError):
            async with asyncio.timeout(LOOK_S):
                await done.wait()
        if done.is_set() or not pump.is_running:
            return
