"""What does the archive keep of a job, in rows?

The archive is made from journals and can be thrown away; nothing is in it that a journal doesn't say. These classes are
its only definition: a class is a table, a field a column, in SQLite, in PostgreSQL and in the files that figures are
reckoned from. Times are UTC, `2031-04-02T09:14:03Z`, so that they sort as texts and a month is the first seven
characters. Numbers of a judgement are in the base unit, to six digits; a yes is 1 and a no is 0. None is "not known" or
"there is none" and never stands for a number.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JobRow:
    """One visit of one unit.

    Attributes:
        job, bench, serial, board, revision, title: which; `board` is the sequence's name, `revision` the last one.
        complaint, condition, symptoms: the owner's words, the state on arrival, ids of symptoms with blanks between.
        opened_at, opened_by, last_at: when and by whom it was opened, when its last line was written.
        outcome: in which an as-found run ended last, or "".
        ended, ended_at, ended_by: `signed off`, `returned unrepaired`, `returned repaired in part`, or "" while open.
        first_try: of a job with an acceptance run: 1 when in the first of them each step that was walked had no other
            verdict than pass; None before such a run was closed, or where the job's ending sealed it.
        arrived_with: the first job of the same arrival, or "".
        practice: 1 for a simulated unit.
        digest: SHA-256 of the journal that this row was made from.
    """

    job: str
    bench: str
    serial: str
    board: str
    revision: int
    title: str
    complaint: str
    condition: str
    symptoms: str
    opened_at: str
    opened_by: str
    last_at: str
    outcome: str
    ended: str
    ended_at: str
    ended_by: str
    first_try: int | None
    arrived_with: str
    practice: int
    digest: str


@dataclass(frozen=True, slots=True)
class AttemptRow:
    """One try at a step, struck and void ones too; not those of a good-unit run, which was another unit.

    Attributes:
        number, run, purpose, step, kind, title: as in the journal; `board` again, because figures go by it.
        at, by, instrument: when it was entered (or measured, of a late entry), by whom, with what ("" without one).
        verdict, sentence, value, u, unit, low, high: the judgement; of a step with several numbers there is none.
        figure: the value as it is shown, no finer than its uncertainty: `5.01 V`, or "".
        margin: how far inside the nearer limit, as a share: of half the width where there are two limits, of the limit
            where there is one; below 0 outside; None without a number or with a limit of 0 alone.
        as_found: 1 for the attempt that stands as found; as_left: 1 for the one that counts for the release.
        struck_by: what took its worth away (`rework 1`, `void`), or "".
        conditions: what the unit was put to, with commas between.
        late: 1 when it was entered later than it was measured.
        seconds: whole seconds of work for it: since the line before it in the journal that belongs to the same run, at
            most since the run began; None where it isn't known: after an absence, of a late entry, of a soak.
    """

    job: str
    number: int
    run: int
    purpose: str
    board: str
    step: str
    kind: str
    title: str
    at: str
    by: str
    instrument: str
    verdict: str
    sentence: str
    value: float | None
    u: float | None
    unit: str
    low: float | None
    high: float | None
    figure: str
    margin: float | None
    as_found: int
    as_left: int
    struck_by: str
    conditions: str
    late: int
    seconds: int | None


@dataclass(frozen=True, slots=True)
class TouchRow:
    """One block that an entry of work touched.

    Attributes:
        line: of the entry in its journal; an entry on three blocks is three rows with one line.
        kind: `rework`, `incident`, `case opened` (its block is then "").
        number: the rework's or incident's number.
        action, reason: of a rework; of an incident what happened.
        confirmed: 1 when the sign-off confirmed that this block was the fault (`confirmed.py`); 0 when the job was
            signed off and it wasn't; None while the job isn't signed off.
        shown_by: ids of the steps that had shown the fault, with blanks between; "" unless confirmed.
    """

    job: str
    board: str
    line: int
    kind: str
    number: int
    block: str
    at: str
    by: str
    action: str
    reason: str
    confirmed: int | None
    shown_by: str


@dataclass(frozen=True, slots=True)
class PartRow:
    """One designator of a rework that replaced it; `part_number` as typed, or ""."""

    job: str
    board: str
    rework: int
    part: str
    part_number: str
    at: str


@dataclass(frozen=True, slots=True)
class SaidRow:
    """Something that a person wrote.

    The kinds are `complaint`, `condition`, `note`, `reason` of a rework, `void`, `proposed`, `agreed`, `incident`,
    `case opened`, `soak interrupted`, `jot` (point, value and meter) and `returned` (why unrepaired). A proposal to
    the owner is a row a line, each a thing that he can agree to by itself; an earlier proposal stays.
    `place` counts what was said in a job from 0; `step` is "" where it is about the job; `serial` is the unit's.
    """

    job: str
    place: int
    kind: str
    at: str
    by: str
    step: str
    text: str
    serial: str


@dataclass(frozen=True, slots=True)
class JobRows:
    """All rows of one job."""

    job: JobRow
    attempts: tuple[AttemptRow, ...] = ()
    touched: tuple[TouchRow, ...] = ()
    parts: tuple[PartRow, ...] = ()
    said: tuple[SaidRow, ...] = ()


TABLES: dict[str, type] = {
    "job": JobRow,
    "attempt": AttemptRow,
    "touched": TouchRow,
    "part": PartRow,
    "said": SaidRow,
}
"""Names of the tables; `records/archive_tables.py` has their keys."""
