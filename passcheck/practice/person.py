"""Who taps at a simulated bench, and how fast, how steadily and how attentively?

An assumed population: the one that the rule for tapped times was weighed with, to be replaced by what benches record.
"""

import math
import random
from dataclasses import dataclass
from typing import Final, Literal

SLOWED_S: Final = 0.060
SLOWED_WITHIN_S: Final = 0.2
"""After a short delay D a hand isn't ready yet: by 60 exp(-D/0.2 s) ms."""

Deed = Literal["sees", "lapses", "foresees", "owns up", "doubles"]


@dataclass(frozen=True, slots=True)
class Person:
    """One draw of the population at a bench, in seconds and shares of trials.

    A reaction is ex-Gaussian: `mu_s`, `sigma_s`, `tau_s`. The start is tapped `beside_s` ± `beside_scatter_s` after
    the press. `latency_s` is key to light on this bench, `mismatch_s` how much later than our light the unit's own is
    seen, `learned_s` how much earlier a delay that stays the same is answered. `along_s` is the scatter of a tap at a
    pointer that is watched all the way. Half of those that were `foreseen` are owned up to before anything is shown.
    """

    mu_s: float = 0.180
    sigma_s: float = 0.0225
    tau_s: float = 0.0425
    beside_s: float = 0.0
    beside_scatter_s: float = 0.014
    latency_s: float = 0.065
    mismatch_s: float = 0.0
    learned_s: float = 0.020
    along_s: float = 0.0275
    lapses: float = 0.03
    foreseen: float = 0.02
    doubled: float = 0.01

    def reaction_s(self, draw: random.Random, delay_s: float = math.inf) -> float:
        """From seeing to tapping, after a delay that may have been too short to be ready."""
        slowed_s = SLOWED_S * math.exp(-delay_s / SLOWED_WITHIN_S)
        return draw.gauss(self.mu_s, self.sigma_s) + draw.expovariate(1 / self.tau_s) + slowed_s

    def beside_press_s(self, draw: random.Random) -> float:
        """How much later than the press the other hand taps; below 0 for earlier."""
        return draw.gauss(self.beside_s, self.beside_scatter_s)

    def deed(self, draw: random.Random) -> Deed:
        """What becomes of the next trial; mostly the answer is seen and tapped."""
        shares: tuple[tuple[Deed, float], ...] = (
            ("lapses", self.lapses),
            ("foresees", self.foreseen / 2),
            ("owns up", self.foreseen / 2),
            ("doubles", self.doubled),
        )
        left = draw.random()
        for deed, share in shares:
            if left < share:
                return deed
            left -= share
        return "sees"


def draw_person(draw: random.Random) -> Person:
    """A person of the population, with a bench."""
    return Person(
        mu_s=draw.gauss(0.180, 0.015),
        sigma_s=draw.uniform(0.015, 0.030),
        tau_s=draw.uniform(0.025, 0.060),
        beside_s=draw.gauss(0, 0.010),
        beside_scatter_s=draw.uniform(0.008, 0.020),
        latency_s=draw.uniform(0.030, 0.100),
        mismatch_s=draw.gauss(0, 0.012),
        learned_s=draw.uniform(0, 0.040),
        along_s=draw.uniform(0.025, 0.030),
    )
