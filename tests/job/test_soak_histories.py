"""Whatever the clocks do, a soak is never given more hours than the unit was at power.

Ten thousand histories made from a seed: looks in time, late and missed, steps left undone, mains dips between looks, a
clock on the wall that is set back and forth, a machine that is suspended, started anew or whose program was closed,
planned times off. The truth is kept beside them and the fold of the events is asked.
"""

import random  # noqa: TID251 - histories from a seed
from dataclasses import dataclass, replace

import hand
import soaking
from story import Story

import sequences
from passcheck.job import events as happened
from passcheck.job.soak import soak_now
from sequences import RAIL

HISTORIES = 10_000
EVERY_MIN = 60.0
OFF_S = 60.0


@dataclass
class Unit:
    """What really happened: seconds at power, and the hour meter that shows them cut off at its last digit."""

    digit_s: int
    at_power_s: float = 0.0
    since_look: bool = False  # power was lost since the look before

    def meter(self) -> str:
        hours = int(self.at_power_s // self.digit_s) * self.digit_s / 3600
        return f"{hours:.{2 if self.digit_s == 36 else 1}f} h"


class History:
    """One soak, lived."""

    def __init__(self, begun: Story, passed: happened.AttemptJudged, chance: random.Random) -> None:
        self.story = begun.twin()
        self.passed = passed
        self.chance = chance
        self.unit = Unit(chance.choice((36, 360)))
        self.metered = chance.random() < 0.7
        self.done_s: list[float] = []  # of each leg: at power when its first look was done
        self.seen_s: list[float] = []  # and when it was looked at last
        self.first_done = False

    def live(self) -> None:
        """A start, some looks, and what comes between them."""
        self._start()
        for _ in range(self.chance.randrange(1, 5)):
            self._between()
            if self.story.job.open_soak is None:
                self._start()
            else:
                self._look()

    def _start(self) -> None:
        witness = self.unit.meter() if self.metered else "the relay that drops out is in"
        self.unit.since_look = self.first_done = False
        self.story.happen(happened.SoakStarted("soak", "battery", "24.0 V", "0.15 A", witness))
        self._steps()

    def _steps(self) -> None:
        self._pass(self.chance.uniform(0, 5))
        if self.chance.random() < 0.9:
            self.story.happen(replace(self.passed, attempt=len(self.story.job.attempts) + 1))
            if not self.first_done:
                self.first_done = True
                self.done_s.append(self.unit.at_power_s)
                self.seen_s.append(self.unit.at_power_s)

    def _between(self) -> None:
        """The hours until the next look, in pieces."""
        left = self.chance.choice((60, 60, 60, 62, 64, 75, 110, 119, 121, 180, 300)) * self.chance.uniform(0.9, 1.02)
        while left > 0:
            piece = min(left, self.chance.uniform(5, 90))
            left -= piece
            self._pass(piece)
            self._something()

    def _something(self) -> None:
        clock, what = self.story.clock, 1.5 * self.chance.random()
        if what < 0.15:
            clock.set_wall(hours=self.chance.choice((-30, -1, 1, 30)) * self.chance.random())
        elif what < 0.25:
            gone = self.chance.uniform(0.5, 40)
            if self.story.job.open_soak is not None:
                self.unit.at_power_s += gone * 60  # the unit stays at power while the machine starts anew
            clock.reboot(minutes=gone)
            self.story.restart()
        elif what < 0.35:
            self.story.restart()
        elif what < 0.5:
            self._dip()
        elif what < 0.6:
            self._cycle()
        elif what < 0.65:
            self.story.happen(happened.SoakInterrupted("soak", "somebody needed the place"))

    def _dip(self) -> None:
        dark = self.chance.uniform(0.2, 30)
        self.story.clock.pass_time(minutes=dark)
        self.unit.since_look = True

    def _cycle(self) -> None:
        if self.story.job.open_soak is not None:
            self.story.happen(happened.PowerTold("cycled", ("battery",), "planned"))
            self.story.clock.pass_time(seconds=OFF_S)

    def _pass(self, minutes: float) -> None:
        self.story.clock.pass_time(minutes=minutes)
        if self.story.job.open_soak is not None:
            self.unit.at_power_s += minutes * 60

    def _look(self) -> None:
        sign: str | None = self.unit.meter() if self.metered else None if self.unit.since_look else "still in"
        if self.chance.random() < 0.1:
            sign = None
        self.unit.since_look = False
        serial = self.story.job.serial
        if self.first_done:
            self.seen_s[-1] = self.unit.at_power_s
        self.story.happen(happened.SoakChecked("soak", serial, "24.0 V", "0.15 A", sign, good=True))
        self._steps()


def powered() -> tuple[Story, happened.AttemptJudged]:
    """A unit at power before its soak, and a pass that can be told of any look."""
    story = Story(sequences.with_soak()).walk().start("burn-in").power("soak")
    trial = story.twin()
    trial.do(soaking.start(trial.job))
    (passed,) = trial.answer(RAIL).do(hand.passing(trial.job, RAIL))
    assert isinstance(passed, happened.AttemptJudged)
    return story, passed


def test_ten_thousand_histories_are_never_given_more_than_was_lived() -> None:
    begun, passed = powered()
    chance = random.Random(20310402)  # noqa: S311 - a simulation
    given_h = lived_h = 0.0
    for number in range(HISTORIES):
        history = History(begun, passed, chance)
        history.live()
        counted_s = soak_now(history.story.job, soaking.soak_of(history.story.job)).credit.counted_s
        allowed_s = sum(end - begin for begin, end in zip(history.done_s, history.seen_s, strict=True))
        if history.metered:  # what the meter shows may be ahead of what was lived by less than its last digit
            allowed_s += history.unit.digit_s * len(history.done_s)
        assert counted_s <= allowed_s + 0.01, f"history {number}"
        given_h += counted_s / 3600
        lived_h += history.unit.at_power_s / 3600
    assert 0.2 < given_h / lived_h < 1, "the histories are neither all lost nor all perfect"
