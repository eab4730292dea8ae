"""Which acts of the hand make this unit safe, and what was measured that shows it?

Nothing here switches anything. The sheet stays until every named point is measured, or until it is left with the state
still unknown; it never says that a unit is safe.
"""

import math
from typing import ClassVar, Final, Literal

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words, joined, tell
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.fields import Ask, Fields, NotUnderstood, Understood, reading_in, words, yes_or_no
from passcheck.bench.bench import Bench
from passcheck.job import cautions, power
from passcheck.job.commands import ProveDead
from passcheck.job.events import PointProof
from passcheck.job.fixed_words import HAND, REBOUND
from passcheck.job.moment import Moment
from passcheck.sequence.model import StoredEnergy

FIRST_LINE: Final = "This key switches nothing. Your hand: supply OFF, plug OUT. This is not an emergency stop."
AT_SUPPLY: Final = "Read the volts at the supply's terminals, its output off, and give them below."
REDRAW_S: Final = 0.25
Reading = Literal["source", "forward", "reversed", "ac", "again", "source again", "terminals", "other"]
"""What a row of the sheet asks for."""
_VOLTS: Final = reading_in("V", "V", over_range=False)


class MakeSafeScreen(JobModal[bool]):
    """The numbered acts, then a row of readings for every point that holds energy; dismisses True once proved dead."""

    CSS_PATH = "make_safe.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave, power unknown", id="make-safe.leave", tooltip="Leaves power unknown."),
    ]

    def __init__(self, bench: Bench) -> None:
        """Args: bench: the unit in hand."""
        super().__init__(bench)
        self._points = () if power.little_energy(bench.job.sequence) else bench.job.sequence.stored_energy
        self._layout = _Layout(self._points)
        self._waits: dict[int, Moment] = {}

    def compose(self) -> ComposeResult:
        """What the hand does, large; what is measured; the wait."""
        with Vertical(id="sheet"):
            yield BigWord("MAKE SAFE", id="make-safe")
            yield Words(FIRST_LINE, id="first-line")
            with VerticalScroll(id="acts", can_focus=False):
                for number, act in enumerate(self._acts(), start=1):
                    yield Words(joined((f"{number}  ", "bold"), act), classes="act")
                for name in cautions.of_discharge(self.bench.job):
                    yield Words(_caution_words(self.bench, name), classes="hazard")
            with VerticalScroll(id="readings", can_focus=False):
                yield Fields(self._asks())
            yield Words("", id="wait")
            yield AnswerLine()

    def on_mount(self) -> None:
        """The wait is drawn while it runs; it needs no key."""
        self.query_one(Fields).open()
        self.set_interval(REDRAW_S, self._draw_wait)

    def _acts(self) -> tuple[str, ...]:
        sequence = self.bench.job.sequence
        named = tuple(
            f"{place.at}: wait {place.wait.text}, then under {place.discharged_below.text} both ways"
            f"{' and on AC' if place.ac else ''}. If not: {place.discharge or 'discharge it through a resistor'}; "
            "then measure again."
            for place in self._points
        )
        measured = (*named, REBOUND) if named else (AT_SUPPLY,)
        return (*(sequence.make_safe or HAND), *measured)

    def _asks(self) -> tuple[Ask, ...]:
        tester = Ask("Tester", words, value=self._tester())
        if not self._points:
            return (tester, Ask("Volts at the supply, output off", _VOLTS, "V"))
        rows = [ask for index, place in enumerate(self._points) for ask in self._point_asks(index, place)]
        return (tester, *rows, Ask("Shorting lead left on?", yes_or_no, "yes or no"))

    def _point_asks(self, index: int, place: StoredEnergy) -> tuple[Ask, ...]:
        source = self.bench.outside().settings.known_source.title

        def again(text: str) -> Understood:
            left = self._seconds_left(index)
            if left is None or left > 0:
                raise NotUnderstood(f"{place.at}: the wait isn't over. Wait, then read again.")
            return _VOLTS(text)

        ac = (Ask(f"{place.at} on AC", _VOLTS, "V"),) if place.ac else ()
        return (
            Ask(f"Tester on {source}", _VOLTS, "V"),
            Ask(f"{place.at} forward", _VOLTS, "V"),
            Ask(f"{place.at} reversed", _VOLTS, "V"),
            *ac,
            Ask(f"{place.at} again after {place.wait.text}", again, "V"),
            Ask("Tester on the source again", _VOLTS, "V"),
        )

    def _tester(self) -> str:
        """Today's voltmeter: the run's, else the one that was carried over, else the first in date."""
        run = self.bench.job.open_run
        used = [one.instrument for one in run.facts.instruments if one.role == "voltmeter"] if run else []
        carried = self.desk.shop.carried().instruments.get("voltmeter")
        day = self.bench.moment().local().date()
        first = self.bench.outside().settings.filling("voltmeter", day)
        return next((name for name in (*used, carried, *first[:1]) if name), "")

    def on_fields_took(self, event: Fields.Took) -> None:
        """The last reading before a wait starts it; one that is taken again starts it anew."""
        point = self._layout.wait_after(event.place)
        if point is not None:
            self._waits[point] = self.bench.moment()
        self._draw_wait()
        self.coach_anew()

    def _waited_s(self, point: int) -> float | None:
        """Seconds since the wait began; None before it, or where the machine was started anew."""
        begun = self._waits.get(point)
        gone = None if begun is None else self.bench.moment().since(begun)
        return None if gone is None else gone.total_seconds()

    def asked_at(self, row: int) -> tuple[StoredEnergy | None, Reading]:
        """What is read in a row: at which place, and what of it."""
        return self._layout.asked_at(row)

    @property
    def wait_left_s(self) -> float:
        """Seconds until the reading after the latest wait may be taken; 0 where none is waited for."""
        left = [left for point in self._waits if (left := self._seconds_left(point)) is not None]
        return max(0.0, left[-1]) if left else 0.0

    def _seconds_left(self, point: int) -> float | None:
        waited = self._waited_s(point)
        return None if waited is None else float(self._points[point].wait.value) - waited

    def _draw_wait(self) -> None:
        running = [(index, left) for index in self._waits if (left := self._seconds_left(index)) is not None]
        if not running:
            return
        index, left = running[-1]
        at = self._points[index].at
        said = f"WAIT {math.ceil(left)} s  {at}" if left > 0 else f"READ {at} AGAIN"
        self.query_one("#wait", Words).say(joined((said, "bold")))

    async def on_fields_filled(self, event: Fields.Filled) -> None:
        """Everything was measured: hand it over. What is refused is said here, and every reading stays."""
        if await self.act(self._command(event.texts)) is not None:
            tell(self.app, "Told off, every point measured. Power stays off until you tell it on.")
            self.dismiss(True)

    def _command(self, texts: tuple[str, ...]) -> ProveDead:
        if not self._points:
            return ProveDead(self.person or self.bench.job.holder, texts[0], at_supply=texts[1])
        proofs = tuple(self._proof(index, texts) for index in range(len(self._points)))
        lead = texts[-1] == "yes"
        return ProveDead(self.person or self.bench.job.holder, texts[0], proofs, shorting_lead=lead)

    def _proof(self, point: int, texts: tuple[str, ...]) -> PointProof:
        place = self._points[point]
        first = self._layout.first_of(point)
        before, forward, reverse = texts[first : first + 3]
        ac = texts[first + 3] if place.ac else None
        again, after = texts[first + 3 + place.ac : first + 5 + place.ac]
        return PointProof(place.at, before, forward, reverse, int(self._waited_s(point) or 0), again, after, ac)

    def action_leave(self) -> None:
        """Leave; what was measured so far shows nothing, and power stays unknown."""
        tell(self.app, "Not proved dead: power is unknown. Label the unit, and come back with F8.", "warning")
        self.dismiss(False)


class _Layout:
    """Which row belongs to which point: the tester first, then the points' rows one after the other."""

    def __init__(self, points: tuple[StoredEnergy, ...]) -> None:
        self._starts = [1]
        for place in points:
            self._starts.append(self._starts[-1] + 5 + place.ac)
        self._points = points

    def first_of(self, point: int) -> int:
        """The row of a point's first reading."""
        return self._starts[point]

    def asked_at(self, row: int) -> tuple[StoredEnergy | None, Reading]:
        """What is read in a row: at which place, and what of it."""
        if not self._points:
            return None, "terminals" if row == 1 else "other"
        for start, place in zip(self._starts, self._points, strict=False):
            kinds: tuple[Reading, ...] = (
                "source",
                "forward",
                "reversed",
                *(("ac",) if place.ac else ()),
                "again",
                "source again",
            )
            if start <= row < start + len(kinds):
                return place, kinds[row - start]
        return None, "other"

    def wait_after(self, row: int) -> int | None:
        """The point whose wait begins after this row, if any."""
        ends = {self._starts[index] + 2 + place.ac: index for index, place in enumerate(self._points)}
        return ends.get(row)


def _caution_words(bench: Bench, name: str) -> str:
    one = bench.job.sequence.cautions[name]
    return f"{one.signal}  {one.hazard} {one.harm} {' '.join(one.avoid)} Stop if {one.stop_if}."
