"""Which instrument does the robot technician take up: the least that will do, and after doubts a clearly better one?"""

from decimal import Decimal

from passcheck.job.commands import Refusal
from passcheck.job.doubt import BETTER, TRIES, measured_with
from passcheck.job.instruments import instrument_for
from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.job.state import Attempt as Tried
from passcheck.judge.accuracy import standard_uncertainty
from passcheck.practice.at_work import AtWork
from passcheck.sequence.model import Step


def instruments_for(work: AtWork) -> tuple[tuple[str, str], ...]:
    """Each role that a step names, and the last on the bench's list that will do for it."""
    roles = dict.fromkeys(
        role for step in work.job.sequence.steps if needs_accuracy(step) and (role := instrument_role(step)) is not None
    )
    able = ((role, _able(work, role)) for role in roles)
    return tuple((role, names[-1]) for role, names in able if names)  # the handheld one; better ones stand before it


def _able(work: AtWork, role: str) -> tuple[str, ...]:
    outside = work.bench.outside()
    names = outside.settings.filling(role, work.bench.moment().local().date())
    return tuple(name for name in names if not isinstance(instrument_for(work.job, role, name, outside), Refusal))


def used_up(held: tuple[Tried, ...]) -> bool:
    """Has the instrument of the last doubt had all its tries?"""
    return bool(held) and sum(measured_with(one) == measured_with(held[-1]) for one in held) >= TRIES


def clearly_better(work: AtWork, step: Step, held: tuple[Tried, ...]) -> str | None:
    """An instrument whose uncertainty at the value in doubt is smaller by more than the rule wants."""
    role, last = instrument_role(step), held[-1].judgement
    if role is None or not needs_accuracy(step) or last.u is None or last.value is None:
        return None
    tried_with = {measured_with(one) for one in held}
    for name in _able(work, role):
        accuracy = work.bench.outside().settings.instruments[name].fills[role]
        if name not in tried_with:
            u = standard_uncertainty(accuracy, Decimal(last.value), Decimal(0))
            if u * BETTER < float(last.u):
                return name
    return None
