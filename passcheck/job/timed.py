"""Can this step be answered by taps of a hand, in which way, and beside which reference trials?"""

from dataclasses import dataclass
from typing import Literal

from passcheck.job.answers import TapPairsAnswer
from passcheck.job.doubt import doubts
from passcheck.job.events import Purpose
from passcheck.job.state import Job, Reference, Run
from passcheck.job.steps import steps_of
from passcheck.judge.hand_timed import SHORTEST_S
from passcheck.judge.limits import Limits
from passcheck.judge.rate_taps import tapped_every
from passcheck.judge.reference import serves
from passcheck.judge.response_judged import BY_REFERENCE, ONE_TRIAL_OVER_S
from passcheck.judge.response_taps import SHORTEST_LIMIT_S
from passcheck.sequence import model
from passcheck.sequence.model import Step

Way = Literal["by reference", "by hand", "in rows"]
FEWEST_MARKS = 3


@dataclass(frozen=True, slots=True)
class TimedStep:
    """A step that taps are to decide beside a block: its upper limit, and whether a hand alone left it in doubt."""

    step: str
    limit_s: float
    in_doubt_by_hand: bool = False


def way_of(job: Job, step: Step) -> Way | None:
    """How taps answer this step; None where only an instrument can, or nothing is timed.

    Under 1 s a hand needs reference trials; from there up its stated error will do, until that leaves a doubt.
    """
    if step.method == "instrument":
        return None
    match step:
        case model.ResponseStep():
            return _way(step.limits, in_doubt=_in_doubt_by_hand(job, step))
        case model.PressesStep():
            return None if step.limits is None or step.limits.low is not None else _way(step.limits, in_doubt=False)
        case model.SweepStep():
            both_end = step.up.high is not None and step.down.high is not None
            return "in rows" if both_end and step.marks >= FEWEST_MARKS else None
        case model.LampsStep(check="rate"):
            return "in rows" if step.limits is not None and tapped_every(step.limits) is not None else None
        case _:
            return None


def limit_s(step: Step) -> float | None:
    """The upper limit of a step that is answered by pairs of taps, in seconds."""
    limits = step.limits if isinstance(step, model.ResponseStep | model.PressesStep) else None
    return None if limits is None or limits.high is None else float(limits.high.value)


def timed_steps(job: Job, purpose: Purpose) -> tuple[TimedStep, ...]:
    """The steps of a run of this purpose that need reference trials, by what is known now."""
    found = []
    for step in steps_of(job, purpose):
        limit = limit_s(step)
        if limit is not None and way_of(job, step) == "by reference":
            found.append(TimedStep(step.id, limit, limit >= float(SHORTEST_S)))
    return tuple(found)


def reference_for(job: Job, run: Run, person: str, wanted_s: float, terminal: str) -> Reference | None:
    """The latest block that this person tapped in this run, on this terminal, with the limit among its delays."""
    for block in reversed(job.references):
        mine = block.run == run.number and block.by == person and block.facts.terminal == terminal
        if mine and serves(float(block.facts.middle_s), wanted_s):
            return block
    return None


def broken_off_words(job: Job, step: Step) -> str:
    """What is said where the taps of this step last came to nothing, or ""."""
    ended = max((one.line for one in job.attempts if one.step == step.id), default=-1)
    last = next((one for one in reversed(job.broken_off) if one.step == step.id and one.line > ended), None)
    return "" if last is None else f"Taps broken off ({last.broken_off}): void. They begin anew."


def _way(limits: Limits, *, in_doubt: bool) -> Way | None:
    low, high = limits.low, limits.high
    if high is None or float(high.value) < SHORTEST_LIMIT_S:
        return None
    if low is None and (high.value < SHORTEST_S or (in_doubt and high.value <= ONE_TRIAL_OVER_S)):
        return "by reference"
    ends = [end.value for end in (low, high) if end is not None]
    return "by hand" if min(ends) >= SHORTEST_S else None


def _in_doubt_by_hand(job: Job, step: Step) -> bool:
    return any(isinstance(a.answer, TapPairsAnswer) and a.judgement.rule != BY_REFERENCE for a in doubts(job, step))
