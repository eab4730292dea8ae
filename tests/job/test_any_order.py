"""Does a job keep its rules whatever is asked of it, in whatever order, by whomever, sense and nonsense alike?

A random walk through commands with crashes and absences between them; `monitor.py` watches. The environment variable
PASSCHECK_EXAMPLES sets how many walks are made: 5000 take some minutes.
"""

import json
import os
from typing import Literal

import hand
from hypothesis import HealthCheck
from hypothesis import settings as run_with
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from monitor import Monitor, When, facts_of
from story import Story

import sequences
from passcheck.job import commands
from passcheck.job.answers import Answer, CountAnswer, Departure, ListAnswer, ReadingAnswer
from passcheck.job.commands import Command, Refusal
from passcheck.job.events import Action, PointProof, Purpose, Unrecognised
from passcheck.job.fold import fold
from passcheck.job.gate import blockers
from passcheck.job.journal_line import Line
from passcheck.job.plan import plan
from passcheck.job.replay import recorded, stamp
from passcheck.job.standing import passes_standing
from passcheck.job.summary import summarise
from passcheck.job.tags import encode
from passcheck.job.traveller import card
from passcheck.sequence.model import Sequence

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


def some(*values: str) -> st.SearchStrategy[str]:
    """One of these."""
    return st.sampled_from(values)


def few(*values: str) -> st.SearchStrategy[tuple[str, ...]]:
    """None, one or two of these."""
    return st.lists(st.sampled_from(values), max_size=2).map(tuple)


PEOPLE = some("t1", "t1", "t1", "t2", "k9")
ANYBODY = some("t1", "t2", "k9", "nobody", "")
STEPS = some(sequences.GUARD, sequences.RAIL, sequences.LAMPS, "arrival", "final", "inlet", "soak", "none such")
WORDS = st.text(max_size=12)
VOLTS = ("5.00 V", "5.14 V", "5.16 V", "3.9 V", "-5.00 V", "24.0 V", "1e99 V")
SHOWN = some(*VOLTS, "0", "OL", "0.30 A", "0.3 A", "200 Ω", "20 Ω", "x", "")
PLACES = some("TP9 to TP0", "TP1")
BLOCKS = few("PWR", "LAMP", "GHOST")
PARTS = few("C1", "DS1", "X9")
POINT = st.builds(PointProof, PLACES, SHOWN, SHOWN, SHOWN, st.integers(-1, 30), SHOWN, SHOWN)
DEPARTURE = st.builds(Departure, st.integers(-1, 3), some("", "dark"))
ANSWERS: st.SearchStrategy[Answer] = st.one_of(
    st.builds(ReadingAnswer, st.lists(SHOWN, max_size=2).map(tuple)),
    st.builds(ListAnswer, st.lists(DEPARTURE, max_size=2).map(tuple)),
    st.builds(CountAnswer, st.integers(-1, 3)),
)
TIMES = st.none() | some("", "2031-04-02T08:00:00+00:00", "2031-04-02T08:10:00")
ACTIONS: st.SearchStrategy[Action] = st.sampled_from(
    ("replaced", "firmware", "inspected", "leg lifted", "swapped in", "put back")
)
WORKED: st.SearchStrategy[Action] = st.sampled_from(("leg lifted", "swapped in", "put back", "reflowed"))
DONORS = some("", "7Q22099")
PURPOSES: st.SearchStrategy[Purpose] = st.sampled_from(("as-found", "burn-in", "good-unit"))
WALKED: st.SearchStrategy[Purpose] = st.sampled_from(("as-found", "retest", "acceptance"))
SWITCHED: st.SearchStrategy[Literal["off", "cycled"]] = st.sampled_from(("off", "cycled"))
NUMBERS = st.integers(0, 5)
NONSENSE: st.SearchStrategy[Command] = st.one_of(
    st.builds(commands.MapComplaint, ANYBODY, few("rail-low", "ghost")),
    st.builds(commands.StartRun, ANYBODY, PURPOSES, some("7Q22051", "x")),
    st.builds(commands.CloseRun, ANYBODY),
    st.builds(commands.Acknowledge, ANYBODY, some("fault-current", "mains", "ghost"), st.none() | SHOWN),
    st.builds(commands.Energise, ANYBODY, STEPS, SHOWN, SHOWN),
    st.builds(commands.ReadSupply, ANYBODY, some("battery", "mains", "ghost"), SHOWN, SHOWN, st.booleans()),
    st.builds(commands.TellPower, ANYBODY, SWITCHED),
    st.builds(commands.CallMakeSafe, ANYBODY),
    st.builds(commands.ProveDead, ANYBODY, WORDS, st.lists(POINT, max_size=2).map(tuple), st.none() | SHOWN),
    st.builds(commands.Attempt, ANYBODY, STEPS, ANSWERS, st.none() | ANSWERS, measured_at=TIMES),
    st.builds(commands.VoidAttempt, ANYBODY, NUMBERS, WORDS, st.none() | WORDS, st.none() | WORDS),
    st.builds(commands.AddNote, ANYBODY, WORDS, st.none() | STEPS),
    st.builds(commands.ReportIncident, ANYBODY, BLOCKS, WORDS),
    st.builds(
        commands.LogRework,
        ANYBODY,
        BLOCKS,
        few("C1", "DS1", "X9"),
        ACTIONS,
        WORDS,
        incident=st.none() | NUMBERS,
        donor=some("", "7Q22099", "7Q22051", "[b]"),
    ),
    st.builds(commands.LogRework, PEOPLE, st.just(("PWR",)), st.just(("C1",)), WORKED, st.just("why"), donor=DONORS),
    st.builds(commands.OpenCase, ANYBODY, WORDS),
    st.builds(commands.UndoChange, ANYBODY, some("shorting lead", sequences.RAIL, "rework 1", "ghost"), WORDS),
    st.builds(commands.HandOver, ANYBODY, ANYBODY),
    st.builds(commands.AgreeOwner, ANYBODY, WORDS, WORDS),
    st.builds(commands.Jot, ANYBODY, WORDS, WORDS),
    st.builds(commands.SignOff, ANYBODY, some("7Q22051", "x"), second=st.none() | ANYBODY),
    st.builds(commands.ReturnInPart, ANYBODY, WORDS),
)


class AnyOrder(RuleBasedStateMachine):
    """One unit, and everything that could be asked of it."""

    story: Story
    monitor: Monitor

    @initialize(board=st.sampled_from(BOARDS))
    def arrives(self, board: Sequence) -> None:
        self.story = Story(board)
        self.monitor = Monitor(facts_of(self.story.job.sequence))
        self._watch(0)

    def _watch(self, seen: int) -> None:
        for one in self.story.history[seen:]:
            now = one.moment
            self.monitor.see(one.event, one.by, When(now.boottime_ms, now.boot_id, now.utc))

    def _ask(self, command: Command) -> None:
        seen = len(self.story.history)
        answer = self.story.ask(command)
        if not isinstance(answer, Refusal):
            self.story.happen(*answer, by=command.by)
            self._watch(seen)
        else:
            assert answer.sentence
            assert answer.lift

    @rule(command=NONSENSE)
    def anything(self, command: Command) -> None:
        self._ask(command)

    @rule(purpose=WALKED, by=PEOPLE)
    def starts(self, purpose: Purpose, by: str) -> None:
        self._ask(hand.start(self.story.job, purpose, by, "t2" if by != "t2" else "t1"))

    @rule(data=st.data(), by=PEOPLE, good=st.sampled_from((True, True, True, False)))
    def tries(self, data: st.DataObject, by: str, good: bool) -> None:
        """The next step of the plan, with the power it needs where it can be had."""
        job = self.story.job
        left = [*(one.step for one in plan(job) if one.step.kind != "soak"), job.sequence.steps[0]]
        step = data.draw(st.sampled_from(left[:3]))
        if any(told == "unknown" for told in (self.story.told(name) for name in job.sequence.supplies)):
            self._ask(hand.proved_dead(job, by))
        for command in hand.answers_to_cautions(self.story.job, step.id, by, self.story.now):
            self._ask(command)
        if step.power != "none" and self.story.told(step.power) != "on":
            self._ask(hand.energise(self.story.job, step.id, by))
        second = "k9" if by != "k9" and step.witness else None
        answer = hand.good(step) if good else hand.bad(step)
        self._ask(commands.Attempt(by, step.id, answer, again=answer, second=second))

    @rule(by=PEOPLE, lead=st.sampled_from((False, False, True)))
    def makes_safe(self, by: str, lead: bool) -> None:
        self._ask(commands.CallMakeSafe(by))
        self._ask(hand.proved_dead(self.story.job, by, shorting_lead=lead))

    @rule(block=st.sampled_from(("PWR", "LAMP")), by=PEOPLE)
    def reworks(self, block: str, by: str) -> None:
        open_ones = self.story.job.open_incidents
        self._ask(hand.rework(block, by=by, incident=open_ones[0] if open_ones else None))

    @rule(by=PEOPLE)
    def puts_everything_back(self, by: str) -> None:
        for it in self.story.job.fitted:
            self._ask(commands.UndoChange(by, it.change, "put back"))

    @rule(by=PEOPLE)
    def signs_off(self, by: str) -> None:
        self._ask(commands.SignOff(by, self.story.job.serial))

    @precondition(lambda self: self.story.job.ended is None)
    @rule()
    def crashes(self) -> None:
        seen = len(self.story.history)
        self.story.restart()
        self._watch(seen)

    @precondition(lambda self: self.story.job.ended is None)
    @rule()
    def the_machine_restarts(self) -> None:
        seen = len(self.story.history)
        self.story.clock.reboot()
        self.story.restart()
        self._watch(seen)

    @rule(minutes=st.sampled_from((1, 14, 15, 300)))
    def time_passes(self, minutes: int) -> None:
        self.story.clock.pass_time(minutes=minutes)

    @precondition(lambda self: self.story.job.ended is None and len(self.story.history) > 20)
    @rule()
    def a_later_version_wrote_a_line(self) -> None:
        seen = len(self.story.history)
        self.story.happen(Unrecognised("lamp dimmed", {"by": 3}))
        self._watch(seen)

    @invariant()
    def the_journal_alone_gives_the_same_job(self) -> None:
        lines = []
        for one in self.story.history:
            tag, data = encode(one.event)
            kept = json.loads(json.dumps(data))
            lines.append(Line(one.number, stamp(one.moment), one.by, one.moment.boottime_ms, tag, kept))
        assert fold(recorded(lines), self.story.boards.read) == self.story.job

    @invariant()
    def power_is_never_believed_longer_than_it_was_told(self) -> None:
        for name in self.story.job.sequence.supplies:
            if self.story.told(name) in ("on", "off"):
                assert self.monitor.told[name] == self.story.told(name)

    @invariant()
    def a_step_passes_only_where_the_watcher_agrees(self) -> None:
        for step in self.story.job.sequence.steps:
            if passes_standing(self.story.job, step):
                assert self.monitor.worth(step.id) == "passes"

    @invariant()
    def no_attempt_was_ever_lost_or_touched(self) -> None:
        kept = {one.number: one.judgement.verdict for one in self.story.job.attempts}
        assert {one.number: one.verdict for one in self.monitor.tries} == kept

    @invariant()
    def everything_that_is_shown_can_be_shown(self) -> None:
        job, outside, now = self.story.job, self.story.outside, self.story.now
        assert card(job, outside, now).blockers == blockers(job, outside, now)
        summarise(job, outside, now)


TestAnyOrder = AnyOrder.TestCase
TestAnyOrder.settings = run_with(
    max_examples=int(os.environ.get("PASSCHECK_EXAMPLES", "60")),
    stateful_step_count=40,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
