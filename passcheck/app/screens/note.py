"""What should be remembered about this step, in words and photos?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.typed import Slot
from passcheck.app.widgets.writing import Writing
from passcheck.bench.bench import Bench
from passcheck.job.commands import AddNote
from passcheck.sequence.model import Step


class NoteScreen(JobModal[bool]):
    """Words and the paths of photos, on a step or on the job as a whole."""

    CSS_PATH = "slips.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f4,f5", "keep", "Keep", priority=True, id="note.keep", tooltip="Keeps the note."),
        Binding("escape", "leave", "Back", priority=True, id="note.leave", tooltip="Back; the note is not kept."),
    ]

    def __init__(self, bench: Bench, step: Step | None) -> None:
        """Args: bench: the unit in hand; step: what the note is about, None for the whole job."""
        super().__init__(bench)
        self._step = step

    def compose(self) -> ComposeResult:
        """Words, then photos."""
        with Vertical(classes="slip"):
            yield Words(f"NOTE ON {self._step.title if self._step else 'THE JOB'}", classes="slip-title")
            yield Writing()
            yield Words("Photos: their paths, with a semicolon between")
            yield Slot(id="photos", select_on_focus=False)
            yield Words("F4 keeps it, Escape goes back without, Tab walks.", classes="hint")
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands at the words."""
        self.query_one(Writing).focus()

    async def on_input_submitted(self, event: Slot.Submitted) -> None:
        """Enter after the photos keeps the note too."""
        event.stop()
        await self.action_keep()

    async def action_keep(self) -> None:
        """Keep the note."""
        text = self.query_one(Writing).text.strip()
        photos = tuple(path.strip() for path in self.query_one("#photos", Slot).value.split(";") if path.strip())
        about = self._step.id if self._step else None
        if await self.act(AddNote(self.person, text, about, photos)) is not None:
            self.dismiss(True)

    def action_leave(self) -> None:
        """Back without."""
        self.dismiss(False)
