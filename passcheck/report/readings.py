"""How is what a step showed said in a row of a paper?"""

from collections.abc import Sequence
from decimal import Decimal, InvalidOperation

from passcheck.job.attempts_table import limits_words
from passcheck.job.before_after import stamped
from passcheck.job.held_numbers import HeldNumber, held_numbers
from passcheck.job.state import Attempt, Job
from passcheck.job.step_limits import judged_by
from passcheck.job.traveller import WORDS, figure
from passcheck.judge.student import student_quantile
from passcheck.report.bounded import cut
from passcheck.report.document import Cell, Column, NumberLine
from passcheck.sequence.model import Step

COLUMNS = (Column("Step", 2.2), Column("Seen", 2.6), Column("Limits", 1.8), Column("", 1.8))
NOT_WALKED = "not walked"
TOLD_ROOM = 200
_TWO_SIDED_95 = 0.975
_K_95 = 1.96

Row = tuple[Cell | NumberLine | str, ...]


def reading_row(job: Job, step: Step, tries: Sequence[Attempt]) -> Row:
    """Title, what was seen, limits, and the reading drawn between them; a fail is shown before any later pass."""
    if not tries:
        return (step.title, Cell(NOT_WALKED), cut(judged_by(step).removeprefix("Limits: "), TOLD_ROOM), "")
    fails = [one for one in tries if one.judgement.verdict == "fail"]
    shown = (fails or list(tries))[-1]
    passed = shown.judgement.verdict == "pass"
    return (
        step.title,
        Cell(". ".join(filter(None, (seen(shown), _how_often(tries, len(fails)), _under(shown)))), strong=not passed),
        limits_words(shown.judgement, step) if shown.judgement.unit else "",
        number_line(job, step, shown) or "",
    )


def seen(attempt: Attempt) -> str:
    """Word and figure as on the card; the reason where there is no figure."""
    judged = attempt.judgement
    return stamped(attempt) if judged.value is not None and judged.unit else _reason(attempt)


def number_line(job: Job, step: Step, attempt: Attempt) -> NumberLine | None:
    """The reading between its limits; None where a step has no single number with a limit."""
    judged = attempt.judgement
    if judged.value is None or judged.u is None or not (judged.low or judged.high):
        return None
    held = held_numbers(job, step, attempt)
    try:
        value, low, high = Decimal(judged.value), _end(judged.low), _end(judged.high)
        within = _within(held[0]) if len(held) == 1 else _K_95 * float(judged.u)
    except (InvalidOperation, ValueError):  # a record from elsewhere may hold any text here
        return None
    words = f"{figure(judged)}, {limits_words(judged, step)}"
    return NumberLine(float(value), within, low, high, words)


def _end(limit: str | None) -> float | None:
    return None if limit is None else float(Decimal(limit))


def _within(held: HeldNumber) -> float:
    return max(student_quantile(_TWO_SIDED_95, held.source.nu_a) * held.u, float(held.digit))


def _reason(attempt: Attempt) -> str:
    return f"{WORDS[attempt.judgement.verdict]}: {cut(attempt.judgement.sentence, TOLD_ROOM)}".removesuffix(".")


def _how_often(tries: Sequence[Attempt], fails: int) -> str:
    tried = sum(one.judgement.verdict in ("pass", "fail") for one in tries)
    return f"Failed {fails} of {tried} tries" if fails and tried > 1 else ""


def _under(attempt: Attempt) -> str:
    return f"Tried under: {', '.join(attempt.conditions)}" if attempt.conditions else ""
