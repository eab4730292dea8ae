"""What did the unit show as it came in?

Only as-found runs are looked at, with every try that nobody withdrew: what was done to the unit later changes nothing
of how it came.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from passcheck.job.outcome import conditions_tried
from passcheck.job.standing import withdrawn
from passcheck.job.state import Attempt, Job, Run
from passcheck.job.steps import is_powered, steps_of
from passcheck.job.symptoms import conditions_to_try, linked_steps
from passcheck.report.how_many import many
from passcheck.sequence.model import Step

NOT_TRIED = "The unit was not tried as it came in, so nothing can be said of the complaint."
_STILL_OPEN = "The as-found run is still open. What stands here is what it has shown so far."
_MEANING = (
    ("complaint reproduced", "What the owner told of showed on the bench."),
    ("intermittent", "It came and went: every try is kept."),
    ("further faults found", "Steps that don't belong to the complaint failed as well."),
    ("complaint not reproduced", "What the owner told of did not show; something else did."),
    ("not reproduced under", "It did not show, though every listed condition was tried. It may still show elsewhere."),
    ("inconclusive", "Not everything that belongs to the complaint was tried, so it stays open."),
    ("different fault found", "Steps that don't belong to the complaint failed."),
    (
        "powered confirmation not safe",
        "A check without power speaks against powering the unit, so that was left. The unpowered finding stands as "
        "the evidence.",
    ),
    ("complaint not mapped to a symptom", "The sequence knows no symptom that fits the owner's words."),
)
"""How the clauses of an outcome begin (`job/outcome.py`), and what they mean for an owner."""


@dataclass(frozen=True, slots=True)
class Told:
    """An outcome as a word, and the whole of it with what it means."""

    word: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Waiting:
    """A check without power that failed, and the steps that wait for it and were not walked."""

    guard: Attempt
    steps: tuple[Step, ...]


def as_found_runs(job: Job) -> tuple[Run, ...]:
    """Every as-found run, in order."""
    return tuple(run for run in job.runs if run.purpose == "as-found")


def told_outcome(job: Job) -> Told:
    """The outcome of the as-found run that was closed last, or that there is none."""
    runs = as_found_runs(job)
    closed = [run for run in runs if run.outcome is not None]
    still = _STILL_OPEN if runs and runs[-1].outcome is None else ""
    if not closed:
        return Told("No outcome yet", still or NOT_TRIED)
    words = closed[-1].outcome or "no outcome"
    clauses = words.split("; ")
    meant = [says for begins, says in _MEANING if any(clause.startswith(begins) for clause in clauses)]
    return Told(_first_up(clauses[0].split(": ")[0]), " ".join(filter(None, (_sentence(words), *meant, still))))


def tries_as_found(job: Job) -> Mapping[str, tuple[Attempt, ...]]:
    """The tries at each step that nobody withdrew."""
    found: dict[str, tuple[Attempt, ...]] = {}
    for attempt in job.attempts:
        if attempt.purpose == "as-found" and not withdrawn(attempt):
            found[attempt.step] = (*found.get(attempt.step, ()), attempt)
    return found


def that_matter(job: Job) -> tuple[Step, ...]:
    """The steps of the complaint, walked or not, and every other that failed or was left in doubt."""
    linked, tries = frozenset(linked_steps(job)), tries_as_found(job)
    return tuple(step for step in steps_of(job, "as-found") if step.id in linked or _speaks(tries.get(step.id, ())))


def failed_steps(job: Job) -> tuple[Step, ...]:
    """The steps that failed, in the author's order."""
    tries = tries_as_found(job)
    return tuple(step for step in steps_of(job, "as-found") if _fails(tries.get(step.id, ())))


def rest_words(job: Job) -> str:
    """What became of all other steps, counted."""
    shown, tries = {step.id for step in that_matter(job)}, tries_as_found(job)
    rest = [tries.get(step.id, ()) for step in steps_of(job, "as-found") if step.id not in shown]
    last = [made[-1].judgement.verdict if made else "not walked" for made in rest]
    counts = [f"{last.count(word)} {said}" for word, said in _COUNTED if word in last]
    return f"Of the other {many(len(rest), 'step')}: {', '.join(counts)}." if rest else "There are no other steps."


def conditions(job: Job) -> tuple[tuple[str, str], ...]:
    """Under which of the listed conditions the complaint was looked for, and under which not."""
    runs = as_found_runs(job)
    listed = tuple(dict.fromkeys(wanted.words for wanted in conditions_to_try(job)))
    tried = tuple(dict.fromkeys(wanted.words for wanted in conditions_tried(job, runs[-1]))) if runs else ()
    every = dict.fromkeys(words for made in tries_as_found(job).values() for one in made for words in one.conditions)
    left = tuple(words for words in listed if words not in tried)
    others = tuple(words for words in every if words not in listed)
    ambient = next((run.facts.ambient_c for run in reversed(runs) if run.facts.ambient_c), None)
    return (
        ("Tried", ", ".join(tried) or ("none of those listed" if listed else "none is listed")),
        ("Listed and not tried", ", ".join(left) or "none"),
        *((("Tried besides", ", ".join(others)),) if others else ()),
        *((("At the bench", f"{ambient} °C"),) if ambient else ()),
    )


def waiting(job: Job) -> tuple[Waiting, ...]:
    """What failed without power and kept powered steps from being walked."""
    tries = tries_as_found(job)
    steps = {step.id: step for step in steps_of(job, "as-found")}
    held = [step for step in steps.values() if is_powered(step) and not tries.get(step.id)]
    return tuple(
        Waiting(next(one for one in reversed(tries[guard.id]) if one.judgement.verdict == "fail"), behind)
        for guard in failed_steps(job)
        if not is_powered(guard) and (behind := tuple(one for one in held if guard.id in _needed(steps, one)))
    )


_COUNTED = (("pass", "passed"), ("not measured", "not measured"), ("not walked", "not walked"))


def _needed(steps: Mapping[str, Step], step: Step) -> frozenset[str]:
    """The guards of a step, theirs, and so on."""
    found: set[str] = set()
    ahead = list(step.needs)
    while ahead:
        name = ahead.pop()
        if name not in found and name in steps:
            found.add(name)
            ahead += steps[name].needs
    return frozenset(found)


def _fails(made: tuple[Attempt, ...]) -> bool:
    return any(one.judgement.verdict == "fail" for one in made)


def _speaks(made: tuple[Attempt, ...]) -> bool:
    return _fails(made) or bool(made and made[-1].judgement.verdict == "in doubt")


def _sentence(words: str) -> str:
    return f"{_first_up(words).rstrip('.')}."


def _first_up(words: str) -> str:
    return words[:1].upper() + words[1:]
