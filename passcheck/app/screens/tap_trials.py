"""How long does the unit take, by the taps of a hand?

The course says what is wanted next and when it is decided; the core judges the raw taps anew. What is broken off is
void, and the record says so.
"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from passcheck.app.screens.timing import TimingScreen
from passcheck.app.screens.withdraw import Withdraw
from passcheck.app.trying import Trying
from passcheck.app.widgets.tap_unit import TapUnit
from passcheck.app.widgets.timed_words import hands_words
from passcheck.bench.bench import Bench, Done
from passcheck.bench.step_course import course_of
from passcheck.bench.tap_rows import RateCourse, SweepCourse
from passcheck.bench.tapped_answers import pairs_answer, pairs_of, rows_answer, rows_of
from passcheck.bench.timing import ReferenceCourse, Withdrawn
from passcheck.bench.unit_trials import UnitCourse
from passcheck.errors import OurBug
from passcheck.job.answers import Departure, TapPairsAnswer, TapRowsAnswer
from passcheck.job.commands import Attempt, BeginTiming, InterruptTiming, Refusal
from passcheck.job.tapped import beside
from passcheck.job.timed import way_of
from passcheck.sequence.model import LampsStep, PressesStep, ResponseStep, Step, SweepStep


class TapTrialsScreen(TimingScreen):
    """The trials of one step; `kept` is what became of them, None where they were left."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "nothing", "No answer", id="timing.nothing", tooltip="Nothing moves or lights at all: a fail."),
        Binding("f4", "withdraw", "Void last", id="timing.void", tooltip="Takes the last trial back, with a reason."),
    ]

    def __init__(
        self,
        bench: Bench,
        tap_key: str,
        step: Step,
        departures: tuple[Departure, ...] = (),
        trying: Trying | None = None,
    ) -> None:
        """Args:
        bench: the unit in hand.
        tap_key: the key that taps.
        step: what is timed.
        departures: lamps that were amiss, where lamps are walked beside the taps.
        trying: what the try goes with; the run's own second person and no conditions where it is None.
        """
        super().__init__(bench, tap_key)
        self._step = step
        self._departures = departures
        self._trying = trying or Trying()
        self.kept: Done | None = None

    def face(self) -> ComposeResult:
        """The practice unit, in practice; at work the unit lies on the bench."""
        practice, moment = self.desk.practice, self.bench.moment()
        if practice is None:
            return
        found = practice.bench.shows(self.bench.job, self._step, moment, self._trying.under)
        if found is not None:
            # The judge takes off what a hand needs to see a screen, and gives back what this bench's screen is late.
            by_reference = way_of(self.bench.job, self._step) == "by reference"
            early_s = self.bench.outside().latency_at(moment).latency.value_s if by_reference else 0.0
            yield TapUnit(self._step, found, early_s)

    def follow(self) -> None:
        """Do what the cue says; a practice unit does its part."""
        super().follow()
        for unit in self.query(TapUnit):
            unit.follow(self.course if self.is_armed else None)

    def disarm(self) -> None:
        """Taps are taken no more; a practice unit stands still."""
        super().disarm()
        for unit in self.query(TapUnit):
            unit.follow(None)

    async def begin(self) -> None:
        """Record that taps begin, then take them."""
        self.explain(self._step.title, hands_words(self._step, self.key_name))
        run = self.bench.job.open_run
        if run is None or await self.act(BeginTiming(self.person, self._step.id)) is None:
            self.say("Escape goes back.")
            return
        stands = beside(self.bench.job, run, self._step, self.person, self.bench.moment(), self.bench.outside())
        if isinstance(stands, Refusal):
            self.show_refusal(stands)
            return
        self.course = course_of(self._step, stands)
        self.arm()

    async def end(self) -> None:
        """Have the taps judged and kept."""
        with_it = self._trying.of(self.bench.job.open_run, self._step)
        attempt = Attempt(
            self.person,
            self._step.id,
            self._answer(),
            second=with_it.second,
            second_pin=with_it.pin,
            conditions=with_it.under,
        )
        answered = await self.ask(attempt)
        if isinstance(answered, Done):
            self.kept = answered
            self.dismiss(None)
        elif isinstance(answered, Refusal):
            self.show_refusal(answered)
            await self.break_off(answered.sentence)
            self.say("Nothing was judged. Escape goes back.")
        else:
            self.say("Escape goes back.")

    async def break_off(self, why: str) -> None:
        """What was tapped is void, and kept as that."""
        pairs = pairs_of(self.course) if isinstance(self.course, UnitCourse) else ()
        rows = rows_of(self.course) if isinstance(self.course, SweepCourse | RateCourse) else ()
        if self.bench.job.timing is not None:
            await self.act(InterruptTiming(self.person, self._step.id, why, pairs, rows))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Rows may be ended by hand, trials taken back."""
        if action == "nothing":
            return isinstance(self._step, SweepStep | LampsStep)
        if action == "withdraw":
            return isinstance(self._step, ResponseStep | PressesStep)
        return super().check_action(action, parameters)

    def action_nothing(self) -> None:
        """Say that the unit shows nothing; a trial that waits ends by itself."""
        if self.is_armed and isinstance(self.course, SweepCourse | RateCourse):
            self.time_out()

    def action_withdraw(self) -> None:
        """Take the last trial back before anything is shown of it."""
        if not self.is_armed or not isinstance(self.course, UnitCourse) or not self.course.trials:
            self.say("There is no trial to take back.")
            return
        self.rest()
        self.app.push_screen(Withdraw(), self._withdrawn)

    def _withdrawn(self, why: str | None) -> None:
        self.go_on()
        if why and self.course is not None:
            self.course = self.course.after(Withdrawn(why))
        self.follow()

    def _answer(self) -> TapPairsAnswer | TapRowsAnswer:
        match self.course:
            case UnitCourse():
                return pairs_answer(self.course, self.how)
            case SweepCourse() | RateCourse():
                return rows_answer(self.course, self.how, self._departures)
            case None | ReferenceCourse():
                raise OurBug("the taps of a step ended without a course of the step")
