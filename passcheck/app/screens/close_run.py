"""What did the run show, in the words that will close it?"""

from typing import ClassVar, Final

from textual.app import ComposeResult

from passcheck.app.plain import Words, joined
from passcheck.app.screens.slip import Slip
from passcheck.job.commands import CloseRun, Command
from passcheck.job.outcome import outcome
from passcheck.job.plan import plan
from passcheck.job.power import told

POWERED: Final = "Closing a run switches nothing. Make safe first: F8 from here, then close it."


class CloseRunSlip(Slip):
    """The outcome is worked out from the attempts; it isn't chosen."""

    TITLE_WORDS: ClassVar[str] = "CLOSE THE RUN"
    KEEP: ClassVar[str] = "Close it"

    def fields(self) -> ComposeResult:
        """The outcome, and what the run leaves undone."""
        run = self.bench.job.open_run
        if run is None:
            yield Words("No run is open.")
            return
        yield Words(id="powered", classes="loud")
        yield Words(joined(f"Run {run.number}, {run.purpose}, ends with: ", (outcome(self.bench.job, run), "bold")))
        left = plan(self.bench.job)
        if left:
            titles = ", ".join(one.step.title for one in left[:4])
            more = f" and {len(left) - 4} more" if len(left) > 4 else ""
            yield Words(f"Not walked: {titles}{more}.", classes="ask")

    def on_mount(self) -> None:
        """Power is told before the run is closed."""
        self._say_power()

    def on_screen_resume(self) -> None:
        """Make safe may have been called meanwhile."""
        self._say_power()

    def _say_power(self) -> None:
        states = told(self.bench.job, self.bench.moment())
        powered = ", ".join(f"{name} told {state}" for name, state in states.items() if state in ("on", "unknown"))
        for words in self.query("#powered").results(Words):
            words.display = bool(powered)
            words.say(f"POWER  {powered}. {POWERED}")

    def command(self) -> Command:
        """The end of the run."""
        return CloseRun(self.person)
