"""What do the repairs of units that were signed off confirm: which block was the fault, and which steps had shown it?

A repair is confirmed for a block when a step that the block reaches had failed before the rework, never failed after it
and stands as passed at the sign-off. A unit that left any other way confirms nothing, and neither does practice.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from passcheck.job.events import Action, ReworkLogged
from passcheck.job.staleness import reaches, stale_by
from passcheck.job.standing import counting, withdrawn
from passcheck.job.state import Attempt, Change, Job
from passcheck.sequence.model import Step

MENDING: Final[frozenset[Action]] = frozenset({"replaced", "reflowed", "cleaned", "adjusted", "jumper", "firmware"})
"""What takes a fault away. The other actions look for it or undo a trial, and confirm nothing of their own."""


@dataclass(frozen=True, slots=True)
class Repair:
    """One block that was the fault of one unit.

    `tried` are the steps that were walked while the fault was there, `failed` those of them that showed it. A step that
    failed for some other fault is in neither, and one that wasn't walked says nothing.
    """

    block: str
    revision: int
    failed: frozenset[str]
    tried: frozenset[str]


@dataclass(frozen=True, slots=True)
class Confirmed:
    """What signed-off units of one board type confirm; `jobs` counts them, with or without a repair."""

    sequence: str
    jobs: int = 0
    repairs: tuple[Repair, ...] = ()

    def repairs_of(self, block: str) -> int:
        """How many units had their fault in this block."""
        return sum(repair.block == block for repair in self.repairs)

    def shown(self, block: str, step: str, since: int = 0) -> tuple[int, int]:
        """In how many repairs of the block the step had failed, and in how many it had been walked.

        Repairs under a revision before `since` don't count: the step was another one then.
        """
        of_block = [one for one in self.repairs if one.block == block and one.revision >= since]
        return sum(step in one.failed for one in of_block), sum(step in one.tried for one in of_block)


def confirmed_by(job: Job) -> Confirmed:
    """What this job confirms: at most one repair a block, however many entries its rework took.

    Where several blocks were reworked before the unit was tested again, each that reaches the step counts: nothing in
    the journal tells which of them it was.
    """
    name = job.sequence.sequence
    if job.ended != "signed off" or job.facts.practice:
        return Confirmed(name)
    found: dict[str, Repair] = {}
    for change, rework in _mended(job):
        for block in rework.blocks:
            repair = _repair(job, replace(change, blocks=(block,)), block)
            if repair is not None:
                found[block] = _joined(found[block], repair) if block in found else repair
    return Confirmed(name, 1, tuple(found.values()))


def together(sequence: str, each: Iterable[Confirmed]) -> Confirmed:
    """Sum what many jobs confirm of one board type; what is said of another board is left out."""
    of_board = [one for one in each if one.sequence == sequence]
    repairs = tuple(repair for one in of_board for repair in one.repairs)
    return Confirmed(sequence, sum(one.jobs for one in of_board), repairs)


def _mended(job: Job) -> Iterable[tuple[Change, ReworkLogged]]:
    """The reworks that took something away, with their place in the journal."""
    by_number = {rework.rework: rework for rework in job.reworks}
    for change in job.changes:
        rework = by_number.get(change.number) if change.kind == "rework" else None
        if rework is not None and rework.action in MENDING:
            yield change, rework


def _repair(job: Job, change: Change, block: str) -> Repair | None:
    """What one block of a rework mended, or None where nothing shows that it was the fault."""
    before = [one for one in job.attempts if _stood_at(job, one, change)]
    failed = {one.step for one in before if one.judgement.verdict == "fail"}
    steps = (step for step in job.sequence.steps if step.id in failed and step.role not in ("arrival", "final"))
    mended = frozenset(step.id for step in steps if reaches(job, change, step) and _passes_since(job, change, step))
    if not mended:
        return None
    passed = {one.step for one in before if one.judgement.verdict == "pass"} - failed
    return Repair(block, job.sequence.revision, mended, mended | passed)


def _stood_at(job: Job, attempt: Attempt, change: Change) -> bool:
    """Was this a result of the unit as it was just before that rework?"""
    if attempt.line > change.line or attempt.purpose == "good-unit" or withdrawn(attempt):
        return False
    spoiled = stale_by(job, attempt)
    return spoiled is None or spoiled.line >= change.line


def _passes_since(job: Job, change: Change, step: Step) -> bool:
    counts = counting(job, step)
    if counts is None or counts.judgement.verdict != "pass" or counts.line < change.line:
        return False
    later = (one for one in job.attempts if one.step == step.id and one.line > change.line and not withdrawn(one))
    return all(one.judgement.verdict != "fail" or one.purpose == "good-unit" for one in later)


def _joined(one: Repair, other: Repair) -> Repair:
    return replace(one, failed=one.failed | other.failed, tried=one.tried | other.tried)
