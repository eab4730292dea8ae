"""Did power stay on between two looks, by an hour meter or a logged total that only goes on at power?"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from passcheck.judge.quantity import Quantity

DIGITS: Final = Decimal("1.5")
"""How far a meter's advance may differ from the time that passed, in weights of its last digit: each of its two
readings is cut off anywhere within one digit, and half a digit is left for its clock."""


@dataclass(frozen=True, slots=True)
class Advance:
    """What two readings of an hour meter say: shown or not, and why in words."""

    shown: bool
    why: str = ""


def advance(before: Quantity, after: Quantity, passed_s: float, *, at_least: bool = False) -> Advance:
    """Compare the advance of a meter with the time at power that passed, in seconds.

    Args:
        before: the meter at the look before, a time.
        after: the meter now.
        passed_s: the measured time between, planned times off taken out.
        at_least: True where more time may have passed than was measured.
    """
    gone = after.value - before.value
    allowed = DIGITS * max(before.digit, after.digit)
    short = Decimal(repr(passed_s)) - gone
    if short > allowed:
        return Advance(False, f"the meter went from {before.text} to {after.text}: less than the time that passed")
    if -short > allowed and not at_least:
        return Advance(False, f"the meter went from {before.text} to {after.text}: more than the time that passed")
    return Advance(True)
