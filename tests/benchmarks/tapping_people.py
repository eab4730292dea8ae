"""Which people tap in the simulations? An assumed population, to be replaced by what benches record.

Reactions are ex-Gaussian: mu ~ N(180, 15), sigma ~ U(15, 30), tau ~ U(25, 60) ms, slowed by 60 exp(-D/0.2 s) ms after a
short delay D. The start key goes down N(0, 10) ms beside the button, with U(8, 20) ms of scatter; either key shakes by
4 ms. 3 % of trials are lapses (150 to 800 ms late), 1 % unreported anticipations (anywhere up to 100 ms after the
answer), 1 % double taps. Key to light takes 30 to 100 ms; what the unit shows is seen N(0, 12) ms earlier or later
than what the screen shows. Trials under 0.10 s are void and done again.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np  # type: ignore[import-not-found, unused-ignore]

from passcheck.judge.screening import VOID_UNDER_S

Array = Any
SHARES = {"lapse": 0.03, "anticipation": 0.01, "double": 0.01}


@dataclass(frozen=True)
class People:
    """A row of operators, each at a bench; times in seconds, one value each."""

    mu: Array
    sigma: Array
    tau: Array
    start: Array
    start_scatter: Array
    latency: Array
    mismatch: Array
    lapses: float = SHARES["lapse"]

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.mu)


def some_people(
    draw: Any,
    count: int,
    lapses: float = SHARES["lapse"],
    mismatch_sd: float = 0.012,
    latency_s: tuple[float, float] = (0.030, 0.100),
) -> People:
    """Draw operators with their benches."""
    return People(
        mu=draw.normal(0.180, 0.015, count),
        sigma=draw.uniform(0.015, 0.030, count),
        tau=draw.uniform(0.025, 0.060, count),
        start=draw.normal(0, 0.010, count),
        start_scatter=draw.uniform(0.008, 0.020, count),
        latency=draw.uniform(*latency_s, count),
        mismatch=draw.normal(0, mismatch_sd, count),
        lapses=lapses,
    )


def reference_block(draw: Any, people: People, around_s: float, trials: int) -> Array:
    """Times on the bench's own screen less the programmed delays, which lie within 20 % of a value."""
    delays = around_s * draw.uniform(0.8, 1.2, (people.count, trials))
    return _times(draw, people, delays, delays + people.latency[:, None]) - delays


def unit_trials(draw: Any, people: People, delay_s: float, trials: int, earlier_s: Array | float = 0.0) -> Array:
    """Times on a unit that answers after `delay_s`; `earlier_s` is what the hand learned of this constant delay."""
    delays = np.full((people.count, trials), delay_s)
    seen = delays + people.mismatch[:, None]
    return _times(draw, people, delays, seen, np.broadcast_to(earlier_s, (people.count,))[:, None])


def _times(draw: Any, people: People, delays: Array, seen_s: Array, earlier_s: Array | float = 0.0) -> Array:
    """From the start key to the stop key for answers that are seen `seen_s` after the button; voids done again.

    `delays` are those that slow a reaction when they are short.
    """
    who, _trial = np.indices(seen_s.shape)
    earlier = np.broadcast_to(earlier_s, seen_s.shape)
    times = _drawn(draw, people, who, delays, seen_s, earlier)
    for _ in range(50):
        void = times < VOID_UNDER_S
        if not void.any():
            break
        times[void] = _drawn(draw, people, who[void], delays[void], seen_s[void], earlier[void])
    return times


def _drawn(draw: Any, people: People, who: Array, delays: Array, seen_s: Array, earlier_s: Array) -> Array:
    """One time each; `who` is the row of the operator."""
    shape = seen_s.shape
    reaction = people.mu[who] + people.sigma[who] * draw.standard_normal(shape)
    reaction += people.tau[who] * draw.standard_exponential(shape) + 0.060 * np.exp(-delays / 0.2)
    start = people.start[who] + people.start_scatter[who] * draw.standard_normal(shape)
    keys = draw.uniform(-0.004, 0.004, shape) - draw.uniform(-0.004, 0.004, shape)
    times = seen_s + reaction - earlier_s - start + keys
    what = draw.random(shape)
    times += np.where(what < people.lapses, draw.uniform(0.15, 0.80, shape), 0)
    early = (what > 1 - SHARES["anticipation"]) * 1
    times = np.where(early, draw.uniform(0, 1, shape) * (seen_s + 0.1), times)
    doubled = (what <= 1 - SHARES["anticipation"]) & (what > 1 - SHARES["anticipation"] - SHARES["double"])
    return np.where(doubled, draw.uniform(0.04, 0.15, shape), times)
