"""How fast does a lamp flash, and how long is it on, when flashes are counted and timed by hand?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

FASTEST_TAPPED_HZ: Final = 2.4
"""Tapping along to flashes breaks down above about 2.5 Hz (Repp 2003)."""
FASTEST_COUNTED_HZ: Final = 5.0
FASTEST_COMPARED_HZ: Final = 8.0
SHORTEST_DUTY_PERIOD_S: Final = 0.8
U_BIAS_S: Final = 0.010
"""Standard uncertainty of the difference between seeing a lamp go on and seeing it go off; ours, an assumption."""

Method = Literal["tap", "count or tap every 2nd", "compare or judge", "judge flicker"]


@dataclass(frozen=True, slots=True)
class Measured:
    """A value and its standard uncertainty; the unit is named where it is made."""

    value: float
    u: float


def counted_rate(count: int, window_s: float, u_reaction_s: float, *, on_flash: bool) -> Measured:
    """Return the rate in Hz of `count` flash intervals in a window.

    `on_flash`: the window began and ended with a tap on a flash, so u = f s sqrt(2)/W with s the scatter of one tap.
    Otherwise it lay anywhere, so the count is off by a triangle on ± 1: u = 1/(sqrt(6) W). Raises ValueError.
    """
    if count < 1 or not 0 < window_s < math.inf or not 0 <= u_reaction_s < math.inf:
        raise ValueError("a rate needs at least 1 flash, a window above 0 s and a reaction error of 0 s or more")
    rate = count / window_s
    return Measured(rate, rate * u_reaction_s * math.sqrt(2) / window_s if on_flash else 1 / (math.sqrt(6) * window_s))


def agreed_count(first: int, second: int) -> int | None:
    """Return the count that both countings gave; None where they differ, which leaves it in doubt."""
    return first if first == second else None


def duty(on_s: Sequence[float], period_s: float, u_bias_s: float = U_BIAS_S) -> Measured:
    """Return mean(on)/T with u² = (s_on/(sqrt(n) T))² + (u_bias/T)², as a share.

    `on_s` are times from a tap at on to a tap at off. Raises ValueError for a period of 0.8 s and less, in which a
    hand can't tap twice, for fewer than two times, or for times longer than the period.
    """
    if not SHORTEST_DUTY_PERIOD_S < period_s < math.inf:
        raise ValueError(
            f"a duty can be tapped only from periods above {SHORTEST_DUTY_PERIOD_S} s on, not at {period_s} s"
        )
    count = len(on_s)
    if count < 2:
        raise ValueError(f"a duty needs at least 2 times, not {count}")
    mean = math.fsum(on_s) / count
    if not (min(on_s) >= 0 and mean <= period_s and u_bias_s >= 0):
        raise ValueError("a lamp is on for 0 s or more and at most for its period")
    s = math.sqrt(math.fsum((each - mean) ** 2 for each in on_s) / (count - 1))
    return Measured(mean / period_s, math.hypot(s / math.sqrt(count), u_bias_s) / period_s)


def method_for(rate_hz: float) -> Method:
    """Return how a hand or an eye can tell a rate of about so many Hz; the cut-offs are ours."""
    if rate_hz <= FASTEST_TAPPED_HZ:
        return "tap"
    if rate_hz <= FASTEST_COUNTED_HZ:
        return "count or tap every 2nd"
    return "compare or judge" if rate_hz <= FASTEST_COMPARED_HZ else "judge flicker"
