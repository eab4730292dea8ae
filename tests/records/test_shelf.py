import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import a_line, opening, stamp

from passcheck.errors import FileFault
from passcheck.job.journal_line import Line
from passcheck.job.shelf_row import DAMAGED, ShelfRow, SoakTag
from passcheck.records.journal import Journal
from passcheck.records.shelf import ShelfSummary, read_shelf


class Summary:
    """Makes a row of a job and remembers which jobs it was asked about."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    def __call__(self, lines: tuple[Line, ...]) -> ShelfRow:
        job = str(lines[0].data["job"])
        self.asked.append(job)
        return ShelfRow(job, "7Q22051", "OV-24P", "3", "Panel", "confirm", "it's dead", "a", "b", len(lines), None)


def put(folder: Path, job: str, count: int = 2) -> Path:
    path = folder / "jobs" / "2031" / f"{job}.jsonl"
    path.parent.mkdir(parents=True, exist_ok=True)
    Journal.create(path, [opening(job), *(a_line(number) for number in range(1, count))], stamp=stamp).close()
    return path


@pytest.fixture
def summary() -> Summary:
    return Summary()


def test_an_empty_shop_has_an_empty_shelf_and_makes_no_file(tmp_path: Path, summary: Summary) -> None:
    assert read_shelf(tmp_path / "logs", summary) == ()
    assert not (tmp_path / "logs").exists()


def test_rows_stand_in_order_of_their_jobs(tmp_path: Path, summary: Summary) -> None:
    for job in ("A31-0002", "A31-0001"):
        put(tmp_path, job)
    assert [row.job for row in read_shelf(tmp_path, summary)] == ["A31-0001", "A31-0002"]


def test_a_shelf_gives_the_rows_of_its_folder(tmp_path: Path, summary: Summary) -> None:
    put(tmp_path, "A31-0001")
    assert ShelfSummary(tmp_path).rows(summary) == read_shelf(tmp_path, summary)


def test_a_journal_is_read_once_and_again_only_when_it_changed(tmp_path: Path, summary: Summary) -> None:
    put(tmp_path, "A31-0001")
    path = put(tmp_path, "A31-0002")
    rows = read_shelf(tmp_path, summary)
    assert read_shelf(tmp_path, summary) == rows
    assert summary.asked == ["A31-0001", "A31-0002"]
    journal = Journal.open(path)
    journal.append([a_line(2)])
    journal.close()
    assert [row.blockers for row in read_shelf(tmp_path, summary)] == [2, 3]
    assert summary.asked == ["A31-0001", "A31-0002", "A31-0002"]


def test_what_hangs_on_a_soaking_unit_is_kept_and_given_back(tmp_path: Path) -> None:
    tag = SoakTag("soak", "2031-04-02T17:00:00+00:00", 5, "boot-1", 3600, 7200, 14400, 0, 12, 1, True, False)
    put(tmp_path, "A31-0001")
    made: list[str] = []

    def summarise(lines: tuple[Line, ...]) -> ShelfRow:
        made.append(str(lines[0].data["job"]))
        row = Summary()(lines)
        return replace(row, soak=tag)

    for _ in range(2):
        assert [row.soak for row in read_shelf(tmp_path, summarise)] == [tag]
    assert made == ["A31-0001"]


@pytest.mark.parametrize(
    "damage",
    [
        lambda _: "",
        lambda text: text[:-9],
        lambda _: "[]",
        lambda _: '{"format":1,"rows":[1]}',
        lambda text: text.replace('"format":2', '"format":3'),
        lambda text: text.replace('"soak":null', '"soak":[]'),
        lambda text: text.replace('"soak":null', '"soak":{"step":1}'),
        lambda text: text.replace('"soak":null', '"soak":{}'),
        lambda text: text.replace('"blockers":2', '"blockers":"2"'),
        lambda text: text.replace('"serial"', '"strange"'),
        lambda text: text.replace('"mtime_ns":', '"mtime_ns":1'),
        lambda _: "[" * 100_000,
    ],
)
def test_a_damaged_summary_is_made_anew(tmp_path: Path, summary: Summary, damage: Callable[[str], str]) -> None:
    put(tmp_path, "A31-0001")
    rows = read_shelf(tmp_path, summary)
    shelf = tmp_path / "shelf.json"
    shelf.write_text(damage(shelf.read_text("utf-8")), "utf-8")
    assert read_shelf(tmp_path, summary) == rows
    assert summary.asked == ["A31-0001"] * 2
    assert list(json.loads(shelf.read_bytes())["rows"]) == ["A31-0001"]


def test_a_job_that_is_gone_leaves_the_shelf(tmp_path: Path, summary: Summary) -> None:
    path = put(tmp_path, "A31-0001")
    read_shelf(tmp_path, summary)
    path.unlink()
    assert read_shelf(tmp_path, summary) == ()


def test_a_journal_copied_under_another_number_is_a_row_that_says_so(tmp_path: Path, summary: Summary) -> None:
    path = put(tmp_path, "A31-0001")
    path.with_name("A31-0002.jsonl").write_bytes(path.read_bytes())
    first, copy = read_shelf(tmp_path, summary)
    assert (first.job, first.waits_for == DAMAGED) == ("A31-0001", False)
    assert (copy.job, copy.waits_for) == ("A31-0002", DAMAGED)


def test_a_copy_in_another_years_folder_takes_no_row(tmp_path: Path, summary: Summary) -> None:
    path = put(tmp_path, "A31-0001")
    rows = read_shelf(tmp_path, summary)
    for copy in (tmp_path / "jobs" / "2032" / path.name, path.with_name("A31-00001.jsonl")):
        copy.parent.mkdir(exist_ok=True)
        copy.write_bytes(path.read_bytes()[1:])
    assert read_shelf(tmp_path, summary) == rows


def test_an_altered_journal_is_a_row_that_says_so(tmp_path: Path, summary: Summary) -> None:
    put(tmp_path, "A31-0001")
    path = put(tmp_path, "A31-0002")
    path.write_bytes(path.read_bytes()[1:])
    assert [row.waits_for for row in read_shelf(tmp_path, summary)] == ["confirm", DAMAGED]


def test_a_journal_that_cannot_be_understood_is_a_row_too(tmp_path: Path) -> None:
    def refuse(lines: tuple[Line, ...]) -> ShelfRow:
        raise FileFault(f"line 1: {lines[0].event} can't be read")

    put(tmp_path, "A31-0001")
    assert [row.waits_for for row in read_shelf(tmp_path, refuse)] == [DAMAGED]


def test_a_torn_journal_keeps_its_row(tmp_path: Path, summary: Summary) -> None:
    path = put(tmp_path, "A31-0001")
    path.write_bytes(path.read_bytes() + b"{")
    assert [row.blockers for row in read_shelf(tmp_path, summary)] == [2]


@pytest.mark.parametrize("call", ["create", "write", "replace"])
def test_a_summary_that_cannot_be_kept_is_no_reason_to_fail(tmp_path: Path, summary: Summary, call: str) -> None:
    put(tmp_path, "A31-0001")
    disk = FailingDisk()
    disk.fail_at(0, only=call)
    assert len(read_shelf(tmp_path, summary, disk=disk)) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["jobs"]


def test_files_beside_the_journals_are_not_jobs(tmp_path: Path, summary: Summary) -> None:
    path = put(tmp_path, "A31-0001")
    for name in ("A31-0002.jsonl.new", "A31-0001.jsonl.suspect", "notes.jsonl", "A31-0003.jsonl.lock"):
        path.with_name(name).write_bytes(b"")
    (tmp_path / "jobs" / "readme.txt").write_bytes(b"")
    assert [row.job for row in read_shelf(tmp_path, summary)] == ["A31-0001"]


def test_a_full_shelf_is_painted_from_the_summary_without_reading_a_journal(tmp_path: Path, summary: Summary) -> None:
    path = put(tmp_path, "A31-0001")
    for count in range(2, 501):
        path.with_name(f"A31-{count:04d}.jsonl").write_bytes(path.read_bytes())
    read_shelf(tmp_path, summary)
    asked = len(summary.asked)
    assert len(read_shelf(tmp_path, summary)) == 500
    assert len(summary.asked) == asked
