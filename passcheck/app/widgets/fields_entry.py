"""How do the values that were typed become a step's answer?"""

from collections.abc import Callable

from textual.app import ComposeResult

from passcheck.app.plain import Words
from passcheck.app.widgets.fields import Ask, Fields
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.job.answers import Answer


class FieldsEntry(StepEntry):
    """An answer made of one or several values."""

    def __init__(self, asks: tuple[Ask, ...], answer: Callable[[tuple[str, ...]], Answer], lead: str = "") -> None:
        """Args:
        asks: what to ask for, in order.
        answer: makes the answer from the texts of all values.
        lead: a line above them.
        """
        super().__init__()
        self.asks = asks
        self._answer = answer
        self._lead = lead

    def compose(self) -> ComposeResult:
        """The line above, the values."""
        if self._lead:
            yield Words(self._lead, classes="lead")
        yield Fields(self.asks)

    @property
    def fields(self) -> Fields:
        """Where the values stand."""
        return self.query_one(Fields)

    def open(self) -> None:
        """The first value takes the cursor."""
        self.fields.open()

    def clear(self) -> None:
        """All values go, the first takes the cursor."""
        self.fields.clear()

    def has_text(self) -> bool:
        """True while something is typed."""
        return self.fields.has_text()

    def on_fields_filled(self, event: Fields.Filled) -> None:
        """Hand the answer over."""
        event.stop()
        self.post_message(self.Answered(self, self._answer(event.texts)))
