"""What do the records and the bench say that goes on a paper?"""

from passcheck.cli.tool import tool
from passcheck.job.outside import Outside
from passcheck.records.evidence import Evidence
from passcheck.records.paper_folder import record_head
from passcheck.report.source import Source


def source_of(evidence: Evidence, outside: Outside) -> Source:
    """The records as they were read, and the bench as it is now; a sealed journal goes into the page itself."""
    settings, head = outside.settings, record_head(evidence)
    return Source(
        head=head,
        outside=outside,
        shop=settings.shop,
        place=settings.place or "",
        people=tuple((who, person.name) for who, person in settings.people.items()),
        instruments=tuple((which, one.serial or "") for which, one in settings.instruments.items()),
        warranty_months=settings.warranty_months,
        journal=evidence.journal if head.sealed else None,
        tool=tool(),
    )
