"""Does `passcheck verify` say of each job how its records stand, end with the right status, and touch nothing?"""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from journal_lines import a_fail, a_line, opening, sign_off
from lamp_box import JOB, LAMP_BOX, lamp_box_job
from standings import ALTERED, MISSING, OPEN, SEALED, TORN, UNKNOWN, a_job, every_standing, logs_in, tree, written

from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.verify import UNSIGNED
from passcheck.job.journal_line import Line
from passcheck.records.disk import Disk
from passcheck.records.shop import LogFolder

NASTY = "\x1b]0;owned\x07[bold]x[/]\x1b[2J\u202eevil\u200b\x9b31m\x7f\nA31-0001  sealed"
RAW = [chr(code) for code in (*range(0x00, 0x0A), *range(0x0B, 0x20), *range(0x7F, 0xA0), 0x202E, 0x200B)]
TEXT = LAMP_BOX.read_text(encoding="utf-8")


class Desk:
    """A bench's folder, and whoever asks about it."""

    def __init__(self, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.boards = root / "boards"
        self.boards.mkdir()
        (self.boards / LAMP_BOX.name).write_text(TEXT, encoding="utf-8")
        self.logs = logs_in(root / "logs")
        self._capsys = capsys
        self.complaint = ""

    def ask(self, *arguments: str) -> tuple[int, list[str]]:
        """Exit status and the lines of the standard output; the standard error is `complaint`."""
        folders = ["--logs", str(self.logs.root), "--sequences", str(self.boards)]
        status = main([*folders, "verify", *arguments])
        said = self._capsys.readouterr()
        self.complaint = said.err
        return status, said.out.splitlines()


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    """A bench without a job, whose one board is the lamp box."""
    return Desk(tmp_path, capsys)


def on_the_lamp_box(text: str = TEXT) -> Callable[[str, tuple[int, str]], Line]:
    """The first line of a job that keeps this text."""

    def first(job: str, position: tuple[int, str]) -> Line:
        return a_line(0, "job opened", **{**opening(job, position).data, "sequence_text": text})

    return first


def test_a_line_a_job_its_sentences_below_it_and_the_ledger_last(desk: Desk) -> None:
    every_standing(desk.logs.root)
    before = tree(desk.logs.root)
    status, said = desk.ask()
    assert status == 13
    assert [line.split("  ")[0] for line in said if not line.startswith(" ")] == [
        SEALED, OPEN, TORN, ALTERED, MISSING, UNKNOWN,
        "6 jobs: 1 sealed, 1 open, 1 torn, 2 altered, 1 unknown to the ledger.",
        "ledger",
    ]  # fmt: skip
    assert said[0] == f"{SEALED}   sealed                 {_digest(desk.logs, SEALED)[:8]}"
    assert said[-1] == f"ledger     whole                  {desk.logs.ledger.head_code()}"
    under = said[said.index(next(line for line in said if line.startswith(TORN))) + 1]
    assert under.startswith(f"    {TORN}.jsonl, line 3: ")
    assert (tree(desk.logs.root), desk.complaint) == (before, "")


def _digest(logs: LogFolder, job: str) -> str:
    return logs.ledger.entries(job)[-1].digest


@pytest.mark.parametrize(
    ("jobs", "status"),
    [
        ((SEALED,), 0),
        ((OPEN,), 10),
        ((TORN,), 11),
        ((ALTERED,), 12),
        ((MISSING,), 12),
        ((UNKNOWN,), 13),
        ((SEALED, OPEN), 10),
        ((TORN, OPEN), 11),
        ((ALTERED, UNKNOWN, SEALED), 13),
        ((SEALED.lower(), SEALED), 0),
    ],
)
def test_the_status_is_that_of_the_worst_job_asked_for(desk: Desk, jobs: tuple[str, ...], status: int) -> None:
    every_standing(desk.logs.root)
    found, said = desk.ask(*jobs)
    assert found == status
    assert [line[:8] for line in said if line.startswith("A31")] == list(dict.fromkeys(job.upper() for job in jobs))
    assert not [line for line in said if "jobs:" in line]


@pytest.mark.parametrize(
    ("damage", "status", "word"),
    [
        (lambda data: data + b"{", 11, "torn"),
        (lambda data: data.replace(b'"bench":"A"', b'"bench":"B"'), 12, "altered"),
        (lambda data: data[1:], 12, "altered"),
    ],
)
def test_a_ledger_that_is_not_whole_counts_too(
    desk: Desk, damage: Callable[[bytes], bytes], status: int, word: str
) -> None:
    a_job(desk.logs, sign_off(1))
    path = desk.logs.ledger.path
    path.write_bytes(damage(path.read_bytes()))
    found, said = desk.ask()
    assert found >= status
    ledger = next(number for number, line in enumerate(said) if line.startswith("ledger"))
    assert said[ledger].split()[1] == word
    assert said[ledger + 1].startswith("    ledger.jsonl, line ")


def test_a_torn_ledger_alone_ends_with_11(desk: Desk) -> None:
    job, _ = a_job(desk.logs, sign_off(1))
    with desk.logs.ledger.path.open("ab") as ledger:
        ledger.write(b"{")
    assert desk.ask(job)[0] == 11


def test_a_job_that_is_not_there_is_wrong_use_and_nothing_else_is_answered(desk: Desk) -> None:
    every_standing(desk.logs.root)
    for wrong in ("A31-0099", "A31-417", "../A31-0001", "", f"A31{NASTY}"):
        assert desk.ask(SEALED, wrong) == (2, [])
        assert "there is no job" in desk.complaint
        assert not [mark for mark in RAW if mark in desk.complaint]
        assert desk.complaint.count("\n") == 1


def test_an_empty_folder_says_so_and_stays_empty(desk: Desk) -> None:
    assert desk.ask() == (0, ["No jobs yet.", "ledger     none yet"])
    assert not desk.logs.root.exists()
    assert json.loads("\n".join(desk.ask("--json")[1]))["ledger"]["standing"] == "none yet"


def test_what_lies_among_the_journals_is_told_when_all_is_asked_for(desk: Desk) -> None:
    job, path = a_job(desk.logs, sign_off(1))
    path.with_name("copy.jsonl").touch()
    status, said = desk.ask()
    assert status == 0
    assert "jobs/2031/copy.jsonl: it is no journal. Look at what it is, and move it away." in said
    assert not [line for line in desk.ask(job)[1] if "copy" in line]


def test_practice_is_looked_at_apart_and_says_so(desk: Desk) -> None:
    practice = logs_in(desk.logs.root, practice=True)

    def first(job: str, position: tuple[int, str]) -> Line:
        return a_line(0, "job opened", **{**opening(job, position).data, "practice": True})

    a_job(practice, sign_off(1), first=first)
    a_job(desk.logs)
    status, said = desk.ask("--practice")
    assert (status, said[0]) == (0, "PRACTICE: nothing here is evidence of a real unit.")
    assert said[1].split()[:2] == [SEALED, "sealed"]
    kept = json.loads("\n".join(desk.ask("--practice", "--json")[1]))
    assert (kept["practice"], kept["verify"][0]["standing"]) == (True, "sealed")


def test_a_disk_that_refuses_one_journal_hides_no_other(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    every_standing(desk.logs.root)
    honest = Disk.read_all

    def refuse(disk: Disk, path: Path) -> bytes:
        if path.name == f"{OPEN}.jsonl":
            raise PermissionError(13, "Permission denied")
        return honest(disk, path)

    monkeypatch.setattr(Disk, "read_all", refuse)
    status, said = desk.ask()
    assert status == 3
    assert f"{OPEN}.jsonl: it can't be used (Permission denied)" in desk.complaint
    assert [line[:8] for line in said if line.startswith("A31")] == [SEALED, TORN, ALTERED, MISSING, UNKNOWN]


def test_no_byte_of_a_hostile_journal_or_name_reaches_the_terminal_raw(desk: Desk) -> None:
    def nasty(_job: str, position: tuple[int, str]) -> Line:
        text = f"sequence: {json.dumps(NASTY)}\n"
        return a_line(0, "job opened", **{**opening(NASTY, position).data, "sequence_text": text})

    job, path = a_job(desk.logs, a_line(1, text=NASTY), a_fail(2), first=nasty)
    path.with_name(f"{NASTY}.jsonl".replace("/", "")).touch()
    ledger = desk.logs.ledger.file()
    assert ledger is not None
    strange = a_line(3, NASTY, job=job, bytes=7, digest=NASTY)
    desk.logs.ledger.path.write_bytes(written(*ledger.lines, strange))
    for arguments in ((), ("--json",), (job,)):
        status, said = desk.ask(*arguments)
        assert status == 12
        assert not [mark for mark in RAW if mark in "".join(said) + desk.complaint]
        assert not [line for line in said if line.startswith("A31-0001  sealed")]


@pytest.mark.parametrize(
    ("kept", "remark"),
    [
        (TEXT, None),
        (TEXT + "# a note\n", "LB-1 rev 2: today's file differs from the text that this job was walked by."),
        (TEXT.replace("revision: 2", "revision: 1"), "LB-1 rev 1: today's file is rev 2."),
        (TEXT.replace("sequence: LB-1", "sequence: LB-7"), "LB-7 rev 2: there is no file of this board today"),
        ("steps: []\n", "The sequence that the job keeps can't be read by this version"),
    ],
)
def test_the_sequence_that_a_job_keeps_is_held_against_todays_file(desk: Desk, kept: str, remark: str | None) -> None:
    for end in ((), (sign_off(1),)):
        job, _ = a_job(desk.logs, *end, first=on_the_lamp_box(kept))
        status, said = desk.ask(job)
        assert status == (0 if end else 10)
        told = [line.strip() for line in said[1:-1] if "not walked through the gate" not in line]
        assert told[len(told) - bool(end) :] == [UNSIGNED] * bool(end)
        assert [line.startswith(remark or "") for line in told if line != UNSIGNED] == [True] * (remark is not None)


def test_a_job_that_the_bench_itself_walked_needs_no_bench_yaml_to_be_looked_at(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, where = lamp_box_job(tmp_path)
    for path in where.logs.glob("bench.*"):
        path.unlink()
    before = tree(where.logs)
    assert verify_here(where) == 10
    said = capsys.readouterr().out.splitlines()
    assert said[0].split()[:2] == [JOB, "open"]
    assert (len(said), tree(where.logs)) == (3, before)


def verify_here(where: Folders) -> int:
    return main(["--logs", str(where.logs), "--sequences", str(where.sequences), "verify"])


def test_the_help_names_every_exit_status(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["verify", "--help"]) == 0
    said = capsys.readouterr().out
    for status in ("0  sealed", "10  open", "11  torn", "12  altered", "13  unknown to the ledger"):
        assert f"  {status}: " in said


def test_a_signature_is_told_and_one_that_does_not_hold_makes_the_journal_altered(desk: Desk, tmp_path: Path) -> None:
    job, path = a_job(desk.logs, a_fail(1), sign_off(2))
    signature = path.with_name(f"{path.name}.sig")
    assert desk.ask(job, "--json")[0] == 0
    signature.write_text("-----BEGIN SSH SIGNATURE-----\nAAAA\n-----END SSH SIGNATURE-----\n", encoding="ascii")
    status, said = desk.ask(job)
    assert status == 12
    assert any(f"{signature.name} does not hold" in line for line in said)


def test_a_list_of_signers_that_is_not_there_is_one_sentence(desk: Desk, tmp_path: Path) -> None:
    a_job(desk.logs, sign_off(1))
    assert desk.ask("--signers", str(tmp_path / "none"))[0] == 1
    assert "there is no such list of signers" in desk.complaint
