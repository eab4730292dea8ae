"""Of which board are the figures wanted?"""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import OptionList

from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Lines, Words, line


class ChooseBoard(LaidOver[str | None]):
    """The boards that this shop has jobs of. Dismisses a board, `ALL`, or None where nothing changes."""

    ALL = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="choose-board.leave", tooltip="Back to the figures as they were.")
    ]

    def __init__(self, boards: Sequence[str]) -> None:
        """Take the boards' names."""
        super().__init__()
        self._boards = tuple(boards)

    def compose(self) -> ComposeResult:
        """All boards first, then a line a board."""
        with Vertical(classes="slip"):
            yield Words("FIGURES OF", classes="slip-title")
            yield Lines(line("all boards"), *map(line, self._boards))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """One was chosen."""
        self.dismiss(self._boards[event.option_index - 1] if event.option_index else self.ALL)

    def action_leave(self) -> None:
        """None was chosen."""
        self.dismiss(None)
