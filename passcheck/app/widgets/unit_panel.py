"""Where does a newcomer look at the practice unit, and press its buttons?

Drawn anew when something is done to it and at the moments at which something on it changes, never by a steady tick.
"""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.timer import Timer

from passcheck.app.plain import Words
from passcheck.app.unit_in_hand import UnitInHand
from passcheck.app.widgets.front_lines import front_content
from passcheck.app.widgets.unit_lines import unit_content
from passcheck.practice.seen import Panel

HEADING = "PRACTICE UNIT"
SHORTEST_S = 0.02  # two changes nearer than this are drawn as one
FRONT_WIDTH = 32  # columns beside the step's part
WIDEST_FRONT = 44  # below it
APART = 2  # columns between the step's part and the front beside it
BESIDE_FROM = 66  # columns; narrower the front stands below
ROOMY_BELOW_FROM, ROOMY_BESIDE_FROM = 32, 22  # lines of the whole panel


class UnitPanel(VerticalScroll, can_focus=True):
    """The unit in a frame of its own; Space or Enter does what the step asks of a hand."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "enter,space",
            "do_it",
            "Do it",
            show=False,
            id="practice-unit.act",
            tooltip="Does to the unit what the step asks: presses its button, starts its sweep, feeds the next mark.",
        ),
    ]
    DEFAULT_CSS = """
    UnitPanel { width: 36; height: 1fr; background: $surface; color: $foreground; border: round $card-rule;
                padding: 0 0 0 1; scrollbar-size-vertical: 1; scrollbar-gutter: stable; }
    UnitPanel:focus { border: double $accent; }
    UnitPanel Words { height: auto; color: $foreground; }
    UnitPanel .heading { text-style: bold; }
    UnitPanel Container { height: auto; layout: vertical; }
    UnitPanel .front { margin-top: 1; }
    UnitPanel Container.-beside { layout: horizontal; }
    UnitPanel .-beside .face { width: 1fr; }
    UnitPanel .-beside .front { width: 32; margin: 0 0 0 2; }
    """

    def __init__(self, *, with_facts: bool = False, id: str | None = None) -> None:  # noqa: A002 - as every widget
        """Args: with_facts: True to show too what cautions and make safe ask for; id as for any widget."""
        super().__init__(id=id)
        self._with_facts = with_facts
        self._unit: UnitInHand | None = None
        self._next: Timer | None = None

    def compose(self) -> ComposeResult:
        """Heading, what the step at hand needs, and the front of the unit."""
        yield Words(HEADING if self._with_facts else f"{HEADING}   F10: larger", classes="heading")
        with Container():
            yield Words("", classes="face")
            yield Words("", classes="front")

    def show_unit(self, unit: UnitInHand | None) -> None:
        """Draw this unit from now; None draws nothing."""
        self._unit = unit
        self.redraw()

    def redraw(self) -> None:
        """Draw what is to be seen now, and once more when it changes by itself."""
        if self._next is not None:
            self._next.stop()
            self._next = None
        if self._unit is None or not self.is_mounted or not self.display or not self.screen.is_current:
            return
        panel, since_s = self._unit.panel(), self._unit.hands.since_s
        changes = (self._draw_front(self._unit, panel), panel.next_s)
        width = self._width - (FRONT_WIDTH + APART) * self._is_beside
        face = unit_content(panel, width, self._act_words(panel.act), with_facts=self._with_facts)
        self.query_one(".face", Words).say(face)
        next_s = min((at_s for at_s in changes if at_s is not None), default=None)
        if next_s is not None:
            self._next = self.set_timer(max(SHORTEST_S, next_s - since_s), self.redraw)

    @property
    def _width(self) -> int:
        return max(20, self.scrollable_content_region.width)

    @property
    def _is_beside(self) -> bool:
        return self.query_one(Container).has_class("-beside")

    def _draw_front(self, unit: UnitInHand, panel: Panel) -> float | None:
        """Under what the step needs, or beside it where there is room; when it changes next by itself."""
        front, words = unit.front(panel), self.query_one(".front", Words)
        words.display = not front.is_blank
        beside = words.display and self._width >= BESIDE_FROM
        self.query_one(Container).set_class(beside, "-beside")
        width = FRONT_WIDTH if beside else min(self._width, WIDEST_FRONT)
        roomy = self.content_size.height >= (ROOMY_BESIDE_FROM if beside else ROOMY_BELOW_FROM)
        words.say(front_content(front, width, roomy=roomy))
        return front.next_s

    def action_do_it(self) -> None:
        """The hand does it once."""
        if self._unit is not None and self._unit.panel().act:
            self._unit.act()
            self.redraw()

    def on_click(self) -> None:
        """A click does the same."""
        self.action_do_it()

    def on_resize(self, event: events.Resize) -> None:
        """Lines break anew."""
        del event
        self.redraw()

    def on_focus(self) -> None:
        """The act is offered; only after this is the focus here."""
        self.call_later(self.redraw)

    def on_blur(self) -> None:
        """The way here is told; only after this is the focus gone."""
        self.call_later(self.redraw)

    def _act_words(self, act: str) -> str:
        if not act:
            return ""
        return f"Enter: {act}" if self.has_focus else f"Tab, then Enter: {act}"
