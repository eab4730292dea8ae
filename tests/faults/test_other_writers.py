"""What if somebody else touches a job while passcheck writes it?"""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from journal_lines import a_line, opening, stamp
from walkers import start_walker

from passcheck.errors import BenchFailed
from passcheck.records.job_journal import JobJournal
from passcheck.records.shop import LogFolder


@pytest.fixture
def logs(tmp_path: Path) -> LogFolder:
    return LogFolder(tmp_path / "logs", "A", stamp=stamp)


@pytest.fixture
def journal(logs: LogFolder) -> Iterator[JobJournal]:
    """A job of three lines, open for writing."""
    _, journal = logs.new_job(opening)
    journal.append([a_line(1), a_line(2)])
    yield journal
    journal.close()


def test_a_second_process_is_refused_in_one_sentence_and_the_first_goes_on(
    logs: LogFolder, journal: JobJournal
) -> None:
    other = start_walker(logs.root, journal.job_id, 5)
    printed, complaint = other.communicate(timeout=20)
    assert (other.returncode, printed) == (1, "")
    assert "A31-0001 is open for writing in another passcheck; finish or close it there" in complaint
    journal.append([a_line(3)])
    assert len(logs.read_job(journal.job_id)) == 4


def test_a_second_process_may_open_another_job_meanwhile(logs: LogFolder, journal: JobJournal) -> None:
    other = start_walker(logs.root, "new", 6)
    printed, complaint = other.communicate(timeout=20)
    assert (other.returncode, complaint) == (0, "")
    assert set(logs.job_ids()) == {journal.job_id, printed.split()[0]}
    journal.append([a_line(3)])
    assert logs.intact(journal.job_id) == ()


def replaced(path: Path) -> None:
    """As an editor saves: a new file under the old name."""
    draft = path.with_name("draft")
    draft.write_bytes(path.read_bytes())
    draft.replace(path)


def replaced_with_backup(path: Path) -> None:
    """As an editor saves that keeps the old file beside the new one."""
    data = path.read_bytes()
    path.rename(path.with_name(path.name + "~"))
    path.write_bytes(data)


def altered_in_place(path: Path) -> None:
    """Same size, same file, another word."""
    data = path.read_bytes()
    with path.open("r+b") as file:
        file.write(data.replace(b"note 2", b"note 9"))
    os.utime(path, ns=(0, 0))


def appended_to(path: Path) -> None:
    with path.open("ab") as file:
        file.write(b"\n")


def cut(path: Path) -> None:
    os.truncate(path, path.stat().st_size - 1)


@pytest.mark.parametrize(
    "change",
    [Path.unlink, replaced, replaced_with_backup, altered_in_place, appended_to, cut],
    ids=lambda act: act.__name__,
)
def test_a_journal_that_something_else_changed_stops_its_writer(
    logs: LogFolder, journal: JobJournal, change: Callable[[Path], None]
) -> None:
    change(journal.path)
    with pytest.raises(BenchFailed, match="nothing was stored"):
        journal.append([a_line(3)])
    with pytest.raises(BenchFailed):
        journal.append([a_line(3)])


def test_a_lock_file_deleted_by_hand_lets_two_in_and_the_first_stops_at_its_next_event(
    logs: LogFolder, journal: JobJournal
) -> None:
    journal.path.with_name(journal.path.name + ".lock").unlink()
    second, _ = LogFolder(logs.root, "A", stamp=stamp).open_job(journal.job_id)
    second.append([a_line(3, text="by the second")])
    with pytest.raises(BenchFailed, match="bytes where passcheck had written"):
        journal.append([a_line(3, text="by the first")])
    second.append([a_line(4)])
    second.close()
    assert logs.intact(journal.job_id) == ()
    assert [line.data.get("text") for line in logs.read_job(journal.job_id)][3:] == ["by the second", "note 4"]


def test_two_programs_that_take_units_in_at_once_give_each_a_number_and_one_ledger(logs: LogFolder) -> None:
    both = [start_walker(logs.root, "new", 12) for _ in range(2)]
    printed = [one.communicate(timeout=20)[0] for one in both]
    jobs = {text.split()[0] for text in printed}
    assert [one.returncode for one in both] == [0, 0]
    assert jobs == set(logs.job_ids())
    assert {job.partition("-")[2] for job in jobs} == {"0001", "0002"}
    assert [logs.intact(job) for job in jobs] == [(), ()]
    assert [len(logs.read_job(job)) for job in jobs] == [13, 13]


def test_two_programs_that_open_one_job_at_once_take_turns(logs: LogFolder, journal: JobJournal) -> None:
    journal.close()
    both = [start_walker(logs.root, journal.job_id, 200) for _ in range(2)]
    ends = [(one.communicate(timeout=20), one.returncode) for one in both]
    refused = [complaint for (_, complaint), status in ends if status]
    assert len(refused) < 2
    assert all("is open for writing in another passcheck" in complaint for complaint in refused)
    assert len(logs.read_job(journal.job_id)) == 3 + 200 * (2 - len(refused))
    assert logs.intact(journal.job_id) == ()
