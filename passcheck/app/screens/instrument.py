"""With which instrument is this step measured, if not with the one that the run took up?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import OptionList

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Lines, Words, line
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.bench.bench import Bench


class InstrumentScreen(JobModal[str | None]):
    """Every instrument of the bench that fills the role; dismisses the chosen one's id, None where it was left."""

    CSS_PATH = "slips.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="instrument.leave", tooltip="Back; the instrument stays."),
    ]

    def __init__(self, bench: Bench, role: str) -> None:
        """Args: bench: the unit in hand; role: what the step asks for, such as voltmeter."""
        super().__init__(bench)
        self._role = role

    def compose(self) -> ComposeResult:
        """A line an instrument: what it is, how well it reads, until when it is in date."""
        settings, day = self.bench.outside().settings, self.bench.moment().local().date()
        able = settings.filling(self._role, day)
        with Vertical(classes="slip"):
            yield Words(f"MEASURE WITH: {self._role}", classes="slip-title")
            if not able:
                yield Words(f"No instrument of this bench serves as {self._role}. Enter one in bench.yaml.")
            rows = []
            for name in able:
                it = settings.instruments[name]
                date = f"OVERDUE since {it.due}" if it.due < day else f"in date until {it.due}"
                rows.append(line(f"{name}  {it.title}  {it.fills[self._role].text}  {date}", name))
            yield Lines(*rows)
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands on the first."""
        self.query_one(Lines).focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """One was chosen."""
        self.dismiss(event.option_id)

    def action_leave(self) -> None:
        """Back."""
        self.dismiss(None)
