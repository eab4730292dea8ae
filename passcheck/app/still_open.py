"""What is still open when every step of a run was walked, and which key leads there?"""

from collections.abc import Sequence

from passcheck.job.blocker import Blocker
from passcheck.job.gate_step import steps
from passcheck.job.outcome import conditions_tried
from passcheck.job.standing import counting
from passcheck.job.state import Job, Run
from passcheck.job.steps import needed_for_release, steps_of
from passcheck.job.symptoms import conditions_to_try
from passcheck.sequence.model import Step

SHOWN = 3
"""So many notes and photos are named; the others are counted."""


def papers_open(job: Job, run: Run) -> tuple[Blocker, ...]:
    """What the gate asks of steps of this run that passed and that a note or a photo on them lifts."""
    walked = {step.id for step in steps_of(job, run.purpose)}
    return tuple(
        one for one in steps(job, None, job.last) if not one.walk and one.step in walked and _passed(job, one.step)
    )


def open_words(job: Job, run: Run) -> str:
    """A line for each thing that is missing, with its key, and what comes after this run; "" where nothing is."""
    papers = papers_open(job, run)
    lines = [f"{one.sentence} F4 adds it." for one in papers[:SHOWN]]
    if len(papers) > SHOWN:
        lines.append(f"And {len(papers) - SHOWN} more steps want a note or a photo.")
    return "\n".join((*lines, *_untried(job, run), *_after(job, run)))


def _passed(job: Job, step_id: str) -> bool:
    attempt = counting(job, job.sequence.step(step_id))
    return attempt is not None and attempt.judgement.verdict == "pass"


def _untried(job: Job, run: Run) -> tuple[str, ...]:
    """The complaint's conditions that no step was tried under yet."""
    if run.purpose != "as-found":
        return ()
    tried = conditions_tried(job, run)
    left = dict.fromkeys(wanted.words for wanted in conditions_to_try(job) if wanted not in tried)
    if not left:
        return ()
    return (f"Not tried yet: {', '.join(left)}. Page Up to the complaint's step, Ctrl+N names the condition.",)


def _after(job: Job, run: Run) -> tuple[str, ...]:
    """The run that comes after this one, where the unit still wants one."""
    if run.purpose not in ("acceptance", "burn-in"):
        return ()
    blank = [step for step in needed_for_release(job) if counting(job, step) is None]
    soaks = [step for step in blank if step.kind == "soak"]
    if soaks and run.purpose == "acceptance":
        return (f"Burn-in comes next ({_titles(soaks)}): close this run (F12), then start a burn-in run.",)
    others = [step for step in blank if step.kind != "soak"]
    if others and run.purpose == "burn-in":
        return (f"Acceptance still walks {_titles(others)}: close this run (F12), then start an acceptance run.",)
    return ()


def _titles(wanted: Sequence[Step]) -> str:
    more = f" and {len(wanted) - SHOWN} more" if len(wanted) > SHOWN else ""
    return ", ".join(step.title for step in wanted[:SHOWN]) + more
