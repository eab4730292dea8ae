"""Who is at the desk, with which shop, and which unit is in hand?

What every screen may ask of the application; screens import this and never the application itself.
"""

from typing import Any

from textual.app import App
from textual.dom import DOMNode

from passcheck.app.plain import tell
from passcheck.bench.bench import Bench
from passcheck.bench.shop import Shop
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.power import told
from passcheck.job.settings import BenchSettings


class Desk(App[None]):
    """The application as its screens see it."""

    def __init__(self, shop: Shop, settings: BenchSettings) -> None:
        """Take the shop, and the settings as they were when the program started."""
        super().__init__()
        self.shop = shop
        self.started_with = settings
        self.person = next(iter(settings.people)) if len(settings.people) == 1 else ""
        self.bench: Bench | None = None  # the unit that was last in hand; make safe is for it

    def settings(self) -> BenchSettings:
        """bench.yaml as it is now; as it was at the start where it can't be read any more."""
        try:
            self.started_with = self.shop.settings()
        except (FileFault, BenchFailed) as fault:
            tell(self, str(fault), "error")
        return self.started_with

    def name_of(self, person: str) -> str:
        """The person's name, or the id where the settings don't know it any more."""
        known = self.started_with.people.get(person)
        return known.name if known else person

    def powered_words(self) -> str:
        """What is told of the supplies of the unit in hand when they aren't all off, or ""."""
        if self.bench is None or self.bench.job.ended is not None or not self.bench.job.power:
            return ""
        states = told(self.bench.job, self.bench.moment())
        open_ones = [f"{name} told {state}" for name, state in states.items() if state == "on"]
        return ", ".join(open_ones)


def desk_of(node: DOMNode) -> Desk:
    """The application that a screen or widget belongs to."""
    app: App[Any] = node.app
    assert isinstance(app, Desk)  # noqa: S101 - screens are only ever pushed by the desk
    return app
