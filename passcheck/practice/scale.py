"""Where do the marks of a gauge stand along its arc?"""

from collections.abc import Iterable
from dataclasses import dataclass

from passcheck.sequence.model import Mark, MarksStep, Step


@dataclass(frozen=True, slots=True)
class Scale:
    """A gauge's marks as shares of its arc.

    Attributes:
        first: what the lower end of the arc stands for, in the marks' own unit.
        span: from there to the upper end.
        marks: where each mark stands, from 0 to 1, and its text.
    """

    first: float
    span: float
    marks: tuple[tuple[float, str], ...]

    def share(self, value: float) -> float:
        """Where a value stands; outside 0 to 1 beyond the ends."""
        return (value - self.first) / self.span


def scale_of(step: MarksStep, steps: Iterable[Step]) -> Scale:
    """The scale of the step's gauge, from whichever of the steps walks most of its marks."""
    same = [one.marks for one in steps if isinstance(one, MarksStep) and one.gauge == step.gauge]
    longest = max((step.marks, *same), key=len)
    marks = sorted(longest, key=lambda mark: mark.value.value)
    low, high = _value(marks[0]), _value(marks[-1])
    span = high - low if high != low else 4 * float(step.tolerance.value)
    first = low if high != low else low - span / 2  # a lone mark stands in the middle
    return Scale(first, span, tuple(((_value(mark) - first) / span, mark.mark) for mark in marks))


def _value(mark: Mark) -> float:
    return float(mark.value.value)
