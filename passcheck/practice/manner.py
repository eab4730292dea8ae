"""How does this technician work: how carefully, how patiently, how well guessing?

All of it is assumed, in the spirit of what is known of routine work at benches; the study prints the figures it used.
"""

from dataclasses import dataclass
from random import Random


@dataclass(frozen=True, slots=True)
class Manner:
    """Shares of occasions, drawn once for a person.

    Attributes:
        slips: an entry is typed wrong.
        loose_probe: a probe doesn't touch, and the meter shows what an open lead shows.
        tries_again: a step that failed is tried again with nothing done to the unit, in the hope that it passes.
        signs_early: a signature is tried before everything has passed.
        finds_it: of the reworks, those that are on the block the bench suspects most; the rest are on another suspect.
        by_instrument: a timed step is measured instead of tapped.
    """

    slips: float = 0.005
    loose_probe: float = 0.005
    tries_again: float = 0.2
    signs_early: float = 0.1
    finds_it: float = 0.8
    by_instrument: float = 0.0


CAREFUL = Manner()


def drawn_manner(draw: Random) -> Manner:
    """A person between careful and hurried."""
    hurry = draw.random()
    return Manner(
        slips=0.002 + 0.008 * hurry,
        loose_probe=0.002 + 0.008 * hurry,
        tries_again=0.05 + 0.3 * hurry,
        signs_early=0.3 * hurry,
        finds_it=draw.uniform(0.6, 0.95),
        by_instrument=draw.uniform(0.0, 0.2),
    )
