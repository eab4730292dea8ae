"""Which rules of the trade does a sequence break?

The list of all rules, by theme. Each is a function from a sheet to its findings; its sentence carries the trade's
reason.
"""

from collections.abc import Callable, Iterator

from passcheck.sequence import (
    rules_hazard,
    rules_limit,
    rules_order,
    rules_power,
    rules_soak,
    rules_time,
    rules_unit,
    rules_word,
)
from passcheck.sequence.finding import Finding
from passcheck.sequence.sheet import Sheet

Rule = Callable[[Sheet], Iterator[Finding]]

RULES: tuple[Rule, ...] = (
    *rules_unit.RULES,
    *rules_limit.RULES,
    *rules_time.RULES,
    *rules_power.RULES,
    *rules_hazard.RULES,
    *rules_order.RULES,
    *rules_soak.RULES,
    *rules_word.RULES,
)


def findings(sheet: Sheet) -> Iterator[Finding]:
    """Every finding of every rule."""
    for rule in RULES:
        yield from rule(sheet)
