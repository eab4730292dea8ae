"""How is a step answered by taps: what the hands will do, and the one key that begins?"""

from textual.app import ComposeResult

from passcheck.app.plain import Words, button
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.app.widgets.timed_words import hands_words
from passcheck.sequence.model import Step

BEGIN = "begin-taps"


class TapsEntry(StepEntry):
    """Instruction and the key to begin; the taps have a sheet of their own, on which nothing moves."""

    def __init__(self, step: Step, key: str, said: str) -> None:
        """Args:
        step: what is timed.
        key: the tap key's name, "" where none was learned.
        said: what has to be known before: a warm-up, taps that were broken off.
        """
        super().__init__()
        self._step = step
        self._key = key
        self._said = said

    def compose(self) -> ComposeResult:
        """What the hands do, what is to be known, the key that begins."""
        yield Words(hands_words(self._step, self._key or "your tap key"), classes="lead")
        if self._said:
            yield Words(self._said, classes="complaint")
        yield button("Begin the taps", id=BEGIN)
        yield Words("F5: measure with an instrument instead. Ctrl+T: another tap key.", classes="lead")

    def open(self) -> None:
        """Enter begins."""
        self.query_one(f"#{BEGIN}").focus()
