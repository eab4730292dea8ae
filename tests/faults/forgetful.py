"""Passcheck, but for one thing: what is acknowledged reaches the disk only with the next event.

python forgetful.py --logs FOLDER --sequences FOLDER

What its screen acknowledges last is nowhere when it is killed. Whoever counts losses has to find that.
"""

import sys
from collections.abc import Sequence

from passcheck.cli.main import run
from passcheck.job.journal_line import Line
from passcheck.records.job_journal import JobJournal

keep = JobJournal.append
late: dict[str, tuple[Sequence[Line], bool, bool]] = {}
"""By job: the lines that are still due, and what the ledger has to know of them."""


def append_late(journal: JobJournal, lines: Sequence[Line], *, fail: bool = False, seal: bool = False) -> None:
    """Keep what is due from before, and say that these lines are kept."""
    due = late.pop(journal.job_id, None)
    if due is not None:
        keep(journal, due[0], fail=due[1], seal=due[2])
    late[journal.job_id] = lines, fail, seal


def next_number(journal: JobJournal) -> int:
    """The number after the lines that are kept or due."""
    return len(journal.lines) + len(late.get(journal.job_id, ((),))[0])


if __name__ == "__main__":
    JobJournal.append = append_late  # type: ignore[method-assign, assignment]
    JobJournal.next_number = property(next_number)  # type: ignore[method-assign, assignment]
    sys.exit(run())
