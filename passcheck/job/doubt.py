"""May another try with this instrument settle a step that was in doubt?

All readings since the last rework enter one decision, so that trying again until it passes gains nothing. After two
tries with one instrument, or with a second one that is not clearly better, the step stays in doubt until a better
method or a rework. (Trying a second equal meter would pass a unit exactly at its limit almost one time in ten.)
"""

from dataclasses import replace

from passcheck.job.answers import Answer, TapPairsAnswer, TapRowsAnswer
from passcheck.job.standing import on_unit_in_hand
from passcheck.job.state import Attempt, Job
from passcheck.judge.judgement import Judgement
from passcheck.sequence.model import Step

TRIES = 2
BETTER = 1.5  # how many times smaller the uncertainty of a second instrument must be


def taps_of(person: str, *, beside_block: bool) -> str:
    """What measured where no instrument did: a person's taps, beside a block of reference trials or not."""
    return f"taps of {person} ({'reference trials' if beside_block else 'the hand alone'})"


def measured_with(attempt: Attempt) -> str:
    """The instrument or the taps that an attempt stands on, or ""."""
    if attempt.instrument is not None:
        return attempt.instrument.instrument
    tapped = isinstance(attempt.answer, TapPairsAnswer | TapRowsAnswer)
    return taps_of(attempt.by, beside_block=attempt.reference is not None) if tapped else ""


def doubts(job: Job, step: Step) -> tuple[Attempt, ...]:
    """The tries of a step that are in doubt and still stand."""
    return tuple(a for a in on_unit_in_hand(job, step) if a.judgement.verdict == "in doubt")


def earlier_answers(job: Job, step: Step, instrument: str) -> tuple[Answer, ...]:
    """What the same instrument showed before and left in doubt: it enters the decision now being made."""
    return tuple(
        attempt.answer
        for attempt in doubts(job, step)
        if attempt.instrument is not None and attempt.instrument.instrument == instrument
    )


def hold(job: Job, step: Step, instrument: str, judged: Judgement) -> Judgement:
    """The judgement as it may stand: in doubt where another try can't settle it."""
    before = doubts(job, step)
    if not before or judged.verdict != "pass":
        return judged
    same = [a for a in before if measured_with(a) == instrument]
    if len(same) >= TRIES:
        return _held(judged, f"{TRIES} tries with {instrument} left it in doubt")
    best = min((float(a.judgement.u) for a in before if a.judgement.u is not None and a not in same), default=None)
    if best is not None and (judged.u is None or best < BETTER * float(judged.u)):
        return _held(judged, f"{instrument} is not {BETTER:g} times better than what left it in doubt")
    return judged


def _held(judged: Judgement, why: str) -> Judgement:
    words = f"In doubt: {why}; a better method or a rework decides. By the figures alone: {judged.sentence}"
    return replace(judged, verdict="in doubt", sentence=words)
