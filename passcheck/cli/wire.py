"""What is joined to what, so that a bench stands on real files and a real clock?

Only the shelf's file is at hand at the start; the parts behind the other ports are loaded when they are first asked.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from passcheck.bench.ports import Clock
from passcheck.bench.shop import Shop
from passcheck.cli.clock import now
from passcheck.cli.folders import Folders
from passcheck.cli.later import later
from passcheck.job.journal_line import Line
from passcheck.job.shelf_row import ShelfRow
from passcheck.records.shelf import read_shelf

if TYPE_CHECKING:  # there is no cycle
    from passcheck.records.board_folder import BoardFolder
    from passcheck.records.settings_file import BenchFiles
    from passcheck.records.shop import LogFolder


class _ShelfFile:
    """The shelf of one folder of records, as the bench asks for it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def rows(self, summarise: Callable[[tuple[Line, ...]], ShelfRow]) -> tuple[ShelfRow, ...]:
        """A row a job, the oldest first."""
        return read_shelf(self._folder, summarise)


def open_shop(folders: Folders, clock: Clock = now) -> Shop:
    """All jobs of the bench whose records lie in that folder; nothing is read or written before something is done."""
    settings = later(lambda: bench_files(folders, clock))
    files = later(lambda: _log_folder(folders, settings.read().letter, clock))
    boards = later(lambda: _board_folder(folders))
    return Shop(files, _ShelfFile(folders.logs), boards, settings, clock, _tool)


def bench_files(folders: Folders, clock: Clock = now) -> BenchFiles:
    """bench.yaml and what the program keeps beside it."""
    from passcheck.records.settings_file import BenchFiles

    return BenchFiles(folders.logs, clock().local().date())


def _log_folder(folders: Folders, letter: str, clock: Clock) -> LogFolder:
    """The journals, whose own lines are stamped by the same clock as everybody's."""
    from passcheck.job.replay import stamp
    from passcheck.records.shop import LogFolder
    from passcheck.records.stamp import Stamp

    def stamped() -> Stamp:
        moment = clock()
        return Stamp(stamp(moment), moment.boottime_ms)

    return LogFolder(folders.logs, letter, stamp=stamped)


def _board_folder(folders: Folders) -> BoardFolder:
    from passcheck.records.board_folder import BoardFolder

    return BoardFolder(folders.sequences)


def _tool() -> str:
    from passcheck.cli.tool import tool

    return tool()
