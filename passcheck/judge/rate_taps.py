"""Is a blink rate inside its limits, by one tap a flash?

Flashes too quick for a hand are tapped every 2nd or 4th time: every n-th tap is n flashes, so the rate is n times that
of the taps. That a hand stays with every flash, or every n-th, is what no arithmetic on its taps can show.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from passcheck.judge.blink import FEWEST_TAPS, LOCKING_IN, Blink, blink
from passcheck.judge.flash_count import FASTEST_COUNTED_HZ, FASTEST_TAPPED_HZ
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.rounding import counted
from passcheck.judge.tapped_words import judge_tapped, refuse_other_unit, without_number

EVERY: Final[dict[int, str]] = {1: "every flash", 2: "every 2nd flash", 4: "every 4th flash"}
"""Which flashes may be tapped, in words."""
IRREGULAR_SHARE: Final = 1 / 3
"""Above this share of irregular intervals the taps follow nothing that has a period."""


def tapped_every(limits: Limits) -> int | None:
    """Return 1, 2 or 4: a flash at the high limit, tapped so, keeps to 2.4 taps a second. Limits are in Hz.

    None where taps can't tell and an instrument has to: a high limit above 5 Hz, or none and a low one above 2.4 Hz.
    """
    refuse_other_unit(limits, "Hz")
    if limits.high is None:
        return 1 if limits.low is None or float(limits.low.value) <= FASTEST_TAPPED_HZ else None
    high_hz = float(limits.high.value)
    if high_hz > FASTEST_COUNTED_HZ:
        return None
    return next(every for every in EVERY if high_hz / every <= FASTEST_TAPPED_HZ)


def judge_rate_by_taps(taps_s: Sequence[float], limits: Limits, every: int) -> Judgement | None:
    """Judge the rate of rising `taps_s`, one at every `every`-th flash, in Hz; the first two taps are left out.

    Student's t with n - 2 degrees of freedom, as the error comes from the scatter of these n taps. None where more taps
    are needed: fewer than eight count. Raises ValueError for times that don't rise.
    """
    refuse_other_unit(limits, "Hz")
    found = _blink_of(taps_s)
    if found is None:
        return None
    nu = sum(index is not None for index in found.index) - 2
    return judge_tapped(
        every * found.rate_hz, every * found.u_rate_hz, nu, limits, f"at {EVERY[every]}", _doubt(found, every)
    )


def stopped_flashing(taps: int, limits: Limits, every: int) -> Judgement:
    """Return the fail of a lamp that flashed no more after so many taps, too few to have a rate."""
    refuse_other_unit(limits, "Hz")
    flashes = f"{'' if every == 1 else 'about '}{counted(every * taps, 'time')}"
    return without_number("fail", f"The lamp flashed {flashes}, then no more, against {limits.words()}.", limits)


def too_few_count(taps: int, limits: Limits, every: int) -> Judgement:
    """Return the doubt about a lamp that flashed no more when too few of so many taps counted for a rate."""
    refuse_other_unit(limits, "Hz")
    why = f"fewer than {FEWEST_TAPS} of {counted(taps, 'tap')} count"
    return without_number("in doubt", f"No rate against {limits.words()}: {why}: {_again(every)}.", limits)


def _blink_of(taps_s: Sequence[float]) -> Blink | None:
    if any(later <= time for time, later in pairwise(taps_s)):
        raise ValueError("tap times have to rise")
    counting = taps_s[LOCKING_IN:]
    if len(counting) < FEWEST_TAPS:
        return None
    try:
        return blink(counting)
    except ValueError:  # so many taps too many that fewer than eight are left
        return None


def _doubt(found: Blink, every: int) -> str:
    """Why the taps may have another rate than the lamp; "" where nothing says so."""
    if found.two_rates:
        return f"about as many times between taps are one period long as two: {_again(every)}"
    between = len(found.index) - 1
    if found.irregular > IRREGULAR_SHARE * between:
        return f"{found.irregular} of {between} times between taps are no whole number of periods: {_again(every)}"
    if found.missed > between:
        return f"more flashes went by between taps than were tapped: {_again(every)}"
    return ""


def _again(every: int) -> str:
    return f"tap {EVERY[every]} once"
