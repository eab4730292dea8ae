"""Which commands check a record that is not damaged, and what must they print?

With the numbers of this very journal filled in: the last line, a fail, the ledger, the signature, the sequence.
"""

import re
from collections.abc import Iterator
from hashlib import sha256

from passcheck.job.ending import is_failure, is_seal
from passcheck.job.journal_line import Line
from passcheck.records.agreement import FAILED, OPENED, SEALED, Entry
from passcheck.records.evidence import SIGNATURE, Evidence, Place, is_digest, place_of
from passcheck.records.note_text import MUST_BEGIN, ascii_line, run, say, title
from passcheck.records.signers import ALLOWED
from passcheck.records.ssh_signature import NAMESPACE

LEDGER, SEQUENCE = "ledger.jsonl", "sequence.yaml"
ENTRIES_LISTED = 40

_WORDS = re.compile(r"[a-z]+(?:[ -][a-z]+)*", re.ASCII)


def checks(evidence: Evidence, sequence: bytes | None) -> Iterator[str]:
    """The sections, line by line; `sequence` is the text that lies beside the journal, if one does."""
    file, data = evidence.file, evidence.journal
    yield from title("1. The last line covers all lines")
    yield ""
    yield from say(
        'Each line of the journal ends in its "hash": the SHA-256 of every byte of the file before the text ,"hash":" '
        "of that line. So the hash of the last line covers everything above it, and any line can be checked in the "
        "same way with other numbers."
    )
    yield from _line(evidence, file.lines[-1], place_of(data, file.ends[-1]))
    yield from _fail(evidence)
    yield from _ledger(evidence)
    yield from _signature(evidence)
    yield from _sequence(evidence, sequence)


def _line(evidence: Evidence, line: Line, place: Place) -> Iterator[str]:
    """How to check one line: what its hash is of, what it says its hash is, and that it is that event."""
    name, known = evidence.name, _WORDS.fullmatch(line.event)
    what = "which seals the journal" if is_seal(line) else "a failed step" if is_failure(line) else ""
    called = f"Line {place.number}{f' is {line.event!r}' if known else ''}{', ' if what else ''}{what}"
    yield ""
    yield from say(f"{called}. Its hash covers the first {place.covered} bytes:")
    yield from run(f"head -c {place.covered} {name} | sha256sum | cut -c 1-64", place.hash)
    yield "The line itself has to say the same:"
    yield from run(f"head -c {place.end} {name} | tail -c {place.hash_from_end} | head -c 64; echo", place.hash)
    if known:
        pattern = '"verdict":"fail"' if is_failure(line) else f'"event":"{line.event}"'
        yield "And it has to be that event:"
        yield from run(f"sed -n '{place.number}p' {name} | grep -c '{pattern}'", "1")
    yield "To read it (cat -v keeps whatever is in it from acting on your terminal):"
    yield from run(f"sed -n '{place.number}p' {name} | cat -v")


def _fail(evidence: Evidence) -> Iterator[str]:
    found = _named_fail(evidence)
    yield from title("2. A fail that nobody took away")
    if found is None:
        yield ""
        yield from say("No line of this journal says that the unit failed a step.")
        return
    line, end = found
    step = line.data.get("step")
    yield ""
    named = any(entry.event == FAILED and entry.bytes == end for entry in evidence.said)
    ledger = "The ledger names it too, so cutting it out would show there." if named else "The ledger doesn't name it."
    yield from say(
        f"A fail of this journal is at step '{ascii_line(str(step))[:60]}'. No fail is ever erased, whatever passed "
        f"later. {ledger}"
    )
    yield from _line(evidence, line, place_of(evidence.journal, end))


def _named_fail(evidence: Evidence) -> tuple[Line, int] | None:
    """The last fail that the ledger names, else the last one."""
    file = evidence.file
    fails = [(line, end) for line, end in zip(file.lines, file.ends, strict=True) if is_failure(line)]
    named = {entry.bytes for entry in evidence.said if entry.event == FAILED}
    return next((one for one in reversed(fails) if one[1] in named), fails[-1] if fails else None)


def _ledger(evidence: Evidence) -> Iterator[str]:
    yield from title("3. The ledger")
    file = evidence.ledger_file
    yield ""
    if file is None or not file.lines:
        yield from say("There is no ledger beside this journal: nothing but its own hashes speaks for it.")
        return
    yield from say(
        "A whole journal could be written anew with new hashes. Against that the bench keeps one ledger over all its "
        "journals, a chain of the same kind. A line of it about a job says how many bytes the journal had, and their "
        "SHA-256, when the job was opened, at every fail and at the seal. Of other jobs it tells number, time, size "
        "and digest, no unit and no owner."
    )
    if evidence.said:
        yield ""
        yield from say(f"The number of its lines about job {evidence.job}:")
        pattern = f'"job":"{evidence.job}"'
        yield from run(f"grep -c '{pattern}' {LEDGER}", str(_lines_with(evidence.ledger, pattern)))
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


def _entries(evidence: Evidence) -> Iterator[str]:
    for entry in evidence.said[:ENTRIES_LISTED]:
        yield f"  {ascii_line(entry.event)[:20]:<20} {entry.bytes:>9} bytes  {ascii_line(entry.digest)[:64]}"
    if (more := len(evidence.said) - ENTRIES_LISTED) > 0:
        yield f"  and {more} more"
    yield ""
    yield from say("Each is checked like these, with its own numbers:")
    for entry in _chosen(evidence):
        yield from run(f"head -c {entry.bytes} {evidence.name} | sha256sum | cut -c 1-64", entry.digest)
        pattern = f'"bytes":{entry.bytes},"digest":"{entry.digest}","job":"{entry.job}"'
        yield from run(f"grep -c '{pattern}' {LEDGER}", str(_lines_with(evidence.ledger, pattern)))


def _chosen(evidence: Evidence) -> Iterator[Entry]:
    """The opening, the fail that was named above, and the seal."""
    fail = _named_fail(evidence)
    for entry in dict.fromkeys(evidence.said):
        named = entry.event == FAILED and fail is not None and entry.bytes == fail[1]
        # A digest that holds is one; what stands in a command must not rest on that alone.
        if (named or entry.event in (OPENED, SEALED)) and is_digest(entry.digest):
            yield entry


def _opened_on(evidence: Evidence) -> Iterator[str]:
    first = evidence.file.lines[0].data
    size, digest = first.get("ledger_bytes"), first.get("ledger_digest")
    if not (type(size) is int and size > 0 and isinstance(digest, str) and is_digest(digest)):
        return
    yield from say(
        f"The journal's first line names the ledger as it stood when the job was opened: {size} bytes. So the job was "
        "opened after those lines, and before the line that names it."
    )
    yield from run(f"head -c {size} {LEDGER} | sha256sum | cut -c 1-64", digest)
    pattern = f'"ledger_bytes":{size},"ledger_digest":"{digest}"'
    yield from run(f"head -n 1 {evidence.name} | grep -c '{pattern}'", "1")


def _signature(evidence: Evidence) -> Iterator[str]:
    yield from title("4. The signature")
    yield ""
    if evidence.signature is None:
        yield from say("There is none. Hashes and ledger show what they show without one; nobody vouches by a key.")
        return
    signature = evidence.name + SIGNATURE
    yield from say("Whether the signature is one over these very bytes, and by which key:")
    check = f"ssh-keygen -Y check-novalidate -n {NAMESPACE} -s {signature} < {evidence.name}"
    yield from run(check, f'Good "{NAMESPACE}" signature with', how=MUST_BEGIN)
    yield from say(
        "Compare the key's SHA256 fingerprint with one that the person who signed gave you another way; the files here "
        "all came from one hand."
    )
    if evidence.signers is None:
        yield ""
        yield from say(f"No list of signers lies here: ask for the public key, and see 'man ssh-keygen', {ALLOWED}.")
        return
    yield ""
    yield from say(f"Whose key that is, as the list of the shop has it ({ALLOWED}; look into it, it is text):")
    who = f"$(ssh-keygen -Y find-principals -f {ALLOWED} -s {signature} | head -n 1)"
    verify = f'ssh-keygen -Y verify -f {ALLOWED} -I "{who}" -n {NAMESPACE} -s {signature} < {evidence.name}'
    yield from run(verify, f'Good "{NAMESPACE}" signature for', how=MUST_BEGIN)


def _sequence(evidence: Evidence, text: bytes | None) -> Iterator[str]:
    if text is None:
        return
    digest = sha256(text).hexdigest()
    pattern = f'"sequence_digest":"{digest}"'
    times = _lines_with(evidence.journal, pattern)
    if not times:
        return
    yield from title("5. The sequence")
    yield ""
    yield from say(
        f"The journal holds the whole text of the sequence. {SEQUENCE} is that text, and lines of the journal name its "
        "digest:"
    )
    yield from run(f"sha256sum {SEQUENCE} | cut -c 1-64", digest)
    yield from run(f"grep -c '{pattern}' {evidence.name}", str(times))


def _lines_with(data: bytes, pattern: str) -> int:
    """What `grep -c` counts."""
    return sum(pattern.encode() in line for line in data.split(b"\n"))
