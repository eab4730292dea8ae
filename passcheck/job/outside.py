"""What does the core need to know that its own events don't tell?"""

from dataclasses import dataclass

from passcheck.job.kept_latency import LatencyNow, latency_now
from passcheck.job.moment import Moment
from passcheck.job.settings import BenchSettings


@dataclass(frozen=True, slots=True)
class Outside:
    """The bench as it is now, seen from one job.

    Attributes:
        settings: people and instruments.
        todays_digest: SHA-256 of the sequence's file as it lies in the folder today; None when it isn't there.
        changed_steps: ids of the steps that today's newer revision marks as changed.
        terminal: the terminal at which taps are taken, in words; a latency filmed at another doesn't count.
        records_faults: what the records say is wrong with this journal or with the ledger, as sentences.
        records_marks: what stays said of this job since a damaged ledger was closed over it, as sentences; a person
            answered for it by name, so it doesn't block.
    """

    settings: BenchSettings
    todays_digest: str | None = None
    changed_steps: tuple[str, ...] = ()
    terminal: str = ""
    records_faults: tuple[str, ...] = ()
    records_marks: tuple[str, ...] = ()

    def latency_at(self, moment: Moment) -> LatencyNow:
        """What taps are judged with at this moment, at this terminal."""
        return latency_now(self.settings.latency, moment.local().date(), self.terminal)
