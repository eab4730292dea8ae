"""What is lost when the disk refuses any one call? Nothing that was acknowledged, and nothing is acknowledged after."""

import errno
from collections.abc import Sequence
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import a_fail, a_line, opening, sign_off, stamp

from passcheck.errors import BenchFailed
from passcheck.job.journal_line import Line
from passcheck.records.job_journal import JobJournal
from passcheck.records.journal_file import State, read_journal
from passcheck.records.shop import LogFolder

ERRORS = [errno.EIO, errno.ENOSPC, errno.EROFS]


class Walk:
    """A short job on a disk that may refuse; remembers what was acknowledged."""

    def __init__(self, folder: Path, disk: FailingDisk) -> None:
        self.logs = LogFolder(folder, "A", disk=disk, stamp=stamp)
        self.job = ""
        self.acknowledged: list[Line] = []
        self.writer: JobJournal | None = None

    def go(self) -> None:
        """Until the end, or until the bench fails."""
        first: list[Line] = []

        def begin(job: str, position: tuple[int, str]) -> Line:
            first.append(opening(job, position))
            return first[-1]

        self.job, self.writer = self.logs.new_job(begin)
        self.acknowledged += first
        steps: Sequence[tuple[Line, ...]] = ((a_line(1),), (a_fail(2),), (a_line(3), a_line(4)), (sign_off(5),))
        for lines in steps:
            fail, seal = lines[-1].event == "attempt judged", lines[-1].event == "signed off"
            self.writer.append(lines, fail=fail, seal=seal)
            self.acknowledged += lines

    def refusal(self) -> str | None:
        """Go until the bench fails, and say with which sentence; None when it carried the walk to its end."""
        try:
            self.go()
        except BenchFailed as failure:
            return str(failure)
        return None

    def kept(self) -> tuple[Line, ...]:
        """The lines on disk once the job has been opened again on a sound disk, without those of the records."""
        logs = LogFolder(self.logs.root, "A", stamp=stamp)
        writer, lines = logs.open_job(self.job)
        writer.close()
        assert logs.intact(self.job) == ()
        assert read_journal(logs.journal_path(self.job)).state is State.WHOLE
        return tuple(line for line in lines if line.by != "passcheck")


def calls_of_a_walk(folder: Path) -> int:
    disk = FailingDisk()
    walk = Walk(folder, disk)
    walk.go()
    assert walk.writer is not None
    walk.writer.close()
    assert walk.kept() == tuple(walk.acknowledged)
    return len(disk.calls)


@pytest.mark.parametrize("for_ever", [False, True], ids=["once", "from then on"])
@pytest.mark.parametrize("error", ERRORS, ids=errno.errorcode.get)
def test_a_refused_call_loses_nothing_that_was_acknowledged(tmp_path: Path, error: int, for_ever: bool) -> None:
    failures = 0
    for nth in range(calls_of_a_walk(tmp_path / "sound")):
        disk = FailingDisk()
        disk.fail_at(nth, error=error, for_ever=for_ever)
        walk = Walk(tmp_path / f"at-{nth}", disk)
        refusal = walk.refusal()
        if refusal is None:
            assert len(walk.acknowledged) == 6
        else:
            failures += 1
            assert refusal.endswith(".")
            if walk.writer is not None:
                assert_nothing_more_is_taken(walk.writer)
        if walk.writer is not None:
            walk.writer.close()
            assert walk.kept()[: len(walk.acknowledged)] == tuple(walk.acknowledged)
    assert failures > 30


def assert_nothing_more_is_taken(writer: JobJournal) -> None:
    assert not writer.writing
    with pytest.raises(BenchFailed):
        writer.append([a_line(writer.next_number)])


def test_a_refusal_while_going_on_after_a_failed_sync_loses_nothing_either(tmp_path: Path) -> None:
    nth = 0
    while True:
        disk = FailingDisk()
        walk = Walk(tmp_path / f"at-{nth}", disk)
        disk.fail_at(10_000)
        job, writer = walk.logs.new_job(opening)
        writer.append([a_line(1)])
        disk.fail_at(0, only="fsync")
        with pytest.raises(BenchFailed):
            writer.append([a_line(2)])
        disk.fail_at(nth)
        try:
            again, _ = walk.logs.open_job(job)
        except BenchFailed:
            walk.job = job
            disk.heal()
            assert walk.kept()[:2][-1] == a_line(1)
        else:
            again.close()
            break
        nth += 1
    # Reading, copying, syncing, keeping and renaming were each refused once.
    assert nth > 12


@pytest.mark.parametrize("taken", [1, 20, 150])
def test_a_disk_that_fills_up_in_the_middle_of_a_line_is_mended_once_there_is_room(tmp_path: Path, taken: int) -> None:
    disk = FailingDisk()
    walk = Walk(tmp_path / "logs", disk)
    job, writer = walk.logs.new_job(opening)
    disk.fail_at(0, only="write", error=errno.ENOSPC, bytes_taken=taken)
    with pytest.raises(BenchFailed, match="Make room"):
        writer.append([a_line(1)])
    disk.heal()
    again, lines = walk.logs.open_job(job)
    assert [line.event for line in lines] == ["job opened", "mended"]
    again.append([a_line(2)])
    again.close()
    assert walk.logs.intact(job) == ()


def test_a_disk_that_takes_a_line_in_pieces_is_no_failure(tmp_path: Path) -> None:
    class Slow(FailingDisk):
        def write(self, handle: int, data: bytes) -> int:
            return super().write(handle, data[:50])

    walk = Walk(tmp_path / "logs", Slow())
    walk.go()
    assert walk.writer is not None
    walk.writer.close()
    assert walk.kept() == tuple(walk.acknowledged)
