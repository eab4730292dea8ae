"""What does an outsider, who has no passcheck, do to check a job's record?

The text of `HOW-TO-CHECK.txt`: ASCII only, with the numbers of this very journal filled in. A line that begins with
four blanks is a command for `sh` or what it prints; the words between say which. Nothing that a person or a file said
gets into a command: only the job's number, whole numbers and checked digests do.
"""

import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

from passcheck.job.ending import is_failure, is_seal
from passcheck.job.journal_line import Line
from passcheck.records.agreement import FAILED, OPENED, SEALED, Entry
from passcheck.records.evidence import SIGNATURE, SIGNERS, Evidence, Place, is_digest, place_of
from passcheck.records.journal_file import State
from passcheck.sequence.show_text import show_text

NAMESPACE = "passcheck-journal"
MUST_PRINT = "must print"
MUST_BEGIN = "must print a line that begins with"
PRINTS = "prints, which tells this copy from others and shows nothing more"
LEDGER, SEQUENCE, ATTEMPTS, CARD = "ledger.jsonl", "sequence.yaml", "attempts.csv", "job.json"
ENTRIES_LISTED = 40

_WIDTH = 78
_NO_CERTIFICATE = (
    "Not an electrical safety test and not a certificate. Installation and local rules remain with the installer. "
    "Where the law, your employer, the maker's instructions or a licence ask for more, do what asks for more."
)
_ABOUT = {
    LEDGER: "the bench's ledger as it stood",
    SEQUENCE: "the test sequence that the job was walked by",
    ATTEMPTS: "every attempt, for a spreadsheet; texts are cleaned",
    CARD: "the job's card, for programs",
    SIGNERS: "public keys of those who may sign",
}
_BLANKS = re.compile(r"\n{3,}")
_WORDS = re.compile(r"[a-z]+(?:[ -][a-z]+)*", re.ASCII)


@dataclass(frozen=True, slots=True)
class Handed:
    """What is handed over, and by which program.

    Attributes:
        evidence: the records' own bytes.
        files: every file of the folder but the note itself, by name, in the order in which the note lists them.
        found: what the bench's own check of these records said, as sentences.
        without: why card, attempts and sequence are not among the files, or "".
        practice: no evidence of any unit.
        revision: that of the sequence which the job stands on, or "" where it can't be read.
        tool: the program's name and version.
        at: the moment by the bench's clock, UTC.
    """

    evidence: Evidence
    files: Mapping[str, bytes]
    found: Sequence[str]
    without: str
    practice: bool
    revision: str
    tool: str
    at: str


def check_note(handed: Handed) -> str:
    """The whole text, line feeds at its lines' ends."""
    damaged = bool(handed.evidence.damage)
    parts = [*_head(handed), *_files(handed, MUST_PRINT if not damaged else PRINTS)]
    parts += _damage(handed) if damaged else _checks(handed)
    parts += _limits(handed) if damaged else [*_match(handed), *_limits(handed)]
    return _BLANKS.sub("\n\n", "\n".join(parts)) + "\n"


def ascii_line(text: str) -> str:
    """One line of ASCII that shows all that a text holds, so that it acts on no terminal and in no alphabet."""
    return show_text(text, 4000).encode("ascii", "backslashreplace").decode("ascii")


def _say(text: str, *, indent: str = "") -> list[str]:
    """A paragraph; what it quotes can't begin a line with four blanks and pass for a command."""
    words = " ".join(ascii_line(text).split())
    later = indent + ("  " if words.startswith("- ") else "")
    return textwrap.wrap(words, _WIDTH, initial_indent=indent, subsequent_indent=later, break_on_hyphens=False)


def _title(text: str) -> list[str]:
    return ["", text, "-" * len(text)]


def _run(command: str, *printed: str, how: str = MUST_PRINT) -> list[str]:
    """A command, and under it what it prints."""
    shown = ["", how, "", *(f"    {line}" for line in printed)] if printed else []
    return ["", f"    {command}", *shown, ""]


def _head(handed: Handed) -> Iterator[str]:
    evidence = handed.evidence
    for one in evidence.damage[:1]:
        yield from _say(f"DAMAGED: {one}")
        yield from _say("It is handed over as evidence of that. Nothing here may be taken for a statement on the unit.")
        yield ""
    if handed.practice:
        yield from _say("PRACTICE: this job was made on a simulated unit. It is no evidence of any real one.")
        yield ""
    yield f"HOW TO CHECK THE RECORD OF JOB {evidence.job}"
    yield ""
    yield from _say(_standing(evidence))
    if not evidence.damage and handed.found:
        yield ""
        yield "The bench's own check of its records said:"
        for sentence in handed.found:
            yield from _say(f"- {sentence}")
    yield ""
    yield from _say(f"Written by {handed.tool} at {handed.at} by the clock of the bench.")
    yield ""
    yield from _say(
        "You need no passcheck: sha256sum, head, tail, sed, grep and cut will do, and for a signature ssh-keygen. "
        "(Where there is no sha256sum, 'shasum -a 256' does the same.) Open a shell in this folder. A line here "
        "that begins with four blanks is a command to be typed, or what it prints; the words between say which."
    )


def _standing(evidence: Evidence) -> str:
    file = evidence.file
    if evidence.damage:
        return "STANDING: damaged. Whether it was sealed or open can no longer be told from these files."
    last = file.lines[-1]
    if file.sealed:
        by, event = ascii_line(last.by), last.event
        release = "" if event == "signed off" else " It is no release of the unit: it left without passing."
        return f"STANDING: sealed. Its last line is '{event}', at {last.at}, by {by}; nothing may follow it.{release}"
    words = "STANDING: OPEN. Nobody has released the unit; lines may have been added since this copy was made."
    if file.state is State.TORN:
        left = file.size - (file.torn_from or 0)
        words += f" Its last {left} bytes are no whole line: a write was cut short there."
    return words


def _files(handed: Handed, how: str) -> Iterator[str]:
    evidence = handed.evidence
    about = _ABOUT | {
        evidence.name: "the job's journal, byte for byte: one event a line",
        evidence.name + SIGNATURE: "a signature over the journal",
    }
    yield from _title("What lies here")
    yield ""
    for name, data in handed.files.items():
        yield f"  {name:<20} {len(data):>9} bytes  {about.get(name, '')}".rstrip()
    if handed.without:
        yield ""
        yield from _say(f"{SEQUENCE}, {ATTEMPTS} and {CARD} were not made: {handed.without}")
    sums = [f"{sha256(data).hexdigest()}  {name}" for name, data in handed.files.items()]
    yield from _run(f"sha256sum {' '.join(handed.files)}", *sums, how=how)
    yield from _say(
        "These digits came in the same folder as the files, so they show only that nothing was lost on the way. Let "
        f"the shop read you those of {evidence.name} over the telephone, or take them from an older copy."
    )


def _checks(handed: Handed) -> Iterator[str]:
    evidence = handed.evidence
    file, data = evidence.file, evidence.journal
    yield from _title("1. The last line covers all lines")
    yield ""
    yield from _say(
        'Each line of the journal ends in its "hash": the SHA-256 of every byte of the file before the text ,"hash":" '
        "of that line. So the hash of the last line covers everything above it, and any line can be checked in the "
        "same way with other numbers."
    )
    yield from _line(evidence, file.lines[-1], place_of(data, file.ends[-1]))
    yield from _fail(evidence)
    yield from _ledger(evidence)
    yield from _signature(evidence)
    yield from _sequence(handed)


def _line(evidence: Evidence, line: Line, place: Place) -> Iterator[str]:
    """How to check one line: what its hash is of, what it says its hash is, and that it is that event."""
    name, known = evidence.name, _WORDS.fullmatch(line.event)
    what = "which seals the journal" if is_seal(line) else "a failed step" if is_failure(line) else ""
    called = f"Line {place.number}{f' is {line.event!r}' if known else ''}{', ' if what else ''}{what}"
    yield ""
    yield from _say(f"{called}. Its hash covers the first {place.covered} bytes:")
    yield from _run(f"head -c {place.covered} {name} | sha256sum | cut -c 1-64", place.hash)
    yield "The line itself has to say the same:"
    yield from _run(f"head -c {place.end} {name} | tail -c {place.hash_from_end} | head -c 64; echo", place.hash)
    if known:
        pattern = '"verdict":"fail"' if is_failure(line) else f'"event":"{line.event}"'
        yield "And it has to be that event:"
        yield from _run(f"sed -n '{place.number}p' {name} | grep -c '{pattern}'", "1")
    yield "To read it (cat -v keeps whatever is in it from acting on your terminal):"
    yield from _run(f"sed -n '{place.number}p' {name} | cat -v")


def _fail(evidence: Evidence) -> Iterator[str]:
    found = _named_fail(evidence)
    yield from _title("2. A fail that nobody took away")
    if found is None:
        yield ""
        yield from _say("No line of this journal says that the unit failed a step.")
        return
    line, end = found
    step = line.data.get("step")
    yield ""
    named = any(entry.event == FAILED and entry.bytes == end for entry in evidence.said)
    ledger = "The ledger names it too, so cutting it out would show there." if named else "The ledger doesn't name it."
    yield from _say(
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
    yield from _title("3. The ledger")
    file = evidence.ledger_file
    yield ""
    if file is None or not file.lines:
        yield from _say("There is no ledger beside this journal: nothing but its own hashes speaks for it.")
        return
    yield from _say(
        "A whole journal could be written anew with new hashes. Against that the bench keeps one ledger over all its "
        "journals, a chain of the same kind. A line of it about a job says how many bytes the journal had, and their "
        "SHA-256, when the job was opened, at every fail and at the seal. Of other jobs it tells number, time, size "
        "and digest, no unit and no owner."
    )
    if evidence.said:
        yield ""
        yield from _say(f"The number of its lines about job {evidence.job}:")
        pattern = f'"job":"{evidence.job}"'
        yield from _run(f"grep -c '{pattern}' {LEDGER}", str(_lines_with(evidence.ledger, pattern)))
        yield from _entries(evidence)
    else:
        yield ""
        yield from _say(f"It has no line about job {evidence.job}: nothing but the journal's own hashes speaks for it.")
    yield from _opened_on(evidence)
    last = place_of(evidence.ledger, file.ends[-1])
    yield from _say(f"The ledger's own last whole line covers its first {last.covered} bytes:")
    yield from _run(f"head -c {last.covered} {LEDGER} | sha256sum | cut -c 1-64", last.hash)
    yield "and says so:"
    yield from _run(f"head -c {last.end} {LEDGER} | tail -c {last.hash_from_end} | head -c 64; echo", last.hash)
    yield from _say(
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
    yield from _say("Each is checked like these, with its own numbers:")
    for entry in _chosen(evidence):
        yield from _run(f"head -c {entry.bytes} {evidence.name} | sha256sum | cut -c 1-64", entry.digest)
        pattern = f'"bytes":{entry.bytes},"digest":"{entry.digest}","job":"{entry.job}"'
        yield from _run(f"grep -c '{pattern}' {LEDGER}", str(_lines_with(evidence.ledger, pattern)))


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
    yield from _say(
        f"The journal's first line names the ledger as it stood when the job was opened: {size} bytes. So the job was "
        "opened after those lines, and before the line that names it."
    )
    yield from _run(f"head -c {size} {LEDGER} | sha256sum | cut -c 1-64", digest)
    pattern = f'"ledger_bytes":{size},"ledger_digest":"{digest}"'
    yield from _run(f"head -n 1 {evidence.name} | grep -c '{pattern}'", "1")


def _signature(evidence: Evidence) -> Iterator[str]:
    yield from _title("4. The signature")
    yield ""
    if evidence.signature is None:
        yield from _say("There is none. Hashes and ledger show what they show without one; nobody vouches by a key.")
        return
    signature = evidence.name + SIGNATURE
    yield from _say("Whether the signature is one over these very bytes, and by which key:")
    check = f"ssh-keygen -Y check-novalidate -n {NAMESPACE} -s {signature} < {evidence.name}"
    yield from _run(check, f'Good "{NAMESPACE}" signature with', how=MUST_BEGIN)
    yield from _say(
        "Compare the key's SHA256 fingerprint with one that the person who signed gave you another way; the files here "
        "all came from one hand."
    )
    if evidence.signers is None:
        yield ""
        yield from _say(f"No list of signers lies here: ask for the public key, and see 'man ssh-keygen', {SIGNERS}.")
        return
    yield ""
    yield from _say(f"Whose key that is, as the list of the shop has it ({SIGNERS}; look into it, it is text):")
    who = f"$(ssh-keygen -Y find-principals -f {SIGNERS} -s {signature} | head -n 1)"
    verify = f'ssh-keygen -Y verify -f {SIGNERS} -I "{who}" -n {NAMESPACE} -s {signature} < {evidence.name}'
    yield from _run(verify, f'Good "{NAMESPACE}" signature for', how=MUST_BEGIN)


def _sequence(handed: Handed) -> Iterator[str]:
    text = handed.files.get(SEQUENCE)
    if text is None:
        return
    digest = sha256(text).hexdigest()
    pattern = f'"sequence_digest":"{digest}"'
    times = _lines_with(handed.evidence.journal, pattern)
    if not times:
        return
    yield from _title("5. The sequence")
    yield ""
    yield from _say(
        f"The journal holds the whole text of the sequence. {SEQUENCE} is that text, and lines of the journal name its "
        "digest:"
    )
    yield from _run(f"sha256sum {SEQUENCE} | cut -c 1-64", digest)
    yield from _run(f"grep -c '{pattern}' {handed.evidence.name}", str(times))


def _damage(handed: Handed) -> Iterator[str]:
    evidence = handed.evidence
    yield from _title("What does not hold")
    yield ""
    for sentence in dict.fromkeys((*evidence.damage, *handed.found)):
        yield from _say(f"- {sentence}")
    if evidence.file.state is State.ALTERED:
        yield from _altered_line(evidence)
    for entry in dict.fromkeys(evidence.said):
        yield from _contradicted(evidence, entry)
    yield ""
    yield from _say(
        "A backup, or a copy that somebody kept, tells more: compare it with 'cmp'. Which of two copies is the first "
        "one, these files can't tell."
    )


def _altered_line(evidence: Evidence) -> Iterator[str]:
    number = re.match(r"line (\d+):", evidence.file.fault)
    if number is None:
        return
    yield ""
    yield from _say("The place (cat -v keeps whatever is in it from acting on your terminal):")
    yield from _run(f"sed -n '{number[1]}p' {evidence.name} | cat -v")


def _contradicted(evidence: Evidence, entry: Entry) -> Iterator[str]:
    """What an entry of the ledger says and what the file gives, where the two differ."""
    if not is_digest(entry.digest) or entry.bytes < 0:
        return
    gives = sha256(evidence.journal[: entry.bytes]).hexdigest()
    short = len(evidence.journal) < entry.bytes
    if gives == entry.digest and not short:
        return
    yield ""
    yield from _say(f"The ledger's '{entry.event}' says of the first {entry.bytes} bytes:")
    yield f"  {entry.digest}"
    yield from _say(f"The file has only {len(evidence.journal)}." if short else "The file gives another number:")
    yield from _run(f"head -c {entry.bytes} {evidence.name} | sha256sum | cut -c 1-64", gives, how=PRINTS)


def _match(handed: Handed) -> Iterator[str]:
    evidence = handed.evidence
    covered = max((entry.bytes for entry in evidence.said), default=0)
    rest = len(evidence.journal) - covered
    yield from _title("What a match shows")
    yield ""
    yield from _say(
        f"- The first {covered} bytes of the journal are those that the ledger names. Up to there no line was changed, "
        "taken out, put in or moved without everything after it being written anew, the ledger too."
        if covered
        else "- The lines of the journal follow from one another, as they were written."
    )
    if rest:
        yield from _say(
            f"- Of the last {rest} bytes the ledger knows nothing yet. No line there was changed by itself, but lines "
            "could have been cut off at the end, or all of them written anew, and nothing here would show it."
        )
    if evidence.signature is not None:
        yield from _say("- Whoever had the key signed these very bytes.")


def _limits(handed: Handed) -> Iterator[str]:
    yield from _title("What none of this shows")
    yield ""
    for words in (
        "The date. A bench proves the order of its lines and not their date: its clock can be set.",
        "That nobody wrote everything anew. Whoever rules the bench's disk can make a journal, a ledger and, where the "
        "key lies on that disk, a signature. Digits kept elsewhere stand against that, and nothing in this folder.",
        "That what was typed is what a meter showed, or that the unit measured was the one named.",
        "That the unit is safe, certified or calibrated. Nothing here says so.",
    ):
        yield from _say(f"- {words}")
    yield ""
    test = f" to revision {handed.revision} of the sequence on its date" if handed.revision else ""
    yield from _say(f"Bench function test{test}. {_NO_CERTIFICATE}")


def _lines_with(data: bytes, pattern: str) -> int:
    """What `grep -c` counts."""
    return sum(pattern.encode() in line for line in data.split(b"\n"))
