"""What does the make-safe key say when no unit is in hand?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Words


class NoUnit(LaidOver[None]):
    """The act of the hand comes first here too; there is no job to record it in."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "leave", "Back", id="no-unit.leave", tooltip="Back to where you were."),
    ]

    def compose(self) -> ComposeResult:
        """The first line of every make-safe sheet, and how to record it."""
        with Vertical(classes="slip"):
            yield Words("MAKE SAFE", classes="slip-title")
            yield Words(
                "This key switches nothing. Your hand: supply OFF, plug OUT. This is not an emergency stop.",
                classes="loud",
            )
            yield Words("No unit is in hand, so nothing was recorded. Open the unit's job, then press F8 again.")

    def action_leave(self) -> None:
        """Back."""
        self.dismiss(None)
