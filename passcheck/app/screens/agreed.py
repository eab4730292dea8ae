"""What did the owner agree to, and who gave or took the word?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Lines, Words, joined, line
from passcheck.app.screens.slip import Slip
from passcheck.job.commands import AgreeOwner, Command


class AgreedSlip(Slip):
    """One agreement a slip; those before it stay and are shown."""

    TITLE_WORDS: ClassVar[str] = "THE OWNER AGREED"
    LEAD: ClassVar[str] = "What goes beyond it is not agreed yet: ask before it is done."
    DEFAULT_CSS = "AgreedSlip Lines { max-height: 6; margin-bottom: 1; }"

    def fields(self) -> ComposeResult:
        """What was agreed before, then scope and person."""
        before = self.bench.job.agreed
        if before:
            yield Words("Agreed before", classes="ask")
            said = (joined(f"{one.moment.local():%d.%m. %H:%M}  {one.scope} ({one.who})") for one in before)
            yield Lines(*(line(words, disabled=True) for words in said))
        yield from self.row("To what", "scope", hint="C1 to C4 renewed, nothing on the lamps")
        yield from self.row("Who, and how", "who", hint="Ms Orme, by telephone 14:10")

    def on_mount(self) -> None:
        """The scope is written first."""
        self.query_one("#scope").focus()

    def command(self) -> Command:
        """The agreement."""
        return AgreeOwner(self.person, self.typed("scope"), self.typed("who"))
