"""What do the taps of a step amount to?

Taps come raw and are read again here: what a screen made of them meanwhile decides nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from passcheck.job.answers import HowStamped, TapPairsAnswer, TapRowsAnswer
from passcheck.job.doubt import doubts
from passcheck.job.entry import EntryFault
from passcheck.job.events import ReferencePair
from passcheck.job.judging import walked_lamps
from passcheck.job.kept_latency import LatencyNow
from passcheck.job.state import Job, Reference
from passcheck.job.timed import Way, limit_s
from passcheck.judge.blink import FEWEST_TAPS, LOCKING_IN
from passcheck.judge.judgement import Judgement, worst_of
from passcheck.judge.limits import Limits
from passcheck.judge.press_taps import HandTime, by_a_hand_alone, by_reference, judge_presses_by_taps
from passcheck.judge.rate_taps import judge_rate_by_taps, stopped_flashing, tapped_every, too_few_count
from passcheck.judge.response_judged import BY_REFERENCE, judge_by_hand_alone, judge_by_reference
from passcheck.judge.screening import VOID_UNDER_S
from passcheck.judge.sweep_judged import SweepRow, judge_sweeps
from passcheck.sequence import model
from passcheck.sequence.model import Step

MORE = "these taps don't decide it yet: more are needed"


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands beside the taps of a step: the way, the block, the bench's latency, earlier trials that count."""

    way: Way
    reference: Reference | None
    latency: LatencyNow
    earlier_s: tuple[float | None, ...] = ()


def judge_taps(step: Step, answer: TapPairsAnswer | TapRowsAnswer, beside: Beside) -> Judgement:
    """Judge raw taps by the step's limits.

    Raises:
        EntryFault: they don't fit the step, or more are needed.
    """
    match step, answer:
        case model.ResponseStep(), TapPairsAnswer():
            judged = _response(step, answer, beside)
        case model.PressesStep(), TapPairsAnswer():
            judged = _presses(step, answer, beside)
        case model.SweepStep(), TapRowsAnswer():
            judged = _sweep(step, answer)
        case model.LampsStep(check="rate"), TapRowsAnswer():
            judged = _rate(step, answer)
        case _:
            raise EntryFault(f"a {answer.shape} answer doesn't fit a {step.kind} step")
    if judged is None:
        raise EntryFault(MORE)
    return replace(judged, sentence=_told(judged.sentence, answer.how, beside))


def trial_times(answer: TapPairsAnswer) -> tuple[float | None, ...]:
    """Times of the trials that count, in seconds; None is one that the unit didn't answer.

    Raises:
        EntryFault: a time is none, or a tap lies before the one it follows.
    """
    times: list[float | None] = []
    for pair in answer.pairs:
        start = seconds(pair.start)
        time_s = None if pair.stop is None else seconds(pair.stop) - start
        if time_s is not None and time_s <= 0:
            raise EntryFault("a trial ends before it begins")
        if not pair.void and (time_s is None or time_s >= VOID_UNDER_S):
            times.append(time_s)
    return tuple(times)


def beyond_delays(trials: Sequence[ReferencePair]) -> tuple[float, ...]:
    """Of each reference trial that counts, the time from tap to tap less the delay that was drawn, in seconds.

    Raises:
        EntryFault: a time is none.
    """
    return tuple(
        (seconds(one.stop) - seconds(one.start)) - (seconds(one.drawn) - seconds(one.pressed))
        for one in trials
        if not one.void and one.stop is not None and one.drawn is not None
    )


def earlier_trials(job: Job, step: Step, person: str) -> tuple[float | None, ...]:
    """Trials since the last rework by the same person that left the step in doubt: they enter the same decision."""
    return tuple(
        time_s
        for attempt in doubts(job, step)
        if isinstance(attempt.answer, TapPairsAnswer)
        and attempt.judgement.rule == BY_REFERENCE
        and attempt.by == person
        for time_s in trial_times(attempt.answer)
    )


def hand_of(beside: Beside) -> HandTime:
    """The hand as its block shows it, or as stated where it needs none."""
    if beside.reference is None:
        return by_a_hand_alone()
    return by_reference(beyond_delays(beside.reference.facts.trials), beside.latency.latency)


def seconds(text: str) -> float:
    """A moment of the clock as it is kept.

    Raises:
        EntryFault: it is none.
    """
    whole, _, part = text.partition(".")
    if not (whole.isascii() and whole.isdigit() and part.isascii() and part.isdigit() and len(text) <= 24):
        raise EntryFault(f"'{text[:24]}' is no moment of a clock")
    return float(text)


def moment_text(at_s: float) -> str:
    """A moment of the clock as it is kept: to the microsecond."""
    return f"{at_s:.6f}"


def _response(step: model.ResponseStep, answer: TapPairsAnswer, beside: Beside) -> Judgement | None:
    times_s, limit = trial_times(answer), limit_s(step)
    if beside.way == "by hand" or limit is None:
        return judge_by_hand_alone(times_s, step.limits)
    if beside.reference is None:
        raise EntryFault("taps for a limit so short need reference trials")
    block_s = beyond_delays(beside.reference.facts.trials)
    return judge_by_reference((*beside.earlier_s, *times_s), block_s, beside.latency.latency, limit)


def _presses(step: model.PressesStep, answer: TapPairsAnswer, beside: Beside) -> Judgement | None:
    limit = limit_s(step)
    if limit is None:
        raise EntryFault("this step limits no time: count the presses")
    return judge_presses_by_taps(trial_times(answer), hand_of(beside), limit, step.times * len(step.press))


def _sweep(step: model.SweepStep, answer: TapRowsAnswer) -> Judgement | None:
    rows = [
        SweepRow(tuple(seconds(tap) for tap in row.taps), row.way)
        for row in answer.rows
        if not row.void and row.way != "flash"
    ]
    return judge_sweeps(rows, step.up, step.down, step.marks - 1)


def _rate(step: model.LampsStep, answer: TapRowsAnswer) -> Judgement:
    limits = step.limits
    every = None if limits is None else tapped_every(limits)
    rows = [row for row in answer.rows if not row.void]
    if limits is None or every is None or len(rows) != 1:
        raise EntryFault("a rate is one row of taps, one a flash")
    rate = _rate_of([seconds(tap) for tap in rows[0].taps], limits, every)
    walked = walked_lamps(step, answer.departures)
    return replace(worst_of((rate, walked)), sentence=f"{walked.sentence} {rate.sentence}")


def _rate_of(taps_s: Sequence[float], limits: Limits, every: int) -> Judgement:
    """A row so short was ended by a lamp that flashed no more."""
    if len(taps_s) < LOCKING_IN + FEWEST_TAPS:
        return stopped_flashing(len(taps_s), limits, every)
    return judge_rate_by_taps(taps_s, limits, every) or too_few_count(len(taps_s), limits, every)


def _told(sentence: str, how: HowStamped, beside: Beside) -> str:
    """The sentence with what has to be known beside it."""
    remarks = [sentence]
    if beside.reference is not None and beside.latency.said:
        remarks.append(beside.latency.said)
    if how.stamped_by == "screen":
        remarks.append("Part was stamped by the screen: the process that stamps taps was lost.")
    return " ".join(remarks)
