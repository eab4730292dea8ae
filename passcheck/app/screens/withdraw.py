"""Why is the last trial taken back, before anything is shown of it?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Words
from passcheck.app.widgets.typed import Slot

REASONS = ("tapped without pressing", "pressed without tapping", "looked away")


class Withdraw(LaidOver[str]):
    """Asks for the reason; dismisses it, or "" where the trial stays."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="withdraw.leave", tooltip="The trial stays."),
    ]

    def compose(self) -> ComposeResult:
        """The usual reasons by number, or words."""
        with Vertical(classes="slip"):
            yield Words("TAKE THE LAST TRIAL BACK", classes="slip-title")
            yield Words("It is kept and printed as void. Nobody has seen its time, so it must not be for its time.")
            yield Words("   ".join(f"{number} {reason}" for number, reason in enumerate(REASONS, start=1)))
            yield Slot(placeholder="a number, or your own words; then Enter", max_length=120)
            yield Words("Escape: the trial stays.")

    def on_input_submitted(self, event: Slot.Submitted) -> None:
        """A reason was given."""
        event.stop()
        given = event.value.strip()
        if given.isascii() and given.isdigit() and 1 <= int(given) <= len(REASONS):
            given = REASONS[int(given) - 1]
        if given:
            self.dismiss(given)

    def action_leave(self) -> None:
        """The trial stays."""
        self.dismiss("")
