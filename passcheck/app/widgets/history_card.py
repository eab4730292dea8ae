"""Which visits of a unit are on the card, and which one is at hand?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message

from passcheck.app.plain import Words
from passcheck.app.widgets.history_lines import card_lines, head_lines, ruled_for
from passcheck.job.visits import ToldVisit, UnitHistory


class HistoryBody(VerticalScroll, can_focus=True):
    """What scrolls under the head."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "scroll_up", "Up", show=False, id="history.up", tooltip="A line up."),
        Binding("down", "scroll_down", "Down", id="history.down", tooltip="A line down."),
        Binding("pageup", "page_up", "Page up", show=False, id="history.page-up", tooltip="A window up."),
        Binding("pagedown", "page_down", "Page down", show=False, id="history.page-down", tooltip="A window down."),
        Binding("home", "scroll_home", "Top", show=False, id="history.top", tooltip="To the top of the card."),
        Binding("end", "scroll_end", "End", show=False, id="history.end", tooltip="To the end of the card."),
        Binding("left", "visit(-1)", "Earlier", id="history.earlier", tooltip="To the visit before."),
        Binding("right", "visit(1)", "Later", id="history.later", tooltip="To the visit after."),
        Binding("enter", "take", "Open", id="history.open", tooltip="Opens the traveller of the visit at hand."),
    ]

    class Moved(Message):
        """Another visit is wanted at hand."""

        def __init__(self, by: int) -> None:
            """So many visits later, earlier where it is below 0."""
            super().__init__()
            self.by = by

    class Taken(Message):
        """The visit at hand is wanted."""

    def action_visit(self, by: int) -> None:
        """To another visit."""
        self.post_message(self.Moved(by))

    def action_take(self) -> None:
        """Open the one at hand."""
        self.post_message(self.Taken())


class HistoryCard(Vertical):
    """The card: visits are its columns, left and right go from one to the next."""

    DEFAULT_CSS = """
    HistoryCard { height: 1fr; background: $card; color: $ink; margin: 0 1; }
    HistoryCard .history-head { height: 3; background: $card; color: $ink; text-wrap: nowrap; }
    HistoryCard HistoryBody { height: 1fr; background: $card-row; scrollbar-size-vertical: 1;
                              scrollbar-background: $card; scrollbar-color: $card-rule; }
    HistoryCard HistoryBody Words { height: auto; color: $ink; text-wrap: nowrap; }
    """

    def __init__(self) -> None:
        """Nothing is on it yet."""
        super().__init__()
        self._history = UnitHistory((), (), (), "")
        self._at_hand = 0
        self._first = 0

    def compose(self) -> ComposeResult:
        """Head and body."""
        yield Words(classes="history-head")
        with HistoryBody():
            yield Words(classes="history-body")

    @property
    def at_hand(self) -> ToldVisit | None:
        """The visit that the mark stands at."""
        visits = self._history.visits
        return visits[self._at_hand] if visits else None

    def put(self, history: UnitHistory) -> None:
        """Write it; the latest visit is at hand."""
        self._history = history
        self._at_hand = self._first = max(0, len(history.visits) - 1)
        self._write()

    def on_resize(self) -> None:
        """Rule the card for the width it has."""
        self._write()

    def on_history_body_moved(self, event: HistoryBody.Moved) -> None:
        """Stand at another visit."""
        event.stop()
        self._at_hand = max(0, min(len(self._history.visits) - 1, self._at_hand + event.by))
        self._write()

    def _write(self) -> None:
        width = self.size.width - 1  # the scroll bar's
        if not self._history.visits or width < 1:
            return
        ruled = ruled_for(self._history, width, self._at_hand, self._first)
        self._first = ruled.first
        head, body = head_lines(self._history, ruled, self._at_hand), card_lines(self._history, ruled)
        self.query_one(".history-head", Words).say(Content("\n").join(head))
        self.query_one(".history-body", Words).say(Content("\n").join(body))
