"""May the program end now?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import OptionList

from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Lines, Words, line


class AskQuit(LaidOver[bool]):
    """Says what speaks against it; dismisses True to end all the same. Staying is the first choice."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "stay", "Stay", id="quit.stay", tooltip="Goes on with the work.")
    ]

    def __init__(self, why: tuple[str, ...]) -> None:
        """Take the reasons to stay."""
        super().__init__()
        self._why = why

    def compose(self) -> ComposeResult:
        """Reasons and two lines to choose from."""
        with Vertical(classes="slip"):
            yield Words("END THE PROGRAM?", classes="slip-title")
            for reason in self._why:
                yield Words(f"- {reason}")
            yield Words("What was shown as kept is on disk. A supply stays as it is: passcheck switches nothing.")
            yield Lines(line("Stay", "stay"), line("End the program", "end"))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """One of the two was chosen."""
        self.dismiss(event.option_id == "end")

    def action_stay(self) -> None:
        """Stay."""
        self.dismiss(False)
