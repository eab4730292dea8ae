"""What is said where a step is walked somewhere else?"""

from textual.app import ComposeResult

from passcheck.app.plain import Words
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.sequence.model import SoakStep


class SoakEntry(StepEntry):
    """Says what the soak is; it has nothing to type, because hours at power aren't an answer given in one go."""

    answerable = False

    def __init__(self, step: SoakStep) -> None:
        """Args: step: hours, checks and how often."""
        super().__init__()
        self._step = step

    def compose(self) -> ComposeResult:
        """What it asks for, and where it is started."""
        step = self._step
        yield Words(
            f"{step.hours.text} at power, checked every {step.every.text} by {len(step.check)} steps"
            f"{f', {step.cycles} power cycles' if step.cycles else ''}.\n"
            "A soak is started on the rack, where every soaking unit is watched; nothing is typed here.\n"
            "Page down or page up takes you to the steps beside it."
        )
