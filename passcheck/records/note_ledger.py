"""What does the ledger say of a job, and how does an outsider check that?"""

from collections.abc import Iterator, Sequence

from passcheck.job.ending import is_failure
from passcheck.job.journal_line import Line
from passcheck.records.agreement import FAILED, OPENED, SEALED, Entry, LedgerRead, Prefixes, entries, stands_on
from passcheck.records.closed_ledger import CONCERNED
from passcheck.records.evidence import Evidence, is_digest, place_of
from passcheck.records.journal_file import State
from passcheck.records.ledger import LEDGER
from passcheck.records.note_closed import closed_ledgers
from passcheck.records.note_text import ascii_line, lines_with, run, say, title

ENTRIES_LISTED = 40


def ledger_checks(evidence: Evidence) -> Iterator[str]:
    """The section, line by line."""
    yield from title("3. The ledger")
    file = evidence.ledger_file
    yield ""
    if file is None or not file.lines:
        yield from say("There is no ledger beside this journal: nothing but its own hashes speaks for it.")
        return
    yield from say(
        "A whole journal could be written anew with new hashes. Against that the bench keeps one ledger over all its "
        "journals, a chain of the same kind. A line of it about a job says how many bytes the journal had, and their "
        f"SHA-256, when the job was opened, at every fail and at the seal. {_of_others(evidence)}"
    )
    if not evidence.marks:  # else it stands at the top
        yield from closed_ledgers(evidence)
    if evidence.said:
        yield from _entries(evidence)
    else:
        yield ""
        yield from say(f"It has no line about job {evidence.job}: nothing but the journal's own hashes speaks for it.")
    yield from _opened_on(evidence)
    last = place_of(evidence.ledger, file.ends[-1])
    yield from say(f"The ledger's own last whole line covers its first {last.covered} bytes:")
    yield from run(f"head -c {last.covered} {LEDGER} | sha256sum | cut -c 1-64", last.hash)
    yield "and says so:"
    yield from run(f"head -c {last.end} {LEDGER} | tail -c {last.hash_from_end} | head -c 64; echo", last.hash)
    yield from say(
        f"Keep the first eight digits of the ledger's SHA-256, {file.digest[:8]}, with their number of bytes, "
        f"{file.size}, in a place that the bench can't reach. A ledger that is shown to you later has to begin with "
        "those very bytes, or it was written anew."
    )


def _of_others(evidence: Evidence) -> str:
    """What whoever hands the ledger on gives away with it."""
    told = "Of other jobs it tells number, time, size and digest, no unit and no owner"
    if not evidence.chain.past:
        return f"{told}."
    return (
        f"{told}; but the first line of a ledger that goes on from a closed one tells who closed that and why, in the "
        "person's own words, and the damaged part of a closed one may hold anything."
    )


def _entries(evidence: Evidence) -> Iterator[str]:
    told = {ledger.name: _told(evidence, ledger) for ledger in evidence.ledgers}
    for ledger in evidence.ledgers:
        if told[ledger.name]:
            yield ""
            yield from _listed(evidence, ledger, told[ledger.name])
    yield ""
    yield from say("Each is checked like these, with its own numbers:")
    for ledger in evidence.ledgers:
        for entry in _chosen(evidence, told[ledger.name]):
            yield from run(f"head -c {entry.bytes} {evidence.name} | sha256sum | cut -c 1-64", entry.digest)
            yield from _counted(ledger, f'"bytes":{entry.bytes},"digest":"{entry.digest}","job":"{entry.job}"')


def _told(evidence: Evidence, ledger: LedgerRead) -> Sequence[Entry]:
    """What one ledger says of the job in lines that hold."""
    return [entry for entry in entries(ledger.file.lines) if entry.job == evidence.job]


def _listed(evidence: Evidence, ledger: LedgerRead, told: Sequence[Entry]) -> Iterator[str]:
    where = f"lines of {ledger.name}" if evidence.chain.past else "its lines"
    until = ", up to the damage" if _damaged(ledger) else ""
    yield from say(f"The number of {where} about job {evidence.job}{until}:")
    yield from _counted(ledger, f'"job":"{evidence.job}"')
    for entry in told[:ENTRIES_LISTED]:
        yield f"  {ascii_line(entry.event)[:20]:<20} {entry.bytes:>9} bytes  {ascii_line(entry.digest)[:64]}"
    if (more := len(told) - ENTRIES_LISTED) > 0:
        yield f"  and {more} more"


def _counted(ledger: LedgerRead, pattern: str) -> list[str]:
    """How many lines of a ledger hold a pattern; of a damaged one, those before the damage."""
    if not _damaged(ledger):
        return run(f"grep -c '{pattern}' {ledger.name}", str(lines_with(ledger.data, pattern)))
    end = ledger.file.ends[-1]
    return run(f"head -c {end} {ledger.name} | grep -c '{pattern}'", str(lines_with(ledger.data[:end], pattern)))


def _damaged(ledger: LedgerRead) -> bool:
    return ledger.file.state is State.ALTERED


def _chosen(evidence: Evidence, told: Sequence[Entry]) -> Iterator[Entry]:
    """The opening, the fail that was named above, the seal, and what marks the job."""
    fail = named_fail(evidence)
    for entry in dict.fromkeys(told):
        named = entry.event == FAILED and fail is not None and entry.bytes == fail[1]
        # A digest that holds is one; what stands in a command must not rest on that alone. Not every head takes a 0.
        if (named or entry.event in (OPENED, SEALED, CONCERNED)) and is_digest(entry.digest) and entry.bytes > 0:
            yield entry


def _opened_on(evidence: Evidence) -> Iterator[str]:
    first = evidence.file.lines[0]
    size, digest = first.data.get("ledger_bytes"), first.data.get("ledger_digest")
    if not (type(size) is int and size > 0 and isinstance(digest, str) and is_digest(digest)):
        return
    name = next((one.name for one in evidence.ledgers if stands_on(first, Prefixes(one.data))), None)
    if name is None:
        yield from say(
            f"The journal's first line names the {size} bytes of a ledger on which the job was opened, and none here "
            "begins with those any more. Somebody answered for that by name: see MARKED at the top."
        )
        return
    yield from say(
        f"The journal's first line names the ledger as it stood when the job was opened: {size} bytes. So the job was "
        "opened after those lines, and before the line that names it."
    )
    yield from run(f"head -c {size} {name} | sha256sum | cut -c 1-64", digest)
    pattern = f'"ledger_bytes":{size},"ledger_digest":"{digest}"'
    yield from run(f"head -n 1 {evidence.name} | grep -c '{pattern}'", "1")


def named_fail(evidence: Evidence) -> tuple[Line, int] | None:
    """The last fail that the ledger names, else the last one."""
    file = evidence.file
    fails = [(line, end) for line, end in zip(file.lines, file.ends, strict=True) if is_failure(line)]
    named = {entry.bytes for entry in evidence.said if entry.event == FAILED}
    return next((one for one in reversed(fails) if one[1] in named), fails[-1] if fails else None)
