import errno
import subprocess
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import a_line, a_walk, opening, sign_off, stamp

from passcheck.errors import BenchFailed, FileFault, OurBug
from passcheck.records.journal import Journal
from passcheck.records.journal_file import State, read_journal


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the job's journal lies."""
    return tmp_path / "A31-0001.jsonl"


def reopened(path: Path) -> Journal:
    return Journal.open(path, stamp=stamp)


def test_what_was_appended_is_in_the_file_before_append_returns(path: Path) -> None:
    journal = Journal.create(path, [opening()])
    journal.append([a_line(1), a_line(2)])
    assert read_journal(path).lines == (opening(), a_line(1), a_line(2)) == journal.lines
    journal.close()


def test_a_writer_goes_on_where_the_last_one_stopped(path: Path) -> None:
    a_walk(path, 3)
    with_more = reopened(path)
    with_more.append([a_line(3)])
    with_more.close()
    file = read_journal(path)
    assert (file.state, len(file.lines)) == (State.WHOLE, 4)
    assert file.digest == with_more.digest


def test_the_writer_knows_the_file_without_reading_it(path: Path) -> None:
    journal = Journal.create(path, [opening()])
    journal.append([a_line(1)])
    known, read = journal.as_read(), read_journal(path)
    assert (known.lines, known.ends, known.size, known.digest) == (read.lines, read.ends, read.size, read.digest)
    journal.close()


def test_stock_tools_check_any_line(path: Path) -> None:
    a_walk(path, 5)
    data = path.read_bytes()
    offset = data.index(b',"hash":"', data.index(b'"#":3'))
    command = f"head -c {offset} '{path}' | sha256sum"
    printed = subprocess.run(["/bin/sh", "-c", command], check=True, capture_output=True, text=True).stdout
    assert printed[:64].encode() in data.splitlines()[3]


def test_a_line_out_of_turn_is_our_bug_and_stores_nothing(path: Path) -> None:
    journal = Journal.create(path, [opening()])
    with pytest.raises(OurBug):
        journal.append([a_line(1), a_line(3)])
    journal.append([a_line(1)])
    journal.close()
    assert len(read_journal(path).lines) == 2


def test_a_text_too_long_for_a_line_is_refused_and_the_work_goes_on(path: Path) -> None:
    journal = Journal.create(path, [opening()])
    with pytest.raises(FileFault, match="shorten"):
        journal.append([a_line(1), a_line(2, text="x" * 70_000)])
    journal.append([a_line(1)])
    journal.close()


def test_a_journal_is_never_begun_over_another(path: Path) -> None:
    a_walk(path)
    before = path.read_bytes()
    with pytest.raises(BenchFailed, match="exists already"):
        Journal.create(path, [opening()])
    assert path.read_bytes() == before


def test_a_torn_tail_is_kept_ended_and_named(path: Path) -> None:
    a_walk(path, 2)
    whole = path.read_bytes()
    path.write_bytes(whole + b'{"#":2,"at":"2031-0')
    journal = reopened(path)
    journal.append([a_line(3)])
    journal.close()
    assert path.read_bytes().startswith(whole + b'{"#":2,"at":"2031-0\n')
    file = read_journal(path)
    assert (file.state, file.lines[2].event, file.lines[2].by) == (State.WHOLE, "mended", "passcheck")
    assert (file.lines[2].data["first_byte"], file.lines[2].data["bytes"]) == (len(whole), 20)


def test_a_last_line_that_lacks_only_its_line_feed_gets_it(path: Path) -> None:
    lines = a_walk(path)
    whole = path.read_bytes()
    path.write_bytes(whole[:-1])
    journal = reopened(path)
    assert (journal.lines, path.read_bytes()) == (tuple(lines), whole)
    journal.append([a_line(4)])
    journal.close()
    assert read_journal(path).state is State.WHOLE


def test_an_altered_journal_is_not_written_on(path: Path) -> None:
    a_walk(path)
    path.write_bytes(path.read_bytes().replace(b"note 2", b"note 9"))
    before = path.read_bytes()
    with pytest.raises(FileFault, match=r"line 3: .* altered outside"):
        reopened(path)
    assert path.read_bytes() == before


def test_a_refused_journal_gives_its_lock_back(path: Path) -> None:
    a_walk(path)
    whole = path.read_bytes()
    path.write_bytes(b"x" + whole)
    with pytest.raises(FileFault):
        reopened(path)
    path.write_bytes(whole)
    reopened(path).close()


def test_a_sealed_journal_takes_nothing_more(path: Path) -> None:
    journal = Journal.create(path, [opening(), sign_off(1)])
    with pytest.raises(FileFault, match="sealed"):
        journal.append([a_line(2)])
    journal.close()
    again = reopened(path)
    with pytest.raises(FileFault, match="new job"):
        again.append([a_line(2)])
    again.close()


def test_a_seal_torn_off_its_line_feed_is_still_a_seal(path: Path) -> None:
    Journal.create(path, [opening(), sign_off(1)]).close()
    whole = path.read_bytes()
    path.write_bytes(whole[:-1])
    journal = reopened(path)
    assert journal.sealed
    journal.close()
    assert path.read_bytes() == whole


def test_a_closed_writer_says_so(path: Path) -> None:
    journal = Journal.create(path, [opening()])
    journal.close()
    journal.close()
    with pytest.raises(BenchFailed, match="open the job again"):
        journal.append([a_line(1)])


def test_a_journal_that_is_gone_is_a_fault_with_a_remedy(path: Path) -> None:
    with pytest.raises(FileFault, match="backup"):
        reopened(path)


def test_after_a_failed_sync_the_next_writer_goes_on_in_a_copy(path: Path) -> None:
    disk = FailingDisk()
    journal = Journal.create(path, [opening()], disk=disk, stamp=stamp)
    journal.append([a_line(1)])
    disk.fail_at(0, only="fsync")
    with pytest.raises(BenchFailed, match="2 events are on disk"):
        journal.append([a_line(2)])
    old = path.read_bytes()
    inode = path.stat().st_ino
    again = reopened(path)  # another process: all it has is the note beside the file
    again.append([a_line(again.next_number)])
    again.close()
    kept = path.with_name("A31-0001.jsonl.suspect")
    assert (kept.read_bytes(), kept.stat().st_ino) == (old, inode)
    file = read_journal(path)
    assert (file.state, path.stat().st_ino == inode) == (State.WHOLE, False)
    moved = next(line for line in file.lines if line.event == "moved")
    assert (moved.data["why"], moved.data["kept_as"], moved.data["bytes"]) == ("EIO", kept.name, len(old))
    assert path.read_bytes().startswith(old)
    assert sorted(name.name for name in path.parent.iterdir()) == [
        "A31-0001.jsonl",
        "A31-0001.jsonl.lock",
        "A31-0001.jsonl.suspect",
    ]


def test_a_second_failed_sync_keeps_both_old_files(path: Path) -> None:
    for _ in range(2):
        disk = FailingDisk()
        journal = Journal.open(path, disk=disk) if path.exists() else Journal.create(path, [opening()], disk=disk)
        disk.fail_at(0, only="fsync")
        with pytest.raises(BenchFailed):
            journal.append([a_line(journal.next_number)])
    reopened(path).close()
    assert {name.name for name in path.parent.glob("*.suspect*")} == {
        "A31-0001.jsonl.suspect",
        "A31-0001.jsonl.suspect-2",
    }


def test_a_living_process_remembers_a_failed_sync_when_no_note_could_be_left(path: Path) -> None:
    disk = FailingDisk()
    journal = Journal.create(path, [opening()], disk=disk)
    disk.fail_at(0, only="fsync")
    with pytest.raises(BenchFailed):
        journal.append([a_line(1)])
    path.with_name(path.name + ".unsynced").unlink()
    again = Journal.open(path, failed_sync=journal.failed_sync)
    assert again.lines[-1].event == "moved"
    again.close()


def test_a_full_disk_is_mended_in_the_same_file_once_there_is_room(path: Path) -> None:
    disk = FailingDisk()
    journal = Journal.create(path, [opening()], disk=disk, stamp=stamp)
    disk.fail_at(0, only="write", error=errno.ENOSPC, bytes_taken=40)
    with pytest.raises(BenchFailed, match="Make room"):
        journal.append([a_line(1)])
    disk.heal()
    inode = path.stat().st_ino
    again = reopened(path)
    again.append([a_line(2)])
    again.close()
    assert [line.event for line in read_journal(path).lines] == ["job opened", "mended", "note added"]
    assert path.stat().st_ino == inode


def test_a_touched_file_with_the_same_bytes_is_no_reason_to_stop(path: Path) -> None:
    journal = Journal.create(path, [opening()])
    path.touch()
    journal.append([a_line(1)])
    journal.close()
    assert len(read_journal(path).lines) == 2
