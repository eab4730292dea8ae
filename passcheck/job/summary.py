"""What does a job wait for, and what does its tag on the shelf say?"""

from passcheck.job.gate import blockers
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.replay import stamp
from passcheck.job.shelf_row import COMPLAINT_SHOWN, ShelfRow, SoakTag, Waits
from passcheck.job.soak import going_on
from passcheck.job.soak_course import warnings
from passcheck.job.standing import counted, passes_standing
from passcheck.job.state import Job
from passcheck.job.steps import present


def waits_for(job: Job) -> Waits:
    """The next thing this unit needs: the board of the shelf that it stands on."""
    if not any(run.purpose == "as-found" and run.outcome is not None for run in job.runs) and not job.reworks:
        accepted = any(run.purpose == "acceptance" for run in job.runs)
        if not accepted:
            return "confirm"
    open_steps = tuple(step for step in present(job) if not passes_standing(job, step))
    if _failing(job):
        return "rework"
    if any(step.kind != "soak" and step.role != "final" for step in open_steps):
        return "accept"
    return "burn in" if any(step.kind == "soak" for step in open_steps) else "sign"


def _failing(job: Job) -> bool:
    """True when a step's latest word is a fail that no rework has answered."""
    if any(attempt is not None and attempt.judgement.verdict == "fail" for _step, attempt in counted(job)):
        return True
    as_found = [a for a in job.attempts if a.purpose == "as-found" and a.judgement.verdict == "fail"]
    later_work = max((change.line for change in job.changes), default=-1)
    return any(a.line > later_work for a in as_found) and not any(run.purpose == "acceptance" for run in job.runs)


def summarise(job: Job, outside: Outside, moment: Moment) -> ShelfRow:
    """The job's tag."""
    return ShelfRow(
        job=job.id,
        serial=job.serial,
        sequence=job.sequence.sequence,
        revision=str(job.sequence.revision),
        title=job.sequence.title,
        waits_for=waits_for(job),
        complaint=job.facts.complaint[:COMPLAINT_SHOWN],
        opened_at=stamp(job.opened),
        last_at=stamp(job.last),
        blockers=len(blockers(job, outside, moment)) if job.ended is None else 0,
        ended=job.ended,
        soak=_soak_tag(job) if job.ended is None else None,
        practice=job.facts.practice,
    )


def _soak_tag(job: Job) -> SoakTag | None:
    now = going_on(job)
    if now is None or now.leg is None or now.due is None:
        return None
    step = now.step
    lost = next((one for one in reversed(now.credit.stretches) if one.standing == "continuity not shown"), None)
    return SoakTag(
        step=step.id,
        due_at=now.due.utc.isoformat(timespec="seconds"),
        due_ms=now.due.boottime_ms,
        boot_id=now.due.boot_id,
        every_s=int(step.every.value),
        counted_s=int(now.credit.counted_s),
        wanted_s=int(step.hours.value),
        cycles=now.credit.cycles,
        cycles_wanted=step.cycles,
        still_to_pass=len(now.still_to_pass),
        alone=bool(now.leg.unattended),
        complete=now.complete,
        lost_from="" if lost is None else lost.begun.isoformat(timespec="seconds"),
        lost_to="" if lost is None else lost.ended.isoformat(timespec="seconds"),
        lost_why="" if lost is None else lost.why[:COMPLAINT_SHOWN],
        warning=next(iter(warnings(job, step)), "")[:COMPLAINT_SHOWN],
    )
