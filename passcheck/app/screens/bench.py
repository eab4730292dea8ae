"""Which step is at hand, what has to be done, and what did it show?

The screen decides nothing: the core says whether the step may be tried and what an answer amounts to. A pass walks on
by the plan; anything else stays, because the technician has to look again.
"""

from typing import ClassVar, Final

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Button, Input

from passcheck.app.bench_keys import BENCH_KEYS
from passcheck.app.bench_words import powered_absence
from passcheck.app.job_screen import JobScreen
from passcheck.app.lift_it import lift_it
from passcheck.app.lifting import Act, lifting
from passcheck.app.no_step import no_step
from passcheck.app.plain import Words, tell
from passcheck.app.screens.close_run import CloseRunSlip
from passcheck.app.screens.how_tried import HowTriedSlip
from passcheck.app.screens.instrument import InstrumentScreen
from passcheck.app.screens.late_entry import LateEntrySlip
from passcheck.app.screens.learn_key import LearnKey
from passcheck.app.screens.note import NoteScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.suspects import SuspectsSlip
from passcheck.app.still_open import papers_open
from passcheck.app.tap_keys import key_words
from passcheck.app.tap_step import before_words, tap_step
from passcheck.app.trying import Trying
from passcheck.app.unit_in_hand import UnitInHand
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.lamps import LampsEntry
from passcheck.app.widgets.result_strip import ResultStrip
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.app.widgets.taps import BEGIN, TapsEntry
from passcheck.app.widgets.ticket import Ticket
from passcheck.app.widgets.unit_panel import UnitPanel
from passcheck.app.widgets.with_unit import WithUnit
from passcheck.bench.bench import Bench, Done
from passcheck.job import power
from passcheck.job.answers import Answer, Departure, ListAnswer
from passcheck.job.commands import Attempt, Refusal, TellPower
from passcheck.job.decide_attempt import step_refusal
from passcheck.job.judging import instrument_role
from passcheck.job.late_entry import can_be_late
from passcheck.job.plan import plan
from passcheck.job.serial import read_serial
from passcheck.job.state import Attempt as Kept
from passcheck.job.state import Job, Run
from passcheck.job.steps import steps_of
from passcheck.job.timed import way_of
from passcheck.job.traveller import WORDS
from passcheck.sequence.model import LampsStep, ReadingStep, Step

LOOK_AGAIN_S: Final = 30.0  # how often the screen asks whether a told "on" has faded
BETWEEN_TONES_S: Final = 0.25


class BenchScreen(JobScreen):
    """One step, large: where, what to do, the entry, and what the last entry amounted to."""

    CSS_PATH = "bench.tcss"
    AUTO_FOCUS = None
    BINDINGS: ClassVar[list[BindingType]] = BENCH_KEYS

    def __init__(self, bench: Bench, step: str | None = None, dwell_s: float | None = None) -> None:
        """Args:
        bench: the unit in hand.
        step: the step to begin with; None for the plan's first.
        dwell_s: how long a caution is read before it can be answered; None for what the caution screen asks.
        """
        super().__init__(bench)
        self._chosen = step
        self._dwell_s = dwell_s
        self._way: tuple[object, ...] = ()  # what decides which entry or act lies on the ticket
        self._first: Answer | None = None
        self._last: Kept | None = None
        self._tries = len(bench.job.attempts)  # as many as this screen knows of
        self._fitted: tuple[str, ...] = ()
        self._act: Act | None = None
        self._meter: tuple[str, str] | None = None  # a step's id and the instrument chosen for it
        self._trying = Trying()
        self._by_instrument: frozenset[str] = frozenset()  # steps that could be tapped and are to be measured

    def sheet(self) -> ComposeResult:
        """The ticket of the step on top, what came of the last entry under it."""
        yield Words(id="banner")
        if self.desk.practice is None:
            yield from self._papers()
            return
        with WithUnit(id="with-unit"):
            with Vertical():
                yield Words("F10: the practice unit", id="unit-key")
                yield from self._papers()
            yield UnitPanel(id="unit")

    def _papers(self) -> ComposeResult:
        yield Ticket(id="ticket")
        yield ResultStrip(id="result")

    @property
    def ticket(self) -> Ticket:
        """What lies on the bench."""
        return self.query_one(Ticket)

    def on_mount(self) -> None:
        """Look now and then whether what was told of power may still be believed."""
        self.every(LOOK_AGAIN_S, self.look_again)

    # What is shown

    async def redraw(self) -> None:
        """Draw everything that the job's state says; an entry is left alone while it is still the right one."""
        self.refresh_head()
        self._show_banner()
        self._notice_soak()
        self._show_result()
        self._show_unit()
        step = self.step
        if step is None:
            await self._show_no_step()
            return
        tapped = self.is_tapped(step)
        meter = self._meter_for(step)
        self.ticket.show_words(self.bench.job, step, meter, self._chosen, tapped=tapped, trying=self._trying)
        refusal = self._refusal(step)
        before = before_words(self.bench, step, self.person) if tapped else None
        way = (step.id, refusal, len(self.bench.job.attempts), before)
        if way != self._way:
            self._way = way
            await self._show_way(step, refusal, before)

    def _show_unit(self) -> None:
        for panel in self.query(UnitPanel):
            panel.show_unit(self.unit_in_hand())

    def unit_in_hand(self) -> UnitInHand | None:
        """The simulated unit with the step at hand; None at work."""
        practice, step = self.desk.practice, self.step
        if practice is None:
            return None
        settings = self.desk.started_with()
        if step is None:
            return UnitInHand(practice, self.bench, settings)
        meter, tapped = self._meter_for(step), self.is_tapped(step)
        return UnitInHand(practice, self.bench, settings, step, meter, self._trying.under, by_hand=tapped)

    def refresh_job(self) -> None:
        """Something happened to the job."""
        self.call_later(self.redraw)

    def look_again(self) -> None:
        """Time alone may have made power unknown; an entry that is being typed is left alone."""
        self._show_banner()
        if not self.ticket.half_typed():
            self.refresh_job()

    @property
    def step(self) -> Step | None:
        """The step at hand: the chosen one, else the plan's first."""
        run = self.bench.job.open_run
        if run is None:
            return None
        of_run = steps_of(self.bench.job, run.purpose)
        chosen = next((step for step in of_run if step.id == self._chosen), None)
        if chosen is not None:
            return chosen
        return next((one.step for one in plan(self.bench.job)), None)

    @property
    def act_at_hand(self) -> str:
        """The name of the act that the button offers before the step can be tried, or ""."""
        return self._act.name if self._act is not None else ""

    @property
    def asks_again(self) -> bool:
        """Was an answer outside its limits given, so that it is to be given once more?"""
        return self._first is not None

    def _refusal(self, step: Step) -> Refusal | None:
        run = self.bench.job.open_run
        if run is None:
            return Refusal("no run", "No run is open.", "Start a run.")
        return step_refusal(self.bench.job, step, self.person, run, self.bench.moment(), self.bench.outside())

    def _show_banner(self) -> None:
        absence = powered_absence(self.bench.job, self.bench.moment())
        banner = self.query_one("#banner", Words)
        banner.display = bool(absence)
        banner.say(absence)

    async def _show_way(self, step: Step, refusal: Refusal | None, before: str | None) -> None:
        """The entry where the step may be tried, else why not and the one act that lifts it."""
        self._first = None
        self._act = None if refusal is None else lifting(self.bench.job, step, refusal, self.bench.moment())
        if refusal is None:
            await self.ticket.open_entry(step, None if before is None else self._taps_entry(step, before))
        else:
            await self.ticket.refuse(refusal, self._act.label if self._act else "")

    async def _show_no_step(self) -> None:
        """No run, or nothing left to walk in it."""
        self._way, self._act = (), None
        shown = no_step(self.bench.job, self.bench.moment())
        await self.ticket.show_no_step(shown.title, shown.do, shown.state, shown.act)

    def _all_off(self) -> bool:
        return power.all_off(self.bench.job, self.bench.moment())

    def _show_result(self) -> None:
        shown = None if self._first is not None else self._last
        self.query_one(ResultStrip).tell_of(self.bench.job, shown, self._fitted)

    def _notice_soak(self) -> None:
        """A soak is judged when it is ended, which no entry of this screen does; its verdict is shown like any."""
        tries = self.bench.job.attempts
        if len(tries) > self._tries and self.bench.job.sequence.step(tries[-1].step).kind == "soak":
            self._last, self._fitted = tries[-1], ()
            self._tone(self._last.judgement.verdict == "pass")
        self._tries = len(tries)

    # What is answered

    def on_input_changed(self, event: Input.Changed) -> None:
        """READ turns to TYPE with the first figure, so that eyes on the probes know that the entry took it."""
        event.stop()
        if self.ticket.half_typed():
            self.ticket.say_state("TYPE")
        elif self.ticket.state == "TYPE":
            self.ticket.say_state("READ" if self._first is None else "AGAIN")

    async def on_step_entry_answered(self, event: StepEntry.Answered) -> None:
        """An answer was given: have it judged and kept, or go on to the taps."""
        event.stop()
        step, run = self.step, self.bench.job.open_run
        if step is None or run is None:
            return
        if isinstance(event.answer, ListAnswer) and self.is_tapped(step):
            self._tap(step, event.answer.departures)
            return
        self.ticket.say_state("WAIT")
        answer, again = (event.answer, None) if self._first is None else (self._first, event.answer)
        with_it = self._trying.of(run, step)
        before = self.bench.job
        meter = self._meter_for(step)
        command = Attempt(
            self.person,
            step.id,
            answer,
            again=again,
            second=with_it.second,
            second_pin=with_it.pin,
            instrument=meter,
            conditions=with_it.under,
        )
        answered = await self.ask(command)
        if isinstance(answered, Done):
            self._kept(before, answered, step)
        elif isinstance(answered, Refusal):
            self._not_kept(answered, event)
        else:
            self.ticket.say_state("READ")

    def _kept(self, before: Job, done: Done, step: Step) -> None:
        self._last = done.job.attempts[-1]
        self._first = None
        self._trying = self._trying.after_a_try()
        passed = self._last.judgement.verdict == "pass"
        # A pass walks on by the plan; anything else keeps the step on the bench.
        self._chosen = None if passed else step.id
        self._tone(passed)
        self._fitted = tuple(it.words for it in done.job.fitted[len(before.fitted) :])
        self.refresh_job()
        if not passed:
            self.call_later(self.ticket.say_state, WORDS[self._last.judgement.verdict])

    def is_tapped(self, step: Step) -> bool:
        """Is this step to be answered by taps, as it stands?"""
        return step.id not in self._by_instrument and way_of(self.bench.job, step) is not None

    def _taps_entry(self, step: Step, before: str) -> StepEntry:
        """The entry of a tapped step, with what comes before its taps; lamps are walked as a list first."""
        if isinstance(step, LampsStep):
            return LampsEntry(step, with_times=False)
        key = self.desk.tap_key
        return TapsEntry(step, key_words(key) if key else "", before)

    @work(exclusive=True, group="taps")
    async def _tap(self, step: Step, departures: tuple[Departure, ...] = ()) -> None:
        before = self.bench.job
        kept = await tap_step(self, step, departures, self._trying)
        if kept is not None:
            self._kept(before, kept, step)
        self._show_anew()

    def action_tap_key(self) -> None:
        """Learn another key or pedal."""
        self.app.push_screen(LearnKey(), lambda _key: self._show_anew())

    def _show_anew(self) -> None:
        self._way = ()
        self.refresh_job()

    def action_method(self) -> None:
        """Answer this step by an instrument instead of taps, or by taps again."""
        step = self.step
        if step is None or way_of(self.bench.job, step) is None:
            return
        self._by_instrument ^= {step.id}
        self.refresh_job()

    def _not_kept(self, refusal: Refusal, event: StepEntry.Answered) -> None:
        """Out of its limits: once more. Else nothing was kept, and what was typed stays where it can be mended."""
        if refusal.code == "type again":
            self._first = event.answer
            event.entry.clear()
            self.ticket.echo(refusal)
            self._show_result()
            return
        if self._first is not None:
            self._first = None
            self.ticket.start_anew()
        self.ticket.say_state("READ")
        self.show_refusal(refusal)
        self.refresh_job()

    def _tone(self, passed: bool) -> None:
        """One tone for a pass, two for anything else, for eyes that are on the probes."""
        if not self.desk.settings().tones:
            return
        self.app.bell()
        if not passed:
            self.set_timer(BETWEEN_TONES_S, self.app.bell)

    # What keys and the button do

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """The one act that lifts what stands against the step."""
        event.stop()
        run = self.bench.job.open_run
        if event.button.id == BEGIN and self.step is not None:
            self._tap(self.step)
        elif run is None:
            self.app.push_screen(RunStartScreen(self.bench), self._begun)
        elif self.step is None:
            self._end_run(run)
        elif self._act is not None and self._act.name == "guard":
            self._chosen = self._act.subject
            self.refresh_job()
        elif self._act is not None:
            lift_it(self, self._act, self.step, self._dwell_s)

    def _end_run(self, run: Run) -> None:
        if papers_open(self.bench.job, run):
            self.action_note()
        elif self._all_off():
            self.action_close_run()
        else:
            self.run_worker(self.app.run_action("make_safe"))

    def _begun(self, begun: bool | None) -> None:
        if begun:
            self._chosen = self._last = None
            self._trying = Trying()
            self.refresh_job()

    def take_scan(self, code: str) -> bool:
        """The serial of the unit in hand says so; any other code is for the shelf to find."""
        known = read_serial(code) == self.bench.job.serial
        if known:
            tell(self.app, f"{self.bench.job.serial} is the unit on the bench.")
        return known

    def action_walk(self, by: int) -> None:
        """Show another step of this run; what is half typed is not thrown away."""
        run, step = self.bench.job.open_run, self.step
        if run is None:
            return
        steps = [one.id for one in steps_of(self.bench.job, run.purpose)]
        here = steps.index(step.id) if step is not None else -1
        self._walk_to(steps[(here + by) % len(steps)])

    def _walk_to(self, step: str | None) -> None:
        if step is None:
            return
        if self._half_typed():
            self.query_one(AnswerLine).refuse(
                Refusal("entry", "An entry is half typed.", "Enter keeps it, Escape empties it.")
            )
            return
        self._chosen = step
        self.refresh_job()

    def action_suspects(self) -> None:
        """Which block the results point to, and which step would tell more."""
        self.app.push_screen(SuspectsSlip(self.bench), self._walk_to)

    def _half_typed(self) -> bool:
        return self._first is not None or self.ticket.half_typed()

    def action_limits(self) -> None:
        """Show the limits, or hide them; they are shown after the entry, not before, so as not to bend the reading."""
        if self.step is not None:
            self.ticket.turn_limits(self.step)

    def _meter_for(self, step: Step) -> str | None:
        """The instrument that was chosen for this step, None for the run's own."""
        return self._meter[1] if self._meter is not None and self._meter[0] == step.id else None

    def action_instrument(self) -> None:
        """Measure this step with another instrument, as one in doubt asks for."""
        step = self.step
        role = instrument_role(step) if step is not None else None
        if role is not None:
            self.app.push_screen(InstrumentScreen(self.bench, role), self._take_meter)

    def _take_meter(self, name: str | None) -> None:
        if name is not None and self.step is not None:
            self._meter = (self.step.id, name)
            self.refresh_job()

    def action_how_tried(self) -> None:
        """Conditions that the unit is put to, and who else sees it."""
        self.app.push_screen(HowTriedSlip(self.bench, self.step, self._trying), self._take_trying)

    def _take_trying(self, trying: Trying | None) -> None:
        if trying is not None:
            self._trying = trying
            self.refresh_job()

    def action_late(self) -> None:
        """A reading that was written down while nothing could be entered."""
        step, before = self.step, self.bench.job
        if isinstance(step, ReadingStep) and can_be_late(step):
            slip = LateEntrySlip(self.bench, step, self._trying, self._meter_for(step))
            self.app.push_screen(slip, lambda done: self._kept(before, done, step) if done is not None else None)
        elif step is not None:
            self.show_refusal(Refusal("entry", "Only readings may be entered late.", "Walk the step now."))

    async def action_here(self) -> None:
        """Somebody is still at the bench, and the supply is as it was told."""
        if await self.act(TellPower(self.person, "on", "still at the bench")) is not None:
            tell(self.app, "Still at the bench: told.")

    def action_note(self) -> None:
        """A note on the step at hand, or on the walked step that wants one, or on the job."""
        job, step = self.bench.job, self.step
        if step is None and job.open_run is not None:
            wanted = next((one.step for one in papers_open(job, job.open_run)), None)
            step = job.sequence.step(wanted) if wanted is not None else None
        self.app.push_screen(NoteScreen(self.bench, step))

    async def action_power_off(self) -> None:
        """Every supply was switched off by hand."""
        await self.act(TellPower(self.person, "off", "told at the bench"))

    async def action_cycled(self) -> None:
        """Off and on again, as the step asks."""
        step = self.step
        if await self.act(TellPower(self.person, "cycled", step.id if step else "")) is not None:
            tell(self.app, "Off and on again: told.")

    def action_close_run(self) -> None:
        """End the run."""
        if self.bench.job.open_run is not None:
            self.app.push_screen(CloseRunSlip(self.bench))

    def action_back(self) -> None:
        """Empty what is half typed; with nothing typed, back to where the bench was opened from."""
        if not self._half_typed():
            self.dismiss(None)
            return
        self._first = None
        self.ticket.start_anew()
        self.query_one(AnswerLine).clear_answer()
