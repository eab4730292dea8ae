"""Does a job's file bear out what a screen acknowledged, and what it showed last?"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from passcheck.job.fold import ReadSequence, evolve, fold
from passcheck.job.journal_line import Line
from passcheck.job.plan import plan
from passcheck.job.replay import recorded
from passcheck.job.state import Job

HEAD: Final = re.compile(r"^ JOB (\S+)  \S+ rev \d+  unit (\S+)  (?:run (\d+) |no run open|ended: (.+?)(?:  |$))")
LEFT: Final = re.compile(r"^▌ step \d+ of \d+   (\d+) left, ")
RESULT: Final = re.compile(r"^ [ ▀▄█]{16,} +(\w[^:▌▐]*): ([^▌▐]+)$")
"""The first row of a result: a big word, the step's title, the sentence as far as it goes in that row."""


@dataclass(frozen=True, slots=True)
class Claim:
    """The screen acknowledged something: at least `count` lines of the job hold this event with these facts."""

    event: str
    facts: Mapping[str, object] = field(default_factory=dict)
    count: int = 1

    def __str__(self) -> str:
        """As a report says it."""
        facts = ", ".join(f"{name} {value!s:.60}" for name, value in self.facts.items())
        return f"{self.count} x '{self.event}' with {facts or 'anything'}"

    def among(self, lines: Sequence[Line]) -> int:
        """How many of the lines hold such an event."""
        return sum(
            line.event == self.event and all(line.data.get(name) == value for name, value in self.facts.items())
            for line in lines
        )


def missing(claims: Sequence[Claim], lines: Sequence[Line]) -> tuple[str, ...]:
    """Each acknowledgement that the lines don't bear out."""
    return tuple(f"acknowledged, and not there: {one}" for one in claims if one.among(lines) < one.count)


def ahead(rows: Sequence[str], lines: Sequence[Line], read_sequence: ReadSequence) -> tuple[str, ...]:
    """What the screen of a job shows that no state bears out through which its file went, as sentences.

    A screen may be behind its file, and one part of it further than another. So each fact is looked for by itself, and
    in every state that the job ever had.
    """
    states = list(states_of(lines, read_sequence))
    return (*_head(rows, states), *_left(rows, states), *_result(rows, states))


def states_of(lines: Sequence[Line], read_sequence: ReadSequence) -> Iterator[Job]:
    """The job after its first line, its second, and so on."""
    job: Job | None = None
    for one in recorded(lines):
        job = fold((one,), read_sequence) if job is None else evolve(job, one, read_sequence)
        yield job


def _head(rows: Sequence[str], states: Sequence[Job]) -> Iterator[str]:
    """Job, unit, run and end, from the head that stands on every screen of a job."""
    shown = next((found for row in rows if (found := HEAD.match(row)) is not None), None)
    if shown is None:
        return
    job, serial, run, ended = shown.groups()
    facts = {(one.id, one.serial) for one in states}
    if (job, serial) not in facts:
        yield f"the screen shows job {job}, unit {serial}; the file has {sorted(facts)}"
    if run is not None and int(run) not in {one.open_run.number for one in states if one.open_run is not None}:
        yield f"the screen shows run {run}, and the file has no such run"
    if ended is not None and ended not in {one.ended for one in states}:
        yield f"the screen shows that the job ended: {ended}; the file doesn't"


def _left(rows: Sequence[str], states: Sequence[Job]) -> Iterator[str]:
    """How many steps are still to walk."""
    shown = next((int(found[1]) for row in rows if (found := LEFT.match(row)) is not None), None)
    if shown is not None and shown not in {len(plan(one)) for one in states if one.open_run is not None}:
        yield f"the screen shows {shown} steps left, and the file never had so many to walk"


def _result(rows: Sequence[str], states: Sequence[Job]) -> Iterator[str]:
    """The last verdict's sentence."""
    shown = result_shown(rows)
    if shown is None:
        return
    title, words = shown
    kept = (
        one.judgement.sentence
        for last in states[-1:]
        for one in last.attempts
        if last.sequence.step(one.step).title == title
    )
    if not any(" ".join(sentence.split()).startswith(words) for sentence in kept):
        yield f"the screen shows '{title}: {words}', and no attempt of the file says so"


def result_shown(rows: Sequence[str]) -> tuple[str, str] | None:
    """The step's title and the beginning of the sentence that a result shows; None where none is shown."""
    return next(((found[1], found[2].strip()) for row in rows if (found := RESULT.match(row)) is not None), None)
