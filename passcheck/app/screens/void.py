"""Why is an attempt withdrawn, and was a cause at the bench shown gone?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Words
from passcheck.app.screens.slip import Slip
from passcheck.bench.bench import Bench
from passcheck.job.commands import Command, VoidAttempt
from passcheck.job.state import Attempt


class VoidSlip(Slip):
    """A void is kept and printed; it takes a fail away only with a bench cause that was shown gone."""

    TITLE_WORDS: ClassVar[str] = "VOID AN ATTEMPT"
    LEAD: ClassVar[str] = (
        "It stays readable and is printed. A fail stays a fail, unless a cause at the bench is named and shown gone."
    )

    def __init__(self, bench: Bench, attempt: Attempt) -> None:
        """Take the attempt."""
        super().__init__(bench)
        self._attempt = attempt

    def fields(self) -> ComposeResult:
        """Reason, and the cause at the bench."""
        one = self._attempt
        yield Words(
            f"Attempt {one.number} on {one.step}: {one.judgement.verdict}. {one.judgement.sentence}", classes="ask"
        )
        yield from self.row("Reason", "reason", hint="probe slipped, wrong point")
        yield from self.row("Cause at bench", "cause", hint="leave empty if there was none")
        yield from self.row("Shown gone by", "gone", hint="how you know that it is gone")

    def command(self) -> Command:
        """The void."""
        return VoidAttempt(
            self.person,
            self._attempt.number,
            self.typed("reason"),
            self.typed("cause") or None,
            self.typed("gone") or None,
        )
