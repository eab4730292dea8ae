"""Which keys are held back for a moment, until it is plain whether a hand or a scanner typed them?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import events

from passcheck.app.desk import Desk
from passcheck.app.key_clock import key_now_s
from passcheck.app.keys_in_turn import KeysInTurn
from passcheck.app.scan import HOLD_S, ScanGuard
from passcheck.app.widgets.typed import takes_text

if TYPE_CHECKING:  # the shelf stands before all of it is loaded; there is no cycle
    from passcheck.bench.shop import Shop


class HeldKeys(Desk):
    """The desk, with a guard on its keys."""

    def __init__(self, shop: Shop) -> None:
        """Take the shop."""
        super().__init__(shop)
        self._guard = ScanGuard()
        self._turn = KeysInTurn(self)

    def scanned(self, code: str) -> None:
        """A code came in where no entry had the focus."""

    async def on_event(self, event: events.Event) -> None:
        """Each key in its turn, but for taps and for the key that makes safe: those wait for nothing."""
        if isinstance(event, events.Paste) and not event.is_forwarded:
            self._turn.pasted()
        if not isinstance(event, events.Key) or event.is_forwarded or not self.is_running:
            await super().on_event(event)
        elif getattr(self.screen, "takes_taps", False):
            self._turn.forget()
            await super().on_event(event)
        elif event.key in self.make_safe_keys:
            self._turn.forget()
            await self._take(event)
        else:
            await self._turn.take(event, self._take)

    async def _take(self, event: events.Key) -> bool:
        """Hold single printable keys for a moment where no entry has the focus, so that a scan commands nothing."""
        if event.key == self.tap_key and not takes_text(self.focused):
            event.stop()  # a pedal commands nothing, says nothing and answers nothing
            return False
        code = self._guard.code_ended_by(event)
        if code is not None:
            self.scanned(code)
            return True
        if not takes_text(self.focused) and self._guard.is_held(event):
            self.set_timer(HOLD_S, self._settle)
            return False
        held = self._guard.given_back()
        if held:
            await self._turn.take_first(*held, event, act=self._hand_on)
            return False
        return await self._hand_on(event)

    async def _hand_on(self, event: events.Key) -> bool:
        await super().on_event(event)
        return True

    async def _settle(self) -> None:
        held = self._guard.held
        if held and self._turn.has_more:
            self.set_timer(HOLD_S, self._settle)
        elif held and key_now_s() - held[-1].time >= HOLD_S * 0.9:
            await self._turn.take_first(*self._guard.given_back(), act=self._hand_on)
