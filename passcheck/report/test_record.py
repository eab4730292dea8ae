"""What is the full record of a job: everything that was observed, by whom, with what, and how it was judged?

The other papers tell a part of it. Each section is a module of its own, `record_*.py`, and answers one question. An
open job has a record too: it says first that it is no release.
"""

from collections.abc import Callable
from typing import Final

from passcheck.job.state import Job
from passcheck.report.document import Paper, Part
from passcheck.report.on_every_paper import paper
from passcheck.report.record_attempts import attempts
from passcheck.report.record_burn_in import burn_in
from passcheck.report.record_cautions import cautions
from passcheck.report.record_codes import codes
from passcheck.report.record_complaint import complaint
from passcheck.report.record_environment import environment
from passcheck.report.record_instruments import instruments
from passcheck.report.record_long_texts import with_rows_that_fit
from passcheck.report.record_not_tested import not_tested
from passcheck.report.record_outcome import against, outcome, refused
from passcheck.report.record_results import results
from passcheck.report.record_rules import rules
from passcheck.report.record_runs import runs
from passcheck.report.record_said import said
from passcheck.report.record_trials import trials
from passcheck.report.record_unit import unit
from passcheck.report.record_work import work
from passcheck.report.source import Source

SECTIONS: Final[tuple[Callable[[Job, Source], tuple[Part, ...]], ...]] = (
    outcome,
    unit,
    complaint,
    runs,
    results,
    codes,
    trials,
    burn_in,
    work,
    attempts,
    said,
    not_tested,
    against,
    refused,
    rules,
    instruments,
    environment,
    cautions,
)
"""In the order in which they stand on the paper: what it amounts to, what was found, and then how it was found."""


def test_record(job: Job, source: Source) -> Paper:
    """The whole record of a job, open or ended."""
    parts = with_rows_that_fit(part for section in SECTIONS for part in section(job, source))
    return paper("test-record", "Test record", job, source, parts)
