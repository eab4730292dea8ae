"""Is every acknowledged event there, whatever a power cut leaves on the medium?

A small job is walked on a disk in memory whose power fails at each call; each state that the medium may be in is opened
as the next start of the machine does, looked through, and the job is brought to its end. This is the quick set;
`tests/benchmarks/crash_images.py` takes all of it.
"""

import random  # noqa: TID251 - seeded
from collections.abc import Iterator
from pathlib import Path

import pytest
from crash_runs import (
    Count,
    all_lost,
    another_job_after_a_kill,
    dying_in_the_recovery,
    failed_syncs,
    killed_and_then_power_cut,
    power_cut_anywhere,
    power_cut_in_the_recovery,
)
from crash_walk import BRIEF_JOB, SMALL_JOB, Teller, found_after, moments_of
from crashing_disk import LEFTOVER, SECTOR, CrashingDisk, RefusingDisk, State, power_cuts
from journal_lines import stamp

from passcheck.records.shop import LogFolder


@pytest.fixture
def chance() -> random.Random:
    """The same draws for everybody."""
    return random.Random(20310402)  # noqa: S311 - a simulation


def assert_nothing_lost(count: Count, *, images: int) -> None:
    assert (count.lost, count.wrong[:3]) == (0, [])
    assert count.images > images, "the walk is still one that writes"


def test_a_power_cut_at_any_call_loses_no_acknowledged_event(tmp_path: Path, chance: random.Random) -> None:
    assert_nothing_lost(power_cut_anywhere(tmp_path, 16, chance), images=400)


def test_nor_does_a_second_one_in_the_recovery(tmp_path: Path, chance: random.Random) -> None:
    assert_nothing_lost(power_cut_in_the_recovery(tmp_path, 11, 1, 1, chance), images=300)


def test_nor_does_one_after_a_killed_program_whose_names_and_bytes_were_in_the_cache_only(
    tmp_path: Path, chance: random.Random
) -> None:
    assert_nothing_lost(killed_and_then_power_cut(tmp_path, 1, 1, chance, BRIEF_JOB), images=600)


def test_nor_where_the_next_program_takes_another_unit_in_first(tmp_path: Path, chance: random.Random) -> None:
    assert_nothing_lost(another_job_after_a_kill(tmp_path, 1, 1, chance, BRIEF_JOB), images=400)


def test_after_a_failed_sync_the_program_goes_on_in_a_copy_and_a_power_cut_loses_nothing(
    tmp_path: Path, chance: random.Random
) -> None:
    assert_nothing_lost(failed_syncs(tmp_path, 5, 1, chance), images=200)


def test_a_disk_that_died_at_a_sync_is_not_trusted_by_the_same_program_once_it_was_looked_after(tmp_path: Path) -> None:
    assert_nothing_lost(dying_in_the_recovery(tmp_path, 1, BRIEF_JOB), images=300)


# The controls: each shows that the tests above can fail.


def test_a_writer_that_resumes_into_the_file_whose_sync_failed_loses_events(
    tmp_path: Path, chance: random.Random
) -> None:
    count = failed_syncs(tmp_path, 5, 1, chance, forgets=True)
    assert count.lost > 100
    assert any("it is not a whole line" in sentence for sentence in count.wrong)


def test_on_a_disk_whose_sync_does_nothing_a_power_cut_loses_events(tmp_path: Path) -> None:
    class Lying(CrashingDisk):
        def fsync(self, handle: int) -> None:
            self._before("fsync")

    disk, teller = Lying(tmp_path), Teller(SMALL_JOB)
    moments = moments_of(disk, teller, lambda: teller.tell(LogFolder(tmp_path, "A", disk=disk, stamp=stamp)))
    teller.stop()
    end = moments[-1]
    assert found_after(tmp_path, all_lost(end.state), end.acknowledged).lost == end.acknowledged


def test_names_that_were_not_synced_are_lost_with_all_their_bytes(tmp_path: Path) -> None:
    class Forgets(CrashingDisk):
        def fsync_dir(self, folder: Path) -> None:
            self._before("fsync_dir")

    disk, teller = Forgets(tmp_path), Teller(SMALL_JOB)
    teller.tell(LogFolder(tmp_path, "A", disk=disk, stamp=stamp))
    teller.stop()
    assert set(all_lost(disk.state).names) == {tmp_path}


# The disk itself.


def written(root: Path, *, synced: bool) -> CrashingDisk:
    """A file whose name is certain, with two sectors and a half."""
    disk = CrashingDisk(root)
    handle = disk.create(root / "file")
    disk.fsync_dir(root)
    disk.write(handle, b"a" * SECTOR + b"b" * SECTOR + b"c" * 32)
    if synced:
        disk.fsync(handle)
    return disk


def contents(state: State, path: Path, most: int = 64) -> Iterator[bytes]:
    for image in power_cuts(state, most, random.Random(1)):  # noqa: S311 - a simulation
        yield CrashingDisk(path.parent, image).read_all(path)


def test_of_bytes_that_were_not_synced_any_sectors_may_be_there(tmp_path: Path) -> None:
    found = set(contents(written(tmp_path, synced=False).state, tmp_path / "file"))
    a, b, c, none, old = b"a" * SECTOR, b"b" * SECTOR, b"c" * 32, b"\0" * SECTOR, (LEFTOVER * 3)[: 2 * SECTOR + 32]
    assert {b"", a, a + b, a + b + c, none + b, none + none + c, none * 2 + b"\0" * 32, old} <= found
    end_lost, end_kept, all_kept = 4 * 3, 3 * 2, 1  # short, zeros or old; with the end there the length is certain
    assert len(found) == end_lost + end_kept + all_kept


def test_synced_bytes_are_there_and_nothing_else(tmp_path: Path) -> None:
    disk = written(tmp_path, synced=True)
    assert set(contents(disk.state, tmp_path / "file")) == {disk.read_all(tmp_path / "file")}


def test_a_name_is_there_once_its_folder_was_synced_and_may_be_before(tmp_path: Path) -> None:
    disk = CrashingDisk(tmp_path)
    disk.close(disk.create(tmp_path / "draft"))
    disk.replace(tmp_path / "draft", tmp_path / "name")
    named = {disk.names(tmp_path) for disk in (CrashingDisk(tmp_path, one) for one in images(disk.state))}
    assert named == {(), ("draft",), ("name",)}
    disk.fsync_dir(tmp_path)
    assert [sorted(one.names) for one in images(disk.state)] == [[tmp_path, tmp_path / "name"]]


def images(state: State) -> Iterator[State]:
    return power_cuts(state, 64, random.Random(1))  # noqa: S311 - a simulation


def test_after_a_failed_sync_the_bytes_show_and_no_later_sync_writes_them(tmp_path: Path) -> None:
    disk = RefusingDisk(tmp_path)
    handle = disk.create(tmp_path / "file")
    disk.fsync_dir(tmp_path)
    disk.write(handle, b"a" * SECTOR)
    disk.fail_at(0, only="fsync")
    with pytest.raises(OSError, match="EIO"):
        disk.fsync(handle)
    disk.write(handle, b"b" * SECTOR)
    disk.fsync(handle)
    assert disk.read_all(tmp_path / "file") == b"a" * SECTOR + b"b" * SECTOR
    assert set(contents(disk.state, tmp_path / "file")) == {b"\0" * SECTOR + b"b" * SECTOR}


def test_what_old_blocks_show_neither_begins_nor_ends_a_line() -> None:
    assert len(LEFTOVER) == SECTOR, "so that each sector that is lost breaks its line in two"
    end, begin = LEFTOVER.split(b"\n")
    assert not end.endswith(b'"}')
    assert b'{"#":' not in begin
