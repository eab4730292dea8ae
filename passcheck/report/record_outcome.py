"""Is this a release, and if it is none, why not?

The first thing on the paper. Only a signed-off job was released; an open one and a returned one say plainly that they
are no release.
"""

from collections import Counter
from typing import assert_never

from passcheck.job.events import ReturnedInPart, ReturnedUnrepaired, SignedOff
from passcheck.job.fixed_words import NOT_A_RELEASE
from passcheck.job.gate import blockers
from passcheck.job.standing import counted, passes_standing
from passcheck.job.state import Job
from passcheck.judge.rounding import counted as number_of
from passcheck.report.document import Column, Facts, Heading, Outcome, Part, Table, Words
from passcheck.report.on_every_paper import local, person
from passcheck.report.source import Source

AGAINST = "What stands against a release"
STANDS = {
    "pass": "passed, which doesn't count yet",
    "fail": "failed",
    "in doubt": "in doubt",
    "not measured": "not measured",
}
NOTHING_COUNTS = "with nothing that counts"


def outcome(job: Job, source: Source) -> tuple[Part, ...]:
    """One word, what it means, who said it, and how many steps stand as passed."""
    return (*_ended(job, source), Words(how_many(job)))


def against(job: Job, source: Source) -> tuple[Part, ...]:
    """Each reason against a release, with the act that lifts it; nothing once the job has ended."""
    if job.ended is not None:
        return ()
    found = blockers(job, source.outside, job.last)
    if not found:
        return Heading(AGAINST), Words("Nothing recorded stands against one. Nobody has signed.")
    rows = tuple((one.sentence, one.lift) for one in found)
    return Heading(AGAINST), Table((Column("What stands against it", 3), Column("What lifts it", 2)), rows)


def refused(job: Job, _source: Source) -> tuple[Part, ...]:
    """What stood against the sign-off when it was asked for and refused."""
    if not job.refused:
        return ()
    words = "A sign-off was asked for and refused. When it was last refused, this stood against it:"
    return Heading("Refused sign-off"), Words(words), *(Words(f"· {one}") for one in job.refused)


def how_many(job: Job) -> str:
    """How many of the steps that a release needs stand as passed, and how the others stand."""
    needed = counted(job)
    passed = sum(passes_standing(job, step) for step, _attempt in needed)
    others = Counter(
        NOTHING_COUNTS if attempt is None else STANDS[attempt.judgement.verdict]
        for step, attempt in needed
        if not passes_standing(job, step)
    )
    rest = "".join(f"; {count} {word}" for word, count in others.items())
    return f"{passed} of {number_of(len(needed), 'step')} that a release needs stand as passed as left{rest}."


def _ended(job: Job, source: Source) -> tuple[Part, ...]:
    ending = job.left
    match ending:
        case None:
            return (_open(job, source),)
        case SignedOff():
            return Outcome("RELEASED", ending.meaning, good=True), _signed(job, source, ending)
        case ReturnedUnrepaired():
            return _unrepaired(job, source, ending)
        case ReturnedInPart():
            return _in_part(job, source, ending)
        case _:
            assert_never(ending)


def _open(job: Job, source: Source) -> Outcome:
    found = blockers(job, source.outside, job.last)
    if not found:
        return Outcome("OPEN", f"{NOT_A_RELEASE} The job is open: nobody has signed.", good=False)
    many = "1 thing stands" if len(found) == 1 else f"{len(found)} things stand"
    first = f"The first: {found[0].sentence} All are listed under '{AGAINST}'."
    return Outcome("OPEN", f"{NOT_A_RELEASE} The job is open, and {many} against one. {first}", good=False)


def _signed(job: Job, source: Source, ending: SignedOff) -> Facts:
    second = (("Second person", person(ending.second, source)),) if ending.second else ()
    return Facts((*_who("Released by", job, source), *second, ("Serial read at the door", ending.serial_scanned)))


def _unrepaired(job: Job, source: Source, ending: ReturnedUnrepaired) -> tuple[Part, ...]:
    words = f"{NOT_A_RELEASE} The unit went back without passing, for the reason below."
    return (
        Outcome("RETURNED UNREPAIRED", words, good=False),
        Words(ending.reason, "quote"),
        Facts(_who("Returned by", job, source)),
    )


def _in_part(job: Job, source: Source, ending: ReturnedInPart) -> tuple[Part, ...]:
    points = number_of(len(ending.points), "point")
    words = f"{NOT_A_RELEASE} By its owner's choice the unit went back with {points} open, named below."
    return (
        Outcome("RETURNED REPAIRED IN PART", words, good=False),
        Facts(tuple(("Open point", point) for point in ending.points)),
        Words("What the owner agreed to:", "small"),
        Words(ending.agreed, "quote"),
        Facts(_who("Returned by", job, source)),
    )


def _who(name: str, job: Job, source: Source) -> tuple[tuple[str, str], ...]:
    """The ending is the journal's last line: nothing follows it."""
    who = "nobody named" if job.ended_by is None else person(job.ended_by, source)
    return (name, who), ("When", local(job.last))
