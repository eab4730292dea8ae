"""Was everything on the list as it should be, and what was not?

One Enter says that the whole list was walked and nothing was amiss. What was amiss is typed by its number and a word,
`3 dark`, an Enter each; an empty Enter ends the list. An Enter that comes before a hand could have looked is ignored,
so that a key held down from the step before doesn't answer this one.
"""

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal

from passcheck.app.plain import Words
from passcheck.app.widgets.fields import Ask, Fields
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.app.widgets.typed import Slot
from passcheck.job.answers import Departure, ListAnswer

QUICKEST_S = 0.6
"""Nobody reads a list faster; a held key repeats every 0.03 s."""


class WalkList(StepEntry):
    """A numbered list with its exceptions, then what has to be measured with it, if anything."""

    DEFAULT_CSS = """
    WalkList .points { height: auto; }
    WalkList .found { height: auto; text-style: bold; }
    WalkList .ask { height: 1; }
    WalkList .ask Words { width: auto; padding-right: 1; }
    WalkList .ask Slot { width: 1fr; }
    """

    def __init__(self, points: tuple[str, ...], *, times: tuple[Ask, ...] = (), in_rows: bool = False) -> None:
        """Args:
        points: the lines of the list.
        times: what an instrument gives for the list as a whole.
        in_rows: True where the lines are short enough to stand beside each other.
        """
        super().__init__()
        self.quickest_s = QUICKEST_S
        self._points = points
        self._times = times
        self._gap = "   " if in_rows else "\n"
        self._departures: dict[int, str] = {}
        self._opened: float | None = None

    def compose(self) -> ComposeResult:
        """The list, what was found amiss, one field."""
        numbered = (f"{number}\N{NO-BREAK SPACE}{point}" for number, point in enumerate(self._points, start=1))
        yield Words(self._gap.join(numbered), classes="points")
        yield Words("", classes="found")
        with Horizontal(classes="ask"):
            yield Words("Enter: all as listed.  Amiss?")
            yield Slot(placeholder="number and what you see, such as 3 dark")
        if self._times:
            yield Fields(self._times)
        yield Words("", classes="complaint")

    def on_mount(self) -> None:
        """Times wait until the list was walked."""
        for measured in self.query(Fields):
            measured.display = False

    def open(self) -> None:
        """The cursor stands ready for an exception."""
        self._opened = events.Key("enter", None).time
        self._field.focus()

    def clear(self) -> None:
        """Nothing found, nothing typed."""
        self._departures.clear()
        self._show_found()
        self._field.value = ""
        for measured in self.query(Fields):
            measured.clear()
            measured.display = False
        self.open()

    def has_text(self) -> bool:
        """True with an exception typed or taken."""
        return bool(self._departures) or any(field.value for field in self.query(Slot))

    def on_input_submitted(self, event: Slot.Submitted) -> None:
        """Take an exception, or end the list."""
        event.stop()
        typed = event.value.strip()
        if typed:
            self._take(typed)
        elif self._opened is not None and event.time - self._opened >= self.quickest_s:
            self._walked()
        else:
            self._opened = event.time  # a key that is held down never gets there

    def on_fields_filled(self, event: Fields.Filled) -> None:
        """The times came in; they leave with the list."""
        event.stop()
        self.post_message(self.Answered(self, self._answer(event.texts)))

    @property
    def _field(self) -> Slot:
        return self.query_one(".ask > Slot", Slot)

    def _take(self, typed: str) -> None:
        number, _, seen = typed.partition(" ")
        if not (number.isascii() and number.isdigit()) or not 1 <= int(number) <= len(self._points):
            self._complain(f"'{typed}': begin with a number of the list, 1 to {len(self._points)}, then what you see")
            return
        if not seen.strip():
            self._complain(f"Line {number}: say what you see there, such as {number} dark")
            return
        self._departures[int(number)] = seen.strip()
        self._field.value = ""
        self._complain("")
        self._show_found()

    def _walked(self) -> None:
        if not self._times:
            self.post_message(self.Answered(self, self._answer(())))
            return
        measured = self.query_one(Fields)
        measured.display = True
        measured.open()

    def _answer(self, times: tuple[str, ...]) -> ListAnswer:
        found = tuple(Departure(number, seen) for number, seen in sorted(self._departures.items()))
        return ListAnswer(found, times)

    def _show_found(self) -> None:
        found = "\n".join(f"{number}: {seen}" for number, seen in sorted(self._departures.items()))
        self.query_one(".found", Words).say(found)

    def _complain(self, sentence: str) -> None:
        self.query("WalkList > .complaint").last(Words).say(sentence)
