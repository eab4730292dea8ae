"""How well does this bench time a tap of this key or pedal?

A screen of its own beside the shelf: each tap with its interval, and what was bounce, a held key or doubtful. With a
file it writes one JSON object a tap, for whoever wants to check the times against other ones.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from typing import IO, Final

from textual.app import App, ComposeResult
from textual.events import Key

from passcheck.app.key_clock import key_now_s
from passcheck.app.plain import Words, lines
from passcheck.app.reader_lost import ReaderLost
from passcheck.app.signals import end_on_signals
from passcheck.app.taps import Arrival, Taps, intervals_s, no_tap_key_because, usual_lag_s

SHOWN: Final = 10
FINAL_S: Final = 0.2
"""So long after a tap it shows whether it was the first repeat of a held key."""
HEAD: Final = "Press the tap key or the pedal. Taps, time since the tap before in seconds; q ends."
WORDS: Final = {
    "tap": "tap",
    "bounce": "bounce: not counted",
    "held": "held key: not counted",
    "doubtful": "doubtful: not used",
}


class TapCheckApp(App[None]):
    """Every key but q is a tap."""

    TITLE = "passcheck bench tap-check"
    ENABLE_COMMAND_PALETTE = False
    CSS = "Screen { padding: 1 2; } Words { height: auto; margin-bottom: 1; }"

    def __init__(self, write: IO[str] | None = None, ready: Callable[[], None] = lambda: None) -> None:
        """Args:
        write: where each tap goes as one JSON line.
        ready: called once, when taps are taken.
        """
        super().__init__()
        self.taps = Taps()
        self.is_reader_lost = False
        self.unwritten: OSError | None = None  # why a tap couldn't be written, which ends the screen
        self._write = write
        self._kept = 0  # so many arrivals are settled
        self._tell_ready = ready

    def compose(self) -> ComposeResult:
        """What to do, the taps, what they show."""
        yield Words(HEAD)
        yield Words(id="rows")
        yield Words(id="found")

    def on_mount(self) -> None:
        """Nothing moves while taps are taken."""
        self.animation_level = "none"
        end_on_signals(lambda code: self.exit(return_code=code))
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        try:
            self._tell_ready()
        except OSError as fault:
            self._end_unwritten(fault)
            return
        if not self.taps.arrivals:
            self.query_one("#found", Words).say("No tap yet.")

    def on_key(self, event: Key) -> None:
        """Take one key with the moment at which its byte was read."""
        handler_s = key_now_s()
        if event.key == "ctrl+q":  # Textual's own
            return
        event.stop()
        event.prevent_default()
        if event.key == "q":  # nothing is half done here that a slip could lose
            self.exit(return_code=0)
            return
        why = no_tap_key_because(event.key, event.character)
        if why:
            self.query_one("#found", Words).say(f"Not a tap key: {why}.")
            return
        self.taps = self.taps.after(event.time, handler_s)
        self._keep_up_to(event.time - FINAL_S)
        if self.unwritten is None:
            self._show()

    def on_unmount(self) -> None:
        """Whatever ended the screen, what was tapped is written."""
        if self.unwritten is None:
            self._keep_up_to(math.inf)

    def _keep_up_to(self, until_s: float) -> None:
        """Write the taps up to then: a later key can't show any more that one of them was none."""
        final = [one for one in self.taps.arrivals[self._kept :] if one.event_s <= until_s]
        self._kept += len(final)
        try:
            for arrival in final:
                self._keep(arrival)
        except OSError as fault:
            self._end_unwritten(fault)

    def _keep(self, arrival: Arrival) -> None:
        if self._write is not None and arrival.kind == "tap":
            self._write.write(json.dumps({"event": arrival.event_s, "handler": arrival.handler_s}) + "\n")
            self._write.flush()

    def _end_unwritten(self, fault: OSError) -> None:
        self.unwritten = fault
        self.exit()

    def on_reader_lost(self, event: ReaderLost) -> None:
        """Taps go on, less exactly."""
        event.stop()
        self.is_reader_lost = True
        self.taps = self.taps.reader_lost()
        self._show()

    def _show(self) -> None:
        self.query_one("#rows", Words).say(lines("\n".join(_rows(self.taps.arrivals))))
        self.query_one("#found", Words).say(lines("\n".join(found(self.taps, is_reader_lost=self.is_reader_lost))))


def _rows(arrivals: tuple[Arrival, ...]) -> list[str]:
    first = max(1, len(arrivals) - SHOWN)
    rows = [] if len(arrivals) > SHOWN else [f"{1:5}         {WORDS[arrivals[0].kind]}"] if arrivals else []
    for place in range(first, len(arrivals)):
        gap = arrivals[place].event_s - arrivals[place - 1].event_s
        rows.append(f"{place + 1:5}  {gap:6.3f} {WORDS[arrivals[place].kind]}")
    return rows


def found(taps: Taps, *, is_reader_lost: bool) -> list[str]:
    """What the taps so far show of key and host, in sentences that end where the knowledge does."""
    counts = {kind: len(taps.of(kind)) for kind in ("tap", "bounce", "held", "doubtful")}
    told = [
        f"{counts['tap']} taps, {counts['bounce']} bounces, {counts['held']} repeats of a held key, "
        f"{counts['doubtful']} doubtful.",
        f"A tap's time is good to about ± {1000 * taps.resolution_s:.0f} ms (keyboard and host; monotonic clock).",
        f"The screen comes to a key {1000 * usual_lag_s(taps.arrivals):.0f} ms later; that time is not used.",
    ]
    gaps = intervals_s(taps.arrivals)
    if gaps:
        told.insert(1, f"Shortest time between taps {min(gaps):.3f} s, longest {max(gaps):.3f} s.")
    if is_reader_lost:
        told.append("The process that reads the keys was lost: times from here on are less exact. Start anew.")
    return told
