"""A technician at the screens of a bench in memory: opens the program headless, waits until all is quiet, reads it."""

import html
import os
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from pathlib import Path

from rich.cells import cell_len, set_cell_size
from rig import Rig
from textual.pilot import Pilot
from textual.widgets import Input, TextArea
from textual.worker import WorkerCancelled

from passcheck.app.app import PasscheckApp

SAMPLES = Path(__file__).parent.parent / "samples" / "screens"
WRITE = "PASSCHECK_WRITE_SCREENS"
SMALL, LARGE = (80, 24), (100, 30)
HELD_S = 0.03  # a printable key is held for 25 ms, in case a scanner typed it
BUSY = ("shelf", "share", "open-job", "history", "find-words", "figures")
"""Groups of workers that end without a person's answer; the others wait at a sheet."""
CELL_W, LINE_H = 12.2, 24.4  # of the exported picture, in its own units
_TEXT = re.compile(r'<text class="[^"]*" x="([\d.]+)" y="([\d.]+)"[^>]*>(.*?)</text>', re.DOTALL)


@asynccontextmanager
async def at_desk(rig: Rig, size: tuple[int, int] = SMALL, person: str = "t1") -> AsyncIterator[Pilot[None]]:
    """The program over the rig's shop, with somebody at the bench; an empty `person` is asked who they are."""
    app = PasscheckApp(rig.shop, rig.settings.current)
    app.person = person
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        yield pilot


async def settle(pilot: Pilot[None]) -> None:
    """Wait until nothing is under way: held keys, messages, workers and what they asked for."""
    await pilot.pause(HELD_S)
    for _ in range(2):
        busy = [worker for worker in pilot.app.workers if worker.group in BUSY]
        if busy:
            with suppress(WorkerCancelled):  # the shelf reads itself anew; the older reading is dropped
                await pilot.app.workers.wait_for_complete(busy)
        await pilot.pause()


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys as a hand does, and wait until all is quiet."""
    for key in keys:
        await pilot.press(key)
        await settle(pilot)


async def type_in(pilot: Pilot[None], text: str) -> None:
    """Type into the entry that has the focus."""
    focused = pilot.app.focused
    if isinstance(focused, Input):
        focused.insert_text_at_cursor(text)
    else:
        assert isinstance(focused, TextArea), focused
        focused.insert(text)
    await settle(pilot)


def rows(pilot: Pilot[None]) -> list[str]:
    """The window as rows of text, as a person reads it, from the picture that the program exports."""
    width, height = pilot.app.size
    written = [" " * width] * height
    picture = pilot.app.export_screenshot()
    for x, y, text in _TEXT.findall(picture[picture.index("</defs>") :]):
        row, column = round((float(y) - 20) / LINE_H), round(float(x) / CELL_W)
        words = html.unescape(text).replace("\N{NO-BREAK SPACE}", " ")
        if 0 <= row < height and words.strip():
            before, after = set_cell_size(written[row], column), written[row][column + cell_len(words) :]
            written[row] = before + words + after
    return [row.rstrip() for row in written]


def shown(pilot: Pilot[None]) -> str:
    """All text of the window."""
    return "\n".join(rows(pilot))


def matches_sample(pilot: Pilot[None], name: str) -> None:
    """Compare the window with the kept one; with the environment variable set, keep this one instead."""
    path = SAMPLES / f"{name}.txt"
    now = shown(pilot) + "\n"
    if os.environ.get(WRITE):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(now, encoding="utf-8")
    assert now == path.read_text(encoding="utf-8"), f"{name} looks different; {WRITE}=1 keeps the new look"
