"""What still stands between this unit and the door, and what comes next?"""

from decimal import Decimal

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList

from passcheck.app.plain import Lines, Words, joined, line
from passcheck.job.blocker import Blocker
from passcheck.job.plan import Planned, plan
from passcheck.job.state import Job
from passcheck.sequence.model import NO_SUPPLY


class Door(Vertical):
    """The list of blockers, each a jump to its step, and the next step with its minutes."""

    DEFAULT_CSS = """
    Door { background: $panel; color: $foreground; padding: 0 1; width: 32; height: 1fr; }
    Door #door-title { text-style: bold; color: $primary; height: auto; }
    Door #door-list { height: 1fr; }
    Door #next { height: auto; border-top: solid $primary; padding-top: 0; }
    """

    class Jumped(Message):
        """A blocker was chosen: its step is wanted, or None where it leads to no step."""

        def __init__(self, door: "Door", blocker: Blocker) -> None:
            """Take the blocker."""
            super().__init__()
            self.door = door
            self.blocker = blocker

        @property
        def control(self) -> "Door":
            """Where it was chosen."""
            return self.door

    _blockers: tuple[Blocker, ...] = ()

    def compose(self) -> ComposeResult:
        """Title, list, next."""
        yield Words("", id="door-title")
        yield Lines(id="door-list")
        yield Words("", id="next")

    def put(self, blockers: tuple[Blocker, ...], job: Job) -> None:
        """Show these."""
        self._blockers = blockers
        count = f"{len(blockers)} in the way" if blockers else "nothing in the way"
        self.query_one("#door-title", Words).say(f"BETWEEN THIS UNIT AND THE DOOR\n{count}")
        listed = self.query_one("#door-list", Lines)
        at = listed.highlighted
        listed.clear_options()
        listed.add_options([line(joined("› ", one.sentence)) for one in blockers])
        if not blockers and job.ended is None:
            listed.add_option(line("Sign-off: s", disabled=True))
        if blockers:  # the first where none was chosen yet, so that Enter alone leads somewhere
            listed.highlighted = min(at or 0, len(blockers) - 1)
        self.query_one("#next", Words).say(next_words(job))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A blocker was chosen."""
        event.stop()
        if event.option_index < len(self._blockers):
            self.post_message(self.Jumped(self, self._blockers[event.option_index]))


def next_words(job: Job) -> Content:
    """The next step with its minutes and power, why it comes next, and what is left in all."""
    if job.ended is not None:
        return joined(("ENDED  ", "bold"), job.ended)
    steps = plan(job)
    if not steps:
        return joined(
            ("NEXT  ", "bold"), "nothing left to walk in this run" if job.open_run else "nothing left to walk"
        )
    first = steps[0]
    power = "unpowered" if first.step.power == NO_SUPPLY else f"{first.step.power} on"
    return Content.assemble(
        joined(("NEXT  ", "bold"), (first.step.title, "bold"), f"  ({minutes_words(first.minutes)}, {power})"),
        "\n",
        joined(first.why, f"; {_left(steps)}"),
    )


def _left(steps: tuple[Planned, ...]) -> str:
    total = sum((one.minutes for one in steps), Decimal(0))
    return f"{len(steps)} to walk, {minutes_words(total)}"


def minutes_words(minutes: Decimal) -> str:
    """Minutes as a technician plans with them."""
    if minutes >= 120:
        return f"{minutes / 60:.0f} h"
    return f"{minutes.quantize(Decimal(1)) if minutes >= 1 else minutes.normalize()} min"
