"""What does the sequence itself say of where the fault may be, and of what is renewed together?

A suggestion out of the author's own words; nobody proposed it, and whoever does the work decides.
"""

from collections.abc import Iterable

from passcheck.job.state import Job
from passcheck.report.document import Part, Words
from passcheck.sequence.model import ALL_BLOCKS, Step

MARKED = "A suggestion of the test sequence, not a proposal:"


def suggestions(job: Job, failed: Iterable[Step]) -> tuple[str, ...]:
    """A sentence for each block that these steps prove; a step that proves every block points at none."""
    pointed: dict[str, list[str]] = {}
    for step in failed:
        for name in step.proves if ALL_BLOCKS not in step.proves else ():
            if name in job.sequence.blocks:
                pointed.setdefault(name, []).append(step.title)
    return tuple(_block(job, name, titles) for name, titles in pointed.items())


def suggested_parts(job: Job, failed: Iterable[Step]) -> tuple[Part, ...]:
    """The same as paragraphs, marked as what they are."""
    return tuple(Words(f"{MARKED} {words}", "small") for words in suggestions(job, failed))


def _block(job: Job, name: str, titles: list[str]) -> str:
    block = job.sequence.blocks[name]
    groups = "".join(f" Renewed together: {', '.join(group)}." for group in block.renew_together)
    return f"{block.title} ({name}) is what these failed steps prove: {', '.join(titles)}.{groups}"
