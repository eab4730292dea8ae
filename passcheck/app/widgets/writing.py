"""Where does a person write several lines, kept exactly and drawn harmless?"""

from typing import Any

from textual.strip import Strip
from textual.widgets import TextArea

from passcheck.app.widgets.typed import TEXT, harmless


class Writing(TextArea):
    """Several lines of somebody's words."""

    DEFAULT_CSS = """
    Writing, Writing:focus { border: none; padding: 0 1; background: $card-row; color: $ink; }
    Writing > .text-area--cursor { background: $ink; color: $card-row; }
    Writing > .text-area--cursor-line { background: $card-row; }
    Writing > .text-area--placeholder { color: $ink-soft; }
    """

    def __init__(self, **named: Any) -> None:
        """Args: named: as for any text area."""
        super().__init__(**named)
        self.add_class(TEXT)  # keys that come fast are text here, not a scan

    def render_line(self, y: int) -> Strip:
        """As the ordinary text area draws it, made harmless."""
        return harmless(super().render_line(y))
