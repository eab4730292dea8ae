"""How does the robot technician bring a unit from its arrival out of the door, or give it back?

Confirm the complaint, rework what the bench suspects, retest, accept, burn in, sign. Nothing of what is really wrong is
known to it: it sees what the unit does at a step, and what the bench makes of that.
"""

from dataclasses import dataclass, field
from typing import Literal, get_args

from passcheck.job.commands import LogRework, MapComplaint, Refusal, ReturnUnrepaired, SignOff, UndoChange
from passcheck.job.events import LeftOld
from passcheck.job.gate import blockers
from passcheck.job.renewed import left_old
from passcheck.job.soak import soak_steps
from passcheck.job.standing import latest
from passcheck.job.steps import present
from passcheck.job.suspecting import suspicion
from passcheck.practice.at_work import AtWork, NotGranted
from passcheck.practice.fault import Nature
from passcheck.practice.soak_walk import burn_in
from passcheck.practice.truth import departing
from passcheck.practice.walking import Walk
from passcheck.sequence.model import ALL_BLOCKS, Step
from passcheck.sequence.reach import group_of

MOST_REWORKS = 4
MOST_ROUNDS = 12
Ended = Literal["released", "returned", "in doubt", "stuck"]
ENDS: tuple[Ended, ...] = get_args(Ended)


@dataclass(frozen=True, slots=True)
class Told:
    """How a unit's visit ended, and what is true of the unit.

    Attributes:
        ended: released, returned unrepaired, in doubt (a step that nothing at the bench decides), or stuck: the robot
            knew no further.
        why: the last words of it.
        departing: steps at which the unit really isn't as its sequence wants it, now; empty for a good unit.
        still: what is still broken, by name, with its nature, whether or not it shows at one of them.
        reworks: how many there were.
    """

    ended: Ended
    why: str
    departing: tuple[str, ...]
    still: tuple[tuple[str, Nature], ...]
    reworks: int


@dataclass(slots=True)
class Technician:
    """One visit of one unit."""

    work: AtWork
    left: dict[str, str] = field(default_factory=dict)  # steps given up in the last run, and why
    tried_blocks: list[str] = field(default_factory=list)

    async def repair(self, symptoms: tuple[str, ...]) -> Told:
        """The whole visit."""
        try:
            ended, why = await self._visit(symptoms)
        except NotGranted as refused:
            ended, why = "stuck", f"{refused.refusal.code}: {refused}"
        unit, reworks = self.work.unit, self.work.reworks
        still = tuple((fault.name, fault.nature) for fault in unit.live(reworks))
        now = departing(unit, reworks, self.work.job.facts.variants)
        return Told(ended, why, now, still, len(reworks))

    async def _visit(self, symptoms: tuple[str, ...]) -> tuple[Ended, str]:
        work = self.work
        if symptoms:
            await work.do(MapComplaint(work.by, symptoms))
        await work.make_safe()
        await self._run(Walk(work, "as-found"))
        for _ in range(MOST_ROUNDS):
            if failing := self._failing():
                if len(work.reworks) >= MOST_REWORKS:
                    return await self._give_back("returned", f"{failing[0].title} still fails")
                await self._rework(failing)
                await self._run(Walk(work, "retest"))
            elif (ended := await self._to_the_door()) is not None:
                return ended
        return "stuck", "; ".join(self._against()) or "too many rounds"

    async def _to_the_door(self) -> tuple[Ended, str] | None:
        """Accept, burn in and sign a unit of which no fail is known; None where one turned up."""
        await self._run(Walk(self.work, "acceptance"))
        if self._failing():
            return None
        if soak_steps(self.work.job):
            await self._sign_early()
            if self._undecided():
                return await self._give_back_undecided()
            self.left = await burn_in(self.work)
            if self._failing():
                return None
        if self._undecided():
            return await self._give_back_undecided()
        return await self._sign()

    async def _run(self, walk: Walk) -> None:
        await walk.whole()
        self.left = walk.given_up

    def _failing(self) -> tuple[Step, ...]:
        """Steps whose last word is a fail that stands."""
        job = self.work.job
        found = []
        for step in present(job):
            last = latest(job, step)
            if last is not None and last.judgement.verdict == "fail":
                found.append(step)
        return tuple(found)

    def _undecided(self) -> tuple[str, ...]:
        return tuple(step for step, why in self.left.items() if why in ("in doubt", "not measured", "tried too often"))

    # Rework

    async def _rework(self, failing: tuple[Step, ...]) -> None:
        """Work on a block: mostly the one that is suspected most, of those that weren't worked on for nothing."""
        work = self.work
        await work.make_safe()
        block = self._suspect(failing)
        self.tried_blocks.append(block)
        parts = work.job.sequence.blocks[block].parts[:1]
        if parts:
            parts = group_of(work.job.sequence, parts[0]) or parts
            parts = tuple(part for part in parts if part in work.job.sequence.blocks[block].parts)
        await work.pass_time(30)
        reason = f"{failing[0].title} fails"
        old = tuple(LeftOld(part, "measured good") for group in left_old(work.job, parts) for part in group)
        await work.do(LogRework(work.by, (block,), parts, "replaced", reason, left_old=old))

    def _suspect(self, failing: tuple[Step, ...]) -> str:
        blocks = self.work.job.sequence.blocks
        told = [one.name for one in suspicion(self.work.job).told if one.name in blocks]
        proved = [name for step in failing for name in step.proves if name != ALL_BLOCKS]
        every = dict.fromkeys((*told, *proved, *blocks))
        fresh = [name for name in every if name not in self.tried_blocks[-len(blocks) :]] or list(every)
        if len(fresh) > 1 and self.work.draw.random() >= self.work.manner.finds_it:
            return fresh[1]
        return fresh[0]

    # Leaving

    async def _sign_early(self) -> None:
        """Somebody in a hurry tries the signature before the burn-in."""
        if self.work.draw.random() < self.work.manner.signs_early and await self._signed():
            raise NotGranted(Refusal("order", "A signature was taken before the burn-in."))

    async def _sign(self) -> tuple[Ended, str] | None:
        """Put back what was fitted, walk what is left, and sign; None where a fail turned up."""
        work = self.work
        for _ in range(3):
            for fitted in work.job.fitted:
                await work.ask(UndoChange(work.by, fitted.change, "put back and looked at"))
            await self._run(Walk(work, "acceptance"))
            if self._failing():
                return None
            if await self._signed():
                return "released", "signed off"
        if self._undecided():
            return await self._give_back_undecided()
        return "stuck", "; ".join(self._against())

    async def _signed(self) -> bool:
        """Ask for the signature; what stands against it is counted."""
        work = self.work
        await work.ask(SignOff(work.by, work.job.serial, second=work.second))
        work.tally.signatures_refused += work.job.ended is None
        return work.job.ended == "signed off"

    def _against(self) -> list[str]:
        return [one.sentence for one in blockers(self.work.job, self.work.bench.outside(), self.work.bench.moment())]

    async def _give_back_undecided(self) -> tuple[Ended, str]:
        return await self._give_back("in doubt", f"{', '.join(self._undecided())}: undecided")

    async def _give_back(self, ended: Ended, why: str) -> tuple[Ended, str]:
        work = self.work
        await work.make_safe()
        for fitted in work.job.fitted:
            await work.ask(UndoChange(work.by, fitted.change, "put back and looked at"))
        await work.do(ReturnUnrepaired(work.by, why))
        return ended, why
