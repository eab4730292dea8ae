"""What is the owner asked to agree to?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Words
from passcheck.app.screens.slip import Slip
from passcheck.app.widgets.writing import Writing
from passcheck.job.commands import Command, Propose
from passcheck.job.proposing import to_start_from
from passcheck.job.state import Job


class ProposeSlip(Slip):
    """A line a thing, written over the latest proposal or over what the fails suggest; earlier ones stay kept."""

    TITLE_WORDS: ClassVar[str] = "PROPOSE TO THE OWNER"
    LEAD: ClassVar[str] = "One line a thing, so that the owner can agree to each by itself. Papers show the latest."
    DEFAULT_CSS = "ProposeSlip #lines { height: 8; }"

    def fields(self) -> ComposeResult:
        """Where the lines come from, and the lines."""
        job = self.bench.job
        yield Words(started_from(job), classes="ask")
        yield Writing(text="\n".join(to_start_from(job)), id="lines")

    def command(self) -> Command:
        """The proposal; an empty line between others is no thing."""
        return Propose(self.person, tuple(line for line in self.written("lines").splitlines() if line.strip()))


def started_from(job: Job) -> str:
    """Whose words stand in the slip before anybody types."""
    if job.proposed:
        last = job.proposed[-1]
        return f"The proposal of {last.moment.local():%d.%m. %H:%M}, by {last.by}: change it, F4 keeps a new one."
    if to_start_from(job):
        return "Drawn from what fails. Strike, change and add: nothing of it is proposed yet."
    return "Nothing fails so far. Write what you propose."
