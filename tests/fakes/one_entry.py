"""One entry on an otherwise empty screen: type into it and see what it posts.

answers, said = await typed(step, "12k", "enter")
"""

from typing import Any

from textual.app import App, ComposeResult
from textual.pilot import Pilot
from textual.widgets import Input

from passcheck.app.theme import DESK
from passcheck.app.widgets.kinds import entry_for
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.app.widgets.walk_list import WalkList
from passcheck.job.answers import Answer
from passcheck.sequence import model
from passcheck.sequence.model import Step


class OneEntry(App[None]):
    """Holds the entry of a step and keeps what it posted."""

    def __init__(self, step: Step, quickest_s: float) -> None:
        super().__init__()
        self.entry = entry_for(step)
        if isinstance(self.entry, WalkList):
            self.entry.quickest_s = quickest_s
        self.answers: list[Answer] = []

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return dict(DESK.variables)

    def compose(self) -> ComposeResult:
        yield self.entry

    def on_mount(self) -> None:
        self.entry.open()

    def on_step_entry_answered(self, event: StepEntry.Answered) -> None:
        self.answers.append(event.answer)


async def typed(step: Step, *texts: str, quickest_s: float = 0.0) -> tuple[list[Answer], str]:
    """Type texts where the focus is and press `enter`: the answers posted, and all words that then stand there."""
    app = OneEntry(step, quickest_s)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for text in texts:
            await _give(pilot, text)
        return app.answers, "\n".join(str(words.render()) for words in app.query("Words"))


async def _give(pilot: Pilot[Any], text: str) -> None:
    if text in ("enter", "up", "down"):
        await pilot.press(text)
    else:
        focused = pilot.app.focused
        assert isinstance(focused, Input), focused
        focused.insert_text_at_cursor(text)
    await pilot.pause()


def step_of(kind: str, **members: Any) -> Step:
    """A step of a kind with these members of a sequence file."""
    models = {
        "reading": model.ReadingStep,
        "power-up": model.PowerUpStep,
        "response": model.ResponseStep,
        "presses": model.PressesStep,
        "lamps": model.LampsStep,
        "sweep": model.SweepStep,
        "marks": model.MarksStep,
        "codes": model.CodesStep,
        "grade": model.GradeStep,
        "look": model.LookStep,
        "count": model.CountStep,
        "table": model.TableStep,
        "soak": model.SoakStep,
    }
    chosen: Any = models[kind]
    step: Step = chosen.model_validate({"id": "x", "kind": kind, "title": "X", **members})
    return step
