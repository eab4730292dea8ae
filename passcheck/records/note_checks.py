"""Which commands check a record that is not damaged, and what must they print?

With the numbers of this very journal filled in: the last line, a fail, the ledger, the signature, the sequence.
"""

import re
from collections.abc import Iterator
from hashlib import sha256

from passcheck.job.ending import is_failure, is_seal
from passcheck.job.journal_line import Line
from passcheck.records.agreement import FAILED
from passcheck.records.evidence import SIGNATURE, Evidence, Place, place_of
from passcheck.records.note_ledger import ledger_checks, named_fail
from passcheck.records.note_text import MUST_BEGIN, ascii_line, lines_with, run, say, title
from passcheck.records.signers import ALLOWED
from passcheck.records.ssh_signature import NAMESPACE

SEQUENCE = "sequence.yaml"

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
    yield from ledger_checks(evidence)
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
    found = named_fail(evidence)
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
    times = lines_with(evidence.journal, pattern)
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
