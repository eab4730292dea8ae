"""How do several benches share one archive, while each goes on without it?

A bench publishes what is sealed: the journal's bytes and the rows made from them, many jobs in one transaction, and the
mark that says which in the same. What is published already is left alone, so whoever was cut off in the middle, or
doesn't know whether the server took it, publishes again. The bench's own journals stay the truth and its own archive
stays beside it: nothing here is asked for while a unit is worked on.

A job number belongs to one bench for ever. A number that comes with another journal is told and left out: either a
journal was altered, or two benches have the same letter.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import sha256
from itertools import islice
from typing import TYPE_CHECKING, Final

from passcheck.errors import BenchFailed, ExtraMissing
from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_intake import Rows
from passcheck.records.archive_tables import column_types
from passcheck.records.shared_tables import BARE, make_tables, put_rows, same_format, sql, storable

if TYPE_CHECKING:
    from passcheck.records.shared_tables import Server

AT_ONCE: Final = 100
"""Jobs a transaction: a server that goes away undoes at most so many, and they are published again."""
PATIENCE_S: Final = 5
"""Seconds to wait for a server that doesn't answer."""
_SLOWEST_MS: Final = 120_000
_MISSING: Final = (
    "The shared archive needs the extra 'postgres', which isn't installed. Run: pip install 'passcheck[postgres]'."
)
_OTHER: Final = (
    "{job}: another journal lies there under this number, so this one was left out. Run 'passcheck verify {job}' at "
    "this bench, and see that no two benches have the same letter in bench.yaml."
)
_CHANGED: Final = "{job}: its journal changed since it was taken in, so it was left out. Run 'passcheck verify {job}'."
_PASSWORD: Final = re.compile(r"(?<=:)[^:@/]*(?=@)|(?<=password=)\S+")


@dataclass(frozen=True, slots=True)
class Sealed:
    """One sealed job to be published; its journal is read only when it is needed."""

    job: str
    bench: str
    digest: str
    journal: Callable[[], bytes]


@dataclass(frozen=True, slots=True)
class Published:
    """What came of publishing."""

    new: tuple[str, ...]
    """Jobs that were put there now."""
    before: int
    """Jobs that had been there."""
    refused: tuple[str, ...]
    """Why some were left out, a sentence each."""


class SharedArchive:
    """The archive of several benches in one PostgreSQL database."""

    def __init__(self, address: str, rows_of_journal: Callable[[bytes], Rows]) -> None:
        """Nothing is asked before the first question.

        Args:
            address: what PostgreSQL's own client takes.
            rows_of_journal: makes the rows of a journal that somebody vouches for.
        """
        self._address = address
        self._rows_of = rows_of_journal

    def publish(self, sealed: Iterable[Sealed]) -> Published:
        """Put every sealed job there that isn't yet.

        Raises BenchFailed when the server can't be reached or goes away; what was published until then stays.
        """
        new: list[str] = []
        refused: list[str] = []
        before, waiting = 0, iter(sealed)
        with self._server() as server:
            while batch := list(islice(waiting, AT_ONCE)):
                with server.transaction():
                    wanted, known, wrong = _sorted_out(server, batch)
                    put = [(one, data) for one, data in wanted if _marked(server, one, data)]
                    put_rows(server, [self._rows_of(data) for _one, data in put])
                new += [one.job for one, _data in put]
                before += known + len(wanted) - len(put)
                refused += wrong
        return Published(tuple(new), before, tuple(refused))

    def rebuild(self) -> int:
        """Make all rows anew from the journals that lie there, in one transaction; give the number of jobs."""
        with self._server(any_format=True) as server, server.transaction():
            for table in (*TABLES, BARE, "archive_format"):
                server.execute(sql(f"DROP TABLE IF EXISTS {table}"))
            make_tables(server)
            jobs = [job for (job,) in server.execute("SELECT job FROM published ORDER BY job").fetchall()]
            for job in jobs:
                put_rows(server, [self._rows_of(_journal(server, job))])
        return len(jobs)

    def check(self) -> tuple[str, ...]:
        """What there differs from the journals that lie there, as sentences; empty where all agrees."""
        found: list[str] = []
        with self._server() as server:
            marks = server.execute("SELECT job, digest FROM published ORDER BY job").fetchall()
            strays = "SELECT job FROM job WHERE job NOT IN (SELECT job FROM published) ORDER BY job"
            found += [f"{job}: it has rows and was never published." for (job,) in server.execute(strays).fetchall()]
            for job, digest in marks:
                found += _compared(server, job, digest, self._rows_of)
        return tuple(found)

    @contextmanager
    def asking(self) -> Iterator[Server]:
        """A connection for questions, all of one moment. Raises BenchFailed as `publish` does."""
        with self._server() as server, server.transaction():
            server.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            yield server

    @contextmanager
    def _server(self, *, any_format: bool = False) -> Iterator[Server]:
        try:
            import psycopg
        except ImportError:
            raise ExtraMissing(_MISSING) from None
        # A server may be set to answer before it has written: it could forget what we take for published.
        options = f"-c search_path=passcheck -c synchronous_commit=on -c statement_timeout={_SLOWEST_MS}"
        try:
            with psycopg.connect(self._address, connect_timeout=PATIENCE_S, options=options, autocommit=True) as server:
                if not any_format:
                    with server.transaction():
                        make_tables(server)
                    same_format(server)
                yield server
        except psycopg.Error as fault:
            raise BenchFailed(self._away(fault)) from fault

    def _away(self, fault: Exception) -> str:
        said = " ".join(str(fault).split())[:200]
        return (
            f"The shared archive {_PASSWORD.sub('…', self._address)} didn't do it ({said}). Nothing of this bench is "
            "lost: go on working, and publish when it is back."
        )


def _sorted_out(server: Server, batch: Sequence[Sealed]) -> tuple[list[tuple[Sealed, bytes]], int, list[str]]:
    """Those that aren't there with their journals, how many are there, and why some can't be."""
    asked = [one.job for one in batch]
    found = server.execute("SELECT job, digest FROM published WHERE job = ANY(%s)", (asked,)).fetchall()
    there = {str(job): str(digest) for job, digest in found}
    wrong = [_OTHER.format(job=one.job) for one in batch if there.get(one.job, one.digest) != one.digest]
    known = len(there) - len(wrong)
    read = [(one, one.journal()) for one in batch if one.job not in there]
    wanted = [(one, data) for one, data in read if sha256(data).hexdigest() == one.digest]
    unchanged = {one.job for one, _data in wanted}
    wrong += [_CHANGED.format(job=one.job) for one, _data in read if one.job not in unchanged]
    return wanted, known, wrong


def _marked(server: Server, one: Sealed, data: bytes) -> bool:
    """Put the mark and the journal; False where another process of this bench was quicker."""
    put = server.execute(
        "INSERT INTO published (job, bench, digest, journal) VALUES (%s, %s, %s, %s) ON CONFLICT DO NOTHING",
        (one.job, one.bench, one.digest, data),
    )
    return put.rowcount == 1


def _journal(server: Server, job: str) -> bytes:
    (data,) = server.execute("SELECT journal FROM published WHERE job = %s", (job,)).fetchall()[0]
    return bytes(data)


def _compared(server: Server, job: str, digest: str, rows_of_journal: Callable[[bytes], Rows]) -> Iterator[str]:
    data = _journal(server, job)
    if sha256(data).hexdigest() != digest:
        yield f"{job}: the journal that lies there isn't the one that was published."
        return
    for table, wanted in rows_of_journal(data):
        names = ", ".join(name for name, _type in column_types(table))
        there = server.execute(sql(f"SELECT {names} FROM {table} WHERE job = %s"), (job,)).fetchall()
        if sorted(there, key=repr) != sorted((tuple(map(storable, row)) for row in wanted), key=repr):
            yield f"{job}: its rows in '{table}' aren't those of its journal. Run 'passcheck archive rebuild --shared'."
