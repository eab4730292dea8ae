"""Which steps show the complaint, under which conditions is it looked for, and did it show?"""

from dataclasses import dataclass

from passcheck.job.standing import made_at, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.sequence.model import Symptom


def mapped(job: Job) -> tuple[tuple[str, Symptom], ...]:
    """The symptoms that the complaint was matched to and that the sequence still knows, by name."""
    known = job.sequence.symptoms
    return tuple((name, known[name]) for name in job.symptoms if name in known)


def linked_steps(job: Job) -> tuple[str, ...]:
    """Ids of the steps that show the complaint, in the order in which the symptoms name them."""
    return tuple(dict.fromkeys(step for _name, symptom in mapped(job) for step in symptom.steps))


@dataclass(frozen=True, slots=True)
class Wanted:
    """A condition that the unit is to be put to, and the steps at one of which that has to be done."""

    words: str
    steps: frozenset[str]


def conditions_to_try(job: Job) -> tuple[Wanted, ...]:
    """What has to be tried before the complaint may be called not reproduced.

    All that each mapped symptom lists, at a step of that symptom, and what the technician added, at any step that shows
    the complaint; nobody can shorten the author's list.
    """
    listed = [Wanted(words, frozenset(symptom.steps)) for _name, symptom in mapped(job) for words in symptom.conditions]
    known = {wanted.words for wanted in listed}
    every = frozenset(linked_steps(job))
    added = [Wanted(words, every) for words in job.conditions if words not in known]
    return tuple(dict.fromkeys((*listed, *added)))


def known_conditions(job: Job) -> tuple[str, ...]:
    """Every condition that a try may be made under: of the complaint first, then of the sequence's other symptoms."""
    others = (words for symptom in job.sequence.symptoms.values() for words in symptom.conditions)
    return tuple(dict.fromkeys((*(wanted.words for wanted in conditions_to_try(job)), *others)))


def failed_as_found(job: Job, step_id: str) -> tuple[Attempt, ...]:
    """The fails of a step as found that nobody withdrew."""
    return tuple(
        a
        for a in made_at(job, step_id)
        if a.purpose == "as-found" and a.judgement.verdict == "fail" and not withdrawn(a)
    )


def failed_symptoms(job: Job) -> tuple[tuple[str, Symptom], ...]:
    """The symptoms of which a step failed as found: the complaint was confirmed by them."""
    return tuple(pair for pair in mapped(job) if any(failed_as_found(job, step) for step in pair[1].steps))
