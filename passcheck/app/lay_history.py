"""When do a unit's earlier visits come before somebody's eyes?

A unit that is taken in and has been on this bench before shows them first, over its traveller. Visits that the shelf
doesn't know are told of in passing, because an archive may take long to ask and nobody's keys may wait for it. Whatever
fails here is a sentence: it never keeps a unit from being taken in.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from typing import TYPE_CHECKING

from passcheck.app.plain import tell
from passcheck.app.screens.find_words import FindWords
from passcheck.app.screens.history import HistoryScreen
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.serial import read_serial

if TYPE_CHECKING:  # there is no cycle
    from passcheck.app.desk import Desk
    from passcheck.app.screens.shelf import ShelfScreen
    from passcheck.job.shelf_row import ShelfRow
    from passcheck.job.state import Job


async def history_asked_for(shelf: ShelfScreen, typed: str, at_hand: str) -> None:
    """Show the history of a unit; where none is meant, find one by what people wrote."""
    serial: str | None = at_hand or read_serial(typed)
    if not serial:
        serial = await shelf.app.push_screen_wait(FindWords())
    if serial:
        shelf.app.push_screen(HistoryScreen(serial))


async def lay_history_over(desk: Desk, job: Job, shelf: Iterable[ShelfRow]) -> None:
    """Show earlier visits over the traveller of a job that was just opened, where there are any.

    `shelf` is as it was last read.
    """
    archive = desk.shop.archive
    if archive is None:
        return
    if any(row.serial == job.serial and row.job != job.id for row in shelf):
        await desk.push_screen(HistoryScreen(job.serial, job.id))
        return
    try:
        visits = await asyncio.to_thread(archive.visits, job.serial)
    except (BenchFailed, FileFault) as fault:
        tell(desk, f"Whether this unit has been here before couldn't be read: {fault}", "warning")
        return
    if any(one.job.job != job.id for one in visits):
        tell(desk, f"Unit {job.serial} has been here before: F3 on its traveller shows what was found and done then.")
