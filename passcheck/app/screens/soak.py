"""How is a unit left at power to soak, and what is a look at it?"""

import re
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.fields import Ask, Fields, number, reading_in, words, yes_or_no
from passcheck.bench.bench import Bench, Done
from passcheck.job.commands import BreakSoak, CheckSoak, Refusal, Seen, StartSoak
from passcheck.job.decide_soak import ALONE_ASKS
from passcheck.job.fold import told_now
from passcheck.job.rack import NOBODY_WATCHES
from passcheck.judge.rounding import counted
from passcheck.sequence.model import SoakStep

_LOST = re.compile(r"(?:lost|no|n)\b[\s:,.]*(.*)", re.IGNORECASE | re.DOTALL)


def continuity_of(typed: str) -> tuple[str | None, str]:
    """What shows that power stayed on, or None, and then what is known of the loss: "lost: breaker was down"."""
    lost = _LOST.fullmatch(typed.strip())
    if lost is not None:
        return None, lost[1].strip()
    return typed.strip() or None, ""


class SoakSlip(JobModal[bool]):
    """Fields of a soak: title, lead, fields, answer; Esc leaves."""

    CSS_PATH = "slips.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="soak.leave", tooltip="Back; nothing is entered."),
    ]

    def __init__(self, bench: Bench, step: SoakStep) -> None:
        """Args: bench: the unit in hand; step: the soak."""
        super().__init__(bench)
        self.soak = step

    def compose(self) -> ComposeResult:
        """From the top: what it is, what to mind, the fields."""
        with VerticalScroll(classes="slip", can_focus=False):
            yield Words(self.title_words(), classes="slip-title")
            yield Words(self.lead(), classes="hint")
            yield Fields(tuple(self.asks()))
            yield AnswerLine()

    def on_mount(self) -> None:
        """The cursor stands where the first value is wanted."""
        self.query_one(Fields).open()

    def title_words(self) -> str:
        """What this slip is."""
        return ""

    def lead(self) -> str:
        """What to mind before the first field."""
        return ""

    def asks(self) -> list[Ask]:
        """What is asked."""
        return []

    def display_asks(self, volts: str = "") -> list[Ask]:
        """The supply's display: volts, amps, limit light."""
        return [
            Ask("Volts on its display", reading_in("V", "V", over_range=False), "V", value=volts),
            Ask("Amps on its display", reading_in("A", "A", over_range=False), "A"),
            Ask("Limit light lit?", yes_or_no, "yes or no"),
        ]

    def ambient_asks(self) -> list[Ask]:
        """The air beside the unit, where the sequence names it."""
        if self.soak.ambient is None:
            return []
        unit = self.soak.ambient.unit
        return [Ask("Ambient beside the unit", reading_in(unit, unit, over_range=False), unit)]

    def action_leave(self) -> None:
        """Nothing is entered."""
        self.dismiss(False)


class StartSoakSlip(SoakSlip):
    """The unit stays at power from here: how its supply stands, and why it may be left alone."""

    def title_words(self) -> str:
        """Which soak."""
        return f"START THE SOAK: {self.soak.title}"

    def lead(self) -> str:
        """How long, how often, and that nobody watches."""
        alone = "\nLeft alone? Answer the last four; leave all four empty if somebody stays." if self._alone else ""
        return (
            f"{self.soak.hours.text} at power, a look every {self.soak.every.text}; the first follows at once.\n"
            f"{NOBODY_WATCHES}{alone}"
        )

    def asks(self) -> list[Ask]:
        """Display, what shows continuity, ambient, and the facts of a soak left alone."""
        told = told_now(self.bench.job)[self.soak.power]
        found = self.display_asks(told.volts)
        if self.soak.continuity is not None:
            empty = None if self.soak.continuous else ""
            found.append(Ask("Sign of power reads now", words, "1204.6 h", empty=empty))
        found += self.ambient_asks()
        if self._alone:
            found += [Ask(ask[0].upper() + ask[1:], words, empty="") for ask in ALONE_ASKS]
        return found

    @property
    def _alone(self) -> bool:
        live = self.bench.job.sequence.supplies[self.soak.power].supply_class == "hazardous-live"
        return self.soak.unattended and (self.soak.enclosed or not live)

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Hand everything over."""
        volts, amps, light, *rest = event.texts
        witness = rest.pop(0) if self.soak.continuity is not None else None
        ambient = rest.pop(0) if self.soak.ambient is not None else None
        facts = tuple(rest) if any(one.strip() for one in rest) else ()
        start = StartSoak(
            self.person,
            self.soak.id,
            volts,
            amps,
            limit_light=light == "yes",
            witness=witness,
            ambient=ambient,
            unattended=facts,
        )
        if await self.act(start) is not None:
            self.dismiss(True)


class LookSlip(SoakSlip):
    """A look begins with the serial and the supply's display; what is wrong is asked once more."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f6", "found_off", "Found off", id="soak.found-off", tooltip="The unit has no power: the soak ends."),
    ]

    def __init__(self, bench: Bench, step: SoakStep, serial: str = "") -> None:
        """Args: bench: the unit in hand; step: the soak; serial: as it was scanned to open this look, if it was."""
        super().__init__(bench, step)
        self._serial = serial
        self._first: Seen | None = None

    def title_words(self) -> str:
        """Which unit."""
        return f"LOOK AT {self.bench.job.serial}: {self.soak.title}"

    def lead(self) -> str:
        """What shows that power stayed on."""
        sign = f"\nSign that power stayed on: {self.soak.continuity}." if self.soak.continuity else ""
        return (
            "Smell, heat, the limit light first. Where anything is wrong: F8. Found without power: F6."
            f"{sign}\nAfter this: {counted(len(self.soak.check), 'step')} to walk."
        )

    def asks(self) -> list[Ask]:
        """Serial, display, continuity, ambient, cycles."""
        found = [Ask("Serial on the unit", words, "scan it", value=self._serial), *self.display_asks()]
        if self.soak.continuity is not None:
            found.append(Ask("Power stayed on?", words, "reading/held/lost: why"))
        found += self.ambient_asks()
        if self.soak.cycles:
            found.append(Ask("Power cycles since then", number, "0", empty="0"))
        return found

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Hand the look over; a second one must say the same."""
        serial, volts, amps, light, *rest = event.texts
        kept, lost = continuity_of(rest.pop(0) if self.soak.continuity is not None else "")
        ambient = rest.pop(0) if self.soak.ambient is not None else None
        cycles = int(rest.pop(0)) if self.soak.cycles else 0
        seen = Seen(serial, volts, amps, light == "yes", kept, ambient)
        first, again = (seen, None) if self._first is None else (self._first, seen)
        answer = await self.ask(CheckSoak(self.person, self.soak.id, first, again, cycles, lost))
        if isinstance(answer, Done):
            self.app.clear_notifications()  # what called for this look says nothing any more
            self.dismiss(True)
        elif isinstance(answer, Refusal):
            self._first = seen if answer.code == "type again" else None
            if answer.code == "type again":
                self.query_one(Fields).clear()
            self.show_refusal(answer)

    async def action_found_off(self) -> None:
        """The unit stands there without power: nobody knows since when."""
        if await self.act(BreakSoak(self.person, self.soak.id, "found without power")) is not None:
            self.dismiss(True)
