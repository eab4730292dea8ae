"""What comes before the taps of this step (a tap key, reference trials), and what came of them?"""

from collections.abc import Callable

from passcheck.app.desk import desk_of
from passcheck.app.job_screen import JobScreen
from passcheck.app.screens.learn_key import LearnKey
from passcheck.app.screens.reference import ReferenceScreen
from passcheck.app.screens.tap_trials import TapTrialsScreen
from passcheck.app.trying import Trying
from passcheck.bench.bench import Bench, Done
from passcheck.bench.reference_block import BlockNeed, blocks_needed
from passcheck.job.answers import Departure
from passcheck.job.events import Purpose
from passcheck.job.state import Job
from passcheck.job.timed import broken_off_words, limit_s, reference_for, timed_steps, way_of
from passcheck.judge.reference import CHECK_TRIALS
from passcheck.sequence import model
from passcheck.sequence.model import Step


async def tap_step(screen: JobScreen, step: Step, departures: tuple[Departure, ...], trying: Trying) -> Done | None:
    """Walk the sheets that the step needs; what was kept of it, or None. Called from a worker of the screen."""
    app, bench = screen.app, screen.bench
    key = desk_of(screen).tap_key
    if key is None:
        key = await app.push_screen_wait(LearnKey())
    if not key:
        return None
    need = block_before(bench, step, screen.person)
    if need is not None:
        watch = step.watch if isinstance(step, model.ResponseStep | model.PressesStep) else ""
        earlier = desk_of(screen).shop.block_of_today(screen.person, need.limits_s)
        await app.push_screen_wait(ReferenceScreen(bench, key, need, watch, earlier))
        if block_before(bench, step, screen.person) is not None:
            return None
    trials = TapTrialsScreen(bench, key, step, departures, trying)
    await app.push_screen_wait(trials)
    return trials.kept


def block_before(bench: Bench, step: Step, person: str) -> BlockNeed | None:
    """The block of reference trials that this person still has to tap for the step in this run, or None."""
    run, limit = bench.job.open_run, limit_s(step)
    if run is None or limit is None or way_of(bench.job, step) != "by reference":
        return None
    if reference_for(bench.job, run, person, limit, bench.outside().terminal) is not None:
        return None
    return next(need for need in needs(bench.job, run.purpose) if step.id in need.steps)


def needs(job: Job, purpose: Purpose) -> tuple[BlockNeed, ...]:
    """The blocks that a run of this purpose needs, by what is known now."""
    return blocks_needed(timed_steps(job, purpose))


def warm_up_words(job: Job, purpose: Purpose, has_block: Callable[[BlockNeed], bool]) -> str:
    """Which reference trials a run of this purpose will ask for, and why; "" where none."""
    told = []
    for need in needs(job, purpose):
        five = f" Today's block serves: {CHECK_TRIALS} trials check it." if has_block(need) else ""
        told.append(f"TAPS  {need.why}{five}")
    return "\n".join(told)


def before_words(bench: Bench, step: Step, person: str) -> str:
    """What has to be known before the taps of a step begin, or ""."""
    told = [broken_off_words(bench.job, step)]
    need = block_before(bench, step, person)
    if need is not None:
        told.append(f"First a warm-up of about {max(1, round(need.expected_s / 60))} min: {need.why}")
    if way_of(bench.job, step) == "by reference":
        told.append(bench.outside().latency_at(bench.moment()).said)
    return "\n".join(filter(None, told))
