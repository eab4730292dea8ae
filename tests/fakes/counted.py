"""What a shop of two boards counted, whose figures are worked out by hand in the tests; and an archive that gives it.

The boards are OV-24P (a dash panel, many jobs) and TH-12 (a thermostat board, few).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from passcheck.errors import BenchFailed
from passcheck.job.archive_rows import SaidRow
from passcheck.job.counts import (
    BlockWork,
    Counts,
    FirstTries,
    InstrumentVerdicts,
    JobsMonth,
    MonthMargins,
    OutAndBack,
    PartMonth,
    StepSeconds,
    StepVerdicts,
    UnderReview,
)
from passcheck.job.visits import Visit

PANEL, THERMOSTAT = "OV-24P", "TH-12"
RAIL, MARKS, RIPPLE = ("rail-5v", "5 V logic rail"), ("fuel-marks", "Fuel marks"), ("ripple-5v", "Ripple on 5 V")
SENSOR = ("sensor", "Sensor at 25 °C")
UNTIL = "2032-04-02"
"""A year after the first release."""
MONTHS = (*(f"2031-{month:02d}" for month in range(4, 13)), "2032-01", "2032-02", "2032-03")

VERDICTS = (
    StepVerdicts(PANEL, *RAIL, "as-found", 36, 4, 0, 3),
    StepVerdicts(PANEL, *RAIL, "acceptance", 44, 0, 0, 0),
    StepVerdicts(PANEL, *MARKS, "as-found", 10, 40, 0, 0),
    StepVerdicts(PANEL, *MARKS, "acceptance", 41, 6, 3, 0),
    StepVerdicts(PANEL, *MARKS, "retest", 5, 5, 0, 0),
    StepVerdicts(PANEL, *RIPPLE, "as-found", 30, 0, 6, 0),
    StepVerdicts(PANEL, *RIPPLE, "acceptance", 40, 0, 2, 0),
    StepVerdicts(THERMOSTAT, *SENSOR, "as-found", 1, 2, 0, 0),
)
INSTRUMENTS = (
    InstrumentVerdicts("M1", PANEL, RIPPLE[0], 40, 3),
    InstrumentVerdicts("M2", PANEL, RIPPLE[0], 38, 5),
    InstrumentVerdicts("M1", PANEL, RAIL[0], 84, 0),
    InstrumentVerdicts("H1", THERMOSTAT, SENSOR[0], 3, 2),
)
BLOCKS = (
    BlockWork(PANEL, "GAUGES", 30, 28, 21, (("fuel-marks", 20), ("sweep", 6), ("rail-5v", 2), ("lamps", 1))),
    BlockWork(PANEL, "PWR", 9, 7, 7, (("rail-5v", 4), ("ripple-5v", 3))),
    BlockWork(THERMOSTAT, "SENSE", 2, 0, 0, ()),
)
PARTS = (
    PartMonth(PANEL, "2031-04", "C11", "105 °C, 470 µF", 2, 2),
    PartMonth(PANEL, "2031-06", "C11", "105 °C, 470 µF", 3, 3),
    PartMonth(PANEL, "2031-06", "M3", "", 4, 4),
    PartMonth(THERMOSTAT, "2031-09", "R7", "10 kΩ 1 %", 1, 1),
)
GONE, BACK = "signed off", "returned unrepaired"
REVIEW = (
    UnderReview("M2", "A31-0050", "7Q22099", PANEL, *RAIL, 7, "2031-11-20T10:00:00Z", "5.02 V", "pass", 1, ""),
    UnderReview("M2", "A31-0041", "7Q22051", PANEL, *RAIL, 3, "2031-11-03T09:00:00Z", "4.99 V", "pass", 0, GONE),
    UnderReview("M2", "A31-0041", "7Q22051", PANEL, *RIPPLE, 9, "2031-11-04T09:00:00Z", "24 mV", "pass", 1, GONE),
    UnderReview("M2", "A31-0044", "7Q22077", PANEL, *RAIL, 2, "2031-11-09T09:00:00Z", "3.1 V", "fail", 0, BACK),
)


def released(serial: int, day: int, back_after: int | None = None, same_block: int | None = None) -> OutAndBack:
    """A panel that left so many days after the first one, and came back so many days later."""
    left = date(2031, 4, 2) + timedelta(days=day)
    back = None if back_after is None else f"{left + timedelta(days=back_after)}T08:00:00Z"
    back_job = None if back is None else f"A32-{serial:04d}"
    return OutAndBack(
        f"A31-{serial:04d}", f"7Q{serial:05d}", PANEL, f"{left}T15:30:00Z", back, back_job, same_block
    )  # fmt: skip


OUT_AND_BACK = (
    released(1, 0, 20, 1),
    released(2, 0, 100, 0),
    released(3, 0),
    released(4, 0),
    released(5, 266),
    released(6, 266, 60, None),
    released(7, 306),
    released(8, 306),
    released(9, 341),
    released(10, 341),
)
"""Days out until UNTIL: 366 (of which two came back on day 20 and day 100), 100 (one back on day 60), 60, 25."""


def margin(step: tuple[str, str], month: str, units: int, mean: float, sd: float) -> MonthMargins:
    """A month whose units scatter so much about their mean, the least of them twice as far below it."""
    return MonthMargins(PANEL, *step, month, units, mean, mean**2 + sd**2, mean - 2 * sd)


CREEPING = tuple(
    margin(RIPPLE, month, 5, 0.60 - 0.04 * at + wobble, 0.04)
    for at, (month, wobble) in enumerate(zip(MONTHS, (0.01, -0.01, 0.0, 0.01, -0.01, 0.0) * 2, strict=True))
)
"""Four hundredths less each month, to 0.16 in the last."""
STEADY = tuple(
    margin(RAIL, month, 4, 0.70 + wobble, 0.03)
    for month, wobble in zip(MONTHS[:8], (0.02, -0.02, 0.01, -0.01) * 2, strict=True)
)
LONE = (MonthMargins(THERMOSTAT, *SENSOR, "2031-09", 1, 0.40, 0.16, 0.40),)
SECONDS = (
    StepSeconds(PANEL, *RAIL, 20, 4),
    StepSeconds(PANEL, *RAIL, 25, 3),
    StepSeconds(PANEL, *RAIL, 30, 2),
    StepSeconds(PANEL, *RAIL, 300, 1),
    StepSeconds(PANEL, *MARKS, 95, 5),
    StepSeconds(PANEL, *MARKS, 120, 5),
    StepSeconds(THERMOSTAT, *SENSOR, 60, 1),
)
JOBS = (
    *(JobsMonth(PANEL, month, 4, 3) for month in MONTHS[:3]),
    JobsMonth(PANEL, MONTHS[5], 2, 5),
    JobsMonth(THERMOSTAT, MONTHS[5], 1, 0),
)
COUNTED = Counts(
    jobs=15,
    attempts=5204,
    first_tries=(FirstTries(THERMOSTAT, 2, 3), FirstTries(PANEL, 7, 9)),
    verdicts=VERDICTS,
    instruments=INSTRUMENTS,
    margins=(*CREEPING, *STEADY, *LONE),
    seconds=SECONDS,
    out_and_back=OUT_AND_BACK,
    blocks=BLOCKS,
    parts=PARTS,
    months=JOBS,
    review=REVIEW,
)
NOTHING = Counts(0, 0)
"""What a shop counts on its first day."""


def of(counts: Counts, board: str) -> Counts:
    """What is left of the counts when one board is asked for."""
    return Counts(
        sum(one.opened for one in counts.months if one.board == board),
        counts.attempts,
        tuple(one for one in counts.first_tries if one.board == board),
        tuple(one for one in counts.verdicts if one.board == board),
        tuple(one for one in counts.instruments if one.board == board),
        tuple(one for one in counts.margins if one.board == board),
        tuple(one for one in counts.seconds if one.board == board),
        tuple(one for one in counts.out_and_back if one.board == board),
        tuple(one for one in counts.blocks if one.board == board),
        tuple(one for one in counts.parts if one.board == board),
        tuple(one for one in counts.months if one.board == board),
        tuple(one for one in counts.review if one.board == board),
    )


@dataclass
class CountedArchive:
    """An archive that counted this, and remembers what it was asked."""

    counted: Counts = COUNTED
    fault: str = ""
    left_out: tuple[str, ...] = ()
    asked: list[tuple[str | None, Mapping[str, date]]] = field(default_factory=list)

    def counts(self, board: str | None, doubtful: Mapping[str, date]) -> Counts:
        """The counts of that board, or the disk's refusal."""
        self.asked.append((board, doubtful))
        if self.fault:
            raise BenchFailed(self.fault)
        return self.counted if board is None else of(self.counted, board)

    def visits(self, serial: str) -> tuple[Visit, ...]:
        """Nobody asks for them here."""
        del serial
        return ()

    def search(self, words: str) -> tuple[SaidRow, ...]:
        """Nobody wrote anything."""
        del words
        return ()

    def unread(self) -> tuple[str, ...]:
        """Jobs that couldn't be taken in."""
        return self.left_out
