"""What changes for this unit when it goes on under today's sequence file, and why does it?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content

from passcheck.app.plain import Words, joined
from passcheck.app.screens.slip import Slip
from passcheck.bench.bench import Bench
from passcheck.job.commands import Command, ReviseSequence
from passcheck.job.revising import Revising, revising
from passcheck.sequence.model import Sequence

TITLES_SHOWN = 12


class ReviseSlip(Slip):
    """The two revisions beside each other, and how many results go stale; it can't be undone."""

    AUTO_FOCUS = "Slot"
    TITLE_WORDS: ClassVar[str] = "TODAY'S SEQUENCE FILE"
    LEAD: ClassVar[str] = "The unit has to be off, and no run open. What goes stale is walked again; nothing is erased."
    KEEP: ClassVar[str] = "Go on under it"
    DEFAULT_CSS = """
    ReviseSlip #difference { height: auto; max-height: 9; background: $card-row; padding: 0 1; margin-bottom: 1; }
    """

    def __init__(self, bench: Bench, sequence: Sequence, text: str, digest: str) -> None:
        """Take the unit in hand, and today's file: its model, its text and that text's digest."""
        super().__init__(bench)
        self._sequence, self._text, self._digest = sequence, text, digest

    def fields(self) -> ComposeResult:
        """The difference, and why."""
        with VerticalScroll(id="difference"):
            yield Words(difference(revising(self.bench.job, self._sequence, self.bench.moment())))
        yield from self.row("Why", "why", hint="limit of the ripple step was mended")

    def command(self) -> Command:
        """The new revision."""
        return ReviseSequence(self.person, self._text, self._digest, self.typed("why"))


def difference(found: Revising) -> Content:
    """Line by line what is different, the results that go stale first."""
    age = "older than" if found.new < found.old else "the same as" if found.new == found.old else "newer than"
    results = "1 result goes" if len(found.stale) == 1 else f"{len(found.stale)} results go"
    rows = [
        joined((f"Today's is revision {found.new}, {age} this job's revision {found.old}.", "bold")),
        joined((f"{results} stale.", "bold")),
        _titles("Marked as changed", found.marked)
        if found.marked
        else joined("No step is marked as changed, so every step counts as changed."),
    ]
    rows += [_titles("New steps", found.added)] if found.added else []
    rows += [_titles("Steps no longer there", found.dropped)] if found.dropped else []
    return Content("\n").join(rows)


def _titles(words: str, titles: tuple[str, ...]) -> Content:
    more = f" and {len(titles) - TITLES_SHOWN} more" if len(titles) > TITLES_SHOWN else ""
    return joined((f"{words}: ", "bold"), "; ".join(titles[:TITLES_SHOWN]), more)
