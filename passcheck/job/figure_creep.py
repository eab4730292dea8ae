"""Which margins shrink or grow over the months, by more than chance among so many steps explains?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.job.counts import MonthMargins
from passcheck.job.figure_months import month_number
from passcheck.job.figure_words import LEVEL
from passcheck.judge.rounding import rounded
from passcheck.judge.weighted_line import WeightedLine, weighted_line

FEWEST_MONTHS: Final = 6
FEWEST_UNITS: Final = 3
"""In each of these months."""

Step = tuple[str, str]
"""A board and one of its steps."""


@dataclass(frozen=True, slots=True)
class Creep:
    """What the months of one step say: a word for the table, and a sentence, "" where no trend is shown."""

    word: str
    sentence: str


def creeps(steps: Mapping[Step, Sequence[MonthMargins]]) -> dict[Step, Creep]:
    """A statement for each step that has enough months; the others have none.

    A month's mean is weighted by its units, and the scatter is taken from the months themselves, so that what moves
    all units of a month together (a meter, a batch of parts) counts as scatter too.
    """
    enough = {key: [one for one in months if one.units >= FEWEST_UNITS] for key, months in steps.items()}
    lines = {key: _line(months) for key, months in enough.items() if len(months) >= FEWEST_MONTHS}
    return {key: _creep(line, len(lines), len(enough[key])) for key, line in lines.items()}


def _line(months: Sequence[MonthMargins]) -> WeightedLine:
    return weighted_line(
        [month_number(one.month) for one in months], [one.mean for one in months], [one.units for one in months]
    )


def _creep(line: WeightedLine, among: int, months: int) -> Creep:
    half = line.half_width(LEVEL, among)
    if abs(line.slope) <= half:
        return Creep("none", "")
    low, high = sorted(abs(line.slope + sign * half) for sign in (-1, 1))
    where = "toward the limit" if line.slope < 0 else "away from the limit"
    each = rounded(100 * abs(line.slope), 2)
    between = f"{rounded(100 * low, 2)} to {rounded(100 * high, 2)}"
    word = f"{'-' if line.slope < 0 else '+'}{each}"
    said = f"the margin creeps {where} by {each} percentage points a month ({between}), over {months} months."
    return Creep(word, said)
