"""What is joined to what, so that a bench stands on real files and a real clock?

Only the shelf's file is at hand at the start; the parts behind the other ports are loaded when they are first asked.
"""

from __future__ import annotations

import os
from functools import partial
from typing import TYPE_CHECKING

from passcheck.bench.ports import Boards, Clock, SettingsFile
from passcheck.bench.shop import Shop
from passcheck.cli.clock import now
from passcheck.cli.folders import Folders, practice_folders
from passcheck.cli.later import later
from passcheck.cli.terminal import terminal_words
from passcheck.errors import FileFault
from passcheck.records.shelf import ShelfSummary

if TYPE_CHECKING:  # there is no cycle
    from passcheck.cli.paper_maker import JobPapers
    from passcheck.cli.publisher import Publisher
    from passcheck.records.archive import SqliteArchive
    from passcheck.records.asked_archive import AskedArchive, Engine
    from passcheck.records.asked_shared import AskedShared
    from passcheck.records.board_folder import BoardFolder
    from passcheck.records.settings_file import BenchFiles
    from passcheck.records.shared_archive import Sealed, SharedArchive
    from passcheck.records.shop import LogFolder

SHARED = "PASSCHECK_SHARED_ARCHIVE"
ANY_LETTER = "A"
"""For a folder of records that is only looked at: a ledger is begun with the bench's letter, and none is begun then."""


def open_shop(folders: Folders, clock: Clock = now) -> Shop:
    """All jobs of the bench whose records lie in that folder; nothing is read or written before something is done."""
    settings = later(lambda: bench_files(folders, clock))
    files = later(lambda: log_folder(folders, settings.read().letter, clock))
    boards = later(lambda: board_folder(folders))
    words = terminal_words(os.environ)
    shop = Shop(files, ShelfSummary(folders.logs), boards, settings, clock, _tool, words, _chance)
    shop.archive = later(lambda: asked_archive(folders, clock))
    shop.publisher = later(lambda: publisher(folders, settings, clock))
    shop.papers = later(lambda: paper_maker(shop, files))
    return shop


def open_practice_shop(folders: Folders, boards: Boards, clock: Clock) -> Shop:
    """The jobs of practice: below the bench's folder, with a ledger, a shelf and a bench.yaml of their own.

    Every job is marked as practice. Nothing is read or written before something is done; the bench.yaml of practice is
    written by `bench_files(practice_folders(folders), clock).make()`.

    Args:
        folders: the bench's own.
        boards: the sequences to practise on, such as short sheets; they lie in no folder.
        clock: may be ahead of the machine's.
    """
    below = practice_folders(folders)
    settings = later(lambda: bench_files(below, clock))
    files = later(lambda: log_folder(folders, settings.read().letter, clock, practice=True))
    shelf = ShelfSummary(below.logs)
    words = terminal_words(os.environ)
    shop = Shop(files, shelf, boards, settings, clock, _tool, words, _chance, practice=True)
    shop.archive = later(lambda: asked_archive(folders, clock, practice=True))
    shop.papers = later(lambda: paper_maker(shop, files))
    return shop


def bench_files(folders: Folders, clock: Clock = now) -> BenchFiles:
    """bench.yaml and what the program keeps beside it."""
    from passcheck.records.settings_file import BenchFiles

    return BenchFiles(folders.logs, clock().local().date())


def log_folder(folders: Folders, letter: str, clock: Clock, *, practice: bool = False) -> LogFolder:
    """The journals below a bench's folder, whose own lines are stamped by the same clock as everybody's."""
    from passcheck.job.replay import stamp
    from passcheck.records.shop import LogFolder
    from passcheck.records.stamp import Stamp

    def stamped() -> Stamp:
        moment = clock()
        return Stamp(stamp(moment), moment.boottime_ms)

    return LogFolder(folders.logs, letter, practice=practice, stamp=stamped)


def paper_maker(shop: Shop, logs: LogFolder) -> JobPapers:
    """What makes the papers of a shop's jobs and keeps them below its records."""
    from passcheck.cli.paper_maker import JobPapers
    from passcheck.records.paper_folder import PaperFolder

    return JobPapers(shop, PaperFolder(logs))


def open_archive(folders: Folders, clock: Clock = now, *, practice: bool = False) -> SqliteArchive:
    """The database made from all journals of the bench, or of practice; nothing is read or made before it is asked.

    It has a view of the records of its own, because it is asked in threads; and it never writes in them, so any letter
    of a bench will do.
    """
    from passcheck.records.archive import SqliteArchive
    from passcheck.records.board_folder import BoardFolder

    return SqliteArchive(log_folder(folders, ANY_LETTER, clock, practice=practice), BoardFolder.read)


def asked_archive(
    folders: Folders, clock: Clock = now, *, practice: bool = False, engine: Engine = "quicker"
) -> AskedArchive:
    """The same database as screens and commands ask it."""
    from passcheck.records.asked_archive import AskedArchive

    return AskedArchive(open_archive(folders, clock, practice=practice), practice=practice, engine=engine)


def shared_archive(settings: SettingsFile) -> SharedArchive | None:
    """The archive that several benches share, where the environment or bench.yaml names one."""
    address = os.environ.get(SHARED) or settings.read().shared_archive
    if not address:
        return None
    from passcheck.records.archive_intake import rows_of_journal
    from passcheck.records.board_folder import BoardFolder
    from passcheck.records.shared_archive import SharedArchive

    return SharedArchive(address, partial(rows_of_journal, read_sequence=BoardFolder.read))


def shared_asked(settings: SettingsFile) -> AskedShared:
    """The shared archive as commands ask it. Raises FileFault where none is named."""
    from passcheck.cli.publisher import NO_SHARED
    from passcheck.records.asked_shared import AskedShared

    shared = shared_archive(settings)
    if shared is None:
        raise FileFault(NO_SHARED)
    return AskedShared(shared)


def publisher(folders: Folders, settings: SettingsFile, clock: Clock = now) -> Publisher:
    """What publishes the sealed jobs of a bench; where it shares nothing, nothing more is loaded for it."""
    from passcheck.cli.publisher import Publisher

    def sealed() -> tuple[Sealed, ...]:
        from passcheck.records.publishing import sealed_jobs

        # A view of the records of its own, because it works in a thread; it writes nothing in them.
        logs = log_folder(folders, ANY_LETTER, clock)
        return sealed_jobs(open_archive(folders, clock), logs)

    return Publisher(lambda: shared_archive(settings), sealed)


def board_folder(folders: Folders) -> BoardFolder:
    """The sequence files of the folder."""
    from passcheck.records.board_folder import BoardFolder

    return BoardFolder(folders.sequences)


def _chance() -> float:
    """The order of reference trials must not be one that a hand can learn."""
    from secrets import SystemRandom

    return SystemRandom().random()


def _tool() -> str:
    from passcheck.cli.tool import tool

    return tool()
