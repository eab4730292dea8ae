"""An indicator like one on a unit: dark, or lit."""

from typing import Final

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

COLOURS: Final = ("red", "amber", "green", "blue", "white", "yellow")


class Lamp(Widget):
    """A small lamp in a bezel; lit it is told by its shape too."""

    DEFAULT_CSS = """
    Lamp { width: 11; height: 3; border: round $card-rule; content-align: center middle; background: #201c18;
           color: #7a7066; }
    Lamp.-lit { background: #ffb000; color: black; text-style: bold; }
    Lamp.-lit.-red { background: #e03020; }
    Lamp.-lit.-green { background: #40c040; }
    Lamp.-lit.-blue { background: #4080ff; }
    Lamp.-lit.-white { background: #f4f4f0; }
    Lamp.-lit.-yellow { background: #f0e020; }
    """

    lit: reactive[bool] = reactive(False)

    def __init__(self, colour: str = "amber", *, id: str | None = None) -> None:  # noqa: A002 - as every widget
        """Args: colour: one of `COLOURS`; id as for any widget."""
        super().__init__(id=id, classes=f"-{colour}")

    def watch_lit(self) -> None:
        """Light or darken it."""
        self.set_class(self.lit, "-lit")

    def render(self) -> Content:
        """Its face."""
        return Content("●●●" if self.lit else "○")


def colour_in(words: str) -> str:
    """The lamp's colour where the words name one, so that our light looks like the unit's; else amber."""
    named = words.lower().split()
    return next((colour for colour in COLOURS if colour in named), "amber")
