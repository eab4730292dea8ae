"""What stands on a unit's label, and does the label belong to the unit in hand?"""

import io
import sys
from typing import TextIO

from passcheck.bench.ports import Papers
from passcheck.bench.shop import Shop
from passcheck.cli.say import complain, say, say_practice
from passcheck.report.label import both, label

GOOD, NO_MATCH = 0, 1
ASKED = ("the unit's serial, off the unit", "the label's last line")
LONGEST = 400
"""Characters of one scan that are read; far more than a label holds."""


def label_command(shop: Shop, papers: Papers, job_id: str) -> int:
    """Print the label's lines; give the exit status.

    Raises:
        FileFault: there is no such job, or it is still open.
        BenchFailed: the disk refuses.
    """
    job = shop.look(job_id.upper())
    for line in label(job, papers.head(job.id), shop.settings().warranty_months):
        say(line)
    return GOOD


def scan_both_command(shop: Shop, papers: Papers, job_id: str, scanned: TextIO | None = None) -> int:
    """Read two lines, the unit's serial and the label, and say whether they belong together: 0 if so, else 1.

    Args:
        shop: the jobs.
        papers: what the records say of them.
        job_id: the job at hand.
        scanned: where the two lines come from, the standard input if it isn't said; on a terminal each is asked for.

    Raises:
        FileFault: there is no such job.
        BenchFailed: the disk refuses.
    """
    job = shop.look(job_id.upper())
    source = sys.stdin if scanned is None else scanned
    if isinstance(source, io.TextIOWrapper):
        source.reconfigure(errors="replace")  # what isn't text is no label, and not a fault of ours
    serial, label_text = (_read(source, words) for words in ASKED)
    match = both(label_text, serial, job, papers.head(job.id))
    if job.facts.practice:
        say_practice()
    say(match.word)
    say(match.sentence)
    return GOOD if match.fits else NO_MATCH


def _read(source: TextIO, words: str) -> str:
    if source.isatty():
        complain(f"Scan {words}:")
    return source.readline(LONGEST)
