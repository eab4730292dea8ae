"""What is to be seen of what answers, lights or moves some time after the hand did something?"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from passcheck.practice import motion, shows
from passcheck.practice.displays import Displays
from passcheck.practice.seen import ButtonSeen, Dial, Hands, LampSeen, LampState, Panel, Row
from passcheck.sequence import model

BETWEEN_WAYS_S: Final = 0.8  # a pointer rests at the top before it comes down
NO_ANSWER: Final = "no answer"
SHORTEST_LIT_S: Final = 0.3  # a lamp that lights late is still seen before it goes out
TRIES_SHOWN: Final = 8


@dataclass(frozen=True, slots=True)
class Moving:
    """The instruments, and what the hand did."""

    displays: Displays
    hands: Hands

    def _is_answered(self, found: shows.Responds) -> bool:
        delay_s = motion.delay_of(found, self.hands.acts - 1) if self.hands.acts else None
        return delay_s is not None and self.hands.since_s >= delay_s

    def _answer_due_s(self, found: shows.Responds) -> float | None:
        delay_s = motion.delay_of(found, self.hands.acts - 1) if self.hands.acts else None
        return None if delay_s is None or self._is_answered(found) else delay_s

    def _tries(self, step: model.ResponseStep | model.PressesStep, found: shows.Responds) -> Iterator[Row]:
        """The times of the tries that are over, by the instrument."""
        if step.limits is None:
            return
        over = self.hands.acts if self._answer_due_s(found) is None else self.hands.acts - 1
        for nth in range(max(0, over - TRIES_SHOWN), over):
            delay_s = motion.delay_of(found, nth)
            row = self.displays.of_step(step, f"try {nth + 1}", delay_s or 0.0, step.limits, nth)
            yield row if delay_s is not None else (row[0], NO_ANSWER)

    def response(self, step: model.ResponseStep, found: shows.Responds, panel: Panel) -> Panel:
        """A lamp for the answer, and the times of the tries."""
        lamp = LampSeen(step.watch, step.watch, "LIT" if self._is_answered(found) else "dark")
        return replace(
            panel,
            act=f"press: {step.press}",
            lamps=(lamp,),
            meters=tuple(self._tries(step, found)),
            next_s=self._answer_due_s(found),
        )

    def presses(self, step: model.PressesStep, found: shows.Responds, panel: Panel) -> Panel:
        """Buttons with their counters, and a lamp where the answer is timed."""
        acts, waits = self.hands.acts, self._answer_due_s(found)
        here = min(acts // step.times, len(step.press) - 1)
        buttons = []
        for nth, name in enumerate(step.press):
            first = min(acts, nth * step.times)
            last = acts if nth == len(step.press) - 1 else min(acts, first + step.times)
            seen_to = last - 1 if waits is not None and first < last == acts else last
            counts = motion.counted(found, seen_to) - motion.counted(found, first)
            buttons.append(ButtonSeen(name, last - first, counts))
        lamp = LampSeen(step.watch, step.watch, "LIT" if self._is_answered(found) else "dark")
        return replace(
            panel,
            act=f"press {step.press[here]}",
            buttons=tuple(buttons),
            lamps=(lamp,) if step.limits is not None else (),
            meters=self._slowest(step, found),
            next_s=waits,
        )

    def _slowest(self, step: model.PressesStep, found: shows.Responds) -> tuple[Row, ...]:
        delays_s = [motion.delay_of(found, nth) for nth in range(self.hands.acts)]
        answered = [one for one in delays_s if one is not None]
        if step.limits is None or not answered or self._answer_due_s(found) is not None:
            return ()
        return (self.displays.of_step(step, "the slowest", max(answered), step.limits),)

    def lamps(self, step: model.LampsStep, found: shows.Lights, panel: Panel) -> Panel:
        """Each lamp as it is now, and the times by the instrument once all is over."""
        amiss: dict[int, LampState] = {one.number: "dark" if one.seen == "dark" else "flickers" for one in found.amiss}
        acts, since_s = self.hands.acts, self.hands.since_s
        timed = step.on_within is not None or step.off_after is not None
        out_s = max(found.out_s, found.on_s + SHORTEST_LIT_S) if step.off_after is not None else None
        lit, act, next_s = set(range(1, len(step.lamps) + 1)), "", None
        if step.check == "alone":
            act = "light the next lamp"
            lit = {(acts - 1) % len(step.lamps) + 1} if acts else set()
        elif step.check == "rate":
            lit = lit if motion.blinks_lit(found.rate_hz, since_s) else set()
            next_s = motion.next_blink_s(found.rate_hz, since_s)
        elif timed:
            act = "switch off, wait, switch on"
            lit = lit if acts and found.on_s <= since_s < (out_s or since_s + 1) else set()
            changes = (at_s for at_s in (found.on_s, out_s) if acts and at_s is not None and at_s > since_s)
            next_s = min(changes, default=None)
        seen = (
            LampSeen(lamp.ref, lamp.colour, amiss.get(nth, "LIT") if nth in lit else "dark")
            for nth, lamp in enumerate(step.lamps, 1)
        )
        meters = tuple(self._lamp_times(step, found)) if step.check == "rate" or (acts and next_s is None) else ()
        return replace(panel, act=act, lamps=tuple(seen), meters=meters, next_s=next_s)

    def _lamp_times(self, step: model.LampsStep, found: shows.Lights) -> Iterator[Row]:
        asked = (
            ("lit after", found.on_s, step.on_within),
            ("out after", found.out_s, step.off_after),
            ("rate", found.rate_hz, step.limits),
        )
        for label, value, limits in asked:
            if limits is not None and (label == "rate") == (step.check == "rate"):
                yield self.displays.of_step(step, label, value, limits)

    def sweep(self, step: model.SweepStep, found: shows.Sweeps, panel: Panel) -> Panel:
        """The pointer on its way up and down, then its times and whether it halted."""
        down_from_s = found.up_s[-1] + BETWEEN_WAYS_S
        since_s = self.hands.since_s if self.hands.acts else 0.0
        rising = since_s < down_from_s
        share = motion.pointer_share(found.up_s, since_s)
        next_s: float | None = motion.next_picture_s(found.up_s, since_s) or down_from_s
        if not rising:
            share = 1 - motion.pointer_share(found.down_s, since_s - down_from_s)
            later_s = motion.next_picture_s(found.down_s, since_s - down_from_s)
            next_s = None if later_s is None else down_from_s + later_s
        panel = replace(panel, act="start the sweep, up and down", dial=sweep_dial(step, share))
        if not self.hands.acts:
            return panel
        if next_s is not None:
            return replace(panel, next_s=next_s)
        up = self.displays.of_step(step, "up", found.up_s[-1], step.up)
        down = self.displays.of_step(step, "down", found.down_s[-1], step.down)
        return replace(panel, meters=(up, down), found=(("the pointer", _halt_words(step, found)),))


def sweep_dial(step: model.SweepStep, share: float) -> Dial:
    """The gauge of a sweep with its pointer, and the marks that are tapped."""
    last = step.marks - 1
    return Dial(step.gauge, tuple((nth / last, str(nth + 1)) for nth in range(step.marks)), share)


def _halt_words(step: model.SweepStep, found: shows.Sweeps) -> str:
    for passes_s, rising in ((found.up_s, True), (found.down_s, False)):
        share = motion.halts_at(passes_s)
        if share is not None:
            place = int((share if rising else 1 - share) * (step.marks - 1)) + 1
            return f"stopped between mark {place} and mark {place + 1}"
    return "ran through without a stop"
