"""Which key or pedal taps at this bench?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.events import Key

from passcheck.app.desk import desk_of
from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Words, joined
from passcheck.app.tap_keys import key_words, not_the_tap_key_because
from passcheck.errors import BenchFailed, FileFault


class LearnKey(LaidOver[str]):
    """Takes whatever key arrives, twice the same, and keeps it; dismisses it, or "" where nothing was learned."""

    takes_taps: ClassVar[bool] = True
    AUTO_FOCUS = None
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="learn.leave", tooltip="Back; no key is learned."),
    ]

    def __init__(self) -> None:
        """Nothing was pressed yet."""
        super().__init__()
        self._first = ""

    def compose(self) -> ComposeResult:
        """What to do, what came."""
        with Vertical(classes="slip"):
            yield Words("THE TAP KEY", classes="slip-title")
            yield Words("Press your pedal now, or the key that you will tap: space, a letter without a use here, F10.")
            yield Words("It times and does nothing else: it never says pass and never answers a caution.")
            yield Words(id="learned")
            yield Words("Escape goes back.")

    def on_key(self, event: Key) -> None:
        """Take a key; the same once more keeps it."""
        if event.key in ("escape", "f8", "ctrl+q"):
            return
        event.stop()
        event.prevent_default()
        why = not_the_tap_key_because(event.key, event.character, desk_of(self).settings().keys)
        if why:
            self._first = ""
            self._say(joined((key_words(event.key), "bold"), f" can't be the tap key: {why}."))
        elif event.key != self._first:
            self._first = event.key
            self._say(joined((key_words(event.key), "bold"), " came. Press it once more to keep it."))
        else:
            self._keep(event.key)

    def _keep(self, key: str) -> None:
        desk = desk_of(self)
        try:
            desk.shop.keep_tap_key(key)
            desk.settings()  # what the desk knows of the bench holds the key from here
        except (BenchFailed, FileFault) as fault:
            self._say(joined(("NOT KEPT  ", "bold"), str(fault)))
            return
        self.dismiss(key)

    def _say(self, words: Content) -> None:
        self.query_one("#learned", Words).say(words)

    def action_leave(self) -> None:
        """Back; no key is learned."""
        self.dismiss("")
