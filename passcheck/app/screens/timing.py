"""How do taps, the light and time-outs become the marks of a course, and what breaks it off?

The root of the screens that time a hand. While one is armed nothing moves by itself: no entry has the focus, the timers
of the screens stand still, and nothing is drawn between a tap and the answer that is waited for.
"""

from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.geometry import Size
from textual.timer import Timer

from passcheck.app.job_screen import JobScreen
from passcheck.app.key_clock import CLOCK_NAME, key_now_s
from passcheck.app.plain import Words, joined
from passcheck.app.tap_keys import key_words
from passcheck.app.taps import Taps
from passcheck.app.widgets.big_word import BigWord
from passcheck.bench.bench import Bench
from passcheck.bench.tap_rows import AwaitTap, RateCourse, SweepCourse
from passcheck.bench.timing import (
    AwaitStart,
    AwaitStop,
    Done,
    Doubted,
    Drawn,
    Interrupted,
    Light,
    Mark,
    Pressed,
    ReferenceCourse,
    Tapped,
    TimedOut,
)
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job.answers import HowStamped

Course = ReferenceCourse | UnitCourse | SweepCourse | RateCourse
SOONEST_S: Final = 0.001
"""A timer of no time at all never fires; what is due already is done at once."""
SETTLE_S: Final = 0.2
"""Until then it shows whether the last tap was the first repeat of a held key; only then the course counts as ended."""
NOT_TRUSTED: Final = "a tap came double or from a held key"


class TimingScreen(JobScreen):
    """Hands marks to a course and does what its cue says."""

    takes_taps = True
    AUTO_FOCUS = None
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Break off", id="timing.leave", tooltip="Breaks the taps off; they are void."),
    ]
    DEFAULT_CSS = """
    TimingScreen #sheet { height: 1fr; background: $card; color: $ink; padding: 0 2; border-left: outer $card-rule; }
    TimingScreen #sheet Words { height: auto; color: $ink; }
    TimingScreen #what { text-style: bold; }
    TimingScreen #word { color: $ink; margin: 1 0; }
    TimingScreen #number { text-style: bold; }
    TimingScreen #said { text-style: bold; margin-top: 1; }
    TimingScreen #face { height: auto; align-horizontal: center; margin-top: 1; }
    """

    def __init__(self, bench: Bench, tap_key: str) -> None:
        """Args: bench: the unit in hand; tap_key: the key that taps."""
        super().__init__(bench)
        self.tap_key = tap_key
        self._taps = Taps()
        self._presses = Taps()
        self._wait: Timer | None = None
        self._armed_at: Size | None = None
        self._leaving = False
        self._resting = False
        self.course: Course | None = None

    # What the screens of this kind give

    def light(self, *, lit: bool) -> None:
        """Draw the light, where there is one."""

    async def begin(self) -> None:
        """Set `course`, make ready, then `arm`."""

    async def end(self) -> None:
        """The course is done: have it kept."""

    async def break_off(self, why: str) -> None:
        """Something came between: what was tapped is void, and kept as that."""

    def face(self) -> ComposeResult:
        """What stands between instruction and the word; nothing, or the light."""
        yield from ()

    # The sheet

    def sheet(self) -> ComposeResult:
        """Instruction, the word, how far it is."""
        with Vertical(id="sheet"):
            yield Words(id="what")
            yield Words(id="do")
            with Horizontal(id="face"):
                yield from self.face()
            yield BigWord("WAIT", id="word")
            yield Words(id="number")
            yield Words(id="said")

    def on_mount(self) -> None:
        """Whatever may break a trial off is watched; the head stands still."""
        self.hold_timers()
        self.app.clear_notifications()  # one that goes while taps are taken would move everything on the screen
        if self.desk.is_reader_lost:
            self._taps, self._presses = self._taps.reader_lost(), self._presses.reader_lost()
        self.watch(self.app, "app_focus", self._focus_moved, init=False)
        self.app.app_suspend_signal.subscribe(self, self._suspended)
        self.app.app_resume_signal.subscribe(self, self._suspended)
        self.run_worker(self.begin(), group="timing")

    @property
    def is_armed(self) -> bool:
        """Are taps taken now?"""
        return self._armed_at is not None

    def unfinished(self) -> str:
        """Taps that would be lost."""
        return "taps are under way" if self.is_armed else ""

    @property
    def how(self) -> HowStamped:
        """By what the taps were timed."""
        taps = self._taps
        return HowStamped(CLOCK_NAME, f"{taps.resolution_s:g}", "screen" if taps.has_some_by_screen else "reader")

    def arm(self) -> None:
        """Taps are taken from now."""
        self._armed_at = self.app.size
        self.follow()

    def disarm(self) -> None:
        """Taps are taken no more."""
        self._armed_at = None
        self._stop_waiting()
        self.light(lit=False)

    def rest(self) -> None:
        """A sheet of this screen's own is about to lie over it; between trials that breaks nothing off."""
        self._resting = True

    def go_on(self) -> None:
        """That sheet is gone."""
        self._resting = False

    # Marks

    def on_key(self, event: events.Key) -> None:
        """The tap key taps; any other key that writes stands for the unit's button."""
        handler_s = key_now_s()
        writes = event.is_printable or event.key == "enter"
        if event.key != self.tap_key and not writes:
            return
        event.stop()
        event.prevent_default()
        if not self.is_armed:
            return
        at_s = round(event.time, 6)
        if event.key == self.tap_key:
            before, self._taps = self._taps, self._taps.after(at_s, handler_s)
            self._arrived(before, self._taps, Tapped(at_s))
        else:
            before, self._presses = self._presses, self._presses.after(at_s, handler_s)
            self._arrived(before, self._presses, Pressed(at_s))

    def _arrived(self, before: Taps, after: Taps, mark: Mark) -> None:
        marks: list[Mark] = [
            Doubted(now.event_s, NOT_TRUSTED)
            for then, now in zip(before.arrivals, after.arrivals, strict=False)
            if then.kind == "tap" and now.kind != "tap"
        ]
        if after.arrivals[-1].kind == "tap":
            marks.append(mark)
        for one in marks:
            self._take(one)
        if marks:
            self.follow()

    def follow(self) -> None:
        """Do what the cue says."""
        self._stop_waiting()
        if not self.is_armed or self.course is None:
            return
        cue, now_s = self.course.cue, key_now_s()
        match cue:
            case AwaitStart():
                self.light(lit=False)
                self._say("TAP", f"Trial {cue.number} of {cue.of}", cue.said)
            case Light(at_s):
                self._wait = self.set_timer(max(SOONEST_S, at_s - now_s), self._draw_light)
            case AwaitStop(until_s):
                self._wait = self.set_timer(max(SOONEST_S, until_s - now_s), self.time_out)
            case AwaitTap():
                if cue.until_s is None:
                    self._say("TAP", f"Row {cue.row}: tap {cue.number} of {cue.of}", cue.said)
                else:
                    self._wait = self.set_timer(max(SOONEST_S, cue.until_s - now_s), self.time_out)
            case Done():
                self._wait = self.set_timer(SETTLE_S, self._ended)

    def _take(self, mark: Mark) -> None:
        if self.course is not None:
            self.course = self.course.after(mark)

    def _draw_light(self) -> None:
        self.light(lit=True)
        self.call_after_refresh(self._light_drawn)

    def _light_drawn(self) -> None:
        if self.is_armed and self.course is not None and isinstance(self.course.cue, Light):
            self._take(Drawn(round(key_now_s(), 6)))
            self.follow()

    def time_out(self) -> None:
        """The cue's time went by."""
        self._take(TimedOut(round(key_now_s(), 6)))
        self.follow()

    def _ended(self) -> None:
        self.disarm()
        self.query_one("#word", BigWord).word = "WAIT"
        self.run_worker(self.end(), group="timing")

    def _stop_waiting(self) -> None:
        if self._wait is not None:
            self._wait.stop()
            self._wait = None

    def _say(self, word: str, number: str, said: str) -> None:
        self.query_one("#word", BigWord).word = word
        self.query_one("#number", Words).say(number)
        self.say(said)

    def say(self, words: str) -> None:
        """What became of the last trial, or of all."""
        self.query_one("#said", Words).say(words)

    def explain(self, what: str, do: str) -> None:
        """The step, and what the hands do."""
        self.query_one("#what", Words).say(joined((what, "bold")))
        self.query_one("#do", Words).say(do)

    @property
    def key_name(self) -> str:
        """The tap key, as a person calls it."""
        return key_words(self.tap_key)

    # What breaks it off

    def reader_lost(self) -> None:
        """The process that stamps keys is gone: what was begun is void, the rest goes on less exactly and is marked."""
        self._taps, self._presses = self._taps.reader_lost(), self._presses.reader_lost()
        if self.is_armed:
            self.interrupt_trial("the process that stamps taps was lost; the screen stamps now, less exactly")

    def interrupt_trial(self, why: str) -> None:
        """Only the trial that was begun is void."""
        self._take(Interrupted(why))
        self.follow()

    def on_resize(self, event: events.Resize) -> None:
        """Another size is another screen."""
        if self._armed_at is not None and event.size != self._armed_at:
            self._broken("the window changed its size")

    def _focus_moved(self, focus: bool) -> None:
        if not focus:
            self._broken("another window took the keys")

    def _suspended(self, _app: object) -> None:
        self._broken("the program was suspended")

    def on_screen_suspend(self) -> None:
        """Make safe, help or another sheet lies over it."""
        if self.is_armed and not self._resting:
            self._leaving = True
            self._broken("another sheet was opened")

    def on_screen_resume(self) -> None:
        """What was broken off by another sheet isn't taken up by itself."""
        if self._leaving:
            self.dismiss(None)

    def _broken(self, why: str) -> None:
        if not self.is_armed:
            return
        self.disarm()
        self.query_one("#word", BigWord).word = "WAIT"
        self.run_worker(self._begin_anew(why), group="timing")

    async def _begin_anew(self, why: str) -> None:
        await self.break_off(why)
        if not self._leaving:
            await self.begin()
            self.say(f"Void: {why}. It begins anew.")

    async def action_leave(self) -> None:
        """Break it off and go back."""
        self._leaving = True
        if self.is_armed:
            self.disarm()
            await self.break_off("left by the person who taps")
        self.dismiss(None)
