"""How long does this bench take from key to light, may that figure still be used, and what is said where it may not?

The bench's own figure: filmed once, kept with its day and the terminal it was filmed on.
"""

from dataclasses import dataclass
from datetime import date
from typing import Final

from passcheck.judge.latency import UNMEASURED, Latency

OLD_AFTER_DAYS: Final = 90
"""Ours: drivers, terminals and cables change without a word, and filming takes five minutes."""


@dataclass(frozen=True, slots=True)
class KeptLatency:
    """Five clips and what they gave: seconds as decimal strings, `day` as year-month-day, the terminal in words."""

    value_s: str
    u_s: str
    frames: tuple[str, ...]
    fps: str
    day: str
    terminal: str


@dataclass(frozen=True, slots=True)
class LatencyNow:
    """What a timed judgement takes today, and what is said beside it; "" where the figure is good."""

    latency: Latency
    said: str


def latency_now(kept: KeptLatency | None, today: date, terminal: str) -> LatencyNow:
    """Take the kept figure while it is of this terminal and no older than 90 days, else 30 to 200 ms as a rectangle."""
    why = _why_not(kept, today, terminal)
    if kept is not None and not why:
        return LatencyNow(Latency(float(kept.value_s), float(kept.u_s)), "")
    return LatencyNow(UNMEASURED, f"{why}: judged with anything from 30 to 200 ms, so more will be in doubt.")


def _why_not(kept: KeptLatency | None, today: date, terminal: str) -> str:
    if kept is None:
        return "The latency of this bench was not measured"
    if kept.terminal != terminal:
        return f"The latency of this bench was measured on {kept.terminal}, and this is {terminal}"
    age = (today - date.fromisoformat(kept.day)).days
    if not 0 <= age <= OLD_AFTER_DAYS:
        return f"The latency of this bench was measured on {kept.day}, more than {OLD_AFTER_DAYS} days from today"
    return ""


def latency_words(kept: KeptLatency) -> str:
    """The figure in one line: no finer than a millisecond, which is finer than it is known."""
    value, u = round(1000 * float(kept.value_s)), max(1, round(1000 * float(kept.u_s)))
    return f"{value} ms, standard uncertainty {u} ms, filmed {kept.day} on {kept.terminal}"
