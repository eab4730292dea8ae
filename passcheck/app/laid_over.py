"""What does every sheet have that is laid over a screen?"""

from typing import Generic, TypeVar

from textual.screen import ModalScreen

from passcheck.app.widgets.too_small import TooSmall

T = TypeVar("T")


class LaidOver(ModalScreen[T], Generic[T]):
    """A sheet over a screen; in a window too small for it there stands the same sentence as on any screen."""

    def on_mount(self) -> None:
        """Subclasses compose their sheet alone."""
        self.mount(TooSmall())
