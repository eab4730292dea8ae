"""Jobs to make a paper of, with what the records and the bench say beside them.

paper = recorded(story.job, story.outside)
paper = recorded(*sample("A31-0001"))
"""

from dataclasses import replace

from rig import settings
from sample_set import SampleSet, rig_of, sample_set
from telling import Telling

from passcheck.job.outside import Outside
from passcheck.job.record_head import RecordHead
from passcheck.job.state import Job
from passcheck.report.document import Paper
from passcheck.report.source import Source
from passcheck.report.test_record import test_record as full_record

HEAD = RecordHead(size=4096, digest="ab" * 32, sealed=False, ledger_bytes=512, ledger_digest="cd" * 32)
SERIAL_OF_M1 = "M-4711"


def source_of(job: Job, outside: Outside | None = None) -> Source:
    """What stands beside a job: the bench of the tests, whose meter M1 has a serial number."""
    seen = outside or Outside(settings())
    return Source(
        head=replace(HEAD, sealed=job.ended is not None),
        outside=seen,
        shop="Brackwater Electronics",
        place="Hollin Quay",
        people=tuple((name, person.name) for name, person in seen.settings.people.items()),
        instruments=tuple((name, SERIAL_OF_M1 if name == "M1" else "") for name in seen.settings.instruments),
        warranty_months=12,
        journal=None,
        tool="passcheck test",
    )


def recorded(job: Job, beside: Source | Outside | None = None) -> Paper:
    """The test record of a job, with what stands beside it, or with the bench as it is seen from it."""
    source = beside if isinstance(beside, Source) else source_of(job, beside)
    return full_record(job, source)


def record_of(told: Telling) -> Paper:
    """The test record of a unit's whole story."""
    return recorded(told.job, told.bench.outside())


def sample(job_id: str, name: str = "set-1") -> tuple[Job, Source]:
    """A job of the sample journals, folded."""
    kept: SampleSet = sample_set(name)
    shop = rig_of(kept.folder, job_id).shop
    job = shop.look(job_id)
    return job, source_of(job, shop.outside(job))
