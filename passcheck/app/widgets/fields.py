"""How are one or several values asked for, one Enter each?

Enter checks the slot at hand, says what it understood beside it, and walks to the next empty one; when none is left all
texts are posted together. A fault is said in place and nothing typed is lost.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message

from passcheck.app.plain import Words
from passcheck.app.widgets.typed import Slot
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity, QuantityError, parse_reading, show, unit_part

LONGEST_LINE = 400


@dataclass(frozen=True, slots=True)
class Understood:
    """A field's text as it goes into the answer, and how it was read."""

    text: str
    words: str


Read = Callable[[str], Understood]


class NotUnderstood(ValueError):
    """A field can't be read; the sentence says why and what would do."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One value to ask for.

    Attributes:
        label: its name.
        read: how its text is read.
        unit: shown in the empty slot.
        empty: what an empty slot means; None where it is refused.
        value: what stands in it from the start.
    """

    label: str
    read: Read
    unit: str = ""
    empty: str | None = None
    value: str = ""


def sticky_unit(limits: Limits) -> str:
    """The unit a bare number takes: the one the sequence writes its limit with, so that 36 beside mV is 36 mV."""
    for end in (limits.high, limits.low):
        if end is not None and (unit := written_unit(end.text)):
            return unit
    return limits.unit


def written_unit(text: str) -> str:
    """The unit with its prefix as a quantity was written, or "" where it has none of its own."""
    try:
        return unit_part(text)
    except QuantityError:
        return ""


def reading_in(unit: str, base: str, *, over_range: bool = True) -> Read:
    """Reads what an instrument shows; a bare number takes `unit`. `base` is that unit without its prefix."""

    def read(text: str) -> Understood:
        written = f"{text} {unit}" if _is_bare(text) else text
        try:
            found = parse_reading(written, base)
        except QuantityError as error:
            raise NotUnderstood(str(error)) from error
        if isinstance(found, OverRange):
            if not over_range:
                raise NotUnderstood("over range is no value here: take a higher range and read again")
            return Understood(text, "over range")
        return Understood(written, _shown(found))

    return read


def of_limits(label: str, limits: Limits, *, over_range: bool = True) -> Ask:
    """Ask for a reading that will be judged against these limits, without showing them."""
    unit = sticky_unit(limits)
    return Ask(label, reading_in(unit, limits.unit, over_range=over_range), unit)


def number(text: str) -> Understood:
    """Reads a whole number, not below zero."""
    if not (text.isascii() and text.isdigit()) or len(text) > 6:
        raise NotUnderstood(f"'{text}' is no whole number: type how many")
    return Understood(text, str(int(text)))


def yes_or_no(text: str) -> Understood:
    """`yes` or `no`; the first letter will do."""
    found = {"y": "yes", "yes": "yes", "n": "no", "no": "no"}.get(text.lower())
    if found is None:
        raise NotUnderstood(f"'{text}': type yes or no")
    return Understood(found, found)


def words(text: str) -> Understood:
    """Takes any text."""
    return Understood(text, "")


def _is_bare(text: str) -> bool:
    return bool(text) and all(sign in "0123456789.,+-" for sign in text.replace("\N{MINUS SIGN}", "-"))


def _shown(found: Quantity) -> str:
    return show(found.value, found.unit, found.digit)


class Fields(Vertical):
    """A row a value: its name, a slot, what was understood."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "walk(-1)", "Line up", show=False, id="fields.up", tooltip="To the line above."),
        Binding("down", "walk(1)", "Line down", show=False, id="fields.down", tooltip="To the line below."),
    ]
    DEFAULT_CSS = """
    Fields { height: auto; }
    Fields .row { height: 1; }
    Fields .label { width: 30; text-align: right; padding-right: 1; }
    Fields Slot { width: 22; }
    Fields .understood { width: 1fr; padding-left: 1; text-style: bold; }
    Fields .complaint { height: auto; text-style: bold; padding-left: 2; }
    """

    class Filled(Message):
        """Every value is there; `texts` are in the order of the asks."""

        def __init__(self, fields: "Fields", texts: tuple[str, ...]) -> None:
            """Args: fields: who asked; texts: what goes into the answer."""
            super().__init__()
            self.fields = fields
            self.texts = texts

        @property
        def control(self) -> "Fields":
            """Who asked."""
            return self.fields

    class Took(Message):
        """One value was understood; the cursor walks on."""

        def __init__(self, fields: "Fields", place: int) -> None:
            """Args: fields: who asked; place: which of the asks, from 0."""
            super().__init__()
            self.fields = fields
            self.place = place

    def __init__(self, asks: tuple[Ask, ...], *, id: str | None = None) -> None:  # noqa: A002 - as every widget
        """Args: asks: what to ask for, in order."""
        super().__init__(id=id)
        self.asks = asks

    def compose(self) -> ComposeResult:
        """A row a value, then the place for a complaint."""
        for ask in self.asks:
            with Horizontal(classes="row"):
                yield Words(ask.label, classes="label")
                yield Slot(ask.value, ask.unit, select_on_focus=False, max_length=LONGEST_LINE)
                yield Words("", classes="understood")
        yield Words("", classes="complaint")

    @property
    def slots(self) -> tuple[Slot, ...]:
        """The slots, in the order of the asks."""
        return tuple(self.query(Slot))

    @property
    def at_hand(self) -> int | None:
        """Which of the asks the cursor stands in, from 0."""
        return next((place for place, slot in enumerate(self.slots) if slot is self.screen.focused), None)

    def open(self) -> None:
        """The first slot without text takes the cursor."""
        next((slot for slot in self.slots if not slot.value), self.slots[-1]).focus()

    def clear(self) -> None:
        """Every slot holds what it held at first; the cursor stands where something is wanted."""
        for ask, slot in zip(self.asks, self.slots, strict=True):
            slot.value = ask.value
        for understood in self.query(".understood").results(Words):
            understood.say("")
        self.complain("")
        self.open()

    def has_text(self) -> bool:
        """True while something is typed."""
        return any(slot.value != ask.value for ask, slot in zip(self.asks, self.slots, strict=True))

    def complain(self, sentence: str) -> None:
        """Show why something can't be taken, or clear that line."""
        self.query_one(".complaint", Words).say(sentence)

    def name_slot(self, place: int, label: str) -> None:
        """Ask for something else in one slot; what was typed there stays."""
        list(self.query(".label").results(Words))[place].say(label)

    def explain(self) -> None:
        """Say how the values that stand in the slots from the start are read."""
        for place, slot in enumerate(self.slots):
            if slot.value:
                self._take(place)

    def action_walk(self, by: int) -> None:
        """To the slot above or below."""
        slots = self.slots
        here = next((place for place, slot in enumerate(slots) if slot.has_focus), 0)
        slots[min(max(here + by, 0), len(slots) - 1)].focus()

    def on_input_submitted(self, event: Slot.Submitted) -> None:
        """Check the slot, then walk to the next empty one, or hand everything over."""
        event.stop()
        slots = self.slots
        place = next(index for index, slot in enumerate(slots) if slot is event.input)
        if not self._take(place):
            return
        self.post_message(self.Took(self, place))
        after = next((slot for slot in slots[place + 1 :] if not slot.value), None)
        if after is not None:
            after.focus()
            return
        for index, slot in enumerate(slots):
            if not self._take(index):
                slot.focus()
                return
        self.post_message(self.Filled(self, tuple(self._read(index).text for index in range(len(slots)))))

    def _take(self, place: int) -> bool:
        """Say how a slot was read; False when it can't be."""
        shown = list(self.query(".understood").results(Words))[place]
        try:
            found = self._read(place)
        except NotUnderstood as fault:
            shown.say("")
            self.complain(str(fault))
            return False
        shown.say(f"= {found.words}" if found.words else "")
        self.complain("")
        return True

    def _read(self, place: int) -> Understood:
        ask, typed = self.asks[place], self.slots[place].value.strip()
        if typed:
            return ask.read(typed)
        if ask.empty is None:
            raise NotUnderstood(f"{ask.label}: type it, then Enter.")
        return Understood(ask.empty, "")
