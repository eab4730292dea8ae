"""How are thousands of journals read by all cores of the machine?

Each process reads some journals at a time and gives their rows back, in the order of the journals. No more is read
ahead than a few handfuls a process, so that a shop of any size fits into memory.
"""

import gc
import os
import sys
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from multiprocessing.context import BaseContext

from passcheck.job.fold import ReadSequence
from passcheck.records.archive_intake import TakenIn, ToRead, read
from passcheck.records.disk import Disk

HANDFUL = 16
"""Journals that a process reads before it tells of them."""
AHEAD = 4
"""Handfuls a process that may lie read and not yet taken."""
FEWEST_FOR_MORE = 400
"""Below it, starting processes takes longer than they save: they load the program and each board's sequence anew."""

Handful = Sequence[TakenIn]


def read_all(
    journals: Sequence[ToRead], read_sequence: ReadSequence, disk: Disk, processes: int | None = None
) -> Iterator[Handful]:
    """What becomes of each of these journals, in their order, some at a time.

    Args:
        journals: the older ones first.
        read_sequence: turns a sequence's text into the model; other processes have to find it by its name.
        disk: where they lie, for this process; others use the machine's own.
        processes: how many; else as many as there are cores, or this one alone for a few journals.
    """
    handfuls = [journals[at : at + HANDFUL] for at in range(0, len(journals), HANDFUL)]
    workers = processes or (os.cpu_count() or 1 if len(journals) >= FEWEST_FOR_MORE else 1)
    if workers <= 1:
        yield from ([read(one, read_sequence, disk) for one in handful] for handful in handfuls)
        return
    with _pool(min(workers, len(handfuls)), read_sequence) as pool:
        yield from _in_turn(pool, handfuls, AHEAD * workers)


def _in_turn(pool: ProcessPoolExecutor, handfuls: Sequence[Sequence[ToRead]], ahead: int) -> Iterator[Handful]:
    waiting: deque[Future[Handful]] = deque()
    for handful in handfuls:
        waiting.append(pool.submit(_read_some, handful))
        if len(waiting) >= ahead:
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()


@contextmanager
def _pool(workers: int, read_sequence: ReadSequence) -> Iterator[ProcessPoolExecutor]:
    pool = ProcessPoolExecutor(workers, _context(), _begin, (read_sequence,))
    try:
        yield pool
    finally:
        pool.shutdown(cancel_futures=True)  # who was interrupted doesn't wait for what nobody will take


def _context() -> BaseContext:
    """A copy of this process where that is cheap and harmless: with threads in it, a copy may hold their locks."""
    alone = threading.active_count() == 1
    return get_context("fork" if alone and sys.platform == "linux" else "spawn")


_reader: list[ReadSequence] = []
"""The one of this process, taken when it began."""


def _begin(read_sequence: ReadSequence) -> None:
    _reader[:] = [read_sequence]
    gc.disable()  # what is read holds no cycles (`uncollected.py`), and the process ends with the last journal
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """A process whose parent was killed would wait for more journals for ever."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)


def _read_some(handful: Sequence[ToRead]) -> Handful:
    return [read(one, _reader[0], Disk()) for one in handful]
