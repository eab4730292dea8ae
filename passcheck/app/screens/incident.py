"""What went wrong at the bench, and which blocks may it have reached?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Words
from passcheck.app.screens.slip import Slip
from passcheck.app.widgets.tick import Tick
from passcheck.job.commands import Command, ReportIncident


class IncidentSlip(Slip):
    """Smoke, a slipped probe, a tripped limit. From here power is unknown and results on these blocks are worthless."""

    TITLE_WORDS: ClassVar[str] = "INCIDENT"
    LEAD: ClassVar[str] = (
        "First your hand: supply OFF, plug OUT. Entering this switches nothing. It counts as a rework on the blocks "
        "you name, and power is unknown until the unit is made safe (F8)."
    )

    def fields(self) -> ComposeResult:
        """What, and where."""
        yield from self.row("What happened", "what", hint="limit light came on and stayed; smell at C2")
        yield Words("Blocks it may have reached", classes="ask")
        for key, block in self.bench.job.sequence.blocks.items():
            yield Tick(f"{key}  {block.title}", name=key)

    def command(self) -> Command:
        """The report."""
        blocks = tuple(box.name or "" for box in self.query(Tick) if box.value)
        return ReportIncident(self.person, blocks, self.typed("what"))
