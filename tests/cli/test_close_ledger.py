"""Does a named person close a damaged ledger, does nobody else, and do the jobs concerned say so ever after?"""

import asyncio
import io
import json
from pathlib import Path

import pytest
from lamp_box import JOB, lamp_box_job

from passcheck.bench.bench import Bench
from passcheck.bench.shop import Shop
from passcheck.cli.close_ledger import may_not_close
from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.wire import bench_files, open_shop
from passcheck.job.arrival import Arrive
from passcheck.job.gate import blockers
from passcheck.job.remarks import remarks
from passcheck.job.settings import BenchSettings
from passcheck.records.shop import LogFolder

WHY = "A cleaning script rewrote the line ends."


def close(where: Folders, *arguments: str, because: str = WHY) -> int:
    folders = ["--logs", str(where.logs), "--sequences", str(where.sequences)]
    return main(["bench", *folders, "close-ledger", *arguments, "--because", because])


def damaged(root: Path) -> tuple[Shop, Folders, bytes]:
    """A shop with one job, whose ledger was altered in the line that told of its fail."""
    shop, where = lamp_box_job(root)
    ledger = where.logs / "ledger.jsonl"
    lines = ledger.read_bytes().splitlines(keepends=True)
    assert b'"failed"' in lines[2]
    lines[2] = lines[2].replace(b'"event":"failed"', b'"event":"passed"')
    ledger.write_bytes(b"".join(lines))
    return shop, where, ledger.read_bytes()


def test_a_lead_closes_it_and_is_told_what_was_done(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, where, before = damaged(tmp_path)
    assert close(where, "l1") == 0
    said = capsys.readouterr()
    assert said.err == ""
    lines = said.out.splitlines()
    assert lines[0] == "Found damaged: ledger-1.jsonl, line 3: its hash does not match the bytes before it."
    assert lines[1] == f"ledger.jsonl is closed and kept as ledger-1.jsonl: {len(before)} bytes, 2 lines of it hold,"
    assert lines[-1] == f" {JOB}"
    assert (where.logs / "ledger-1.jsonl").read_bytes() == before


def test_a_job_without_a_journal_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, where, _ = damaged(tmp_path)
    (where.logs / "jobs" / "2031" / f"{JOB}.jsonl").unlink()
    assert close(where, "l1") == 0
    assert capsys.readouterr().out.endswith(f"Without a journal; look for it in a backup:\n {JOB}\n")


def test_the_job_shows_its_mark_which_blocks_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shop, where, _ = damaged(tmp_path)
    job = shop.look(JOB)
    against = {one.sentence for one in blockers(job, shop.outside(job), shop.clock())}
    assert any(sentence.startswith("ledger.jsonl, line 3: ") for sentence in against)
    assert close(where, "l1") == 0

    async def take_up() -> None:
        await shop.open(JOB, "t1")
        await shop.close()

    asyncio.run(take_up())  # the fail that the damaged line told is told again
    job = shop.look(JOB)
    outside = shop.outside(job)
    assert outside.records_faults == ()
    left = {one.sentence for one in blockers(job, outside, shop.clock())}
    assert left
    assert not any("ledger" in sentence for sentence in left)
    (mark,) = outside.records_marks
    assert mark in remarks(job, outside)
    folders = ["--logs", str(where.logs), "--sequences", str(where.sequences)]
    capsys.readouterr()
    assert main(["show", *folders, JOB]) == 0
    assert f"{JOB} stands on a ledger that was found damaged (ledger-1.jsonl, line 3: " in capsys.readouterr().out
    assert main(["show", *folders, JOB, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["show"][0]["remarks"] == list(remarks(job, outside))


def test_a_unit_that_comes_in_afterwards_has_no_mark(tmp_path: Path) -> None:
    shop, where, _ = damaged(tmp_path)
    assert close(where, "l1") == 0

    async def take_in() -> str:
        bench = await shop.arrive(Arrive("t1", "LB-1", "7Q22052", "Lamp stays dark"))
        assert isinstance(bench, Bench)
        await shop.close()
        return bench.job.id

    later = asyncio.run(take_in())
    assert later == "A31-0002"
    outside = shop.outside(shop.look(later))
    assert (outside.records_marks, outside.records_faults) == ((), ())


@pytest.mark.parametrize(("person", "says"), [("t1", "is no lead"), ("zz", "is not among the people"), ("", "''")])
def test_nobody_else_closes_it(person: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, where, before = damaged(tmp_path)
    assert close(where, person) == 1
    said = capsys.readouterr()
    assert says in said.err
    assert said.err.count("\n") == 1
    assert said.out == ""
    assert sorted(it.name for it in where.logs.glob("ledger*.jsonl")) == ["ledger.jsonl"]
    assert (where.logs / "ledger.jsonl").read_bytes() == before


def test_a_bench_whose_people_nobody_wrote_down_has_nobody_to_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, where, _ = damaged(tmp_path)
    (where.logs / "bench.yaml").unlink()
    assert close(where, "l1") == 1
    assert "there is none yet" in capsys.readouterr().err
    assert not (where.logs / "bench.yaml").exists()


def test_where_a_bench_has_no_lead_a_technician_answers_and_a_second_person_does_not(tmp_path: Path) -> None:
    _, where = lamp_box_job(tmp_path)
    settings = bench_files(where).read()
    without = {key: one for key, one in settings.people.items() if one.role != "lead"}
    alone: BenchSettings = settings.model_copy(update={"people": without})
    assert may_not_close("t1", alone) is None
    assert "second person" in (may_not_close("t2", alone) or "")
    assert may_not_close("l1", settings) is None
    assert "closed by l1" in (may_not_close("t1", settings) or "")


def test_who_has_a_pin_gives_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _, where, _ = damaged(tmp_path)

    def typed(*lines: str) -> None:
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))

    typed("2580", "2580")
    assert main(["bench", "--logs", str(where.logs), "pin", "l1"]) == 0
    typed("0000")
    assert close(where, "l1") == 1
    assert "That is not l1's PIN. Nothing was changed." in capsys.readouterr().err
    assert not (where.logs / "ledger-1.jsonl").exists()
    typed("2580")
    assert close(where, "l1") == 0


@pytest.mark.parametrize("because", ["", "   ", "disk", "it broke", "1 2 3 4 5", "... --- !!! ???", "word " * 100])
def test_a_statement_says_what_happened(because: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, where, before = damaged(tmp_path)
    assert close(where, "l1", because=because) == 2
    assert "--because" in capsys.readouterr().err
    assert (where.logs / "ledger.jsonl").read_bytes() == before


def test_a_hostile_statement_never_acts_on_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, where, _ = damaged(tmp_path)
    hostile = "[@click=app.quit]It was\x1b[2J the disk[/] \x1b]52;c;aGk=\x07\u202e\nand more"
    assert close(where, "l1", because=hostile) == 0
    folders = ["--logs", str(where.logs), "--sequences", str(where.sequences)]
    assert main(["show", *folders, JOB]) == 0
    said = capsys.readouterr().out
    assert "It was" in said
    assert not {"\x1b", "\x07", "\u202e"} & set(said)


@pytest.mark.parametrize("state", ["whole", "torn", "none", "held"])
def test_what_needs_no_closing_is_left_alone(state: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, where = lamp_box_job(tmp_path)
    ledger = where.logs / "ledger.jsonl"
    if state == "torn":
        ledger.write_bytes(ledger.read_bytes()[:-9])
    if state == "none":
        ledger.unlink()
    before = ledger.read_bytes() if ledger.exists() else None
    if state == "held":
        with LogFolder(where.logs, "A").ledger.held():
            assert close(where, "l1") == 1
    else:
        assert close(where, "l1") == 1
    said = capsys.readouterr()
    assert said.err.count("\n") == 1
    assert {"whole": "is whole", "torn": "cut short", "none": "no ledger", "held": "held by another"}[state] in said.err
    assert before == (ledger.read_bytes() if ledger.exists() else None)
    assert not (where.logs / "ledger-1.jsonl").exists()


def test_practice_has_a_ledger_of_its_own_to_close(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, where, before = damaged(tmp_path)
    below = where.logs / "practice"
    below.mkdir()
    (below / "bench.yaml").write_bytes((where.logs / "bench.yaml").read_bytes())
    (below / "ledger.jsonl").write_bytes(before)
    assert close(where, "l1", "--practice") == 0
    assert (below / "ledger-1.jsonl").read_bytes() == before
    assert (where.logs / "ledger.jsonl").read_bytes() == before
    assert open_shop(where).look(JOB).id == JOB
    assert JOB in capsys.readouterr().out
