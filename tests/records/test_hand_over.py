import errno
import os
import re
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import a_fail, a_line, opening, sign_off, stamp
from note_commands import commands, differing, typed

from passcheck.errors import BenchFailed, FileFault
from passcheck.job.fixed_words import MORE_ASKED, bench_test
from passcheck.job.journal_line import Line
from passcheck.records.check_note import Handed, check_note
from passcheck.records.disk import Disk
from passcheck.records.evidence import Evidence, gather
from passcheck.records.hand_over import NOTE, files_of, hand_over
from passcheck.records.journal import Journal
from passcheck.records.line_codec import encode_line, new_digest
from passcheck.records.note_checks import SEQUENCE
from passcheck.records.note_text import MUST_BEGIN, MUST_PRINT
from passcheck.records.shop import LogFolder

JOB = "A31-0001"
TEXT = b"steps: []\n"
PAPERS = {SEQUENCE: TEXT, "attempts.csv": b"job\r\n", "job.json": b"{}\n"}
AT = "2031-04-02T10:00:00.000Z"
SEALED = (a_line(1), a_fail(2), a_line(3), a_fail(4), sign_off(5))
needs_ssh_keygen = pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="no ssh-keygen on this machine")


def first_line(job: str, position: tuple[int, str]) -> Line:
    line = opening(job, position)
    return replace(line, data={**line.data, "sequence_digest": sha256(TEXT).hexdigest()})


def records(folder: Path, lines: Sequence[Line] = SEALED) -> LogFolder:
    """A bench with one job before this one, and this one with these lines."""
    logs = LogFolder(folder, "A", stamp=stamp)
    job, journal = logs.new_job(first_line)
    for line in lines:
        journal.append([line], fail=line.event == "attempt judged", seal=line.event == "signed off")
    journal.close()
    _, other = logs.new_job(first_line)
    other.close()
    assert job == JOB
    return logs


def handed_of(evidence: Evidence, *, found: Sequence[str] = (), practice: bool = False) -> Handed:
    return Handed(evidence, files_of(evidence, PAPERS), found, "", practice, 2, "passcheck test", AT)


def folder_of(tmp_path: Path, lines: Sequence[Line] = SEALED) -> tuple[Path, str]:
    """The folder that was handed over, and its note."""
    evidence = gather(records(tmp_path / "logs", lines), JOB)
    folder = hand_over(handed_of(evidence), tmp_path / "out", tmp_path / "logs")
    return folder, (folder / NOTE).read_text(encoding="ascii")


def test_the_folder_bears_the_job_s_number_and_holds_the_records_byte_for_byte(tmp_path: Path) -> None:
    folder, _ = folder_of(tmp_path)
    assert folder == tmp_path / "out" / JOB
    assert sorted(path.name for path in folder.iterdir()) == sorted(
        [f"{JOB}.jsonl", "ledger.jsonl", SEQUENCE, "attempts.csv", "job.json", NOTE]
    )
    logs = tmp_path / "logs"
    assert (folder / f"{JOB}.jsonl").read_bytes() == (logs / "jobs" / "2031" / f"{JOB}.jsonl").read_bytes()
    assert (folder / "ledger.jsonl").read_bytes() == (logs / "ledger.jsonl").read_bytes()
    assert [path.name for path in (tmp_path / "out").iterdir()] == [JOB]


def test_every_command_of_the_note_prints_in_a_plain_shell_what_the_note_says(tmp_path: Path) -> None:
    folder, note = folder_of(tmp_path)
    told = commands(note)
    assert sum(one.how == MUST_PRINT for one in told) >= 15
    assert differing(note, folder) == ()
    seal = (folder / f"{JOB}.jsonl").read_bytes().splitlines()[5]
    shown = [typed(one.command, folder) for one in told if not one.how]
    assert seal.decode() in shown, "the line that seals the journal can be read"
    assert any('"verdict":"fail"' in line for line in shown)


def test_any_changed_byte_of_the_journal_makes_the_commands_differ_without_the_sums_of_whole_files(
    tmp_path: Path,
) -> None:
    folder, note = folder_of(tmp_path)
    journal = folder / f"{JOB}.jsonl"
    whole = journal.read_bytes()
    checks = "\n\n".join(note.split("\n\n")[note.split("\n\n").index("must print") + 2 :])
    assert "sha256sum A31" not in checks
    for at in (*range(0, len(whole), len(whole) // 9), len(whole) - 1):
        journal.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        assert differing(checks, folder), f"byte {at}"
    for shorter in (whole[:-1], whole[: whole.index(b"\n") + 1], whole + b"\n"):
        journal.write_bytes(shorter)
        assert differing(note, folder)
    journal.write_bytes(whole)
    assert differing(note, folder) == ()


def test_a_changed_ledger_or_sequence_makes_the_commands_differ(tmp_path: Path) -> None:
    folder, note = folder_of(tmp_path)
    for name in ("ledger.jsonl", SEQUENCE):
        path = folder / name
        whole = path.read_bytes()
        for at in range(0, len(whole), 1 + len(whole) // 5):
            path.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
            assert len(differing(note, folder)) >= 2, f"{name}, byte {at}"
        path.write_bytes(whole)


def test_the_note_is_ascii_and_says_what_the_record_is_and_what_it_does_not_show(tmp_path: Path) -> None:
    _, note = folder_of(tmp_path)
    words = " ".join(note.split())
    assert note.isascii()
    assert note.startswith(f"HOW TO CHECK THE RECORD OF JOB {JOB}\n")
    assert "STANDING: sealed. Its last line is 'signed off'" in words
    for limit in (
        "safe, certified or calibrated. Nothing here says so",
        "proves the order",
        "the key lies on that disk",
    ):
        assert limit in words
    assert "revision 2 of the sequence" in words
    assert max(len(line) for line in note.splitlines() if not line.startswith("  ")) <= 78


def test_an_open_job_is_said_to_be_open_and_what_its_ledger_does_not_cover(tmp_path: Path) -> None:
    folder, note = folder_of(tmp_path, (a_fail(1), a_line(2)))
    words = " ".join(note.split())
    assert "STANDING: OPEN" in words
    assert "nothing here would show it" in words
    assert differing(note, folder) == ()


def test_a_job_that_never_failed_is_said_so(tmp_path: Path) -> None:
    folder, note = folder_of(tmp_path, (a_line(1), sign_off(2)))
    assert "No line of this journal says that the unit failed" in " ".join(note.split())
    assert differing(note, folder) == ()


def test_a_torn_end_is_told_and_the_last_whole_line_is_checked(tmp_path: Path) -> None:
    logs = records(tmp_path / "logs", (a_line(1),))
    with logs.journal_path(JOB).open("ab") as journal:
        journal.write(b'{"#":2,"at\xff')
    folder = hand_over(handed_of(gather(logs, JOB)), tmp_path / "out", tmp_path / "logs")
    note = (folder / NOTE).read_text(encoding="ascii")
    assert "Its last 11 bytes are no whole line" in " ".join(note.split())
    assert differing(note, folder) == ()


def test_a_journal_that_lacks_its_last_line_feed_can_be_checked_too(tmp_path: Path) -> None:
    logs = records(tmp_path / "logs", (a_line(1),))
    path = logs.journal_path(JOB)
    path.write_bytes(path.read_bytes()[:-1])
    folder = hand_over(handed_of(gather(logs, JOB)), tmp_path / "out", tmp_path / "logs")
    assert differing((folder / NOTE).read_text(encoding="ascii"), folder) == ()


def altered(evidence: Evidence) -> Evidence:
    return replace(evidence, journal=evidence.journal.replace(b"note 1", b"note 9"))


def rewritten(evidence: Evidence, tmp_path: Path) -> Evidence:
    """The same job written anew without its fails, with hashes that hold."""
    return replace(evidence, journal=gather(records(tmp_path / "other", (a_line(1), sign_off(2))), JOB).journal)


@pytest.mark.parametrize("how", ["altered", "rewritten"])
def test_a_damaged_record_is_handed_over_as_such_and_never_said_to_match(how: str, tmp_path: Path) -> None:
    evidence = gather(records(tmp_path / "logs"), JOB)
    damaged = altered(evidence) if how == "altered" else rewritten(evidence, tmp_path)
    folder = hand_over(handed_of(damaged), tmp_path / "out", tmp_path / "logs")
    note = (folder / NOTE).read_text(encoding="ascii")
    assert note.startswith(f"DAMAGED: A31-0001.jsonl, line {2 if how == 'altered' else 3}: ")
    for claim in (MUST_PRINT, "sealed. Its", "What a match shows", "OPEN", "revision 2"):
        assert claim not in note
    assert (folder / f"{JOB}.jsonl").read_bytes() == damaged.journal
    assert differing(note, folder) == (), "what it says of the place is true"
    shown = [typed(one.command, folder) for one in commands(note) if not one.how]
    assert shown == ([damaged.journal.decode().splitlines()[1]] if how == "altered" else [])


@pytest.mark.parametrize(("lines", "when"), [(SEALED, "Sealed at"), (SEALED[:2], "Its last line is of")])
def test_the_note_ends_in_the_same_fixed_words_as_the_screen_behind_the_date_that_they_speak_of(
    lines: Sequence[Line], when: str, tmp_path: Path
) -> None:
    words = " ".join(folder_of(tmp_path, lines)[1].split())
    assert words.endswith(f"{when} {lines[-1].at}. {bench_test(2)} {MORE_ASKED}")


def test_a_seal_that_the_ledger_does_not_know_is_not_called_one(tmp_path: Path) -> None:
    evidence = gather(records(tmp_path / "logs"), JOB)
    lines = evidence.ledger.splitlines(keepends=True)
    assert b'"sealed"' in lines[4]
    note = " ".join(check_note(handed_of(replace(evidence, ledger=b"".join(lines[:4])))).split())
    assert "STANDING: OPEN. Its last line is 'signed off'" in note
    assert "the ledger doesn't know of that seal" in note
    assert "Sealed at" not in note


def test_what_the_bench_found_is_told_and_practice_is_never_taken_for_a_unit(tmp_path: Path) -> None:
    evidence = gather(records(tmp_path / "logs"), JOB)
    note = check_note(handed_of(evidence, found=("A31-0001.jsonl: something is behind",), practice=True))
    assert note.startswith("PRACTICE: ")
    assert "- A31-0001.jsonl: something is behind" in note


def test_a_ledger_that_is_gone_is_damage_to_a_job_that_stood_on_it(tmp_path: Path) -> None:
    evidence = replace(gather(records(tmp_path / "logs"), JOB), ledger=b"")
    assert check_note(handed_of(evidence)).startswith("DAMAGED: A31-0001.jsonl, line 1: the ledger no longer begins")


def test_a_job_that_no_ledger_names_is_said_to_rest_on_its_own_hashes_alone(tmp_path: Path) -> None:
    path = tmp_path / f"{JOB}.jsonl"
    Journal.create(path, [a_line(0, "job opened", job=JOB), a_line(1)], stamp=stamp).close()
    ledger = gather(records(tmp_path / "logs"), JOB).ledger.replace(JOB.encode(), b"A31-0007")
    for beside, words in ((b"", "There is no ledger"), (ledger, "DAMAGED")):
        evidence = Evidence(JOB, path.read_bytes(), beside)
        assert words in check_note(handed_of(evidence))
    folder = hand_over(handed_of(Evidence(JOB, path.read_bytes(), b"")), tmp_path / "out", tmp_path / "logs")
    note = (folder / NOTE).read_text(encoding="ascii")
    assert differing(note, folder) == ()
    assert "first 0 bytes" not in note


HOSTILE = "';touch owned;'\n    touch owned\n$(touch owned)`touch owned`\x1b]0;x\x07\u202eΩ"


def test_nothing_in_a_record_gets_into_a_command_or_acts_on_a_terminal(tmp_path: Path) -> None:
    lines = [
        replace(a_line(1), event=HOSTILE, by=HOSTILE),
        a_line(2, "attempt judged", step=HOSTILE, judgement={"verdict": "fail", "sentence": HOSTILE}),
        replace(sign_off(3), by=HOSTILE),
    ]
    logs = LogFolder(tmp_path / "logs", "A", stamp=stamp)
    job, journal = logs.new_job(lambda job, place: replace(first_line(job, place), by=HOSTILE))
    journal.append([lines[0]])
    last_is_hostile = gather(logs, job)
    journal.append([lines[1]], fail=True)
    journal.append([lines[2]], seal=True)
    journal.close()
    for evidence in (gather(logs, job), last_is_hostile, altered_by(HOSTILE, gather(logs, job))):
        note = check_note(replace(handed_of(evidence, found=(HOSTILE,)), without=HOSTILE, tool=HOSTILE))
        assert note.isascii()
        assert all(line.isprintable() for line in note.splitlines())
        for told in commands(note):
            assert "touch" not in told.command
            assert re.fullmatch(r"[\w .,:;<>|$()\"'=/*+-]*", told.command, re.ASCII), told.command


def altered_by(text: str, evidence: Evidence) -> Evidence:
    """A ledger, whole by its own hashes, that says something else of the job."""
    facts = {"bytes": 10, "digest": text, "job": JOB}
    data, running = b"", new_digest()
    for line in (a_line(0, "ledger begun", bench="A"), a_line(1, text, **facts), a_line(2, "sealed", **facts)):
        data += encode_line(line, running)
        running = new_digest()
        running.update(data)
    return replace(evidence, ledger=data)


@needs_ssh_keygen
@pytest.mark.parametrize("signers", [True, False])
def test_a_signature_is_checked_by_the_stock_tool_and_refused_over_other_bytes(tmp_path: Path, signers: bool) -> None:
    logs = records(tmp_path / "logs")
    key, journal = tmp_path / "key", logs.journal_path(JOB)
    made = ["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-C", "t7", "-f", str(key)]
    subprocess.run(made, check=True, capture_output=True)
    sign = ["ssh-keygen", "-q", "-Y", "sign", "-f", str(key), "-n", "passcheck-journal", str(journal)]
    subprocess.run(sign, check=True, capture_output=True)
    if signers:
        public = key.with_suffix(".pub").read_text(encoding="ascii")
        (tmp_path / "logs" / "allowed_signers").write_text(f't7 namespaces="passcheck-journal" {public}', "ascii")
    folder = hand_over(handed_of(gather(logs, JOB)), tmp_path / "out", tmp_path / "logs")
    note = (folder / NOTE).read_text(encoding="ascii")
    assert sum(one.how == MUST_BEGIN for one in commands(note)) == 1 + signers
    assert (folder / f"{JOB}.jsonl.sig").read_bytes() == journal.with_name(f"{JOB}.jsonl.sig").read_bytes()
    assert (folder / "allowed_signers").exists() == signers
    assert differing(note, folder) == ()
    (folder / f"{JOB}.jsonl").write_bytes(journal.read_bytes().replace(b"note 1", b"note 9"))
    assert sum("ssh-keygen" in command for command in differing(note, folder)) == 1 + signers


def test_a_folder_that_is_there_is_left_as_it_is(tmp_path: Path) -> None:
    folder, note = folder_of(tmp_path)
    (folder / NOTE).write_text("kept", encoding="ascii")
    handed = handed_of(gather(LogFolder(tmp_path / "logs", "A"), JOB))
    with pytest.raises(FileFault, match="is there already"):
        hand_over(handed, tmp_path / "out", tmp_path / "logs")
    assert (folder / NOTE).read_text(encoding="ascii") == "kept"
    assert note


@pytest.mark.parametrize("stands", ["file", "dead link", "empty folder"])
def test_whatever_stands_under_the_folder_s_name_is_left_there(stands: str, tmp_path: Path) -> None:
    handed, place = handed_of(gather(records(tmp_path / "logs"), JOB)), tmp_path / "out" / JOB
    place.parent.mkdir()
    if stands == "file":
        place.write_text("kept", encoding="ascii")
    elif stands == "dead link":
        place.symlink_to(tmp_path / "nowhere")
    else:
        place.mkdir()
    with pytest.raises(FileFault, match="is there already"):
        hand_over(handed, tmp_path / "out", tmp_path / "logs")
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.parametrize("to", ["logs", "logs/jobs/2031", "logs/new", "out/../logs", "link", "link/below"])
def test_nothing_is_written_among_the_records(to: str, tmp_path: Path) -> None:
    handed = handed_of(gather(records(tmp_path / "logs"), JOB))
    (tmp_path / "out").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "logs")
    before = sorted((tmp_path / "logs").rglob("*"))
    with pytest.raises(FileFault, match="among the records"):
        hand_over(handed, tmp_path / to, tmp_path / "logs")
    assert sorted((tmp_path / "logs").rglob("*")) == before


def test_a_disk_that_refuses_any_call_leaves_no_folder_that_looks_whole(tmp_path: Path) -> None:
    handed, disk = handed_of(gather(records(tmp_path / "logs"), JOB)), FailingDisk()
    hand_over(handed, tmp_path / "good", tmp_path / "logs", disk)
    calls = len(disk.calls)
    assert calls > 20
    for nth in range(calls):
        disk.fail_at(nth, error=errno.ENOSPC if nth % 2 else errno.EIO)
        with pytest.raises(BenchFailed) as refused:
            hand_over(handed, tmp_path / f"out{nth}", tmp_path / "logs", disk)
        left = list((tmp_path / f"out{nth}").glob("*"))
        if "it is whole" in str(refused.value):
            assert [path.name for path in left] == [JOB]
        else:
            assert left == []
            assert "Nothing was handed over" in str(refused.value)


class _Forgetful(Disk):
    """Takes everything and gives one byte back wrong."""

    def read_all(self, path: Path) -> bytes:
        data = super().read_all(path)
        return data[:-1] + bytes([data[-1] ^ 1]) if path.name == f"{JOB}.jsonl" else data


def test_a_copy_that_reads_back_otherwise_is_not_handed_over(tmp_path: Path) -> None:
    handed = handed_of(gather(records(tmp_path / "logs"), JOB))
    with pytest.raises(BenchFailed, match="other bytes than it was given"):
        hand_over(handed, tmp_path / "out", tmp_path / "logs", _Forgetful())
    assert list((tmp_path / "out").iterdir()) == []


def test_a_file_where_the_folder_should_be_made_is_a_sentence(tmp_path: Path) -> None:
    handed = handed_of(gather(records(tmp_path / "logs"), JOB))
    (tmp_path / "note.txt").write_text("kept", encoding="ascii")
    with pytest.raises(BenchFailed, match="Nothing was handed over"):
        hand_over(handed, tmp_path / "note.txt", tmp_path / "logs")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written_is_a_sentence(tmp_path: Path) -> None:
    handed = handed_of(gather(records(tmp_path / "logs"), JOB))
    (tmp_path / "out").mkdir(mode=0o500)
    with pytest.raises(BenchFailed, match="Nothing was handed over"):
        hand_over(handed, tmp_path / "out", tmp_path / "logs")
