"""How do the lines of a journal become moments and events again?"""

from collections.abc import Iterable, Iterator
from datetime import datetime

from passcheck.job.events import JobOpened, Resumed
from passcheck.job.journal_line import Line
from passcheck.job.moment import Moment
from passcheck.job.state import Recorded
from passcheck.job.tags import decode


def recorded(lines: Iterable[Line]) -> Iterator[Recorded]:
    """Each line as a recorded event; the boot and the offset are those of the last opening or resuming before it.

    Raises:
        FileFault: a known tag whose facts can't be read.
    """
    boot_id, offset_min = "", 0
    for line in lines:
        event = decode(line.event, line.data)
        if isinstance(event, (JobOpened, Resumed)):
            boot_id, offset_min = event.boot_id, event.offset_min
        moment = Moment(datetime.fromisoformat(line.at), offset_min, line.clock, boot_id)
        yield Recorded(line.number, moment, line.by, event)


def stamp(moment: Moment) -> str:
    """The moment as a line's `at`: UTC with milliseconds, such as 2031-04-02T09:14:03.512Z."""
    return moment.utc.strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.utc.microsecond // 1000:03d}Z"
