"""What does the supply show after an absence: is it still as it was told?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.fields import Ask, Fields, reading_in, yes_or_no
from passcheck.bench.bench import Bench
from passcheck.job.commands import ReadSupply


class SupplyReadScreen(JobModal[bool]):
    """Gives volts, amps and limit light; what isn't plausible leaves power unknown."""

    CSS_PATH = "slips.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="supply-read.leave", tooltip="Back; power stays unknown."),
    ]

    def __init__(self, bench: Bench, supply: str) -> None:
        """Args: bench: the unit in hand; supply: its name in the sequence."""
        super().__init__(bench)
        self.supply = supply

    def compose(self) -> ComposeResult:
        """Three values off the display."""
        with Vertical(classes="slip"):
            yield Words(f"READ THE SUPPLY: {self.supply}", classes="slip-title")
            yield Words(
                "Power is unknown. Look at the unit first: smell, heat, limit light. "
                "Where anything is not as you left it, go back and make safe (F8)."
            )
            volts = Ask("Volts on its display", reading_in("V", "V", over_range=False), "V")
            amps = Ask("Amps on its display", reading_in("A", "A", over_range=False), "A")
            yield Fields((volts, amps, Ask("Limit light lit?", yes_or_no, "yes or no")))
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands at the volts."""
        self.query_one(Fields).open()

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Hand the display's figures over."""
        volts, amps, light = event.texts
        if await self.act(ReadSupply(self.person, self.supply, volts, amps, light == "yes")) is not None:
            self.dismiss(True)

    def action_leave(self) -> None:
        """Back; power stays unknown."""
        self.dismiss(False)
