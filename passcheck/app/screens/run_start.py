"""For which purpose, on which unit, with which instruments does a run begin?

What was carried over today stands in the slots already: the serial off the unit and one Enter start the run.
"""

from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words, joined
from passcheck.app.tap_step import warm_up_words
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.fields import Ask, Fields, NotUnderstood, Read, Understood, words
from passcheck.bench.bench import Bench
from passcheck.bench.reference_block import BlockNeed
from passcheck.job.commands import StartRun
from passcheck.job.events import Purpose
from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.job.settings import BenchSettings
from passcheck.job.state import Job
from passcheck.job.steps import present, steps_of
from passcheck.judge.quantity import QuantityError, parse_quantity

PURPOSES: tuple[Purpose, ...] = ("as-found", "retest", "acceptance")
WORDS_OF: dict[Purpose, str] = {
    "as-found": "confirm the complaint before anything is changed",
    "retest": "did the rework help?",
    "acceptance": "as left: what counts for the release",
    "burn-in": "hours at power before shipping",
    "good-unit": "readings of a known-good unit, beside this one's",
}


class RunStartScreen(JobModal[bool]):
    """Serial, instruments by role, ambient, the second person where one is needed; dismisses True once begun."""

    CSS_PATH = "run_start.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "purpose", "Purpose", priority=True, id="run.purpose", tooltip="Goes to the next purpose."),
        Binding("escape", "leave", "Back", id="run.leave", tooltip="Back; no run is begun."),
    ]

    def __init__(self, bench: Bench, purpose: Purpose | None = None) -> None:
        """Args: bench: the unit in hand; purpose: what to offer first, where it isn't what the job suggests."""
        super().__init__(bench)
        self._purpose: Purpose = purpose or suggested(bench.job)

    def compose(self) -> ComposeResult:
        """Purpose on top, then the slots, the serial first."""
        with Vertical(classes="slip"):
            yield Words("START A RUN", classes="slip-title")
            yield Words(id="purpose")
            with VerticalScroll(can_focus=False):
                yield Fields(self._asks())
                yield Words(id="taps")
            yield Words("Enter starts it. Up and down walk to a slot to change it, F2 changes the purpose.")
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands where the serial is scanned to."""
        self._show_purpose()
        fields = self.query_one(Fields)
        fields.explain()
        fields.slots[0].focus()

    def _asks(self) -> tuple[Ask, ...]:
        carried = self.desk.shop.carried()
        settings, day = self.bench.outside().settings, self.bench.moment().local().date()
        asks = [Ask("Serial, off the unit", words)]
        for role in roles(self.bench.job):
            able = settings.filling(role, day)
            chosen = carried.instruments.get(role) or next(iter(able), "")
            missing = "" if able else "none here"
            asks.append(Ask(role, _instrument(settings, role, day), missing, empty="", value=chosen))
        asks.append(Ask("Ambient", _celsius, "°C", empty="", value=carried.ambient_c or ""))
        if hazardous_live(self.bench.job):
            asks.append(Ask("Second person, within call", words, "id"))
        return tuple(asks)

    def _show_purpose(self) -> None:
        shown = joined((self._purpose.upper(), "bold reverse"), f"  {WORDS_OF[self._purpose]}")
        self.query_one("#purpose", Words).say(shown)
        taps = self.query_one("#taps", Words)
        taps.say(warm_up_words(self.bench.job, self._purpose, self._has_block))
        taps.display = bool(str(taps.render()))

    def _has_block(self, need: BlockNeed) -> bool:
        return self.desk.shop.block_of_today(self.person, need.limits_s) is not None

    def action_purpose(self) -> None:
        """The next purpose that the sequence has steps for."""
        able = [one for one in PURPOSES if steps_of(self.bench.job, one)]
        here = able.index(self._purpose) if self._purpose in able else -1
        self._purpose = able[(here + 1) % len(able)]
        self._show_purpose()

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Nothing is missing any more."""
        await self._start(event.texts)

    async def _start(self, texts: tuple[str, ...]) -> None:
        wanted = roles(self.bench.job)
        taken = tuple((role, name) for role, name in zip(wanted, texts[1:], strict=False) if name)
        ambient = texts[1 + len(wanted)] or None
        second = texts[2 + len(wanted)] if len(texts) > 2 + len(wanted) else None
        command = StartRun(self.person, self._purpose, texts[0], taken, ambient, second)
        if await self.act(command) is not None:
            self.desk.shop.carry(dict(taken), ambient)
            self.dismiss(True)

    def take_scan(self, code: str) -> bool:
        """A scan that came while no slot had the cursor is the serial."""
        self.query_one(Fields).slots[0].value = code
        return True

    def action_leave(self) -> None:
        """Back; no run is begun."""
        self.dismiss(False)


def suggested(job: Job) -> Purpose:
    """Confirm the complaint first, ask after a rework whether it helped, else walk what counts."""
    if not job.runs:
        return "as-found"
    reworked = any(change.kind == "rework" and change.line > job.runs[-1].line for change in job.changes)
    return "retest" if reworked else "acceptance"


def roles(job: Job) -> tuple[str, ...]:
    """The instruments that the steps ask for, whatever the purpose, in the order in which they are needed."""
    named = (instrument_role(step) for step in present(job) if needs_accuracy(step))
    return tuple(dict.fromkeys(role for role in named if role is not None))


def hazardous_live(job: Job) -> bool:
    """Does any supply of the sequence put hazardous-live parts on the bench?"""
    return any(supply.supply_class == "hazardous-live" for supply in job.sequence.supplies.values())


def _instrument(settings: BenchSettings, role: str, day: date) -> Read:
    """Reads an instrument's id and says what it is and until when it is in date."""

    def read(text: str) -> Understood:
        found = settings.instruments.get(text)
        if found is None:
            able = ", ".join(settings.filling(role, day)) or "none of this bench"
            raise NotUnderstood(f"'{text}' is no instrument here. As {role}: {able}.")
        state = f"OVERDUE since {found.due}" if found.due < day else f"due {found.due}"
        return Understood(text, f"{state}: {found.title}")

    return read


def _celsius(text: str) -> Understood:
    """Degrees Celsius; a bare number will do."""
    try:
        found = parse_quantity(text, "°C")
    except QuantityError as error:
        raise NotUnderstood(str(error)) from error
    return Understood(f"{found.value:f}", found.text)
