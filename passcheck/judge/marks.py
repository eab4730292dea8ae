"""Does the pointer stand at its marks from both directions?"""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from passcheck.errors import OurBug
from passcheck.judge.conformity import guarded
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.linearity import scale_reading_u
from passcheck.judge.quantity import Quantity, show, six

_SIDE: Final = {"pass": "inside", "fail": "outside", "in doubt": "too close to the limits of"}


def judge_marks(
    expected: Sequence[Decimal],
    up: Sequence[Decimal],
    down: Sequence[Decimal],
    tolerance: Decimal,
    readability: Decimal,
    unit: str,
) -> Judgement:
    """Judge pointer positions at cardinal marks, all in the scale's own unit; the worst error decides.

    `readability` is the half-width within which an eye can read the scale, a fifth of a division or so; it counts as a
    rectangle. `down` is empty where only one direction was walked. Raises OurBug when the rows don't match.
    """
    if not expected or len(up) != len(expected) or len(down) not in {0, len(expected)} or tolerance <= 0:
        raise OurBug("marks need a tolerance and one reading a mark and direction")
    walked = [("rising", mark, read - mark) for mark, read in zip(expected, up, strict=True)]
    walked += [("falling", mark, read - mark) for mark, read in zip(expected, down, strict=bool(down))]
    direction, mark, error = max(walked, key=lambda each: abs(each[2]))
    hysteresis = max((abs(a - b) for a, b in zip(up, down, strict=bool(down))), default=None)
    u = scale_reading_u(float(readability))
    verdict = guarded(error, u, _within(tolerance, unit))
    step = Decimal(1).scaleb(readability.adjusted()) if readability else None
    back = "" if hysteresis is None else f"; rising and falling differ by {show(hysteresis, unit, step)} at most"
    sentence = (
        f"The worst of {len(expected)} marks is {show(error, unit, step)} off at {six(mark)} {direction}, "
        f"{_SIDE[verdict]} ± {show(tolerance, unit)}{back}; an eye reads it to ± {show(readability, unit)}."
    )
    low, high, outside = six(-tolerance), six(tolerance), abs(error) > tolerance
    return Judgement(verdict, sentence, six(error), unit, six(u), low, high, "scale", outside=outside)


def _within(tolerance: Decimal, unit: str) -> Limits:
    low, high = (Quantity(end, unit, tolerance, show(end, unit)) for end in (-tolerance, tolerance))
    return Limits(low, high, None, unit, f"± {high.text}")
