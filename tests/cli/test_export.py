"""Does a job's record leave the bench exactly, as a table that acts nowhere, or as a folder that checks?"""

import asyncio
import csv
import hashlib
import json
import subprocess
import sys
from pathlib import Path

import pytest
from lamp_box import JOB, SERIAL, folders, given_back, journal_of, lamp_box_job
from note_commands import differing
from rig import RigClock

from passcheck.bench.bench import Bench
from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.wire import open_practice_shop, open_shop
from passcheck.job.arrival import Arrive
from passcheck.practice.memory import MemoryBoards

NASTY = "=cmd|' /C calc'!A0\x1b]0;owned\x07\n@SUM(1)\u202eΩ"
RAW = [chr(code) for code in (*range(0x00, 0x0A), *range(0x0B, 0x0D), *range(0x0E, 0x20), *range(0x7F, 0xA0), 0x202E)]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folders:
    """The folder one stands in, with one job of the lamp box in its records."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PASSCHECK_LOGS", raising=False)
    monkeypatch.delenv("PASSCHECK_SEQUENCES", raising=False)
    return lamp_box_job(tmp_path, complaint=NASTY, note=NASTY)[1]


def alter(where: Folders) -> None:
    journal_of(where).write_bytes(journal_of(where).read_bytes().replace(b"3.2", b"0.2", 1))


def test_the_exact_export_written_again_is_the_journal_to_the_byte(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", JOB.lower(), "--json"]) == 0
    printed = capsys.readouterr().out
    assert printed.isascii()
    assert not [mark for mark in RAW if mark in printed]
    told = json.loads(printed)
    assert (list(told), told["format"]) == (["format", "export"], 1)
    lines = (
        json.dumps(line, ensure_ascii=False, sort_keys=True, separators=(",", ":")) for line in told["export"]["lines"]
    )
    kept = journal_of(here).read_bytes()
    assert "".join(f"{line}\n" for line in lines).encode() == kept
    assert told["export"]["journal_sha256"] == hashlib.sha256(kept).hexdigest()
    assert told["export"]["bytes"] == len(kept)
    assert told["export"]["lines"][0]["data"]["complaint"] == NASTY


def test_the_table_has_a_row_an_attempt_with_a_mark_of_its_alphabet_and_no_cell_that_acts(
    here: Folders, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["export", JOB, "--csv"]) == 0
    printed = capfdbinary.readouterr().out
    assert printed.startswith(b"\xef\xbb\xbfjob,serial,")
    text = printed.decode("utf-8-sig")
    assert not [mark for mark in RAW if mark in text]
    assert text.count("\r\n") == text.count("\n") == 4
    rows = list(csv.DictReader(text.splitlines()))
    assert [(row["attempt"], row["step"], row["verdict"]) for row in rows] == [
        ("1", "look-in", "fail"), ("2", "fuse", "fail"), ("3", "fuse", "pass")
    ]  # fmt: skip
    found = rows[1]
    assert (found["value"], found["unit"], found["limits"]) == ("3.2", "Ω", "at most 0.50 Ω")
    assert (found["struck by"], found["note"], found["instrument"]) == ("rework 1", "tarnished", "M1")


def test_the_folder_checks_with_stock_tools_and_holds_the_same_papers_as_the_commands(
    here: Folders, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["export", JOB, "--to", "out"]) == 0
    said = capfdbinary.readouterr()
    assert f"out/{JOB}: 6 files".encode() in said.out
    assert said.err == b""
    folder = Path("out") / JOB
    assert (folder / f"{JOB}.jsonl").read_bytes() == journal_of(here).read_bytes()
    assert (folder / "ledger.jsonl").read_bytes() == (here.logs / "ledger.jsonl").read_bytes()
    assert (folder / "sequence.yaml").read_bytes() == (here.sequences / "lamp-box.yaml").read_bytes()
    main(["export", JOB, "--csv"])
    assert capfdbinary.readouterr().out == (folder / "attempts.csv").read_bytes()
    main(["show", JOB, "--json"])
    shown, kept = json.loads(capfdbinary.readouterr().out), json.loads((folder / "job.json").read_bytes())
    for one in (shown, kept):
        del one["show"][0]["blockers"]  # they may name the moment
    assert shown == kept
    note = (folder / "HOW-TO-CHECK.txt").read_text(encoding="ascii")
    assert "STANDING: OPEN" in note
    assert differing(note, folder) == ()


def test_no_name_in_the_folder_comes_from_the_unit(here: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", JOB, "--to", "out"]) == 0
    assert all(path.name.isascii() and SERIAL not in path.name for path in Path("out").rglob("*"))
    assert SERIAL not in (Path("out") / JOB / "HOW-TO-CHECK.txt").read_text(encoding="ascii")


def test_a_unit_given_back_is_sealed_and_said_to_be_no_release(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    given_back(here, NASTY)
    assert main(["export", JOB, "--to", "out"]) == 0
    folder = Path("out") / JOB
    note = (folder / "HOW-TO-CHECK.txt").read_text(encoding="ascii")
    words = " ".join(note.split())
    assert "STANDING: sealed. Its last line is 'returned unrepaired'" in words
    assert "no release of the unit" in words
    assert differing(note, folder) == ()


def test_a_damaged_job_is_refused_as_text_and_handed_over_as_evidence_with_status_1(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    alter(here)
    for form in ("--json", "--csv"):
        assert main(["export", JOB, form]) == 1
        said = capsys.readouterr()
        assert said.out == ""
        assert "line 5: its hash does not match" in said.err
    assert main(["export", JOB, "--to", "out"]) == 1
    assert "line 5: its hash does not match" in capsys.readouterr().err
    folder = Path("out") / JOB
    assert sorted(path.name for path in folder.iterdir()) == [f"{JOB}.jsonl", "HOW-TO-CHECK.txt", "ledger.jsonl"]
    note = (folder / "HOW-TO-CHECK.txt").read_text(encoding="ascii")
    assert note.startswith(f"DAMAGED: {JOB}.jsonl, line 5: ")
    assert "must print" not in note
    assert differing(note, folder) == ()


@pytest.mark.parametrize("form", [["--json"], ["--csv"], ["--to", "out"]])
def test_a_ledger_that_says_otherwise_is_complained_of_beside_every_form(
    form: list[str], here: Folders, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    ledger = here.logs / "ledger.jsonl"
    ledger.write_bytes(ledger.read_bytes().replace(b'"bench":"A"', b'"bench":"B"'))
    assert main(["export", JOB, *form]) == 1
    said = capfdbinary.readouterr()
    assert said.out != b""
    assert b"ledger.jsonl, line 1: " in said.err


def ledger_closed(where: Folders) -> str:
    """The line that told of the fail is damaged, the lead closes the ledger, the job is taken up again; its mark."""
    ledger = where.logs / "ledger.jsonl"
    ledger.write_bytes(ledger.read_bytes().replace(b'"event":"failed"', b'"event":"passed"', 1))
    assert main(["bench", "close-ledger", "l1", "--because", "A cleaning script rewrote the line ends."]) == 0

    async def take_up() -> str:
        shop = open_shop(where, RigClock())
        bench = await shop.open(JOB, "t1")
        await shop.close()
        return bench.outside().records_marks[0]

    return asyncio.run(take_up())


@pytest.mark.parametrize("form", [["--json"], ["--csv"], ["--to", "out"]])
def test_a_job_whose_ledger_was_closed_leaves_with_its_mark(
    form: list[str], here: Folders, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    mark = ledger_closed(here)
    capfdbinary.readouterr()
    assert main(["export", JOB, *form]) == 0
    said = capfdbinary.readouterr()
    assert said.out != b""
    assert said.err.decode() == f"{mark}\n"
    if form[0] == "--to":
        folder = Path("out") / JOB
        assert (folder / "ledger-1.jsonl").read_bytes() == (here.logs / "ledger-1.jsonl").read_bytes()
        note = (folder / "HOW-TO-CHECK.txt").read_text(encoding="ascii")
        assert " ".join(note.split()).count(mark) == 1
        assert "The bench's own check" not in note
        assert differing(note, folder) == ()
        assert json.loads((folder / "job.json").read_bytes())["show"][0]["remarks"] == [mark]
        assert b"who closed a ledger and why" in said.out


def test_what_verify_says_of_a_job_stands_in_the_note_once_and_in_the_same_words(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    ledger = here.logs / "ledger.jsonl"
    ledger.write_bytes(b"".join(ledger.read_bytes().splitlines(keepends=True)[:2]))
    main(["verify", JOB])
    told = [line.strip() for line in capsys.readouterr().out.splitlines() if "doesn't know of 'failed'" in line]
    assert main(["export", JOB, "--to", "out"]) == 0
    note = (Path("out") / JOB / "HOW-TO-CHECK.txt").read_text(encoding="ascii")
    assert [" ".join(note.split()).count(sentence) for sentence in told] == [1, 1]


def test_a_folder_that_is_there_or_among_the_records_is_one_sentence(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", JOB, "--to", "out"]) == 0
    capsys.readouterr()
    assert main(["export", JOB, "--to", "out"]) == 1
    assert "is there already" in capsys.readouterr().err
    for among in ("logs", "logs/practice", "out/../logs/new"):
        assert main(["export", JOB, "--to", among]) == 1
        assert "among the records" in capsys.readouterr().err
    assert not (here.logs / "practice").exists()


@pytest.mark.parametrize("job", ["A31-0099", "nonsense", "../../etc", NASTY])
@pytest.mark.parametrize("form", [["--json"], ["--csv"], ["--to", "out"]])
def test_a_job_that_is_not_there_is_one_sentence_and_writes_nothing(
    job: str, form: list[str], here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", job, *form]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert not [mark for mark in RAW if mark in said.err]
    assert not Path("out").exists()


@pytest.mark.parametrize("form", [[], ["--json", "--csv"], ["--to"], ["--csv", "--to", "out"]])
def test_one_form_has_to_be_chosen(form: list[str], here: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", JOB, *form]) == 2
    assert "--help says more" in capsys.readouterr().err


def test_a_job_of_practice_says_so_wherever_it_goes_and_is_never_given_out_as_a_real_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    monkeypatch.chdir(tmp_path)
    where = folders(tmp_path)
    board = (where.sequences / "lamp-box.yaml").read_text(encoding="utf-8")
    shop = open_practice_shop(where, MemoryBoards(board), RigClock())

    async def practise() -> None:
        bench = await shop.arrive(Arrive("t1", "LB-1", SERIAL, "Lamp stays dark"))
        assert isinstance(bench, Bench), bench
        await shop.close()

    asyncio.run(practise())
    assert main(["export", JOB, "--practice", "--json"]) == 0
    assert json.loads(capfdbinary.readouterr().out)["practice"] is True
    assert main(["export", JOB, "--practice", "--to", "out"]) == 0
    assert (Path("out") / JOB / "HOW-TO-CHECK.txt").read_bytes().startswith(b"PRACTICE: ")
    journal_of(where).parent.mkdir(parents=True)
    journal_of(where).write_bytes((where.logs / "practice" / "jobs" / "2031" / f"{JOB}.jsonl").read_bytes())
    for form in (["--json"], ["--csv"], ["--to", "other"]):
        assert main(["export", JOB, *form]) == 1
        assert b"no evidence of a unit" in capfdbinary.readouterr().err
    assert not Path("other").exists()


@pytest.mark.parametrize("form", [["--json"], ["--csv"], ["--to", "out"]])
def test_no_form_of_it_loads_the_screens(form: list[str], here: Folders) -> None:
    program = (
        "import sys; from passcheck.cli.main import main; status = main(sys.argv[1:]);"
        "assert 'textual' not in sys.modules and 'passcheck.app.app' not in sys.modules; sys.exit(status)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, "export", JOB, *form],
        capture_output=True,
        check=False,
        env={"PYTHONPATH": str(Path(__file__).parents[2]), "PATH": "", "PYTHONIOENCODING": "ascii"},
    )
    assert (done.returncode, done.stderr) == (0, b"")
