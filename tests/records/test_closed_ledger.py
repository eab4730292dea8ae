"""Is a damaged ledger closed so that work goes on, nothing of it is lost, and what it can't show stays said?"""

import errno
import hashlib
import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import a_fail, a_line, opening, sign_off, stamp

from passcheck.errors import BenchFailed, FileFault
from passcheck.job.journal_line import Line
from passcheck.records.disk import Disk
from passcheck.records.job_journal import JobJournal
from passcheck.records.journal_file import JournalFile, State, read_journal
from passcheck.records.line_codec import encode_line, new_digest
from passcheck.records.shop import LogFolder
from passcheck.records.verified import Standing, verify_all, verify_job, verify_ledger

WHY = "The disk was exchanged and the copy of the ledger came back damaged."
QUOTED = WHY.removesuffix(".")
WAY_OUT = "Look for it in a backup; if there is none, a lead closes it: passcheck bench close-ledger."


class Shop:
    """A log folder whose writers are closed at the end of a test."""

    def __init__(self, folder: Path, disk: Disk | None = None) -> None:
        self.folder = folder
        self.disk = disk or Disk()
        self.writers: list[JobJournal] = []
        self.logs = self.anew()

    def anew(self) -> LogFolder:
        """The folder as another process finds it."""
        self.let_go()
        self.logs = LogFolder(self.folder, "A", disk=self.disk, stamp=stamp)
        return self.logs

    def let_go(self) -> None:
        for writer in self.writers:
            writer.close()
        self.writers.clear()

    def new_job(self, *lines: Line) -> str:
        """A job that nobody has in hand after these lines."""
        job, journal = self.logs.new_job(opening)
        self.writers.append(journal)
        for line in lines:
            journal.append([line], fail=line.event == "attempt judged", seal=line.event == "signed off")
        self.let_go()
        return job

    def open_job(self, job: str) -> JobJournal:
        journal, _ = self.logs.open_job(job)
        self.writers.append(journal)
        return journal

    def taken_up_once(self, job: str) -> None:
        self.open_job(job)
        self.let_go()

    def path(self, name: str = "ledger.jsonl") -> Path:
        return self.folder / name

    def file(self, name: str = "ledger.jsonl") -> JournalFile:
        return read_journal(self.path(name))

    def told(self, name: str = "ledger.jsonl") -> list[tuple[str, object, bool]]:
        """Event, job and lateness of each ledger line."""
        return [(it.event, it.data.get("job"), it.data.get("late", False) is True) for it in self.file(name).lines]

    def damage(self, line: int, name: str = "ledger.jsonl") -> bytes:
        """One digit of a line, counted from 1, becomes another; gives the file's bytes."""
        path = self.path(name)
        lines = path.read_bytes().split(b"\n")
        lines[line - 1] = lines[line - 1].replace(b'"at":"2', b'"at":"3')
        path.write_bytes(b"\n".join(lines))
        return path.read_bytes()


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """A bench A in 2031."""
    shop = Shop(tmp_path / "logs")
    yield shop
    shop.let_go()


def with_three_jobs(shop: Shop) -> bytes:
    """A released unit, one that failed, one that only came in; then the line of that fail (the fifth) is damaged.

    The ledger: begun, opened 1, sealed 1, opened 2, failed 2, opened 3.
    """
    shop.new_job(sign_off(1))
    shop.new_job(a_fail(1))
    shop.new_job()
    return shop.damage(5)


def test_the_way_out_is_named_where_the_damage_is(shop: Shop) -> None:
    with_three_jobs(shop)
    fault = shop.anew().intact("A31-0001")[0]
    assert fault.startswith("ledger.jsonl, line 5: ")
    assert fault.endswith(WAY_OUT)
    with pytest.raises(FileFault, match=r"line 5: .* bench close-ledger"):
        shop.logs.new_job(opening)


def test_the_damaged_ledger_is_kept_byte_for_byte_and_the_new_one_says_what_it_was(shop: Shop) -> None:
    damaged = with_three_jobs(shop)
    closed = shop.logs.close_ledger("ld", WHY)
    assert shop.path("ledger-1.jsonl").read_bytes() == damaged
    first = shop.file().lines[0]
    fault = "line 5: its hash does not match the bytes before it"
    assert (first.event, first.data) == (
        "ledger begun",
        {
            "bench": "A",
            "format": 1,
            "closed": {
                "because": WHY,
                "by": "ld",
                "bytes": len(damaged),
                "digest": hashlib.sha256(damaged).hexdigest(),
                "fault": fault,
                "file": "ledger-1.jsonl",
                "lines": 4,
            },
        },
    )
    assert (closed.kept.file, closed.faults) == ("ledger-1.jsonl", (f"ledger-1.jsonl, {fault}",))
    assert closed.marked == ("A31-0002", "A31-0003")
    assert closed.without_journal == ()
    assert sorted(it.name for it in shop.folder.iterdir()) == ["jobs", "ledger-1.jsonl", "ledger.jsonl", "ledger.lock"]


def test_every_line_of_the_new_ledger_is_json_without_floats_in_ascii_names(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", "Déjà vu, the lift broke – the disk fell.")

    def no_float(text: str) -> object:
        raise AssertionError(text)

    def ascii_names(pairs: list[tuple[str, object]]) -> dict[str, object]:
        assert all(name.isascii() for name, _ in pairs)
        return dict(pairs)

    lines = shop.path().read_text("utf-8").splitlines()
    told = [json.loads(line, parse_float=no_float, object_pairs_hook=ascii_names) for line in lines]
    assert [line["event"] for line in told] == ["ledger begun", "concerned", "concerned"]


def test_each_marked_job_is_named_with_the_bytes_that_its_journal_had(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    for line, job in zip(shop.file().lines[1:], ("A31-0002", "A31-0003"), strict=True):
        journal = shop.logs.journal_path(job).read_bytes()
        wanted = {"job": job, "bytes": len(journal), "digest": hashlib.sha256(journal).hexdigest()}
        assert (line.event, line.data) == ("concerned", wanted)


def test_the_concerned_stay_marked_and_whoever_comes_later_is_not(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    later = shop.new_job()
    marked = (
        "A31-0002 stands on a ledger that was found damaged (ledger-1.jsonl, line 5: its hash does not match the bytes "
        f'before it) and closed by ld on 2031-04-02: "{QUOTED}". What it said of this job after that line can\'t be '
        "checked.",
    )
    for _ in range(2):
        assert shop.logs.concerned("A31-0002") == marked
        assert shop.logs.concerned("A31-0001") == shop.logs.concerned(later) == ()
        shop.anew()


def test_nothing_stands_against_a_marked_job_once_its_lost_lines_are_told_late(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    assert "'failed'" in shop.logs.intact("A31-0002")[0]
    shop.taken_up_once("A31-0002")
    shop.taken_up_once("A31-0003")
    # The second job's opening stands in the closed ledger and still counts, so that it isn't told again.
    assert shop.told()[3:] == [("failed", "A31-0002", True), ("job opened", "A31-0003", True)]
    for job in shop.logs.job_ids():
        assert shop.logs.intact(job) == ()
    before = shop.path().read_bytes()
    shop.taken_up_once("A31-0002")
    assert shop.path().read_bytes() == before


def test_a_marked_job_fails_is_sealed_and_stays_marked(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    writer = shop.open_job("A31-0003")
    writer.append([a_fail(1)], fail=True)
    writer.append([sign_off(2)], seal=True)
    assert writer.ledger_refusal is None
    assert shop.logs.intact("A31-0003") == ()
    assert shop.logs.concerned("A31-0003")
    assert [event for event, job, _ in shop.told() if job == "A31-0003"][1:] == ["job opened", "failed", "sealed"]


def test_numbers_go_on_where_they_were(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    assert [shop.new_job() for _ in range(2)] == ["A31-0004", "A31-0005"]
    # The opening that the damaged part had told is told again before a number is given.
    assert shop.told()[3:] == [
        ("job opened", "A31-0003", True),
        ("job opened", "A31-0004", False),
        ("job opened", "A31-0005", False),
    ]


def test_a_number_is_not_given_twice_though_journals_are_gone(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    for job in shop.logs.job_ids():
        shop.logs.journal_path(job).unlink()
    assert shop.new_job() == "A31-0004"


def test_a_number_that_only_the_closed_ledger_knows_is_not_given_again(shop: Shop) -> None:
    for _ in range(3):
        shop.new_job()
    with shop.path().open("ab") as ledger:
        ledger.write(shop.path().read_bytes().splitlines(keepends=True)[0])
    for job in shop.logs.job_ids():
        shop.logs.journal_path(job).unlink()
    closed = shop.logs.close_ledger("ld", WHY)
    assert closed.without_journal == closed.marked == ("A31-0001", "A31-0002", "A31-0003")
    assert shop.new_job() == "A31-0004"
    assert "there is no job A31-0002" in shop.logs.intact("A31-0002")[0]
    assert "found damaged" in shop.logs.concerned("A31-0002")[0]


def test_a_journal_that_was_missing_at_the_closing_comes_back_from_a_backup(shop: Shop) -> None:
    with_three_jobs(shop)
    path = shop.logs.journal_path("A31-0001")
    away = path.rename(path.with_suffix(".away"))
    assert shop.logs.close_ledger("ld", WHY).without_journal == ("A31-0001",)
    away.rename(path)
    assert shop.logs.intact("A31-0001") == ()


def test_what_the_closed_ledger_says_before_the_damage_still_counts(shop: Shop) -> None:
    released = shop.new_job(a_line(1), sign_off(2))
    cut = shop.logs.journal_path(released).read_bytes()
    shop.new_job()
    shop.damage(4)
    shop.logs.close_ledger("ld", WHY)
    assert shop.logs.intact(released) == ()
    shop.logs.journal_path(released).write_bytes(b"".join(cut.splitlines(keepends=True)[:2]))
    assert any("seal is gone" in sentence for sentence in shop.logs.intact(released))
    with pytest.raises(FileFault, match="'sealed' names its first"):
        shop.logs.open_job(released)


def test_a_fail_taken_out_of_ledger_and_journal_leaves_its_mark(shop: Shop) -> None:
    job = shop.new_job()
    clean = shop.logs.journal_path(job).read_bytes()
    writer = shop.open_job(job)
    writer.append([a_fail(1)], fail=True)
    shop.let_go()
    shop.new_job()
    lines = shop.path().read_bytes().splitlines(keepends=True)
    shop.path().write_bytes(b"".join(lines[:2] + lines[3:]))
    shop.logs.journal_path(job).write_bytes(clean)
    assert job in shop.logs.close_ledger("ld", WHY).marked
    assert shop.logs.concerned(job)


def test_a_journal_that_is_cut_back_after_the_closing_is_noticed(shop: Shop) -> None:
    job = shop.new_job(a_line(1), a_line(2))
    shop.damage(2)
    shop.logs.close_ledger("ld", WHY)
    shop.taken_up_once(job)
    assert shop.logs.intact(job) == ()
    path = shop.logs.journal_path(job)
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:2]))
    assert "'concerned' names its first" in shop.logs.intact(job)[0]


def test_a_job_opened_on_bytes_that_no_longer_hold_is_marked_even_when_it_is_sealed(shop: Shop) -> None:
    shop.new_job(sign_off(1))
    shop.new_job(sign_off(1))
    damaged = shop.damage(1)
    shop.path().write_bytes(damaged)
    assert shop.logs.close_ledger("ld", WHY).marked == ("A31-0001", "A31-0002")
    for job in ("A31-0001", "A31-0002"):
        shop.taken_up_once(job)
        assert shop.logs.intact(job) == ()


def test_a_job_of_the_new_ledger_must_stand_on_it(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    begun = shop.path().read_bytes()
    shop.new_job()
    job = shop.new_job()
    shop.path().write_bytes(begun)
    shop.anew()
    shop.taken_up_once(job)
    assert shop.logs.concerned(job) == ()
    assert "no longer begins as it did" in shop.logs.intact(job)[0]


@pytest.mark.parametrize("bad", ["there is none", "whole", "torn", "held"])
def test_only_a_damaged_ledger_is_closed_and_only_when_nobody_holds_it(shop: Shop, bad: str) -> None:
    if bad != "there is none":
        shop.new_job()
    if bad == "torn":
        shop.path().write_bytes(shop.path().read_bytes()[:-20])
    before = shop.path().read_bytes() if shop.path().exists() else None
    sentence = {"torn": "cut short", "held": "held by another passcheck"}.get(bad, bad)
    if bad == "held":
        with shop.logs.ledger.held(), pytest.raises(FileFault, match=sentence):
            shop.anew().close_ledger("ld", WHY)
    else:
        with pytest.raises(FileFault, match=sentence):
            shop.logs.close_ledger("ld", WHY)
    assert before == (shop.path().read_bytes() if shop.path().exists() else None)
    assert not shop.path("ledger-1.jsonl").exists()


def test_a_closed_ledger_is_not_closed_again(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    with pytest.raises(FileFault, match=r"is whole: it goes on from ledger-1\.jsonl, which was closed by ld on 2031"):
        shop.logs.close_ledger("ld", WHY)


def gone(shop: Shop) -> None:
    shop.path("ledger-1.jsonl").unlink()


def altered(shop: Shop) -> None:
    shop.damage(2, "ledger-1.jsonl")


def cut(shop: Shop) -> None:
    path = shop.path("ledger-1.jsonl")
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:3]))


@pytest.mark.parametrize("spoil", [gone, altered, cut])
def test_a_closed_ledger_that_was_changed_is_a_fault_of_the_ledger(shop: Shop, spoil: Callable[[Shop], None]) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    shop.taken_up_once("A31-0002")
    assert shop.logs.intact("A31-0002") == ()
    kept = shop.path("ledger-1.jsonl").read_bytes()
    spoil(shop)
    fault = next(it for it in shop.logs.intact("A31-0002") if it.startswith("ledger-1.jsonl: "))
    assert "(by ld on 2031-04-02)" in fault
    assert fault.endswith(WAY_OUT)
    with pytest.raises(FileFault, match=r"ledger-1\.jsonl: "):
        shop.logs.new_job(opening)
    # The work goes on and its fails are told; what is missing is not told a second time.
    before = shop.told()
    shop.open_job("A31-0002").append([a_fail(2)], fail=True)
    assert shop.told() == [*before, ("failed", "A31-0002", False)]
    shop.let_go()
    shop.path("ledger-1.jsonl").write_bytes(kept)
    assert shop.logs.intact("A31-0002") == ()


@pytest.mark.parametrize("spoil", [gone, altered, cut])
def test_a_closed_ledger_that_no_backup_has_is_answered_for_by_another_closing(
    shop: Shop, spoil: Callable[[Shop], None]
) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    shop.new_job(sign_off(1))
    spoil(shop)
    closed = shop.logs.close_ledger("ld", "The first closed ledger was lost, too.")
    assert closed.kept.file == "ledger-2.jsonl"
    assert closed.faults[0].startswith("ledger-1.jsonl, ")
    assert shop.logs.ledger.faults() == ()
    assert "A31-0004" not in closed.marked
    assert "A31-0002" in closed.marked
    assert shop.new_job() == "A31-0005"
    for job in shop.logs.job_ids():
        shop.taken_up_once(job)
        assert shop.logs.intact(job) == ()


def test_several_closings_make_a_chain(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    shop.new_job(sign_off(1))
    shop.new_job()
    shop.damage(len(shop.file().lines))
    second = shop.logs.close_ledger("t9", "It happened a second time.")
    assert second.kept.file == "ledger-2.jsonl"
    assert second.marked == ("A31-0002", "A31-0003", "A31-0005")
    assert [past.closed.file for past in shop.logs.ledger.chain().past] == ["ledger-2.jsonl", "ledger-1.jsonl"]
    assert shop.new_job() == "A31-0006"
    assert [it.split('"')[1] for it in shop.logs.concerned("A31-0003")] == [QUOTED, "It happened a second time"]
    for job in shop.logs.job_ids():
        shop.taken_up_once(job)
        assert shop.logs.intact(job) == ()
    shop.damage(2, "ledger-1.jsonl")
    assert shop.logs.intact("A31-0006")[0].startswith("ledger-1.jsonl: ")


def test_closings_before_a_lost_first_line_are_found_in_the_folder(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    shop.new_job()
    shop.damage(1)
    closed = shop.logs.close_ledger("ld", "Now its first line is gone.")
    assert (closed.kept.file, closed.kept.lines) == ("ledger-2.jsonl", 0)
    first_ledger = shop.path("ledger-1.jsonl").read_bytes()
    found = shop.file().lines[0].data["found"]
    assert isinstance(found, list)
    assert [(one["file"], one["digest"]) for one in found] == [
        ("ledger-1.jsonl", hashlib.sha256(first_ledger).hexdigest())
    ]
    # The job that was sealed in the first ledger's part that holds needs no mark; all the others do.
    assert closed.marked == ("A31-0002", "A31-0003", "A31-0004")
    assert shop.new_job() == "A31-0005"
    assert shop.logs.intact("A31-0001") == ()


def test_verify_tells_the_mark_and_takes_nothing_from_the_job(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    for job in shop.logs.job_ids():
        shop.taken_up_once(job)
    later = shop.new_job()
    found = {one.job: one for one in verify_all(shop.anew())}
    assert [found[job].standing for job in sorted(found)] == [Standing.SEALED, *[Standing.OPEN] * 3]
    assert not any(one.faults for one in found.values())
    assert {job: one.remarks for job, one in found.items()} == {
        "A31-0001": (),
        "A31-0002": shop.logs.concerned("A31-0002"),
        "A31-0003": shop.logs.concerned("A31-0003"),
        later: (),
    }
    assert verify_ledger(shop.logs).state is State.WHOLE


def test_verify_names_the_closed_ledger_that_tells_of_a_missing_journal(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    shop.logs.journal_path("A31-0002").unlink()
    (fault,) = verify_job(shop.anew(), "A31-0002").faults
    assert fault.startswith("ledger-1.jsonl, line 4: it names A31-0002")


@pytest.mark.parametrize("spoil", [gone, altered, cut])
def test_verify_calls_a_ledger_altered_when_a_closed_one_was_changed(shop: Shop, spoil: Callable[[Shop], None]) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    spoil(shop)
    found = verify_ledger(shop.anew())
    assert found.state is State.ALTERED
    assert found.faults[0].startswith("ledger-1.jsonl: ")


def test_what_an_unfinished_closing_left_is_taken_up_and_nothing_else_is_overwritten(shop: Shop) -> None:
    damaged = with_three_jobs(shop)
    shop.path("ledger-1.jsonl").write_bytes(b"somebody's own")
    shop.path("ledger-2.jsonl").write_bytes(damaged)
    assert shop.logs.close_ledger("ld", WHY).kept.file == "ledger-2.jsonl"
    assert shop.path("ledger-1.jsonl").read_bytes() == b"somebody's own"
    assert shop.logs.ledger.faults() == ()


def test_a_sync_that_failed_in_the_damaged_ledger_says_nothing_of_the_new_one(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.path("ledger.jsonl.unsynced").write_text('{"failed_sync": "EIO"}')
    shop.logs.close_ledger("ld", WHY)
    shop.new_job()
    assert not [it for it in shop.folder.iterdir() if "suspect" in it.name or "unsynced" in it.name]


@pytest.mark.parametrize(
    "because",
    [
        "[red]all of it[/red] \x1b]52;c;aGk=\x07 was lost",
        'Two lines\nof it, "quoted" and \u202eturned round',
        '"},"event":"sealed","data":{"job":"A31-0002"}} or so it says',
        "Worte \U0001f600 aus aller Welt \u2028 und \u0085 mehr",
    ],
)
def test_a_hostile_statement_is_kept_as_it_came_and_is_one_line(shop: Shop, because: str) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", because)
    closed = shop.file().lines[0].data["closed"]
    assert isinstance(closed, dict)
    assert closed["because"] == because
    assert shop.path().read_bytes().count(b"\n") == 3
    (said,) = shop.logs.concerned("A31-0002")
    assert " ".join(because.split()) in said
    assert "\n" not in said


def test_a_statement_that_is_no_text_changes_nothing(shop: Shop) -> None:
    damaged = with_three_jobs(shop)
    with pytest.raises(FileFault, match="no character"):
        shop.logs.close_ledger("ld", "half a \udce4 character came in")
    assert shop.path().read_bytes() == damaged
    assert not shop.path("ledger-1.jsonl").exists()


@pytest.mark.parametrize(
    "closed",
    [
        {"file": "../../etc/passwd", "bytes": 1, "digest": "", "lines": 0, "fault": "", "by": "ld", "because": "so"},
        {"file": "ledger-1.jsonl", "bytes": "1", "digest": "", "lines": 0, "fault": "", "by": "ld", "because": "so"},
        {"file": "ledger-1.jsonl"},
        "ledger-1.jsonl",
    ],
)
def test_a_first_line_that_names_what_is_no_closed_ledger_is_a_fault(shop: Shop, closed: object) -> None:
    data = {"bench": "A", "format": 1, "closed": closed}
    line = Line(0, stamp().at, "passcheck", stamp().clock, "ledger begun", data)
    shop.folder.mkdir()
    shop.path().write_bytes(encode_line(line, new_digest()))
    assert "can't make out which ledger was closed" in shop.logs.ledger.faults()[0]
    assert shop.logs.concerned("A31-0001") == ()
    with pytest.raises(FileFault, match="line 1"):
        shop.logs.new_job(opening)
    assert shop.logs.close_ledger("ld", WHY).faults[0].startswith("ledger-1.jsonl, line 1: ")
    assert shop.logs.ledger.faults() == ()


def test_a_first_line_that_names_its_own_ledger_ends_the_chain(shop: Shop) -> None:
    with_three_jobs(shop)
    shop.logs.close_ledger("ld", WHY)
    shop.path("ledger-1.jsonl").write_bytes(shop.path().read_bytes())
    assert len(shop.logs.ledger.chain().past) == 1
    assert len(shop.logs.ledger.faults()) == 1


def test_whatever_byte_is_damaged_the_shop_goes_on_after_the_closing(tmp_path: Path) -> None:
    sound = Shop(tmp_path / "sound")
    sound.new_job(sign_off(1))
    sound.new_job(a_fail(1))
    whole = sound.path().read_bytes()
    closed = 0
    for place in range(0, len(whole), 23):
        shop = Shop(tmp_path / f"at-{place}")
        (shop.folder / "jobs" / "2031").mkdir(parents=True)
        for job in sound.logs.job_ids():
            shop.logs.journal_path(job).write_bytes(sound.logs.journal_path(job).read_bytes())
        shop.path().write_bytes(whole[:place] + bytes([whole[place] ^ 4]) + whole[place + 1 :])
        if shop.file().state is State.TORN:  # the last line alone, which a crash can leave so
            continue
        shop.logs.close_ledger("ld", WHY)
        closed += 1
        assert shop.new_job() == "A31-0003"
        for job in shop.logs.job_ids():
            shop.taken_up_once(job)
            assert shop.logs.intact(job) == ()
        assert shop.logs.concerned("A31-0002")
        assert shop.logs.concerned("A31-0003") == ()
    assert closed > 40


class Killed(BaseException):
    """The process is no more."""


class KilledDisk(FailingDisk):
    """From the chosen call on nothing reaches the disk any more, not even what tidies up."""

    def __init__(self) -> None:
        super().__init__()
        self.dead = False

    def _call(self, name: str) -> None:
        try:
            super()._call(name)
        except OSError as fault:
            self.dead = True
            raise Killed from fault

    def remove(self, path: Path) -> None:
        if not self.dead:
            super().remove(path)


def after_a_crash(shop: Shop, damaged: bytes) -> None:
    """The old state or the new one, never a third; and the command, given again, finishes it."""
    shop.disk = Disk()
    logs = shop.anew()
    now = shop.path().read_bytes()
    if now == damaged:
        assert logs.intact("A31-0001")[0].startswith("ledger.jsonl, line 5: ")
        assert logs.close_ledger("ld", WHY).kept.file == "ledger-1.jsonl"
    else:
        with pytest.raises(FileFault, match=r"is whole: it goes on from ledger-1\.jsonl"):
            logs.close_ledger("ld", WHY)
    assert shop.path("ledger-1.jsonl").read_bytes() == damaged
    assert not shop.path("ledger-2.jsonl").exists()
    assert logs.ledger.faults() == ()
    assert [bool(logs.concerned(job)) for job in logs.job_ids()] == [False, True, True]
    assert shop.new_job() == "A31-0004"
    for job in logs.job_ids():
        shop.taken_up_once(job)
        assert logs.intact(job) == ()


def calls_of_a_closing(folder: Path) -> int:
    disk = FailingDisk()
    shop = Shop(folder, disk)
    with_three_jobs(shop)
    disk.calls.clear()
    shop.anew().close_ledger("ld", WHY)
    return len(disk.calls)


@pytest.mark.parametrize("for_ever", [False, True], ids=["once", "from then on"])
def test_a_refused_call_leaves_the_old_ledger_or_the_new_one(tmp_path: Path, for_ever: bool) -> None:
    refused = 0
    for nth in range(calls_of_a_closing(tmp_path / "sound")):
        disk = FailingDisk()
        shop = Shop(tmp_path / f"at-{nth}", disk)
        damaged = with_three_jobs(shop)
        logs = shop.anew()
        disk.fail_at(nth, error=errno.ENOSPC, for_ever=for_ever, bytes_taken=20)
        try:
            logs.close_ledger("ld", WHY)
        except BenchFailed:
            refused += 1
        disk.heal()
        after_a_crash(shop, damaged)
    assert refused > 12


def test_a_kill_at_any_call_leaves_the_old_ledger_or_the_new_one(tmp_path: Path) -> None:
    for nth in range(calls_of_a_closing(tmp_path / "sound")):
        disk = KilledDisk()
        shop = Shop(tmp_path / f"at-{nth}", disk)
        damaged = with_three_jobs(shop)
        logs = shop.anew()
        disk.fail_at(nth, for_ever=True, bytes_taken=20)
        with pytest.raises(Killed):
            logs.close_ledger("ld", WHY)
        after_a_crash(shop, damaged)
