import hashlib
import json
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import a_fail, a_line, opening, sign_off, stamp

from passcheck.errors import BenchFailed, FileFault, OurBug
from passcheck.job.journal_line import Line
from passcheck.records import journal_file
from passcheck.records.job_journal import JobJournal
from passcheck.records.journal import Journal
from passcheck.records.journal_file import read_journal
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import Stamp


class Shop:
    """A log folder whose writers are closed at the end of a test."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.disk = FailingDisk()
        self.logs = self.anew()
        self.writers: list[JobJournal] = []

    def anew(self) -> LogFolder:
        """The folder as another process finds it."""
        return LogFolder(self.folder, "A", disk=self.disk, stamp=stamp)

    def new_job(self) -> tuple[str, JobJournal]:
        job, journal = self.logs.new_job(opening)
        self.writers.append(journal)
        return job, journal

    def open_job(self, job: str, logs: LogFolder | None = None) -> JobJournal:
        journal, _ = (logs or self.logs).open_job(job)
        self.writers.append(journal)
        return journal

    def ledger(self) -> list[tuple[str, object, bool]]:
        """Event, job and lateness of each ledger line."""
        lines = read_journal(self.logs.ledger.path).lines
        return [(line.event, line.data.get("job"), line.data.get("late", False) is True) for line in lines]


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """A bench A in 2031."""
    shop = Shop(tmp_path / "logs")
    yield shop
    for writer in shop.writers:
        writer.close()


def test_nothing_is_made_before_the_first_job(shop: Shop) -> None:
    assert (shop.logs.job_ids(), shop.logs.ledger.position()) == ((), (0, hashlib.sha256().hexdigest()))
    assert not shop.folder.exists()


def test_jobs_are_numbered_by_bench_year_and_count_without_a_gap(shop: Shop) -> None:
    assert [shop.new_job()[0] for _ in range(3)] == ["A31-0001", "A31-0002", "A31-0003"]
    assert shop.logs.job_ids() == ("A31-0001", "A31-0002", "A31-0003")
    assert shop.logs.journal_path("A31-0002") == shop.folder / "jobs" / "2031" / "A31-0002.jsonl"


def test_the_count_begins_again_each_year(shop: Shop) -> None:
    shop.new_job()
    next_year = LogFolder(shop.folder, "A", stamp=lambda: Stamp("2032-01-01T00:00:00.000Z", 1))
    job, journal = next_year.new_job(opening)
    journal.close()
    assert job == "A32-0001"
    assert next_year.job_ids() == ("A31-0001", "A32-0001")


def test_another_process_goes_on_counting(shop: Shop) -> None:
    shop.new_job()
    job, journal = shop.anew().new_job(opening)
    journal.close()
    assert (job, shop.new_job()[0]) == ("A31-0002", "A31-0003")


def test_a_job_stands_on_the_place_of_the_ledger_where_it_was_opened(shop: Shop) -> None:
    shop.new_job()
    position = shop.logs.ledger.position()
    job, _ = shop.new_job()
    first = shop.logs.read_job(job)[0]
    assert (first.data["ledger_bytes"], first.data["ledger_digest"]) == position
    assert shop.logs.ledger.head_code() == shop.logs.ledger.position()[1][:8]


def test_the_ledger_names_the_bytes_of_the_journal_at_each_event(shop: Shop) -> None:
    job, journal = shop.new_job()
    opened = journal.path.read_bytes()
    journal.append([a_line(1), a_fail(2)], fail=True)
    failed = journal.path.read_bytes()
    journal.append([sign_off(3)], seal=True)
    sealed = journal.path.read_bytes()
    said = shop.logs.ledger.entries(job)
    assert [entry.event for entry in said] == ["job opened", "failed", "sealed"]
    for entry, data in zip(said, (opened, failed, sealed), strict=True):
        assert (entry.bytes, entry.digest) == (len(data), hashlib.sha256(data).hexdigest())
    assert shop.logs.intact(job) == ()


def test_a_note_costs_the_ledger_nothing(shop: Shop) -> None:
    _, journal = shop.new_job()
    before = shop.logs.ledger.position()
    journal.append([a_line(1)])
    assert shop.logs.ledger.position() == before


def test_the_seal_is_the_last_event_and_only_that(shop: Shop) -> None:
    _, journal = shop.new_job()
    for lines, seal in (([sign_off(1)], False), ([a_line(1)], True), ([sign_off(1), a_line(2)], False)):
        with pytest.raises(OurBug):
            journal.append(lines, seal=seal)
    assert journal.next_number == 1


def test_a_sealed_job_opens_for_reading_on_and_refuses_every_line(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.append([sign_off(1)], seal=True)
    with pytest.raises(FileFault, match="sealed"):
        journal.append([a_line(2)])
    journal.close()
    again = shop.open_job(job)
    assert again.sealed
    with pytest.raises(FileFault, match="sealed"):
        again.append([a_line(2)])
    assert shop.logs.intact(job) == ()


def test_a_job_can_be_read_while_another_writes_it(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.append([a_line(1)])
    assert shop.anew().read_job(job) == journal.lines


def test_a_second_writer_is_refused_with_the_job_and_what_to_do(shop: Shop) -> None:
    job, _ = shop.new_job()
    with pytest.raises(BenchFailed, match=f"{job} is open for writing in another passcheck; finish or close it there"):
        shop.anew().open_job(job)


@pytest.mark.parametrize("job", ["A31-0009", "../A31-0001", "nonsense"])
def test_a_job_that_is_not_there_is_a_sentence(shop: Shop, job: str) -> None:
    shop.new_job()
    for ask in (shop.logs.open_job, shop.logs.read_job):
        with pytest.raises(FileFault, match="passcheck jobs"):
            ask(job)


def test_practice_has_folder_and_ledger_of_its_own(shop: Shop) -> None:
    shop.new_job()
    practice = LogFolder(shop.folder, "A", practice=True, stamp=stamp)
    job, journal = practice.new_job(opening)
    journal.close()
    assert journal.path == shop.folder / "practice" / "jobs" / "2031" / "A31-0001.jsonl"
    assert (shop.folder / "practice" / "ledger.jsonl").exists()
    assert shop.logs.job_ids() == (job,) == ("A31-0001",)


def test_a_bench_needs_a_letter(tmp_path: Path) -> None:
    for letter in ("", "a", "AB", "Ä"):
        with pytest.raises(FileFault, match=r"bench\.yaml"):
            LogFolder(tmp_path, letter)


def test_a_crash_between_journal_and_ledger_leaves_a_late_opening(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.close()
    orphan = shop.logs.journal_path("A31-0002")
    Journal.create(orphan, [opening("A31-0002", shop.logs.ledger.position())], stamp=stamp).close()
    assert "doesn't know of 'job opened'" in shop.logs.intact("A31-0002")[0]
    assert shop.new_job()[0] == "A31-0003"
    assert shop.ledger()[1:] == [
        ("job opened", job, False),
        ("job opened", "A31-0002", True),
        ("job opened", "A31-0003", False),
    ]
    assert shop.logs.intact("A31-0002") == ()


def test_a_fail_that_the_ledger_missed_is_told_late_when_the_job_is_opened(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.append([a_fail(1)])  # the crash came before the ledger
    journal.close()
    assert "'failed'" in shop.logs.intact(job)[0]
    shop.open_job(job)
    assert shop.ledger()[-1] == ("failed", job, True)
    assert shop.logs.intact(job) == ()


def test_a_seal_that_the_ledger_missed_is_told_late(shop: Shop) -> None:
    job, journal = shop.new_job()
    shop.disk.fail_at(1, only="fsync")
    with pytest.raises(BenchFailed):
        journal.append([sign_off(1)], seal=True)
    assert not journal.writing
    shop.disk.heal()
    assert shop.open_job(job).sealed
    assert shop.ledger()[-1] == ("sealed", job, True)


def test_a_ledger_that_refuses_stops_the_job_before_it_is_acknowledged(shop: Shop) -> None:
    job, journal = shop.new_job()
    shop.disk.fail_at(1, only="write")
    with pytest.raises(BenchFailed, match="ledger"):
        journal.append([a_fail(1)], fail=True)
    with pytest.raises(BenchFailed, match="open the job again"):
        journal.append([a_line(2)])
    shop.disk.heal()
    again = shop.open_job(job)
    assert shop.ledger()[-1] == ("failed", job, True)
    assert again.next_number == 2


def test_a_journal_cut_back_before_its_fail_is_not_written_on(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.append([a_line(1)])
    cut = journal.path.read_bytes()
    journal.append([a_fail(2)], fail=True)
    journal.close()
    journal.path.write_bytes(cut)
    assert "'failed'" in shop.logs.intact(job)[0]
    with pytest.raises(FileFault, match="backup"):
        shop.logs.open_job(job)


def test_a_seal_cut_off_is_not_written_over(shop: Shop) -> None:
    job, journal = shop.new_job()
    unsealed = journal.path.read_bytes()
    journal.append([sign_off(1)], seal=True)
    journal.close()
    journal.path.write_bytes(unsealed)
    with pytest.raises(FileFault, match="seal is gone"):
        shop.logs.open_job(job)


def test_one_jobs_journal_under_anothers_name_is_noticed(shop: Shop) -> None:
    (one, first), (other, second) = shop.new_job(), shop.new_job()
    first.close()
    second.close()
    second.path.write_bytes(first.path.read_bytes())
    assert shop.logs.intact(one) == ()
    assert "'job opened'" in shop.logs.intact(other)[0]


@pytest.mark.parametrize("practice", [False, True])
def test_a_journal_copied_across_from_practice_or_into_it_is_refused_and_the_ledger_not_told(
    shop: Shop, practice: bool
) -> None:
    def mark(job: str, position: tuple[int, str]) -> Line:
        first = opening(job, position)
        return a_line(0, first.event, **{**first.data, "practice": not practice})

    here = LogFolder(shop.folder, "A", practice=practice, stamp=stamp)
    there = LogFolder(shop.folder, "A", practice=not practice, stamp=stamp)
    job, journal = there.new_job(mark)
    journal.close()
    copy = here.journal_path(job)
    copy.parent.mkdir(parents=True)
    copy.write_bytes(journal.path.read_bytes() + b"{")
    before = copy.read_bytes()
    for ask in (lambda: here.open_job(job), lambda: here.new_job(mark)):
        with pytest.raises(FileFault, match=r"A31-0001\.jsonl, line 1: it .* Move it back to"):
            ask()
    assert (copy.read_bytes(), here.ledger.entries(job)) == (before, ())


def test_a_journal_copied_to_a_free_number_gets_no_opening_in_the_ledger(shop: Shop) -> None:
    _, journal = shop.new_job()
    shop.logs.journal_path("A31-0002").write_bytes(journal.path.read_bytes())
    for ask in (lambda: shop.logs.open_job("A31-0002"), shop.new_job):
        with pytest.raises(FileFault, match=r"A31-0002\.jsonl, line 1: 'job opened' names 'A31-0001'"):
            ask()
    assert shop.logs.ledger.entries("A31-0002") == ()


def test_a_journal_in_another_years_folder_or_under_another_form_of_its_number_is_no_job(shop: Shop) -> None:
    job, journal = shop.new_job()
    (shop.folder / "jobs" / "2030").mkdir()
    for copy in (journal.path.parent.parent / "2030" / journal.path.name, journal.path.with_name("A31-00001.jsonl")):
        copy.write_bytes(journal.path.read_bytes())
    assert shop.logs.job_ids() == (job,)


def test_an_altered_journal_is_named_with_its_line(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.append([a_line(1)])
    journal.path.write_bytes(journal.path.read_bytes().replace(b"note 1", b"note 2"))
    assert shop.logs.intact(job)[0].startswith("A31-0001.jsonl, line 2: ")
    with pytest.raises(FileFault, match="line 2"):
        shop.logs.read_job(job)


def test_what_was_read_before_is_not_believed_of_a_journal_that_was_altered_since(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.append([a_line(1), a_line(2)])
    journal.close()
    assert len(shop.logs.read_job(job)) == 3
    whole = journal.path.read_bytes()
    journal.path.write_bytes(whole.replace(b"note 1", b"note 7"))
    for ask in (shop.logs.read_job, shop.logs.open_job):
        with pytest.raises(FileFault, match="line 2"):
            ask(job)
    journal.path.write_bytes(whole)
    assert shop.open_job(job).lines == shop.logs.read_job(job)


def test_a_journal_that_was_read_is_decoded_again_only_where_it_grew(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, journal = shop.new_job()
    journal.append([a_line(1), a_line(2)])
    shop.logs.read_job(job)
    decoded: list[int] = []
    monkeypatch.setattr(journal_file, "decode_lines", lambda text, _before: decoded.append(text.count(b"\n")))
    journal.append([a_line(3)])
    journal.close()
    assert len(shop.logs.read_job(job)) == len(shop.open_job(job).lines) == 4
    assert decoded == [1]


def test_a_journal_that_is_gone_is_named(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.path.unlink()
    assert "there is no job A31-0001" in shop.logs.intact(job)[0]


def test_an_altered_ledger_stops_the_sign_off_and_new_jobs_but_not_the_work(shop: Shop) -> None:
    job, journal = shop.new_job()
    path = shop.logs.ledger.path
    whole = path.read_bytes()
    path.write_bytes(whole.replace(b'"bench":"A"', b'"bench":"B"'))
    assert shop.logs.intact(job)[0].startswith("ledger.jsonl, line 1: ")
    journal.append([a_fail(1)], fail=True)
    assert journal.ledger_refusal is not None
    with pytest.raises(FileFault):
        shop.logs.new_job(opening)
    journal.close()
    assert shop.open_job(job).ledger_refusal is not None
    shop.writers[-1].close()
    path.write_bytes(whole)
    assert shop.open_job(job).ledger_refusal is None
    assert shop.ledger()[-1] == ("failed", job, True)


def test_a_ledger_rolled_back_is_noticed_while_the_job_is_open(shop: Shop) -> None:
    shop.new_job()
    yesterday = shop.logs.ledger.path.read_bytes()
    job, _ = shop.new_job()
    assert shop.logs.intact(job) == ()
    shop.logs.ledger.path.write_bytes(yesterday)
    assert "'job opened'" in shop.logs.intact(job)[0]


def test_a_ledger_rewritten_from_the_start_no_longer_carries_its_jobs(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.close()
    shop.logs.ledger.path.unlink()
    other = LogFolder(shop.folder, "A", stamp=lambda: Stamp("2031-05-01T00:00:00.000Z", 9))
    other.open_job(job)[0].close()
    assert "no longer begins as it did" in other.intact(job)[0]


def test_a_torn_ledger_is_mended_by_the_next_opening(shop: Shop) -> None:
    job, journal = shop.new_job()
    journal.close()
    with shop.logs.ledger.path.open("ab") as ledger:
        ledger.write(b'{"#":2,"at')
    assert "cut short" in shop.logs.intact(job)[0]
    shop.open_job(job)
    assert shop.ledger()[-1][0] == "mended"
    assert shop.logs.intact(job) == ()


def test_intact_reads_a_file_again_only_when_it_looks_different(shop: Shop) -> None:
    job, journal = shop.new_job()
    for number in range(1, 4):
        journal.append([a_line(number)])
        assert shop.logs.intact(job) == ()
    shop.disk.calls.clear()
    journal.append([a_line(4)])
    assert shop.logs.intact(job) == ()
    assert "read_all" not in shop.disk.calls
    os.utime(journal.path, ns=(1, 1))
    assert shop.logs.intact(job) == ()
    assert "read_all" in shop.disk.calls


def test_every_line_of_a_ledger_is_json_that_any_tool_reads(shop: Shop) -> None:
    shop.new_job()
    lines = [json.loads(line) for line in shop.logs.ledger.path.read_text("utf-8").splitlines()]
    assert [line["event"] for line in lines] == ["ledger begun", "job opened"]
    assert lines[0]["data"] == {"bench": "A", "format": 1}
