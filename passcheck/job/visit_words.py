"""What does somebody at the bench need to know of a unit's earlier visits at one glance?"""

import re
from collections.abc import Iterator
from typing import Final

from passcheck.job.before_after import NO_CHANGE
from passcheck.job.time_away import RELEASED
from passcheck.job.visits import ToldVisit, UnitHistory, reworked
from passcheck.judge.rounding import counted

NONE_ON_RECORD: Final = "No visit of this unit is on record."
SHORTEST_WORD: Final = 4
MOST_WORDS: Final = 6
_COMMON: Final = frozenset(
    re.findall(
        r"\w+",
        "about after again also been before does from have into just more only over same some still that their them "
        "then there they this very were what when where which while will with would your",
    )
)
"""English words that two complaints share without being about the same thing."""


def ordinal(number: int) -> str:
    """`1st`, `2nd`, `3rd`, `11th`."""
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th") if number % 100 not in (11, 12, 13) else "th"
    return f"{number}{ending}"


def headline(history: UnitHistory) -> str:
    """Some sentences: which visit this is, when the unit left last, what was touched then, what reads otherwise now."""
    if not history.visits:
        return NONE_ON_RECORD
    *earlier, last = history.visits
    return " ".join(_here(history, earlier, last) if not last.visit.job.ended else _gone(history, last))


def same_words(history: UnitHistory) -> tuple[str, ...]:
    """Words of the latest complaint that an earlier one has too, as they are written in the latest."""
    if not history.visits:
        return ()
    *earlier, last = (one.visit.job.complaint for one in history.visits)
    known = {word.casefold() for complaint in earlier for word in _words(complaint)}
    shared = {word.casefold(): word for word in reversed(_words(last)) if word.casefold() in known - _COMMON}
    return tuple(reversed(shared.values()))


def _words(complaint: str) -> list[str]:
    return [word for word in re.findall(r"\w+", complaint) if len(word) >= SHORTEST_WORD]


def _here(history: UnitHistory, earlier: list[ToldVisit], last: ToldVisit) -> Iterator[str]:
    yield f"{ordinal(last.place)} visit, {history.now_words}."
    if not earlier or last.away is None:
        return
    job = earlier[-1].visit.job
    if job.ended:
        how = "released" if job.ended == RELEASED else job.ended
        yield f"Last {how} {job.ended_at[:10]} ({job.job}), {last.away.words.partition(';')[0]}."
    else:
        yield f"{last.away.words}."
    yield _touched_then(earlier[-1])
    if reworked(last.visit) or "not reproduced" in last.finding:
        yield f"Now {last.finding}."
    yield from _changed(history)
    shared = same_words(history)
    if shared:
        more = f" and {len(shared) - MOST_WORDS} more" if len(shared) > MOST_WORDS else ""
        yield f"Same complaint words: {', '.join(shared[:MOST_WORDS])}{more}."


def _gone(history: UnitHistory, last: ToldVisit) -> Iterator[str]:
    count = len(history.visits)
    yield f"{count} visit{'s' if count > 1 else ''}."
    job = last.visit.job
    yield f"{job.job}: {history.now_words} ({job.ended_at[:10]})."
    yield _touched_then(last)


def _touched_then(told: ToldVisit) -> str:
    blocks = dict.fromkeys(one.block for one in told.visit.touched if one.block)
    return f"Touched then: {', '.join(blocks)}." if blocks else "Nothing was reworked then."


def _changed(history: UnitHistory) -> Iterator[str]:
    """How many readings changed since the unit left, the one that changed most beyond its uncertainty named."""
    compared = [(step.title, since) for step in history.steps if (since := step.visits[-1].since) is not None]
    known = [(title, one.change) for title, one in compared if one.change is not None]
    changed = [(title, change) for title, change in known if change.changed]
    if not known:
        return
    if not changed:
        yield f"{counted(len(known), 'reading')} compared with how it left: {NO_CHANGE}."
        return
    title, most = max(changed, key=lambda one: abs(float(one[1].value)) / one[1].within)
    first = "most " if len(changed) > 1 else ""
    yield f"{len(changed)} of {counted(len(known), 'reading')} changed since it left, {first}{title}: {most.figures}."
