"""Did a sealed job deserve its ending, or does its own journal speak against it?

Hashes and the ledger show that a journal is what was written, and by them a sign-off that somebody wrote past the gate
is as good as any. So the events before the seal are folded once more, and the gate that the screens ask is asked at the
moment of the seal (`job.deserved`).

What it finds is no alteration, so it leaves the standing alone. A crash leaves the first few of the lines that were to
be written, and none leads there. A sign-off by an older version may: rules were added to the gate, and a pass that an
older one let through can be one that today's refuses. And a line keeps no offset of its own, so that an instrument read
about midnight on its last day, by a program that had run on through the change of summer time, may seem overdue. Such
records are what they always were, and whoever reads them has to be told all the same that nobody would let the unit go
on them today.

Nothing is said against a journal that this version can't walk, because a later one wrote it or because its sequence is
none here: that it was not walked is said instead. A journal that can be read to its last line and still makes no job is
another matter: the bench folds what it writes before it writes it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from passcheck.errors import FileFault
from passcheck.job.blocker import Blocker
from passcheck.job.deserved import against_ending
from passcheck.job.events import JobOpened, Resumed, SequenceRevised, Unrecognised
from passcheck.job.fold import ReadSequence, fold
from passcheck.job.replay import recorded
from passcheck.job.standing import made_at
from passcheck.job.state import Attempt, Job, Recorded
from passcheck.records.agreement import Kept, line_at

NO_JOB = (FileFault, LookupError, StopIteration, ValueError, ArithmeticError)
"""What the core says of events that can't follow one another; `bench` never writes such, others may."""
_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Walked:
    """What came of walking a job once more."""

    against: tuple[str, ...] = ()
    """What stood against its ending, one sentence each, with file, line and what to do."""
    not_walked: str = ""
    """Why nothing can be said, as a sentence; empty where it was walked."""
    tool: str = ""
    """The program that ended it, by the journal's word."""


@dataclass(slots=True)
class _Reading:
    """Events on their way into the fold, and how far they came."""

    events: Sequence[Recorded]
    number: int = field(default=0, init=False)

    def __iter__(self) -> Iterator[Recorded]:
        for one in self.events:
            self.number = one.number
            yield one


def walk_again(kept: Kept, read_sequence: ReadSequence) -> Walked | None:
    """Ask the gate once more; None for a journal that nothing seals.

    Args:
        kept: a journal that holds, line by line.
        read_sequence: turns a sequence's text into the model.
    """
    if not kept.file.sealed:
        return None
    seal = kept.file.lines[-1]
    where = f"{kept.name}, line {line_at(kept.data, kept.file.ends[-1])}: {seal.event} by {seal.by[:_SHOWN]}"
    try:
        events = tuple(recorded(kept.file.lines))
    except FileFault as fault:
        return Walked(not_walked=_not_walked(kept.name, str(fault)))
    except NO_JOB:
        return Walked((f"{where}, and a line before it has a date that no clock wrote. {_ask(seal.by)}",))
    if (why := _unreadable(events, read_sequence)) is not None:
        return Walked(not_walked=_not_walked(kept.name, why))
    reading, ended_by = _Reading(events[:-1]), _tool(events)
    try:
        job = fold(reading, read_sequence)
        reading.number = events[-1].number
        found = against_ending(job, events[-1])
    except NO_JOB:
        line = line_at(kept.data, kept.file.ends[reading.number])
        return Walked((f"{where}, and line {line} can't follow on those before it. {_ask(seal.by)}",), tool=ended_by)
    failed_first = sorted(found, key=lambda one: _verdict(_last_try(job, one)) != "fail")
    against = (f"{where} although this stood against it: {_told(job, one)} {_ask(seal.by)}" for one in failed_first)
    return Walked(tuple(against), tool=ended_by)


def _unreadable(events: Sequence[Recorded], read_sequence: ReadSequence) -> str | None:
    """Why this version can't walk these events, though another may."""
    for one in events:
        match one.event:
            case Unrecognised(tag=tag):
                return f"it holds {tag[:_SHOWN]!a}, which this version doesn't know"
            case JobOpened(sequence_text=text) | SequenceRevised(sequence_text=text):
                try:
                    read_sequence(text)
                except FileFault:
                    return "the sequence that it keeps can't be read by this version"
    return None


def _not_walked(name: str, why: str) -> str:
    return f"{name}: not walked through the gate again: {why}. Ask the version of passcheck that wrote it."


def _told(job: Job, blocker: Blocker) -> str:
    """A blocker with the try that came last, where it is about a step."""
    last = _last_try(job, blocker)
    if last is None:
        return blocker.sentence
    return f"{blocker.sentence.removesuffix('.')} (last try: attempt {last.number}, {_verdict(last)})."


def _last_try(job: Job, blocker: Blocker) -> Attempt | None:
    made = made_at(job, blocker.step) if blocker.step is not None else ()
    return made[-1] if made else None


def _verdict(attempt: Attempt | None) -> str:
    return attempt.judgement.verdict if attempt is not None else ""


def _ask(by: str) -> str:
    return f"Ask {by[:_SHOWN]} how it came about; have the unit back, and walk it as a new job."


def _tool(events: Sequence[Recorded]) -> str:
    return next((one.event.tool for one in reversed(events) if isinstance(one.event, JobOpened | Resumed)), "")
