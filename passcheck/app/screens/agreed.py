"""What did the owner agree to, and who gave or took the word?"""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.widgets import OptionList

from passcheck.app.plain import Lines, Words, joined, line
from passcheck.app.screens.slip import Slip
from passcheck.app.widgets.typed import Slot
from passcheck.job.commands import AgreeOwner, Command

BETWEEN = "; "


class AgreedSlip(Slip):
    """One agreement a slip; those before it stay and are shown."""

    TITLE_WORDS: ClassVar[str] = "THE OWNER AGREED"
    LEAD: ClassVar[str] = "What goes beyond it is not agreed yet: ask before it is done."
    DEFAULT_CSS = "AgreedSlip Lines { max-height: 5; margin-bottom: 1; }"

    def fields(self) -> ComposeResult:
        """What was agreed before, then scope and person."""
        before = self.bench.job.agreed
        if before:
            yield Words("Agreed before", classes="ask")
            said = (joined(f"{one.moment.local():%d.%m. %H:%M}  {one.scope} ({one.who})") for one in before)
            yield Lines(*(line(words, disabled=True) for words in said))
        if self._proposed:
            yield Words("Proposed: Enter takes a line over, Tab goes on", classes="ask")
            yield Lines(*(line(words) for words in self._proposed), id="proposed")
        yield from self.row("To what", "scope", hint="C1 to C4 renewed, nothing on the lamps")
        yield from self.row("Who, and how", "who", hint="Ms Orme, by telephone 14:10")

    @property
    def _proposed(self) -> tuple[str, ...]:
        proposed = self.bench.job.proposed
        return proposed[-1].lines if proposed else ()

    def on_mount(self) -> None:
        """The scope is written first, where nothing proposed can be taken over."""
        self.query_one("#proposed" if self._proposed else "#scope").focus()

    @on(OptionList.OptionSelected, "#proposed")
    def take_over(self, event: OptionList.OptionSelected) -> None:
        """A line of the proposal goes into the scope, once; the next one is at hand."""
        event.stop()
        event.prevent_default()  # a slip's own way is to walk on to the next field
        scope = self.query_one("#scope", Slot)
        taken, wanted = scope.value.split(BETWEEN), self._proposed[event.option_index]
        if wanted not in taken:
            scope.value = BETWEEN.join(filter(None, (scope.value, wanted)))
        event.option_list.highlighted = min(event.option_index + 1, len(self._proposed) - 1)

    def command(self) -> Command:
        """The agreement."""
        return AgreeOwner(self.person, self.typed("scope"), self.typed("who"))
