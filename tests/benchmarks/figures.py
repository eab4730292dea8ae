"""How long does it take to count four million attempts: DuckDB over Parquet files, and SQLite with and without indexes?

    .venv/bin/python tests/benchmarks/figures.py [--jobs 130000] [--rounds 3] [--folder FOLDER]

The archive is invented (`many_attempts.py`). Printed: seconds of the clock on the wall and of the processor, the best
of the rounds, because whatever else the machine does only adds to them; rows; sizes; and whether the answers are equal,
means to nine digits. The exit status is 1 where they differ.
"""

import argparse
import os
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from dataclasses import fields, replace
from datetime import date
from math import isclose
from pathlib import Path
from typing import TypeVar

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "benchmarks")]

import duckdb  # noqa: E402 - the paths come first
from many_attempts import carry_over, invent  # noqa: E402

from passcheck.job.counts import Counts, MonthMargins  # noqa: E402
from passcheck.records.archive_counts import counts  # noqa: E402
from passcheck.records.archive_tables import INDEXES  # noqa: E402
from passcheck.records.ask_sql import ask_sqlite  # noqa: E402
from passcheck.records.parquet_counts import counts_by_duckdb  # noqa: E402
from passcheck.records.parquet_folder import ParquetFolder  # noqa: E402

DOUBTFUL = {"DMM-1": date(2030, 10, 1)}
BOARD = "EK-8"
NINE_DIGITS = 1e-9
COUNTING_INDEXES = (
    'CREATE INDEX IF NOT EXISTS attempt_judged ON attempt (board, step, title, purpose, instrument, verdict, "at")'
    " WHERE struck_by <> 'void'",
    'CREATE INDEX IF NOT EXISTS attempt_margin ON attempt (board, step, substr("at", 1, 7), margin)'
    " WHERE as_left = 1 AND verdict = 'pass' AND margin IS NOT NULL AND struck_by <> 'void'",
    "CREATE INDEX IF NOT EXISTS attempt_seconds ON attempt (board, step, seconds)"
    " WHERE struck_by <> 'void' AND seconds IS NOT NULL",
)
"""With these SQLite finds all that a statement asks for in an index; the archive does without: they cost half its size
again, and a shop of that size has DuckDB."""
Answer = TypeVar("Answer")


def timed(what: str, act: Callable[[], Answer], rounds: int = 1) -> Answer:
    """Do it that often and print the best."""
    wall, processor = [], []
    for _round in range(rounds):
        began, worked = time.perf_counter(), time.process_time()
        answer = act()
        wall.append(time.perf_counter() - began)
        processor.append(time.process_time() - worked)
    print(f"{what:58} {min(wall):7.2f} s {min(processor):7.2f} s of processor", flush=True)
    return answer


def megabytes(paths: Iterable[Path]) -> str:
    """The size of files together."""
    return f"{sum(path.stat().st_size for path in paths if path.is_file()) / 1e6:.0f} MB"


def differences(one: Counts, other: Counts) -> list[str]:
    """Which counts differ: exactly, and means beyond nine digits."""

    def bare(found: Counts) -> Counts:
        return replace(found, margins=tuple(replace(each, mean=0, square_mean=0) for each in found.margins))

    def near(a: MonthMargins, b: MonthMargins) -> bool:
        pairs = ((a.mean, b.mean), (a.square_mean, b.square_mean))
        return all(isclose(x, y, rel_tol=NINE_DIGITS, abs_tol=NINE_DIGITS) for x, y in pairs)

    names = [each.name for each in fields(Counts)]
    found = [name for name in names if getattr(bare(one), name) != getattr(bare(other), name)]
    if not found and not all(map(near, one.margins, other.margins)):
        found.append("means")
    return found


def build(folder: Path, jobs: int) -> Path:
    """The invented archive in SQLite, without any index but the keys."""
    archive = folder / "archive.sqlite"
    with duckdb.connect() as invented:
        timed("rows invented", lambda: invent(invented, jobs))
        timed("put into SQLite, without indexes", lambda: carry_over(invented, archive, ()))
    print(f"    archive.sqlite: {megabytes([archive])}")
    return archive


def by_duckdb(connection: sqlite3.Connection, folder: Path, rounds: int) -> Counts:
    """Files made, then counted over."""
    files = ParquetFolder(folder / "figures")
    with files.held():
        made = timed("Parquet files made from SQLite", lambda: files.write_from(connection))
        timed("    whether they are still those of the archive", lambda: files.write_from(connection), rounds)
    print(f"    {made} batches, {megabytes((folder / 'figures').rglob('*'))}")
    found = timed(
        "DuckDB, every count of all boards, with that look",
        lambda: counts_by_duckdb(connection, files, None, DOUBTFUL),
        rounds,
    )
    timed("DuckDB, of one board", lambda: counts_by_duckdb(connection, files, BOARD, DOUBTFUL), rounds)
    return found


def by_sqlite(connection: sqlite3.Connection, path: Path, found: Counts) -> list[str]:
    """The same in SQLite, with more and more indexes."""
    differ = []
    for name, indexes in (("the keys alone", ()), ("the archive's indexes", INDEXES), ("all", COUNTING_INDEXES)):
        if indexes:
            timed(f"indexes made: {name}", lambda indexes=indexes: [connection.execute(one) for one in indexes])  # type: ignore[misc]
            print(f"    archive.sqlite: {megabytes([path])}")
        again = timed(
            f"SQLite, every count of all boards, indexes: {name}",
            lambda: counts(ask_sqlite(connection), None, DOUBTFUL),
        )
        differ += differences(found, again)
    timed("SQLite, of one board, indexes: all", lambda: counts(ask_sqlite(connection), BOARD, DOUBTFUL))
    return differ


def measure(folder: Path, jobs: int, rounds: int) -> bool:
    """Print what counting costs; whether all engines give the same answers."""
    path = build(folder, jobs)
    connection = sqlite3.connect(path)
    found = by_duckdb(connection, folder, rounds)
    print(f"    {found.jobs:,} jobs, {found.attempts:,} attempts, {len(found.out_and_back):,} releases")
    differ = by_sqlite(connection, path, found)
    connection.close()
    print(f"answers differ in: {', '.join(differ)}" if differ else "all answers equal, means to nine digits")
    return not differ


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0] if __doc__ else "")
    parser.add_argument("--jobs", type=int, default=130_000)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--folder", type=Path)
    asked = parser.parse_args()
    engines = f"SQLite {sqlite3.sqlite_version}, DuckDB {duckdb.__version__}"
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}, {engines}")
    with tempfile.TemporaryDirectory(dir=asked.folder) as name:
        return 0 if measure(Path(name), asked.jobs, asked.rounds) else 1


if __name__ == "__main__":
    sys.exit(main())
