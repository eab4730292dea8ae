"""What does a judgement say: a verdict, the number behind it and one sentence that gives the reason?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

Verdict = Literal["pass", "fail", "in doubt", "not measured"]
Rule = Literal["guarded", "simple"]

RULES: Final[dict[str, str]] = {
    "guarded": "pass at a probability of conformity of 0.95 or more, so at most 5 % wrong at the limit; fail at 0.05 "
    "or less with the value outside the limit; in doubt between (JCGM 106)",
    "simple": "pass inside the limits, fail outside, the instrument's error not counted: up to half wrong at the limit",
    "by reference trials": "taps of a hand beside its own reference trials, looked at after 3, 5 and 8 trials: "
    "a unit at its limit passes at most 2.5 % of the time, for the simulated hands; under 0.2 s no number is given",
    "one-sided": "other paths in the circuit can only lower the reading: high proves a fault, low does not",
    "set": "the set of codes has to be exactly the expected one, and stay so",
    "each": "every item has to be right",
    "all of n": "every try has to succeed; one miss fails",
    "scale": "every mark within its tolerance in both directions, readability of the scale allowed for",
    "soak credit": "only time between two looks that passed counts, in time, with power shown to have stayed on",
    "class": "the class seen may not be worse than the class allowed",
}
"""The name that a judgement keeps of its rule, and the rule in words for papers."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """A verdict with its reason; numbers are decimal strings of six significant digits in the SI base unit.

    `value`, `u` (standard uncertainty), `low` and `high` are None where nothing was measured or there is no such limit.
    `outside` is True when what was observed lies outside its limits or is otherwise not clean, so that the bench asks
    for it to be typed once more before it is stored.
    """

    verdict: Verdict
    sentence: str
    value: str | None
    unit: str
    u: str | None
    low: str | None
    high: str | None
    rule: str
    outside: bool


_WORST_FIRST: Final[tuple[Verdict, ...]] = ("fail", "not measured", "in doubt", "pass")


def worst_of(judgements: Sequence[Judgement]) -> Judgement:
    """Return the judgement that decides for all: the first with the worst verdict, `outside` when any is.

    A fail is worst, because nothing that is still to be measured can undo it.
    """
    worst = min(judgements, key=lambda each: _WORST_FIRST.index(each.verdict))
    return replace(worst, outside=any(each.outside for each in judgements))


def judged_without_number(verdict: Verdict, sentence: str, rule: str) -> Judgement:
    """Return a judgement of something that has no number of its own, such as a set of codes."""
    return Judgement(verdict, sentence, None, "", None, None, None, rule, outside=verdict != "pass")


def judged_by_count(right: int, wanted: int, sentence: str, rule: str) -> Judgement:
    """Return a judgement of a number of things: pass when as many are right as are wanted."""
    verdict: Verdict = "pass" if right == wanted else "fail"
    return Judgement(verdict, sentence, str(right), "", None, str(wanted), str(wanted), rule, outside=verdict != "pass")
