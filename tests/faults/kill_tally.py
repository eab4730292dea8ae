"""What came of many kills: how many, how, and what was lost?"""

from collections import Counter
from dataclasses import dataclass, field


@dataclass(slots=True)
class Tally:
    """Counts of one round or of many; what should never be is kept as sentences."""

    kills: Counter[str] = field(default_factory=Counter)
    """By signal."""
    aims: Counter[str] = field(default_factory=Counter)
    """By what was waited for."""
    acknowledged: int = 0
    """Events that a screen, or a walker's line, had acknowledged before the kill."""
    seen: int = 0
    """Lines that had been read in the files before the kill."""
    torn: int = 0
    """Files that the kill left with an unfinished end."""
    told_late: int = 0
    """Lines of the ledger that came with the next opening."""
    ended: int = 0
    """Jobs that were walked to their seal."""
    lost: list[str] = field(default_factory=list)
    altered: list[str] = field(default_factory=list)
    ahead: list[str] = field(default_factory=list)
    unorderly: list[str] = field(default_factory=list)
    """Where the program was asked to end and ended with another status than it should; nothing is lost by that."""
    stuck: list[str] = field(default_factory=list)
    """Where the harness itself got nowhere: the screen it waited at."""

    @property
    def is_good(self) -> bool:
        """Nothing was lost, altered or shown too early, and nobody got stuck."""
        return not (self.lost or self.altered or self.ahead or self.stuck)

    def add(self, other: "Tally") -> None:
        """Count another round in."""
        self.kills += other.kills
        self.aims += other.aims
        self.acknowledged += other.acknowledged
        self.seen += other.seen
        self.torn += other.torn
        self.told_late += other.told_late
        self.ended += other.ended
        self.lost += other.lost
        self.altered += other.altered
        self.ahead += other.ahead
        self.unorderly += other.unorderly
        self.stuck += other.stuck

    def lines(self) -> list[str]:
        """As a benchmark prints it."""
        return [
            f"kills                        {self.kills.total():6}   {_each(self.kills)}",
            f"struck at                             {_each(self.aims)}",
            f"events acknowledged          {self.acknowledged:6}",
            f"lines read before the kill   {self.seen:6}",
            f"acknowledged events lost     {len(self.lost):6}",
            f"files altered                {len(self.altered):6}",
            f"screen ahead of its file     {len(self.ahead):6}",
            f"torn ends found and mended   {self.torn:6}",
            f"ledger lines told late       {self.told_late:6}",
            f"jobs walked to their seal    {self.ended:6}",
            f"ends with a wrong status     {len(self.unorderly):6}",
            f"harness stuck                {len(self.stuck):6}",
        ]

    def wrongs(self) -> list[str]:
        """What should never be, as sentences."""
        return [
            f"{kind}: {sentence}"
            for kind, found in (
                ("lost", self.lost),
                ("altered", self.altered),
                ("ahead", self.ahead),
                ("unorderly", self.unorderly),
                ("stuck", self.stuck),
            )
            for sentence in found
        ]


def _each(counts: Counter[str]) -> str:
    return ", ".join(f"{name} {count}" for name, count in sorted(counts.items()))
