"""What comes of many visits, by whichever processes they are walked?"""

import os
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial

from passcheck.practice.technician import ENDS
from passcheck.practice.visit import Visit, Workshop, visit

CHUNK = 8
"""Visits that a process walks before it tells of them."""
FEWEST_FOR_MORE = 2 * CHUNK  # below it starting more processes costs more than it saves


@dataclass(frozen=True, slots=True)
class Totals:
    """What was released, given back and left undecided, against the truth.

    Attributes:
        visits: how many there were.
        by_end: for each way to end: how many of the units were good in the end, how many not.
        escaped: visits whose unit was released and isn't as its sequence wants it.
        tries, hands_on_min, days: means of a visit.
        slips, caught, slipped_through: wrong entries; those not kept; those kept.
        signatures_refused: signatures asked for in vain.
    """

    visits: int
    by_end: Mapping[str, tuple[int, int]]
    escaped: tuple[Visit, ...]
    tries: float
    hands_on_min: float
    days: float
    slips: int
    caught: int
    slipped_through: int
    signatures_refused: int


def totals(visits: Iterable[Visit]) -> Totals:
    """Add visits up."""
    every = tuple(visits)
    good: Counter[str] = Counter(one.told.ended for one in every if not one.told.departing)
    bad: Counter[str] = Counter(one.told.ended for one in every if one.told.departing)
    many = max(1, len(every))
    return Totals(
        visits=len(every),
        by_end={ended: (good[ended], bad[ended]) for ended in ENDS},
        escaped=tuple(one for one in every if one.told.ended == "released" and one.told.departing),
        tries=sum(one.tries for one in every) / many,
        hands_on_min=sum(one.hands_on_min for one in every) / many,
        days=sum(one.days for one in every) / many,
        slips=sum(one.slips for one in every),
        caught=sum(one.caught for one in every),
        slipped_through=sum(one.slipped_through for one in every),
        signatures_refused=sum(one.signatures_refused for one in every),
    )


def visits(workshop: Workshop, seed: int, numbers: Iterable[int], processes: int | None = None) -> Iterator[Visit]:
    """Walk the visits of these numbers, in their order, by as many processes as there are cores."""
    wanted = tuple(numbers)
    workers = min(processes or os.cpu_count() or 1, -(-len(wanted) // CHUNK))
    if workers <= 1 or len(wanted) < FEWEST_FOR_MORE:
        yield from (visit(workshop, seed, number) for number in wanted)
        return
    with _pool(workers, partial(_take, workshop)) as pool:
        yield from pool.map(partial(_walk, seed), wanted, chunksize=CHUNK)


@contextmanager
def _pool(workers: int, prepare: Callable[[], None]) -> Iterator[ProcessPoolExecutor]:
    pool = ProcessPoolExecutor(workers, initializer=prepare)
    try:
        yield pool
    finally:
        pool.shutdown(cancel_futures=True)  # an interrupted run doesn't wait for what nobody will read


_workshop: list[Workshop] = []
"""The one of this process, taken when it began."""


def _take(workshop: Workshop) -> None:
    _workshop[:] = [workshop]


def _walk(seed: int, number: int) -> Visit:
    return visit(_workshop[0], seed, number)
