"""What does a unit really do at a step, before any instrument, eye or hand took part?

One shape for each way in which a step is observed. Values are true values in base units; nobody at a bench ever sees
them as they are here.
"""

from dataclasses import dataclass
from typing import Literal, get_args

from passcheck.job.answers import Departure
from passcheck.sequence.model import Grade

LimitLight = Literal["off", "brief", "on"]
LIMIT_LIGHTS: tuple[LimitLight, ...] = get_args(LimitLight)
GRADES: tuple[Grade, ...] = get_args(Grade)
"""The functional status classes from the best to the worst."""


@dataclass(frozen=True, slots=True)
class Reads:
    """Quantities at probes, one for each reading or row; `unit` is the base unit."""

    values: tuple[float, ...]
    unit: str


@dataclass(frozen=True, slots=True)
class Draws:
    """Idle current after the wait, in amperes, and the supply's limit light."""

    amps: float
    light: LimitLight


@dataclass(frozen=True, slots=True)
class Responds:
    """Delays of so many tries one after another, in seconds; None where the unit doesn't answer at all.

    `twice` is how many of them counted once too often.
    """

    delays_s: tuple[float | None, ...]
    twice: int = 0


@dataclass(frozen=True, slots=True)
class Counts:
    """How many there are."""

    count: int


@dataclass(frozen=True, slots=True)
class Lights:
    """Lamps amiss, the time all need to light and to go out, and the blink rate; 0 where it is not asked."""

    amiss: tuple[Departure, ...]
    on_s: float = 0.0
    out_s: float = 0.0
    rate_hz: float = 0.0


@dataclass(frozen=True, slots=True)
class Sweeps:
    """When the pointer passes each mark, from 0 at the start, rising and falling, in seconds."""

    up_s: tuple[float, ...]
    down_s: tuple[float, ...]
    stall: str = ""  # where an eye would see it stop, if it does


@dataclass(frozen=True, slots=True)
class Stands:
    """Where the pointer rests at each mark, in the scale's unit; `down` is empty where only rising is asked."""

    up: tuple[float, ...]
    down: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Codes:
    """Codes present, codes that came when provoked, and those present after clearing and a power cycle."""

    present: tuple[str, ...]
    provoked: tuple[str, ...]
    after_clear: tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class Falls:
    """The functional status class after the disturbance, and seconds until the unit is back."""

    grade: Grade
    recovery_s: float


@dataclass(frozen=True, slots=True)
class Looks:
    """What an eye finds amiss along the list."""

    amiss: tuple[Departure, ...]


Shows = Reads | Draws | Responds | Counts | Lights | Sweeps | Stands | Codes | Falls | Looks
