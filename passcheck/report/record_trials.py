"""How did the taps of a timed step lie beside its limit?

Each mark is one trial as it was tapped; nothing is judged here. Trials on the unit are drawn less what this hand adds:
the median of its reference trials where there are any, else the stated 0.3 s. Reference trials are drawn as if their
known delay had been the limit, so that they show how the same hand scatters about it.
"""

from collections.abc import Iterator
from itertools import pairwise
from statistics import median

from passcheck.job.answers import TapPairsAnswer, TapRow, TapRowsAnswer
from passcheck.job.before_after import before_after
from passcheck.job.entry import EntryFault
from passcheck.job.judging_taps import beyond_delays, seconds, trial_times
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import present
from passcheck.job.timed import limit_s
from passcheck.judge.hand_timed import PERSON_S
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity
from passcheck.judge.rate_taps import EVERY, tapped_every
from passcheck.report.document import Heading, Part, Plot, Series, Words
from passcheck.report.record_words import struck_by
from passcheck.report.source import Source
from passcheck.sequence import model
from passcheck.sequence.model import Step

TITLE = "Timed by taps"
TOLD = (
    "Each mark is a trial. Trials on the unit are drawn less what this hand adds; reference trials as if their delay "
    "had been the limit, so that they show how the same hand scatters. The pictures decide nothing."
)
UNIT, REFERENCE = "this unit", "reference trials"


def trials(job: Job, _source: Source) -> tuple[Part, ...]:
    """A plot for each tapped attempt that stands as found or as left; nothing where no taps were made."""
    plots = tuple(plot for step in present(job) for attempt in _told(job, step) for plot in _plots(job, step, attempt))
    return (Heading(TITLE), Words(TOLD, "small"), *plots) if plots else ()


def _told(job: Job, step: Step) -> tuple[Attempt, ...]:
    """As found and as left; the last one where neither was tapped."""
    tapped = [one for one in job.attempts if one.step == step.id and _by_taps(one)]
    told = before_after(job, step)
    standing = tuple(one for one in tapped if one in (told.as_found, told.as_left))
    return standing or tuple(tapped[-1:])


def _by_taps(attempt: Attempt) -> bool:
    return isinstance(attempt.answer, TapPairsAnswer | TapRowsAnswer)


def _plots(job: Job, step: Step, attempt: Attempt) -> tuple[Plot, ...]:
    """None where the answer fits the step no more, as under a newer revision."""
    try:
        match step, attempt.answer:
            case ((model.ResponseStep() | model.PressesStep()), TapPairsAnswer() as answer):
                return _pairs(job, step, attempt, answer)
            case model.SweepStep(), TapRowsAnswer(rows):
                return tuple(_sweeps(job, step, attempt, rows))
            case model.LampsStep(limits=limits), TapRowsAnswer(rows) if limits is not None:
                return tuple(_flashes(job, step, attempt, rows, limits))
            case _:
                return ()
    except EntryFault:
        return ()


def _pairs(
    job: Job, step: model.ResponseStep | model.PressesStep, attempt: Attempt, answer: TapPairsAnswer
) -> tuple[Plot, ...]:
    block = next((one for one in job.references if one.number == attempt.reference), None)
    times_s = trial_times(answer)
    limits = step.limits
    hand_s = () if block is None else beyond_delays(block.facts.trials)
    lead_s = _lead_s(attempt, hand_s)
    answered = [time_s for time_s in times_s if time_s is not None]
    series = [_numbered(UNIT, [max(0.0, time_s - lead_s) for time_s in answered])]
    if hand_s and (limit := limit_s(step)) is not None:
        series.append(_numbered(REFERENCE, [limit + each - median(hand_s) for each in hand_s]))
    low, high = (None, None) if limits is None else _ends(limits)
    return _plot(job, step, attempt, "", ("trial", "delay, s"), (tuple(series), low, high), _of(times_s))


def _lead_s(attempt: Attempt, hand_s: tuple[float, ...]) -> float:
    """What the hand adds to a trial on the unit, in seconds: its reference trials less the latency of their screen."""
    if not hand_s:
        return float(PERSON_S)
    return median(hand_s) - float(attempt.latency_s or "0")


def _of(times_s: tuple[float | None, ...]) -> str:
    missing = sum(time_s is None for time_s in times_s)
    return f"{len(times_s)} trials that count" + (f", {missing} of them not answered" if missing else "")


def _sweeps(job: Job, step: model.SweepStep, attempt: Attempt, rows: tuple[TapRow, ...]) -> Iterator[Plot]:
    """One plot a way: when the pointer passed each mark; the last mark is what the limits are for."""
    for way, limits in (("up", step.up), ("down", step.down)):
        taken = [[seconds(tap) for tap in row.taps] for row in rows if row.way == way and not row.void]
        series = tuple(
            Series(f"sweep {number}", tuple((float(mark), tap - taps[0]) for mark, tap in enumerate(taps, start=1)))
            for number, taps in enumerate(taken, start=1)
            if taps
        )
        axes = ("mark passed", "time since the first mark, s")
        words = f"{len(series)} sweeps {way}"
        yield from _plot(job, step, attempt, f", {way}", axes, (series, *_ends(limits)), words)


def _flashes(
    job: Job, step: model.LampsStep, attempt: Attempt, rows: tuple[TapRow, ...], limits: Limits
) -> Iterator[Plot]:
    """Times from tap to tap; a rate's high limit is the shortest time."""
    every = tapped_every(limits)
    taken = [[seconds(tap) for tap in row.taps] for row in rows if not row.void]
    if every is None:
        return
    low, high = _ends(limits)
    series = tuple(_numbered(UNIT, [after - before for before, after in pairwise(taps)]) for taps in taken)
    ends = (None if high is None else every / high, None if not low else every / low)
    words = f"tapped at {EVERY[every]}"
    yield from _plot(job, step, attempt, "", ("tap", "time since the tap before, s"), (series, *ends), words)


def _plot(
    job: Job,
    step: Step,
    attempt: Attempt,
    which: str,
    axes: tuple[str, str],
    drawn: tuple[tuple[Series, ...], float | None, float | None],
    words: str,
) -> tuple[Plot, ...]:
    """The plot, or none where there is no point to draw."""
    series, low, high = drawn
    if not any(one.points for one in series):
        return ()
    struck = struck_by(job, attempt)
    title = (
        f"{step.title}{which}: attempt {attempt.number}, {attempt.purpose}{f', struck by {struck}' if struck else ''}"
    )
    told = f"{words}. {attempt.judgement.sentence}"
    return (Plot(title, axes[0], axes[1], series, low, high, told),)


def _numbered(name: str, values: list[float]) -> Series:
    """Trials in the order they were tapped, to the millisecond: taps are no finer."""
    return Series(name, tuple((float(n), round(value, 3)) for n, value in enumerate(values, start=1)), joined=False)


def _ends(limits: Limits) -> tuple[float | None, float | None]:
    return _end(limits.low), _end(limits.high)


def _end(limit: Quantity | None) -> float | None:
    return None if limit is None else float(limit.value)
