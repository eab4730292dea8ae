"""Which points are open on a unit that goes back repaired in part, and what was last seen of each?

What failed or stayed in doubt comes first, with all that was seen. What passed before the work and was not tried since
is a list; what was never walked is named.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.job.attempts_table import limits_words
from passcheck.job.before_after import stamped
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import made_at, unexplained, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import present
from passcheck.report.bounded import MORE, listed
from passcheck.report.document import Cell, Column, Heading, Part, Table, Words
from passcheck.report.how_many import many
from passcheck.report.readings import COLUMNS, Row, reading_row
from passcheck.sequence.model import Step

NONE_FAILED: Final = "No open point failed or stayed in doubt when it was last tried."
SINCE, AS_LEFT = "Passed, and not tried again since", "Passed as found, not walked as left"
NEVER: Final = "Not walked at all"
NO_FIGURE, NO_FIGURES = "Without a figure", "Passed then, without a figure"
EARLIER: Final = (Column("Step", 3), Column("Then", 1.8), Column("Limits", 2))
GONE: Final = "no step of this title is in the sequence now"
ROWS: Final = 60
NAMED, NAMES_ROOM = 40, 900


@dataclass(frozen=True, slots=True)
class _Point:
    """A title of the record, its step if the sequence still has it, and its latest try, if any."""

    title: str
    step: Step | None
    last: tuple[Attempt, ...]


def open_points(job: Job, points: Sequence[str]) -> tuple[Part, ...]:
    """Each point of the record, once."""
    every = tuple(_found(job, points))
    seen = [(one.step, one.last) for one in every if one.step is not None and one.last]
    speaks = tuple(open_row(job, step) for step, last in seen if not _only_untried(job, step, last[-1]))
    gone: tuple[Row, ...] = tuple((one.title, Cell(GONE), "", "") for one in every if one.step is None)
    untried = [(step, last[-1]) for step, last in seen if _only_untried(job, step, last[-1])]
    first: Part = Table(COLUMNS, (*speaks, *gone)) if speaks or gone else Words(NONE_FAILED)
    return (Heading("Points that are open"), first, *_earlier(job, untried), *_never(every))


def open_row(job: Job, step: Step) -> Row:
    """What was last seen, and why it doesn't stand where that was no fail."""
    last = last_seen(job, step)
    title, shown, *others = reading_row(job, step, last)
    why = _why_open(job, step, last[-1]) if last else ""
    return (title, Cell(f"{shown.text}. {why}", strong=True) if isinstance(shown, Cell) and why else shown, *others)


def last_seen(job: Job, step: Step) -> tuple[Attempt, ...]:
    """The latest try of this unit that nobody withdrew, whatever has made it worthless since."""
    made = [one for one in made_at(job, step.id) if one.purpose != "good-unit" and not withdrawn(one)]
    return tuple(made[-1:])


def _found(job: Job, points: Sequence[str]) -> Iterator[_Point]:
    """The points with their steps; titles may be alike, so each step is taken once."""
    steps = list(present(job))
    for title in points:
        step = next((one for one in steps if one.title == title), None)
        if step is not None:
            steps.remove(step)
        yield _Point(title, step, last_seen(job, step) if step is not None else ())


def _only_untried(job: Job, step: Step, last: Attempt) -> bool:
    """It passed when it was last tried, and nothing else stands against it than that this counts no more."""
    if last.judgement.verdict != "pass":
        return False
    return stale_by(job, last) is not None or not _in_question(job, step)


def _in_question(job: Job, step: Step) -> bool:
    question = unexplained(job, step)
    return question is not None and not question.explained


def _why_open(job: Job, step: Step, last: Attempt) -> str:
    if (change := stale_by(job, last)) is not None:
        return f"Worth nothing since {call(change)}"
    question = unexplained(job, step)
    if last.judgement.verdict == "pass" and question is not None and not question.explained:
        return f"It failed {question.fails} of {question.tries} times before, and no cause was shown"
    return ""


def _earlier(job: Job, untried: Sequence[tuple[Step, Attempt]]) -> Iterator[Part]:
    """What passed when it was last tried: by what has made it worthless, or in a run that doesn't count."""
    lists: dict[str, list[tuple[Step, Attempt]]] = {}
    for step, last in untried:
        change = stale_by(job, last)
        lists.setdefault(AS_LEFT if change is None else f"{SINCE} {call(change)}", []).append((step, last))
    for title, these in lists.items():
        yield Heading(f"{title} ({many(len(these), 'step')})", 2)
        yield from _briefly(these)


def _briefly(these: Sequence[tuple[Step, Attempt]]) -> Iterator[Part]:
    """A row for each figure; steps without one are named."""
    rows = [(step.title, stamped(last), limits_words(last.judgement, step)) for step, last in these if _figure(last)]
    names = [step.title for step, last in these if not _figure(last)]
    if rows:
        yield Table(EARLIER, tuple(rows[:ROWS]))
    if len(rows) > ROWS:
        yield Words(f"And {len(rows) - ROWS} more, {MORE}.", "small")
    if names:
        yield Words(f"{NO_FIGURE if rows else NO_FIGURES}: {listed(names, NAMED, NAMES_ROOM)}.")


def _figure(attempt: Attempt) -> bool:
    return bool(attempt.judgement.unit)


def _never(every: Sequence[_Point]) -> tuple[Part, ...]:
    titles = [one.title for one in every if one.step is not None and not one.last]
    if not titles:
        return ()
    heading = Heading(f"{NEVER} ({many(len(titles), 'step')})", 2)
    return (heading, Words(f"{listed(titles, NAMED, NAMES_ROOM)}."))
