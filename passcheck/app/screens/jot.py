"""Which loose reading is worth keeping while the fault is looked for?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Words
from passcheck.app.screens.slip import Slip
from passcheck.job.commands import Command, Jot

SHOWN = 6


class JotSlip(Slip):
    """A jotting is kept and never counted."""

    TITLE_WORDS: ClassVar[str] = "JOT"
    LEAD: ClassVar[str] = "Kept with the job, never counted as a result."

    def fields(self) -> ComposeResult:
        """The latest jottings, and a new one."""
        for one in self.bench.job.jottings[-SHOWN:]:
            yield Words(f"{one.moment.local():%H:%M} {one.by}  {one.point}: {one.value}  {one.meter}", classes="hint")
        yield from self.row("Point", "point", hint="TP3 to TP0, backlight full")
        yield from self.row("Value", "value", hint="4.92 V")
        yield from self.row("Meter", "meter", hint="M1")

    def command(self) -> Command:
        """The jotting."""
        return Jot(self.person, self.typed("point"), self.typed("value"), self.typed("meter"))
