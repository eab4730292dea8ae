"""Do the words of a sequence say what must be seen, so that two people would judge alike?"""

import re
from collections.abc import Iterator

from passcheck.sequence.finding import Finding, Loc, warning
from passcheck.sequence.model import Step
from passcheck.sequence.sheet import Sheet

_VAGUE = re.compile(
    r"\b(as required|as needed|if necessary|as usual|ok|okay|normal|normally|properly|correctly|satisfactory|acceptable"
    r"|works|fine|good)\b",
    re.IGNORECASE,
)


def expectations_are_seen(sheet: Sheet) -> Iterator[Finding]:
    """`OK` means something else to each who reads it."""
    for number, step in sheet.steps():
        for loc, text in _expectations(step):
            found = _VAGUE.search(text)
            if found:
                why = f"'{found.group()}' is not something that can be seen; write what shows it, or the value"
                yield warning(why, "steps", number, *loc)


def _expectations(step: Step) -> Iterator[tuple[Loc, str]]:
    """The texts of a step that say what must be observed."""
    match step.kind:
        case "response" | "presses":
            yield ("watch",), step.watch
        case "look":
            yield from ((("points", place), text) for place, text in enumerate(step.points))
        case "count":
            yield ("of",), step.of
        case "lamps":
            yield from ((("lamps", n, "shows"), lamp.shows) for n, lamp in enumerate(step.lamps) if lamp.shows)
        case _:
            return


RULES = (expectations_are_seen,)
