"""Do units that were released later come back otherwise than those before them?"""

from collections.abc import Sequence
from typing import Final

from passcheck.job.counts import OutAndBack
from passcheck.judge.returns import FEWEST_TO_COMPARE, back_of_1000, log_rank, survival, survival_at
from passcheck.judge.rounding import counted, rounded

ALPHA: Final = 0.05
Fate = tuple[int, bool]
"""Days out, and whether the unit came back."""


def compared(units: Sequence[OutAndBack], fates: Sequence[Fate]) -> tuple[str, ...]:
    """The earlier half of the releases beside the later one, in a sentence, or why they can't be compared yet."""
    since = sorted(one.released_at[:10] for one in units)[len(units) // 2]
    together = list(zip(units, fates, strict=True))
    halves = (
        [fate for one, fate in together if one.released_at[:10] < since],
        [fate for one, fate in together if one.released_at[:10] >= since],
    )
    back = [sum(came_back for _days, came_back in half) for half in halves]
    if min(back) < FEWEST_TO_COMPARE:
        return (
            f"Earlier and later releases can't be compared yet: each half needs {FEWEST_TO_COMPARE} returns, "
            f"and has {back[0]} before {since} and {back[1]} since.",
        )
    days = [[float(out) for out, _back in half] for half in halves]
    came_back = [[back for _out, back in half] for half in halves]
    p = log_rank((days[0], days[1]), (came_back[0], came_back[1]))
    told = f"Released before {since} ({counted(back[0], 'return')}) and since ({back[1]}), log-rank test:"
    shown = f"p = {rounded(p, 2)}" if p >= 0.001 else "p below 0.001"
    if p >= ALPHA:
        return (f"{told} no difference is shown ({shown}), which doesn't mean that there is none.",)
    return (f"{told} they differ ({shown}). {_by_then(days, came_back)} Why they differ isn't shown.",)


def _by_then(days: Sequence[Sequence[float]], came_back: Sequence[Sequence[bool]]) -> str:
    """The share of either half that is back at the greatest age that both reached."""
    curves = [survival(out, back) for out, back in zip(days, came_back, strict=True)]
    reached = min(curve.followed_days for curve in curves)
    first, second = (back_of_1000(survival_at(curve, reached)) for curve in curves)
    return f"By day {rounded(reached, 4)} about {first} of 1000 of the earlier and {second} of the later are back."
