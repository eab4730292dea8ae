"""How is one entry in the job's book written on a slip of paper?

Fields from top to bottom, Enter walks, F4 keeps, Esc leaves. A refusal is shown on the slip and nothing typed is lost.
"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Button, Input

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words, button
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.typed import Slot
from passcheck.app.widgets.writing import Writing
from passcheck.job.commands import Command, Refusal


class Slip(JobModal[bool]):
    """A slip becomes one command; dismisses True when it was kept."""

    AUTO_FOCUS = "Slot, Tick, Lines, Writing"
    TITLE_WORDS: ClassVar[str] = ""
    LEAD: ClassVar[str] = ""
    KEEP: ClassVar[str] = "Keep"
    DEFAULT_CSS = """
    Slip .row { height: 1; margin-bottom: 1; }
    Slip .row Words { width: 18; text-style: bold; }
    Slip .row Slot { width: 1fr; }
    Slip Writing { height: 4; margin-bottom: 1; }
    Slip .slip-foot { height: 1; margin-top: 1; }
    Slip .slip-foot Words { width: 1fr; margin-left: 2; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f4", "keep", "Keep", id="slip.keep", tooltip="Enters it into the job's journal."),
        Binding("escape", "leave", "Back", id="slip.leave", tooltip="Back without entering anything."),
    ]

    def compose(self) -> ComposeResult:
        """Title, fields, answers."""
        with VerticalScroll(classes="slip", can_focus=False):
            yield Words(self.TITLE_WORDS, classes="slip-title")
            if self.LEAD:
                yield Words(self.LEAD, classes="hint")
            yield from self.fields()
            with Horizontal(classes="slip-foot"):
                yield button(f"{self.KEEP} (F4)", id="keep")
                yield Words("Esc leaves it.", classes="hint")
            yield AnswerLine()

    def fields(self) -> ComposeResult:
        """What is asked."""
        yield from ()

    def row(self, words: str, ident: str, *, value: str = "", hint: str = "", secret: bool = False) -> ComposeResult:
        """One named field on one line."""
        with Horizontal(classes="row"):
            yield Words(words)
            yield Slot(value, placeholder=hint, id=ident, password=secret, max_length=4000)

    def typed(self, ident: str) -> str:
        """What stands in a field."""
        return self.query_one(f"#{ident}", Slot).value

    def written(self, ident: str) -> str:
        """What stands in a field of several lines."""
        return self.query_one(f"#{ident}", Writing).text

    def command(self) -> Command | Refusal:
        """The slip as a command, or what the slip itself finds missing."""
        raise AssertionError(f"{type(self).__name__} makes no command")

    async def action_keep(self) -> None:
        """Carry it out."""
        command = self.command()
        if isinstance(command, Refusal):
            self.show_refusal(command)
        elif await self.act(command) is not None:
            self.kept()

    def kept(self) -> None:
        """It stands in the journal."""
        self.dismiss(True)

    def action_leave(self) -> None:
        """Nothing is entered."""
        self.dismiss(False)

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter walks to the next field, and keeps after the last."""
        event.stop()
        fields = list(self.query(Slot))
        if event.input is fields[-1]:
            await self.action_keep()
        else:
            self.focus_next()

    def on_option_list_option_selected(self) -> None:
        """A line was chosen: what comes after it is next."""
        self.focus_next()

    async def on_button_pressed(self, event: Button.Pressed) -> None:
        """The button does what the key does."""
        event.stop()
        await self.action_keep()
