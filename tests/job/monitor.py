"""Does what is recorded break a rule of the bench? A watcher that sees events only and shares no code with the core.

It keeps its own idea of power, of answered cautions and of what each step's tries are worth, made from the events and
from the plain facts of the sequence. It was written from the rules, not from the core, so that the two can disagree.
"""

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field, replace
from datetime import datetime

from passcheck.job import events as happened
from passcheck.job.answers import TapPairsAnswer, TapRowsAnswer
from passcheck.job.events import Event
from passcheck.sequence.model import Sequence, Step

QUARTER_HOUR_MS = 15 * 60 * 1000
LONGEST_EXPLANATION = 9
"""Passes after a fail that can make a difference in the small models: 1 fail of 3 asks 8 after the first."""
COUNTS = ("acceptance", "retest", "burn-in")


class BrokenRule(AssertionError):
    """A rule of the bench was broken; the text says which and by what."""


@dataclass(frozen=True)
class When:
    """When an event was recorded: the clock that can't be set back, the boot it counts from, and the wall's time."""

    clock_ms: int
    boot: str
    utc: datetime


@dataclass(frozen=True)
class StepFacts:
    """What the rules need to know of one step."""

    supply: str | None
    needs: tuple[str, ...]
    cautions: frozenset[str]
    touches: bool
    role: str | None
    soak: bool
    spoiled_by: frozenset[str]  # blocks on which a rework makes its results worthless


@dataclass(frozen=True)
class Facts:
    """What the rules need to know of a sequence."""

    steps: Mapping[str, StepFacts]
    supplies: tuple[str, ...]
    danger: frozenset[str]
    points: Mapping[str, tuple[float, float]]  # place: volts below which it is discharged, seconds to wait
    little_energy: bool


@dataclass(frozen=True)
class Try:
    """One attempt as the watcher remembers it."""

    number: int
    step: str
    purpose: str
    verdict: str
    noted: bool
    stale: bool = False
    withdrawn: bool = False


@dataclass
class Monitor:
    """What the events so far amount to; `see` raises `BrokenRule` at the first that may not be."""

    facts: Facts
    serial: str = ""
    told: dict[str, str] = field(default_factory=dict)
    was_on: frozenset[str] = frozenset()
    dead: bool = False
    run: tuple[int, str] | None = None
    answered: frozenset[tuple[str, str]] = frozenset()
    tries: tuple[Try, ...] = ()
    notes: tuple[tuple[str, int], ...] = ()  # step, and how many tries there were
    incidents: frozenset[int] = frozenset()
    fitted: frozenset[str] = frozenset()
    to_be_cleared: dict[str, tuple[str, frozenset[str]]] = field(default_factory=dict)  # by rework: its action, parts
    tapping: tuple[str, str] | None = None  # the step whose taps were begun, and by whom
    blocks: frozenset[tuple[int, int, str]] = frozenset()  # reference trials: number, run, person
    strange: int = 0
    ended: bool = False
    last: When | None = None
    told_since: dict[str, tuple[str, datetime]] = field(default_factory=dict)
    watched: str | None = None  # in `key`: the one step that may fail, whose passes before a fail matter too

    def copy(self) -> "Monitor":
        """Another watcher that has seen the same."""
        twin = copy(self)
        twin.told = dict(self.told)
        twin.to_be_cleared = dict(self.to_be_cleared)
        twin.told_since = dict(self.told_since)
        return twin

    def see(self, event: Event, by: str, when: When) -> None:
        """Take in one event.

        Raises:
            BrokenRule: it may not happen here.
        """
        _rule(not self.ended, f"{type(event).__name__} after the end")
        if self.last is not None and long_away(self.last, when):
            self._absence(when)
        self.last = when
        self._take(event, by, when)

    def _take(self, event: Event, by: str, when: When) -> None:  # noqa: PLR0912 - one row an event
        match event:
            case happened.JobOpened():
                self.serial = event.serial
                self._tell(self.facts.supplies, "unknown" if self.facts.points else "off", when)
                self.dead = not self.facts.points
            case happened.RunStarted():
                _rule(self.run is None, "a run begins while another is open")
                _rule(event.serial_scanned == self.serial, "a run on another unit's serial")
                self.run, self.answered = (event.run, event.purpose), frozenset()
            case happened.RunClosed():
                _rule(self.run is not None and self.run[0] == event.run, "a run closes that is not open")
                self.run = self.tapping = None
            case happened.CautionAcknowledged():
                _rule(self.run is not None and self.run[0] == event.run, "a caution answered outside its run")
                self.answered |= {(event.caution, by)}
            case happened.Energised():
                self._energised(event, by, when)
            case happened.SupplyRead():
                self._supply_read(event, when)
            case happened.PowerTold():
                if event.told != "cycled":
                    self._tell(event.supplies, event.told, when)
            case happened.MadeSafe():
                self._made_safe(event, when)
            case happened.AttemptJudged():
                self._attempt(event, by)
            case happened.AttemptVoided():
                self._void(event)
            case happened.TimingBegun():
                self._timing_begun(event, by)
            case happened.TimingInterrupted():
                _rule(self.tapping is not None and self.tapping[0] == event.step, "taps broken off that were not begun")
                self.tapping = None
            case happened.ReferenceTapped():
                _rule(self.run is not None and self.run[0] == event.run, "reference trials outside a run")
                self.blocks |= {(event.block, event.run, by)}
            case happened.NoteAdded():
                if event.step is not None:
                    self.notes = (*self.notes, (event.step, len(self.tries)))
            case happened.ReworkLogged():
                self._untouched_but_dead("a rework")
                self.incidents -= {event.incident} if event.incident is not None else set()
                self._spoil(event.blocks, everything_powered=event.action == "firmware")
                self._worked_on(event)
            case happened.IncidentReported():
                self.incidents |= {event.incident}
                self._spoil(event.blocks)
            case happened.CaseOpened():
                self._untouched_but_dead("an opened case")
                self._spoil((), only_final=True)
            case happened.ChangeUndone():
                _rule(event.change not in self.to_be_cleared, "a lifted leg or borrowed part put back by word alone")
                self.fitted -= {event.change}
            case happened.HandedOver():
                self.answered = frozenset()
            case happened.Resumed():
                self._absence(when)
                self.tapping = None
            case happened.SignedOff():
                self._signed_off(event)
            case happened.ReturnedUnrepaired() | happened.ReturnedInPart():
                self._leaves("a unit returned")
            case happened.Unrecognised():
                self.strange += 1
            case _:
                pass

    def _tell(self, supplies: tuple[str, ...], told: str, when: When) -> None:
        for name in supplies:
            self.told[name] = told
            self.told_since[name] = (told, when.utc)
        if supplies and told != "off":
            self.dead = False
        if supplies and told != "on":
            self.answered = frozenset(pair for pair in self.answered if pair[0] not in self.facts.danger)

    def _absence(self, when: When) -> None:
        """Nobody knows what went on: what was on is unknown, and every caution is asked for again."""
        self._tell(tuple(name for name, told in self.told.items() if told == "on"), "unknown", when)
        self.answered = frozenset()

    def _energised(self, event: happened.Energised, by: str, when: When) -> None:
        step = self.facts.steps[event.step]
        _rule(self.run is not None, "power told on with no run open")
        _rule(step.supply == event.supply, "power told on for a step of another supply")
        _rule("unknown" not in self.told.values(), "power told on while a supply is unknown")
        _rule("shorting lead" not in self.fitted, "power told on with the shorting lead fitted")
        self._answered(step, by, "power told on")
        self._guarded(step, "power told on")
        self._tell((event.supply,), "on", when)
        self.was_on |= {event.supply}

    def _supply_read(self, event: happened.SupplyRead, when: When) -> None:
        if not event.restored:
            return
        _rule(self.told[event.supply] == "unknown", "a supply restored that was not unknown")
        _rule(event.supply in self.was_on, "a supply restored that was never told on")
        _rule(self.facts.little_energy, "a reading of the supply restores power on a unit that holds energy")
        _rule(not event.limit_light, "a supply restored with its limit light on")
        self._tell((event.supply,), "on", when)

    def _made_safe(self, event: happened.MadeSafe, when: When) -> None:
        if self.facts.little_energy:
            lowest = min((below for below, _ in self.facts.points.values()), default=2.0)
            _rule(event.at_supply is not None and abs(_volts(event.at_supply)) < lowest, "made safe on a high reading")
        else:
            measured = {point.at: point for point in event.points}
            for place, (below, wait_s) in self.facts.points.items():
                _rule(place in measured, f"made safe without {place}")
                point = measured[place]
                seen = [_volts(text) for text in (point.forward, point.reverse, point.again)]
                _rule(all(abs(volts) < below for volts in seen), f"made safe with {place} charged")
                _rule(point.waited_s >= wait_s, f"made safe without the wait at {place}")
                _rule(_volts(point.source_before) > 0 and _volts(point.source_after) > 0, "an untried tester")
        self._tell(self.facts.supplies, "off", when)
        self.dead = True
        if event.shorting_lead:
            self.fitted |= {"shorting lead"}

    def _attempt(self, event: happened.AttemptJudged, by: str) -> None:
        step = self.facts.steps[event.step]
        _rule(self.run is not None and self.run[0] == event.run, "an attempt outside a run")
        _rule(event.attempt == len(self.tries) + 1, "an attempt out of its number")
        if isinstance(event.answer, TapPairsAnswer | TapRowsAnswer):
            self._tapped(event, by)
        elif event.judgement.outside and event.judgement.verdict != "not measured":
            _rule(event.typed_twice, "a reading outside its limits kept at the first typing")
        self._guarded(step, "an attempt")
        if event.measured_at is None:
            self._answered(step, by, "an attempt")
            self._powered_as_asked(step)
        else:
            self._was_powered_as_asked(step, datetime.fromisoformat(event.measured_at))
        assert self.run is not None
        one = Try(event.attempt, event.step, self.run[1], event.judgement.verdict, bool(event.note))
        self.tries = (*self.tries, one)

    def _timing_begun(self, event: happened.TimingBegun, by: str) -> None:
        step = self.facts.steps[event.step]
        _rule(self.run is not None and self.run[0] == event.run, "taps begun outside a run")
        self._guarded(step, "taps")
        self._answered(step, by, "taps")
        self._powered_as_asked(step)
        self.tapping = (event.step, by)

    def _tapped(self, event: happened.AttemptJudged, by: str) -> None:
        _rule(self.tapping == (event.step, by), "taps judged that were not begun by who tapped")
        _rule(event.measured_at is None, "taps entered late")
        _rule(event.instrument is None, "taps with an instrument")
        known = event.reference is None or (event.reference, event.run, by) in self.blocks
        _rule(known, "taps beside reference trials of another run or person")
        self.tapping = None

    def _powered_as_asked(self, step: StepFacts) -> None:
        _rule("unknown" not in self.told.values(), "an attempt while a supply is unknown")
        if step.supply is None:
            if step.touches:
                self._untouched_but_dead("an unpowered attempt")
            return
        _rule(self.told[step.supply] == "on", "a powered attempt with its supply not told on")
        others = [told for name, told in self.told.items() if name != step.supply]
        _rule(all(told == "off" for told in others), "a powered attempt with another supply not off")

    def _was_powered_as_asked(self, step: StepFacts, then: datetime) -> None:
        for name, (told, since) in self.told_since.items():
            wanted = "on" if name == step.supply else "off"
            if step.supply is not None or step.touches:
                _rule(told == wanted and since <= then, "a late entry from a time when power was not as the step asks")

    def _void(self, event: happened.AttemptVoided) -> None:
        _rule(1 <= event.attempt <= len(self.tries), "a void of an attempt that was never made")
        one = self.tries[event.attempt - 1]
        if one.verdict in ("pass", "not measured") or (event.bench_cause and event.shown_gone):
            gone = replace(one, withdrawn=True)
            self.tries = tuple(gone if each is one else each for each in self.tries)

    def _spoil(self, blocks: tuple[str, ...], *, only_final: bool = False, everything_powered: bool = False) -> None:
        def reached(step: StepFacts) -> bool:
            if step.role == "arrival":
                return False
            if only_final:
                return step.role == "final"
            always = step.soak or step.role in ("final", "first-power")
            return always or bool(step.spoiled_by & set(blocks)) or (everything_powered and step.supply is not None)

        self.answered = frozenset()
        hit = {name for name, step in self.facts.steps.items() if reached(step)}
        self.tries = tuple(replace(one, stale=True) if one.step in hit else one for one in self.tries)

    def _worked_on(self, event: happened.ReworkLogged) -> None:
        """A leg is soldered back and a borrowed part goes back, or stays as one's own, by work on all those parts."""
        _rule(bool(event.donor) == (event.action == "swapped in"), "a donor without a part from it, or the reverse")
        _rule(event.donor != self.serial, "a part borrowed from the unit itself")
        enough = {"leg lifted": {"put back", "replaced", "reflowed"}, "swapped in": {"put back", "replaced"}}
        for name, (action, parts) in tuple(self.to_be_cleared.items()):
            if event.action in enough[action] and parts <= set(event.parts):
                del self.to_be_cleared[name]
        if event.action in enough:
            self.to_be_cleared[f"rework {event.rework}"] = (event.action, frozenset(event.parts))

    def _untouched_but_dead(self, what: str) -> None:
        _rule(all(told == "off" for told in self.told.values()), f"{what} with a supply not off")
        _rule(self.dead, f"{what} on a unit that was not proved dead")

    def _answered(self, step: StepFacts, by: str, what: str) -> None:
        missing = [name for name in step.cautions if (name, by) not in self.answered]
        _rule(not missing, f"{what} with the caution {missing} not answered")

    def _guarded(self, step: StepFacts, what: str) -> None:
        for guard in step.needs:
            standing = self._standing(guard)
            _rule(bool(standing) and standing[-1].verdict == "pass", f"{what} before {guard} has passed")

    def _standing(self, step: str) -> list[Try]:
        return [
            one
            for one in self.tries
            if one.step == step and one.purpose != "good-unit" and not one.stale and not one.withdrawn
        ]

    def _leaves(self, what: str) -> None:
        self._untouched_but_dead(what)
        self.ended = True

    def _signed_off(self, event: happened.SignedOff) -> None:
        _rule(event.serial_scanned == self.serial, "signed off with another unit's serial")
        _rule(not self.strange, "signed off over an event that nobody here understands")
        _rule(not self.incidents, "signed off with an incident open")
        _rule(not self.fitted, "signed off with something not put back")
        _rule(not self.to_be_cleared, "signed off with a leg lifted or a part from another unit")
        for name in self.facts.steps:
            _rule(self.worth(name) == "passes", f"signed off with {name}: {self.worth(name)}")
        self._leaves("a sign-off")

    def worth(self, step: str) -> str:
        """What a step's tries amount to for a release: "passes", or why they don't."""
        facts, standing = self.facts.steps[step], self._standing(step)
        counting = [one for one in standing if facts.role == "arrival" or one.purpose in COUNTS]
        if not counting:
            return "nothing that counts"
        if counting[-1].verdict != "pass":
            return counting[-1].verdict
        tried = [one for one in standing if one.verdict in ("pass", "fail")]
        fails = [place for place, one in enumerate(tried) if one.verdict == "fail"]
        if not fails:
            return self._after_coming_and_going(step, len(tried))
        first_pass = fails[-1] + 1
        if first_pass == len(tried):
            return "fails"
        clean = len(tried) - first_pass - 1
        if clean < _clean_repeats(len(fails), first_pass + 1):
            return f"unexplained after {clean} clean repeats"
        since = tried[first_pass].number
        noted = any(name == step and place >= since for name, place in self.notes)
        noted = noted or any(one.step == step and one.noted and one.number >= since for one in self.tries)
        return "passes" if noted else "unexplained without a note"

    def _after_coming_and_going(self, step: str, clean: int) -> str:
        seen = [
            one.verdict for one in self.tries if one.step == step and one.purpose == "as-found" and not one.withdrawn
        ]
        fails, passes = seen.count("fail"), seen.count("pass")
        if fails and passes and clean < _clean_repeats(fails, fails + passes):
            return f"intermittent as found, {clean} clean repeats since"
        return "passes"

    def key(self) -> tuple[object, ...]:
        """What the future depends on, with what only counts upwards left out."""
        return (
            tuple(sorted(self.told.items())),
            self.was_on,
            self.dead,
            self.run[1] if self.run else None,
            self.answered,
            tuple((name, self.worth(name), self._shape(name)) for name in self.facts.steps),
            len(self.incidents),
            self.fitted,
            tuple(sorted(self.to_be_cleared.values())),
            self.tapping,
            self.strange,
            self.ended,
        )

    def _shape(self, step: str) -> tuple[object, ...]:
        """The standing tries of a step, runs of passes at the end cut to what can still make a difference."""
        standing = self._standing(step)
        latest = standing[-1].verdict if standing else None
        counting = [one.verdict for one in standing if one.purpose in COUNTS]
        tried = "".join(one.verdict[0] for one in standing if one.verdict in ("pass", "fail"))
        trailing = len(tried) - len(tried.rstrip("p"))
        kept = LONGEST_EXPLANATION if "f" in tried else 2 if step == self.watched else 1
        came_and_went = "".join(
            one.verdict[0] for one in self.tries if one.step == self.watched == step and one.purpose == "as-found"
        )
        return latest, counting[-1] if counting else None, tried[: len(tried) - max(0, trailing - kept)], came_and_went


def facts_of(sequence: Sequence) -> Facts:
    """The plain facts of a sequence, worked out here and not by the core."""
    feeds = {name: set(block.feeds) for name, block in sequence.blocks.items()}
    for _ in feeds:
        for fed_by in feeds.values():
            fed_by |= {far for near in tuple(fed_by) for far in feeds.get(near, set())}
    spoiling = {name: {name} | {up for up, fed in feeds.items() if name in fed} for name in feeds}
    serious = {name for name, caution in sequence.cautions.items() if caution.signal != "NOTICE"}

    def step_facts(step: Step) -> StepFacts:
        supply = None if step.power == "none" else step.power
        proved = set(feeds) if "all" in step.proves else set(step.proves)
        named = {*step.cautions, *(sequence.supplies[supply].cautions if supply else ())}
        return StepFacts(
            supply=supply,
            needs=tuple(step.needs),
            cautions=frozenset(named & serious),
            touches=step.touches,
            role=step.role,
            soak=step.kind == "soak",
            spoiled_by=frozenset(up for block in proved for up in spoiling.get(block, set())),
        )

    volts = [supply.range.high.value for supply in sequence.supplies.values() if supply.range.high]
    joules = sum(
        float(place.capacitance.value) * float(place.voltage.value if place.voltage else max(volts)) ** 2 / 2
        for place in sequence.stored_energy
    )
    extra_low = all(supply.supply_class == "extra-low" for supply in sequence.supplies.values())
    return Facts(
        steps={step.id: step_facts(step) for step in sequence.steps},
        supplies=tuple(sequence.supplies),
        danger=frozenset(name for name, caution in sequence.cautions.items() if caution.signal == "DANGER"),
        points={
            place.at: (float(place.discharged_below.value), float(place.wait.value)) for place in sequence.stored_energy
        },
        little_energy=extra_low and joules < 0.25,
    )


def _rule(kept: bool, broken: str) -> None:
    if not kept:
        raise BrokenRule(broken)


def long_away(last: When, now: When) -> bool:
    return last.boot != now.boot or now.clock_ms - last.clock_ms >= QUARTER_HOUR_MS


def _volts(text: str) -> float:
    return float(text.removesuffix("V").strip().replace(",", "."))


def _clean_repeats(fails: int, tries: int) -> int:
    """Smallest N with (1 - fails/tries)^N at most one in twenty, in whole numbers."""
    needed = 0
    while 20 * (tries - fails) ** needed > tries**needed:
        needed += 1
    return needed
