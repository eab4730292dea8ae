"""What was read before it could be entered, and when?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words
from passcheck.app.trying import Trying
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.fields import Ask, Fields, NotUnderstood, Understood, words
from passcheck.app.widgets.reading import reading_answer, reading_asks
from passcheck.bench.bench import Bench, Done
from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import Attempt, Refusal
from passcheck.job.late_entry import when_measured
from passcheck.sequence.model import ReadingStep


class LateEntrySlip(JobModal[Done | None]):
    """A reading off a sheet of paper; out of its limits it is asked for twice here too. Dismisses what was kept."""

    CSS_PATH = "slips.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="late.leave", tooltip="Back; nothing is entered."),
    ]

    def __init__(self, bench: Bench, step: ReadingStep, trying: Trying, meter: str | None = None) -> None:
        """Args: bench: the unit in hand; step: what was read; trying: what it goes with; meter: one chosen for it."""
        super().__init__(bench)
        self._step = step
        self._trying = trying
        self._meter = meter
        self._first: ReadingAnswer | None = None

    def compose(self) -> ComposeResult:
        """The values as the step asks for them, when they were read, and with what."""
        with Vertical(classes="slip"):
            yield Words(f"LATE ENTRY: {self._step.title}", classes="slip-title")
            yield Words("For a reading that was written down. Both times are kept, and it is marked as late.")
            time = Ask("Read at", self._when, "14:10")
            with_what = Ask("Instrument", words, "the run's own", empty="", value=self._meter or "")
            yield Fields((*reading_asks(self._step), with_what, time))
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands at the first value."""
        self.query_one(Fields).open()

    def _when(self, text: str) -> Understood:
        at = when_measured(text, self.bench.moment())
        if at is None:
            raise NotUnderstood(f"'{text[:30]}' is no time: give it as 14:10 or 2031-04-02 14:10")
        return Understood(at, at)

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Have it judged and kept."""
        *values, meter, at = event.texts
        answer = reading_answer(self._step, tuple(values))
        kept = await self.ask(self._attempt(answer, meter, at))
        if isinstance(kept, Done):
            self.dismiss(kept)
        elif isinstance(kept, Refusal):
            again = kept.code == "type again"
            self._first = answer if again else None
            self.show_refusal(kept)
            if again:
                self.query_one(Fields).clear()

    def _attempt(self, answer: ReadingAnswer, meter: str, at: str) -> Attempt:
        with_it = self._trying.of(self.bench.job.open_run, self._step)
        return Attempt(
            self.person,
            self._step.id,
            self._first or answer,
            again=answer if self._first is not None else None,
            instrument=meter or None,
            second=with_it.second,
            second_pin=with_it.pin,
            measured_at=at,
            conditions=with_it.under,
        )

    def action_leave(self) -> None:
        """Nothing is entered."""
        self.dismiss(None)
