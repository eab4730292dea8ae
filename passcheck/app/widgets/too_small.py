"""What stands in a window too small for a card?"""

from passcheck.app.plain import Words


class TooSmall(Words):
    """One sentence in place of everything else; the stylesheet of the application shows it."""

    def __init__(self) -> None:
        """The sentence is fixed."""
        super().__init__("passcheck needs 60 columns and 18 lines: make the window larger. F8 still makes safe.")
