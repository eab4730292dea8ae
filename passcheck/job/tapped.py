"""What stands beside a person's taps of this step, and what do they amount to with it?"""

from passcheck.job.answers import TapPairsAnswer, TapRowsAnswer
from passcheck.job.commands import Attempt, Refusal
from passcheck.job.doubt import hold, taps_of
from passcheck.job.entry import EntryFault
from passcheck.job.judging_taps import Beside, earlier_trials, judge_taps
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.state import Job, Run
from passcheck.job.timed import limit_s, reference_for, way_of
from passcheck.judge.judgement import Judgement
from passcheck.judge.quantity import show
from passcheck.sequence.model import Step


def beside(job: Job, run: Run, step: Step, person: str, moment: Moment, outside: Outside) -> Beside | Refusal:
    """The way, the block of reference trials, the latency and the earlier trials; or what is missing."""
    way = way_of(job, step)
    if way is None:
        return Refusal("entry", "Taps don't decide this step.", "Measure it with an instrument.")
    latency = outside.latency_at(moment)
    limit = limit_s(step)
    if way != "by reference" or limit is None:
        return Beside(way, None, latency)
    block = reference_for(job, run, person, limit, outside.terminal)
    if block is None:
        return Refusal(
            "reference",
            f"{person} has tapped no reference trials for a limit of {show(limit, 's')} in this run.",
            "Tap them first.",
        )
    return Beside(way, block, latency, earlier_trials(job, step, person))


def judged_by_taps(job: Job, step: Step, command: Attempt, stands: Beside) -> Judgement:
    """The judgement of a tapped attempt, held in doubt where another try can't settle it.

    Raises:
        EntryFault: the taps don't fit the step, more are needed, or they were not begun here.
    """
    answer = command.answer
    if not isinstance(answer, TapPairsAnswer | TapRowsAnswer):
        raise EntryFault("these are no taps")
    if job.timing is None or job.timing.step != step.id or job.timing.by != command.by:
        raise EntryFault("taps count only where they were begun at this step, by the person who taps")
    judged = judge_taps(step, answer, stands)
    return hold(job, step, taps_of(command.by, beside_block=stands.reference is not None), judged)
