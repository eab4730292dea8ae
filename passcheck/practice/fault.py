"""What can be wrong with a unit, in which block does it sit, and when does it show?

A fault is one thing that broke; its effects are what a bench can see of it. A rework on the fault's block cures it,
work on any other block leaves it as it is.
"""

from dataclasses import dataclass
from typing import Literal, get_args

What = Literal[
    # what a probe finds at a node or a step
    "reads",
    "source",
    "ripple",
    # current from the supply
    "draws",
    "limit light",
    # lamps
    "lags",
    "flickers",
    "dark",
    "blinks at",
    # buttons and whatever else answers a press
    "delays",
    "bounces",
    "dead spots",
    # gauges
    "slow",
    "stalls",
    "offset",
    # fault codes
    "stuck",
    "missing",
    "mute",
    # all that is counted, graded, looked at or fed in rows
    "counts",
    "falls to",
    "recovers in",
    "looks",
    "gives",
    # charge that stays
    "holds charge",
]

Nature = Literal["steady", "warm", "under a condition", "intermittent"]
NATURES: tuple[Nature, ...] = get_args(Nature)
"""From what shows in every try to what shows now and then."""


@dataclass(frozen=True, slots=True)
class When:
    """Under what an effect shows.

    Attributes:
        warm_min: minutes at power before it shows; 0 for a unit that shows it cold.
        under: a condition of one of the sequence's symptoms, in its words; "" where none is needed.
        share: the share of tries in which it shows; 1 is steady, less is intermittent.
    """

    warm_min: float = 0.0
    under: str = ""
    share: float = 1.0


ALWAYS = When()


@dataclass(frozen=True, slots=True)
class Effect:
    """One thing that a bench can see of a fault.

    Attributes:
        on: what it shows at, as the sequence names it: a step's id, a node (`at`), a lamp, a button, a gauge, a code,
            or a place that stores energy.
        what: in which way.
        size: how much, in base units: the true value (reads, ripple, draws, counts, recovers in, gives, blinks at),
            ohms (source), seconds (lags, delays, stalls), a factor on times (slow), the scale's own unit (offset), a
            share of presses (bounces, dead spots), a factor on the time that charge stays (holds charge).
        nth: the mark, row, point or segment concerned, counted from 1; None for all of them.
        seen: the class it falls to, or what the eye sees instead.
        when: under what it shows.
    """

    on: str
    what: What
    size: float = 0.0
    nth: int | None = None
    seen: str = ""
    when: When = ALWAYS

    @property
    def nature(self) -> Nature:
        """Is it there in every try, only warm, only under a condition, or now and then?"""
        if self.when.share < 1 or (self.what in ("dead spots", "bounces") and self.size < 1):
            return "intermittent"
        if self.when.under:
            return "under a condition"
        return "warm" if self.when.warm_min else "steady"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that broke.

    Attributes:
        name: short, in small letters; unique in its list.
        says: what broke, in words; told only when the job is over.
        block: where it sits.
        parts: designators that a technician would find and renew.
        effects: what a bench sees of it.
        complaint: the owner's words; "" for a fault that no owner would notice.
        symptoms: names of the sequence's symptoms that those words match.
        born: after how many reworks it came to be; 0 for what the unit arrived with, 1 for what the first rework broke.
    """

    name: str
    says: str
    block: str
    parts: tuple[str, ...]
    effects: tuple[Effect, ...]
    complaint: str = ""
    symptoms: tuple[str, ...] = ()
    born: int = 0

    @property
    def nature(self) -> Nature:
        """How hard it is to meet: by the effect of it that is met most easily."""
        return min((effect.nature for effect in self.effects), key=NATURES.index)
