"""Does the pointer stand at its marks from both directions?"""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from passcheck.errors import OurBug
from passcheck.judge.conformity import guarded
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.linearity import scale_reading_u
from passcheck.judge.quantity import Quantity, show, show_limit, six

_SIDE: Final = {"pass": "inside", "fail": "outside", "in doubt": "too close to the limits of"}


def judge_marks(
    expected: Sequence[Decimal],
    up: Sequence[Decimal],
    down: Sequence[Decimal],
    tolerance: Decimal,
    readability: Decimal,
    unit: str,
    names: Sequence[str] = (),
) -> Judgement:
    """Judge pointer positions at cardinal marks, all in the scale's own unit; the worst error decides.

    `names` are what stands at the marks on the scale, such as `½`; empty where nothing does. `readability` is the
    half-width within which an eye can read the scale, a fifth of a division or so; it counts as a rectangle. `down` is
    empty where only one direction was walked. Raises OurBug when the rows don't match.
    """
    wanted = len(expected)
    matching = len(up) == wanted and len(down) in {0, wanted} and len(names) in {0, wanted}
    if not expected or not matching or tolerance <= 0:
        raise OurBug("marks need a tolerance and one reading a mark and direction")
    marks = [called(mark, unit, name) for mark, name in zip(expected, names or ("",) * wanted, strict=True)]
    place, error = _worst(marks, expected, up, down)
    hysteresis = max((abs(a - b) for a, b in zip(up, down, strict=bool(down))), default=None)
    u = scale_reading_u(float(readability))
    verdict = guarded(error, u, _within(tolerance, unit))
    step = Decimal(1).scaleb(readability.adjusted()) if readability else None
    back = "" if hysteresis is None else f"; rising and falling differ by {show(hysteresis, unit, step)} at most"
    subject = f"The worst of {wanted} marks" if wanted > 1 else "The one mark"
    sentence = (
        f"{subject} is {show(error, unit, step)} off at {place}, "
        f"{_SIDE[verdict]} ± {show(tolerance, unit)}{back}; an eye reads it to ± {show(readability, unit)}."
    )
    low, high, outside = six(-tolerance), six(tolerance), abs(error) > tolerance
    return Judgement(verdict, sentence, six(error), unit, six(u), low, high, "scale", outside=outside)


def _worst(
    marks: Sequence[str], expected: Sequence[Decimal], up: Sequence[Decimal], down: Sequence[Decimal]
) -> tuple[str, Decimal]:
    """Where the pointer stands farthest off, in words, and by how much."""
    walked = [("rising", up), *([("falling", down)] if down else [])]
    errors = [
        (f"{mark} {direction}", read - asked)
        for direction, row in walked
        for mark, asked, read in zip(marks, expected, row, strict=True)
    ]
    return max(errors, key=lambda each: abs(each[1]))


def called(mark: Decimal, unit: str, name: str = "") -> str:
    """What a mark is called: `1500 rpm`, or `½ (50 %)` where more stands at it than its own number."""
    value = show_limit(mark, unit)
    return f"{name} ({value})" if name and name not in {value, value.split()[0], six(mark)} else value


def _within(tolerance: Decimal, unit: str) -> Limits:
    low, high = (Quantity(end, unit, tolerance, show(end, unit)) for end in (-tolerance, tolerance))
    return Limits(low, high, None, unit, f"± {high.text}")
