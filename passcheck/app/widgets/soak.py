"""What is said of a soak where its step lies on the bench?"""

from textual.app import ComposeResult

from passcheck.app.plain import Words
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.judge.rounding import counted
from passcheck.sequence.model import SoakStep


class SoakEntry(StepEntry):
    """Says what the soak is; it has nothing to type, because hours at power aren't an answer given in one go."""

    answerable = False

    def __init__(self, step: SoakStep) -> None:
        """Args: step: hours, checks and how often."""
        super().__init__()
        self._step = step

    def compose(self) -> ComposeResult:
        """What it asks for, and in which run it is started."""
        step = self._step
        yield Words(
            f"{step.hours.text} at power, looked at every {step.every.text} by {counted(len(step.check), 'step')}"
            f"{f', {step.cycles} power cycles' if step.cycles else ''}.\n"
            "It is started in a burn-in run; the rack (F7 on the shelf) shows every soaking unit."
        )
