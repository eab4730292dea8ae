"""How many hours at power has a soak shown at most, by a reckoning that shares no code with the core?

Only the clock that can't be set back is asked, and time that no clock measured is left out. A stretch lies between two
looks at which every step passed; it is worth nothing where a look between is missing or nothing shows that power stayed
on, and one interval where the look came late. The core may give less and never more.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

from monitor_facts import SoakFacts, StepFacts, When, rule

from passcheck.job import events as happened
from passcheck.job.events import Event

METER_DIGITS = 1.5


@dataclass(frozen=True)
class Look:
    """One look at a soaking unit, the start being the first; times on measured time, in milliseconds."""

    begun_ms: int
    done_ms: int
    sound: bool
    sign: str | None
    cycles: int
    passes: frozenset[tuple[str, int]] = frozenset()  # step and number of the try

    def passed(self, check: frozenset[str]) -> bool:
        """True when it was walked to its end."""
        return check <= {step for step, _number in self.passes}


@dataclass(frozen=True)
class Leg:
    """From a start to an end at power; `spoiled` holds the causes that made it worthless."""

    step: str
    supply: str
    looks: tuple[Look, ...]
    going_on: bool = True
    spoiled: frozenset[str] = frozenset()


@dataclass
class SoakWatch:
    """The legs so far, and the measured time; `must_end` names why the next event has to end the soak."""

    legs: tuple[Leg, ...] = ()
    measured_ms: int = 0
    highest: When | None = None
    cycled: int = 0  # since the look before
    must_end: str = ""

    @property
    def going_on(self) -> Leg | None:
        """The soak that nobody ended."""
        return self.legs[-1] if self.legs and self.legs[-1].going_on else None

    def passes_time(self, event: Event, when: When) -> None:
        """Every event carries the clock on; after a look that failed there is one thing only that may follow."""
        ends = isinstance(event, happened.SoakInterrupted)
        rule(ends or not self.must_end, f"{type(event).__name__} on a soak that had to end: {self.must_end}")
        self.must_end = ""
        if self.highest is not None and when.boot == self.highest.boot:
            self.measured_ms += max(0, when.clock_ms - self.highest.clock_ms)
            self.highest = max(self.highest, when, key=lambda one: one.clock_ms)
            return
        self.highest = when

    def started(self, event: happened.SoakStarted, step: StepFacts) -> None:
        """A unit was left at power."""
        soak = step.soak
        rule(soak is not None, "a soak begun on a step that is none")
        assert soak is not None
        rule(self.going_on is None, "a soak begun while another goes on")
        rule(bool(event.witness) or not (soak.sign and soak.continuous), "a soak begun with nothing to show continuity")
        rule(not event.unattended or (soak.may_be_left and len(event.unattended) == 4), "a soak left alone wrongly")
        self.cycled = 0
        leg = Leg(event.step, event.supply, ())
        self.legs = (*self.legs, replace(leg, looks=(self._look(event.witness, sound=True),)))

    def checked(self, event: happened.SoakChecked, serial: str) -> None:
        """It was looked at."""
        leg = self._of(event.step, "a look at")
        rule(not event.good or event.serial_scanned == serial, "a look at another unit taken for a good one")
        if not event.good:
            self.must_end = "its look was not good"
        look = self._look(event.continuity, sound=event.good, cycles=event.cycles + self.cycled)
        self.cycled = 0
        self.legs = (*self.legs[:-1], replace(leg, looks=(*leg.looks, look)))

    def walked(self, step: str, number: int, verdict: str, soak: SoakFacts) -> None:
        """A step was tried at the open look."""
        leg = self._of(self.legs[-1].step if self.legs else "", "a step walked at")
        rule(step in soak.check, f"{step} walked at a look that doesn't ask for it")
        last = leg.looks[-1]
        rule(step not in {name for name, _number in last.passes}, f"{step} walked again at a look that it passed")
        if verdict == "fail":
            self.must_end = f"{step} failed"
        if verdict == "pass":
            done = replace(last, passes=last.passes | {(step, number)}, done_ms=self.measured_ms)
            self.legs = (*self.legs[:-1], replace(leg, looks=(*leg.looks[:-1], done)))

    def finished(self, step: str, soak: SoakFacts) -> None:
        """It was said to be done."""
        leg = self._of(step, "the end of")
        rule(leg.looks[-1].passed(soak.check), "a soak done with its last look not walked to its end")
        rule(self.shows(step, soak), "a soak done that is short of hours or cycles")
        self.ended()

    def shows(self, step: str, soak: SoakFacts) -> bool:
        """True when what stands of its looks may be worth the hours and cycles that are asked for."""
        return self.at_most_s(step, soak) >= soak.hours_s - 1e-6 and self.cycles(step) >= soak.cycles

    def interrupted(self, step: str) -> None:
        """It ended early."""
        self._of(step, "an early end of")
        self.ended()

    def ended(self) -> None:
        """Whatever was said, it goes on no more."""
        if self.legs:
            self.legs = (*self.legs[:-1], replace(self.legs[-1], going_on=False))

    def told(self, supplies: tuple[str, ...]) -> None:
        """Power was told otherwise: a soak on that supply is over."""
        leg = self.going_on
        if leg is not None and leg.supply in supplies:
            self.ended()

    def cycle(self) -> None:
        """Power was told off and on again."""
        self.cycled += self.going_on is not None

    def spoiled(self, steps: set[str], cause: str) -> None:
        """What was shown so far of these soaks is worthless."""
        hit = (replace(leg, spoiled=leg.spoiled | {cause}) if leg.step in steps else leg for leg in self.legs)
        self.legs = tuple(hit)

    def restored(self, cause: str) -> None:
        """This cause turned out to be none."""
        self.legs = tuple(replace(leg, spoiled=leg.spoiled - {cause}) for leg in self.legs)

    def forgets(self, number: int) -> None:
        """A pass at a look was withdrawn."""

        def without(look: Look) -> Look:
            return replace(look, passes=frozenset(one for one in look.passes if one[1] != number))

        self.legs = tuple(replace(leg, looks=tuple(without(look) for look in leg.looks)) for leg in self.legs)

    def cycles(self, step: str) -> int:
        """Planned power cycles that were made."""
        return sum(look.cycles for leg in self._standing(step) for look in leg.looks)

    def at_most_s(self, step: str, soak: SoakFacts) -> float:
        """The most that may be said to be shown, in seconds."""
        return sum(_leg_s(leg, soak) for leg in self._standing(step))

    def key(self, step: str, soak: SoakFacts) -> tuple[object, ...]:
        """What the future of a soak depends on, with what is there in abundance left out."""
        leg = self.going_on
        shown = min(self.at_most_s(step, soak), soak.hours_s)
        if leg is None or leg.step != step:
            return shown, self.must_end
        good = max((at for at, look in enumerate(leg.looks) if look.passed(soak.check)), default=-1)
        return (
            shown,
            self.must_end,
            leg.looks[-1].passed(soak.check),
            bool(leg.spoiled),
            tuple((self.measured_ms - look.begun_ms, look.sign) for look in leg.looks[max(good, 0) :]),
            good >= 0,
        )

    def _look(self, sign: str | None, *, sound: bool, cycles: int = 0) -> Look:
        return Look(self.measured_ms, self.measured_ms, sound, sign, cycles)

    def _of(self, step: str, what: str) -> Leg:
        leg = self.going_on
        rule(leg is not None and leg.step == step, f"{what} a soak that doesn't go on")
        assert leg is not None
        return leg

    def _standing(self, step: str) -> list[Leg]:
        return [leg for leg in self.legs if leg.step == step and not leg.spoiled]


def _leg_s(leg: Leg, soak: SoakFacts) -> float:
    good = [place for place, look in enumerate(leg.looks) if look.sound and look.passed(soak.check)]
    total_s = 0.0
    for begin, end in pairwise(good):
        first = leg.looks[begin]
        begun_ms = first.done_ms if begin == good[0] else first.begun_ms
        total_s += _stretch_s(begun_ms, first, leg.looks[begin + 1 : end + 1], soak)
    return total_s


def _stretch_s(begun_ms: int, first: Look, later: tuple[Look, ...], soak: SoakFacts) -> float:
    length_s = max(0.0, (later[-1].begun_ms - begun_ms) / 1000)
    in_time_s = soak.every_s + max(soak.every_s / 10, 300.0)
    if length_s >= 2 * soak.every_s and length_s > in_time_s:
        return 0.0
    off_s = sum(look.cycles for look in later) * soak.off_s
    if soak.continuous and not _power_stayed(first, later, off_s):
        return 0.0
    return max(0.0, (length_s if length_s <= in_time_s else soak.every_s) - off_s)


def _power_stayed(first: Look, later: tuple[Look, ...], off_s: float) -> bool:
    """A sign at each look, and an hour meter that went on with the time, as far as its digits show it."""
    if any(look.sign is None for look in later):
        return False
    begun, ended = _meter_s(first.sign), _meter_s(later[-1].sign)
    if begun is None or ended is None:
        return begun is None
    passed_s = (later[-1].begun_ms - first.begun_ms) / 1000 - off_s
    return passed_s - (ended - begun) <= METER_DIGITS * 3600 / 10 * len(later)  # no finer than a tenth of an hour


def _meter_s(sign: str | None) -> float | None:
    if sign is None or not sign.endswith(" h"):
        return None
    try:
        return float(sign.removesuffix(" h")) * 3600
    except ValueError:
        return None
