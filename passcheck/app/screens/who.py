"""Who is at the bench?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList

from passcheck.app.desk import desk_of
from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Lines, Words, joined, line


class Who(LaidOver[str | None]):
    """Choose a person of the bench; dismisses the id, or None when nobody was chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="who.leave", tooltip="Leaves it as it was.")
    ]

    def compose(self) -> ComposeResult:
        """The people of bench.yaml."""
        people = desk_of(self).settings().people
        with Vertical(classes="slip"):
            yield Words("WHO IS AT THE BENCH?", classes="slip-title")
            yield Words("Every entry carries this name. Choose with the arrows, take with Enter.")
            yield Lines(*(line(_person(key, one.name, one.role), key) for key, one in people.items()), id="people")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Somebody was chosen."""
        self.dismiss(event.option_id)

    def action_leave(self) -> None:
        """Nobody was chosen."""
        self.dismiss(None)


def _person(key: str, name: str, role: str) -> Content:
    return joined((f" {key:<12} ", "bold"), f" {name}   {role}")
