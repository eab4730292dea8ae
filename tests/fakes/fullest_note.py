"""A signed-off job of which everything is as long as a sequence, a person and bench.yaml allow it to be.

Made of a job that went the whole way: what a page has to hold is made longer, nothing of what happened is changed.
"""

from dataclasses import replace

from sample_set import rig_of, sample_set

from passcheck.job.answers import CodesAnswer
from passcheck.job.events import LeftOld, ReworkLogged, SignedOff
from passcheck.job.state import Attempt, Job
from passcheck.sequence.model import Block, Sequence, Supply, Symptom

SAMPLE = "set-1"
LONG = "a needle that drops, hangs and comes back when the engine is warm and the road is rough; "
WIDE = "暖機後に針が落ちて戻らないことがある。"


def sample_job(job_id: str) -> Job:
    """A job of the sample journals as it folds today."""
    return rig_of(sample_set(SAMPLE).folder, job_id).shop.look(job_id)


def fullest(text: str = LONG, *, twice: int = 40) -> Job:
    """The sample job of a soak, with this text wherever a text may be long."""
    job = sample_job("A31-0002")
    long = text * twice
    sequence = _sequence(job.sequence, long)
    full = replace(
        job,
        facts=replace(job.facts, complaint=long, condition=long),
        sequence=sequence,
        symptoms=("every",),
        reworks=tuple(_rework(number, long) for number in range(1, 12)),
        left=SignedOff(job.serial, "released", "k9"),
        runs=tuple(replace(run, outcome=f"complaint reproduced; {long}") for run in job.runs),
    )
    return replace(full, attempts=(*full.attempts, *(_cleared(one) for one in full.attempts[:1])))


def _sequence(sequence: Sequence, long: str) -> Sequence:
    """Titles, headings, variants and one more supply, all long; every step belongs to the complaint."""
    steps = tuple(
        step.model_copy(update={"title": f"{step.id} {long}"[:4000], "heading": f"{number} {long}"[:4000]})
        for number, step in enumerate(sequence.steps)
    )
    absent = tuple(
        sequence.steps[1].model_copy(update={"id": f"extra-{n}", "variant": f"v{n}", "title": long[:4000]})
        for n in range(5)
    )
    supply = next(iter(sequence.supplies.values()))
    every = Symptom.model_validate({"says": long[:4000], "steps": [step.id for step in steps]})
    return sequence.model_copy(
        update={
            "title": long[:4000],
            "steps": (*steps, *absent),
            "variants": {f"v{n}": f"{n} {long}"[:4000].strip() for n in range(5)},
            "supplies": {**sequence.supplies, "mains": _live(supply)},
            "symptoms": {"every": every},
            "blocks": {name: _block(block, long) for name, block in sequence.blocks.items()},
        }
    )


def _live(supply: Supply) -> Supply:
    return supply.model_copy(update={"supply_class": "hazardous-live"})


def _block(block: Block, long: str) -> Block:
    return block.model_copy(update={"title": long[:4000]})


def _rework(number: int, long: str) -> ReworkLogged:
    parts = tuple(f"C{place}" for place in range(100, 140))
    return ReworkLogged(
        rework=number,
        blocks=("PWR", "LAMP"),
        parts=parts,
        action="replaced" if number % 2 else "leg lifted",
        reason=long,
        repair=number % 3 == 0,
        left_old=(LeftOld("C1", long),),
    )


def _cleared(attempt: Attempt) -> Attempt:
    """The same try as one of codes, so that the sentence on cleared codes is there too."""
    codes = tuple(f"F{number}" for number in range(40))
    return replace(attempt, step="gone", answer=CodesAnswer(codes, (), ()))
