"""Where do you stand on the traveller card, and which line of it is shown where?"""

from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from passcheck.app.widgets.card_lines import CardLine, Ruling, card_lines, head_lines, ruling
from passcheck.app.widgets.stamp import Piece
from passcheck.job.traveller import Card as Facts

MARK = "▶ "
HEAD_H = 2
INKS = ("here", "edge", "head", "group", "rule", "title", "paper", "none", "blank", "why")
STAMPS = ("pass", "fail", "doubt", "unmeasured", "struck")


class Card(ScrollView, can_focus=True):
    """The card: arrows move from step to step, Enter or a second click takes the step to the bench."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"card--{ink}" for ink in (*INKS, *STAMPS)}
    DEFAULT_CSS = """
    Card { background: $card; color: $ink; height: 1fr; scrollbar-size-vertical: 1; scrollbar-size-horizontal: 0;
           scrollbar-background: $card; scrollbar-color: $card-rule; }
    Card > .card--edge { color: $card-rule; background: $card; text-style: bold; }
    Card > .card--head { color: $ink; background: $card; text-style: bold underline; }
    Card > .card--group { color: $ink; background: $card; text-style: bold; }
    Card > .card--rule { color: $card-rule; background: $card; }
    Card > .card--title, Card > .card--paper { color: $ink; background: $card; }
    Card > .card--here { color: $ink; background: $card; text-style: bold; }
    Card:focus > .card--here { color: $card-row; background: $ink; text-style: bold; }
    Card > .card--none { color: $card-rule; background: $card; }
    Card > .card--blank { color: $ink-soft; background: $card; }
    Card > .card--why { color: $ink-soft; background: $card; text-style: italic; }
    Card > .card--pass { color: $ink-pass; background: $card; text-style: bold; }
    Card > .card--fail { color: $card-row; background: $ink-fail; text-style: bold; }
    Card > .card--doubt { color: $ink-doubt; background: $card; text-style: bold underline; }
    Card > .card--unmeasured { color: $ink-doubt; background: $card; }
    Card > .card--struck { color: $ink-struck; background: $card; text-style: strike; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "step(-1)", "Up", show=False, id="card.up", tooltip="The step above."),
        Binding("down", "step(1)", "Down", show=False, id="card.down", tooltip="The step below."),
        Binding("pageup", "step(-8)", "Page up", show=False, id="card.page-up", tooltip="Eight steps up."),
        Binding("pagedown", "step(8)", "Page down", show=False, id="card.page-down", tooltip="Eight steps down."),
        Binding("home", "step(-9999)", "First", show=False, id="card.first", tooltip="The first step."),
        Binding("end", "step(9999)", "Last", show=False, id="card.last", tooltip="The last step."),
        Binding("enter", "take", "Bench", show=False, id="card.take", tooltip="Takes the step to the bench."),
    ]

    class Taken(Message):
        """A step is wanted on the bench."""

        def __init__(self, card: "Card", step: str) -> None:
            """Take the step's id."""
            super().__init__()
            self.card = card
            self.step = step

        @property
        def control(self) -> "Card":
            """The card it stands on."""
            return self.card

    def __init__(self) -> None:
        """Nothing is on it yet."""
        super().__init__()
        self._facts = Facts((), ())
        self._title = ("", "")
        self._lines: tuple[CardLine, ...] = ()
        self._head: tuple[tuple[Piece, ...], ...] = ()
        self._step: str | None = None

    @property
    def step(self) -> str | None:
        """The step where you stand."""
        return self._step

    def put(self, facts: Facts, title: str, revision: str) -> None:
        """Write the card anew; you stay where you stood."""
        self._facts, self._title = facts, (title, revision)
        if self._step is None and facts.rows:
            self._step = facts.rows[0].step.id
        self._write()

    def stand_on(self, step: str) -> None:
        """Move to a step."""
        if any(row.step.id == step for row in self._facts.rows):
            self._step = step
            self._show_step()

    def on_resize(self) -> None:
        """Rule the card for the width it has."""
        self._write()

    def render_line(self, y: int) -> Strip:
        """The head stays, the rest scrolls under it."""
        width = self.scrollable_content_region.width
        if y < HEAD_H:
            return self._strip(self._head[y] if y < len(self._head) else (), "", width)
        place = y - HEAD_H + int(self.scroll_y)
        if place >= len(self._lines):
            return self._strip((), "", width)
        line = self._lines[place]
        if line.step is None:
            return self._strip(line.pieces, "", width)
        here = line.step == self._step
        mark = MARK if here and line.first else "  "
        return self._strip(line.pieces, mark, width, here=here)

    def action_step(self, by: int) -> None:
        """Move by so many steps."""
        ids = [row.step.id for row in self._facts.rows]
        if not ids:
            return
        at = ids.index(self._step) if self._step in ids else 0
        self.stand_on(ids[max(0, min(len(ids) - 1, at + by))])

    def action_take(self) -> None:
        """Take the step to the bench."""
        if self._step is not None:
            self.post_message(self.Taken(self, self._step))

    def on_click(self, event: events.Click) -> None:
        """A click stands on the step; a click where you stand takes it."""
        place = event.y - HEAD_H + int(self.scroll_y)
        step = self._lines[place].step if event.y >= HEAD_H and place < len(self._lines) else None
        if step is not None and step == self._step:
            self.action_take()
        elif step is not None:
            self.stand_on(step)

    def _write(self) -> None:
        width = self.scrollable_content_region.width
        ruled: Ruling = ruling(self._facts, max(width, 20))
        self._head = head_lines(*self._title, ruled)
        self._lines = card_lines(self._facts, ruled)
        self.virtual_size = Size(width, len(self._lines) + HEAD_H)
        self._show_step()

    def _show_step(self) -> None:
        places = [place for place, line in enumerate(self._lines) if line.step == self._step]
        if places:
            above = 1 if self._lines[places[0] - 1].step is None else 0
            region = Region(0, places[0] - above, 1, len(places) + above)
            room = max(1, self.scrollable_content_region.height - HEAD_H)
            top = int(self.scroll_target_y)
            if region.y < top:
                self.scroll_to(y=region.y, animate=False)
            elif region.bottom > top + room:
                self.scroll_to(y=region.bottom - room, animate=False)
        self.refresh()

    def _strip(self, pieces: tuple[Piece, ...], mark: str, width: int, *, here: bool = False) -> Strip:
        segments = (
            [Segment(mark, self.get_component_rich_style("card--here" if here else "card--title"))] if mark else []
        )
        for text, ink in pieces:
            style = self.get_component_rich_style("card--here" if here and ink == "title" else f"card--{ink}")
            segments.append(Segment(text, style))
        return Strip(segments).adjust_cell_length(width, self.get_component_rich_style("card--paper"))
