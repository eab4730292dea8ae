"""How does a person answer for a damaged ledger, and what is said of what was done?"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING

from passcheck.cli.clock import now
from passcheck.cli.folders import Folders, practice_folders
from passcheck.cli.say import complain, say
from passcheck.cli.wire import bench_files, log_folder
from passcheck.errors import FileFault
from passcheck.job.pin import pin_matches
from passcheck.job.settings import BenchSettings

if TYPE_CHECKING:  # the closing itself is loaded when it is done
    from passcheck.records.ledger_closing import LedgerClosed

JOBS_A_LINE = 7


def close_ledger(asked: argparse.Namespace, folders: Folders, ask: Callable[[str], str]) -> int:
    """Close the ledger in a person's name; `ask` reads a line that isn't shown. Give the exit status."""
    files = bench_files(practice_folders(folders) if asked.practice else folders)
    if not files.path.exists():
        raise FileFault(f"{files.path}: there is none yet, so nobody is among its people who could close a ledger.")
    settings = files.read()
    if asked.person not in settings.people:
        raise FileFault(f"'{asked.person}' is not among the people in {files.path}. 'passcheck bench show' lists them.")
    if (refusal := may_not_close(asked.person, settings)) is not None:
        raise FileFault(refusal)
    kept = settings.pin_hashes.get(asked.person)
    if kept is not None and not pin_matches(kept, ask(f"{asked.person}'s PIN: ")):
        complain(f"That is not {asked.person}'s PIN. Nothing was changed.")
        return 1
    logs = log_folder(folders, settings.letter, now, practice=asked.practice)
    _say_closed(logs.close_ledger(asked.person, asked.because), logs.ledger.path.name)
    return 0


def may_not_close(person: str, settings: BenchSettings) -> str | None:
    """Why this person doesn't answer for the ledger: a lead does, and a technician where the bench has no lead."""
    leads = [key for key, one in settings.people.items() if one.role == "lead"]
    if leads and person not in leads:
        return f"{person} is no lead of this bench; its ledger is closed by {' or '.join(leads)}."
    if not leads and settings.people[person].role != "technician":
        return f"{person} is a second person here; where a bench has no lead, a technician closes its ledger."
    return None


def _say_closed(closed: LedgerClosed, ledger: str) -> None:
    kept = closed.kept
    for fault in closed.faults:
        say(f"Found damaged: {fault}.")
    say(f"{ledger} is closed and kept as {kept.file}: {kept.bytes} bytes, {kept.lines} lines of it hold,")
    say(f"SHA-256 {kept.digest}.", indent=1)
    say(f"A new {ledger} goes on from it, and so do the job numbers.")
    say("Jobs that stay marked, on their traveller and at their sign-off:")
    _say_jobs(closed.marked)
    if closed.without_journal:
        say("Without a journal; look for it in a backup:")
        _say_jobs(closed.without_journal)


def _say_jobs(jobs: tuple[str, ...]) -> None:
    for start in range(0, len(jobs), JOBS_A_LINE):
        say("  ".join(jobs[start : start + JOBS_A_LINE]), indent=1)
    if not jobs:
        say("none", indent=1)
