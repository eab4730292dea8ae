"""What would the archive of a shop hold after years, so that counting can be timed?

Invented rows, the same each time: DuckDB draws them from hashes of running numbers. A job has about 31 attempts of a
board's 30 steps; one in three has a rework, one in ten units comes back.
"""

import sqlite3
from pathlib import Path
from typing import Final

from duckdb import DuckDBPyConnection

from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_tables import column_types, insert

BOARDS: Final = ("OV-24P", "QM-48", "EK-8", "TH-12", "PM-7")
STEPS: Final = 30
A_BATCH: Final = 50_000
"""Rows that are carried over at a time."""

_JOBS = """
    INSERT INTO job
    SELECT 'A-' || lpad(CAST(n AS TEXT), 6, '0') AS job, 'A' AS bench,
        'S' || CAST(hash(n) % ({jobs} * 9 // 10) AS TEXT) AS serial, list_extract({boards}, 1 + n % 5) AS board,
        1 + n // ({jobs} // 4 + 1) AS revision, 'Controller of kind ' || CAST(n % 5 AS TEXT) AS title,
        'Stops after a while, then the lamp blinks; owner saw it ' || CAST(n % 97 AS TEXT) || ' times' AS complaint,
        'dusty' AS condition, 'no-start lamp-blinks' AS symptoms,
        strftime(opened, '%Y-%m-%dT%H:%M:%SZ') AS opened_at, 't' || CAST(n % 4 AS TEXT) AS opened_by,
        strftime(opened + INTERVAL 3 DAY, '%Y-%m-%dT%H:%M:%SZ') AS last_at, 'fault found' AS outcome,
        CASE WHEN hash(n + 1) % 100 < 90 THEN 'signed off' WHEN hash(n + 1) % 100 < 97 THEN 'returned unrepaired'
            ELSE '' END AS ended,
        CASE WHEN hash(n + 1) % 100 < 97 THEN strftime(opened + INTERVAL 3 DAY, '%Y-%m-%dT%H:%M:%SZ')
            ELSE '' END AS ended_at,
        't1' AS ended_by, CASE WHEN hash(n + 1) % 100 < 90 THEN CAST(hash(n + 2) % 100 < 83 AS BIGINT) END AS first_try,
        '' AS arrived_with, CAST(0 AS BIGINT) AS practice, sha256(CAST(n AS TEXT)) AS digest
    FROM (SELECT n, TIMESTAMP '2023-01-02 07:00:00' + to_seconds(n * (8 * 365 * 86400 // {jobs})) AS opened
        FROM generate_series(0, {jobs} - 1) AS numbers(n))
"""
_ATTEMPTS = """
    INSERT INTO attempt
    SELECT job, place + 4 AS number, 1 + CAST(place >= 12 AS BIGINT) AS run,
        CASE WHEN place < 12 THEN 'as-found' WHEN place < 14 THEN 'retest' ELSE 'acceptance' END AS purpose, board,
        's' || lpad(CAST(step AS TEXT), 2, '0') AS step, CASE WHEN measured THEN 'reading' ELSE 'look' END AS kind,
        'Voltage at test point ' || CAST(step AS TEXT) AS title,
        strftime(CAST(opened_at AS TIMESTAMP) + to_seconds(place * 173), '%Y-%m-%dT%H:%M:%SZ') AS at, opened_by AS by,
        CASE WHEN measured THEN 'DMM-' || CAST(1 + h % 5 AS TEXT) ELSE '' END AS instrument, verdict,
        'The reading lies inside its limits, with ' || CAST(h % 89 AS TEXT) || ' % to spare.' AS sentence,
        CASE WHEN measured THEN round(5 + (h % 2000) / 10000.0, 4) END AS value, CASE WHEN measured THEN 0.01 END AS u,
        CASE WHEN measured THEN 'V' ELSE '' END AS unit, CASE WHEN measured THEN 4.75 END AS low,
        CASE WHEN measured THEN 5.25 END AS high,
        CASE WHEN measured THEN format('{{:.2f}} V', 5 + (h % 2000) / 10000.0) ELSE '' END AS figure,
        CASE WHEN measured THEN round((h % 9973) / 9973.0, 6) END AS margin,
        CAST(place < 12 AS BIGINT) AS as_found, CAST(place >= 14 AS BIGINT) AS as_left,
        CASE WHEN h % 211 = 0 THEN 'void' WHEN place = 12 THEN 'rework 1' ELSE '' END AS struck_by,
        '' AS conditions, CAST(0 AS BIGINT) AS late,
        CASE WHEN h % 17 <> 0 THEN CAST(5 + h % 60 + (h // 1000) % 120 AS BIGINT) END AS seconds
    FROM (SELECT job.*, place, step, hash(job.digest, place) AS h, step % 10 < 6 AS measured,
            CASE hash(place, job.digest) % 50 WHEN 0 THEN 'fail' WHEN 1 THEN 'in doubt' WHEN 2 THEN 'not measured'
                ELSE 'pass' END AS verdict
        FROM job, (SELECT p AS place, CASE WHEN p < 14 THEN p ELSE p - 13 END AS step
            FROM generate_series(0, 43) AS places(p)) AS places
        WHERE hash(job.job) % 3 = 0 OR place >= 18)
"""
_TOUCHED = """
    INSERT INTO touched
    SELECT job, board, CAST(60 AS BIGINT) AS line, 'rework' AS kind, CAST(1 AS BIGINT) AS number,
        'block-' || CAST(hash(digest) % 8 AS TEXT) AS block, last_at AS at, opened_by AS by, 'replaced' AS action,
        'Capacitor bulged and warm' AS reason,
        CASE WHEN ended = 'signed off' THEN CAST(hash(digest) % 3 > 0 AS BIGINT) END AS confirmed,
        CASE WHEN ended = 'signed off' AND hash(digest) % 3 > 0
            THEN 's0' || CAST(hash(digest) % 9 AS TEXT) || ' s1' || CAST(hash(job) % 9 AS TEXT) ELSE '' END AS shown_by
    FROM job WHERE hash(job.job) % 3 = 0
"""
_PARTS = """
    INSERT INTO part
    SELECT job, board, CAST(1 AS BIGINT) AS rework, 'C' || CAST(hash(job) % 40 AS TEXT) AS part,
        'P-' || CAST(hash(job) % 40 AS TEXT) AS part_number, touched.at AS at
    FROM touched
"""
_SAID = """
    INSERT INTO said
    SELECT job, CAST(0 AS BIGINT) AS place, 'complaint' AS kind, opened_at AS at, opened_by AS by, '' AS step,
        complaint AS text, serial FROM job
"""


def invent(connection: DuckDBPyConnection, jobs: int) -> None:
    """Make the archive's tables in an empty DuckDB database."""
    boards = "[" + ", ".join(f"'{board}'" for board in BOARDS) + "]"
    for table, words in zip(TABLES, (_JOBS, _ATTEMPTS, _TOUCHED, _PARTS, _SAID), strict=True):
        columns = ", ".join(f'"{name}" {kind}' for name, kind in column_types(table))
        connection.execute(f"CREATE TABLE {table} ({columns})")
        connection.execute(words.format(jobs=jobs, boards=boards))


def carry_over(source: DuckDBPyConnection, target: Path, indexes: tuple[str, ...]) -> None:
    """The same rows in an SQLite file."""
    from passcheck.records.archive_tables import create

    archive = sqlite3.connect(target)
    for table in TABLES:
        archive.execute(create(table))
        found = source.execute(f"SELECT * FROM {table} ORDER BY job")
        while rows := found.fetchmany(A_BATCH):
            archive.executemany(insert(table), rows)
    for index in indexes:
        archive.execute(index)
    archive.commit()
    archive.close()
