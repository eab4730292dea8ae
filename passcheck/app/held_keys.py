"""Which keys are held back for a moment, until it is plain whether a hand or a scanner typed them?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import events

from passcheck.app.desk import Desk
from passcheck.app.key_clock import key_now_s
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

    def scanned(self, code: str) -> None:
        """A code came in where no entry had the focus."""

    async def on_event(self, event: events.Event) -> None:
        """Hold single printable keys for a moment where no entry has the focus, so that a scan commands nothing."""
        if not isinstance(event, events.Key) or event.is_forwarded or not self.is_running:
            await super().on_event(event)
            return
        if getattr(self.screen, "takes_taps", False):
            await super().on_event(event)
            return
        if event.key == self.tap_key and not takes_text(self.focused):
            event.stop()  # a pedal commands nothing, says nothing and answers nothing
            return
        code = self._guard.code_ended_by(event)
        if code is not None:
            self.scanned(code)
        elif takes_text(self.focused) or not self._guard.is_held(event):
            await self._give_back()
            await super().on_event(event)
        else:
            self.set_timer(HOLD_S, self._settle)

    async def _settle(self) -> None:
        held = self._guard.held
        if held and key_now_s() - held[-1].time >= HOLD_S * 0.9:
            await self._give_back()

    async def _give_back(self) -> None:
        for key in self._guard.given_back():
            await super().on_event(key)
