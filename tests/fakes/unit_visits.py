"""A unit's visits as the archive's rows, and an archive that holds them; every member can be given by name.

first = job_row("A31-0211", opened_at="2031-01-05T08:00:00Z", ended="signed off", ended_at="2031-01-20T15:00:00Z")
rows = JobRows(first, (left(first, "rail-5v", "5.010"),), (touch(first, "PWR"),))
"""

import sqlite3
from typing import Any

from passcheck.errors import BenchFailed
from passcheck.job.archive_rows import AttemptRow, JobRow, JobRows, SaidRow, TouchRow
from passcheck.job.counts import Counts
from passcheck.job.visits import Visit
from passcheck.records import archive_visits
from passcheck.records.archive_tables import make_tables, put_rows
from passcheck.records.ask_sql import ask_sqlite

SERIAL = "7Q22051"
RAIL, RAIL_TITLE = "rail-5v", "5 V logic rail"
WORDS_TABLE = (
    "CREATE VIRTUAL TABLE IF NOT EXISTS said_words USING "
    "fts5(text, content='said', content_rowid='rowid', tokenize='unicode61 remove_diacritics 2')"
)


def job_row(job: str, **members: Any) -> JobRow:
    """A visit of the unit that is still open unless `ended` is given."""
    facts: dict[str, Any] = {
        "bench": "A",
        "serial": SERIAL,
        "board": "OV-24P",
        "revision": 3,
        "title": "Overview panel 24 V",
        "complaint": "Fuel goes to nothing after half an hour",
        "condition": "seal broken",
        "symptoms": "",
        "opened_at": "2031-04-12T08:00:00Z",
        "opened_by": "t1",
        "outcome": "",
        "ended": "",
        "ended_at": "",
        "first_try": None,
        "arrived_with": "",
        "practice": 0,
        "digest": "0" * 64,
        **members,
    }
    facts.setdefault("ended_by", "t1" if facts["ended"] else "")
    facts.setdefault("last_at", facts["ended_at"] or facts["opened_at"])
    return JobRow(job=job, **facts)


def attempt_row(job: JobRow, step: str = RAIL, value: float | None = 5.0, **members: Any) -> AttemptRow:
    """An attempt at a step, by default a passed reading of the 5 V rail, with a meter that is 0.02 V uncertain."""
    facts: dict[str, Any] = {
        "number": 1,
        "run": 1,
        "purpose": "as-found",
        "board": job.board,
        "step": step,
        "kind": "reading",
        "title": RAIL_TITLE if step == RAIL else step,
        "at": job.opened_at,
        "by": "t1",
        "instrument": "M1",
        "verdict": "pass",
        "sentence": "inside",
        "value": value,
        "u": None if value is None else 0.02,
        "unit": "" if value is None else "V",
        "low": None if value is None else 4.85,
        "high": None if value is None else 5.15,
        "as_found": 0,
        "as_left": 0,
        "struck_by": "",
        "conditions": "",
        "late": 0,
        "seconds": None,
        **members,
    }
    read = facts["value"]
    facts.setdefault("figure", "" if read is None else f"{read:.2f} {facts['unit']}")
    facts.setdefault("margin", None if read is None else round((0.15 - abs(read - 5.0)) / 0.15, 6))
    return AttemptRow(job=job.job, **facts)


def found(job: JobRow, step: str = RAIL, value: float | None = 5.0, **members: Any) -> AttemptRow:
    """An attempt that stands as found."""
    return attempt_row(job, step, value, **{"as_found": 1, **members})


def left(job: JobRow, step: str = RAIL, value: float | None = 5.0, **members: Any) -> AttemptRow:
    """An attempt that counts as left."""
    return attempt_row(
        job, step, value, **{"as_left": 1, "purpose": "acceptance", "number": 2, "at": job.last_at, **members}
    )


def touch(job: JobRow, block: str, number: int = 1, **members: Any) -> TouchRow:
    """A rework of one block."""
    facts: dict[str, Any] = {
        "board": job.board,
        "line": 20 + number,
        "kind": "rework",
        "at": job.last_at,
        "by": "t1",
        "action": "replaced",
        "reason": "worn",
        "confirmed": None,
        "shown_by": "",
        **members,
    }
    return TouchRow(job=job.job, block=block, number=number, **facts)


def said(job: JobRow, text: str, place: int = 0, kind: str = "note", **members: Any) -> SaidRow:
    """Something that a person wrote."""
    facts = {"at": job.last_at, "by": "t1", "step": "", "serial": job.serial, **members}
    return SaidRow(job=job.job, place=place, kind=kind, text=text, **facts)


def told_unit(serial: str = SERIAL) -> tuple[JobRows, ...]:
    """Three visits: repaired, back with another fault and repaired, back with the first complaint and read as found."""
    first = job_row(
        "A30-0211",
        serial=serial,
        revision=2,
        opened_at="2030-12-05T08:00:00Z",
        complaint="Needle drops",
        outcome="complaint reproduced",
        ended="signed off",
        ended_at="2030-12-20T15:00:00Z",
    )
    second = job_row(
        "A31-0392",
        serial=serial,
        opened_at="2031-02-20T08:00:00Z",
        complaint="No sound from the beeper\nand the [red]panel[/red] is \x1b[31mdark",
        ended="signed off",
        ended_at="2031-03-02T08:00:00Z",
    )
    third = job_row("A31-0417", serial=serial)
    ripple = {"title": "Ripple on 5 V", "unit": "V", "u": 0.002, "low": None, "high": 0.06}
    return (
        JobRows(
            first,
            (
                found(first, value=4.62, number=1, verdict="fail"),
                found(first, "look-in", None, number=2, kind="look", title="Look inside", verdict="pass"),
                left(first, value=5.04, number=9),
                left(first, "ripple-5v", 0.024, number=10, figure="24 mV", margin=0.6, **ripple),
            ),
            (touch(first, "PWR", 1), touch(first, "PWR", 2)),
            (),
            (said(first, "Needle drops", 0, "complaint"), said(first, "C1 bulged", 1, step="ripple-5v")),
        ),
        JobRows(
            second,
            (
                found(second, value=5.03, number=1),
                found(second, "ripple-5v", 0.031, number=2, figure="31 mV", margin=0.483333, **ripple),
                left(second, value=5.02, number=9),
                left(second, "ripple-5v", 0.030, number=10, figure="30 mV", margin=0.5, **ripple),
            ),
            (touch(second, "BEEP"), touch(second, "LAMP", 2), touch(second, "PWR", 1, kind="incident", line=31)),
            (),
            (
                said(second, second.complaint, 0, "complaint"),
                said(second, "LS1 open, Kälte said the owner", 1, "reason"),
                said(second, "owner agreed by telephone", 2, "agreed"),
            ),
        ),
        JobRows(
            third,
            (
                found(third, value=4.81, number=1, verdict="fail", instrument="M4"),
                found(third, "ripple-5v", 0.052, number=2, figure="52 mV", margin=0.133333, **ripple),
            ),
            (),
            (),
            (said(third, third.complaint, 0, "complaint"),),
        ),
    )


def filled(*rows: JobRows, words: bool = True) -> sqlite3.Connection:
    """An archive's database with these jobs, with or without the index of words."""
    connection = sqlite3.connect(":memory:", check_same_thread=False)
    make_tables(connection)
    for one in rows:
        put_rows(connection, one)
    if words:
        connection.execute(WORDS_TABLE)
        connection.execute("INSERT INTO said_words (said_words) VALUES ('rebuild')")
    return connection


class HeldArchive:
    """An archive that holds the rows it is given; `fault` is what the disk says when it is asked."""

    def __init__(self, *rows: JobRows, fault: str = "", unread: tuple[str, ...] = ()) -> None:
        self.rows = list(rows)
        self.fault = fault
        self.left_out = unread
        self.asked: list[str] = []

    def visits(self, serial: str) -> tuple[Visit, ...]:
        """All visits of a unit, the oldest first."""
        return archive_visits.visits(ask_sqlite(self._opened(serial)), serial)

    def search(self, words: str) -> tuple[SaidRow, ...]:
        """What people wrote that holds all of these words."""
        return archive_visits.search(self._opened(words), words)

    def counts(self, board: str | None, doubtful: object) -> Counts:
        """Nobody counts here."""
        raise AssertionError("no counts are kept here")

    def unread(self) -> tuple[str, ...]:
        """Jobs that were left out."""
        return self.left_out

    def _opened(self, asked: str) -> sqlite3.Connection:
        self.asked.append(asked)
        if self.fault:
            raise BenchFailed(self.fault)
        return filled(*self.rows)
