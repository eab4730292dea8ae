"""How long does the rack take to draw 200 soaking units anew?

    .venv/bin/python tests/benchmarks/rack_repaint.py [--units 200] [--rounds 300]

The rack lies open on the real screen stack in a terminal of 100x30 in memory. Each round lets time go by, so that lines
read differently, and takes the time from the tick until the picture was handed to the terminal: `words` where the order
stays and some lines change, `order` where a look moved units about. Textual draws at most 60 times a second, so up to
17 ms of it are waiting. Printed: median, 95th percentile and largest, and the 95th percentile beside the 50 ms that a
repaint may take.
"""

import argparse
import asyncio
import sys
import time
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from textual.app import App

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes")]

from at_desk import at_desk, settle  # noqa: E402 - the paths come first
from rig import Rig  # noqa: E402

from passcheck.app.screens.rack import RackScreen  # noqa: E402
from passcheck.job.shelf_row import ShelfRow, SoakTag  # noqa: E402

MOST_S = 0.050


class ManyUnits:
    """A shelf of soaking units whose looks fall due one after the other."""

    def __init__(self, rig: Rig, units: int) -> None:
        now = rig.clock()
        self.rows = tuple(self._row(number, now.utc, now.boottime_ms, now.boot_id) for number in range(units))

    def __call__(self) -> tuple[ShelfRow, ...]:
        return self.rows

    def look_at_first(self, rig: Rig, job: str) -> None:
        """One unit was looked at: its next look is an hour away."""
        due = rig.clock().boottime_ms + 3_600_000
        self.rows = tuple(
            replace(row, soak=replace(row.soak, due_ms=due)) if row.job == job and row.soak is not None else row
            for row in self.rows
        )

    @staticmethod
    def _row(number: int, utc: datetime, now_ms: int, boot_id: str) -> ShelfRow:
        in_s = 17 * number % 3600
        due_at = (utc + timedelta(seconds=in_s)).isoformat()
        tag = SoakTag(
            "soak", due_at, now_ms + 1000 * in_s, boot_id, 3600, 60 * number, 14400, number % 12, 12, 0, True, False
        )
        return ShelfRow(
            f"A31-{number:04d}", f"7Q{number:05d}", "LB-3", "1", "Lamp board", "burn in", "", "", "", 2, None, tag
        )


class Watch:
    """Waits until the program has handed its picture to the terminal."""

    def __init__(self, app: App[Any]) -> None:
        self._done = asyncio.Event()
        self._at = 0.0
        display = type(app)._display

        def watched(*given: Any) -> None:
            display(app, *given)
            self._at = time.perf_counter()
            self._done.set()

        app._display = watched  # type: ignore[method-assign, assignment]

    async def drawn(self) -> float:
        """When the picture was out."""
        await asyncio.wait_for(self._done.wait(), 5)
        return self._at


def told(name: str, took: list[float]) -> None:
    """One line of figures."""
    took.sort()
    p95 = took[int(len(took) * 0.95)]
    print(
        f"{name:<8} median {1000 * took[len(took) // 2]:6.1f} ms   p95 {1000 * p95:6.1f} ms   "
        f"largest {1000 * took[-1]:6.1f} ms   p95 / 50 ms {p95 / MOST_S:.2f}"
    )


async def measured(units: int, rounds: int) -> None:
    """Walk the rounds and print them."""
    rig = Rig()
    shelf = ManyUnits(rig, units)
    rig.shop.shelf = shelf  # type: ignore[method-assign]
    words: list[float] = []
    order: list[float] = []
    async with at_desk(rig, (100, 30)) as pilot:
        screen = RackScreen()
        await pilot.app.push_screen(screen)
        await settle(pilot)
        for number in range(rounds):
            rig.clock.pass_time(seconds=30)
            moved = number % 2 == 1
            if moved:
                shelf.look_at_first(rig, screen.places()[0].row.job)
                screen.take_rows(shelf())
            watch = Watch(pilot.app)
            begun = time.perf_counter()
            screen.tick()
            (order if moved else words).append(await watch.drawn() - begun)
            await settle(pilot)
    print(f"{units} units on soak, 100x30, {rounds} repaints")
    told("words", words)
    told("order", order)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--units", type=int, default=200)
    parser.add_argument("--rounds", type=int, default=300)
    given = parser.parse_args()
    asyncio.run(measured(given.units, given.rounds))
