"""How does a plot of a figure stand on the screen, in any size?"""

from typing import ClassVar, Final

from rich.segment import Segment
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from passcheck.app.widgets.plot_bars import bars_rows
from passcheck.app.widgets.plot_canvas import ORDER, Row
from passcheck.app.widgets.plot_course import course_rows
from passcheck.job.figure import Bars, Course, Figure

Picture = Bars | tuple[Course, ...]
"""What is drawn at once: bars, or courses on the same axes."""
LEAST_HIGH, MOST_HIGH = 9, 18
BESIDE: Final = 13
"""Lines that a window keeps for what stands around a plot."""


def pictures(figure: Figure) -> tuple[Picture, ...]:
    """What there is to draw of a figure, one after the other."""
    bars = tuple(plot for plot in figure.plots if isinstance(plot, Bars))
    courses = tuple(plot for plot in figure.plots if isinstance(plot, Course))
    if figure.apart:
        return (*bars, *((one,) for one in courses))
    return (*bars, courses) if courses else bars


class Plot(Widget):
    """One picture; it takes no key and no colour tells anything alone."""

    DEFAULT_CSS = """
    Plot { width: 1fr; height: auto; background: transparent; }
    Plot > .plot--text { color: $foreground; }
    Plot > .plot--axis { color: $foreground 60%; }
    Plot > .plot--band { color: $secondary; }
    Plot > .plot--line { color: $error; }
    Plot > .plot--other { color: $secondary; text-style: bold; }
    Plot > .plot--curve { color: $primary; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {f"plot--{ink}" for ink in ORDER}

    def __init__(self) -> None:
        """Nothing is drawn yet."""
        super().__init__()
        self._picture: Picture | None = None
        self._drawn: tuple[Size, tuple[Row, ...]] = (Size(0, 0), ())

    def put(self, picture: Picture | None) -> None:
        """Draw this from now on; None takes no room."""
        self._picture = picture
        self._drawn = (Size(0, 0), ())
        self.display = picture is not None
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """A line a bar; courses take what the window has to spare."""
        del container
        return len(self._rows(width, min(max(viewport.height - BESIDE, LEAST_HIGH), MOST_HIGH)))

    def render_line(self, y: int) -> Strip:
        """One line of the picture."""
        rows = self._rows(*self.size)
        if y >= len(rows):
            return Strip.blank(self.size.width, self.rich_style)
        segments = [Segment(text, self.get_component_rich_style(f"plot--{ink}")) for text, ink in rows[y]]
        return Strip(segments).adjust_cell_length(self.size.width, self.rich_style)

    def _rows(self, width: int, height: int) -> tuple[Row, ...]:
        """The picture at that size, drawn once."""
        size = Size(width, height)
        if self._drawn[0] != size:
            self._drawn = (size, _draw(self._picture, width, height))
        return self._drawn[1]


def _draw(picture: Picture | None, width: int, height: int) -> tuple[Row, ...]:
    if picture is None:
        return ()
    return bars_rows(picture, width) if isinstance(picture, Bars) else course_rows(picture, width, height)
