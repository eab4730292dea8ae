"""Is this one of them? A box with words beside it; full or empty, whatever the colours."""

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from passcheck.app.plain import joined


class Tick(Widget, can_focus=True):
    """A box that space or a click fills and empties; `name` says what it stands for."""

    DEFAULT_CSS = """
    Tick { height: auto; width: 1fr; background: transparent; color: $ink; }
    Tick:focus { background: $ink; color: $card-row; text-style: bold; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,enter", "turn", "Fill or empty", show=False, id="tick.turn", tooltip="Fills or empties it."),
        Binding("down,right", "app.focus_next", "Next", show=False, id="tick.next", tooltip="The next box."),
        Binding("up,left", "app.focus_previous", "Before", show=False, id="tick.before", tooltip="The box before."),
    ]
    value: reactive[bool] = reactive(False)

    class Changed(Message):
        """The box was filled or emptied."""

        def __init__(self, tick: "Tick") -> None:
            """Take the box."""
            super().__init__()
            self.tick = tick

        @property
        def control(self) -> "Tick":
            """The box."""
            return self.tick

    def __init__(self, words: str, value: bool = False, *, name: str, classes: str | None = None) -> None:
        """Take the words beside the box, whether it is full, and what it stands for."""
        super().__init__(name=name, classes=classes)
        self._words = words
        self.set_reactive(Tick.value, value)

    def render(self) -> Content:
        """The box and its words."""
        return joined("[■] " if self.value else "[ ] ", self._words)

    def watch_value(self) -> None:
        """Tell of the change."""
        if self.is_mounted:
            self.post_message(self.Changed(self))

    def action_turn(self) -> None:
        """Fill or empty it."""
        self.value = not self.value

    def on_click(self) -> None:
        """A click does the same."""
        self.action_turn()
