"""What did the technician observe at a step, exactly as it was given?

One shape for each way of answering. Quantities stay the text that was typed, so that the record holds what the
instrument showed and the weight of its last digit; the judge reads them when the attempt is made.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Discriminator


@dataclass(frozen=True, slots=True)
class ReadingAnswer:
    """Readings of one quantity (`reading`, `response`); `reverse` with leads swapped, `leads` with them shorted."""

    readings: tuple[str, ...]
    reverse: str | None = None
    leads: str | None = None
    shape: Literal["reading"] = "reading"


@dataclass(frozen=True, slots=True)
class PowerUpAnswer:
    """Idle current and what the supply's limit light did."""

    current: str
    limit_light: Literal["off", "brief", "on"]
    shape: Literal["power-up"] = "power-up"


@dataclass(frozen=True, slots=True)
class PressesAnswer:
    """How many presses counted, and the slowest of them where the step limits it."""

    counted: int
    slowest: str | None = None
    shape: Literal["presses"] = "presses"


@dataclass(frozen=True, slots=True)
class Departure:
    """One line of a list that was not as it should be: its number, counted from 1, and what was seen instead."""

    number: int
    seen: str


@dataclass(frozen=True, slots=True)
class ListAnswer:
    """A whole list walked (kinds `look`, `lamps`); what isn't named as a departure was as the list says."""

    departures: tuple[Departure, ...] = ()
    times: tuple[str, ...] = ()  # lamps: time to light, time to go out, or the rate, where the step limits them
    shape: Literal["list"] = "list"


@dataclass(frozen=True, slots=True)
class SweepAnswer:
    """A pointer's time up and down, and where it hesitated, if it did."""

    up: str
    down: str
    hesitation: str | None = None
    shape: Literal["sweep"] = "sweep"


@dataclass(frozen=True, slots=True)
class MarksAnswer:
    """Where the pointer stood at each mark, rising and falling, in the scale's own unit."""

    up: tuple[str, ...]
    down: tuple[str, ...] = ()
    shape: Literal["marks"] = "marks"


@dataclass(frozen=True, slots=True)
class CodesAnswer:
    """Fault codes: the set as found, those that came when provoked, the set after clear and power cycle."""

    present: tuple[str, ...]
    provoked: tuple[str, ...] = ()
    after_clear: tuple[str, ...] | None = None
    shape: Literal["codes"] = "codes"


@dataclass(frozen=True, slots=True)
class GradeAnswer:
    """The class the unit fell to, and how long it took to come back."""

    grade: Literal["A", "B", "C", "D", "E"]
    recovery: str | None = None
    shape: Literal["grade"] = "grade"


@dataclass(frozen=True, slots=True)
class CountAnswer:
    """How many there were."""

    counted: int
    shape: Literal["count"] = "count"


@dataclass(frozen=True, slots=True)
class TableAnswer:
    """One output for each row, in the rows' order."""

    outputs: tuple[str, ...]
    shape: Literal["table"] = "table"


@dataclass(frozen=True, slots=True)
class SoakAnswer:
    """A soak that was walked to its end: seconds at power that count, of how many looks, and planned power cycles."""

    counted_s: str
    looks: int
    cycles: int
    shape: Literal["soak"] = "soak"


@dataclass(frozen=True, slots=True)
class HowStamped:
    """How taps were timed: the clock's name, the estimated resolution of the host in seconds, and what stamped them.

    `reader` is the process that reads the keys; `screen` the screen's own thread, once that process was lost.
    """

    clock: str
    resolution_s: str
    stamped_by: Literal["reader", "screen"] = "reader"


@dataclass(frozen=True, slots=True)
class TapPair:
    """One trial, raw, in seconds of the clock: beside the press, at the answer (None: none came); why it is void."""

    start: str
    stop: str | None
    void: str = ""


@dataclass(frozen=True, slots=True)
class TapPairsAnswer:
    """Trials on the unit in the order tapped, void ones too (kinds `response`, `presses`)."""

    pairs: tuple[TapPair, ...]
    how: HowStamped
    shape: Literal["tap pairs"] = "tap pairs"


@dataclass(frozen=True, slots=True)
class TapRow:
    """A row of taps, raw: one a mark on the way up or down, or one a flash; why it is void."""

    way: Literal["up", "down", "flash"]
    taps: tuple[str, ...]
    void: str = ""


@dataclass(frozen=True, slots=True)
class TapRowsAnswer:
    """Rows in the order tapped, void ones too (kinds `sweep`, `lamps`); lamps amiss as in a list."""

    rows: tuple[TapRow, ...]
    how: HowStamped
    departures: tuple[Departure, ...] = ()
    shape: Literal["tap rows"] = "tap rows"


Answer = (
    ReadingAnswer
    | PowerUpAnswer
    | PressesAnswer
    | ListAnswer
    | SweepAnswer
    | MarksAnswer
    | CodesAnswer
    | GradeAnswer
    | CountAnswer
    | TableAnswer
    | SoakAnswer
    | TapPairsAnswer
    | TapRowsAnswer
)
AnswerByShape = Annotated[Answer, Discriminator("shape")]
"""The same as a journal's facts are read: its shape says which it is, and the others aren't tried."""
