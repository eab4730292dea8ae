"""What stands in a window too small for a card, and where is the cursor when the window is large again?"""

from textual.widget import Widget

from passcheck.app.plain import Words


class TooSmall(Words):
    """One sentence in place of everything else; the stylesheet of the application shows it.

    What is hidden loses the cursor, so that nothing is typed unseen; it gets the cursor back with its place.
    """

    def __init__(self) -> None:
        """The sentence is fixed."""
        super().__init__("passcheck needs 60 columns and 18 lines: make the window larger. F8 still makes safe.")
        self._had_cursor: Widget | None = None

    def on_mount(self) -> None:
        """Follow the cursor of the screen."""
        self.watch(self.screen, "focused", self._cursor_moved)

    def _cursor_moved(self, focused: Widget | None) -> None:
        if focused is not None:
            self._had_cursor = focused

    def on_hide(self) -> None:
        """The window is large enough again."""
        widget = self._had_cursor
        if self.screen.focused is None and widget is not None and widget.is_attached:
            self.screen.set_focus(widget)
