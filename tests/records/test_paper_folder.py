"""Do papers lie where they belong, and is what they bear of the records what somebody can check later?"""

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import a_fail, a_line, opening, sign_off, stamp
from sample_set import logs_of, sample_set, sets

from passcheck.bench.ports import Papers
from passcheck.errors import BenchFailed, FileFault, OurBug
from passcheck.job.journal_line import Line
from passcheck.records.evidence import Evidence, gather
from passcheck.records.noted_head import ask_ledgers, read_noted_head
from passcheck.records.paper_folder import PaperFolder, paper_name, record_head
from passcheck.records.shop import LogFolder

FIRST, SECOND = "A31-0001", "A31-0002"
NAME = "A31-0001-test-record-5f3a9c01.pdf"


def begun(logs: LogFolder, *lines: Callable[[int], Line]) -> str:
    """Take a unit in and write these lines."""
    job, journal = logs.new_job(opening)
    for number, made in enumerate(lines, 1):
        line = made(number)
        journal.append([line], fail=line.event == "attempt judged", seal=line.event == "signed off")
    journal.close()
    return job


@pytest.fixture
def logs(tmp_path: Path) -> LogFolder:
    """The records of two jobs, of which the first is signed off."""
    folder = LogFolder(tmp_path / "logs", "A", stamp=stamp)
    begun(folder, a_fail, a_line, sign_off)
    begun(folder, a_line)
    return folder


@pytest.fixture
def papers(logs: LogFolder) -> PaperFolder:
    return PaperFolder(logs)


def kept_in(logs: LogFolder) -> list[str]:
    """Every file below the papers, by its place."""
    folder = logs.root / "papers"
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def test_the_folder_fits_the_port(papers: PaperFolder) -> None:
    port: Papers = papers
    assert port.journal(FIRST) == port.journal(FIRST)


def test_a_paper_is_kept_under_its_job(logs: LogFolder, papers: PaperFolder) -> None:
    path = papers.keep(FIRST, NAME, b"page")
    assert Path(path).read_bytes() == b"page"
    assert kept_in(logs) == [f"{FIRST}/{NAME}"]


def test_the_same_bytes_again_write_nothing(logs: LogFolder) -> None:
    disk = FailingDisk()
    papers = PaperFolder(logs, disk=disk)
    first = papers.keep(FIRST, NAME, b"page")
    wrote = [call for call in disk.calls if call != "read_all"]
    again = papers.keep(FIRST, NAME, b"page")
    assert again == first
    assert [call for call in disk.calls if call != "read_all"] == wrote
    assert Path(papers.keep(FIRST, NAME, b"other")).read_bytes() == b"other"


def test_a_disk_that_refuses_leaves_what_stood_there(logs: LogFolder) -> None:
    PaperFolder(logs).keep(FIRST, NAME, b"page")
    counted = FailingDisk()
    PaperFolder(logs, disk=counted).keep(FIRST, "other.pdf", b"new")
    for call in range(len(counted.calls)):
        disk = FailingDisk()
        disk.fail_at(call)
        try:
            PaperFolder(logs, disk=disk).keep(FIRST, NAME, b"new")
        except BenchFailed:
            assert (logs.root / "papers" / FIRST / NAME).read_bytes() in (b"page", b"new")
        (logs.root / "papers" / FIRST / NAME).write_bytes(b"page")
    assert kept_in(logs) == [f"{FIRST}/{NAME}", f"{FIRST}/other.pdf"]


@pytest.mark.parametrize("name", ["../A31-0001.jsonl", "a/b", "", ".hidden", "a\nb", "x" * 120])
def test_no_name_leads_out_of_the_folder(papers: PaperFolder, name: str) -> None:
    with pytest.raises(OurBug):
        papers.keep(FIRST, name, b"")


def test_no_job_number_leads_out_of_the_folder(papers: PaperFolder) -> None:
    with pytest.raises(FileFault):
        papers.keep("../jobs", NAME, b"")


def test_another_folder_takes_papers_but_none_among_the_records(logs: LogFolder, tmp_path: Path) -> None:
    path = PaperFolder(logs, to=tmp_path / "counter").keep(FIRST, NAME, b"page")
    assert path == str(tmp_path / "counter" / NAME)
    assert kept_in(logs) == []
    for among in (logs.root, logs.root / "jobs", tmp_path / "counter" / ".." / "logs" / "jobs"):
        with pytest.raises(FileFault, match="lies among the records"):
            PaperFolder(logs, to=among)


def test_practice_keeps_its_papers_apart(tmp_path: Path) -> None:
    practice = LogFolder(tmp_path, "P", practice=True, stamp=stamp)
    job, journal = practice.new_job(opening)
    journal.close()
    assert PaperFolder(practice).keep(job, "x.pdf", b"") == str(tmp_path / "practice" / "papers" / job / "x.pdf")


def test_the_head_is_of_the_journal_to_its_last_byte(logs: LogFolder, papers: PaperFolder) -> None:
    data = logs.journal_path(FIRST).read_bytes()
    head = papers.head(FIRST)
    assert (head.size, head.digest, head.sealed) == (len(data), sha256(data).hexdigest(), True)
    assert papers.journal(FIRST) == data
    assert not papers.head(SECOND).sealed


def test_the_head_ends_with_the_last_word_of_the_ledger_on_this_job(logs: LogFolder, papers: PaperFolder) -> None:
    ledger = logs.ledger.path.read_bytes()
    head = papers.head(FIRST)
    upto = ledger[: head.ledger_bytes]
    assert head.ledger_digest == sha256(upto).hexdigest()
    assert upto.endswith(b"\n")
    assert FIRST.encode() in upto.splitlines()[-1]
    assert FIRST.encode() not in ledger[head.ledger_bytes :]
    assert SECOND.encode() in ledger[head.ledger_bytes :]


def test_later_jobs_change_nothing_of_a_sealed_job_s_head(logs: LogFolder, papers: PaperFolder) -> None:
    before = papers.head(FIRST), papers.head(SECOND)
    begun(logs, a_fail, sign_off)
    assert (papers.head(FIRST), papers.head(SECOND)) == before


def test_a_job_that_only_a_closed_ledger_names_bears_that_ledger(tmp_path: Path) -> None:
    logs = LogFolder(tmp_path / "logs", "A", stamp=stamp)
    begun(logs, a_line, sign_off)
    begun(logs, a_fail)
    lines = logs.ledger.path.read_bytes().split(b"\n")
    lines[-2] = lines[-2].replace(b'"at":"2', b'"at":"3')
    logs.ledger.path.write_bytes(b"\n".join(lines))
    logs.close_ledger("ld", "The disk was exchanged.")
    sealed, marked = (PaperFolder(logs).head(job) for job in (FIRST, SECOND))
    assert (sealed.ledger, marked.ledger) == ("ledger-1.jsonl", "ledger.jsonl")
    for head in (sealed, marked):
        assert ask_ledgers(logs.ledger.read(), read_noted_head(head.noted)).size == head.ledger_bytes


def test_a_job_that_no_ledger_names_stands_on_nothing(logs: LogFolder) -> None:
    evidence = gather(logs, FIRST)
    head = record_head(Evidence(FIRST, evidence.journal, b""))
    assert (head.ledger_bytes, head.ledger_digest) == (0, sha256(b"").hexdigest())


@pytest.mark.parametrize("name", sets())
def test_verify_finds_the_head_of_every_sample(name: str) -> None:
    kept = sample_set(name)
    for job in kept.about:
        logs = logs_of(kept.folder, job)
        head = PaperFolder(logs).head(job)
        assert head.digest == sha256(kept.journal(job).read_bytes()).hexdigest()
        assert ask_ledgers(logs.ledger.read(), read_noted_head(head.noted)).size == head.ledger_bytes > 0


def test_each_state_of_a_job_has_a_name_of_its_own_and_the_same_state_the_same(
    logs: LogFolder, papers: PaperFolder
) -> None:
    head = papers.head(SECOND)
    name = paper_name("test-record", SECOND, head, "pdf")
    assert name == f"{SECOND}-test-record-{sha256(papers.journal(SECOND)).hexdigest()[:8]}.pdf"
    journal, _lines = logs.open_job(SECOND)
    journal.append([a_line(journal.next_number)])
    journal.close()
    assert paper_name("test-record", SECOND, papers.head(SECOND), "pdf") != name
    assert paper_name("test-record", FIRST, papers.head(FIRST), "pdf") == paper_name(
        "test-record", FIRST, papers.head(FIRST), "pdf"
    )


def test_a_job_that_isnt_there_is_said(papers: PaperFolder) -> None:
    with pytest.raises(FileFault, match="there is no job A31-0009"):
        papers.head("A31-0009")
