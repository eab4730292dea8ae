"""What a patient technician does to bring a unit out of whatever state it was left in, to the door.

Makes it safe, puts back what is fitted, answers incidents by an inspection, walks what the plan says under the
conditions that it says, writes the notes that are asked for, and lives the soak. Every loop is bounded: what doesn't
come to an end is a finding.
"""

from dataclasses import dataclass

import hand
import soaking
from story import Story

from passcheck.job import commands
from passcheck.job.blocker import Blocker
from passcheck.job.events import LeftOld, Purpose
from passcheck.job.plan import plan
from passcheck.job.soak import off_s, soak_now, soak_steps
from passcheck.sequence.model import SoakStep

MOST_STEPS = 150
MOST_LOOKS = 12
METERS = ("voltmeter", "ohmmeter")


@dataclass(frozen=True)
class Finisher:
    """Who finishes: somebody who may do everything here, with somebody else within call."""

    story: Story
    by: str = "k9"
    second: str = "t1"

    def puts_in_order(self) -> None:
        """Off, proved dead, nothing fitted, no run and no incident open."""
        self.story.make_safe(self.by)
        if self.story.job.open_run is not None:
            self.story.do(commands.CloseRun(self.by))
        reworks = {f"rework {rework.rework}": rework for rework in self.story.job.reworks}
        for it in self.story.job.fitted:
            rework = reworks.get(it.change)
            if rework is None:
                self.story.do(commands.UndoChange(self.by, it.change, "put back"))
            elif any(left.change == it.change for left in self.story.job.fitted):  # not cleared with another one
                self.story.do(commands.LogRework(self.by, rework.blocks, rework.parts, "put back", "tried enough"))
        of_incidents = {it.number: it for it in self.story.job.changes if it.kind == "incident"}
        for number in self.story.job.open_incidents:
            blocks = of_incidents[number].blocks
            inspected = commands.LogRework(self.by, blocks, (), "inspected", "looked over", incident=number)
            self.story.do(inspected)
        self._explains_what_was_left_old()

    def accepts(self) -> None:
        """Walk the plan of acceptance to its end, and note what is asked for."""
        self._starts("acceptance")
        for _ in range(MOST_STEPS):
            left = plan(self.story.job, outside=self.story.outside, moment=self.story.now)
            if not left:
                break
            self._passes(left[0].step.id, left[0].under)
        else:
            raise AssertionError(f"no end after {MOST_STEPS} steps: {left[0].step.id}, {left[0].why}")
        self._notes()
        self.puts_in_order()

    def soaks(self) -> None:
        """Live every soak to its end, with a look in time each interval; the last look comes after it."""
        for step in soak_steps(self.story.job):
            if not any(one.step == step.id for one in self.story.blocking()):
                continue
            self._starts("burn-in")
            self.story.ready(step.id, self.by).do(soaking.start(self.story.job, self.by))
            self._lives(step)
            self.puts_in_order()
        self.accepts()

    def _lives(self, step: SoakStep) -> None:
        """One planned power cycle an interval where cycles are asked for; the hour meter stands still meanwhile."""
        every_s, cycles, at_power_s = float(step.every.value), min(1, step.cycles), 0.0
        for _ in range(MOST_LOOKS):
            for name in soak_now(self.story.job, step).still_to_pass:
                self._passes(name)
            if soak_now(self.story.job, step).complete:
                self.story.do(soaking.finish(self.story.job, self.by))
                return
            self.story.clock.pass_time(seconds=every_s)
            at_power_s += every_s - cycles * off_s(step)
            shown = soaking.meter_after(self.story.job, at_power_s)
            self.story.do(soaking.check(self.story.job, self.by, continuity=shown, cycles=cycles))
        raise AssertionError(f"no end after {MOST_LOOKS} looks")

    def walking(self) -> list[Blocker]:
        """What the gate says that walking a step lifts, soaks left out."""
        soaks = {step.id for step in soak_steps(self.story.job)}
        return [one for one in self.story.blocking() if one.walk and one.step not in soaks]

    def of_steps(self) -> list[Blocker]:
        """What the gate says that belongs to a step, or could be lifted by walking one."""
        return [one for one in self.story.blocking() if one.walk or one.step is not None]

    def _explains_what_was_left_old(self) -> None:
        """Parts that age alike and were not all renewed: each one that was left gets its reason."""
        sequence = self.story.job.sequence
        renewed = {part for it in self.story.job.reworks if it.action == "replaced" for part in it.parts}
        said = {old.part for it in self.story.job.reworks for old in it.left_old if old.reason.strip()}
        for name, block in sequence.blocks.items():
            alike = {part for group in block.renew_together if renewed & set(group) for part in group}
            left = tuple(LeftOld(part, "film, not electrolytic") for part in sorted(alike - renewed - said))
            if left:
                self.story.do(commands.LogRework(self.by, (name,), (), "inspected", "same age", left_old=left))

    def _starts(self, purpose: Purpose) -> None:
        self.story.do(hand.start(self.story.job, purpose, self.by, self.second))

    def _passes(self, step_id: str, under: tuple[str, ...] = ()) -> None:
        """With a second pair of eyes and the better meter: what was in doubt with a worse one stays so with that."""
        step = self.story.step(step_id)
        role = step.instrument if step.kind == "reading" else None
        self.story.ready(step_id, self.by)
        self.story.do(
            commands.Attempt(
                self.by,
                step_id,
                hand.good(step),
                photos=("bench.jpg",) if step.photo else (),
                instrument="M9" if role in METERS else None,
                second=self.second if step.witness else None,
                conditions=under,
            )
        )
        assert self.story.last_attempt().judgement.verdict == "pass", self.story.last_attempt().judgement

    def _notes(self) -> None:
        for one in self.story.blocking():
            if one.step is not None and not one.walk:
                self.story.do(commands.AddNote(self.by, "the clip had slipped off", one.step, ("bench.jpg",)))
