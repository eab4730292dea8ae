"""A random walk through everything that could be asked of one unit, sense and nonsense alike, with crashes between."""

from dataclasses import replace

import hand
from hypothesis import strategies as st
from hypothesis.stateful import initialize, precondition, rule
from nonsense import NONSENSE, PEOPLE, few
from watched import Watched

import sequences
from passcheck.job import commands
from passcheck.job.commands import Command
from passcheck.job.events import Purpose, Unrecognised
from passcheck.job.plan import plan
from passcheck.sequence.model import Sequence

WALKED: st.SearchStrategy[Purpose] = st.sampled_from(("as-found", "retest", "acceptance"))
BOARDS = (
    sequences.sequence(),
    sequences.with_signal("CAUTION"),
    sequences.with_signal("DANGER"),
    sequences.little_energy(),
    sequences.much_energy(),
    sequences.hazardous_live(),
    sequences.with_arrival_and_final(),
    sequences.with_restore(),
    sequences.with_witness(),
    sequences.with_soak(),
)


class AnyOrder(Watched):
    """One unit, and everything that could be asked of it."""

    @initialize(board=st.sampled_from(BOARDS))
    def arrives(self, board: Sequence) -> None:
        self.begin(board)

    @rule(command=NONSENSE)
    def anything(self, command: Command) -> None:
        self.ask(command)

    @rule(purpose=WALKED, by=PEOPLE, again=st.sampled_from((False, False, True)))
    def starts(self, purpose: Purpose, by: str, again: bool) -> None:
        begun = hand.start(self.story.job, purpose, by, "t2" if by != "t2" else "t1")
        assert isinstance(begun, commands.StartRun)
        self.ask(replace(begun, again=again))

    @rule(by=PEOPLE)
    def closes_the_run(self, by: str) -> None:
        self.ask(commands.CloseRun(by))

    @rule(by=PEOPLE)
    def matches_the_complaint(self, by: str) -> None:
        self.ask(commands.MapComplaint(by, ("rail-low",)))

    @rule(data=st.data(), by=PEOPLE, good=st.sampled_from((True, True, True, False)), under=few("warm", "cold", "warm"))
    def tries(self, data: st.DataObject, by: str, good: bool, under: tuple[str, ...]) -> None:
        """The next step of the plan, with the power it needs where it can be had."""
        job = self.story.job
        left = [*(one.step for one in plan(job) if one.step.kind != "soak"), job.sequence.steps[0]]
        step = data.draw(st.sampled_from(left[:3]))
        if any(told == "unknown" for told in (self.story.told(name) for name in job.sequence.supplies)):
            self.ask(hand.proved_dead(job, by))
        self.attempt(step.id, by, good=good, under=under)

    @rule(by=PEOPLE, lead=st.sampled_from((False, False, True)))
    def makes_safe(self, by: str, lead: bool) -> None:
        self.ask(commands.CallMakeSafe(by))
        self.ask(hand.proved_dead(self.story.job, by, shorting_lead=lead))

    @rule(block=st.sampled_from(("PWR", "LAMP")), by=PEOPLE)
    def reworks(self, block: str, by: str) -> None:
        open_ones = self.story.job.open_incidents
        self.ask(hand.rework(block, by=by, incident=open_ones[0] if open_ones else None))

    @rule(by=PEOPLE)
    def puts_everything_back(self, by: str) -> None:
        for it in self.story.job.fitted:
            self.ask(commands.UndoChange(by, it.change, "put back"))

    @rule(by=PEOPLE)
    def signs_off(self, by: str) -> None:
        self.ask(commands.SignOff(by, self.story.job.serial))

    @precondition(lambda self: self.story.job.ended is None)
    @rule()
    def crashes(self) -> None:
        seen = len(self.story.history)
        self.story.restart()
        self.watch(seen)

    @precondition(lambda self: self.story.job.ended is None)
    @rule()
    def the_machine_restarts(self) -> None:
        seen = len(self.story.history)
        self.story.clock.reboot()
        self.story.restart()
        self.watch(seen)

    @rule(minutes=st.sampled_from((1, 14, 15, 300)))
    def time_passes(self, minutes: int) -> None:
        self.story.clock.pass_time(minutes=minutes)

    @precondition(lambda self: self.story.job.ended is None and len(self.story.history) > 20)
    @rule()
    def a_later_version_wrote_a_line(self) -> None:
        seen = len(self.story.history)
        self.story.happen(Unrecognised("lamp dimmed", {"by": 3}))
        self.watch(seen)
