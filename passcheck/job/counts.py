"""What has the archive counted over many jobs, before anybody says what it means?

Plain counts, as one query each gives them; `figures.py` makes shares, intervals and sentences of them. Practice and
real jobs are never counted together. `board` is the sequence's name.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FirstTries:
    """Units of a board whose first acceptance run was closed, and those of them that passed it without another try."""

    board: str
    passed: int
    units: int


@dataclass(frozen=True, slots=True)
class StepVerdicts:
    """Judgements of a step by purpose; voids are left out."""

    board: str
    step: str
    title: str
    purpose: str
    passed: int
    failed: int
    doubt: int
    not_measured: int


@dataclass(frozen=True, slots=True)
class InstrumentVerdicts:
    """Judgements with an instrument on a step, and those of them in doubt; voids are left out."""

    instrument: str
    board: str
    step: str
    judged: int
    doubt: int


@dataclass(frozen=True, slots=True)
class MonthMargins:
    """Margins (`AttemptRow.margin`) of a step's passes that count as left, over the units of one month."""

    board: str
    step: str
    title: str
    month: str
    units: int
    mean: float
    square_mean: float
    least: float


@dataclass(frozen=True, slots=True)
class StepSeconds:
    """How many attempts of a step took so many seconds of work, each rounded to five."""

    board: str
    step: str
    title: str
    seconds: int
    attempts: int


@dataclass(frozen=True, slots=True)
class OutAndBack:
    """One release, and the same unit's next visit, if any; times are UTC texts."""

    job: str
    serial: str
    board: str
    released_at: str
    back_at: str | None
    back_job: str | None
    same_block: int | None
    """1 when the next visit was signed off too and both touched a block in common, 0 when it was and they didn't.

    None where there is no next visit, while it is open, and where it ended without a release: nothing was repaired then
    that would tell one block from another.
    """


@dataclass(frozen=True, slots=True)
class BlockWork:
    """Reworks of a block: in how many jobs, in how many of those that were signed off, and in how many confirmed."""

    board: str
    block: str
    jobs: int
    signed_off: int
    confirmed: int
    shown_by: tuple[tuple[str, int], ...]
    """Ids of steps that had shown the fault, with the number of jobs, the most first."""


@dataclass(frozen=True, slots=True)
class PartMonth:
    """Parts replaced in one month: how many, in how many jobs."""

    board: str
    month: str
    part: str
    part_number: str
    used: int
    jobs: int


@dataclass(frozen=True, slots=True)
class JobsMonth:
    """Jobs that were opened and released in one month."""

    board: str
    month: str
    opened: int
    released: int


@dataclass(frozen=True, slots=True)
class UnderReview:
    """One reading of an instrument that was found out of tolerance later, and where the unit is now."""

    instrument: str
    job: str
    serial: str
    board: str
    step: str
    title: str
    number: int
    at: str
    figure: str
    verdict: str
    as_left: int
    ended: str


@dataclass(frozen=True, slots=True)
class Counts:
    """Everything that the figures need; `jobs` and `attempts` say how much stands behind them."""

    jobs: int
    attempts: int
    first_tries: tuple[FirstTries, ...] = ()
    verdicts: tuple[StepVerdicts, ...] = ()
    instruments: tuple[InstrumentVerdicts, ...] = ()
    margins: tuple[MonthMargins, ...] = ()
    seconds: tuple[StepSeconds, ...] = ()
    out_and_back: tuple[OutAndBack, ...] = ()
    blocks: tuple[BlockWork, ...] = ()
    parts: tuple[PartMonth, ...] = ()
    months: tuple[JobsMonth, ...] = ()
    review: tuple[UnderReview, ...] = ()
