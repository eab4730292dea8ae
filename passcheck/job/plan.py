"""Which step next, and why?

What is still to be walked is what the gate says that walking lifts, so that a plan walked with passes leaves no such
reason. The order costs the fewest power changes: unpowered steps before powered ones, one supply at a time, then the
author's order; the final look comes last. As found the complaint's own steps come first; after a rework what failed is
walked before anything else, then the quickest steps.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from passcheck.job.blocker import Blocker
from passcheck.job.events import Purpose
from passcheck.job.gate_step import OF_A_STEP
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.retest import concerned, failed_before, with_needs
from passcheck.job.soak import soak_now, soak_steps
from passcheck.job.standing import counting, latest, made_at, on_unit_in_hand, standing_attempts, unmet_needs, withdrawn
from passcheck.job.state import Attempt, Job, Run
from passcheck.job.steps import is_powered, present, steps_of
from passcheck.job.symptoms import linked_steps
from passcheck.sequence.model import Step


@dataclass(frozen=True, slots=True)
class Planned:
    """A step still to be walked, the reason, the minutes its author expects, and the conditions to walk it under.

    The gate asks for some of those conditions; the rest are those of the step's last fail.
    """

    step: Step
    why: str
    minutes: Decimal
    under: tuple[str, ...] = ()


def plan(
    job: Job,
    purpose: Purpose | None = None,
    *,
    again: bool = False,
    outside: Outside | None = None,
    moment: Moment | None = None,
) -> tuple[Planned, ...]:
    """The steps still to walk, in order.

    Args:
        job: the job.
        purpose: why they are walked; the open run's, or acceptance.
        again: a retest of the failed symptom alone; the open run's own choice where it is a retest.
        outside: the bench as it is now; without it no instrument is known to be doubtful.
        moment: now; without it the job's last event, so that nothing is too old yet.
    """
    run = job.open_run
    wanted: Purpose = purpose or (run.purpose if run else "acceptance")
    if wanted == "burn-in":
        return _burn_in(job)
    if wanted in ("as-found", "good-unit"):
        open_steps = _unanswered(job, wanted, run)
    else:
        open_steps = _unlifted(job, outside, moment or job.last)
    if wanted == "retest":
        chosen = concerned(job, again=again or (run is not None and run.purpose == "retest" and run.facts.again))
        open_steps = [planned for planned in open_steps if planned.step.id in chosen]
    place = _places(job, wanted)
    return tuple(sorted(open_steps, key=lambda planned: place(planned.step)))


def minutes_left(planned: tuple[Planned, ...]) -> Decimal:
    """Hands-on time of what is still to be walked."""
    return sum((one.minutes for one in planned), Decimal(0))


def _unlifted(job: Job, outside: Outside | None, moment: Moment) -> list[Planned]:
    """What the gate says that walking lifts, one line a step, with the first reason that asks for most."""
    found: dict[str, Blocker] = {}
    for question in OF_A_STEP:
        for one in question(job, outside, moment):
            if one.walk and one.step is not None:
                held = found.setdefault(one.step, one)
                if not set(one.under) <= set(held.under):
                    found[one.step] = one
    return [_planned(job, step, found[step.id]) for step in present(job) if step.id in found and step.kind != "soak"]


def _planned(job: Job, step: Step, reason: Blocker) -> Planned:
    """Where the gate asks for no conditions, those of the last fail: a cold pass says little of what failed warm."""
    return Planned(step, reason.walk, step.minutes, reason.under or _failed_under(job, step))


def _failed_under(job: Job, step: Step) -> tuple[str, ...]:
    """The conditions of the step's last fail that nobody withdrew; () where it never failed, or under none."""
    fails = (
        one
        for one in reversed(made_at(job, step.id))
        if one.judgement.verdict == "fail" and one.purpose != "good-unit" and not withdrawn(one)
    )
    last = next(fails, None)
    return () if last is None else last.conditions


def _unanswered(job: Job, purpose: Purpose, run: Run | None) -> list[Planned]:
    """Steps that this run, or as found any, gave no answer to yet; a fail is an answer."""
    found = []
    for step in steps_of(job, purpose):
        made: tuple[Attempt, ...]
        if purpose == "good-unit":
            made = tuple(a for a in on_unit_in_hand(job, step) if run is not None and a.run == run.number)
        else:
            made = tuple(a for a in standing_attempts(job, step) if a.purpose == "as-found")
        if not made:
            spoiled = any(a.purpose == purpose for a in made_at(job, step.id))
            found.append(Planned(step, "stale: walk it again" if spoiled else "not walked yet", step.minutes))
        elif made[-1].judgement.verdict == "not measured":
            found.append(Planned(step, "not measured", step.minutes))
    return found


def _burn_in(job: Job) -> tuple[Planned, ...]:
    """The steps that the open look still wants, or the soak itself."""
    found = []
    for soak in soak_steps(job):
        now = soak_now(job, soak)
        if now.leg is not None and now.still_to_pass:
            return tuple(
                Planned(step, "this look wants it", step.minutes)
                for step in steps_of(job, "burn-in")
                if step.id in now.still_to_pass
            )
        if counting(job, soak) is None:
            why = "not begun" if now.leg is None else "end it" if now.complete else "at power"
            found.append(Planned(soak, why, soak.minutes))
    return tuple(found)


def _first(job: Job, purpose: Purpose) -> frozenset[str]:
    """What comes before everything else, with the guards it waits for."""
    if purpose == "as-found":
        wanted = linked_steps(job)
    elif purpose in ("retest", "acceptance"):
        wanted = failed_before(job)
    else:
        wanted = ()
    return frozenset(with_needs(job, wanted))


Place = tuple[int, int, int, int, int, Decimal]


def _places(job: Job, purpose: Purpose) -> Callable[[Step], Place]:
    """Sort key: arrival, what comes first, unpowered before powered, a supply's steps together, the final look last.

    What shares a place stays in the author's order.
    """
    first = _first(job, purpose)
    group = {name: number for number, name in enumerate(job.sequence.supplies, start=1)}

    def place(step: Step) -> Place:
        guards = unmet_needs(job, step)
        grouped = max(group[one.power] if is_powered(one) else 0 for one in (step, *guards))  # after what it waits for
        waits = int(bool(guards) and (not is_powered(step) or any(latest(job, guard) is None for guard in guards)))
        quick = step.minutes if purpose == "retest" else Decimal(0)
        arrival = 0 if step.role == "arrival" else 1
        return (int(step.role == "final"), arrival, int(step.id not in first), grouped, waits, quick)

    return place
