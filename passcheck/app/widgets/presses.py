"""How many of the presses counted?"""

from passcheck.app.widgets.fields import Ask, number, of_limits
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import PressesAnswer
from passcheck.sequence.model import PressesStep


class PressesEntry(FieldsEntry):
    """The number that counted, and the slowest where the step limits it."""

    def __init__(self, step: PressesStep) -> None:
        """Args: step: what is pressed, how often."""
        asks = [Ask(f"Counted, of {step.times * len(step.press)}", number)]
        if step.limits is not None:
            asks.append(of_limits("The slowest answer", step.limits, over_range=False))
        lead = f"Press {', '.join(step.press)}: {step.times} times each; watch: {step.watch}."
        super().__init__(tuple(asks), _made, lead)


def _made(texts: tuple[str, ...]) -> PressesAnswer:
    return PressesAnswer(int(texts[0]), texts[1] if len(texts) > 1 else None)
