"""Does the unit leave without having passed, and as what?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Words, tell
from passcheck.app.screens.slip import Slip
from passcheck.job.commands import Command, Refusal, ReturnInPart, ReturnUnrepaired


class GiveBackSlip(Slip):
    """Unrepaired, or in part by the owner's choice; neither is a release, and both seal the journal."""

    TITLE_WORDS: ClassVar[str] = "RETURN WITHOUT A RELEASE"
    LEAD: ClassVar[str] = (
        "Neither of these is a sign-off. The journal is sealed after it. The unit has to be off and proved dead."
    )
    KEEP: ClassVar[str] = "Return it"

    def fields(self) -> ComposeResult:
        """One of two reasons, and a PIN where one is kept."""
        yield Words("Unrepaired: why?", classes="ask")
        yield from self.row("Reason", "reason", hint="owner declines; part not to be had")
        yield Words("Or repaired in part, by the owner's choice: who agreed, to what, when?", classes="ask")
        yield from self.row("Agreed", "agreed", hint="Ms Orme, on the phone 14:10: fuel gauge stays as it is")
        if self.person in self.desk.settings().pin_hashes:
            yield from self.row(f"PIN of {self.person}", "pin", secret=True)

    def kept(self) -> None:
        """The unit leaves; its papers and its label are the next thing."""
        tell(self.app, f"{self.bench.job.id}: {self.bench.job.ended}. Its papers and its label: p.")
        super().kept()

    def command(self) -> Command | Refusal:
        """The return that was filled in."""
        reason, agreed = self.typed("reason"), self.typed("agreed")
        pin = self.typed("pin") if self.query("#pin") else ""
        if reason.strip() and agreed.strip():
            return Refusal("entry", "Both are filled in.", "Empty one: the unit leaves as one thing.")
        if agreed.strip():
            return ReturnInPart(self.person, agreed, pin)
        return ReturnUnrepaired(self.person, reason, pin)
