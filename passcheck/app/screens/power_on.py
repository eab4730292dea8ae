"""What does the supply's display show, now that a hand has switched it on?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from passcheck.app.bench_words import GRANTED
from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.fields import Ask, Fields, reading_in
from passcheck.bench.bench import Bench
from passcheck.job.commands import Energise
from passcheck.sequence.model import Step


class PowerOnScreen(JobModal[bool]):
    """Tells that the step's supply is on; passcheck switches nothing and sees no supply."""

    CSS_PATH = "slips.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="power-on.leave", tooltip="Back; nothing is told."),
    ]

    def __init__(self, bench: Bench, step: Step) -> None:
        """Args: bench: the unit in hand; step: what it is powered for."""
        super().__init__(bench)
        self._step = step

    @property
    def supply(self) -> str:
        """The name of the supply that is told on."""
        return self._step.power

    def compose(self) -> ComposeResult:
        """What to set, then what the display shows."""
        supply = self.bench.job.sequence.supplies[self._step.power]
        with Vertical(classes="slip"):
            yield Words(f"POWER ON: {self._step.power}", classes="slip-title")
            yield Words(GRANTED, classes="loud")
            yield Words(
                f"Output off: set {supply.nominal.text} and the current limit that the sequence asks. "
                f"Connect {supply.connect}. Then switch on, and watch the limit light and the unit."
            )
            volts = Ask("Volts on its display", reading_in("V", "V", over_range=False), "V")
            limit = Ask("Current limit that is set", reading_in("A", "A", over_range=False), "A")
            yield Fields((volts, limit))
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands at the volts."""
        self.query_one(Fields).open()

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Tell it."""
        volts, limit = event.texts
        if await self.act(Energise(self.person, self._step.id, volts, limit)) is not None:
            self.dismiss(True)

    def action_leave(self) -> None:
        """Back; nothing is told."""
        self.dismiss(False)
