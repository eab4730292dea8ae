"""A job told by commands or by bare events, without a bench: the pure core and a clock.

story = Story(sequences.sequence())
story.do(hand.start(story.job), hand.passing(story.job, "short-5v"))
assert "blank" in story.blockers()[0]
"""

from copy import copy
from dataclasses import replace

import hand
from rig import COMPLAINT, SERIAL, RigBoards, RigClock, settings

import sequences
from passcheck.job.blocker import Blocker
from passcheck.job.commands import CallMakeSafe, CloseRun, Command, Refusal
from passcheck.job.decide import decide
from passcheck.job.events import Event, JobOpened, Purpose, Resumed
from passcheck.job.fold import evolve, fold, opened
from passcheck.job.gate import blockers
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.power import told
from passcheck.job.settings import BenchSettings
from passcheck.job.state import Attempt, Job, Recorded
from passcheck.sequence.model import Sequence, Step


class Story:
    """What happens to one unit, event by event."""

    def __init__(
        self,
        sequence: Sequence | None = None,
        *,
        variants: tuple[str, ...] = (),
        settings_now: BenchSettings | None = None,
    ) -> None:
        """The unit has just arrived."""
        self.boards = RigBoards()
        board = self.boards.put(sequence or sequences.sequence())
        self.clock = RigClock()
        self.outside = Outside(settings_now or settings(), todays_digest=board.digest)
        first = JobOpened(
            job="A31-0417",
            serial=SERIAL,
            complaint=COMPLAINT,
            condition="seal broken",
            sequence_text=board.text,
            sequence_digest=board.digest,
            variants=variants,
            bench="A",
            tool="passcheck test",
            boot_id=self.now.boot_id,
            offset_min=self.now.offset_min,
            ledger_bytes=0,
            ledger_digest="",
        )
        self.history = [Recorded(0, self.now, "t1", first)]
        self.job: Job = opened(self.history[0], self.boards.read)

    def twin(self) -> "Story":
        """Another story that went the same way so far."""
        other = copy(self)
        other.history = list(self.history)
        other.clock = copy(self.clock)
        return other

    @property
    def now(self) -> Moment:
        """The clock."""
        return self.clock()

    def happen(self, *events: Event, by: str = "t1") -> None:
        """Fold events that nobody decided."""
        for event in events:
            one = Recorded(len(self.history), self.now, by, event)
            self.history.append(one)
            self.job = evolve(self.job, one, self.boards.read)

    def ask(self, command: Command) -> tuple[Event, ...] | Refusal:
        """What the core answers; nothing happens."""
        return decide(self.job, command, self.now, self.outside)

    def do(self, *commands: Command) -> tuple[Event, ...]:
        """Carry out commands that have to be granted; the events of the last are given back."""
        events: tuple[Event, ...] = ()
        for command in commands:
            answer = self.ask(command)
            assert not isinstance(answer, Refusal), answer
            self.happen(*answer, by=command.by)
            events = answer
        return events

    def refused(self, command: Command) -> Refusal:
        """Ask for what has to be refused."""
        answer = self.ask(command)
        assert isinstance(answer, Refusal), answer
        return answer

    def restart(self, by: str = "t1") -> None:
        """The program was killed and opened the job again."""
        away = self.now.since(self.job.last)
        away_ms = None if away is None else int(away.total_seconds() * 1000)
        self.happen(Resumed(self.now.boot_id, self.now.offset_min, "passcheck test", away_ms), by=by)

    def replayed(self) -> Job:
        """The job as its whole history makes it."""
        return fold(self.history, self.boards.read)

    def blockers(self) -> tuple[str, ...]:
        """What stands against the sign-off, as sentences."""
        return tuple(one.sentence for one in self.blocking())

    def blocking(self) -> tuple[Blocker, ...]:
        """What stands against the sign-off."""
        return blockers(self.job, self.outside, self.now)

    def step(self, step_id: str) -> Step:
        """A step of the job's sequence."""
        return self.job.sequence.step(step_id)

    def told(self, supply: str = "battery") -> str:
        """What may be believed of a supply now."""
        return told(self.job, self.now)[supply]

    def last_attempt(self) -> Attempt:
        """The attempt made last."""
        return self.job.attempts[-1]

    def start(self, purpose: Purpose = "acceptance", by: str = "t1", second: str | None = None) -> "Story":
        """Begin a run, closing the one before."""
        if self.job.open_run is not None:
            self.do(CloseRun(by))
        self.do(hand.start(self.job, purpose, by, second))
        return self

    def answer(self, step_id: str, by: str = "t1") -> "Story":
        """Answer the cautions that stand before a step."""
        self.do(*hand.answers_to_cautions(self.job, step_id, by, self.now))
        return self

    def power(self, step_id: str, by: str = "t1") -> "Story":
        """Answer the step's cautions and tell its supply on."""
        self.answer(step_id, by)
        self.do(hand.energise(self.job, step_id, by))
        return self

    def make_safe(self, by: str = "t1") -> "Story":
        """Press the key and prove the unit dead."""
        self.do(CallMakeSafe(by), hand.proved_dead(self.job, by))
        return self

    def ready(self, step_id: str, by: str = "t1") -> "Story":
        """Bring the power and the answers to where the step may be tried; nothing is tried."""
        supply = self.step(step_id).power
        states = told(self.job, self.now)
        if any(state != "off" for name, state in states.items() if name != supply or state == "unknown"):
            self.make_safe(by)
        self.answer(step_id, by)
        if supply in self.job.sequence.supplies and self.told(supply) not in ("on", "soaking"):
            self.do(hand.energise(self.job, step_id, by))
        return self

    def passes(
        self,
        step_id: str,
        by: str = "t1",
        *,
        note: str = "",
        second: str | None = None,
        under: tuple[str, ...] = (),
    ) -> "Story":
        """Try a step with an answer that passes, whatever power it needs first."""
        self.ready(step_id, by).do(hand.passing(self.job, step_id, by, note, second, under))
        return self

    def fails(self, step_id: str, by: str = "t1", *, note: str = "", under: tuple[str, ...] = ()) -> "Story":
        """Try a step with an answer that fails."""
        self.ready(step_id, by).do(hand.failing(self.job, step_id, by, note, under))
        return self

    def reads(self, step_id: str, *shown: str, instrument: str | None = None) -> "Story":
        """Try a reading step with what the instrument shows."""
        self.ready(step_id).do(hand.reading(step_id, *shown, instrument=instrument))
        return self

    def walk(self, purpose: Purpose = "acceptance", by: str = "t1") -> "Story":
        """A known-good run from first step to last, made safe and closed."""
        self.start(purpose, by)
        walked: set[tuple[str, str]] = set()
        while planned := hand.still_open(self.job, walked):
            self.passes(planned.step.id, by, under=planned.under)
        self.make_safe(by).do(CloseRun(by))
        return self

    def walk_again(self, by: str = "t1") -> "Story":
        """Every step once more, whether it needs it or not."""
        self.start("acceptance", by)
        for step in self.job.sequence.steps:
            self.passes(step.id, by)
        self.make_safe(by).do(CloseRun(by))
        return self

    def with_settings(self, settings_now: BenchSettings) -> "Story":
        """bench.yaml was edited."""
        self.outside = replace(self.outside, settings=settings_now)
        return self
