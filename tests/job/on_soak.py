"""A random walk through the soaks of a unit that passed acceptance: looks of every sort, and all that lies between."""

from collections.abc import Mapping
from typing import Any

import hand
import soaking
from hypothesis import strategies as st
from hypothesis.stateful import initialize, precondition, rule
from nonsense import few
from watched import Watched

import sequences
from passcheck.job import commands
from passcheck.job.plan import plan
from passcheck.job.soak import soak_now
from passcheck.sequence.model import Sequence, SoakStep
from sequences import LAMPS, RAIL

SOAK_STEP: Mapping[str, Any] = {**sequences.SOAK_STEP, "hours": "2 h"}
SOAK_BOARDS = (
    sequences.with_steps(SOAK_STEP),
    sequences.with_steps({**SOAK_STEP, "check": [RAIL, LAMPS], "cycles": 2, "off": "90 s"}),
    sequences.with_steps({**SOAK_STEP, "continuous": False}, stored_energy=[sequences.LITTLE_ENERGY]),
    sequences.with_steps({**SOAK_STEP, "again_after_opening": True, "ambient": "15 °C .. 35 °C"}),
    sequences.sequence(steps=[sequences.LOOK_STEP, *sequences.BASE["steps"], sequences.FINAL_STEP, SOAK_STEP]),
)
MINUTES = (60, 60, 60, 60, 60, 64, 70, 110, 130)
SIGNS = ("meter", "meter", "meter", "meter", "held", "stood still", None)
WALKS = ("passes", "passes", "passes", "passes", "passes", "passes", "nothing", "fails", "wrong unit")
LOOKS = st.tuples(*(st.sampled_from(values) for values in (MINUTES, SIGNS, (0, 0, 1), WALKS)))


class OnSoak(Watched):
    """A unit that passed acceptance, and the soaks that become of it."""

    @initialize(board=st.sampled_from(SOAK_BOARDS))
    def arrives(self, board: Sequence) -> None:
        self.begin(board)
        seen = len(self.story.history)
        self.story.make_safe().walk()
        self.watch(seen)

    @property
    def soak(self) -> SoakStep:
        """The board's soak."""
        return soaking.soak_of(self.story.job)

    @rule(looks=st.lists(LOOKS, max_size=4), told_done=st.booleans())
    def soaks(self, looks: list[tuple[int, str | None, int, str]], told_done: bool) -> None:
        """Hours at power, with looks of every sort."""
        if self.story.job.open_soak is None:
            self._begins()
            self._walks("passes")
        for minutes, sign, cycles, walks in looks:
            self.story.clock.pass_time(minutes=minutes)
            self._looks(sign, cycles, wrong_unit=walks == "wrong unit")
            self._walks(walks)
        if told_done:
            self.ask(soaking.finish(self.story.job))

    def _begins(self) -> None:
        self._made_safe()
        self.ask(commands.CloseRun("t1"))
        self.ask(hand.start(self.story.job, "burn-in"))
        for command in hand.answers_to_cautions(self.story.job, self.soak.id, "t1", self.story.now):
            self.ask(command)
        self.ask(hand.energise(self.story.job, self.soak.id))
        self.ask(soaking.start(self.story.job))

    def _looks(self, sign: str | None, cycles: int, *, wrong_unit: bool) -> None:
        job = self.story.job
        if job.open_soak is None:
            return
        read = sign
        if sign == "meter":  # it goes on with the clock that can't be set
            begun = job.open_soak.looks[0].measured
            gone_ms = job.measured.on(self.story.now).total_ms - begun.total_ms
            read = soaking.meter_after(job, gone_ms / 1000)
        elif sign == "stood still":
            read = soaking.METER_AT_START
        seen = soaking.seen(job, read, **({"serial": "7Q22052"} if wrong_unit else {}))
        self.ask(commands.CheckSoak("t1", self.soak.id, seen, again=seen, cycles=cycles))

    def _walks(self, how: str) -> None:
        wanted = soak_now(self.story.job, self.soak).still_to_pass
        for step in wanted if how in ("passes", "fails") else ():
            self.attempt(step, "t1", good=how == "passes")

    @rule()
    def walks_the_open_look(self) -> None:
        self._walks("passes")

    @rule()
    def finishes(self) -> None:
        self.ask(soaking.finish(self.story.job))

    @rule()
    def breaks_it_off(self) -> None:
        self.ask(commands.BreakSoak("t1", self.soak.id, "the bench is needed"))

    @rule(told=st.sampled_from(("off", "cycled", "cycled")))
    def tells_power(self, told: str) -> None:
        self.ask(commands.TellPower("t1", "off" if told == "off" else "cycled"))

    @rule()
    def makes_safe(self) -> None:
        self._made_safe()

    def _made_safe(self) -> None:
        self.ask(commands.CallMakeSafe("t1"))
        self.ask(hand.proved_dead(self.story.job))

    @rule(under=few("warm"), bad=st.sampled_from((None, None, None, RAIL, LAMPS)))
    def accepts_again(self, under: tuple[str, ...], bad: str | None) -> None:
        """What the plan of acceptance asks for, with a step that fails at its end now and then."""
        self._made_safe()
        self.ask(commands.CloseRun("t1"))
        self.ask(hand.start(self.story.job, "acceptance"))
        for _ in range(12):
            for planned in plan(self.story.job, "acceptance")[:1]:
                self.attempt(planned.step.id, "t1", good=True, under=planned.under or under)
        if bad is not None:
            self.attempt(bad, "t1", good=False, under=under)
        for step in self.story.job.sequence.steps:
            self.ask(commands.AddNote("t1", "the clip had slipped off", step.id))

    @rule(block=st.sampled_from(("PWR", "LAMP")), opened=st.booleans())
    def is_worked_on(self, block: str, opened: bool) -> None:
        self._made_safe()
        self.ask(commands.OpenCase("t1", "to look") if opened else hand.rework(block))

    @rule(block=st.sampled_from(("PWR", "LAMP")))
    def an_incident_is_answered(self, block: str) -> None:
        self.ask(commands.ReportIncident("t1", (block,), "smoke"))
        self._made_safe()
        for number in self.story.job.open_incidents:
            self.ask(hand.rework(block, incident=number))

    @rule(data=st.data(), cause=st.booleans())
    def withdraws(self, data: st.DataObject, cause: bool) -> None:
        """One of the last tries is voided, with the bench's own fault shown gone or without."""
        made = [one.number for one in self.story.job.attempts][-3:]
        shown = ("the lead", "read again with another lead") if cause else (None, None)
        self.ask(commands.VoidAttempt("t1", data.draw(st.sampled_from(made)), "slip", *shown))

    @rule()
    def signs_off(self) -> None:
        self._made_safe()
        self.ask(commands.SignOff("t1", self.story.job.serial))

    @precondition(lambda self: self.story.job.ended is None)
    @rule(machine=st.booleans())
    def crashes(self, machine: bool) -> None:
        """The program is killed, or the whole machine is started anew."""
        seen = len(self.story.history)
        if machine:
            self.story.clock.reboot(minutes=7)
        self.story.restart()
        self.watch(seen)

    @rule(minutes=st.sampled_from((1, 14, 16, 45)))
    def time_passes(self, minutes: int) -> None:
        self.story.clock.pass_time(minutes=minutes)

    @rule(hours=st.sampled_from((-30, -1, 1, 30)))
    def somebody_sets_the_clock_on_the_wall(self, hours: int) -> None:
        self.story.clock.set_wall(hours=hours)
