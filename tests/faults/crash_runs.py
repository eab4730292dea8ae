"""What is lost when the power fails at each call, when it fails again in the recovery, and when calls are refused?

Each function lives through one kind of misfortune, everywhere or at every so many calls, and gives a `Count`. The tests
of this folder ask for a few hundred cases; `tests/benchmarks/crash_images.py` asks for all of them.
"""

import random  # noqa: TID251 - handed in, seeded
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

import pytest
from crash_walk import (
    JOB,
    SMALL_JOB,
    Batch,
    Found,
    Moment,
    Recovery,
    Teller,
    found_after,
    moments_of,
    moments_of_a_walk,
)
from crashing_disk import CrashingDisk, RefusingDisk, State, power_cuts
from journal_lines import a_line, stamp
from thirty_steps import patient, taken_in_on

from passcheck.errors import BenchFailed
from passcheck.job.replay import recorded
from passcheck.job.tags import encode
from passcheck.records.disk import FileFacts
from passcheck.records.shop import LogFolder

NEVER = 1_000_000
"""A call that no walk reaches."""


@dataclass
class Count:
    """How many moments and images there were, how many acknowledged events were lost, and what was wrong."""

    moments: int = 0
    images: int = 0
    lost: int = 0
    wrong: list[str] = field(default_factory=list)

    def take(self, found: Found, where: str) -> None:
        """One more image was opened."""
        self.images += 1
        self.lost += found.lost
        if not found.well:
            self.wrong.append(f"{where}: {found.lost} lost. {found.wrong}")


def all_lost(state: State) -> State:
    """The power cut that keeps nothing of what was not synced."""
    return next(power_cuts(state, 1, random.Random(0)))  # noqa: S311 - the first one is not drawn


def power_cut_anywhere(root: Path, most: int, chance: random.Random) -> Count:
    """The power fails at each call of a small job."""
    count = Count()
    for moment in moments_of_a_walk(root):
        count.moments += 1
        for image in power_cuts(moment.state, most, chance):
            count.take(found_after(root, image, moment.acknowledged), moment.call)
    return count


def power_cut_in_the_recovery(root: Path, every: int, first: int, second: int, chance: random.Random) -> Count:
    """It fails, and again at each call of what the next start does; `first` and `second` sets of what got through."""
    count = Count()
    for moment in moments_of_a_walk(root)[every // 2 :: every]:
        for image in power_cuts(moment.state, first, chance):
            _again(root, moment, image, second, chance, count)
    return count


def killed_and_then_power_cut(
    root: Path, every: int, most: int, chance: random.Random, story: Sequence[Batch] = SMALL_JOB
) -> Count:
    """The program is killed at a call, so that nothing of the cache is lost; the next one goes on; the power fails."""
    count = Count()
    for moment in moments_of_a_walk(root, story)[every // 2 :: every]:
        _again(root, moment, moment.state, most, chance, count, story)
    return count


def _again(
    root: Path,
    moment: Moment,
    state: State,
    most: int,
    chance: random.Random,
    count: Count,
    story: Sequence[Batch] = SMALL_JOB,
) -> None:
    recovery = Recovery(root, CrashingDisk(root, state), moment.acknowledged, story)
    seconds = moments_of(recovery.disk, recovery.teller, recovery.look)
    count.take(recovery.seen, f"the recovery after {moment.call}")
    for second in seconds:
        count.moments += 1
        for image in power_cuts(second.state, most, chance):
            count.take(found_after(root, image, second.acknowledged, story), f"{moment.call}, then {second.call}")


def another_job_after_a_kill(
    root: Path, every: int, most: int, chance: random.Random, story: Sequence[Batch] = SMALL_JOB
) -> Count:
    """The program is killed at a call, the next one takes another unit in first; the power fails."""
    count = Count()
    for moment in moments_of_a_walk(root, story)[every // 2 :: every]:
        disk, other = CrashingDisk(root, moment.state), Teller(story[:1])
        seconds = moments_of(disk, other, partial(other.begin, LogFolder(root, "A", disk=disk, stamp=stamp)))
        other.stop()
        assert other.writer is not None
        for second in seconds:
            count.moments += 1
            for image in power_cuts(second.state, most, chance):
                there = LogFolder(root, "A", disk=CrashingDisk(root, image)).job_ids()
                gone = second.acknowledged and other.writer.job_id not in there
                found = found_after(root, image, moment.acknowledged, story)
                count.take(Found(1, "the other job is gone") if gone else found, f"{moment.call}, then {second.call}")
    return count


def failed_syncs(root: Path, every: int, most: int, chance: random.Random, *, forgets: bool = False) -> Count:
    """Each sync of a small job fails once; the program goes on and the power fails at each call after.

    Args:
        root: where the lock files lie.
        every: take every so many of the syncs.
        most: sets of what got through, for each power cut.
        chance: draws them.
        forgets: the control: nobody hands on that the sync failed, so that the next writer resumes into the file.
    """
    count = Count()
    for disk, acknowledged in _after_failed_syncs(root, every, forgets=forgets):
        recovery = Recovery(root, disk, acknowledged)
        seconds = moments_of(disk, recovery.teller, recovery.look)
        count.take(recovery.seen, "going on after a failed sync")
        for second in seconds:
            count.moments += 1
            for image in power_cuts(second.state, most, chance):
                count.take(found_after(root, image, second.acknowledged), f"a failed sync, then {second.call}")
    return count


class Forgetful(RefusingDisk):
    """A disk beside which no word of a failed sync is ever found: the control."""

    def facts_of(self, path: Path) -> FileFacts | None:
        return None if path.suffix == ".unsynced" else super().facts_of(path)


def _after_failed_syncs(root: Path, every: int, *, forgets: bool) -> Iterator[tuple[RefusingDisk, int]]:
    nth = every // 2
    while True:
        disk = Forgetful(root) if forgets else RefusingDisk(root)
        teller = Teller(SMALL_JOB)
        disk.fail_at(nth, only="fsync")
        try:
            teller.tell(LogFolder(root, "A", disk=disk, stamp=stamp))
        except BenchFailed:
            yield disk, teller.acknowledged
        else:
            return
        finally:
            teller.stop()
        nth += every


@dataclass(frozen=True)
class Refusal:
    """A call that is refused: which, with what error, and whether the disk refuses from then on."""

    nth: int
    error: int
    for_ever: bool
    only: str = ""
    """Count calls of this kind alone."""


def calls_of(root: Path, story: Sequence[Batch], only: str = "") -> int:
    """The calls of a walk that nothing disturbs, of one kind or all."""
    disk, teller = RefusingDisk(root), Teller(story)
    disk.fail_at(NEVER, only=only)
    teller.tell(LogFolder(root, "A", disk=disk, stamp=stamp))
    teller.stop()
    return len(disk.calls)


def refused(root: Path, story: Sequence[Batch], refusal: Refusal, count: Count) -> None:
    """Tell a story to a disk that refuses a call; go on, once it is looked after; lose the power."""
    where = f"call {refusal.nth}"
    disk, teller = RefusingDisk(root), Teller(story)
    disk.fail_at(refusal.nth, error=refusal.error, only=refusal.only, for_ever=refusal.for_ever)
    logs = LogFolder(root, "A", disk=disk, stamp=stamp)
    count.moments += 1
    try:
        teller.tell(logs)
    except BenchFailed as sentence:
        if not str(sentence).endswith("."):
            count.wrong.append(f"{where}: no sentence in '{sentence}'")
        _takes_nothing_more(teller)
        disk.heal()
        count.take(found_after(root, all_lost(disk.state), teller.acknowledged, story), f"{where}, then no power")
        # An error that lasts may keep even the word of a failed sync from the disk; then the same program knows of it.
        recovery = Recovery(root, disk, teller.acknowledged, story, logs if refusal.for_ever else None)
        count.take(recovery.look(), where)
        if disk.written_on:
            count.wrong.append(f"{where}: written on in the file whose sync was refused")
    else:
        teller.stop()
    whole = sum(map(len, story))
    count.take(found_after(root, all_lost(disk.state), whole, story), f"{where}, and no power at the end")


async def refused_at_the_bench(root: Path, refusal: Refusal, count: Count) -> int:
    """The whole bench carries the repair, with a person who looks after the disk and goes on; gives its calls.

    `count.images` counts the refusals that the person was told of.
    """
    root.mkdir()
    disk = RefusingDisk(root)
    logs = LogFolder(root, "A", disk=disk, stamp=stamp)
    work = patient(await taken_in_on(logs), disk.heal)
    disk.fail_at(refusal.nth, error=refusal.error, only=refusal.only, for_ever=refusal.for_ever)
    ended = await work.repaired()
    await work.bench.close()
    count.moments += 1
    count.images += len(work.refusals)
    calls = len(disk.calls)
    after = LogFolder(root, "A", disk=CrashingDisk(root, all_lost(disk.state)), stamp=stamp)
    kept = iter([encode(event.event) for event in recorded(after.read_job(JOB))])
    lost = sum(one not in kept for one in work.shown)  # each is looked for after the one before it
    count.lost += lost
    if lost or ended != "signed off" or disk.written_on:
        count.wrong.append(f"call {refusal.nth} at the bench: {ended}, {lost} lost, {disk.written_on} written on")
    return calls


class DyingDisk(RefusingDisk):
    """Refuses everything from its n-th sync on, the word of that failed sync included, until it is looked after."""

    syncs_left = NEVER

    def fsync(self, handle: int) -> None:
        if self.syncs_left == 0:
            self.fail_at(0, for_ever=True)
        self.syncs_left -= 1
        super().fsync(handle)


def dying_in_the_recovery(root: Path, every: int, story: Sequence[Batch] = SMALL_JOB) -> Count:
    """The program is killed at a call; the next one sees the disk die at a sync, and lives on once it was looked after;
    at the end the power fails."""
    count = Count()
    for moment in moments_of_a_walk(root, story)[every // 2 :: every]:
        nth = 0
        while _died_in_the_recovery(root, moment, nth, story, count):
            nth += 1
    return count


def _died_in_the_recovery(root: Path, moment: Moment, nth: int, story: Sequence[Batch], count: Count) -> bool:
    disk = DyingDisk(root, moment.state)
    disk.syncs_left = nth
    logs = LogFolder(root, "A", disk=disk, stamp=stamp)
    first = Recovery(root, disk, moment.acknowledged, story, logs)
    if first.look().well:
        return False
    count.moments += 1
    where = f"{moment.call}, then sync {nth}"
    disk.heal()
    disk.syncs_left = NEVER
    second = Recovery(root, disk, first.teller.acknowledged, story, logs)
    count.take(second.look(), where)
    whole = second.teller.acknowledged
    count.take(found_after(root, all_lost(disk.state), whole, story), f"{where}, and no power at the end")
    return True


def _takes_nothing_more(teller: Teller) -> None:
    writer = teller.writer
    if writer is None:
        return
    assert not writer.writing
    with pytest.raises(BenchFailed):
        writer.append([a_line(writer.next_number)])
    writer.close()
