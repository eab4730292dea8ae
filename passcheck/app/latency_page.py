"""How many frames lie between the key and the light, on this bench?

First the whole screen flips with each press, to be filmed with a phone; then the frames of five clips are entered.
Nothing else is drawn while it may flip, so what is filmed is what a timed trial will meet.
"""

from dataclasses import dataclass
from typing import ClassVar, Final

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.events import Key

from passcheck.app.plain import Words, lines
from passcheck.app.signals import end_on_signals
from passcheck.app.theme import DESK, THEMES
from passcheck.app.widgets.fields import Ask, Fields, NotUnderstood, Understood
from passcheck.judge.latency import CLIPS_WANTED, Latency, filmed_latency

FILM: Final = """FILM KEY AND SCREEN TOGETHER

1  Set a phone to slow motion, 120 or 240 frames a second. Key and screen both in the picture.
2  Film one press of the space bar: the whole screen flips, once for each press.
3  Count the frames from the one in which the key is down to the one in which the screen has flipped.
4  Five presses in all. Then Enter.

A bright screen that changes can be unpleasant, and harmful to people who are sensitive to flashing light.
It changes only when you press; let somebody else do it where that may concern you.

space  flips     Enter  to the figures     Escape  leaves, nothing kept"""
APART_S: Final = 0.6
"""A key that comes again sooner is held: the first repeat comes after half a second at most settings."""
FASTEST_FPS: Final = 10_000
MOST_FRAMES: Final = 10_000


@dataclass(frozen=True, slots=True)
class Filmed:
    """The figures as typed and what they give."""

    fps: str
    frames: tuple[str, ...]
    latency: Latency


class LatencyApp(App[Filmed]):
    """Two pages: the flip, the figures."""

    TITLE = "passcheck bench latency"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave", id="latency.leave", tooltip="Ends; nothing is kept."),
    ]
    CSS = """
    Screen { padding: 1 2; background: black; color: white; }
    Screen.-flipped { background: white; color: black; }
    Words { height: auto; }
    #figures { display: none; height: auto; }
    Screen.-counting #figures { display: block; }
    Screen.-counting #film { display: none; }
    #result { margin-top: 1; }
    """

    def __init__(self) -> None:
        """Nothing is filmed yet."""
        super().__init__()
        self._filmed: Filmed | None = None
        self._pressed_s = -APART_S
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = DESK.name

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Card and ink, which the slots are drawn with."""
        return DESK.variables

    def compose(self) -> ComposeResult:
        """What to film; and the slots for what was counted."""
        yield Words(lines(FILM), id="film")
        with Vertical(id="figures"):
            yield Words("Frames a second as recorded, then the frames of each clip.")
            clips = (Ask(f"Clip {number}", frames_of, "frames") for number in range(1, CLIPS_WANTED + 1))
            yield Fields((Ask("Frames a second", rate_of, "as recorded"), *clips))
            yield Words(id="result")

    def on_mount(self) -> None:
        """Nothing moves by itself."""
        self.animation_level = "none"
        end_on_signals(lambda code: self.exit(return_code=code))
        self.query_one("#figures").disabled = True

    def on_key(self, event: Key) -> None:
        """Flip, or go on."""
        if self.screen.has_class("-counting"):
            if event.key == "enter" and self._filmed is not None:
                event.stop()
                self.exit(self._filmed)
            return
        if event.key == "space":
            event.stop()
            held, self._pressed_s = event.time - self._pressed_s < APART_S, event.time
            if not held:  # a held key would make the screen flicker
                self.screen.toggle_class("-flipped")
        elif event.key == "enter":
            event.stop()
            self.screen.remove_class("-flipped").add_class("-counting")
            self.query_one("#figures").disabled = False
            self.query_one(Fields).open()

    def on_fields_filled(self, event: Fields.Filled) -> None:
        """Show what the clips give; the next Enter keeps it."""
        fps, *frames = event.texts
        found = filmed_latency([float(each) for each in frames], float(fps))
        self._filmed = Filmed(fps, tuple(frames), found)
        self.query_one("#result", Words).say(lines("\n".join(result_words(self._filmed))))
        self.query_one("#figures").focus()
        self.set_focus(None)

    def action_leave(self) -> None:
        """Nothing is kept."""
        self.exit(None, return_code=0)


def result_words(filmed: Filmed) -> list[str]:
    """Mean, spread and what to make of them."""
    counts = [float(each) for each in filmed.frames]
    value, u = 1000 * filmed.latency.value_s, 1000 * filmed.latency.u_s
    told = [f"Key to light: {value:.0f} ms, standard uncertainty {max(u, 1):.0f} ms."]
    if max(counts) - min(counts) > 0.5 * max(counts) and max(counts) - min(counts) > 2:
        told.append("The clips differ much: count again, or film again with nothing else running.")
    if not 0.005 <= filmed.latency.value_s <= 0.5:
        told.append("That is outside what benches show (5 to 500 ms): were the frames a second as recorded?")
    return [*told, "Enter keeps it. Escape leaves, nothing kept."]


def rate_of(text: str) -> Understood:
    """Frames a second: above 0."""
    figure = _figure(text, FASTEST_FPS, "frames a second, such as 240", zero=False)
    return Understood(figure, f"{figure} frames a second")


def frames_of(text: str) -> Understood:
    """Frames of one clip: 0 or more, half frames too."""
    figure = _figure(text, MOST_FRAMES, "the frames that you counted, such as 12", zero=True)
    return Understood(figure, f"{figure} frames")


def _figure(text: str, most: float, wanted: str, *, zero: bool) -> str:
    written = text.strip().replace(",", ".")
    digits = written.replace(".", "", 1)
    if not (digits.isascii() and digits.isdigit() and len(written) <= 8):
        raise NotUnderstood(f"'{text[:20]}' is no number: type {wanted}")
    if float(written) > most or (not zero and float(written) == 0):
        raise NotUnderstood(f"'{text[:20]}' can't be: type {wanted}")
    return written
