"""Does `passcheck paper` make the papers that fit, keep them where they belong, and refuse what records can't bear?"""

import asyncio
import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from lamp_box import JOB, SERIAL, folders, given_back, journal_of, lamp_box_job
from rig import RigClock

from passcheck.bench.bench import Bench
from passcheck.bench.ports import PaperMaker
from passcheck.bench.shop import Shop
from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.wire import open_practice_shop, open_shop
from passcheck.errors import FileFault
from passcheck.job.arrival import Arrive
from passcheck.practice.memory import MemoryBoards

NASTY = "#import \x1b]0;owned\x07 $x$\u202eΩ"
Say = Callable[..., tuple[int, list[str], str]]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folders:
    """The folder one stands in, with one open job of the lamp box in its records."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PASSCHECK_LOGS", raising=False)
    monkeypatch.delenv("PASSCHECK_SEQUENCES", raising=False)
    return lamp_box_job(tmp_path, complaint=NASTY, note=NASTY)[1]


@pytest.fixture
def paper(capsys: pytest.CaptureFixture[str]) -> Say:
    """Gives the command: its status, the lines it prints, and what it complains of."""

    def given(*arguments: str) -> tuple[int, list[str], str]:
        status = main(["paper", *arguments])
        printed = capsys.readouterr()
        return status, printed.out.splitlines(), printed.err

    return given


def taken_in(shop: Shop) -> None:
    """Another unit arrives, and nothing else happens to it."""

    async def arrive() -> None:
        assert isinstance(await shop.arrive(Arrive("t1", "LB-1", "7Q22052", "Lamp stays dark", "")), Bench)
        await shop.close()

    asyncio.run(arrive())


def names(paths: list[str]) -> list[str]:
    """File names without the digits of the journal."""
    return [Path(path).name.rsplit("-", 1)[0] + Path(path).suffix for path in paths]


def test_an_open_job_gets_its_findings_in_its_own_folder(here: Folders, paper: Say) -> None:
    status, paths, said = paper(JOB.lower())
    assert (status, said, names(paths)) == (0, "", [f"{JOB}-findings.pdf"])
    page = Path(paths[0])
    assert page.parent == here.logs / "papers" / JOB
    assert page.read_bytes().startswith(b"%PDF")


def test_a_unit_that_went_back_gets_that_paper_and_the_test_record(here: Folders, paper: Say) -> None:
    given_back(here, NASTY)
    status, paths, _said = paper(JOB)
    assert (status, names(paths)) == (0, [f"{JOB}-returned-unrepaired.pdf", f"{JOB}-test-record.pdf"])


def test_the_same_state_gives_the_same_files_and_another_state_others(here: Folders, paper: Say) -> None:
    first = {path: Path(path).read_bytes() for path in paper(JOB, "test-record", "findings")[1]}
    again = {path: Path(path).read_bytes() for path in paper(JOB, "test-record", "findings")[1]}
    assert again == first
    given_back(here, NASTY)
    later = paper(JOB, "test-record", "findings")[1]
    assert not set(later) & set(first)


def test_papers_named_are_made_in_that_order_and_once(here: Folders, paper: Say) -> None:
    _status, paths, _said = paper(JOB, "test-record", "blank-sheet", "test-record", "--blank")
    assert names(paths) == [f"{JOB}-test-record.pdf", f"{JOB}-blank-sheet.pdf"]


def test_a_sheet_to_fill_in_is_asked_for_by_its_option(here: Folders, paper: Say) -> None:
    assert names(paper(JOB, "--blank")[1]) == [f"{JOB}-blank-sheet.pdf"]


def test_a_page_of_another_size_of_sheets_lies_beside_the_first(here: Folders, paper: Say) -> None:
    (usual,), (letter,) = paper(JOB)[1], paper(JOB, "--size", "letter")[1]
    assert letter == usual.replace(".pdf", "-letter.pdf")
    assert Path(usual).read_bytes() != Path(letter).read_bytes()
    assert paper(JOB, "--size", "a4")[1] == [usual]


def test_a_paper_that_doesnt_fit_is_refused_and_none_is_made(here: Folders, paper: Say) -> None:
    status, paths, said = paper(JOB, "test-record", "release-note")
    assert (status, paths) == (1, [])
    assert "has no release note: it is still open" in said
    assert not (here.logs / "papers").exists()


def test_a_unit_that_nobody_tried_is_told_what_there_is(here: Folders, paper: Say) -> None:
    taken_in(open_shop(here, RigClock()))
    status, paths, said = paper("A31-0002")
    assert (status, paths) == (1, [])
    assert "It has: blank-sheet." in said


@pytest.mark.parametrize("slip", [["test-recrd"], ["--size", "b5"], ["--text", "--json"], []])
def test_wrong_use_is_said(here: Folders, paper: Say, slip: list[str]) -> None:
    asked = [JOB, *slip] if slip else []
    status, paths, said = paper(*asked)
    assert (status, paths) == (2, [])
    assert "passcheck paper --help" in said


def test_a_slip_in_a_name_is_met_with_the_name_that_was_meant(here: Folders, paper: Say) -> None:
    assert "Did you mean 'test-record'?" in paper(JOB, "test-recrd")[2]
    assert "There are: a4, letter." in paper(JOB, "--size", "b5")[2]


def test_text_is_printed_and_nothing_is_kept(here: Folders, paper: Say) -> None:
    status, lines, _said = paper(JOB, "test-record", "findings", "--text")
    assert status == 0
    assert [line for line in lines if line.startswith("end of this paper")] == [
        f"end of this paper: Test record, job {JOB}",
        f"end of this paper: Findings, job {JOB}",
    ]
    assert all(line.isprintable() for line in lines)
    assert not (here.logs / "papers").exists()


def test_json_names_kind_path_and_remarks(here: Folders, paper: Say) -> None:
    status, lines, said = paper(JOB, "--json")
    told = json.loads("\n".join(lines))
    assert (status, said, list(told)) == (0, "", ["format", "paper", "job"])
    assert [list(one) for one in told["paper"]] == [["kind", "path", "remarks"]]
    assert told["paper"][0]["kind"] == "findings"
    assert Path(told["paper"][0]["path"]).is_file()


def test_papers_go_to_another_folder_but_never_among_the_records(here: Folders, paper: Say, tmp_path: Path) -> None:
    _status, paths, _said = paper(JOB, "--to", "counter")
    assert [Path(path).parent.name for path in paths] == ["counter"]
    assert not (here.logs / "papers").exists()
    status, paths, said = paper(JOB, "--to", str(here.logs / "jobs"))
    assert (status, paths) == (1, [])
    assert "lies among the records" in said


@pytest.mark.parametrize("package", ["typst", "segno"])
def test_without_the_extra_a_paper_is_text_and_the_extra_is_named(
    here: Folders, paper: Say, package: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, package, None)
    status, paths, said = paper(JOB)
    assert (status, names(paths)) == (0, [f"{JOB}-findings.txt"])
    assert "pip install 'passcheck[report]'" in said
    assert "end of this paper" in Path(paths[0]).read_text(encoding="utf-8")


def test_no_paper_is_made_of_a_journal_that_was_altered(here: Folders, paper: Say) -> None:
    journal_of(here).write_bytes(journal_of(here).read_bytes().replace(b"3.2", b"0.2", 1))
    status, paths, said = paper(JOB)
    assert (status, paths) == (1, [])
    assert "No paper is made of records that were altered." in said
    assert not (here.logs / "papers").exists()


def test_no_paper_is_made_where_the_ledger_was_altered(here: Folders, paper: Say) -> None:
    ledger = here.logs / "ledger.jsonl"
    ledger.write_bytes(ledger.read_bytes().replace(b'"event":"failed"', b'"event":"fooled"', 1))
    status, paths, said = paper(JOB)
    assert (status, paths) == (1, [])
    assert "ledger.jsonl" in said


def test_a_torn_journal_bears_the_remark_on_the_paper_too(here: Folders, paper: Say) -> None:
    journal_of(here).write_bytes(journal_of(here).read_bytes()[:-40])
    status, lines, _said = paper(JOB, "--text")
    assert status == 0
    assert "Its end was cut short" in " ".join(lines)
    status, paths, said = paper(JOB)
    assert (status, len(paths)) == (0, 1)
    assert "Its end was cut short" in said


def test_a_journal_that_the_ledger_doesnt_know_of_bears_the_remark(here: Folders, paper: Say) -> None:
    (here.logs / "ledger.jsonl").unlink()
    status, lines, _said = paper(JOB, "--text")
    assert (status, "ledger" in " ".join(lines)) in [(0, True), (1, False)]


def test_a_job_that_isnt_there_is_said(here: Folders, paper: Say) -> None:
    for asked in ("A31-0099", "../jobs"):
        status, paths, said = paper(asked)
        assert (status, paths) == (1, [])
        assert "passcheck jobs" in said


def test_practice_is_asked_for_and_says_so(here: Folders, paper: Say) -> None:
    boards = MemoryBoards((here.sequences / "lamp-box.yaml").read_text(encoding="utf-8"))
    taken_in(open_practice_shop(folders(here.logs.parent), boards, RigClock()))
    status, lines, _said = paper(JOB, "--practice", "--blank", "--text")
    assert status == 0
    assert lines[0].startswith("PRACTICE")
    status, paths, _said = paper(JOB, "--practice", "--blank")
    assert Path(paths[0]).parent == here.logs / "practice" / "papers" / JOB


def test_no_paper_of_a_real_unit_is_made_of_practice(here: Folders, paper: Say) -> None:
    boards = MemoryBoards((here.sequences / "lamp-box.yaml").read_text(encoding="utf-8"))
    taken_in(open_practice_shop(folders(here.logs.parent), boards, RigClock()))
    journal_of(here).write_bytes((here.logs / "practice" / "jobs" / "2031" / f"{JOB}.jsonl").read_bytes())
    status, paths, said = paper(JOB, "--blank")
    assert (status, paths) == (1, [])
    assert "made in practice and is no evidence of a unit" in said


def test_the_screens_reach_the_same_papers_through_the_shop(here: Folders, paper: Say) -> None:
    shop = open_shop(here, RigClock())
    maker: PaperMaker | None = shop.papers
    assert maker is not None
    assert maker.possible(shop.look(JOB)) == ("findings", "test-record", "blank-sheet")
    made = maker.make(JOB, "findings")
    assert [made.path] == paper(JOB)[1]
    assert made.remarks == ()
    with pytest.raises(FileFault, match="There is no paper 'label'"):
        maker.make(JOB, "label")
    with pytest.raises(FileFault, match="still open"):
        maker.label(JOB)


def test_the_label_is_printed_once_the_job_has_ended(here: Folders, paper: Say) -> None:
    assert paper(JOB, "--label")[0] == 1
    given_back(here, NASTY)
    status, lines, _said = paper(JOB, "--label")
    assert status == 0
    assert lines[-1].startswith(f"{JOB} {SERIAL} ")
