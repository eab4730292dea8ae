"""How does the robot technician walk a run: in which order, how often, and when is a step given up?"""

from dataclasses import dataclass, field

from passcheck.job.commands import CloseRun, StartRun
from passcheck.job.doubt import doubts
from passcheck.job.events import Purpose
from passcheck.job.plan import Planned, plan
from passcheck.job.standing import latest
from passcheck.job.steps import is_powered
from passcheck.job.symptoms import conditions_to_try, linked_steps
from passcheck.practice.at_work import AtWork, NotGranted
from passcheck.practice.taken_up import clearly_better, instruments_for, used_up
from passcheck.practice.trying import tried
from passcheck.sequence.model import Step

MOST_AT_A_STEP = 12
"""No step is tried more often in one run; repeats after an unexplained fail are up to six."""


@dataclass(slots=True)
class Walk:
    """One run.

    `given_up` are the steps that nothing at this bench brings further, with the verdict or refusal they were left at.
    """

    work: AtWork
    purpose: Purpose
    given_up: dict[str, str] = field(default_factory=dict)
    times: dict[str, int] = field(default_factory=dict)

    async def whole(self) -> None:
        """From the start of the run to its close."""
        await self.begin()
        await self.steps()
        if self.purpose == "as-found":
            await self._under_conditions()
        await self.end()

    async def begin(self) -> None:
        """Take instruments and the unit in hand."""
        await self.work.do(started(self.work, self.purpose))

    async def end(self) -> None:
        """Make safe and close."""
        await self.work.make_safe()
        await self.work.do(CloseRun(self.work.by))

    async def steps(self) -> None:
        """Walk what is planned until nothing is, or what is left is given up."""
        while (planned := self._next()) is not None:
            await self.try_step(planned.step, planned.under)

    async def try_step(self, step: Step, under: tuple[str, ...] = ()) -> None:
        """Try a step, and again where that may help; give it up where it doesn't."""
        self.times[step.id] = self.times.get(step.id, 0) + 1
        if self.times[step.id] > MOST_AT_A_STEP:
            self.given_up[step.id] = "tried too often"
            return
        try:
            kept = await tried(self.work, step, under, self._instrument(step))
        except NotGranted as refused:
            self.given_up[step.id] = refused.refusal.code
            return
        verdict = kept.judgement.verdict
        if verdict == "pass":
            self.given_up.pop(step.id, None)
        elif (verdict == "fail" and not self._hopes()) or (verdict == "in doubt" and self._nothing_better(step)):
            self.given_up[step.id] = verdict

    def _next(self) -> Planned | None:
        moment, outside = self.work.bench.moment(), self.work.bench.outside()
        for planned in plan(self.work.job, self.purpose, outside=outside, moment=moment):
            if planned.step.kind != "soak" and planned.step.id not in self.given_up:
                return planned
        return None

    async def _under_conditions(self) -> None:
        """Where the complaint didn't show, try its steps under each condition that its symptoms name, until it does."""
        job = self.work.job
        for wanted in conditions_to_try(job):
            for step_id in linked_steps(job):
                if any(self._failed(name) for name in linked_steps(job)):
                    return
                step = job.sequence.step(step_id)
                is_done = any(wanted.words in one.conditions for one in job.attempts if one.step == step_id)
                if step_id in wanted.steps and step_id not in self.given_up and not is_done and is_powered(step):
                    await self.try_step(step, (wanted.words,))

    def _failed(self, step_id: str) -> bool:
        last = latest(self.work.job, self.work.job.sequence.step(step_id))
        return last is not None and last.judgement.verdict == "fail"

    def _hopes(self) -> bool:
        return self.work.draw.random() < self.work.manner.tries_again

    def _instrument(self, step: Step) -> str | None:
        """Another instrument than the run's, once that one has had its tries; it has its own tries too."""
        held = doubts(self.work.job, step)
        if used_up(held):
            return clearly_better(self.work, step, held)
        return held[-1].instrument.instrument if held and held[-1].instrument is not None else None

    def _nothing_better(self, step: Step) -> bool:
        held = doubts(self.work.job, step)
        return used_up(held) and clearly_better(self.work, step, held) is None


def started(work: AtWork, purpose: Purpose) -> StartRun:
    """Begin a run with instruments that are good enough, the unit's serial read off it."""
    return StartRun(work.by, purpose, work.job.serial, instruments_for(work), "22", work.second)
