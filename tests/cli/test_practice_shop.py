"""Do practice jobs lie apart, say what they are, and never pass for a unit of the bench?"""

import asyncio
import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from lamp_box import JOB, LAMP_BOX, SERIAL, folders, lamp_box_job
from rig import RigClock

from passcheck.bench.bench import Bench, Done
from passcheck.bench.shop import Shop
from passcheck.cli.folders import Folders, practice_folders
from passcheck.cli.main import main
from passcheck.cli.wire import bench_files, open_practice_shop, open_shop
from passcheck.errors import FileFault
from passcheck.job import commands
from passcheck.job.arrival import Arrive
from passcheck.job.shelf_row import DAMAGED
from passcheck.practice.memory import MemoryBoards
from passcheck.practice.sheet import ShortSoak, short_sheet
from passcheck.records.shop import LogFolder

SHEET = short_sheet(LAMP_BOX.read_text(encoding="utf-8"), None, ShortSoak())


def practice_shop(where: Folders, clock: RigClock | None = None) -> Shop:
    return open_practice_shop(where, MemoryBoards(SHEET), clock or RigClock())


def practised(where: Folders) -> Shop:
    """The practice shop after one unit was taken in and its first step walked."""
    shop = practice_shop(where)

    async def carry() -> None:
        bench = await shop.arrive(Arrive("t1", "LB-1", SERIAL, "Lamp stays dark"))
        assert isinstance(bench, Bench), bench
        done = await bench.do(commands.AddNote("t1", "lens cracked"))
        assert isinstance(done, Done)
        await shop.close()

    asyncio.run(carry())
    return shop


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folders:
    """The folder one stands in; the lamp box is its only board."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PASSCHECK_LOGS", raising=False)
    monkeypatch.delenv("PASSCHECK_SEQUENCES", raising=False)
    return folders(tmp_path)


def test_a_job_of_practice_is_marked_and_lies_below_practice_with_a_ledger_of_its_own(here: Folders) -> None:
    shop = practised(here)
    job = shop.look(JOB)
    assert job.facts.practice
    assert job.sequence.title.endswith("(practice sheet)")
    root = here.logs / "practice"
    assert root == practice_folders(here).logs == LogFolder(here.logs, "A", practice=True).root
    opening = (root / "jobs" / "2031" / f"{JOB}.jsonl").read_text(encoding="utf-8").splitlines()[0]
    assert '"practice":true' in opening
    assert f'"job":"{JOB}"' in (root / "ledger.jsonl").read_text(encoding="utf-8")
    assert [row.practice for row in shop.shelf()] == [True]
    assert [path.name for path in here.logs.iterdir()] == ["practice"]
    assert shop.outside(job).records_faults == ()


def test_a_sheet_lies_in_no_folder_and_the_bench_file_of_practice_is_its_own(here: Folders) -> None:
    shop = practice_shop(here)
    assert [board.name for board in shop.boards.listed()] == ["LB-1"]
    assert not here.logs.exists(), "nothing is written before something is done"
    assert bench_files(practice_folders(here), RigClock()).make()
    bench_yaml = here.logs / "practice" / "bench.yaml"
    bench_yaml.write_text(bench_yaml.read_text(encoding="utf-8").replace("letter: A", "letter: P"), encoding="utf-8")
    assert shop.settings().letter == "P"
    assert open_shop(here, RigClock()).settings().letter == "A"
    practised(here)
    assert (here.logs / "practice" / "jobs" / "2031" / "P31-0001.jsonl").is_file()


def test_the_clock_given_stamps_the_jobs(here: Folders) -> None:
    clock = RigClock()
    clock.pass_time(hours=24 * 366)
    shop = practice_shop(here, clock)
    taken = asyncio.run(shop.arrive(Arrive("t1", "LB-1", SERIAL, "dim")))
    assert isinstance(taken, Bench)
    assert taken.job.id == "A32-0001"
    assert taken.job.opened == clock()


def test_the_bench_and_practice_list_their_own_jobs_only(here: Folders) -> None:
    real, _ = lamp_box_job(here.logs.parent)
    before = {path: path.read_bytes() for path in here.logs.rglob("*") if path.is_file()}
    shop = practised(here)
    assert [(row.job, row.practice) for row in real.shelf()] == [(JOB, False)]
    assert [(row.job, row.practice) for row in shop.shelf()] == [(JOB, True)]
    assert not real.look(JOB).facts.practice
    assert real.outside(real.look(JOB)).records_faults == ()
    assert before == {path: path.read_bytes() for path in before}, "practice touches nothing of the bench"


def test_a_job_of_practice_alone_is_no_job_of_the_bench(here: Folders) -> None:
    practised(here)
    real = open_shop(here, RigClock())
    assert real.shelf() == ()
    with pytest.raises(FileFault, match="there is no job"):
        real.look(JOB)


def a_real_job(where: Folders) -> None:
    lamp_box_job(where.logs.parent)


def a_practice_job(where: Folders) -> None:
    practised(where)


def copied(where: Folders, *, to_practice: bool) -> None:
    """Journals and the shelf's summary copied across with their times, and the folder they came from gone."""
    inside, kept = where.logs / "practice", where.logs.parent / "kept"
    if to_practice:
        where.logs.rename(kept)
        shutil.copytree(kept, inside)
    else:
        inside.rename(kept)
        where.logs.rmdir()
        shutil.copytree(kept, where.logs)


@pytest.mark.parametrize(
    ("make", "to_practice", "said"),
    [
        (a_practice_job, False, f"Job {JOB} was made in practice and is no evidence of a unit."),
        (a_real_job, True, f"Job {JOB} is of a real unit, so practice doesn't read it."),
    ],
)
@pytest.mark.parametrize("listed_before", [True, False], ids=["with its summary", "journal alone"])
def test_a_journal_that_was_copied_across_is_said_in_one_sentence_and_not_shown_as_a_unit(
    make: Callable[[Folders], None],
    to_practice: bool,
    said: str,
    listed_before: bool,
    here: Folders,
    capsys: pytest.CaptureFixture[str],
) -> None:
    make(here)
    if listed_before:
        (open_shop(here, RigClock()) if to_practice else practice_shop(here)).shelf()
    copied(here, to_practice=to_practice)
    shop = practice_shop(here) if to_practice else open_shop(here, RigClock())
    (row,) = shop.shelf()
    assert (row.job, row.waits_for, row.serial, row.complaint, row.practice) == (JOB, DAMAGED, "", "", to_practice)
    for command in (["show", JOB], ["plan", JOB], ["blockers", JOB]):
        assert main([*command, *(["--practice"] if to_practice else [])]) == 1
        told = capsys.readouterr()
        assert told.out == ""
        assert told.err.startswith(said)
        assert told.err.count("\n") == 1
    with pytest.raises(FileFault, match="Move its journal back"):
        asyncio.run(shop.open(JOB, "t1"))


@pytest.mark.parametrize("command", [["jobs"], ["show", JOB], ["plan", JOB], ["blockers", JOB]], ids=lambda it: it[0])
def test_listings_of_practice_say_so_to_people_and_to_programs(
    command: list[str], here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    lamp_box_job(here.logs.parent)
    practised(here)
    status = 1 if command[0] == "blockers" else 0
    assert main([*command, "--practice"]) == status
    assert capsys.readouterr().out.startswith("PRACTICE: nothing here is evidence of a real unit.\n")
    assert main([*command, "--practice", "--json"]) == status
    told = json.loads(capsys.readouterr().out)
    assert list(told) == ["format", command[0], "practice"]
    assert told["practice"] is True
    assert main(command) == status
    assert "PRACTICE" not in capsys.readouterr().out
    assert main([*command, "--json"]) == status
    assert '"practice"' not in capsys.readouterr().out


@pytest.mark.parametrize("command", [["jobs"], ["show", JOB]], ids=lambda it: it[0])
def test_a_job_of_practice_has_its_mark_for_programs(
    command: list[str], here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    practised(here)
    assert main([*command, "--json", "--practice"]) == 0
    (item,) = json.loads(capsys.readouterr().out)[command[0]]
    assert (item["job"], item["practice"]) == (JOB, True)


def test_listing_practice_before_there_was_any_writes_nothing(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["jobs", "--practice"]) == 0
    assert capsys.readouterr().out.splitlines()[1:] == ["No jobs yet."]
    assert main(["show", JOB, "--practice"]) == 1
    assert "there is no job" in capsys.readouterr().err
    assert not here.logs.exists()
