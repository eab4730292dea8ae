"""How do a job's records become a paper that is kept?

It fits the port `PaperMaker`. Records are read once for a paper, so that what it says and what it can be held against
are of the same bytes.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from passcheck.bench.own_jobs import own_lines
from passcheck.errors import ExtraMissing, FileFault
from passcheck.job.made_paper import MadePaper
from passcheck.records.job_number import job_number
from passcheck.records.paper_folder import PaperFolder, paper_name

if TYPE_CHECKING:  # a start waits for none of this
    from passcheck.bench.shop import Shop
    from passcheck.job.label_match import Match
    from passcheck.job.state import Job
    from passcheck.report.document import Kind, Paper, Size
    from passcheck.report.source import Source


@dataclass(frozen=True, slots=True)
class Told:
    """A job as its records tell it, and what goes on a paper of it."""

    job: Job
    source: Source

    @property
    def remarks(self) -> tuple[str, ...]:
        """What the records say against themselves; it stands on the paper too."""
        return (*self.source.outside.records_faults, *self.source.outside.records_marks)


class JobPapers:
    """The papers of a shop's jobs."""

    def __init__(self, shop: Shop, folder: PaperFolder, size: Size | None = None) -> None:
        """Make papers of this shop, kept in that folder; `size` is for sheets other than bench.yaml has."""
        self._shop = shop
        self._folder = folder
        self._size = size

    def possible(self, job: Job) -> tuple[str, ...]:
        """The kinds of paper that make sense as the job stands, the most wanted first."""
        from passcheck.report.possible import possible

        return possible(job)

    def make(self, job_id: str, kind: str) -> MadePaper:
        """Make one paper from the records as they are now, and keep it.

        Raises:
            FileFault: the job has no such paper as it stands, or its records can't bear one; the sentence says why.
            BenchFailed: the disk refuses.
        """
        told = self.told(job_id)
        return self.keep(self.drawn(kind_named(kind), told), told)

    def label(self, job_id: str) -> tuple[str, ...]:
        """The lines of the label that goes on the unit. Raises FileFault when it gets none as it stands."""
        from passcheck.report.label import label

        told = self.told(job_id)
        return label(told.job, told.source.head, told.source.warranty_months)

    def both(self, job_id: str, label_text: str, serial: str) -> Match:
        """Do a label and the serial off a unit, both scanned, belong together and to this job?"""
        from passcheck.report.label import both

        told = self.told(job_id)
        return both(label_text, serial, told.job, told.source.head)

    def told(self, job_id: str) -> Told:
        """A job and what its records say, from one reading.

        Raises:
            FileFault: there is no such job here, or its records hold what no crash leaves.
            BenchFailed: they can't be read.
        """
        from passcheck.cli.paper_source import source_of
        from passcheck.job.fold import fold
        from passcheck.job.replay import recorded

        evidence = self._folder.evidence(str(job_number(job_id.upper())))
        lines = own_lines(evidence.file.lines, practice=self._shop.practice)
        if evidence.damage:
            raise FileFault(f"No paper is made of records that were altered. {evidence.damage[0]}")
        job = fold(recorded(lines), self._shop.boards.read)
        return Told(job, source_of(evidence, self._shop.outside(job)))

    def drawn(self, kind: Kind, told: Told) -> Paper:
        """A paper, not yet set. Raises FileFault when the job has none of that kind as it stands."""
        from passcheck.report.papers import make

        return make(kind, told.job, told.source)

    def keep(self, paper: Paper, told: Told) -> MadePaper:
        """Keep a paper as a page, or as text where nothing here sets pages. Raises BenchFailed."""
        from passcheck.report.plain import plain_text
        from passcheck.report.typeset import typeset

        size = self._size or told.source.outside.settings.paper
        try:
            page = typeset(paper, size)
        except ExtraMissing as missing:
            text = plain_text(paper).encode("utf-8")
            name = paper_name(paper.kind, paper.job, told.source.head, "txt")
            return self._kept(paper, told, name, text, f"{missing} It is kept as text.")
        name = paper_name(paper.kind, paper.job, told.source.head, "pdf", size)
        return self._kept(paper, told, name, page.pdf, *page.warnings)

    def _kept(self, paper: Paper, told: Told, name: str, data: bytes, *said: str) -> MadePaper:
        return MadePaper(self._folder.keep(paper.job, name, data), (*told.remarks, *said))


def kind_named(word: str) -> Kind:
    """The kind of paper with that name. Raises FileFault, with the names there are, for any other word."""
    from passcheck.report.possible import KINDS

    if word in KINDS:
        return word
    near = difflib.get_close_matches(word, KINDS, n=1, cutoff=0.5)
    meant = f"Did you mean '{near[0]}'?" if near else f"There are: {', '.join(KINDS)}."
    raise FileFault(f"There is no paper '{word[:40]}'. {meant}")
