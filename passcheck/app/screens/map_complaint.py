"""Which symptoms of the sequence are the owner's words, and under which conditions is it tried?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from passcheck.app.plain import Words, lines
from passcheck.app.screens.slip import Slip
from passcheck.app.widgets.tick import Tick
from passcheck.job.commands import Command, MapComplaint


class MapComplaintSlip(Slip):
    """The owner's words stay as they are; beside them the symptoms that the sequence knows."""

    TITLE_WORDS: ClassVar[str] = "THE COMPLAINT"
    DEFAULT_CSS = "MapComplaintSlip #words { height: auto; max-height: 8; background: $card-row; padding: 0 1; }"

    def fields(self) -> ComposeResult:
        """All of the complaint, then symptoms to tick."""
        job = self.bench.job
        with VerticalScroll(id="words"):
            yield Words(lines(job.facts.complaint))
        if job.facts.condition.strip():
            yield Words(f"Condition on arrival: {job.facts.condition}", classes="hint")
        yield Words("It is one of these (space ticks)", classes="ask")
        for key, symptom in job.sequence.symptoms.items():
            tried = f"   try: {', '.join(symptom.conditions)}" if symptom.conditions else ""
            yield Tick(f"{symptom.says}{tried}", key in job.symptoms, name=key)
        if not job.sequence.symptoms:
            yield Words("The sequence names no symptoms.")
        yield from self.row("Conditions", "conditions", value=", ".join(job.conditions), hint="warm, 16 V, vibration")

    def command(self) -> Command:
        """The mapping."""
        symptoms = tuple(box.name or "" for box in self.query(Tick) if box.value)
        conditions = tuple(part.strip() for part in self.typed("conditions").split(",") if part.strip())
        return MapComplaint(self.person, symptoms, conditions)
