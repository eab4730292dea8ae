"""What does a unit do at each step when nothing is broken?

Every unit of a board type differs a little from the next. What is drawn here is drawn once for a unit and stays: the
middle is the author's typical value, else the middle of the limits, and the spread is small against the room to them.
"""

from collections.abc import Mapping
from decimal import Decimal
from random import Random

from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity
from passcheck.sequence import model
from passcheck.sequence.model import Sequence, Step

SPREAD = 0.06
"""One standard deviation between units, as a share of the room from the typical value to the nearest limit."""
WIDEST = 2.5  # no healthy unit lies further out, in standard deviations
PRESS_SHARE, LAMP_SHARE, RECOVERY_SHARE = 0.4, 0.35, 0.4  # of the longest time allowed

Key = tuple[str, str]
"""What a value belongs to: a node with its unit, or a step with its part."""


def node_key(step: model.ReadingStep) -> Key:
    """Steps that read the same node under the same supply find the same value there.

    Where they ask for other limits it is not the same thing that they read: a coil that pulls in, and one that holds.
    """
    limits = reading_limits(step)
    if step.at is None or limits is None or limits.unit not in ("V", "Vpp"):
        return step.id, ""
    return f"{step.at} on {step.power}", limits.text


def reading_limits(step: model.ReadingStep) -> Limits | None:
    """Limits of a reading; a component's nominal value with its tolerance stands for them."""
    if step.limits is not None or step.component is None:
        return step.limits
    part = step.component
    spread = part.nominal.value * part.tolerance.value / 100
    ends = (Quantity(part.nominal.value + sign * spread, part.nominal.unit, part.nominal.digit, "") for sign in (-1, 1))
    low, high = ends
    return Limits(low, high, part.nominal, part.nominal.unit, f"{part.nominal.text} ± {part.tolerance.text}")


def typical(limits: Limits, told: Quantity | None = None, seen: Limits | None = None) -> float:
    """The middle of what good units show, in the base unit."""
    if told is not None:
        return float(told.value)
    low, high = limits.low, limits.high
    if low is not None and high is not None:
        return float(low.value + high.value) / 2
    if high is not None:
        value = high.value / 4
        return float(max(value, seen.low.value * 3) if seen is not None and seen.low is not None else value)
    assert low is not None  # noqa: S101 - limits have at least one end
    value = low.value * 4
    return float(min(value, seen.high.value / 3) if seen is not None and seen.high is not None else value)


def room(limits: Limits, value: float) -> float:
    """From a value to the nearest limit."""
    return min(abs(float(end.value) - value) for end in (limits.low, limits.high) if end is not None)


def drawn(limits: Limits, middle: float, draw: Random) -> float:
    """One unit's own value."""
    out = max(-WIDEST, min(WIDEST, draw.gauss(0, 1)))
    return middle + out * SPREAD * room(limits, middle)


def healthy_values(sequence: Sequence, draw: Random) -> Mapping[Key, float]:
    """The unit's own value behind each quantity of the sequence."""
    found: dict[Key, float] = {}
    for step in sequence.steps:
        for key, limits, middle in _quantities(step):
            if key not in found:
                found[key] = drawn(limits, middle, draw)
    return found


def _quantities(step: Step) -> list[tuple[Key, Limits, float]]:
    match step:
        case model.ReadingStep():
            limits = reading_limits(step)
            if limits is None or step.derive is not None:
                return []
            told = step.typical or (step.node.known_good if step.node is not None else None)
            return [(node_key(step), limits, typical(limits, told, step.seen))]
        case model.PowerUpStep():
            return [((step.id, ""), step.limits, typical(step.limits))]
        case model.ResponseStep():
            return [((step.id, ""), step.limits, _time(step.limits, PRESS_SHARE))]
        case model.PressesStep():
            return [] if step.limits is None else [((step.id, ""), step.limits, _time(step.limits, PRESS_SHARE))]
        case model.LampsStep():
            asked = (("on", step.on_within), ("off", step.off_after), ("rate", step.limits))
            return [
                ((step.id, name), limits, _time(limits, LAMP_SHARE)) for name, limits in asked if limits is not None
            ]
        case model.SweepStep():
            return [
                ((step.id, "up"), step.up, _time(step.up, 0.6)),
                ((step.id, "down"), step.down, _time(step.down, 0.6)),
            ]
        case model.GradeStep():
            return [] if step.limits is None else [((step.id, ""), step.limits, _time(step.limits, RECOVERY_SHARE))]
        case model.TableStep():
            return [((step.id, str(nth)), row.limits, typical(row.limits)) for nth, row in enumerate(step.rows, 1)]
        case _:
            return []


def _time(limits: Limits, share: float) -> float:
    """A time well inside its limits; where only the longest is limited, a share of that."""
    if limits.low is not None:
        return typical(limits)
    assert limits.high is not None  # noqa: S101 - limits have at least one end
    return float(limits.high.value * Decimal(str(share)))
