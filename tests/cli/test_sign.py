"""Is a sealed journal signed with the technician's own key, nothing else touched, and every refusal one sentence?"""

import getpass
import hashlib
import os
import sys
import warnings
from pathlib import Path

import pytest
from journal_lines import a_fail, a_line, opening, sign_off, stamp
from ssh_keys import key_pair, ssh_keygen, stock_accepts, stock_made, stock_signs, with_stock
from terminal import Terminal

from passcheck.cli.main import main
from passcheck.job.journal_line import Line
from passcheck.records.shop import LogFolder

JOB, OPEN_JOB = "A31-0001", "A31-0002"
WORD = "brown lamp holder"


def kept_jobs(logs: Path, *, practice: bool = False) -> LogFolder:
    """A sealed job and an open one, as the bench keeps them."""
    folder = LogFolder(logs, "A", stamp=stamp, practice=practice)

    def first(job: str, position: tuple[int, str]) -> Line:
        return a_line(0, "job opened", **{**opening(job, position).data, "practice": practice})

    for lines in ((a_fail(1), sign_off(2)), (a_fail(1),)):
        _, journal = folder.new_job(first)
        for line in lines:
            journal.append([line], fail=line.event == "attempt judged", seal=line.event == "signed off")
        journal.close()
    return folder


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder one stands in: two jobs in its logs, nobody's key at hand."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    for name in ("PASSCHECK_LOGS", "PASSCHECK_SEQUENCES", "PASSCHECK_KEY"):
        monkeypatch.delenv(name, raising=False)
    kept_jobs(tmp_path / "logs")
    return tmp_path


def files(folder: Path) -> dict[Path, str]:
    """Every file below a folder and the digest of its bytes."""
    found = (path for path in folder.rglob("*") if path.is_file())
    return {path: hashlib.sha256(path.read_bytes()).hexdigest() for path in found}


def journal(here: Path, job: str = JOB) -> Path:
    return here / "logs" / "jobs" / "2031" / f"{job}.jsonl"


def signature(here: Path) -> Path:
    return journal(here).with_name(f"{JOB}.jsonl.sig")


def enter(here: Path, *lines: str) -> Path:
    path = here / "logs" / "allowed_signers"
    path.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    return path


def typed(monkeypatch: pytest.MonkeyPatch, word: str) -> list[str]:
    """What is typed when the passphrase is asked; gives the prompts."""
    prompts: list[str] = []

    def ask(prompt: str) -> str:
        prompts.append(prompt)
        return word

    monkeypatch.setattr(getpass, "getpass", ask)
    return prompts


@with_stock
def test_a_sealed_journal_is_signed_and_the_command_that_was_printed_checks_it(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = key_pair(here)
    signers = enter(here, f"t1 {key.public}")
    before = files(here)
    assert main(["sign", JOB.lower(), "--key", str(key.path)]) == 0
    after = files(here)
    assert after.keys() - before.keys() == {signature(here)}
    assert {path: after[path] for path in before} == before
    said = capsys.readouterr().out.splitlines()
    assert ssh_keygen("-l", "-f", f"{key.path}.pub").stdout.decode().split()[1] in said[0]
    assert said[1] == f"The key is t1's by {signers}."
    assert said[3].strip() == (
        f"ssh-keygen -Y verify -f {signers} -I t1 -n passcheck-journal -s {signature(here)} < {journal(here)}"
    )
    folder = LogFolder(here / "logs", "A", stamp=stamp)
    assert (folder.job_ids(), folder.intact(JOB)) == ((JOB, OPEN_JOB), ())
    assert stock_accepts(journal(here), signers, "t1")
    journal(here).write_bytes(journal(here).read_bytes() + b" ")
    assert not stock_accepts(journal(here), signers, "t1")


@with_stock
def test_the_file_is_the_one_that_stock_ssh_keygen_would_have_written(here: Path) -> None:
    key = stock_made(here, "id_stock")
    assert main(["sign", JOB, "--key", str(key.path)]) == 0
    assert signature(here).read_bytes() == stock_signs(key, journal(here))


@pytest.mark.parametrize("where", ["option", "environment", "home"])
def test_the_key_is_the_option_s_else_the_environment_s_else_the_usual_one(
    where: str, here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "home" / ".ssh").mkdir(parents=True)
    pairs = {
        "option": key_pair(here, "option"),
        "environment": key_pair(here, "environment"),
        "home": key_pair(here / "home" / ".ssh"),
    }
    enter(here, *(f"{name} {pair.public}" for name, pair in pairs.items()))
    if where != "home":
        monkeypatch.setenv("PASSCHECK_KEY", str(pairs["environment"].path))
    assert main(["sign", JOB, *(["--key", str(pairs["option"].path)] if where == "option" else [])]) == 0
    assert f"The key is {where}'s by" in capsys.readouterr().out


def test_a_key_in_nobody_s_name_signs_and_is_said_to_be_nobody_s(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = key_pair(here)
    enter(here, "t2 colour=red")
    assert main(["sign", JOB, "--key", str(key.path)]) == 0
    said = capsys.readouterr()
    assert "The key is in nobody's name: enter it in " in said.out
    assert "-I PERSON" in said.out
    assert "allowed_signers, line 1: " in said.err


def test_a_person_whom_the_list_does_not_let_sign_learns_it_at_once(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = key_pair(here)
    enter(here, f't1 valid-before="20300101Z" {key.public}')
    assert main(["sign", JOB, "--key", str(key.path)]) == 0
    assert "might not sign when the journal was sealed: this key signed until 2030-01-01" in capsys.readouterr().out


def refused(here: Path, capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 1) -> str:
    """The one sentence with which nothing was signed and nothing changed."""
    before = files(here)
    assert main(["sign", *arguments]) == status
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert files(here) == before
    return said.err


def test_an_open_job_is_not_signed(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key = key_pair(here)
    assert "A31-0002 is not sealed" in refused(here, capsys, OPEN_JOB, "--key", str(key.path))
    assert "There is no job A31-0099" in refused(here, capsys, "A31-0099", "--key", str(key.path))
    assert "not a job number" in refused(here, capsys, "../../etc", "--key", str(key.path))


def test_an_altered_journal_or_ledger_is_not_signed(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key, path = key_pair(here), journal(here)
    whole = path.read_bytes()
    path.write_bytes(whole.replace(b"0.142", b"0.042"))
    assert "A31-0001.jsonl, line 2: " in refused(here, capsys, JOB, "--key", str(key.path))
    path.write_bytes(whole[: whole.rindex(b"\n", 0, -1) + 1])
    assert "its seal is gone" in refused(here, capsys, JOB, "--key", str(key.path))
    path.write_bytes(whole)
    ledger = here / "logs" / "ledger.jsonl"
    ledger.write_bytes(ledger.read_bytes().replace(b"failed", b"passed", 1))
    assert "ledger.jsonl, line 3: " in refused(here, capsys, JOB, "--key", str(key.path))


def test_a_journal_that_is_gone_is_not_signed(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key = key_pair(here)
    journal(here).unlink()
    said = refused(here, capsys, JOB, "--key", str(key.path))
    assert "ledger.jsonl, line 2: it names A31-0001, and the journal A31-0001.jsonl is missing" in said


def test_a_seal_that_the_ledger_was_not_told_of_is_not_signed_and_the_sentence_is_verify_s(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key, ledger = key_pair(here), here / "logs" / "ledger.jsonl"
    lines = ledger.read_bytes().splitlines(keepends=True)
    ledger.write_bytes(b"".join(lines[:3]))
    said = refused(here, capsys, JOB, "--key", str(key.path))
    assert said.count("the ledger doesn't know of 'sealed' yet; open the job and it is told.") == 1
    main(["verify", JOB])
    assert said.removeprefix(f"{JOB} is not signed. ").strip() in capsys.readouterr().out


def test_each_fault_of_the_records_is_said_once(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key, ledger = key_pair(here), here / "logs" / "ledger.jsonl"
    ledger.write_bytes(ledger.read_bytes().replace(b'"bench":"A"', b'"bench":"B"'))
    said = refused(here, capsys, JOB, "--key", str(key.path))
    for part in ("ledger.jsonl, line 1: ", "no longer begins as it did"):
        assert said.count(part) == 1


def test_a_job_whose_ledger_was_closed_is_signed_and_its_mark_is_said_before(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key, ledger = key_pair(here), here / "logs" / "ledger.jsonl"
    ledger.write_bytes(ledger.read_bytes().replace(b"failed", b"passed", 1))
    folder = LogFolder(here / "logs", "A", stamp=stamp)
    folder.close_ledger("l1", "The disk was exchanged and its copy was damaged.")
    for job in (JOB, OPEN_JOB):
        writer, lines = folder.open_job(job)
        if job == OPEN_JOB:
            writer.append([sign_off(len(lines))], seal=True)
        writer.close()
        (mark,) = folder.concerned(job)
        assert main(["sign", job, "--key", str(key.path)]) == 0
        said = capsys.readouterr()
        assert (said.out.splitlines()[0], said.err) == (mark, "")
        assert said.out.count(mark) == 1


def test_a_second_signature_is_refused_and_the_first_one_s_key_is_named(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one, two = key_pair(here, "one"), key_pair(here, "two")
    enter(here, f"t1 {one.public}")
    assert main(["sign", JOB, "--key", str(one.path)]) == 0
    fingerprint = capsys.readouterr().out.splitlines()[0].split()[-1]
    said = refused(here, capsys, JOB, "--key", str(two.path))
    assert f"signed by t1 with the key {fingerprint}" in said
    signature(here).write_bytes(b"no signature")
    assert "does not hold" in refused(here, capsys, JOB, "--key", str(two.path))


def test_what_is_no_private_key_is_refused_with_what_to_do(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key = key_pair(here)
    (here / "text").write_text("hello", encoding="utf-8")
    (here / "large").write_bytes(key.path.read_bytes() + bytes(70_000))
    os.mkfifo(here / "pipe")
    for name, why in (
        ("id_ed25519.pub", "public half of a key. Name the private one"),
        ("nowhere", "there is no key. Name yours with --key FILE or PASSCHECK_KEY; 'ssh-keygen -t ed25519' makes one"),
        ("logs", "there is no key"),
        ("pipe", "there is no key"),
        ("text", "not a private key in OpenSSH's form"),
        ("large", "not a private key in OpenSSH's form"),
    ):
        assert why in refused(here, capsys, JOB, "--key", name)
    assert "home/.ssh/id_ed25519: there is no key" in refused(here, capsys, JOB)


@with_stock
def test_a_key_of_another_kind_is_refused_by_its_kind(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key = stock_made(here, "id_ecdsa", kind="ecdsa")
    said = refused(here, capsys, JOB, "--key", str(key.path))
    assert "'ecdsa-sha2-nistp256', and passcheck handles ssh-ed25519 alone. 'ssh-keygen -t ed25519' makes one" in said


def test_a_key_that_others_may_read_is_refused(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key = key_pair(here)
    key.path.chmod(0o640)
    assert "'chmod 600' shuts it" in refused(here, capsys, JOB, "--key", str(key.path))


def test_a_passphrase_is_asked_and_a_wrong_one_is_one_sentence(
    here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    key = key_pair(here, "id_shut", WORD)
    for wrong in ("lamp", ""):
        prompts = typed(monkeypatch, wrong)
        assert "that passphrase does not open it" in refused(here, capsys, JOB, "--key", str(key.path))
    assert prompts == [f"Passphrase of {key.path}: "]
    typed(monkeypatch, WORD)
    assert main(["sign", JOB, "--key", str(key.path)]) == 0


def test_no_terminal_no_passphrase(
    here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    key = key_pair(here, "id_shut", WORD)

    def echoing(_prompt: str) -> str:
        warnings.warn("Can not control echo on the terminal.", getpass.GetPassWarning, stacklevel=2)
        return WORD

    monkeypatch.setattr(getpass, "getpass", echoing)
    assert "asked on a terminal" in refused(here, capsys, JOB, "--key", str(key.path), status=3)


def test_the_passphrase_is_typed_on_the_terminal_and_never_shown(here: Path) -> None:
    key = key_pair(here, "id_shut", WORD)
    (here / "sequences").mkdir()
    enter(here, f"t1 {key.public}")
    terminal = Terminal(here / "logs", here / "sequences", command=["sign", JOB, "--key", str(key.path)])
    try:
        terminal.wait_for("Passphrase of ")
        terminal.type(WORD, "enter")
        terminal.wait_for("The key is t1's by ")
        assert terminal.ended() == 0
        assert b"Passphrase of " in terminal.raw
        assert WORD.encode() not in terminal.raw
    finally:
        terminal.close()
    assert signature(here).exists()


@pytest.mark.parametrize("package", ["cryptography", "bcrypt"])
def test_without_the_extra_nothing_is_asked_and_both_remedies_are_named(
    package: str, here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    key = key_pair(here, "id_shut", WORD)
    prompts = typed(monkeypatch, WORD)
    for name in [name for name in [*sys.modules, package] if name.partition(".")[0] == package]:
        monkeypatch.setitem(sys.modules, name, None)
    said = refused(here, capsys, JOB, "--key", str(key.path), status=3)
    assert f"{package} is not installed here: pip install 'passcheck[sign]' brings it." in said
    assert f"ssh-keygen -Y sign -f {key.path} -n passcheck-journal {journal(here)}" in said
    assert prompts == []


def test_a_job_of_practice_is_signed_in_its_own_folder_and_says_so(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = key_pair(here)
    folder = kept_jobs(here / "logs", practice=True)
    assert main(["sign", JOB, "--practice", "--key", str(key.path)]) == 0
    assert "PRACTICE" in capsys.readouterr().out
    assert folder.journal_path(JOB).with_name(f"{JOB}.jsonl.sig").exists()
    assert not signature(here).exists()


def test_no_name_in_the_list_acts_on_the_terminal(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    key = key_pair(here)
    enter(here, f"t1\u202e\x9b31m {key.public}", "t2 \x1b]0;x\x07")
    assert main(["sign", JOB, "--key", str(key.path)]) == 0
    said = capsys.readouterr()
    assert not {"\x1b", "\x07", "\x9b", "\u202e"} & set(said.out + said.err)
    assert "t1<202E><009B>31m's by" in said.out


def test_a_folder_that_takes_no_file_is_one_sentence_and_nothing_stays(
    here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    key = key_pair(here)

    def full(_self: object, _handle: int, _data: bytes) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("passcheck.records.disk.Disk.write", full)
    assert "Make room on the disk" in refused(here, capsys, JOB, "--key", str(key.path), status=3)
