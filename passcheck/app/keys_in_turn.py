"""When is a key's turn, where keys come in faster than the screen acts on them?

A key is handed to whatever has the cursor, and the cursor moves some messages after the Enter that moves it. So a key
waits until everything that the keys before it set going is done; figures that follow figures into one entry don't, nor
does the key that makes safe.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Awaitable, Callable
from contextlib import suppress
from typing import Final, Literal

from textual.app import App
from textual.events import Key
from textual.message_pump import MessagePump

from passcheck.app.widgets.typed import takes_text

LONGEST_S: Final = 2.0
"""A disk may take long; a key is never kept longer than this."""
CALM_ROUNDS: Final = 2
"""So many times in a row nobody has a message left before all counts as done; one act hands over to the next."""
CHECK_S: Final = 0.05
IN_THE_ENTRY: Final = frozenset({"backspace", "delete", "left", "right", "home", "end"})

Act = Callable[[Key], Awaitable[bool]]
"""Acts on a key; False where nothing was set going, because the key is held or dropped."""


class KeysInTurn:
    """Keys that wait for those before them."""

    def __init__(self, app: App[None]) -> None:
        """Args: app: whose screens act on the keys."""
        self._app = app
        self._waiting: deque[tuple[Key, Act]] = deque()
        self._under_way = False
        self._before: Literal["nothing", "text", "a key"] = "nothing"  # what may not be done yet
        self._task: asyncio.Task[None] | None = None

    @property
    def has_more(self) -> bool:
        """Do keys wait, so that whoever holds one back can't know yet what follows it?"""
        return bool(self._waiting) or self._under_way

    def forget(self) -> None:
        """Keys that still wait are not wanted any more."""
        self._waiting.clear()

    def pasted(self) -> None:
        """Text went into the entry; whoever acts on it next waits for it."""
        if self._before == "nothing":
            self._before = "text"

    async def take(self, event: Key, act: Act) -> None:
        """Act on a key now, or when its turn comes."""
        if self.has_more or self._must_wait(event):
            self._waiting.append((event, act))
            self._go_on()
        else:
            await self._act(event, act)

    async def take_first(self, *keys: Key, act: Act) -> None:
        """These come before all that wait."""
        at_once = bool(keys) and not (self.has_more or self._must_wait(keys[0]))
        self._waiting.extendleft((key, act) for key in reversed(keys[at_once:]))
        if at_once:
            await self._act(keys[0], act)
        self._go_on()

    def _must_wait(self, event: Key) -> bool:
        if self._before == "text":
            return not self._is_text(event)
        return self._before != "nothing"

    def _is_text(self, event: Key) -> bool:
        return takes_text(self._app.focused) and (event.is_printable or event.key in IN_THE_ENTRY)

    def _go_on(self) -> None:
        if self._waiting and (self._task is None or self._task.done()):
            self._task = asyncio.create_task(self._in_turn())

    async def _in_turn(self) -> None:
        while self._waiting:
            if self._must_wait(self._waiting[0][0]):
                await self.all_done()
                self._before = "nothing"
                continue
            event, act = self._waiting.popleft()
            acted = asyncio.Event()
            self._under_way = self._app.call_later(self._act_late, event, act, acted)
            while self._under_way and self._app.is_running:
                with suppress(TimeoutError):
                    async with asyncio.timeout(CHECK_S):
                        await acted.wait()

    async def _act_late(self, event: Key, act: Act, acted: asyncio.Event) -> None:
        try:
            if getattr(self._app.screen, "takes_taps", False):
                self.forget()  # typed before anybody asked for taps
            else:
                await self._act(event, act)
        finally:
            self._under_way = False
            acted.set()

    async def _act(self, event: Key, act: Act) -> None:
        is_text = self._before != "a key" and self._is_text(event)
        if await act(event):
            self._before = "text" if is_text else "a key"

    async def all_done(self) -> None:
        """Wait until everybody between the cursor and the application has nothing left to do."""
        calm = 0
        with suppress(TimeoutError):
            async with asyncio.timeout(LONGEST_S):
                # Where nobody takes a call any more the program ends: what still lies before them will never be done.
                while calm < CALM_ROUNDS and await self._asked_all():
                    calm = 0 if any(one.message_queue_size for one in self._concerned()) else calm + 1

    async def _asked_all(self) -> bool:
        """Everybody concerned got to the end of what lay before them when asked; False where nobody takes a call."""
        answers: dict[MessagePump, asyncio.Event] = {}
        for one in self._concerned():
            answer = asyncio.Event()
            if one.call_later(answer.set):
                answers[one] = answer
        for one, answer in answers.items():
            while one.is_running and not answer.is_set():  # who is taken off the screen answers no more
                with suppress(TimeoutError):
                    async with asyncio.timeout(CHECK_S):
                        await answer.wait()
        await asyncio.sleep(0)  # whoever asks again and again lets the others act, and the time limit strike
        return bool(answers)

    def _concerned(self) -> tuple[MessagePump, ...]:
        focused = self._app.focused
        return (*(focused.ancestors_with_self if focused is not None else (self._app.screen, self._app)),)
