"""Does every command line end with the right status, one clear message, and nothing raw on the terminal?"""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from lamp_box import JOB, LAMP_BOX, lamp_box_job

from passcheck.cli import main as entry
from passcheck.cli.main import main
from passcheck.errors import BenchFailed, OurBug

ROOT = Path(__file__).parents[2]
NASTY = "\x1b]0;owned\x07[bold]x[/]\x1b[2J\u202eevil\u200b\x9b31m\x7f $(rm)"
RAW = [chr(code) for code in (*range(0x00, 0x0A), *range(0x0B, 0x20), *range(0x7F, 0xA0), 0x202E, 0x200B)]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in, with no folders named by the environment."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PASSCHECK_LOGS", raising=False)
    monkeypatch.delenv("PASSCHECK_SEQUENCES", raising=False)
    return tmp_path


def passcheck(*arguments: str, cwd: Path, stdin: str | None = None) -> "subprocess.CompletedProcess[str]":
    """The command as a shell starts it."""
    return subprocess.run(
        [sys.executable, "-m", "passcheck", *arguments],
        cwd=cwd,
        input=stdin,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(ROOT), "PATH": "", "PYTHONIOENCODING": "utf-8"},
    )


def test_a_mistyped_command_is_answered_with_the_nearest_one(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["blokers", JOB]) == 2
    assert "Did you mean 'blockers'?" in capsys.readouterr().err
    assert main(["bench", "shw"]) == 2
    assert "Did you mean 'show'?" in capsys.readouterr().err


@pytest.mark.parametrize(
    "arguments",
    [["zzzz"], ["--nonsense"], ["show"], ["bench"], ["jobs", "extra"], ["bench", "new-due", "M1", "next week"]],
)
def test_wrong_use_ends_with_2_and_a_word_on_help(
    arguments: list[str], here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "--help says more" in said.err


def test_what_was_mistyped_is_never_sent_raw_to_the_terminal(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([f"x{NASTY}"]) == 2
    assert not [mark for mark in RAW if mark in capsys.readouterr().err]


def test_a_folder_of_sequences_that_is_not_there_is_wrong_use(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--sequences", "nowhere", "check"]) == 2
    assert "no such folder" in capsys.readouterr().err


def test_a_file_is_no_folder_for_records(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "note.txt").write_text("kept", encoding="utf-8")
    assert main(["--logs", "note.txt", "jobs"]) == 2
    assert "no records can lie in it" in capsys.readouterr().err
    assert main(["--logs", "note.txt/below", "bench", "add-person", "q1", "Somebody"]) == 3
    assert (here / "note.txt").read_text(encoding="utf-8") == "kept"


def test_folders_may_stand_before_or_after_the_command(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lamp_box_job(here)
    (here / "logs").rename(here / "kept")
    assert main(["--logs", "kept", "jobs"]) == 0
    before = capsys.readouterr().out
    assert main(["jobs", "--logs", "kept"]) == 0
    assert capsys.readouterr().out == before
    assert JOB in before


def test_listings_in_an_empty_folder_write_nothing(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["jobs", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"format": 1, "jobs": []}
    assert main(["bench", "show"]) == 0
    assert list(here.iterdir()) == []


def test_without_folders_the_demo_boards_are_checked(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check"]) == 0
    said = capsys.readouterr().out
    assert "OV-24P revision" in said
    assert "TH-12 revision" in said


@pytest.mark.parametrize("command", ["show", "plan", "blockers"])
@pytest.mark.parametrize("job", ["A31-0099", "nonsense", "../../etc"])
def test_a_job_that_is_not_there_is_one_sentence(
    command: str, job: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command, job]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert "'passcheck jobs' lists them" in said.err


def test_a_faulty_bench_file_stops_every_command_with_its_place(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "logs").mkdir()
    (here / "logs" / "bench.yaml").write_text("letter: AB\n", encoding="utf-8")
    assert main(["jobs"]) == 1
    assert "bench.yaml:1:9: the bench's letter is one of A to Z; 'AB' won't do" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("fault", "status"), [(BenchFailed("no room left"), 3), (OurBug("a rule broke"), 3), (KeyboardInterrupt(), 130)]
)
def test_a_failure_ends_with_its_own_status(
    fault: BaseException, status: int, here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: object) -> int:
        raise fault

    monkeypatch.setattr(entry, "_answer", failing)
    assert main(["jobs"]) == status


def test_a_fault_of_our_own_is_one_sentence_and_its_trace_goes_to_a_file(
    here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: object) -> int:
        raise ZeroDivisionError(NASTY)

    monkeypatch.setattr(entry, "_answer", failing)
    assert main(["jobs"]) == 3
    said = capsys.readouterr().err
    assert "Traceback" not in said
    assert "Please keep the job's journal" in said
    (trace,) = (here / "logs").glob("fault-*.txt")
    assert str(trace) in said
    assert "ZeroDivisionError" in trace.read_text(encoding="utf-8")


@pytest.mark.parametrize("command", [["verify"], ["check", "a.yaml"], ["schema"], ["judge"]])
def test_a_command_that_only_reads_leaves_no_trace_of_its_own_fault_in_the_records(
    command: list[str], here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: object) -> int:
        raise ZeroDivisionError(NASTY)

    (here / "passing").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(here / "passing"))
    monkeypatch.setattr(entry, "_answer", failing)
    assert main(command) == 3
    (trace,) = (here / "passing").iterdir()
    assert str(trace) in capsys.readouterr().err
    assert "ZeroDivisionError" in trace.read_text(encoding="utf-8")
    assert not (here / "logs").exists()


@pytest.mark.parametrize("command", ["jobs", "verify"])
def test_a_trace_that_can_be_written_nowhere_is_not_a_second_fault(
    command: str, here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: object) -> int:
        raise ZeroDivisionError(NASTY)

    def refuses(*_: object, **_how: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(entry, "_answer", failing)
    monkeypatch.setattr(Path, "write_text", refuses)
    monkeypatch.setattr(tempfile, "mkstemp", refuses)
    assert main([command]) == 3
    said = capsys.readouterr().err
    assert "what happened could not be written down" in said
    assert "Traceback" not in said
    assert not [mark for mark in RAW if mark in said]


def test_nothing_in_a_complaint_or_a_note_acts_on_the_terminal(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lamp_box_job(here, complaint=f"Dark {NASTY}\nsecond line", note=f"Seen {NASTY}" + "x" * 9_000)
    for command in (["jobs"], ["show", JOB], ["plan", JOB], ["blockers", JOB]):
        for form in ([], ["--json"]):
            assert main([*command, *form]) in (0, 1)
            said = capsys.readouterr()
            assert not [mark for mark in RAW if mark in said.out + said.err], command
    assert main(["show", JOB]) == 0
    assert "  second line\n" in capsys.readouterr().out


def test_programs_get_a_complaint_exactly_as_it_was_said(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lamp_box_job(here, complaint=NASTY)
    main(["show", JOB, "--json"])
    assert json.loads(capsys.readouterr().out)["show"][0]["complaint"] == NASTY


def test_the_shell_sees_the_status_and_no_trace(tmp_path: Path) -> None:
    lamp_box_job(tmp_path)
    assert passcheck("jobs", cwd=tmp_path).returncode == 0
    assert passcheck("blockers", JOB, cwd=tmp_path).returncode == 1
    wrong = passcheck("chek", cwd=tmp_path)
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "Traceback" not in wrong.stderr


def test_a_reader_that_has_seen_enough_ends_the_listing_without_a_word(tmp_path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "passcheck", "schema"],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
    ) as process:
        assert process.stdout is not None
        process.stdout.close()
        assert process.wait() == 0
        assert process.stderr is not None
        assert process.stderr.read() == b""


def test_a_terminal_that_knows_ascii_only_gets_every_listing(tmp_path: Path) -> None:
    lamp_box_job(tmp_path)
    told = subprocess.run(
        [sys.executable, "-m", "passcheck", "show", JOB],
        cwd=tmp_path,
        capture_output=True,
        check=False,
        env={"PYTHONPATH": str(ROOT), "PATH": "", "PYTHONIOENCODING": "ascii"},
    )
    assert told.returncode == 0
    assert b"3.2 \\u03a9" in told.stdout


@pytest.mark.parametrize("arguments", [["--version"], ["check", str(LAMP_BOX)], ["jobs"], ["bench", "show"]])
def test_commands_that_open_no_screen_never_load_the_screens(arguments: list[str], tmp_path: Path) -> None:
    program = (
        "import sys; from passcheck.cli.main import main; status = main(sys.argv[1:]);"
        "assert 'textual' not in sys.modules and 'passcheck.app.app' not in sys.modules; sys.exit(status)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *arguments],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
    )
    assert done.returncode == 0, done.stderr


def test_a_folder_that_is_gone_under_the_shell_is_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert main(["jobs"]) == 2
    told = capsys.readouterr().err
    assert "the folder that you stand in is gone" in told
    assert told.count("\n") == 1
