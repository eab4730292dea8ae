"""For which purpose, on which unit, with which instruments does a run begin?

What was carried over today stands in the slots already: the serial off the unit and one Enter start the run.
"""

from collections.abc import Mapping
from datetime import date
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Lines, Words, joined, line
from passcheck.app.tap_step import warm_up_words
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.door import minutes_words
from passcheck.app.widgets.fields import Ask, Fields, NotUnderstood, Read, Understood, words
from passcheck.bench.bench import Bench
from passcheck.bench.reference_block import BlockNeed
from passcheck.job.commands import StartRun
from passcheck.job.events import Purpose
from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.job.run_choice import RunChoice, choices, suggested
from passcheck.job.settings import BenchSettings
from passcheck.job.state import Job
from passcheck.job.steps import present
from passcheck.judge.quantity import QuantityError, parse_quantity

WORDS_OF: Mapping[Purpose, str] = {
    "as-found": "is the complaint there, untouched?",
    "retest": "what the last work reaches",
    "acceptance": "as left: counts for the release",
    "burn-in": "hours at power, and their looks",
    "good-unit": "readings of another, beside these",
}
OWN_SERIAL: Final = "Serial, off the unit"
GOOD_SERIAL: Final = "Serial of the good unit"
WHY_W: Final = max(map(len, WORDS_OF.values()))
AGAIN: Final = "the failed symptom alone"


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
        self._choices = choices(bench.job, bench.outside(), bench.moment())
        wanted = purpose or suggested(bench.job)
        self._at = next((place for place, one in enumerate(self._choices) if one.purpose == wanted), 0)

    def compose(self) -> ComposeResult:
        """Purpose on top, then the slots, the serial first."""
        with Vertical(classes="slip"):
            yield Words("START A RUN", classes="slip-title")
            with VerticalScroll(can_focus=False):
                yield Lines(*(line(choice_words(one)) for one in self._choices), id="purpose")
                yield Fields(self._asks())
                yield Words(id="taps")
            yield Words("Enter starts it. Up and down walk to a slot, F2 to the next purpose.")
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands where the serial is scanned to."""
        self.query_one("#purpose", Lines).highlighted = self._at
        self._show_purpose()
        fields = self.query_one(Fields)
        fields.explain()
        fields.slots[0].focus()

    def _asks(self) -> tuple[Ask, ...]:
        carried = self.desk.shop.carried()
        settings, day = self.bench.outside().settings, self.bench.moment().local().date()
        asks = [Ask(OWN_SERIAL, words)]
        for role in roles(self.bench.job):
            able = settings.filling(role, day)
            chosen = carried.instruments.get(role) or next(iter(able), "")
            missing = "" if able else "none here"
            asks.append(Ask(role, _instrument(settings, role, day), missing, empty="", value=chosen))
        asks.append(Ask("Ambient", _celsius, "°C", empty="", value=carried.ambient_c or ""))
        if hazardous_live(self.bench.job):
            asks.append(Ask("Second person, within call", words, "id"))
        elif wants_witness(self.bench.job):
            asks.append(Ask("Second person, as witness", words, "id, or nobody", empty=""))
        return tuple(asks)

    def _show_purpose(self) -> None:
        purposes = self.query_one("#purpose", Lines)
        for place, one in enumerate(self._choices):
            purposes.replace_option_prompt_at_index(place, choice_words(one, chosen=place == self._at))
        self.query_one(Fields).name_slot(0, GOOD_SERIAL if self._purpose == "good-unit" else OWN_SERIAL)
        taps = self.query_one("#taps", Words)
        taps.say(warm_up_words(self.bench.job, self._purpose, self._has_block))
        taps.display = bool(str(taps.render()))

    @property
    def _purpose(self) -> Purpose:
        return self._choices[self._at].purpose

    def _has_block(self, need: BlockNeed) -> bool:
        return self.desk.shop.block_of_today(self.person, need.limits_s) is not None

    def action_purpose(self) -> None:
        """The next purpose that the sequence has steps for."""
        self.query_one("#purpose", Lines).highlighted = (self._at + 1) % len(self._choices)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Another purpose is at hand."""
        self._at = event.option_index
        self._show_purpose()

    def on_option_list_option_selected(self) -> None:
        """The purpose is chosen: the serial is next."""
        self.query_one(Fields).open()

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Nothing is missing any more."""
        await self._start(event.texts)

    async def _start(self, texts: tuple[str, ...]) -> None:
        wanted = roles(self.bench.job)
        taken = tuple((role, name) for role, name in zip(wanted, texts[1:], strict=False) if name)
        ambient = texts[1 + len(wanted)] or None
        second = texts[2 + len(wanted)] or None if len(texts) > 2 + len(wanted) else None
        again = self._choices[self._at].again
        command = StartRun(self.person, self._purpose, texts[0], taken, ambient, second, again=again)
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


def choice_words(choice: RunChoice, *, chosen: bool = False) -> Content:
    """One line: what the run is for, how many steps it walks now, and how long that takes; chosen or not."""
    name, why = ("retest again", AGAIN) if choice.again else (choice.purpose, WORDS_OF[choice.purpose])
    steps = "1 step" if len(choice.planned) == 1 else f"{len(choice.planned)} steps"
    left = f"{steps}, {minutes_words(choice.minutes)}" if choice.planned else "nothing left"
    mark = "\N{BLACK RIGHT-POINTING TRIANGLE} " if chosen else "  "
    return joined((f"{mark}{name.upper():<12}  ", "bold"), f"{why:<{WHY_W}}  {left}")


def roles(job: Job) -> tuple[str, ...]:
    """The instruments that the steps ask for, whatever the purpose, in the order in which they are needed."""
    named = (instrument_role(step) for step in present(job) if needs_accuracy(step))
    return tuple(dict.fromkeys(role for role in named if role is not None))


def hazardous_live(job: Job) -> bool:
    """Does any supply of the sequence put hazardous-live parts on the bench?"""
    return any(supply.supply_class == "hazardous-live" for supply in job.sequence.supplies.values())


def wants_witness(job: Job) -> bool:
    """Does any step of the unit ask that somebody else sees it?"""
    return any(step.witness for step in present(job))


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
