"""Can hands decide the times that a sequence asks for?"""

from collections.abc import Iterator
from decimal import Decimal

from passcheck.judge.limits import Limits
from passcheck.sequence.finding import Finding, error, warning
from passcheck.sequence.model import Step
from passcheck.sequence.sheet import Sheet

NO_TAPS_BELOW_S = Decimal("0.2")  # a visual reaction alone takes about this long
WEAK_TAPS_BELOW_S = Decimal("0.3")


def hand_timed(sheet: Sheet) -> Iterator[Finding]:
    """Taps can't decide a limit that is shorter than a reaction."""
    for number, step in sheet.steps():
        for entry, limits in _timed(step):
            shortest = min((end.value for end in (limits.low, limits.high) if end is not None), default=Decimal(0))
            if limits.unit == "s" and shortest < WEAK_TAPS_BELOW_S:
                yield from _by_hand(step, shortest, "steps", number, entry)


def _timed(step: Step) -> Iterator[tuple[str, Limits]]:
    """The times of a step that are taken by taps unless an instrument gives them."""
    entries = {
        "response": ("limits",),
        "presses": ("limits",),
        "sweep": ("up", "down"),
        "lamps": ("on_within", "off_after"),
    }
    for entry in entries.get(step.kind, ()):
        limits = getattr(step, entry)
        if limits is not None:
            yield entry, limits


def _by_hand(step: Step, shortest_s: Decimal, *loc: str | int) -> Iterator[Finding]:
    shorter = f"a limit of {shortest_s.normalize():f} s is shorter than"
    if step.method == "instrument":
        return
    if shortest_s < NO_TAPS_BELOW_S:
        why = f"{shorter} the {NO_TAPS_BELOW_S} s that a reaction takes, so taps can't decide it"
        remedy = "write 'method: instrument' (scope or camera frames)"
        yield (error if step.method == "taps" else warning)(f"{why}; {remedy}", *loc)
    elif step.method == "taps":
        yield warning(f"{shorter} {WEAK_TAPS_BELOW_S} s; taps will often end in doubt, allow an instrument", *loc)


RULES = (hand_timed,)
