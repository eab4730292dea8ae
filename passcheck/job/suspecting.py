"""Which blocks are to be suspected after the results of an as-found or retest run, and which step would tell more?

A help for whoever looks for the fault, never a verdict: an order with its evidence in bits, and every assumption said
in a sentence beside it.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from passcheck.job.confirmed import Confirmed
from passcheck.job.events import Purpose
from passcheck.job.plan import plan
from passcheck.job.standing import latest, standing_attempts, unmet_needs
from passcheck.job.state import Job, Run
from passcheck.job.steps import present, steps_of
from passcheck.judge.fault_matrix import NEVER, WORDS, FaultMatrix, fault_matrix
from passcheck.judge.next_step import next_step
from passcheck.judge.suspect_history import prior_from_repairs, smoothed_q
from passcheck.judge.suspect_words import BENCH, RELATIVE, ToldSuspect, told_suspects, with_outsiders
from passcheck.judge.suspects import fault_sets
from passcheck.sequence.model import ALL_BLOCKS, Step
from passcheck.sequence.reach import proves, reached

PURPOSES: Final[tuple[Purpose, ...]] = ("as-found", "retest")
"""Runs that look for a fault."""
BETWEEN_THEM: Final = WORDS["always"]
"""How often the steps that prove a block show a fault in it, all of them together: that is what proving it means.

One word for each of them alone would be wrong: of seven keys mostly one is bad, and the six that pass would clear the
block that holds them all.
"""
BY_FEEDING: Final = WORDS["rarely"]
"""How often a step shows a fault in what feeds the block that it proves."""
_WHAT_ELSE: Final = (
    "At most three blocks are faulty at once, and each of them makes a step fail on its own.",
    f"{BENCH} stands for leads, dummies and supply, which can upset any step; 'a fault not listed' for whatever the "
    "sequence doesn't describe.",
)


@dataclass(frozen=True, slots=True)
class Suspicion:
    """The suspects in order, what to walk next, and what was assumed.

    `silence` says why nobody is suspected; then there is nothing else. `next_step` is None where it is time to look at
    a block, or no open step tells more; `next_words` says which.
    """

    told: tuple[ToldSuspect, ...] = ()
    next_step: str | None = None
    next_words: str = ""
    assumptions: tuple[str, ...] = ()
    silence: str = ""


@dataclass(frozen=True, slots=True)
class _Seen:
    """How often each step of the run failed, in how many tries that ended in pass or fail, and which were tried."""

    fails: Mapping[str, int]
    tries: Mapping[str, int]
    passed: frozenset[str]
    tried: frozenset[str]

    @property
    def failed(self) -> frozenset[str]:
        """A fail that stands counts, whatever the step showed before or after: a pass never wipes it out."""
        return frozenset(self.fails)


def suspicion(job: Job, history: Confirmed | None = None) -> Suspicion:
    """Rank the blocks by the results of the run that is open, or of the last as-found or retest run when none is.

    `history` is what earlier repairs of this board type confirm; without it every block is as likely as any other.
    """
    run = _run(job)
    if isinstance(run, str):
        return Suspicion(silence=run)
    seen = _see(job, run)
    if not seen.failed:
        return Suspicion(silence=f"No fail stands in run {run.number} ({run.purpose}), so no block is suspected.")
    try:
        return _ranked(job, run, seen, history)
    except ValueError as why:  # more blocks than can be weighed in sets of three, or steps that depend on themselves
        return Suspicion(silence=f"Nobody is suspected: {why}.")


def _ranked(job: Job, run: Run, seen: _Seen, history: Confirmed | None) -> Suspicion:
    steps, declared = steps_of(job, run.purpose), declared_matrix(job, run, history)
    explained = declared.behind(seen.failed)
    telling = frozenset(step.id for step in steps if _tells(step)) - explained
    evidence = dict.fromkeys(telling & seen.failed, 1.0) | dict.fromkeys(telling & seen.passed, 0.0)
    if not telling & seen.failed:
        return Suspicion(silence="What failed speaks of every block alike, so none of them is suspected.")
    matrix = _explaining(declared, telling & seen.failed)
    minutes = {step: cost for step, cost in _open_steps(job, run, seen) if step in telling}
    whole = with_outsiders(matrix)
    sets = fault_sets(whole, evidence)
    found = next_step(whole, evidence, minutes, sets=sets)
    words = found.reason
    if found.step is not None:
        title, rate = job.sequence.step(found.step).title, found.gain_per_min[found.step]
        words = f"{title}: {rate:.2f} bit a minute of what still keeps the suspects apart, {minutes[found.step]:g} min."
    assumptions = (
        RELATIVE,
        *_weighed(run, evidence),
        *_assumed(job, steps, seen, explained),
        *_not_ranked(job, declared, matrix),
        *_remembered(job, history),
        *_WHAT_ELSE,
    )
    return Suspicion(told_suspects(matrix, evidence, _titles(job), sets=sets), found.step, words, assumptions)


def _explaining(matrix: FaultMatrix, failed: frozenset[str]) -> FaultMatrix:
    """Only the blocks that could explain a fail: one that was merely not looked at yet is no suspect of what was seen.

    All of them where none could.
    """
    fails = [place for place, step in enumerate(matrix.steps) if step in failed]
    kept = [at for at, row in enumerate(matrix.q) if any(row[place] > NEVER for place in fails)]
    if not kept:
        return matrix
    return replace(
        matrix,
        blocks=tuple(matrix.blocks[at] for at in kept),
        prior=tuple(matrix.prior[at] for at in kept),
        q=tuple(matrix.q[at] for at in kept),
    )


def declared_matrix(job: Job, run: Run, history: Confirmed | None = None) -> FaultMatrix:
    """What ties blocks to the steps of a run: the sequence's own words, what is assumed without, then history.

    Without a word in `fails_when` a fault in a block shows nearly always in at least one of the n steps that prove it,
    so in each with q = 1 - 0.05^(1/n); rarely where the block feeds one that is proved; else never.
    """
    steps, blocks = steps_of(job, run.purpose), tuple(job.sequence.blocks)
    past = history or Confirmed(job.sequence.sequence)
    ids = {step.id for step in steps}
    q: dict[str, dict[str, float]] = {}
    for block in blocks:
        shared, fed = _shared(job, block), reached(job.sequence, (block,))
        q[block] = {
            step.id: smoothed_q(
                _declared(job, step, block, shared, fed), *past.shown(block, step.id, step.changed_in or 0)
            )
            for step in steps
        }
    prior = prior_from_repairs({block: past.repairs_of(block) for block in blocks})
    depends = {step.id: tuple(ids.intersection(step.depends_on)) for step in steps}
    return fault_matrix(blocks, [step.id for step in steps], prior, q, depends=depends)


def _run(job: Job) -> Run | str:
    """The run whose results are weighed, or why there is none."""
    if not job.sequence.blocks:
        return "The sequence names no block to suspect."
    run = job.open_run
    if run is not None and run.purpose not in PURPOSES:
        return f"Run {run.number} is {run.purpose}. Suspects are ranked in an as-found or retest run."
    looking = [one for one in job.runs if one.purpose in PURPOSES]
    return looking[-1] if looking else "No as-found or retest run was begun, so there is nothing to rank blocks by."


def _see(job: Job, run: Run) -> _Seen:
    """The results of a run that stand: neither withdrawn nor stale."""
    fails: dict[str, int] = {}
    tries: dict[str, int] = {}
    passed, tried = set(), set()
    for step in steps_of(job, run.purpose):
        verdicts = [one.judgement.verdict for one in standing_attempts(job, step) if one.run == run.number]
        if any(verdict != "not measured" for verdict in verdicts):
            tried.add(step.id)
        tries[step.id] = verdicts.count("pass") + verdicts.count("fail")
        if "fail" in verdicts:
            fails[step.id] = verdicts.count("fail")
        elif verdicts and verdicts[-1] == "pass":
            passed.add(step.id)
    return _Seen(fails, tries, frozenset(passed), frozenset(tried))


def _tells(step: Step) -> bool:
    """Can its result tell one block from another? What proves all of them alike, or none, can't."""
    return bool(step.fails_when) or (bool(step.proves) and ALL_BLOCKS not in step.proves)


def _said(step: Step, block: str) -> str | None:
    """The sequence's own word for how often a fault in the block shows in the step."""
    return step.fails_when.get(block) or step.fails_when.get(ALL_BLOCKS)


def _shared(job: Job, block: str) -> float:
    """How often each of the steps that prove a block shows a fault in it, where the sequence doesn't say."""
    steps = sum(block in step.proves and _said(step, block) is None for step in present(job) if step.kind != "soak")
    return 1 - math.pow(1 - BETWEEN_THEM, 1 / max(steps, 1))


def _declared(job: Job, step: Step, block: str, shared: float, fed: frozenset[str]) -> float:
    word = _said(step, block)
    if word is not None:
        return WORDS[word]
    if block in step.proves:
        return shared
    return BY_FEEDING if fed & proves(job.sequence, step) else NEVER


def _open_steps(job: Job, run: Run, seen: _Seen) -> Iterator[tuple[str, float]]:
    """The steps of the plan that weren't tried and that no failed guard forbids, with their minutes."""
    if job.ended is not None:
        return
    for planned in plan(job, run.purpose):
        if planned.step.id not in seen.tried:
            guards = _open_guards(job, planned.step)
            if not any(_fails(job, guard) for guard in guards):
                yield planned.step.id, float(planned.minutes + sum(guard.minutes for guard in guards))


def _open_guards(job: Job, step: Step) -> tuple[Step, ...]:
    """The guards that have to pass before the step, and theirs: they cost their minutes first."""
    found: dict[str, Step] = {}
    ahead = [step]
    while ahead:
        fresh = [guard for guard in unmet_needs(job, ahead.pop()) if guard.id not in found]
        found.update((guard.id, guard) for guard in fresh)
        ahead += fresh
    return tuple(found.values())


def _fails(job: Job, guard: Step) -> bool:
    attempt = latest(job, guard)
    return attempt is not None and attempt.judgement.verdict == "fail"


def _titles(job: Job) -> dict[str, str]:
    """What blocks and steps are called; a name that is both a block's and a step's is told as it is."""
    blocks = {name: f"{name} ({block.title})" for name, block in job.sequence.blocks.items()}
    steps = {step.id: step.title for step in job.sequence.steps}
    return {name: words for name, words in (blocks | steps).items() if not (name in blocks and name in steps)}


def _weighed(run: Run, evidence: Mapping[str, float]) -> Iterator[str]:
    fails = sum(out == 1.0 for out in evidence.values())
    yield (
        f"Weighed are {len(evidence)} result(s) of run {run.number} ({run.purpose}), {fails} of them failed. What is "
        "in doubt, not measured or not walked says nothing."
    )


def _assumed(job: Job, steps: tuple[Step, ...], seen: _Seen, explained: frozenset[str]) -> Iterator[str]:
    """What this run asks to be taken for granted, a sentence each."""
    blocks = job.sequence.blocks
    silent = [step for step in steps if _tells(step) and any(_said(step, block) is None for block in blocks)]
    if silent:
        yield (
            f"{len(silent)} step(s) don't say how often a fault in each block shows in them. There a fault shows "
            "nearly always in at least one of the steps that prove its block, in each of them equally often; "
            "rarely in a step that proves what the block feeds; never in any other."
        )
    outcome = seen.failed | seen.passed
    for step in steps:
        if step.id in explained & seen.failed:
            yield f"{step.title} may have failed because a step that it depends on failed: it has no weight."
        elif step.id in outcome and not _tells(step):
            yield f"{step.title} speaks of no block more than of another: it has no weight."
        elif 0 < seen.fails.get(step.id, 0) < seen.tries[step.id]:
            k, n = seen.fails[step.id], seen.tries[step.id]
            yield f"{step.title} failed {k} of {n} times: what comes and goes is a fault, so it counts as failed."


def _not_ranked(job: Job, declared: FaultMatrix, ranked: FaultMatrix) -> Iterator[str]:
    titles = _titles(job)
    others = [titles.get(block, block) for block in declared.blocks if block not in ranked.blocks]
    if others:
        yield f"Not ranked, because a fault there explains none of the fails: {', '.join(others)}."


def _remembered(job: Job, history: Confirmed | None) -> Iterator[str]:
    board = job.sequence.sequence
    if history is None or not history.repairs:
        yield f"No confirmed repair of {board} is known: before any result each block is as likely as another."
        return
    yield (
        f"{len(history.repairs)} confirmed repair(s) in {history.jobs} signed-off job(s) of {board} shift how likely "
        "each block was before any result, and how often its fault shows in a step."
    )
