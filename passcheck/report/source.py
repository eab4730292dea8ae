"""What does a paper need to know beside the job's own events?"""

from dataclasses import dataclass

from passcheck.job.outside import Outside
from passcheck.job.record_head import RecordHead


@dataclass(frozen=True, slots=True)
class Source:
    """What the records and the bench say.

    Attributes:
        head: journal and ledger, for the code on the paper.
        outside: the bench as the gate sees it now.
        shop, place: as bench.yaml has them; `place` may be "".
        people: ids of the records and the names that bench.yaml has for them.
        instruments: ids and serial numbers, "" where bench.yaml has none.
        warranty_months: what the shop gives on a release, or None where bench.yaml doesn't say.
        journal: the bytes of a sealed journal, to go inside the page; None while the job is open.
        tool: the program's name and version.
    """

    head: RecordHead
    outside: Outside
    shop: str
    place: str
    people: tuple[tuple[str, str], ...]
    instruments: tuple[tuple[str, str], ...]
    warranty_months: int | None
    journal: bytes | None
    tool: str
