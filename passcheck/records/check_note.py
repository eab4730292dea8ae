"""What does an outsider, who has no passcheck, do to check a job's record?

The text of `HOW-TO-CHECK.txt`. Nothing that a person or a file said gets into a command: only the job's number, whole
numbers and checked digests do.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

from passcheck.job.fixed_words import MORE_ASKED, bench_test
from passcheck.records.agreement import SEALED, Entry
from passcheck.records.evidence import SIGNATURE, Evidence, is_digest
from passcheck.records.journal_file import State
from passcheck.records.ledger import LEDGER
from passcheck.records.note_checks import SEQUENCE, checks
from passcheck.records.note_closed import closed_ledgers
from passcheck.records.note_text import MUST_PRINT, PRINTS, ascii_line, run, say, title
from passcheck.records.signers import ALLOWED

ATTEMPTS, CARD = "attempts.csv", "job.json"

_ABOUT = {
    LEDGER: "the bench's ledger as it stood",
    SEQUENCE: "the test sequence that the job was walked by",
    ATTEMPTS: "every attempt, for a spreadsheet; texts are cleaned",
    CARD: "the job's card, for programs",
    ALLOWED: "public keys of those who may sign",
}
_BLANKS = re.compile(r"\n{3,}")


@dataclass(frozen=True, slots=True)
class Handed:
    """What is handed over, and by which program.

    Attributes:
        evidence: the records' own bytes.
        files: every file of the folder but the note itself, by name, in the order in which the note lists them.
        found: what the bench's own check of these records said, as sentences.
        without: why card, attempts and sequence are not among the files, or "".
        practice: no evidence of any unit.
        revision: that of the sequence which the job stands on; None where it can't be read.
        tool: the program's name and version.
        at: the moment by the bench's clock, UTC.
    """

    evidence: Evidence
    files: Mapping[str, bytes]
    found: Sequence[str]
    without: str
    practice: bool
    revision: int | None
    tool: str
    at: str


def check_note(handed: Handed) -> str:
    """The whole text, line feeds at its lines' ends."""
    damaged = bool(handed.evidence.damage)
    parts = [*_head(handed), *(_closed(handed) if not damaged else ())]
    parts += _files(handed, MUST_PRINT if not damaged else PRINTS)
    parts += _damage(handed) if damaged else checks(handed.evidence, handed.files.get(SEQUENCE))
    parts += _limits(handed) if damaged else [*_match(handed), *_limits(handed)]
    return _BLANKS.sub("\n\n", "\n".join(parts)) + "\n"


def _head(handed: Handed) -> Iterator[str]:
    evidence = handed.evidence
    for one in evidence.damage[:1]:
        yield from say(f"DAMAGED: {one}")
        yield from say("It is handed over as evidence of that. Nothing here may be taken for a statement on the unit.")
        yield ""
    if handed.practice:
        yield from say("PRACTICE: this job was made on a simulated unit. It is no evidence of any real one.")
        yield ""
    yield f"HOW TO CHECK THE RECORD OF JOB {evidence.job}"
    yield ""
    yield from say(_standing(evidence))
    for mark in evidence.marks:
        yield ""
        yield from say(f"MARKED: {mark}")
    if not evidence.damage and (found := _found(handed)):
        yield ""
        yield "The bench's own check of its records said:"
        for sentence in found:
            yield from say(f"- {sentence}")
    yield ""
    yield from say(f"Written by {handed.tool} at {handed.at} by the clock of the bench.")
    yield ""
    yield from say(
        "You need no passcheck: sha256sum, head, tail, sed, grep and cut will do, and for a signature ssh-keygen. "
        "(Where there is no sha256sum, 'shasum -a 256' does the same.) Open a shell in this folder. A line here "
        "that begins with four blanks is a command to be typed, or what it prints; the words between say which."
    )


def _found(handed: Handed) -> Sequence[str]:
    """What the bench's own check said and is told nowhere else here."""
    told = (*handed.evidence.damage, *handed.evidence.marks)
    return [sentence for sentence in dict.fromkeys(handed.found) if sentence not in told]


def _closed(handed: Handed) -> Iterator[str]:
    """Of a job that is marked, what the mark rests on; of any other the ledger's own section tells it."""
    if handed.evidence.marks:
        yield from title("What the mark rests on")
        yield from closed_ledgers(handed.evidence)


def _standing(evidence: Evidence) -> str:
    file = evidence.file
    if evidence.damage:
        return "STANDING: damaged. Whether it was sealed or open can no longer be told from these files."
    last = file.lines[-1]
    if file.sealed:
        by, event = ascii_line(last.by), last.event
        release = "" if event == "signed off" else " It is no release of the unit: it left without passing."
        words = f"Its last line is '{event}', at {last.at}, by {by}"
        if not _sealed(evidence):
            return f"STANDING: OPEN. {words}, but the ledger doesn't know of that seal: anybody may have written it."
        return f"STANDING: sealed. {words}; nothing may follow it.{release}"
    words = "STANDING: OPEN. Nobody has released the unit; lines may have been added since this copy was made."
    if file.state is State.TORN:
        left = file.size - (file.torn_from or 0)
        words += f" Its last {left} bytes are no whole line: a write was cut short there."
    return words


def _sealed(evidence: Evidence) -> bool:
    """Whether the ledger knows the seal, without which nobody calls a journal sealed."""
    return evidence.file.sealed and any(entry.event == SEALED for entry in evidence.said)


def _files(handed: Handed, how: str) -> Iterator[str]:
    evidence = handed.evidence
    about = _ABOUT | {
        evidence.name: "the job's journal, byte for byte: one event a line",
        evidence.name + SIGNATURE: "a signature over the journal",
        **dict.fromkeys(evidence.closed, "a ledger that was closed, as it was then"),
    }
    yield from title("What lies here")
    yield ""
    for name, data in handed.files.items():
        yield f"  {name:<20} {len(data):>9} bytes  {about.get(name, '')}".rstrip()
    if handed.without:
        yield ""
        yield from say(f"{SEQUENCE}, {ATTEMPTS} and {CARD} were not made: {handed.without}")
    sums = [f"{sha256(data).hexdigest()}  {name}" for name, data in handed.files.items()]
    yield from run(f"sha256sum {' '.join(handed.files)}", *sums, how=how)
    yield from say(
        "These digits came in the same folder as the files, so they show only that nothing was lost on the way. Let "
        f"the shop read you those of {evidence.name} over the telephone, or take them from an older copy."
    )


def _damage(handed: Handed) -> Iterator[str]:
    evidence = handed.evidence
    yield from title("What does not hold")
    yield ""
    for sentence in (*evidence.damage, *_found(handed)):
        yield from say(f"- {sentence}")
    if evidence.file.state is State.ALTERED:
        yield from _altered_line(evidence)
    for entry in dict.fromkeys(evidence.said):
        yield from _contradicted(evidence, entry)
    yield ""
    yield from say(
        "A backup, or a copy that somebody kept, tells more: compare it with 'cmp'. Which of two copies is the first "
        "one, these files can't tell."
    )


def _altered_line(evidence: Evidence) -> Iterator[str]:
    number = re.match(r"line (\d+):", evidence.file.fault)
    if number is None:
        return
    yield ""
    yield from say("The place (cat -v keeps whatever is in it from acting on your terminal):")
    yield from run(f"sed -n '{number[1]}p' {evidence.name} | cat -v")


def _contradicted(evidence: Evidence, entry: Entry) -> Iterator[str]:
    """What an entry of the ledger says and what the file gives, where the two differ."""
    if not is_digest(entry.digest) or entry.bytes < 0:
        return
    gives = sha256(evidence.journal[: entry.bytes]).hexdigest()
    short = len(evidence.journal) < entry.bytes
    if gives == entry.digest and not short:
        return
    yield ""
    yield from say(f"The ledger's '{entry.event}' says of the first {entry.bytes} bytes:")
    yield f"  {entry.digest}"
    yield from say(f"The file has only {len(evidence.journal)}." if short else "The file gives another number:")
    yield from run(f"head -c {entry.bytes} {evidence.name} | sha256sum | cut -c 1-64", gives, how=PRINTS)


def _match(handed: Handed) -> Iterator[str]:
    evidence = handed.evidence
    covered = max((entry.bytes for entry in evidence.said), default=0)
    rest = len(evidence.journal) - covered
    yield from title("What a match shows")
    yield ""
    yield from say(
        f"- The first {covered} bytes of the journal are those that the ledger names. Up to there no line was changed, "
        "taken out, put in or moved without everything after it being written anew, the ledger too."
        if covered
        else "- The lines of the journal follow from one another, as they were written."
    )
    if rest:
        yield from say(
            f"- Of the last {rest} bytes the ledger knows nothing yet. No line there was changed by itself, but lines "
            "could have been cut off at the end, or all of them written anew, and nothing here would show it."
        )
    if evidence.marks:
        yield from say(
            "- MARKED: what the damaged lines of a closed ledger told of this job, nothing here shows. A fail that was "
            "told there could be gone from the journal as well."
        )
    if evidence.signature is not None:
        yield from say("- Whoever had the key signed these very bytes.")


def _limits(handed: Handed) -> Iterator[str]:
    yield from title("What none of this shows")
    yield ""
    for words in (
        "The date. A bench proves the order of its lines and not their date: its clock can be set.",
        "That nobody wrote everything anew. Whoever rules the bench's disk can make a journal, a ledger and, where the "
        "key lies on that disk, a signature. Digits kept elsewhere stand against that, and nothing in this folder.",
        "That what was typed is what a meter showed, or that the unit measured was the one named.",
        "That the unit is safe, certified or calibrated. Nothing here says so.",
    ):
        yield from say(f"- {words}")
    yield ""
    yield from say(_outcome(handed))
    yield ""
    yield from say(MORE_ASKED)


def _outcome(handed: Handed) -> str:
    """The fixed sentence, which speaks of a date, behind that date; damaged records tell neither."""
    file = handed.evidence.file
    if handed.evidence.damage:
        return bench_test(None)
    when = f"{'Sealed at' if _sealed(handed.evidence) else 'Its last line is of'} {file.lines[-1].at}."
    return f"{when} {bench_test(handed.revision)}"
