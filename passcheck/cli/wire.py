"""What is joined to what, so that a bench stands on real files and a real clock?"""

from collections.abc import Callable
from pathlib import Path

from passcheck.bench.ports import Clock
from passcheck.bench.shop import Shop
from passcheck.cli.clock import now
from passcheck.cli.folders import Folders
from passcheck.cli.tool import tool
from passcheck.job.journal_line import Line
from passcheck.job.replay import stamp
from passcheck.job.shelf_row import ShelfRow
from passcheck.records.board_folder import BoardFolder
from passcheck.records.settings_file import BenchFiles
from passcheck.records.shelf import read_shelf
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import Stamp


class _ShelfFile:
    """The shelf of one folder of records, as the bench asks for it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def rows(self, summarise: Callable[[tuple[Line, ...]], ShelfRow]) -> tuple[ShelfRow, ...]:
        """A row a job, the oldest first."""
        return read_shelf(self._folder, summarise)


def open_shop(folders: Folders, clock: Clock = now) -> Shop:
    """All jobs of the bench whose records lie in that folder; nothing is written before something is done.

    Raises:
        FileFault: bench.yaml or bench.json can't be used.
        BenchFailed: they can't be read.
    """
    settings = bench_files(folders, clock)
    files = LogFolder(folders.logs, settings.read().letter, stamp=_stamps(clock))
    return Shop(files, _ShelfFile(files.root), BoardFolder(folders.sequences), settings, clock, tool())


def bench_files(folders: Folders, clock: Clock = now) -> BenchFiles:
    """bench.yaml and what the program keeps beside it."""
    return BenchFiles(folders.logs, clock().local().date())


def _stamps(clock: Clock) -> Callable[[], Stamp]:
    """The records' own lines by the same clock as everybody's."""

    def stamped() -> Stamp:
        moment = clock()
        return Stamp(stamp(moment), moment.boottime_ms)

    return stamped
