"""Does a handed-over record show what a closed ledger means for it, with commands that hold in a plain shell?"""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from journal_lines import a_fail, a_line, opening, sign_off, stamp
from note_commands import commands, differing, typed

from passcheck.job.journal_line import Line
from passcheck.records.check_note import Handed
from passcheck.records.evidence import Evidence, gather
from passcheck.records.hand_over import NOTE, files_of, hand_over
from passcheck.records.note_text import MUST_PRINT
from passcheck.records.shop import LogFolder
from passcheck.records.verified import Standing, verify_job

BEFORE, FAILED, OPENED_ONLY, AFTER = (f"A31-{count:04d}" for count in range(1, 5))
MARKED = (FAILED, OPENED_ONLY)
WHY = "The disk was exchanged for Mrs Öztürk's unit\nand its copy came back damaged."
HOSTILE = "';touch owned;'\n    touch owned\n$(touch owned)`touch owned`\x1b]0;x\x07\u202eΩ"


def carried(logs: LogFolder, job: str, *lines: Callable[[int], Line]) -> None:
    """Take a job up and write these lines."""
    journal, so_far = logs.open_job(job)
    for number, line in enumerate((made(at) for at, made in enumerate(lines, len(so_far))), len(so_far)):
        assert line.number == number
        journal.append([line], fail=line.event == "attempt judged", seal=line.event == "signed off")
    journal.close()


def begun(logs: LogFolder, *lines: Callable[[int], Line]) -> str:
    job, journal = logs.new_job(opening)
    journal.close()
    carried(logs, job, *lines)
    return job


def damage(path: Path, line: int) -> None:
    """One digit of a line, counted from 1, becomes another."""
    lines = path.read_bytes().split(b"\n")
    lines[line - 1] = lines[line - 1].replace(b'"at":"2', b'"at":"3')
    path.write_bytes(b"\n".join(lines))


def closed_shop(folder: Path, because: str = WHY) -> LogFolder:
    """Four jobs, all sealed now; after the third was opened the ledger was damaged in the fail of the second.

    The ledger that was closed: begun, opened 1, sealed 1, opened 2, failed 2 (damaged), opened 3.
    """
    logs = LogFolder(folder, "A", stamp=stamp)
    begun(logs, a_line, sign_off)
    begun(logs, a_fail)
    begun(logs)
    damage(logs.ledger.path, 5)
    logs.close_ledger("ld", because)
    carried(logs, FAILED, a_line, a_fail, sign_off)
    carried(logs, OPENED_ONLY, a_line, sign_off)
    assert begun(logs, a_fail, sign_off) == AFTER
    return logs


@pytest.fixture
def logs(tmp_path: Path) -> LogFolder:
    return closed_shop(tmp_path / "logs")


def handed_over(logs: LogFolder, job: str, to: Path) -> tuple[Path, str]:
    """The folder and its note."""
    evidence = gather(logs, job)
    verified = verify_job(logs, job)
    found = (*verified.faults, *verified.remarks)
    handed = Handed(evidence, files_of(evidence, {}), found, "", False, 2, "passcheck test", "2031-04-02T10:00:00.000Z")
    folder = hand_over(handed, to, logs.root)
    return folder, (folder / NOTE).read_text(encoding="ascii")


def words(note: str) -> str:
    return " ".join(note.split())


@pytest.mark.parametrize("job", [BEFORE, *MARKED, AFTER])
def test_the_closed_ledger_goes_along_byte_for_byte_and_is_no_damage(logs: LogFolder, job: str, tmp_path: Path) -> None:
    folder, _ = handed_over(logs, job, tmp_path / "out")
    for name in ("ledger-1.jsonl", "ledger.jsonl"):
        assert (folder / name).read_bytes() == (logs.root / name).read_bytes()
    evidence = gather(logs, job)
    assert evidence.damage == ()
    assert evidence.marks == logs.concerned(job)
    assert bool(evidence.marks) == (job in MARKED)
    assert evidence.said == logs.ledger.entries(job)
    assert verify_job(logs, job).standing is Standing.SEALED


@pytest.mark.parametrize("job", [BEFORE, *MARKED, AFTER])
def test_every_command_of_the_note_prints_what_the_note_says(logs: LogFolder, job: str, tmp_path: Path) -> None:
    folder, note = handed_over(logs, job, tmp_path / "out")
    told = commands(note)
    assert differing(note, folder) == ()
    typed_in = [one.command for one in told]
    assert "sha256sum ledger-1.jsonl | cut -c 1-64" in typed_in
    assert any(command.startswith("head -n 1 ledger.jsonl | grep ") for command in typed_in)
    assert len(typed_in) - len(set(typed_in)) <= 2, "what was checked once isn't asked for again"
    shown = [typed(one.command, folder) for one in told if not one.how]
    assert (folder / "ledger.jsonl").read_bytes().splitlines()[0].decode("ascii", "replace")[:40] in "\n".join(shown)


@pytest.mark.parametrize("job", [BEFORE, *MARKED, AFTER])
def test_a_changed_byte_of_either_ledger_makes_the_commands_differ(logs: LogFolder, job: str, tmp_path: Path) -> None:
    folder, note = handed_over(logs, job, tmp_path / "out")
    checks = note[note.index("3. The ledger") :] if job not in MARKED else note.replace(_sums_of(note), "")
    assert differing(checks, folder) == ()
    for name in ("ledger-1.jsonl", "ledger.jsonl"):
        path = folder / name
        whole = path.read_bytes()
        for at in range(0, len(whole), len(whole) // 4):
            path.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
            assert differing(checks, folder), f"{name}, byte {at}"
        path.write_bytes(whole)


def _sums_of(note: str) -> str:
    """The part that lists the SHA-256 of whole files."""
    return note[note.index("What lies here") : note.index("1. The last line")]


def test_a_mark_stands_near_the_top_with_the_commands_that_check_what_it_rests_on(
    logs: LogFolder, tmp_path: Path
) -> None:
    _, note = handed_over(logs, FAILED, tmp_path / "out")
    (mark,) = logs.concerned(FAILED)
    said = words(note)
    shown = mark.replace("Ö", "\\xd6").replace("ü", "\\xfc")
    assert said.index(f"MARKED: {shown}") < 900
    assert said.count(shown) == 1, "and is said once"
    assert note.isascii()
    top = note[: note.index("What lies here")]
    assert next(one.command for one in commands(top)) == "sha256sum ledger-1.jsonl | cut -c 1-64"
    assert "A fail that was told there could be gone" in said


@pytest.mark.parametrize("job", [BEFORE, AFTER])
def test_a_job_without_a_mark_learns_of_the_closing_where_the_ledger_is_told_of(
    logs: LogFolder, job: str, tmp_path: Path
) -> None:
    _, note = handed_over(logs, job, tmp_path / "out")
    assert "MARKED" not in note
    assert commands(note[: note.index("What lies here")]) == ()
    assert "ledger-1.jsonl was found so: line 5: its hash does not match" in words(note[note.index("3. The ledger") :])


@pytest.mark.parametrize("job", [BEFORE, *MARKED, AFTER])
def test_what_the_ledgers_tell_of_other_jobs_and_of_persons_is_said(logs: LogFolder, job: str, tmp_path: Path) -> None:
    _, note = handed_over(logs, job, tmp_path / "out")
    assert (
        "no unit and no owner; but the first line of a ledger that goes on from a closed one tells who closed that and "
        "why, in the person's own words, and the damaged part of a closed one may hold anything."
    ) in words(note)


def test_lines_that_do_not_hold_are_not_counted_as_the_ledger_s_word(logs: LogFolder, tmp_path: Path) -> None:
    folder, note = handed_over(logs, FAILED, tmp_path / "out")
    closed = (folder / "ledger-1.jsonl").read_bytes()
    assert closed.count(f'"job":"{FAILED}"'.encode()) == 2
    counting = f'ledger-1.jsonl | grep -c \'"job":"{FAILED}"\''
    (count,) = [one for one in commands(note) if one.command.endswith(counting)]
    assert (count.how, count.printed) == (MUST_PRINT, "1")
    assert gather(logs, OPENED_ONLY).said[0].event == "concerned", "its opening stands behind the damage"


def test_several_closings_are_checked_one_by_one(logs: LogFolder, tmp_path: Path) -> None:
    last = begun(logs, a_line)
    damage(logs.ledger.path, len(logs.ledger.path.read_bytes().splitlines()))
    logs.close_ledger("t9", "It happened a second time.")
    carried(logs, last, sign_off)
    for job in (BEFORE, *MARKED, AFTER, last):
        folder, note = handed_over(logs, job, tmp_path / "out")
        assert differing(note, folder) == ()
        assert gather(logs, job).damage == ()
        for name in ("ledger-1.jsonl", "ledger-2.jsonl"):
            assert f"sha256sum {name} | cut -c 1-64" in [one.command for one in commands(note)]
    assert "MARKED" in note


def test_a_closed_ledger_that_was_lost_and_answered_for_is_said_to_be_gone(logs: LogFolder, tmp_path: Path) -> None:
    (logs.root / "ledger-1.jsonl").unlink()
    logs.close_ledger("t9", "The first closed ledger was lost, too.")
    for job in logs.job_ids():
        carried(logs, job) if job != BEFORE else None
        folder, note = handed_over(logs, job, tmp_path / "out")
        assert gather(logs, job).damage == ()
        assert differing(note, folder) == ()
        assert "ledger-1.jsonl was gone already when that was told in ledger.jsonl (by t9 on 2031" in words(note)
        assert not (folder / "ledger-1.jsonl").exists()


def gone(path: Path) -> None:
    path.unlink()


def altered(path: Path) -> None:
    damage(path, 2)


@pytest.mark.parametrize("spoil", [gone, altered])
@pytest.mark.parametrize("job", [BEFORE, FAILED, AFTER])
def test_a_closed_ledger_that_was_changed_since_is_damage_in_verify_s_words(
    spoil: Callable[[Path], None], job: str, logs: LogFolder, tmp_path: Path
) -> None:
    spoil(logs.root / "ledger-1.jsonl")
    evidence = gather(logs, job)
    assert evidence.damage[0] == logs.ledger.faults()[0]
    assert evidence.damage[0].startswith("ledger-1.jsonl: it ")
    folder, note = handed_over(logs, job, tmp_path / "out")
    assert note.startswith("DAMAGED: ledger-1.jsonl: it ")
    assert MUST_PRINT not in note
    assert differing(note, folder) == ()
    for one in (*evidence.damage, *verify_job(logs, job).faults):
        assert 1 <= words(note).count(words(one)) <= 2, "once in the list, and the first one at the top as well"


def test_a_ledger_that_was_damaged_again_is_damage_however_well_the_first_was_closed(logs: LogFolder) -> None:
    damage(logs.ledger.path, 3)
    evidence = gather(logs, AFTER)
    assert evidence.damage == (*logs.ledger.faults(), *verify_job(logs, AFTER).faults)


def test_a_job_that_was_opened_on_bytes_which_no_longer_hold_says_who_answered_for_that(tmp_path: Path) -> None:
    logs = LogFolder(tmp_path / "logs", "A", stamp=stamp)
    job = begun(logs, sign_off)
    damage(logs.ledger.path, 1)
    logs.close_ledger("ld", WHY)
    carried(logs, job)
    folder, note = handed_over(logs, job, tmp_path / "out")
    assert differing(note, folder) == ()
    assert "none here begins with those any more. Somebody answered for that by name" in words(note)


def test_no_statement_gets_into_a_command_or_acts_on_a_terminal(tmp_path: Path) -> None:
    logs = closed_shop(tmp_path / "logs", HOSTILE)
    for job in (BEFORE, *MARKED):
        _, note = handed_over(logs, job, tmp_path / "out")
        assert note.isascii()
        assert all(line.isprintable() for line in note.splitlines())
        assert not [one for one in commands(note) if "touch" in one.command]


def test_no_other_file_goes_along_whatever_a_first_line_names(logs: LogFolder) -> None:
    (logs.root / "ledger-2.jsonl").write_bytes(b"somebody's own")
    assert set(gather(logs, AFTER).closed) == {"ledger-1.jsonl"}


def test_the_bytes_alone_tell_it_wherever_they_lie(logs: LogFolder) -> None:
    """An evidence is what was read: nothing of it is looked up again in the folder."""
    there = gather(logs, FAILED)
    closed: Mapping[str, bytes] = dict(there.closed)
    again = Evidence(FAILED, there.journal, there.ledger, closed=closed)
    for path in (logs.ledger.path, logs.root / "ledger-1.jsonl", logs.journal_path(FAILED)):
        path.unlink()
    assert (again.damage, again.said, again.marks) == (there.damage, there.said, there.marks)
    assert "is gone" in Evidence(FAILED, there.journal, there.ledger).damage[0]
