"""Which one of a few words is meant, on one line?"""

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from passcheck.app.plain import joined


class Choice(Widget, can_focus=True):
    """One word of several; left and right change it."""

    DEFAULT_CSS = """
    Choice { height: 1; width: 1fr; background: $card-row; color: $ink; padding: 0 1; }
    Choice:focus { text-style: bold; background: $ink; color: $card-row; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "turn(-1)", "Before", show=False, id="choice.before", tooltip="The word before."),
        Binding("right,space", "turn(1)", "After", show=False, id="choice.after", tooltip="The word after."),
    ]
    place: reactive[int] = reactive(0)

    class Changed(Message):
        """Another word was chosen."""

        def __init__(self, choice: "Choice") -> None:
            """Take the widget."""
            super().__init__()
            self.choice = choice

        @property
        def control(self) -> "Choice":
            """Where it was chosen."""
            return self.choice

    def __init__(self, words: tuple[str, ...], ident: str) -> None:
        """Take the words, of which the first is chosen, and the widget's id."""
        super().__init__(id=ident)
        self._words = words

    @property
    def value(self) -> str:
        """The chosen word."""
        return self._words[self.place]

    def render(self) -> Content:
        """The word between two arrows, and which of how many."""
        return joined("‹ ", (self.value, "bold"), " ›", f"   {self.place + 1} of {len(self._words)}, arrows change it")

    def watch_place(self) -> None:
        """Tell of the change."""
        if self.is_mounted:
            self.post_message(self.Changed(self))

    def action_turn(self, by: int) -> None:
        """Another word."""
        self.place = (self.place + by) % len(self._words)

    def on_click(self) -> None:
        """A click takes the next one."""
        self.action_turn(1)
