"""How does a job's record leave the bench: exactly, as a table, or as a folder that an outsider can check?"""

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from passcheck.bench.own_jobs import own_lines
from passcheck.bench.shop import Shop
from passcheck.cli.say import complain, json_text, practice_mark, say
from passcheck.cli.show import came_with
from passcheck.cli.show_json import card_text
from passcheck.cli.tool import tool
from passcheck.errors import FileFault
from passcheck.job.attempts_table import HEADS, attempt_rows
from passcheck.job.csv_text import csv_text
from passcheck.job.fold import fold
from passcheck.job.replay import recorded, stamp
from passcheck.job.state import Job
from passcheck.job.traveller import card
from passcheck.records.agreement import sequence_text
from passcheck.records.check_note import ATTEMPTS, CARD, Handed
from passcheck.records.evidence import Evidence, exact, gather
from passcheck.records.hand_over import NOTE, files_of, hand_over
from passcheck.records.job_number import job_number
from passcheck.records.journal_file import State
from passcheck.records.note_checks import SEQUENCE
from passcheck.records.shop import LogFolder
from passcheck.records.verified import verify_job, verify_ledger


def export_json(shop: Shop, logs: LogFolder, job_id: str) -> int:
    """Print every line of the journal with all its members, nothing cleaned or cut; give the exit status.

    What could act on a terminal is written as an escape, which any reader of JSON turns back into the same text.
    """
    evidence = _evidence(shop, logs, job_id)
    print(json_text({"export": exact(evidence), **practice_mark(shop.practice)}))
    return _status(evidence)


def export_csv(shop: Shop, logs: LogFolder, job_id: str) -> int:
    """Print the attempts as a table for a spreadsheet; give the exit status."""
    evidence = _evidence(shop, logs, job_id)
    table = _table(_job(shop, evidence))
    # As bytes: the table has line ends and an alphabet of its own, whatever this terminal has.
    sys.stdout.flush()
    sys.stdout.buffer.write(table)
    sys.stdout.buffer.flush()
    return _status(evidence)


def export_to(shop: Shop, logs: LogFolder, job_id: str, to: Path, records: Path) -> int:
    """Write the folder for an outsider; give the exit status.

    Args:
        shop: whose job it is.
        logs: the journals of that shop.
        job_id: the job's number, in capitals or not.
        to: the folder below which the job's own is made.
        records: the bench's folder of records, in which nothing is written.
    """
    evidence = _evidence(shop, logs, job_id)
    without, job = "", None
    try:
        job = _job(shop, evidence)
    except FileFault as fault:
        without = str(fault)
    handed = Handed(
        evidence,
        files_of(evidence, _papers(shop, evidence, job) if job is not None else {}),
        _found(logs, evidence.job),
        without,
        shop.practice,
        job.sequence.revision if job is not None else None,
        tool(),
        stamp(shop.clock()),
    )
    folder = hand_over(handed, to, records)
    say(f"{folder}: {len(handed.files) + 1} files, each read back and equal. {NOTE} says how to check them.")
    closing = ", and who closed a ledger and why" if evidence.closed else ""
    holds = f"the unit's serial, the owner's words and people's initials{closing}"
    say(f"The folder holds {holds}: mind whom you give it to.")
    return _status(evidence)


def _found(logs: LogFolder, job_id: str) -> Sequence[str]:
    """What verify says of a job and of the ledger."""
    verified = verify_job(logs, job_id)
    return (*verify_ledger(logs).faults, *verified.faults, *verified.remarks)


def _status(evidence: Evidence) -> int:
    """1 where journal and ledger can't both be what they were; table and lines can't say so themselves."""
    for one in (*evidence.damage, *evidence.marks):
        complain(one)
    return 1 if evidence.damage else 0


def _evidence(shop: Shop, logs: LogFolder, job_id: str) -> Evidence:
    """The record of a job of this kind of shop; one that was copied across is refused."""
    evidence = gather(logs, str(job_number(job_id.upper())))
    own_lines(evidence.file.lines, practice=shop.practice)
    return evidence


def _job(shop: Shop, evidence: Evidence) -> Job:
    """The job that these very bytes make. Raises FileFault when they were altered or can't be read."""
    if evidence.file.state is State.ALTERED:
        raise FileFault(evidence.damage[0])
    return fold(recorded(evidence.file.lines), shop.boards.read)


def _papers(shop: Shop, evidence: Evidence, job: Job) -> Mapping[str, bytes]:
    """What is made of the record, by file name."""
    text = sequence_text(evidence.file.lines) or ""  # a job was made of these lines, so there is one
    return {SEQUENCE: text.encode("utf-8"), ATTEMPTS: _table(job), CARD: _card(shop, job)}


def _table(job: Job) -> bytes:
    return csv_text(HEADS, attempt_rows(job)).encode("utf-8")


def _card(shop: Shop, job: Job) -> bytes:
    """What `show --json` prints, to the byte."""
    outside = shop.outside(job)
    text = card_text(job, outside, card(job, outside, shop.clock()), came_with(shop, job))
    return f"{text}\n".encode("ascii")
