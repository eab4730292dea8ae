"""How is the answer to a step given, whatever its kind?

Every kind has a widget of its own that shows what to type and posts one `Answered`. Nothing is judged here and no limit
is shown: a limit that stands beside the entry bends the reading.
"""

from typing import ClassVar

from textual.containers import VerticalScroll
from textual.message import Message

from passcheck.job.answers import Answer


class StepEntry(VerticalScroll, can_focus=False):
    """The root of the widgets that take an answer."""

    DEFAULT_CSS = """
    StepEntry { height: auto; }
    StepEntry .complaint { height: auto; text-style: bold; }
    StepEntry .lead { height: auto; }
    """

    answerable: ClassVar[bool] = True  # False where a step is answered somewhere else

    class Answered(Message):
        """An answer was given, whole."""

        def __init__(self, entry: "StepEntry", answer: Answer) -> None:
            """Args: entry: the widget that asks; answer: what was observed."""
            super().__init__()
            self.entry = entry
            self.answer = answer

        @property
        def control(self) -> "StepEntry":
            """The widget that asked."""
            return self.entry

    def open(self) -> None:
        """Put the cursor where the answer begins."""

    def clear(self) -> None:
        """Empty every entry, so that the same is given once more or anew."""

    def has_text(self) -> bool:
        """Was anything typed that is not yet answered?"""
        return False
