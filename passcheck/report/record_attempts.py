"""Which attempts were made, every one of them, and what became of each?

None is left out: repeats, fails, doubts, void ones and those that something struck stand in the order they were made.
"""

from collections.abc import Iterator

from passcheck.job.answer_words import answer_words
from passcheck.job.doubt import measured_with
from passcheck.job.events import AttemptVoided
from passcheck.job.standing import other_unit, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.traveller import WORDS, figure
from passcheck.judge.rounding import counted
from passcheck.report.document import Cell, Column, Heading, NumberLine, Part, Table, Words
from passcheck.report.record_long_texts import below, boxed
from passcheck.report.record_words import entered, struck_by, title_of, when
from passcheck.report.source import Source

TITLE = "Every attempt"
COLUMNS = (
    Column("No", 0.5, right=True),
    Column("Step", 1.9),
    Column("Observed", 1.9),
    Column("Verdict", 1.6),
    Column("With, entered, by", 1.8),
    Column("Reason and remarks", 3.8),
)
REASON = "reason"
STAYS = "stays in the count: no cause at the bench was named and shown gone"


def attempts(job: Job, _source: Source) -> tuple[Part, ...]:
    """The table, what was too long for it, and taps that came to nothing."""
    if not job.attempts:
        return Heading(TITLE), Words("No attempt was made at any step."), *_broken_off(job)
    rows: list[tuple[Cell | NumberLine | str, ...] | str] = []
    long: list[Part] = []
    run = 0
    for attempt in job.attempts:
        if attempt.run != run:
            run = attempt.run
            rows.append(f"Run {run}, {attempt.purpose}")
        row, more = _row(job, attempt)
        rows.append(row)
        long += more
    said = f"{counted(len(job.attempts), 'attempt')}, numbered as in the journal; none is left out."
    return Heading(TITLE), Words(said, "small"), Table(COLUMNS, tuple(rows)), *long, *_broken_off(job)


def _row(job: Job, attempt: Attempt) -> tuple[tuple[Cell | str, ...], tuple[Part, ...]]:
    number = f"Attempt {attempt.number}"
    seen, more = boxed(f"{number}, what was observed,", answer_words(attempt.answer))
    told = []
    for name, text in _remarks(job, attempt):
        short, long = boxed(name, text)
        told.append(short if name == REASON or long else f"{name}: {short}")
        more += below(f"{number}, {name}", text) if long else ()
    box = f"{WORDS[attempt.judgement.verdict]} {figure(attempt.judgement)}".rstrip()
    struck = struck_by(job, attempt)
    verdict = Cell(f"{box}; {struck}" if struck else box, struck=bool(struck), strong=_bad(attempt) and not struck)
    made = ", ".join(filter(None, (measured_with(attempt), entered(job, attempt), attempt.by)))
    return (str(attempt.number), title_of(job, attempt.step), seen, verdict, made, _joined(told)), more


def _joined(told: list[str]) -> str:
    """The reason is a sentence with its full stop; the rest follows in clauses."""
    return " ".join(filter(None, (told[0], "; ".join(told[1:]))))


def _bad(attempt: Attempt) -> bool:
    return attempt.judgement.verdict != "pass"


def _remarks(job: Job, attempt: Attempt) -> Iterator[tuple[str, str]]:
    """Names and texts of all that has to be known of an attempt beside its verdict."""
    yield REASON, attempt.judgement.sentence
    yield from _circumstances(job, attempt)
    if attempt.photos:
        yield "photos", ", ".join(attempt.photos)
    if attempt.note:
        yield "note", attempt.note
    if attempt.void is not None:
        yield "void", _void(attempt, attempt.void)


def _void(attempt: Attempt, void: AttemptVoided) -> str:
    """Why it was withdrawn; a fail stays in the count unless a cause at the bench was shown gone."""
    if not withdrawn(attempt):
        return f"{void.reason}; {STAYS}"
    gone = f"; bench cause: {void.bench_cause}; shown gone: {void.shown_gone}" if void.bench_cause else ""
    return f"{void.reason}{gone}"


def _circumstances(job: Job, attempt: Attempt) -> Iterator[tuple[str, str]]:
    """How it was made, where that isn't plain."""
    before = sum(one.number < attempt.number and _again(one, attempt) for one in job.attempts)
    if before and attempt.purpose != "burn-in":  # there each look walks the same steps
        yield "repeat", f"try {before + 1} at this step in run {attempt.run}"
    if attempt.conditions:
        yield "under", ", ".join(attempt.conditions)
    if attempt.second:
        yield "seen by", attempt.second
    if serial := other_unit(job, attempt):
        yield "another unit", serial
    if attempt.typed_twice:
        yield "entry", "typed twice before it was kept"
    if attempt.reference is not None:
        yield "beside", f"block {attempt.reference} of reference trials"
    if attempt.revision != job.sequence.revision:
        yield "sequence", f"revision {attempt.revision}"


def _again(one: Attempt, attempt: Attempt) -> bool:
    return one.step == attempt.step and one.run == attempt.run


def _broken_off(job: Job) -> tuple[Part, ...]:
    """Taps that were begun and never judged, and the blocks that taps stood beside."""
    broken = (
        f"{title_of(job, one.step)}: taps by {one.by} broken off ({one.broken_off}), void." for one in job.broken_off
    )
    blocks = (
        f"Block {one.number} of reference trials: {one.by}, {when(job, one.moment)}, {len(one.facts.trials)} trials "
        f"around {one.facts.middle_s.rstrip('0').rstrip('.')} s, run {one.run}."
        for one in job.references
    )
    return tuple(Words(words) for words in (*blocks, *broken))
