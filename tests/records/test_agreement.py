import hashlib

from hypothesis import given
from hypothesis import strategies as st
from journal_lines import a_fail, a_line, opening, sign_off

from passcheck.job.journal_line import Line
from passcheck.records.agreement import (
    Entry,
    LedgerRead,
    LedgerSeen,
    Prefixes,
    contradictions,
    due,
    entries,
    prefix_digests,
    stands_on,
)
from passcheck.records.journal_file import examine
from passcheck.records.line_codec import encode_line, new_digest

JOB = "A31-0001"


def written(*lines: Line) -> bytes:
    running, data = new_digest(), b""
    for line in lines:
        encoded = encode_line(line, running)
        running.update(encoded)
        data += encoded
    return data


@given(st.binary(max_size=200), st.lists(st.integers(0, 220), max_size=6))
def test_each_digest_is_that_of_so_many_first_bytes(data: bytes, sizes: list[int]) -> None:
    expected = {size: hashlib.sha256(data[:size]).hexdigest() for size in sizes if size <= len(data)}
    assert prefix_digests(data, sizes) == expected


def test_what_the_ledger_is_told_is_what_it_was_due() -> None:
    data = written(opening(), a_fail(1), a_line(2), a_fail(3), sign_off(4))
    file = examine(data)
    missing = due(JOB, file, data, ())
    assert [(entry.event, entry.bytes) for entry in missing] == [
        ("job opened", file.ends[0]),
        ("failed", file.ends[1]),
        ("failed", file.ends[3]),
        ("sealed", file.ends[4]),
    ]
    assert due(JOB, file, data, missing) == ()
    assert contradictions("j", file, data, missing) == ()
    lines = [a_line(number, entry.event, **entry.facts(late=True)) for number, entry in enumerate(missing)]
    assert entries(lines) == missing


def test_one_entry_covers_every_fail_before_it() -> None:
    data = written(opening(), a_fail(1), a_fail(2), a_line(3))
    file = examine(data)
    whole = Entry("failed", JOB, len(data), file.digest)
    opened = due(JOB, file, data, ())[0]
    assert due(JOB, file, data, (opened, whole)) == ()


def test_an_entry_that_names_more_bytes_than_there_are_is_a_sentence() -> None:
    data = written(opening())
    found = contradictions("A31-0001.jsonl", examine(data), data, (Entry("failed", JOB, 9999, "ab"),))
    assert found[0].startswith(
        f"A31-0001.jsonl, line 1: the ledger's 'failed' names its first 9999 bytes, and it ends here with {len(data)}."
    )


def test_a_job_stands_on_the_ledger_only_while_that_still_begins_the_same() -> None:
    ledger = b"begun\nopened\n"
    first = opening(JOB, (6, hashlib.sha256(b"begun\n").hexdigest()))
    assert stands_on(first, Prefixes(ledger))
    assert not stands_on(first, Prefixes(b"Begun\nopened\n"))
    assert not stands_on(first, Prefixes(b"beg"))


def test_a_journal_that_claims_no_place_stands_on_no_ledger_as_well_as_on_any() -> None:
    placed, sample = opening(JOB, (6, hashlib.sha256(b"begun\n").hexdigest())), a_line(0, "job opened", job=JOB)
    begun = LedgerRead("ledger.jsonl", examine(b"begun\n"), b"begun\n")
    for ledgers in ((), (begun,)):
        seen = LedgerSeen(ledgers)
        assert seen.carries(JOB, sample)
        assert seen.carries(JOB, placed) == bool(ledgers)


@given(st.binary(max_size=200), st.lists(st.integers(-3, 220), max_size=6))
def test_prefixes_give_the_same_whatever_the_order_they_are_asked_in(data: bytes, sizes: list[int]) -> None:
    prefixes = Prefixes(data)
    for size in sizes:
        expected = hashlib.sha256(data[:size]).hexdigest() if 0 <= size <= len(data) else None
        assert prefixes.digest(size) == expected
