"""How is a unit's whole story told to a bench: its runs, each step with its papers, its soak, its signature?

told = Telling(rig, bench, always={"a16": ("20 min warm",)})
await told.begin("as-found")
await told.walk({"a08": ReadingAnswer(("142 mVpp",))})      # what isn't given reads as on a good unit
await told.end()
assert told.failing(1) == ["a08"]
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import hand
import soaking
from rig import Rig

from passcheck.bench.bench import Bench, Done
from passcheck.job.answers import Answer
from passcheck.job.commands import Attempt, CloseRun, Command, Jot, SignOff, TellPower, UndoChange
from passcheck.job.events import Purpose, SignedOff
from passcheck.job.gate import blockers
from passcheck.job.plan import plan
from passcheck.job.power import told as told_of
from passcheck.job.soak import SoakNow, off_s, soak_now
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import counting
from passcheck.job.state import Attempt as Tried
from passcheck.job.state import Job
from passcheck.job.suspecting import suspicion
from passcheck.sequence.model import SoakStep, Step

AT_BENCH_MIN = 10  # after so many minutes something is jotted, so that a long step doesn't look like an empty bench
MOST_LOOKS = 40  # far more than any soak of the demo boards has


@dataclass(frozen=True, slots=True)
class Stretch:
    """The time from one look at a soaking unit to the next, where it isn't as planned.

    Attributes:
        late_min: minutes by which the look that ends it comes after its time.
        lost: why nothing shows that power stayed on, as whoever looked wrote it down.
        dark_min: minutes for which power was away, unplanned.
    """

    late_min: float = 0
    lost: str = ""
    dark_min: float = 0


AS_PLANNED = Stretch()


@dataclass(frozen=True, slots=True)
class Telling:
    """One unit's story, told by a person to a bench.

    Attributes:
        by: who works.
        second: who is within call, and sees what a step wants to be seen by two.
        always: conditions that lie in a step itself, such as 20 min of warmth, by the words of the symptoms.
    """

    rig: Rig
    bench: Bench
    by: str = "t1"
    second: str | None = None
    always: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def job(self) -> Job:
        """The job as it stands."""
        return self.bench.job

    async def do(self, *commands: Command) -> None:
        """Carry out commands that are granted."""
        await self.rig.do(self.bench, *commands)

    # What is done at the bench

    async def begin(self, purpose: Purpose) -> None:
        """Start a run."""
        await self.do(hand.start(self.job, purpose, self.by, self.second))

    async def make_safe(self) -> None:
        """Press the key and prove the unit dead."""
        await self.rig.make_safe(self.bench, self.by)

    async def end(self) -> None:
        """Make safe and close the run."""
        await self.make_safe()
        await self.do(CloseRun(self.by))

    async def walk(
        self, shown: Mapping[str, Answer] | None = None, *, until: str = "", leaving: Iterable[str] = ()
    ) -> None:
        """Walk what is planned and under what it is planned, up to a step; what isn't shown reads as on a good unit."""
        left = frozenset(leaving)
        while open_now := [one for one in plan(self.job) if one.step.id not in left and one.step.kind != "soak"]:
            planned = open_now[0]
            if planned.step.id == until:
                return
            await self.tried(planned.step.id, (shown or {}).get(planned.step.id), under=planned.under)

    async def walk_these(self, steps: Iterable[str], shown: Mapping[str, Answer] | None = None) -> None:
        """Walk these steps in this order, each under the conditions that the plan asks for, where it asks at all."""
        for step_id in steps:
            under = next((one.under for one in plan(self.job) if one.step.id == step_id), ())
            await self.tried(step_id, (shown or {}).get(step_id), under=under)

    async def tried(
        self, step_id: str, answer: Answer | None = None, *, note: str = "", under: tuple[str, ...] = ()
    ) -> None:
        """Bring power and cautions to where the step may be tried; give what was seen, with the papers it asks for."""
        step = self.job.sequence.step(step_id)
        states = told_of(self.job, self.bench.moment())
        if any(state != "off" for name, state in states.items() if name != step.power or state == "unknown"):
            await self.make_safe()
        await self.do(*hand.answers_to_cautions(self.job, step_id, self.by, self.bench.moment()))
        if hand.powered(self.job, step_id) and told_of(self.job, self.bench.moment())[step.power] == "off":
            await self.do(hand.energise(self.job, step_id, self.by))
        await self.time_goes_by(float(step.minutes))
        await self.do(self.attempt(step, answer or hand.good(step), note, under))

    def attempt(self, step: Step, seen: Answer, note: str = "", under: tuple[str, ...] = ()) -> Attempt:
        """A try at a step: what was seen given twice, with photo, note and witness where the step asks for them."""
        return Attempt(
            self.by,
            step.id,
            seen,
            again=seen,
            note=note or (f"{step.title}: written down" if step.note else ""),
            photos=(f"photos/{self.job.id}-{step.id}.jpg",) if step.photo else (),
            second=self.second if step.witness else None,
            conditions=tuple(dict.fromkeys((*self.always.get(step.id, ()), *under))),
        )

    async def time_goes_by(self, minutes: float) -> None:
        """Let a step's minutes pass with somebody at the bench."""
        supply = next(iter(self.job.sequence.supplies.values()))
        while minutes > AT_BENCH_MIN:
            self.rig.clock.pass_time(minutes=AT_BENCH_MIN)
            await self.do(Jot(self.by, "supply display", supply.nominal.text))
            minutes -= AT_BENCH_MIN
        self.rig.clock.pass_time(minutes=minutes)

    async def put_back(self) -> None:
        """What the steps fitted or set leaves the unit again, one by one."""
        for fitted in self.job.fitted:
            await self.do(UndoChange(self.by, fitted.change, "put back and looked at"))

    async def burn_in(
        self,
        *,
        shown_by: str | None = None,
        alone: tuple[str, ...] = (),
        attended: bool = False,
        uncommon: Mapping[int, Stretch] | None = None,
    ) -> None:
        """Leave the unit at power, look at it in every interval until hours and cycles are there, end the soak.

        Args:
            shown_by: what shows that power stayed on, in words; an hour meter where nothing is given.
            alone: the facts that are said of a unit before it is left alone.
            attended: somebody stays and tells each planned power cycle when it is made; else a look counts them.
            uncommon: the stretches, counted from 1, that don't go as planned.
        """
        await self.begin("burn-in")
        soak = soaking.soak_of(self.job)
        await self.rig.power(self.bench, soak.id, self.by)
        witness = shown_by or soaking.METER_AT_START
        await self.do(soaking.start(self.job, self.by, witness=witness, unattended=alone))
        await self.walk()
        odd = uncommon or {}
        for nth in range(1, MOST_LOOKS):
            now = soak_now(self.job, soak)
            if now.complete:
                break
            dark = sum(one.dark_min for at, one in odd.items() if at <= nth)
            await self._look(now, odd.get(nth, AS_PLANNED), shown_by, attended, dark)
        await self.do(soaking.finish(self.job, self.by))
        await self.end()

    async def _look(
        self, now: SoakNow, stretch: Stretch, shown_by: str | None, attended: bool, dark_min: float
    ) -> None:
        """Let a stretch go by with its share of the power cycles, look at the unit and walk what the look wants."""
        assert now.leg is not None
        soak, leg = now.step, now.leg
        cycles = min(_cycles_a_look(soak), now.short_cycles)
        since_min = (self.job.measured.total_ms - leg.looks[-1].measured.total_ms) / 60_000 if len(leg.looks) > 1 else 0
        still_min = now.short_s / 60 + cycles * off_s(soak) / 60 + 1  # an hour meter lags by less than a minute
        wait_min = max(0.0, min(float(soak.every.value) / 60, still_min) + stretch.late_min - since_min)
        if attended:
            for _ in range(cycles):
                self.rig.clock.pass_time(minutes=wait_min / (cycles + 1))
                await self.do(TellPower(self.by, "cycled", "planned"))
            self.rig.clock.pass_time(minutes=wait_min / (cycles + 1))
        else:
            self.rig.clock.pass_time(minutes=wait_min)
        off = (now.credit.cycles + cycles) * off_s(soak) + dark_min * 60
        at_power_s = (self.rig.clock().utc - leg.looks[0].moment.utc).total_seconds() - off
        sign = None if stretch.lost else shown_by or soaking.meter_after(self.job, at_power_s)
        counted = 0 if attended else cycles
        await self.do(soaking.check(self.job, self.by, continuity=sign, cycles=counted, lost=stretch.lost))
        await self.walk()

    async def out_of_the_door(self) -> SignedOff:
        """Everything is put back, the final looks that wait or went stale are walked, nothing is open: signed off."""
        await self.put_back()
        if plan(self.job, "acceptance"):
            await self.begin("acceptance")
            await self.walk()
            await self.end()
        assert self.against() == []
        done = await self.bench.do(SignOff(self.by, self.job.serial, second=self.second))
        assert isinstance(done, Done), done
        signed = done.events[-1]
        assert isinstance(signed, SignedOff), signed
        assert self.job.ended == "signed off"
        return signed

    # What is seen of it

    def failing(self, run: int) -> list[str]:
        """Steps that failed in a run, in the order walked."""
        return self.ended_in(run, "fail")

    def ended_in(self, run: int, *verdicts: str) -> list[str]:
        """Steps that ended in one of these verdicts in a run, in the order walked."""
        return [one.step for one in self.made_in(run) if one.judgement.verdict in verdicts]

    def made_in(self, run: int) -> list[Tried]:
        """The attempts of a run."""
        return [one for one in self.job.attempts if one.run == run]

    def tries(self, step: str) -> list[Tried]:
        """The attempts at a step."""
        return [one for one in self.job.attempts if one.step == step]

    def verdicts(self, *steps: str) -> list[str]:
        """The verdict of the latest attempt at each of these steps."""
        return [self.tries(step)[-1].judgement.verdict for step in steps]

    def sentence_of(self, step: str) -> str:
        """What the latest judgement of a step says."""
        return self.tries(step)[-1].judgement.sentence

    def counted(self, step: str) -> str | None:
        """The value that counts as left."""
        attempt = counting(self.job, self.job.sequence.step(step))
        return None if attempt is None else attempt.judgement.value

    def newly_stale(self) -> list[str]:
        """Steps of the attempts that the latest change made worthless, one for each, in the order of the file."""
        gone = [one.step for one in self.job.attempts if stale_by(self.job, one) is self.job.changes[-1]]
        return [step.id for step in self.job.sequence.steps for _ in range(gone.count(step.id))]

    def struck_by(self, event: str) -> list[str]:
        """Steps of the attempts that this event made worthless, in the order they were tried."""
        gone = ((one, stale_by(self.job, one)) for one in self.job.attempts)
        return [one.step for one, change in gone if change is not None and call(change) == event]

    def standing(self, run: int) -> list[str]:
        """Steps of a run whose attempts nothing made worthless, in the order walked."""
        return [one.step for one in self.made_in(run) if stale_by(self.job, one) is None]

    def arrival_stands(self) -> bool:
        """True while the look on arrival, made as found, counts: no work on the unit takes it away."""
        looks = [counting(self.job, step) for step in self.job.sequence.steps if step.role == "arrival"]
        return bool(looks) and all(one is not None and one.purpose == "as-found" for one in looks)

    def under(self, *steps: str) -> list[tuple[str, ...]]:
        """The conditions of every try at these steps, in the order walked."""
        return [one.conditions for one in self.job.attempts if one.step in steps]

    def against(self) -> list[str]:
        """What still stands between the unit and the door."""
        return [one.sentence for one in blockers(self.job, self.bench.outside(), self.bench.moment())]

    def blocking(self) -> dict[str | None, str]:
        """The same by step; of a step against which more than one thing stands, all of it."""
        found: dict[str | None, list[str]] = {}
        for one in blockers(self.job, self.bench.outside(), self.bench.moment()):
            found.setdefault(one.step, []).append(one.sentence)
        return {step: " ".join(sentences) for step, sentences in found.items()}

    def suspects(self) -> list[str]:
        """The blocks that are suspected now, worst first; leads and what isn't listed are left out."""
        blocks = self.job.sequence.blocks
        return [one.name for one in suspicion(self.job).told if one.name in blocks]

    def stretches(self) -> list[tuple[str, int]]:
        """How each stretch of the soak stands, and how many minutes of it count."""
        soak = soaking.soak_of(self.job)
        return [(one.standing, int(one.counted_s // 60)) for one in soak_now(self.job, soak).credit.stretches]


def _cycles_a_look(soak: SoakStep) -> int:
    """The share of the planned power cycles that falls to one interval, rounded up."""
    looks = -(-soak.hours.value // soak.every.value)
    return int(-(-soak.cycles // looks))
