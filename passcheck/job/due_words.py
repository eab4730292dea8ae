"""Which soaking units fell due since they were last spoken of?

For a technician who works on another unit: each look is told of twice at most, when it falls due and when it is late.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from passcheck.job.moment import Moment
from passcheck.job.rack import Lateness, Place, rack
from passcheck.job.shelf_row import ShelfRow

STAGES: tuple[Lateness, ...] = ("due", "late", "missed")


@dataclass(slots=True)
class DueWords:
    """Remembers what was told; a look that was done is forgotten, so that the next one is told of again."""

    _told: dict[str, tuple[str, Lateness]] = field(default_factory=dict)

    def news(self, rows: Iterable[ShelfRow], moment: Moment) -> tuple[str, ...]:
        """One sentence for each unit whose look fell due or turned late since the last call."""
        places = rack(rows, moment)
        waiting = {place.row.job for place in places if place.lateness in STAGES}
        for job in self._told.keys() - waiting:
            del self._told[job]
        return tuple(sentence for place in places if (sentence := self._news_of(place)))

    def _news_of(self, place: Place) -> str:
        if place.lateness not in STAGES or place.tag.still_to_pass or place.tag.complete:
            return ""
        told = self._told.get(place.row.job)
        if told is not None and told[0] == place.tag.due_at and (told[1] == place.lateness or place.lateness == "due"):
            return ""
        self._told[place.row.job] = (place.tag.due_at, place.lateness)
        return f"On soak: {place.row.serial}, {place.words}. Rack: F7 on the shelf."
