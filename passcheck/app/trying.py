"""What does a try go with, beside its answer: the conditions the unit is put to, and who else sees it?"""

from dataclasses import dataclass, replace

from passcheck.job.state import Run
from passcheck.sequence.model import Step


@dataclass(frozen=True, slots=True)
class Trying:
    """Conditions stay until they are changed; a PIN serves one witnessed try."""

    under: tuple[str, ...] = ()
    second: str | None = None
    pin: str = ""

    def of(self, run: Run | None, step: Step) -> "Trying":
        """What a try of this step goes with; a second person only where the step asks, else the run's own."""
        if not step.witness:
            return Trying(self.under)
        return replace(self, second=self.second or (run.facts.second if run is not None else None))

    def after_a_try(self) -> "Trying":
        """What the next try goes with."""
        return replace(self, pin="")
