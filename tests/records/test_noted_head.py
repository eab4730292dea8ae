"""Does a ledger know every head that it ever had, and no other?"""

import hashlib
from pathlib import Path

import pytest
from journal_lines import a_fail, a_line, sign_off
from standings import a_job, logs_in

from passcheck.records.agreement import LedgerRead, line_at
from passcheck.records.journal_file import examine
from passcheck.records.noted_head import Asked, NotedHead, ask_ledgers, read_noted_head
from passcheck.records.shop import LogFolder


@pytest.fixture
def logs(tmp_path: Path) -> LogFolder:
    """A bench A in 2031."""
    return logs_in(tmp_path / "logs")


def noted(logs: LogFolder) -> tuple[int, str]:
    """What a paper bears, read by somebody who has just come."""
    return logs_in(logs.root).ledger.position()


def ask_ledger(data: bytes, head: NotedHead) -> Asked:
    """Ask a bench that never closed a ledger."""
    return ask_ledgers((LedgerRead("ledger.jsonl", examine(data), data),), head)


def test_every_head_that_a_ledger_had_is_found_again_by_its_eight_digits_and_by_all(logs: LogFolder) -> None:
    heads = [noted(logs)]
    for lines in ((a_line(1),), (a_fail(1), sign_off(2)), (a_fail(1), a_fail(2))):
        a_job(logs, *lines)
        heads.append(noted(logs))
    data = logs.ledger.read_bytes()
    for size, digest in heads:
        for head in (NotedHead(digest[:8]), NotedHead(digest), NotedHead(digest[:8], size), NotedHead(digest, size)):
            asked = ask_ledger(data, head)
            assert asked.size == size
            where = f"up to line {line_at(data, size)}." if size else "none, as before the first job."
            assert asked.sentence == f"It holds the noted head {head}: its first {size} bytes, {where}"


def test_a_ledger_that_was_cut_or_written_anew_does_not_hold_what_was_noted(logs: LogFolder) -> None:
    a_job(logs, a_fail(1), sign_off(2))
    before = logs.ledger.read_bytes()
    a_job(logs, a_fail(1))
    size, digest = noted(logs)
    for data in (before, logs.ledger.read_bytes().replace(b"A31-0002", b"A31-0003"), b""):
        for head in (NotedHead(digest[:8]), NotedHead(digest[:8], size)):
            asked = ask_ledger(data, head)
            assert asked.size is None
            assert asked.sentence.startswith(f"It does not hold the noted head {head}: ")
    assert f"it has only {len(before)} bytes." in ask_ledger(before, NotedHead(digest[:8], size)).sentence


def test_the_digits_have_to_be_those_of_the_bytes_that_were_noted_with_them(logs: LogFolder) -> None:
    a_job(logs, a_fail(1))
    size, digest = noted(logs)
    assert ask_ledger(logs.ledger.read_bytes(), NotedHead(digest, size - 1)).size is None
    wrong = "0" if digest[-1] != "0" else "1"
    assert ask_ledger(logs.ledger.read_bytes(), NotedHead(digest[:-1] + wrong)).size is None


def test_a_head_noted_while_the_last_line_lacked_its_line_feed_is_found_after_it_was_mended(logs: LogFolder) -> None:
    a_job(logs)
    path = logs.ledger.path
    path.write_bytes(path.read_bytes()[:-1])
    size, digest = noted(logs)
    a_job(logs)
    data = logs.ledger.read_bytes()
    assert data[size : size + 1] == b"\n"
    assert hashlib.sha256(data[:size]).hexdigest() == digest
    assert ask_ledger(data, NotedHead(digest[:8])).size == size


def closed(logs: LogFolder, line: int = -1) -> None:
    """Damage a line of the ledger, the last one where no other is named, and close it."""
    lines = logs.ledger.path.read_bytes().splitlines(keepends=True)
    lines[line] = lines[line].replace(b'"at":"2', b'"at":"3')
    logs.ledger.path.write_bytes(b"".join(lines))
    logs_in(logs.root).close_ledger("k9", "The disk was exchanged.")


def test_a_head_noted_before_a_ledger_was_closed_is_found_in_the_closed_one(logs: LogFolder) -> None:
    heads = []
    for _ in range(2):
        a_job(logs_in(logs.root), a_fail(1), sign_off(2))
        heads.append(noted(logs))
        a_job(logs_in(logs.root))
        closed(logs_in(logs.root))
    now = logs_in(logs.root)
    assert [one.name for one in now.ledger.read()] == ["ledger-1.jsonl", "ledger-2.jsonl", "ledger.jsonl"]
    for number, (size, digest) in enumerate(heads, 1):
        for head in (NotedHead(digest[:8]), NotedHead(digest, size)):
            asked = ask_ledgers(now.ledger.read(), head)
            assert asked.size == size
            where = f"the first {size} bytes of ledger-{number}.jsonl, up to line "
            assert asked.sentence.startswith(
                f"The ledger that was closed before it holds the noted head {head}: {where}"
            )


def test_a_head_that_covers_the_damage_is_held_by_none_and_that_is_said_with_the_ledger_s_name(
    logs: LogFolder,
) -> None:
    a_job(logs, a_fail(1), sign_off(2))
    size, digest = noted(logs)
    closed(logs, 2)
    asked = ask_ledgers(logs_in(logs.root).ledger.read(), NotedHead(digest[:8], size))
    assert asked.size is None
    assert asked.sentence.startswith(f"Neither it nor ledger-1.jsonl holds the noted head {size}:{digest[:8]}: ")
    assert "or what was noted is what was damaged in ledger-1.jsonl." in asked.sentence
    longer = ask_ledgers(logs_in(logs.root).ledger.read(), NotedHead(digest[:8], 10**6))
    assert f"none has more than {size} bytes." in longer.sentence


def test_before_the_first_job_nothing_is_held_but_nothing() -> None:
    none = hashlib.sha256().hexdigest()
    assert ask_ledgers((), NotedHead(none[:8], 0)).size == 0
    assert ask_ledgers((), NotedHead(none[:8])).size == 0
    assert ask_ledgers((), NotedHead("0" * 8)).size is None


@pytest.mark.parametrize(
    ("text", "head"),
    [
        ("5f3a9c01", NotedHead("5f3a9c01")),
        (" 5F3A9C01\n", NotedHead("5f3a9c01")),
        ("2381:5f3a9c01", NotedHead("5f3a9c01", 2381)),
        (f"0:{'ab' * 32}", NotedHead("ab" * 32, 0)),
    ],
)
def test_a_head_is_read_as_papers_bear_it(text: str, head: NotedHead) -> None:
    assert read_noted_head(text) == head


@pytest.mark.parametrize(
    "text", ["", "5f3a9c0", "5f3a9c0g", "2381", "-1:5f3a9c01", "2,381:5f3a9c01", ":5f3a9c01", "ab" * 33, "٣:5f3a9c01"]
)
def test_any_other_text_is_none(text: str) -> None:
    with pytest.raises(ValueError, match="8 to 64 hexadecimal digits"):
        read_noted_head(text)
