"""How does the rack look: one line a soaking unit, the one to look at next on top?"""

from collections.abc import Sequence
from typing import Any

from textual.content import Content

from passcheck.app.plain import Lines, joined, line
from passcheck.job.rack import Lateness, Place

STYLES: dict[Lateness, str] = {"waiting": "", "due": "bold", "late": "bold reverse", "missed": "bold reverse"}


class RackBoard(Lines):
    """The rack; each unit's line carries its job number as id."""

    DEFAULT_CSS = """
    RackBoard, RackBoard:focus { height: 1fr; text-wrap: nowrap; text-overflow: clip; }
    """

    def __init__(self, **named: Any) -> None:
        """Nothing stands on it yet; `named` goes to the list."""
        super().__init__(**named)
        self._shown: dict[str, Place] = {}

    def put(self, places: Sequence[Place]) -> None:
        """Show these units; only lines that read differently are drawn again, and the line at hand stays at hand."""
        wanted = {place.row.job: place for place in places}
        if list(wanted) != list(self._shown) or not self.option_count:
            self._put_all(wanted)
        else:
            for job, place in wanted.items():
                before = self._shown[job]
                if (place.words, place.tag) != (before.words, before.tag):
                    self.replace_option_prompt(job, place_line(place))
        self._shown = wanted

    def _put_all(self, wanted: dict[str, Place]) -> None:
        at_hand = self.highlighted_option.id if self.highlighted_option is not None else None
        self.clear_options()
        self.add_options([line(place_line(place), job) for job, place in wanted.items()])
        if not wanted:
            self.add_option(line("  No unit is on soak. A burn-in run starts one.", disabled=True))
        if at_hand is not None and at_hand in wanted:
            self.highlighted = self.get_option_index(at_hand)


def place_line(place: Place) -> Content:
    """One unit: its tag, when it is to be looked at, what counts, what was lost."""
    tag = place.tag
    cycles = f"{tag.cycles}/{tag.cycles_wanted} cycles" if tag.cycles_wanted else ""
    return joined(
        (f"° {place.row.serial:<12} ", "bold $ink on $card"),
        f" {place.row.sequence:<8} ",
        (f"{place.words:<25}", STYLES[place.lateness]),
        f" {_hours(tag.counted_s)} of {_hours(tag.wanted_s)} h  {cycles:<12} ",
        "left alone  " if tag.alone else "",
        (f"lost: {tag.lost_why}" if tag.lost_why else "", "italic"),
    )


def _hours(seconds: int) -> str:
    return f"{seconds // 3600}:{seconds % 3600 // 60:02d}"
