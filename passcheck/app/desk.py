"""Who is at the desk, with which shop, and which unit is in hand?

What every screen may ask of the application; screens import this and never the application itself.
"""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

from textual.app import App
from textual.dom import DOMNode

from passcheck.app.keys import MAKE_SAFE
from passcheck.app.plain import tell
from passcheck.errors import BenchFailed, FileFault

if TYPE_CHECKING:  # the shelf stands before these are loaded; there is no cycle
    from passcheck.app.practice_desk import PracticeDesk
    from passcheck.bench.bench import Bench
    from passcheck.bench.shop import Shop
    from passcheck.job.settings import BenchSettings
    from passcheck.job.shelf_row import ShelfRow


class Desk(App[None]):
    """The application as its screens see it."""

    def __init__(self, shop: Shop) -> None:
        """Take the shop; bench.yaml is read when the shelf stands."""
        super().__init__()
        self.shop = shop
        self.shelf_stands = asyncio.Event()
        self.bench_known = asyncio.Event()  # whatever needs a person or a setting waits for it
        self._known_settings: BenchSettings | None = None
        self.person = ""
        self.bench: Bench | None = None  # the unit that was last in hand; make safe is for it
        self.soaking: tuple[ShelfRow, ...] = ()  # as the shelf or the rack last read them, the unit in hand as it is
        self.practice: PracticeDesk | None = None  # simulated units, where the shop is for practice
        self.said_of_sharing = ""  # what was wrong the last time that sealed jobs were to be published
        self.is_reader_lost = False  # keys are stamped by the screen since then, less exactly

    def settings(self) -> BenchSettings:
        """bench.yaml as it is now; as it was at the start where it can't be read any more."""
        try:
            self._known_settings = self.shop.settings()
        except (FileFault, BenchFailed) as fault:
            if self._known_settings is None:
                raise
            tell(self, str(fault), "error")
        return self._known_settings

    def started_with(self) -> BenchSettings:
        """bench.yaml as it was last read."""
        return self._known_settings if self._known_settings is not None else self.settings()

    def take_settings(self, settings: BenchSettings) -> None:
        """bench.yaml is known from here; its only person is the one at the bench."""
        self._known_settings = settings
        if not self.person and len(settings.people) == 1:
            self.person = next(iter(settings.people))
        self.bench_known.set()

    @property
    def tap_key(self) -> str | None:
        """The key or pedal that taps, None where none was learned or bench.yaml gives it another use."""
        known = self._known_settings
        if known is None or known.tap_key is None:
            return None
        taken = {one for keys in known.keys.values() for one in keys.split(",")}
        return None if known.tap_key in taken else known.tap_key

    @property
    def make_safe_keys(self) -> frozenset[str]:
        """The key that makes safe, ours or the bench's own."""
        own = self._known_settings.keys.get(MAKE_SAFE.id or "") if self._known_settings is not None else None
        return frozenset((own or MAKE_SAFE.key).split(","))

    def name_of(self, person: str) -> str:
        """The person's name, or the id where the settings don't know it any more."""
        known = self._known_settings.people.get(person) if self._known_settings is not None else None
        return known.name if known else person

    def keep_tag(self, bench: Bench) -> None:
        """Something was done to this unit: a look that was made isn't called for until the next one falls due."""
        others = tuple(row for row in self.soaking if row.job != bench.job.id)
        if bench.job.open_soak is None:
            self.soaking = others
            return
        from passcheck.job.summary import summarise  # the unit in hand has long loaded it

        self.soaking = (*others, summarise(bench.job, bench.outside(), bench.moment()))

    def powered_words(self) -> str:
        """What is told of the supplies of the unit in hand when they aren't all off, or ""."""
        if self.bench is None or self.bench.job.ended is not None or not self.bench.job.power:
            return ""
        from passcheck.job.power import told  # the unit in hand has long loaded it

        states = told(self.bench.job, self.bench.moment())
        open_ones = [f"{name} told {state}" for name, state in states.items() if state == "on"]
        return ", ".join(open_ones)


def desk_of(node: DOMNode) -> Desk:
    """The application that a screen or widget belongs to."""
    app: App[Any] = node.app
    assert isinstance(app, Desk)  # noqa: S101 - screens are only ever pushed by the desk
    return app
