"""Is each job given the standing that its bytes and the ledger allow, and no better one?"""

import hashlib
from collections.abc import Callable
from pathlib import Path

import pytest
from journal_lines import AT, a_fail, a_line, opening, sign_off, stamp
from standings import ALTERED, MISSING, OPEN, SEALED, TORN, UNKNOWN, a_job, every_standing, logs_in, tree, written

from passcheck.errors import BenchFailed, FileFault
from passcheck.job.journal_line import Line
from passcheck.records.agreement import Entry
from passcheck.records.disk import Disk
from passcheck.records.journal import Journal
from passcheck.records.journal_file import State
from passcheck.records.line_codec import encode_line
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import Stamp
from passcheck.records.verified import (
    Standing,
    Verified,
    Verifier,
    remarks_on_folder,
    verify_all,
    verify_job,
    verify_ledger,
)

TEXT = "steps: []\n"
DIGEST = hashlib.sha256(TEXT.encode()).hexdigest()


@pytest.fixture
def logs(tmp_path: Path) -> LogFolder:
    """A bench A in 2031."""
    return logs_in(tmp_path / "logs")


def standing(logs: LogFolder, job: str) -> Standing:
    """How a job stands for somebody who has just come."""
    return verify_job(logs_in(logs.root), job).standing


def fault(logs: LogFolder, job: str) -> str:
    """The one sentence against an altered job."""
    verified = verify_job(logs_in(logs.root), job)
    assert verified.standing is Standing.ALTERED
    (said,) = verified.faults
    return said


def test_every_standing_is_told_apart_and_nothing_is_written(logs: LogFolder) -> None:
    every_standing(logs.root)
    before = tree(logs.root)
    found = verify_all(logs)
    remarks_on_folder(logs)
    verify_ledger(logs)
    assert [(one.job, one.standing) for one in found] == [
        (SEALED, Standing.SEALED),
        (OPEN, Standing.OPEN),
        (TORN, Standing.TORN),
        (ALTERED, Standing.ALTERED),
        (MISSING, Standing.ALTERED),
        (UNKNOWN, Standing.UNKNOWN),
    ]
    assert [bool(one.faults) for one in found] == [False, False, True, True, True, True]
    assert not any(one.remarks for one in found)
    assert tree(logs.root) == before


def test_an_empty_folder_has_no_jobs_and_is_left_empty(logs: LogFolder) -> None:
    assert (verify_all(logs), remarks_on_folder(logs), verify_ledger(logs).state) == ((), (), None)
    assert not logs.root.exists()


def test_the_digest_is_that_of_the_whole_file_as_stock_tools_give_it(logs: LogFolder) -> None:
    every_standing(logs.root)
    for one in verify_all(logs):
        path = logs.journal_path(one.job)
        assert one.digest == (hashlib.sha256(path.read_bytes()).hexdigest() if path.exists() else "")


def test_a_job_that_nobody_knows_is_no_job(logs: LogFolder) -> None:
    a_job(logs)
    for job in ("A31-0002", "../A31-0001", "nonsense"):
        assert not Verifier(logs).knows(job)
        with pytest.raises(FileFault, match="passcheck jobs"):
            verify_job(logs, job)
    assert Verifier(logs).knows("A31-0001")


def test_a_disk_that_refuses_is_no_verdict(logs: LogFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    job, _ = a_job(logs)

    def refuse(_disk: Disk, _path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Disk, "read_all", refuse)
    with pytest.raises(BenchFailed, match="Permission denied"):
        verify_job(logs_in(logs.root), job)


def test_when_and_by_whom_a_job_was_sealed_is_told_whether_or_not_the_ledger_knows_of_it(logs: LogFolder) -> None:
    sealed, _ = a_job(logs, a_fail(1), sign_off(2))
    still_open, _ = a_job(logs, a_fail(1))
    unknown, path = a_job(logs, a_fail(1))
    with path.open("ab") as journal:
        journal.write(encode_line(sign_off(2), logs.kept(unknown, path.read_bytes()).file.running))
    told = {job: Verifier(logs).look(job) for job in (sealed, still_open, unknown)}
    assert [(one.sealed_at, one.sealed_by) for one in told.values()] == [(AT, "t7"), (None, None), (AT, "t7")]
    assert [one.verified.standing for one in told.values()] == [Standing.SEALED, Standing.OPEN, Standing.OPEN]


# What nobody alters unseen.


def test_a_sealed_journal_with_any_bit_flipped_or_any_end_cut_off_is_never_called_sealed(logs: LogFolder) -> None:
    job, path = a_job(logs, a_fail(1), sign_off(2))
    whole, verifier = path.read_bytes(), Verifier(logs)
    spoilt = [
        whole[:place] + bytes([whole[place] ^ 1 << place % 8]) + whole[place + 1 :] for place in range(len(whole))
    ]
    for data in (*spoilt, *(whole[:size] for size in range(len(whole))), whole + b"\n", whole + b"{"):
        path.unlink()  # a new file is cheaper than emptying one, which the file system takes care of on disk
        path.write_bytes(data)
        assert verifier.look(job).verified.standing is Standing.ALTERED
    path.write_bytes(whole)
    assert verifier.look(job).verified.standing is Standing.SEALED


def test_an_open_journal_may_lose_its_end_only_after_what_the_ledger_knows(logs: LogFolder) -> None:
    job, path = a_job(logs, a_fail(1), a_line(2))
    whole, verifier = path.read_bytes(), Verifier(logs)
    known = logs.ledger.entries(job)[-1].bytes
    for size in range(len(whole)):
        path.unlink()
        path.write_bytes(whole[:size])
        wanted = (
            {Standing.ALTERED} if size < known
            # The line feed alone may be missing: the line before it is whole.
            else {Standing.OPEN} if size in (known, len(whole) - 1)
            else {Standing.TORN}
        )  # fmt: skip
        assert {verifier.look(job).verified.standing} == wanted


def test_a_journal_made_anew_with_all_hashes_right_is_told_by_its_line(logs: LogFolder) -> None:
    job, path = a_job(logs, a_line(1), a_fail(2), a_line(3))
    first = logs.read_job(job)[0]
    passed = a_line(2, "attempt judged", **{**a_fail(2).data, "judgement": {"verdict": "pass", "value": "0.142"}})
    path.write_bytes(written(first, a_line(1), passed, a_line(3)))
    said = fault(logs, job)
    assert said.startswith("A31-0001.jsonl, line 3: the ledger's 'failed' names its first ")
    assert "up to line 1 they agree" in said
    assert said.endswith("Look for the unaltered journal in a backup.")


def test_a_journal_cut_back_and_gone_on_with_is_told_by_where_it_ends(logs: LogFolder) -> None:
    job, path = a_job(logs, a_fail(1))
    path.write_bytes(written(logs.read_job(job)[0]))
    assert fault(logs, job).startswith("A31-0001.jsonl, line 1: the ledger's 'failed' names its first ")
    assert "it ends here with" in fault(logs, job)


def test_a_seal_that_was_taken_off_is_told(logs: LogFolder) -> None:
    job, path = a_job(logs, a_line(1), sign_off(2))
    path.write_bytes(written(*logs.read_job(job)[:2]))
    cut, gone = verify_job(logs, job).faults
    assert cut.startswith("A31-0001.jsonl, line 2: the ledger's 'sealed' names its first ")
    assert gone.startswith("A31-0001.jsonl, line 2: the ledger says that it was sealed, and its seal is gone")


def test_a_journal_that_goes_on_after_a_seal_of_the_ledger_is_told(logs: LogFolder) -> None:
    job, journal = logs.new_job(opening)
    data = journal.path.read_bytes()
    with logs.ledger.held() as ledger:
        ledger.record(Entry("sealed", job, len(data), hashlib.sha256(data).hexdigest()))
    journal.append([sign_off(1)], seal=True)
    journal.close()
    assert "line 2: it goes on after the bytes that the ledger says were sealed" in fault(logs, job)


def test_a_journal_under_another_jobs_name_is_told_whether_the_ledger_knows_that_name_or_not(logs: LogFolder) -> None:
    (_, one), (_, other) = a_job(logs, sign_off(1)), a_job(logs)
    for copy in (other, other.with_name("A31-0003.jsonl")):
        copy.write_bytes(one.read_bytes())
        said = verify_job(logs_in(logs.root), copy.stem)
        assert said.standing is Standing.ALTERED
        assert said.faults[0].startswith(f"{copy.name}, line 1: 'job opened' names 'A31-0001', so this is another's")


def in_practice(job: str, position: tuple[int, str]) -> Line:
    first = opening(job, position)
    return a_line(0, first.event, **{**first.data, "practice": True})


def test_a_journal_on_the_wrong_side_of_practice_is_told(logs: LogFolder, tmp_path: Path) -> None:
    practice = logs_in(tmp_path / "logs", practice=True)
    (practised, made), (real, path) = a_job(practice, sign_off(1), first=in_practice), a_job(logs, sign_off(1))
    assert verify_job(practice, practised).standing is Standing.SEALED
    one, other = made.read_bytes(), path.read_bytes()
    path.write_bytes(one)
    made.write_bytes(other)
    assert any("line 1: it was made in practice" in said for said in verify_job(logs, real).faults)
    assert any("line 1: it is of a real unit" in said for said in verify_job(practice, practised).faults)


def test_with_folder_and_ledger_of_practice_put_in_place_of_the_real_ones_no_job_passes(tmp_path: Path) -> None:
    practice = logs_in(tmp_path / "logs", practice=True)
    job, _ = a_job(practice, sign_off(1), first=in_practice)
    moved = practice.root.rename(tmp_path / "real")
    said = verify_job(logs_in(moved), job)
    assert (said.standing, len(said.faults)) == (Standing.ALTERED, 1)
    assert "made in practice" in said.faults[0]


def test_a_journal_that_is_gone_is_told_with_the_ledgers_line(logs: LogFolder) -> None:
    a_job(logs)
    job, path = a_job(logs, a_line(1))
    path.unlink()
    assert fault(logs, job).startswith(
        "ledger.jsonl, line 3: it names A31-0002, and the journal A31-0002.jsonl is missing"
    )


def test_a_ledger_begun_anew_carries_none_of_the_jobs_before_it(logs: LogFolder) -> None:
    job, _ = a_job(logs, sign_off(1))
    logs.ledger.path.unlink()
    LogFolder(logs.root, "A", stamp=lambda: Stamp("2031-05-01T00:00:00.000Z", 9)).open_job(job)[0].close()
    assert "line 1: the ledger no longer begins as it did when the job was opened" in fault(logs, job)


def test_an_old_line_of_the_ledger_made_anew_is_told_by_every_later_job(logs: LogFolder) -> None:
    jobs = [a_job(logs, sign_off(1))[0] for _ in range(3)]
    lines = logs.ledger.file()
    assert lines is not None
    second = a_line(2, "sealed", **{**lines.lines[2].data, "late": True})
    logs.ledger.path.write_bytes(written(*lines.lines[:2], second, *lines.lines[3:]))
    assert verify_ledger(logs).state is State.WHOLE
    assert [standing(logs, job) for job in jobs] == [Standing.SEALED, Standing.ALTERED, Standing.ALTERED]


def test_the_sequence_in_a_journal_is_held_against_the_digest_beside_it(logs: LogFolder) -> None:
    def first(job: str, position: tuple[int, str]) -> Line:
        return a_line(0, "job opened", **{**opening(job, position).data, "sequence_digest": DIGEST})

    def loosened(job: str, position: tuple[int, str]) -> Line:
        return a_line(0, "job opened", **{**first(job, position).data, "sequence_text": "steps: [x]\n"})

    def revised(text: str) -> Line:
        return a_line(1, "sequence revised", sequence_text=text, sequence_digest=DIGEST, why="a slip")

    for end in ((), (sign_off(2),)):
        good, _ = a_job(logs, revised(TEXT), *end, first=first)
        at_opening, _ = a_job(logs, revised(TEXT), *end, first=loosened)
        later, _ = a_job(logs, revised("steps: [y]\n"), *end, first=first)
        assert standing(logs, good) is (Standing.SEALED if end else Standing.OPEN)
        assert "line 1: the sequence that it keeps is not the one that its digest names" in fault(logs, at_opening)
        assert "line 2: the sequence that it keeps is not the one that its digest names" in fault(logs, later)


def test_the_text_that_a_job_stands_on_is_the_last_one_it_was_given(logs: LogFolder) -> None:
    for end in ((), (sign_off(3),)):
        for note in ("note", '"event":"sequence revised"'):
            revised = a_line(2, "sequence revised", sequence_text="steps: [z]\n", why="a slip")
            before, _ = a_job(logs, a_line(1, text=note), a_line(2), *end)
            after, _ = a_job(logs, a_line(1, text=note), revised, *end)
            quoted, _ = a_job(logs, a_line(1, facts={"event": "sequence revised"}), a_line(2), *end)
            texts = [Verifier(logs).look(job).sequence for job in (before, after, quoted)]
            assert texts == [TEXT, "steps: [z]\n", TEXT]


# What an honest crash leaves is no cheat, and is never called sealed.


def test_a_crash_before_the_ledger_knew_the_opening_leaves_a_job_unknown_to_it(logs: LogFolder) -> None:
    a_job(logs)
    Journal.create(logs.journal_path("A31-0002"), [opening("A31-0002", logs.ledger.position())], stamp=stamp).close()
    said = verify_job(logs, "A31-0002")
    assert (said.standing, said.remarks) == (Standing.UNKNOWN, ())
    assert said.faults[0].startswith("A31-0002.jsonl, line 1: the ledger doesn't know of 'job opened'.")
    assert "open the job and the ledger is told" in said.faults[0]
    logs.open_job("A31-0002")[0].close()
    assert standing(logs, "A31-0002") is Standing.OPEN


def test_a_crash_before_the_ledger_knew_a_fail_leaves_an_open_job_and_a_remark(logs: LogFolder) -> None:
    job, _ = a_job(logs, a_line(1))
    _behind(logs, job, a_fail(2))
    said = verify_job(logs, job)
    assert (said.standing, said.faults) == (Standing.OPEN, ())
    assert said.remarks == (
        "A31-0001.jsonl, line 3: the ledger doesn't know of 'failed' yet; open the job and it is told.",
    )
    logs.open_job(job)[0].close()
    assert verify_job(logs, job) == Verified(job, Standing.OPEN, (), (), said.digest)


def test_a_seal_is_only_a_seal_when_the_ledger_knows_it(logs: LogFolder) -> None:
    job, _ = a_job(logs, a_line(1))
    _behind(logs, job, a_fail(2), sign_off(3))
    said = verify_job(logs, job)
    assert (said.standing, said.faults) == (Standing.OPEN, ())
    assert ["line 3" in said.remarks[0], "line 4" in said.remarks[1]] == [True, True]
    logs.open_job(job)[0].close()
    assert verify_job(logs, job) == Verified(job, Standing.SEALED, (), (), said.digest)


def test_a_seal_without_its_line_feed_is_mended_and_then_known(logs: LogFolder) -> None:
    job, path = a_job(logs)
    _behind(logs, job, sign_off(1))
    path.write_bytes(path.read_bytes()[:-1])
    assert standing(logs, job) is Standing.OPEN
    logs.open_job(job)[0].close()
    assert standing(logs, job) is Standing.SEALED


def test_a_torn_end_is_torn_whatever_the_ledger_lacks_and_mended_it_is_open(logs: LogFolder) -> None:
    job, path = a_job(logs)
    _behind(logs, job, a_fail(1))
    path.write_bytes(path.read_bytes() + b'{"#":2,"at')
    said = verify_job(logs, job)
    assert said.standing is Standing.TORN
    assert said.faults[0].startswith("A31-0001.jsonl, line 3: ")
    assert said.remarks[0].startswith("A31-0001.jsonl, line 2: the ledger doesn't know of 'failed'")
    logs.open_job(job)[0].close()
    assert standing(logs, job) is Standing.OPEN


def test_a_fail_that_only_a_restored_ledger_lacks_is_no_reason_against_a_seal_it_knows(logs: LogFolder) -> None:
    job, journal = logs.new_job(opening)
    journal.append([a_fail(1)])  # as while the ledger was damaged
    journal.append([sign_off(2)], seal=True)
    journal.close()
    assert standing(logs, job) is Standing.SEALED


def test_while_the_ledger_is_altered_nobody_is_sent_to_tell_it(logs: LogFolder) -> None:
    job, _ = a_job(logs, sign_off(1))
    path = logs.ledger.path
    path.write_bytes(path.read_bytes().replace(b'"event":"job opened"', b'"event":"job_opened"'))
    said = verify_job(logs, job)
    assert said.standing is Standing.UNKNOWN
    assert "what can still be believed of the ledger doesn't know of 'job opened'. See to it first." in said.faults[0]
    assert "open the job" not in " ".join((*said.faults, *said.remarks))


def _behind(logs: LogFolder, job: str, *lines: Line) -> None:
    """Lines that reached the journal before the crash, and not the ledger."""
    journal = Journal.open(logs.journal_path(job), stamp=stamp)
    journal.append(lines)
    journal.close()


# How it looks.


def test_a_seal_that_the_ledger_confirms_costs_no_walk_over_the_lines(
    logs: LogFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, _ = a_job(logs, a_line(1), a_fail(2), a_line(3), sign_off(4))

    def walk(_data: bytes) -> None:
        raise AssertionError("the lines were walked")

    monkeypatch.setattr("passcheck.records.shop.examine", walk)
    assert standing(logs, job) is Standing.SEALED


class BusyDisk(Disk):
    """Somebody else writes whenever a journal is read, as often as is wanted."""

    def __init__(self) -> None:
        self.meanwhile: list[Callable[[], object]] = []

    def read_all(self, path: Path) -> bytes:
        if self.meanwhile and path.name != "ledger.jsonl":
            self.meanwhile.pop(0)()
        return super().read_all(path)


def test_what_another_process_writes_meanwhile_is_not_taken_for_a_fault(logs: LogFolder) -> None:
    job, journal = logs.new_job(opening)
    disk = BusyDisk()
    looker = LogFolder(logs.root, "A", disk=disk, stamp=stamp)
    disk.meanwhile = [
        lambda: journal.append([a_fail(1)], fail=True),
        lambda: journal.append([sign_off(2)], seal=True),
    ]
    assert verify_job(looker, job) == Verified(job, Standing.SEALED, (), (), verify_job(logs, job).digest)
    journal.close()


def test_what_was_written_since_the_ledger_was_read_for_an_earlier_job_is_no_fault(logs: LogFolder) -> None:
    one, journal = logs.new_job(opening)
    verifier = Verifier(logs_in(logs.root))
    assert verifier.jobs() == (one,)
    other, _ = a_job(logs_in(logs.root))
    journal.append([a_fail(1)], fail=True)
    journal.close()
    assert not verifier.look(one).verified.remarks
    assert verifier.look(other).verified.standing is Standing.OPEN


def test_jobs_are_told_in_the_order_of_their_numbers(logs: LogFolder) -> None:
    a_job(logs)
    a_job(logs)
    next_year = LogFolder(logs.root, "A", stamp=lambda: Stamp("2032-01-01T00:00:00.000Z", 1))
    a_job(next_year)
    logs.journal_path("A31-0001").unlink()
    assert [one.job for one in verify_all(logs)] == ["A31-0001", "A31-0002", "A32-0001"]
    assert remarks_on_folder(logs) == ()


# The whole folder.


def test_what_is_no_journal_is_told_without_a_word_of_it_acting_on_anything(logs: LogFolder) -> None:
    _, path = a_job(logs)
    every_year = path.parent.parent
    for beside in (".lock", ".new", ".sig", ".unsynced", ".suspect", ".suspect-2"):
        path.with_name(path.name + beside).touch()
    assert remarks_on_folder(logs) == ()
    (every_year / "2030").mkdir()
    for stray in (
        every_year / "notes.txt",
        every_year / "2030" / path.name,
        path.with_name("A31-00001.jsonl"),
        path.with_name("A31-0002.jsonl.lock"),
        path.with_name("copy of A31-0001.jsonl"),
        path.with_name("A31-0001.jsonl.bak"),
        path.with_name("x\n\x1b[2J\u202e.jsonl"),
    ):
        stray.touch()
    remarks = remarks_on_folder(logs)
    assert [said.partition(": ")[0] for said in remarks] == [
        "jobs/2030/A31-0001.jsonl",
        "jobs/2031/A31-00001.jsonl",
        "jobs/2031/A31-0001.jsonl.bak",
        "jobs/2031/A31-0002.jsonl.lock",
        "jobs/2031/copy of A31-0001.jsonl",
        "jobs/2031/'x\\n\\x1b[2J\\u202e.jsonl'",
        "jobs/notes.txt",
    ]
    assert "it belongs in jobs/2031" in remarks[0]
    assert "both were taken away" in remarks[3]
    assert [one.standing for one in verify_all(logs)] == [Standing.OPEN]


def test_a_number_that_was_never_given_is_told(logs: LogFolder) -> None:
    a_job(logs)
    for job in ("A31-0003", "B31-0007"):
        Journal.create(logs.journal_path(job), [opening(job)], stamp=stamp).close()
    assert [said.partition(",")[0] for said in remarks_on_folder(logs)] == [
        "There is no job A31-0002",
        "There are no jobs B31-0004 to B31-0006",
    ]


def test_the_ledger_stands_for_itself(logs: LogFolder) -> None:
    a_job(logs)
    path = logs.ledger.path
    whole = path.read_bytes()
    found = verify_ledger(logs)
    assert (found.state, found.faults, found.size) == (State.WHOLE, (), len(whole))
    assert found.digest == hashlib.sha256(whole).hexdigest()
    for data, state, place in (
        (whole + b"{", State.TORN, "ledger.jsonl, line 3: "),
        (whole[:-9], State.TORN, "ledger.jsonl, line 2: "),
        (whole.replace(b'"bench":"A"', b'"bench":"B"'), State.ALTERED, "ledger.jsonl, line 1: "),
    ):
        path.write_bytes(data)
        found = verify_ledger(logs_in(logs.root))
        assert (found.state, found.faults[0].startswith(place)) == (state, True)


def test_journals_without_a_ledger_are_no_accident(logs: LogFolder) -> None:
    job, _ = a_job(logs, sign_off(1))
    logs.ledger.path.unlink()
    found = verify_ledger(logs)
    assert (found.state, found.size) == (State.ALTERED, 0)
    assert "ledger.jsonl: it is missing, and there are journals" in found.faults[0]
    assert standing(logs, job) is Standing.ALTERED
