"""What does the practice unit do while its answers are tapped?

It answers the first tap of a trial or row, which presses its button too, and draws at the moments at which something
changes and at no other. What it will do follows from the number of the trial, so that nothing tells it beforehand.
"""

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.timer import Timer

from passcheck.app.key_clock import key_now_s
from passcheck.app.plain import Words
from passcheck.app.widgets.lamp import Lamp, colour_in
from passcheck.app.widgets.unit_lines import dial_content
from passcheck.bench.tap_rows import AwaitTap, RateCourse, SweepCourse
from passcheck.bench.timing import AwaitStop
from passcheck.bench.unit_trials import UnitCourse
from passcheck.practice import motion, shows
from passcheck.practice.seen_moving import sweep_dial
from passcheck.practice.shows import Shows
from passcheck.sequence import model
from passcheck.sequence.model import Step

ARC = 44  # columns
SOONEST_S = 0.001  # a timer of nothing at all never comes


class TapUnit(Vertical):
    """A lamp that answers or blinks, or a gauge whose pointer runs."""

    DEFAULT_CSS = """
    TapUnit { width: 1fr; height: auto; align-horizontal: center; }
    TapUnit Words { width: auto; }
    """

    def __init__(self, step: Step, found: Shows, early_s: float) -> None:
        """Args:
        step: what is timed.
        found: what the unit does in this try.
        early_s: how much later than drawn something is seen, as the judge takes it for this bench.
        """
        super().__init__()
        self._step, self._found, self._early_s = step, found, early_s
        self._begun_s: float | None = None
        self._way = ""
        self._next: Timer | None = None

    def compose(self) -> ComposeResult:
        """What the first tap does, and the lamp or the gauge."""
        match self._step:
            case model.SweepStep():
                yield Words("PRACTICE UNIT: your first tap of a row starts the sweep.")
                yield Words(dial_content(sweep_dial(self._step, 0.0), ARC), classes="dial")
            case model.LampsStep():
                yield Words("PRACTICE UNIT: the lamp blinks from the beginning.")
                yield Lamp(self._step.lamps[0].colour)
            case model.ResponseStep() | model.PressesStep():
                yield Words("PRACTICE UNIT: your first tap presses it too. The lamp stands for its answer.")
                yield Lamp(colour_in(self._step.watch))

    def follow(self, course: object) -> None:
        """A mark was taken, or taps are taken no more: None."""
        match course, self._found:
            case UnitCourse(), shows.Responds():
                self._answer(course, self._found)
            case SweepCourse(), shows.Sweeps():
                self._run(course)
            case RateCourse(), shows.Lights():
                if self._begun_s is None:
                    self._begun_s = key_now_s()
                    self._blink()
            case _:
                self._begun_s = None
                self._wait_no_more()
                self._light(lit=False)

    def _answer(self, course: UnitCourse, found: shows.Responds) -> None:
        if not isinstance(course.cue, AwaitStop) or course.start_s is None:
            self._begun_s = None
            self._wait_no_more()
            self._light(lit=False)
        elif course.start_s != self._begun_s:
            self._begun_s = course.start_s
            delay_s = motion.delay_of(found, len(course.trials) + len(course.set_aside))
            if delay_s is not None:
                self._at(course.start_s + max(0.0, delay_s - self._early_s), self._lit)

    def _lit(self) -> None:
        self._light(lit=True)

    def _blink(self) -> None:
        if self._begun_s is None or not isinstance(self._found, shows.Lights):
            return
        rate_hz, at_s = self._found.rate_hz, key_now_s() - self._begun_s
        self._light(lit=motion.blinks_lit(rate_hz, at_s))
        later_s = motion.next_blink_s(rate_hz, at_s)
        if later_s is not None:
            self._at(self._begun_s + later_s, self._blink)

    def _run(self, course: SweepCourse) -> None:
        cue = course.cue
        begun_s = course.begun[0] if course.begun else None
        if isinstance(cue, AwaitTap) and (cue.row, begun_s) != (self._way, self._begun_s):
            self._way, self._begun_s = cue.row, begun_s
            self._draw_pointer()

    def _draw_pointer(self) -> None:
        """Where it is now; between rows it rests at the end from which the next one starts."""
        if not isinstance(self._step, model.SweepStep) or not isinstance(self._found, shows.Sweeps):
            return
        self._wait_no_more()
        passes_s = self._found.up_s if self._way == "up" else self._found.down_s
        at_s = 0.0 if self._begun_s is None else key_now_s() - self._begun_s
        share = motion.pointer_share(passes_s, at_s)
        dial = sweep_dial(self._step, share if self._way == "up" else 1 - share)
        self.query_one(".dial", Words).say(dial_content(dial, ARC))
        later_s = motion.next_picture_s(passes_s, at_s)
        if self._begun_s is not None and later_s is not None:
            self._at(self._begun_s + later_s, self._draw_pointer)

    def _light(self, *, lit: bool) -> None:
        for lamp in self.query(Lamp):
            lamp.lit = lit

    def _at(self, at_s: float, call: Callable[[], None]) -> None:
        self._wait_no_more()
        self._next = self.set_timer(max(SOONEST_S, at_s - key_now_s()), call)

    def _wait_no_more(self) -> None:
        if self._next is not None:
            self._next.stop()
            self._next = None
