"""What is there to be seen of a practice unit, and what did the hand do to it so far?

Only what an instrument shows or an eye sees; no true value comes this far.
"""

from dataclasses import dataclass
from typing import Final, Literal

LampState = Literal["LIT", "dark", "flickers"]
Row = tuple[str, str]
"""What it is, and what is seen or shown there."""
LONG_AGO_S: Final = 86_400.0


@dataclass(frozen=True, slots=True)
class Hands:
    """How often the hand did what the step asks of it, and seconds since it last did."""

    acts: int = 0
    since_s: float = LONG_AGO_S


@dataclass(frozen=True, slots=True)
class LampSeen:
    """One indicator, or whatever else is watched for an answer."""

    ref: str
    colour: str
    state: LampState


@dataclass(frozen=True, slots=True)
class Dial:
    """A gauge: where its marks stand and where its pointer, as shares of the arc from 0 to 1; what an eye reads."""

    name: str
    marks: tuple[tuple[float, str], ...]
    pointer: float
    reads: str = ""


@dataclass(frozen=True, slots=True)
class ButtonSeen:
    """A button, how often it was pressed and how many of those the unit counted; None where it counts nothing."""

    name: str
    pressed: int
    counted: int | None = None


@dataclass(frozen=True, slots=True)
class Panel:
    """Everything at once.

    Attributes:
        supply: a line a supply.
        act: what the hand does next, such as `press SW4`; "" where there is nothing to do.
        meters: displays of instruments.
        lamps: indicators.
        dial: the gauge at hand.
        buttons: those that the step presses.
        found: what an eye or an ear finds.
        facts: what the bench shows of the facts that hazard messages and make safe ask for.
        next_s: seconds since the act at which something here changes by itself; None where all is still.
    """

    supply: tuple[str, ...] = ()
    act: str = ""
    meters: tuple[Row, ...] = ()
    lamps: tuple[LampSeen, ...] = ()
    dial: Dial | None = None
    buttons: tuple[ButtonSeen, ...] = ()
    found: tuple[Row, ...] = ()
    facts: tuple[Row, ...] = ()
    next_s: float | None = None
