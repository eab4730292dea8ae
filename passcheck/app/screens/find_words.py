"""Where in the whole shop did people write certain words?"""

import asyncio
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, OptionList

from passcheck.app.desk import desk_of
from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Lines, Words, joined, line
from passcheck.app.widgets.typed import Slot
from passcheck.bench.shop import Shop
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.archive_rows import SaidRow

LEAD = "All of the words, in any order; the last one may be begun only. Enter looks, then Enter opens a unit's history."
TEXT_SHOWN = 300
MOST = 200


class FindWords(LaidOver[str | None]):
    """Notes, complaints and reasons of all jobs; dismisses the serial of the unit that was chosen, or None."""

    AUTO_FOCUS = "#words"
    DEFAULT_CSS = """
    FindWords .hint { height: auto; }
    FindWords #words { width: 1fr; margin: 1 0; }
    FindWords #found { height: 1fr; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="find.leave", tooltip="Back to where you were."),
    ]

    def __init__(self) -> None:
        """Nothing is looked for yet."""
        super().__init__()
        self._serials: list[str] = []  # of each line

    def compose(self) -> ComposeResult:
        """The words, how many were found, and where."""
        with Vertical(classes="slip -tall"):
            yield Words("FIND WORDS IN NOTES AND COMPLAINTS", classes="slip-title")
            yield Words(LEAD, classes="hint")
            yield Slot(placeholder="fuel needle warm", id="words", max_length=200)
            yield Words("", id="count")
            yield Lines(id="found")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Look for them."""
        event.stop()
        if event.value.strip():
            self._look(event.value)

    @work(exclusive=True, group="find-words")
    async def _look(self, words: str) -> None:
        self._say("Looking ...")
        try:
            found = await asyncio.to_thread(look, desk_of(self).shop, words)
        except (BenchFailed, FileFault) as fault:
            self._say(f"Nothing could be looked up: {fault}")
            return
        many = f"the latest {MOST}" if len(found) == MOST else str(len(found))
        self._say(f"{many} found, the latest first" if found else "Nobody wrote all of these words.")
        lines = self.query_one("#found", Lines)
        lines.clear_options()
        lines.add_options([line(_words(row), f"{at}") for at, row in enumerate(found)])
        self._serials = [row.serial for row in found]
        if found:
            lines.highlighted = 0
            lines.focus()

    def _say(self, words: str) -> None:
        self.query_one("#count", Words).say(words)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """The unit that it was written of."""
        self.dismiss(self._serials[event.option_index])

    def action_leave(self) -> None:
        """No unit was chosen."""
        self.dismiss(None)


def look(shop: Shop, words: str) -> tuple[SaidRow, ...]:
    """What was found; it may take long.

    Raises:
        BenchFailed: the archive can't be read, or there is none.
    """
    if shop.archive is None:
        raise BenchFailed("this bench has no archive.")
    return shop.archive.search(words)


def _words(row: SaidRow) -> Content:
    where = f" {row.step}" if row.step else ""
    text = " ".join(row.text[:TEXT_SHOWN].split())
    return joined((f"{row.job} {row.serial}", "bold"), f"  {row.at[:10]} {row.by} {row.kind}{where}: {text}")
