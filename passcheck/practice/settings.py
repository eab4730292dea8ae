"""Who works at the robot's bench, and with what?

The people and instruments of a first bench.yaml, so that its figures are those of a bench as it comes; one of them is
authorised for all boards, no calibration falls due, and the bench's latency was filmed.
"""

from datetime import date

from passcheck.job.kept_latency import KeptLatency
from passcheck.job.settings import BenchSettings

NEVER_DUE = date(2999, 12, 31)


def robots_bench(first: BenchSettings, works: str, terminal: str, today: date) -> BenchSettings:
    """The same bench with the person who works authorised, and a latency that was filmed today.

    Args:
        first: what a first bench.yaml holds.
        works: the id of the person who works.
        terminal: where the latency was filmed, in words.
        today: when.
    """
    people = {
        name: it.model_copy(update={"hazardous_live": it.hazardous_live or name == works})
        for name, it in first.people.items()
    }
    instruments = {name: it.model_copy(update={"due": NEVER_DUE}) for name, it in first.instruments.items()}
    return filmed(first.model_copy(update={"people": people, "instruments": instruments}), terminal, today)


def filmed(bench: BenchSettings, terminal: str, today: date) -> BenchSettings:
    """The same bench after somebody has filmed its latency today; what was filmed counts for a season only."""
    latency = KeptLatency("0.05", "0.002", ("3", "3", "3", "3", "3"), "60", today.isoformat(), terminal)
    return bench.model_copy(update={"latency": latency})
