"""What did the job answer: refused, and what lifts it; or could the bench not do it?"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from passcheck.app.plain import Words, joined

if TYPE_CHECKING:  # a start pays for no command; there is no cycle
    from passcheck.job.commands import Refusal

Undone = Literal["read", "opened", "made"]
"""What was to be done where nothing was entered that could be lost."""


class AnswerLine(Words):
    """The one place of a screen where refusals and failures are shown; hidden while there is none."""

    DEFAULT_CSS = """
    AnswerLine { display: none; height: auto; max-height: 6; padding: 0 1; background: $panel; color: $foreground;
                 border-left: thick $warning; }
    AnswerLine.-shown { display: block; }
    AnswerLine.-fault { border-left: thick $error; }
    """

    def refuse(self, refusal: Refusal) -> None:
        """Show why not, and what would change the answer."""
        lift = (("  To lift it: ", "bold"), refusal.lift) if refusal.lift else ()
        self._show(joined(("REFUSED  ", "bold"), refusal.sentence, *lift), fault=False)

    def fail(self, sentence: str) -> None:
        """Show that the bench could not do it; nothing of the command was kept."""
        self._show(joined(("NOT KEPT  ", "bold"), sentence), fault=True)

    def could_not(self, undone: Undone, sentence: str) -> None:
        """Show that the bench could not do something that keeps nothing."""
        self._show(joined((f"NOT {undone.upper()}  ", "bold"), sentence), fault=True)

    def clear_answer(self) -> None:
        """Show nothing."""
        self.remove_class("-shown", "-fault")

    def _show(self, content: object, *, fault: bool) -> None:
        self.update(content)  # type: ignore[arg-type]
        self.set_class(fault, "-fault")
        self.add_class("-shown")
        # On a slip longer than the window it stands below the edge; what was refused unseen looks like a dead key.
        self.call_after_refresh(self.scroll_visible, animate=False)
