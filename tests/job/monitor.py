"""Does what is recorded break a rule of the bench? A watcher that sees events only and shares no code with the core.

It keeps its own idea of power, of answered cautions and of what each step's tries are worth, made from the events and
from the plain facts of the sequence. It was written from the rules, not from the core, so that the two can disagree.
"""

from copy import copy
from dataclasses import dataclass, field
from datetime import datetime

from monitor_borrowed import Borrowed
from monitor_facts import Facts, StepFacts, When, long_away, rule
from monitor_soak import SoakWatch
from monitor_tries import Tries, Try

from passcheck.job import events as happened
from passcheck.job.answers import TapPairsAnswer, TapRowsAnswer
from passcheck.job.events import Event


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
    tries: Tries = field(default_factory=Tries)
    soak: SoakWatch = field(default_factory=SoakWatch)
    symptoms: tuple[str, ...] = ()  # what the complaint was matched to
    done: int = 0  # things done to the unit that spoiled results
    incidents: frozenset[int] = frozenset()
    fitted: frozenset[str] = frozenset()
    borrowed: Borrowed = field(default_factory=Borrowed)
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
        twin.told_since = dict(self.told_since)
        twin.soak = copy(self.soak)
        return twin

    def see(self, event: Event, by: str, when: When) -> None:
        """Take in one event.

        Raises:
            BrokenRule: it may not happen here.
        """
        rule(not self.ended, f"{type(event).__name__} after the end")
        if self.last is not None and long_away(self.last, when):
            self._absence(when)
        self.last = when
        self.soak.passes_time(event, when)
        self._take(event, by, when)

    def _take(self, event: Event, by: str, when: When) -> None:  # noqa: PLR0912 - one row an event
        match event:
            case happened.JobOpened():
                self.serial = event.serial
                self._tell(self.facts.supplies, "unknown" if self.facts.points else "off", when)
                self.dead = not self.facts.points
            case happened.ComplaintMapped():
                self.symptoms = event.symptoms
            case happened.RunStarted():
                self._run_started(event)
            case happened.RunClosed():
                rule(self.run is not None and self.run[0] == event.run, "a run closes that is not open")
                rule(self.soak.going_on is None, "a run closes while its soak goes on")
                if self.run is not None and self.run[1] == "good-unit":
                    self._untouched_but_dead("a good unit taken off the bench")
                self.run = self.tapping = None
            case happened.CautionAcknowledged():
                rule(self.run is not None and self.run[0] == event.run, "a caution answered outside its run")
                self.answered |= {(event.caution, by)}
            case happened.Energised():
                self._energised(event, by, when)
            case happened.SupplyRead():
                self._supply_read(event, when)
            case happened.PowerTold():
                if event.told == "cycled":
                    self.soak.cycle()
                elif event.told == "on":
                    held = all(self.told[name] in ("on", "soaking") for name in event.supplies)
                    rule(bool(event.supplies) and held, "a sign of life for a supply that is not believed on")
                else:
                    self._tell(event.supplies, event.told, when)
            case happened.MadeSafe():
                self._made_safe(event, when)
            case happened.AttemptJudged():
                self._attempt(event, by, when)
            case happened.AttemptVoided():
                self._void(event)
            case happened.TimingBegun():
                self._timing_begun(event, by)
            case happened.TimingInterrupted():
                rule(self.tapping is not None and self.tapping[0] == event.step, "taps broken off that were not begun")
                self.tapping = None
            case happened.ReferenceTapped():
                rule(self.run is not None and self.run[0] == event.run, "reference trials outside a run")
                self.blocks |= {(event.block, event.run, by)}
            case happened.NoteAdded():
                if event.step is not None:
                    self.tries = self.tries.noted(event.step)
            case happened.ReworkLogged():
                self._untouched_but_dead("a rework")
                rule(self.run is None or self.run[1] != "good-unit", "a rework while another unit is in hand")
                self.incidents -= {event.incident} if event.incident is not None else set()
                self._spoil(event.blocks, everything_powered=event.action == "firmware")
                self.borrowed = self.borrowed.worked_on(event, self.serial)
            case happened.IncidentReported():
                self.incidents |= {event.incident}
                self._spoil(event.blocks)
            case happened.CaseOpened():
                self._untouched_but_dead("an opened case")
                rule(self.run is None or self.run[1] != "good-unit", "a case opened while another unit is in hand")
                self._spoil((), opened=True)
            case happened.ChangeUndone():
                self.borrowed.put_back(event.change)
                self.fitted -= {event.change}
            case happened.SoakStarted():
                self._soak_started(event, by, when)
            case happened.SoakChecked():
                self.soak.checked(event, self.serial)
            case happened.SoakInterrupted():
                self.soak.interrupted(event.step)
                self._tell(tuple(name for name, told in self.told.items() if told == "soaking"), "unknown", when)
            case happened.WorkProposed():
                whole = all(line.strip() and len(line) <= 400 for line in event.lines)
                rule(0 < len(event.lines) <= 20 and whole, "work proposed in no lines, too many, a blank or a long one")
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

    def _run_started(self, event: happened.RunStarted) -> None:
        rule(self.run is None, "a run begins while another is open")
        if event.purpose == "good-unit":
            rule(event.serial_scanned not in ("", self.serial), "a good-unit run on the unit under repair")
            self._untouched_but_dead("another unit put in this one's place")
        else:
            rule(event.serial_scanned == self.serial, "a run on another unit's serial")
        if event.again:
            rule(event.purpose == "retest", "a symptom walked again in another run than a retest")
            rule(bool(self._confirmed()), "a symptom walked again that never showed")
        self.run, self.answered = (event.run, event.purpose), frozenset()

    def _tell(self, supplies: tuple[str, ...], told: str, when: When) -> None:
        if told != "soaking":
            self.soak.told(supplies)
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
        rule(self.run is not None, "power told on with no run open")
        rule(step.supply == event.supply, "power told on for a step of another supply")
        rule("unknown" not in self.told.values(), "power told on while a supply is unknown")
        rule(self.soak.going_on is None, "power told on while the unit is on soak")
        rule("soaking" not in self.told.values(), "power told on while a supply soaks the unit")
        rule("shorting lead" not in self.fitted, "power told on with the shorting lead fitted")
        self._answered(step, by, "power told on")
        self._guarded(step, "power told on")
        self._tell((event.supply,), "on", when)
        self.was_on |= {event.supply}

    def _supply_read(self, event: happened.SupplyRead, when: When) -> None:
        if not event.restored:
            return
        rule(self.told[event.supply] == "unknown", "a supply restored that was not unknown")
        rule(event.supply in self.was_on, "a supply restored that was never told on")
        rule(self.facts.little_energy, "a reading of the supply restores power on a unit that holds energy")
        rule(not event.limit_light, "a supply restored with its limit light on")
        self._tell((event.supply,), "on", when)

    def _made_safe(self, event: happened.MadeSafe, when: When) -> None:
        if self.facts.little_energy:
            lowest = min((below for below, _ in self.facts.points.values()), default=2.0)
            rule(event.at_supply is not None and abs(_volts(event.at_supply)) < lowest, "made safe on a high reading")
        else:
            measured = {point.at: point for point in event.points}
            for place, (below, wait_s) in self.facts.points.items():
                rule(place in measured, f"made safe without {place}")
                point = measured[place]
                seen = [_volts(text) for text in (point.forward, point.reverse, point.again)]
                rule(all(abs(volts) < below for volts in seen), f"made safe with {place} charged")
                rule(point.waited_s >= wait_s, f"made safe without the wait at {place}")
                rule(_volts(point.source_before) > 0 and _volts(point.source_after) > 0, "an untried tester")
        self._tell(self.facts.supplies, "off", when)
        self.dead = True
        if event.shorting_lead:
            self.fitted |= {"shorting lead"}

    def _attempt(self, event: happened.AttemptJudged, by: str, when: When) -> None:
        step = self.facts.steps[event.step]
        rule(self.run is not None and self.run[0] == event.run, "an attempt outside a run")
        rule(event.attempt == len(self.tries.made) + 1, "an attempt out of its number")
        assert self.run is not None
        purpose, verdict = self.run[1], event.judgement.verdict
        if step.soak is not None:
            rule(purpose == "burn-in" and verdict == "pass", "a soak that doesn't pass, or outside a burn-in run")
            leg = self.soak.going_on
            self.soak.finished(event.step, step.soak)
            assert leg is not None
            self._tell((leg.supply,), "on", when)
        else:
            self._tried(event, step, by)
        under = frozenset(event.conditions)
        self.tries = self.tries.also(
            Try(event.attempt, event.step, purpose, verdict, bool(event.note), under, run=event.run)
        )

    def _tried(self, event: happened.AttemptJudged, step: StepFacts, by: str) -> None:
        if isinstance(event.answer, TapPairsAnswer | TapRowsAnswer):
            self._tapped(event, by)
        elif event.judgement.outside and event.judgement.verdict != "not measured":
            rule(event.typed_twice, "a reading outside its limits kept at the first typing")
        self._guarded(step, "an attempt")
        if event.measured_at is None:
            self._answered(step, by, "an attempt")
            self._powered_as_asked(step)
        else:
            self._was_powered_as_asked(step, datetime.fromisoformat(event.measured_at))
        if self.run is not None and self.run[1] == "burn-in":
            self._at_a_look(event)

    def _at_a_look(self, event: happened.AttemptJudged) -> None:
        """In burn-in steps are walked at looks; one that fails shows that acceptance proved too little."""
        leg = self.soak.going_on
        rule(leg is not None, "a step of a burn-in walked while nothing soaks")
        assert leg is not None
        soak = self.facts.steps[leg.step].soak
        assert soak is not None
        self.soak.walked(event.step, event.attempt, event.judgement.verdict, soak)
        if event.judgement.verdict == "fail":
            self._worthless({name for name, step in self.facts.steps.items() if step.role != "arrival"}, _look(event))

    def _soak_started(self, event: happened.SoakStarted, by: str, when: When) -> None:
        step = self.facts.steps[event.step]
        rule(self.run is not None and self.run[1] == "burn-in", "a soak begun outside a burn-in run")
        rule(event.supply == step.supply, "a soak begun on another supply")
        self._guarded(step, "a soak")
        self._answered(step, by, "a soak")
        self._powered_as_asked(step)
        rule("shorting lead" not in self.fitted, "a soak begun with the shorting lead fitted")
        for name in self.facts.steps:
            standing = self.tries.standing(name)
            rule(not standing or standing[-1].verdict != "fail", f"a soak begun while {name} fails")
        self.soak.started(event, step)
        self._tell((event.supply,), "soaking", when)

    def _timing_begun(self, event: happened.TimingBegun, by: str) -> None:
        step = self.facts.steps[event.step]
        rule(self.run is not None and self.run[0] == event.run, "taps begun outside a run")
        self._guarded(step, "taps")
        self._answered(step, by, "taps")
        self._powered_as_asked(step)
        self.tapping = (event.step, by)

    def _tapped(self, event: happened.AttemptJudged, by: str) -> None:
        rule(self.tapping == (event.step, by), "taps judged that were not begun by who tapped")
        rule(event.measured_at is None, "taps entered late")
        rule(event.instrument is None, "taps with an instrument")
        known = event.reference is None or (event.reference, event.run, by) in self.blocks
        rule(known, "taps beside reference trials of another run or person")
        self.tapping = None

    def _powered_as_asked(self, step: StepFacts) -> None:
        rule("unknown" not in self.told.values(), "an attempt while a supply is unknown")
        if step.supply is None:
            if step.touches:
                self._untouched_but_dead("an unpowered attempt")
            return
        rule(self.told[step.supply] in ("on", "soaking"), "a powered attempt with its supply not told on")
        others = [told for name, told in self.told.items() if name != step.supply]
        rule(all(told == "off" for told in others), "a powered attempt with another supply not off")

    def _was_powered_as_asked(self, step: StepFacts, then: datetime) -> None:
        for name, (told, since) in self.told_since.items():
            wanted = "on" if name == step.supply else "off"
            if step.supply is not None or step.touches:
                rule(told == wanted and since <= then, "a late entry from a time when power was not as the step asks")

    def _void(self, event: happened.AttemptVoided) -> None:
        rule(1 <= event.attempt <= len(self.tries.made), "a void of an attempt that was never made")
        shown_gone = bool(event.bench_cause and event.shown_gone)
        self.tries = self.tries.voided(event.attempt, shown_gone=shown_gone)
        if self.tries.made[event.attempt - 1].withdrawn:
            self.soak.forgets(event.attempt)
        if shown_gone:
            self.tries = self.tries.restored(_look(event))
            self.soak.restored(_look(event))

    def _spoil(self, blocks: tuple[str, ...], *, opened: bool = False, everything_powered: bool = False) -> None:
        def reached(step: StepFacts) -> bool:
            if step.role == "arrival":
                return False
            if opened:
                return step.after_opening
            always = step.soak is not None or step.role in ("final", "first-power")
            return always or bool(step.spoiled_by & set(blocks)) or (everything_powered and step.supply is not None)

        self.done += 1
        self._worthless({name for name, step in self.facts.steps.items() if reached(step)}, f"done {self.done}")

    def _worthless(self, steps: set[str], cause: str) -> None:
        self.answered = frozenset()
        self.tries = self.tries.spoiled(steps, cause)
        self.soak.spoiled(steps, cause)

    def _untouched_but_dead(self, what: str) -> None:
        rule(all(told == "off" for told in self.told.values()), f"{what} with a supply not off")
        rule(self.dead, f"{what} on a unit that was not proved dead")

    def _answered(self, step: StepFacts, by: str, what: str) -> None:
        missing = [name for name in step.cautions if (name, by) not in self.answered]
        rule(not missing, f"{what} with the caution {missing} not answered")

    def _guarded(self, step: StepFacts, what: str) -> None:
        for guard in step.needs:
            standing = self.tries.in_hand(guard, self.run)
            rule(bool(standing) and standing[-1].verdict == "pass", f"{what} before {guard} has passed")

    def _leaves(self, what: str) -> None:
        self._untouched_but_dead(what)
        self.ended = True

    def _signed_off(self, event: happened.SignedOff) -> None:
        rule(event.serial_scanned == self.serial, "signed off with another unit's serial")
        rule(not self.strange, "signed off over an event that nobody here understands")
        rule(not self.incidents, "signed off with an incident open")
        rule(not self.fitted, "signed off with something not put back")
        rule(not self.borrowed.held, "signed off with a leg lifted or a part from another unit")
        rule(self.soak.going_on is None, "signed off with a soak going on")
        for name, step in self.facts.steps.items():
            rule(self.worth(name) == "passes", f"signed off with {name}: {self.worth(name)}")
            if step.soak is not None:
                rule(self.soak.shows(name, step.soak), f"signed off with {name} on looks that are withdrawn")
        for name in self._confirmed():
            for showing in self._showing(name):
                lacking = self.tries.symptom_open(showing)
                rule(not lacking, f"signed off with {showing} of the confirmed symptom {name}: {lacking}")
        self._leaves("a sign-off")

    def _confirmed(self) -> list[str]:
        """The symptoms of the complaint that showed as found."""

        def showed(step: str) -> bool:
            return any(one.verdict == "fail" for one in self.tries.as_found(step))

        return [name for name in self.symptoms if any(showed(step) for step in self.facts.symptoms[name])]

    def worth(self, step: str) -> str:
        """What a step's tries amount to for a release: "passes", or why they don't."""
        facts = self.facts.steps[step]
        return self.tries.worth(step, any_run=facts.role == "arrival" or facts.soak is not None)

    def key(self) -> tuple[object, ...]:
        """What the future depends on, with what only counts upwards left out."""
        return (
            tuple(sorted(self.told.items())),
            self.was_on,
            self.dead,
            self.run[1] if self.run else None,
            tuple((name, one.verdict) for name in self.facts.steps for one in self.tries.in_hand(name, self.run)[-1:]),
            self.answered,
            tuple((name, self.worth(name), self._shape(name)) for name in self.facts.steps),
            tuple(self.soak.key(name, step.soak) for name, step in self.facts.steps.items() if step.soak is not None),
            tuple((name, self.tries.symptom_open(step)) for name in self._confirmed() for step in self._showing(name)),
            len(self.incidents),
            self.fitted,
            self.borrowed.key,
            self.tapping,
            self.strange,
            self.ended,
        )

    def _showing(self, symptom: str) -> tuple[str, ...]:
        return self.facts.symptoms[symptom]

    def _shape(self, step: str) -> tuple[object, ...]:
        return self.tries.shape(step, watched=step == self.watched)


def _look(event: happened.AttemptJudged | happened.AttemptVoided) -> str:
    """How the cause is called that a fail at a look is."""
    return f"look {event.attempt}"


def _volts(text: str) -> float:
    return float(text.removesuffix("V").strip().replace(",", "."))
