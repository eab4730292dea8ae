"""Does a key that still waits when the program ends keep it from ending?"""

import asyncio
from typing import cast

from textual import events
from textual.app import App
from textual.message_pump import MessagePump

from passcheck.app.keys_in_turn import KeysInTurn

MOST_CALLS = 100


class Leaving:
    """A screen of a program that ends: calls are refused, and what lies before it is never done."""

    focused = None
    is_running = True
    message_queue_size = 3

    def __init__(self) -> None:
        self.calls = 0

    @property
    def screen(self) -> MessagePump:
        return cast(MessagePump, self)

    def call_later(self, *_: object) -> bool:
        self.calls += 1
        assert self.calls < MOST_CALLS, "asked without an end"
        return False


async def test_keys_that_wait_while_the_program_ends_hold_nothing_up() -> None:
    app = Leaving()
    turn = KeysInTurn(cast(App[None], app))
    acted: list[str] = []

    async def act(key: events.Key) -> bool:
        acted.append(key.key)
        return True

    for key in ("enter", "tab", "enter"):
        await turn.take(events.Key(key, None), act)
    for _ in range(MOST_CALLS):
        await asyncio.sleep(0)
    assert acted == ["enter"]
    assert not turn.has_more
