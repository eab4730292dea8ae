"""Does the archive count what happened, each thing once?"""

import sqlite3
from datetime import date

from counted_rows import a_job, a_part, a_touch, an_attempt

from passcheck.job.archive_rows import AttemptRow, JobRow, JobRows, PartRow, TouchRow
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
from passcheck.records.archive_counts import counts
from passcheck.records.archive_tables import make_tables, put_rows
from passcheck.records.ask_sql import ask_sqlite

OFF, BACK = "signed off", "returned unrepaired"


def job_rows(
    job: JobRow,
    *attempts: AttemptRow,
    touched: tuple[TouchRow, ...] = (),
    parts: tuple[PartRow, ...] = (),
) -> JobRows:
    return JobRows(job, attempts, touched, parts)


def counted(
    *rows: JobRows, board: str | None = None, doubtful: dict[str, date] | None = None, practice: int = 0
) -> Counts:
    archive = sqlite3.connect(":memory:")
    make_tables(archive)
    for one in rows:
        put_rows(archive, one)
    found = counts(ask_sqlite(archive), board, doubtful or {}, practice)
    archive.close()
    return found


def test_an_archive_without_jobs_counts_nothing() -> None:
    assert counted() == Counts(0, 0)


def test_verdicts_are_counted_by_step_and_purpose_and_a_void_is_none() -> None:
    found = counted(
        job_rows(
            a_job("J1"),
            an_attempt("J1", 1, purpose="as-found", verdict="fail", struck_by="rework 1"),
            an_attempt("J1", 2, verdict="pass"),
            an_attempt("J1", 3, verdict="in doubt"),
            an_attempt("J1", 4, verdict="in doubt", struck_by="void"),
            an_attempt("J1", 5, step="hum", title="Hum", verdict="not measured"),
        ),
        job_rows(a_job("J2"), an_attempt("J2", 1, verdict="pass")),
    )
    assert (found.jobs, found.attempts) == (2, 5)
    assert found.verdicts == (
        StepVerdicts("OV-24P", "hum", "Hum", "acceptance", 0, 0, 0, 1),
        StepVerdicts("OV-24P", "rail", "Rail at rest", "acceptance", 2, 0, 1, 0),
        StepVerdicts("OV-24P", "rail", "Rail at rest", "as-found", 0, 1, 0, 0),
    )


def test_a_step_bears_its_latest_title_and_stays_one_step() -> None:
    found = counted(
        job_rows(a_job("J1"), an_attempt("J1", 1, title="Zero", at="2031-01-02T08:00:00Z", seconds=9)),
        job_rows(a_job("J2"), an_attempt("J2", 1, title="Rail at rest", at="2031-02-02T08:00:00Z", seconds=11)),
    )
    assert found.verdicts == (StepVerdicts("OV-24P", "rail", "Rail at rest", "acceptance", 2, 0, 0, 0),)
    assert found.seconds == (StepSeconds("OV-24P", "rail", "Rail at rest", 10, 2),)


def test_readings_with_an_instrument_are_judged_and_what_was_not_measured_is_none() -> None:
    found = counted(
        job_rows(
            a_job("J1"),
            an_attempt("J1", 1, instrument="M1", verdict="pass"),
            an_attempt("J1", 2, instrument="M1", verdict="in doubt", purpose="as-found"),
            an_attempt("J1", 3, instrument="M1", verdict="not measured"),
            an_attempt("J1", 4, instrument="M2", verdict="fail"),
            an_attempt("J1", 5, instrument="M2", verdict="in doubt", struck_by="void"),
            an_attempt("J1", 6, instrument="", verdict="in doubt"),
        )
    )
    assert found.instruments == (
        InstrumentVerdicts("M1", "OV-24P", "rail", 2, 1),
        InstrumentVerdicts("M2", "OV-24P", "rail", 1, 0),
    )


def test_margins_are_those_that_units_left_with_month_by_month() -> None:
    march, april = "2031-03-31T23:59:59Z", "2031-04-01T00:00:00Z"
    found = counted(
        job_rows(
            a_job("J1"),
            an_attempt("J1", 1, at=march, margin=0.1, as_left=0),
            an_attempt("J1", 2, at=march, margin=0.5, as_left=1),
        ),
        job_rows(a_job("J2"), an_attempt("J2", 1, at=april, margin=0.25, as_left=1)),
        job_rows(a_job("J3"), an_attempt("J3", 1, at=april, margin=-0.25, as_left=1)),
        job_rows(a_job("J4"), an_attempt("J4", 1, at=april, margin=None, as_left=1)),
    )
    assert found.margins == (
        MonthMargins("OV-24P", "rail", "Rail at rest", "2031-03", 1, 0.5, 0.25, 0.5),
        MonthMargins("OV-24P", "rail", "Rail at rest", "2031-04", 2, 0.0, 0.0625, -0.25),
    )


def test_seconds_are_rounded_to_five() -> None:
    times = (0, 2, 3, 7, 8, 12, None)
    tries = (an_attempt("J1", number, seconds=seconds) for number, seconds in enumerate(times))
    found = counted(job_rows(a_job("J1"), *tries, an_attempt("J1", 99, seconds=5, struck_by="void")))
    assert [(one.seconds, one.attempts) for one in found.seconds] == [(0, 2), (5, 2), (10, 2)]


def test_first_tries_are_counted_where_a_first_acceptance_run_was_closed() -> None:
    found = counted(
        job_rows(a_job("J1", first_try=1)),
        job_rows(a_job("J2", first_try=0)),
        job_rows(a_job("J3", first_try=1)),
        job_rows(a_job("J4", first_try=None)),
        job_rows(a_job("J5", board="QM-48", first_try=0)),
    )
    assert found.first_tries == (FirstTries("OV-24P", 2, 3), FirstTries("QM-48", 0, 1))


def test_a_release_knows_the_units_next_arrival_and_whether_it_was_the_same_block() -> None:
    worked = (a_touch("J1", 4, "supply"), a_touch("J1", 5, "drive"))
    again = (a_touch("J2", 9, "supply"),)
    found = counted(
        job_rows(
            a_job("J1", ended=OFF, opened_at="2031-01-01T08:00:00Z", ended_at="2031-01-03T08:00:00Z"), touched=worked
        ),
        job_rows(
            a_job("J2", ended=OFF, opened_at="2031-02-01T08:00:00Z", ended_at="2031-02-03T08:00:00Z"), touched=again
        ),
        job_rows(
            a_job("J3", ended=BACK, opened_at="2031-03-01T08:00:00Z", ended_at="2031-03-03T08:00:00Z"), touched=()
        ),
        job_rows(a_job("J4", ended=OFF, opened_at="2031-04-01T08:00:00Z", ended_at="2031-04-03T08:00:00Z")),
        job_rows(a_job("J5", opened_at="2031-05-01T08:00:00Z")),
    )
    assert found.out_and_back == (
        OutAndBack("J1", "S1", "OV-24P", "2031-01-03T08:00:00Z", "2031-02-01T08:00:00Z", "J2", 1),
        OutAndBack("J2", "S1", "OV-24P", "2031-02-03T08:00:00Z", "2031-03-01T08:00:00Z", "J3", None),
        OutAndBack("J4", "S1", "OV-24P", "2031-04-03T08:00:00Z", "2031-05-01T08:00:00Z", "J5", None),
    )


def test_a_release_that_touched_another_block_than_the_one_before_is_told_from_a_visit_without_a_release() -> None:
    times = [(f"2031-0{month}-01T08:00:00Z", f"2031-0{month}-03T08:00:00Z") for month in range(1, 5)]
    jobs = [
        a_job(f"J{number}", ended=ended, opened_at=opened_at, ended_at=ended_at)
        for number, (ended, (opened_at, ended_at)) in enumerate(zip((OFF, OFF, OFF, BACK), times, strict=True), 1)
    ]
    found = counted(
        job_rows(jobs[0], touched=(a_touch("J1", 4, "supply"),)),
        job_rows(jobs[1], touched=(a_touch("J2", 4, "drive"),)),
        job_rows(jobs[2]),
        job_rows(jobs[3]),
    )
    assert [(one.job, one.back_job, one.same_block) for one in found.out_and_back] == [
        ("J1", "J2", 0),
        ("J2", "J3", 0),
        ("J3", "J4", None),
    ]


def test_another_units_arrival_is_no_return_and_neither_is_one_before_the_release() -> None:
    out = a_job("J1", ended=OFF, opened_at="2031-01-01T08:00:00Z", ended_at="2031-01-03T08:00:00Z")
    found = counted(
        job_rows(out),
        job_rows(a_job("J2", serial="S2", opened_at="2031-02-01T08:00:00Z")),
        job_rows(a_job("J3", board="QM-48", opened_at="2031-02-01T08:00:00Z")),
        job_rows(a_job("J4", opened_at="2031-01-02T08:00:00Z")),
    )
    assert found.out_and_back == (OutAndBack("J1", "S1", "OV-24P", "2031-01-03T08:00:00Z", None, None, None),)


def test_a_blocks_jobs_are_counted_once_however_many_entries_they_took() -> None:
    shown = "rail hum"
    found = counted(
        job_rows(
            a_job("J1", ended=OFF),
            touched=(
                a_touch("J1", 4, "supply", confirmed=1, shown_by=shown),
                a_touch("J1", 7, "supply", confirmed=1, shown_by=shown),
                a_touch("J1", 8, "drive", kind="incident", confirmed=0),
                a_touch("J1", 9, "", kind="case opened"),
            ),
        ),
        job_rows(a_job("J2", ended=OFF), touched=(a_touch("J2", 4, "supply", confirmed=1, shown_by="rail"),)),
        job_rows(a_job("J3", ended=OFF), touched=(a_touch("J3", 4, "supply", confirmed=0),)),
        job_rows(a_job("J4"), touched=(a_touch("J4", 4, "supply"), a_touch("J4", 5, "drive"))),
    )
    assert found.blocks == (
        BlockWork("OV-24P", "drive", 1, 0, 0, ()),
        BlockWork("OV-24P", "supply", 4, 3, 2, (("rail", 2), ("hum", 1))),
    )


def test_parts_are_counted_by_month_number_and_job() -> None:
    found = counted(
        job_rows(
            a_job("J1"),
            parts=(
                a_part("J1", "C4", part_number="X1"),
                a_part("J1", "C4", part_number="X1", rework=2),
                a_part("J1", "C5"),
            ),
        ),
        job_rows(
            a_job("J2"), parts=(a_part("J2", "C4", part_number="X1"), a_part("J2", "C5", at="2031-05-01T00:00:00Z"))
        ),
    )
    assert found.parts == (
        PartMonth("OV-24P", "2031-04", "C4", "X1", 3, 2),
        PartMonth("OV-24P", "2031-04", "C5", "", 1, 1),
        PartMonth("OV-24P", "2031-05", "C5", "", 1, 1),
    )


def test_months_have_what_was_opened_and_what_was_released_in_them() -> None:
    found = counted(
        job_rows(a_job("J1", ended=OFF, opened_at="2031-01-31T08:00:00Z", ended_at="2031-02-01T08:00:00Z")),
        job_rows(a_job("J2", ended=BACK, opened_at="2031-01-02T08:00:00Z", ended_at="2031-03-01T08:00:00Z")),
    )
    assert found.months == (JobsMonth("OV-24P", "2031-01", 2, 0), JobsMonth("OV-24P", "2031-02", 0, 1))


def test_readings_since_an_instruments_last_good_check_are_under_review() -> None:
    found = counted(
        job_rows(
            a_job("J1", serial="S7", ended=OFF),
            an_attempt("J1", 1, instrument="M1", at="2031-03-31T09:59:59Z"),
            an_attempt("J1", 2, instrument="M1", at="2031-03-31T10:00:00Z", figure="5.01 V", as_left=1),
            an_attempt("J1", 3, instrument="M1", at="2031-05-01T10:00:00Z", verdict="not measured"),
            an_attempt("J1", 4, instrument="M1", at="2031-05-01T10:00:00Z", struck_by="void"),
            an_attempt("J1", 5, instrument="M2", at="2031-05-01T10:00:00Z"),
        ),
        doubtful={"M1": date(2031, 4, 1), "M3": date(2031, 1, 1)},
    )
    assert found.review == (
        UnderReview(
            "M1", "J1", "S7", "OV-24P", "rail", "Rail at rest", 2, "2031-03-31T10:00:00Z", "5.01 V", "pass", 1, OFF
        ),
    )


def test_one_board_is_counted_without_the_others() -> None:
    mine = job_rows(
        a_job("J1", ended=OFF, ended_at="2031-04-03T08:00:00Z", first_try=1),
        an_attempt("J1", 1, instrument="M1", margin=0.5, as_left=1, seconds=5),
        touched=(a_touch("J1", 4, "supply"),),
        parts=(a_part("J1", "C4"),),
    )
    other = job_rows(
        a_job("J2", board="QM-48", ended=OFF, ended_at="2031-04-03T08:00:00Z", first_try=1),
        an_attempt("J2", 1, board="QM-48", instrument="M1", margin=0.5, as_left=1, seconds=5),
        touched=(a_touch("J2", 4, "supply", board="QM-48"),),
        parts=(a_part("J2", "C4", board="QM-48"),),
    )
    doubtful = {"M1": date(2031, 1, 1)}
    alone = counted(mine, doubtful=doubtful)
    assert counted(mine, other, board="OV-24P", doubtful=doubtful) == alone
    assert alone.jobs == 1
    assert counted(mine, other, board="' OR '1'='1", doubtful=doubtful) == Counts(0, 0)


def test_practice_is_never_counted_with_real_jobs() -> None:
    def one(job: str, practice: int) -> JobRows:
        return job_rows(
            a_job(job, ended=OFF, ended_at="2031-04-03T08:00:00Z", first_try=1, practice=practice),
            an_attempt(job, 1, instrument="M1", margin=0.5, as_left=1, seconds=5),
            touched=(a_touch(job, 4, "supply"),),
            parts=(a_part(job, "C4"),),
        )

    doubtful = {"M1": date(2031, 1, 1)}
    both = one("J1", 0), one("J2", 1)
    assert counted(*both, doubtful=doubtful) == counted(one("J1", 0), doubtful=doubtful)
    assert counted(*both, doubtful=doubtful, practice=1) == counted(one("J2", 1), doubtful=doubtful, practice=1)
