"""What stands on the label that goes on a unit, and does a label belong to the unit in hand?

The last line of a label is for a scanner, and what a QR code or barcode on it should hold: job, serial and short code,
a blank between. The short code is six characters of Crockford's base 32, the first thirty bits of a SHA-256 over

    passcheck label 1 LF job LF serial LF the journal's SHA-256 in 64 hexadecimal digits LF

in UTF-8, so that it fits no other unit, no other job and no other journal. It shows a label that was swapped, or a
record that was altered since; it keeps nobody who has the record from making a label on purpose.
"""

import hashlib
import re
from dataclasses import dataclass

from passcheck.errors import FileFault
from passcheck.job.label_match import Difference, Match
from passcheck.job.record_head import RecordHead
from passcheck.job.serial import is_serial, read_serial
from passcheck.job.state import Job
from passcheck.job.warranty import warranty_end

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Crockford's: no I, L, O or U."""
CODE_LENGTH = 6
FORM = "passcheck label 1"
_ALIKE = str.maketrans("OIL", "011")
_JOB = re.compile(r"[A-Z01]\d\d-\d{4,7}", re.ASCII)  # 0 and 1: a bench's letter O, I or L as somebody read it


@dataclass(frozen=True, slots=True)
class Label:
    """What was read off a label, in capitals; figures where only figures can stand, and nothing else put right."""

    job: str
    serial: str
    code: str


def label(job: Job, head: RecordHead, warranty_months: int | None = None) -> tuple[str, ...]:
    """The lines of a label, the last one for a scanner.

    Raises:
        FileFault: the job is still open, so that neither its ending nor its code is known.
    """
    if job.ended is None or not head.sealed:
        raise FileFault(f"{job.id}: the job is still open. A label is made once it has ended.")
    day = f"{job.last.local():%Y-%m-%d}"
    end = warranty_end(job, warranty_months)
    released = job.ended == "signed off"
    return (
        *(("PRACTICE: no real unit",) if job.facts.practice else ()),
        f"{job.id}  {job.sequence.sequence}",
        f"unit {job.serial}",
        *((f"RELEASED {day}",) if released else ("NOT RELEASED", f"{job.ended} {day}")),
        *((f"warranty to {end:%Y-%m-%d}",) if end else ()),
        f"code {short_code(job, head)}",
        scan_line(job, head),
    )


def scan_line(job: Job, head: RecordHead) -> str:
    """What a scanner reads off the label."""
    return f"{job.id} {job.serial} {short_code(job, head)}"


def short_code(job: Job, head: RecordHead) -> str:
    """Six characters that fit this job, this unit and this journal, as the module's first lines say."""
    text = f"{FORM}\n{job.id}\n{job.serial}\n{head.digest}\n"
    bits = int.from_bytes(hashlib.sha256(text.encode()).digest()[:4]) >> 2
    return "".join(ALPHABET[bits >> 5 * place & 31] for place in reversed(range(CODE_LENGTH)))


def read_label(text: str) -> Label | None:
    """What a label's last line says, scanned or typed; None where it isn't whole.

    Capitals, more blanks than one and blanks or hyphens in the code don't matter; O reads as 0, I and L as 1 where
    only digits or the code can stand.
    """
    job, serial, *rest = (*read_serial(text).split(), "", "")
    job = job[:1] + job[1:].translate(_ALIKE)
    code = "".join(rest).replace("-", "").translate(_ALIKE)
    whole = _JOB.fullmatch(job) and is_serial(serial) and len(code) == CODE_LENGTH and set(code) <= set(ALPHABET)
    return Label(job, serial, code) if whole else None


def both(label_text: str, serial_scanned: str, job: Job, head: RecordHead) -> Match:
    """Do this label and this unit belong together, and to this job as its record stands?

    Args:
        label_text: the last line of the label, scanned or typed.
        serial_scanned: the serial number off the unit itself.
        job: the job at hand.
        head: its record as it is now.
    """
    read, serial = read_label(label_text), read_serial(serial_scanned)
    if job.ended is None or not head.sealed:
        return Match(False, f"{job.id} is still open: it gets its label once it has ended.", ("no label yet",))
    if read_label(serial_scanned) is not None:
        said = "The label was scanned where the unit's own serial belongs. Scan the number on the unit itself."
        return Match(False, said, ("not read",))
    if not is_serial(serial):
        return Match(False, "The unit's serial was not read. Scan the number on the unit itself.", ("not read",))
    if read is None:
        said = "The label was not read whole: job, serial and code stand on its last line. Scan it again."
        return Match(False, said, ("not read",))
    found = _differences(read, serial, job, head)
    if not found:
        return Match(True, f"Unit and label belong to {job.id}, and the code fits its record.{_ending(job)}")
    together = ("Unit and label go together: look at that job.",) if _of_another(read, serial, found) else ()
    return Match(False, " ".join((*(_words(one, read, serial, job) for one in found), *together)), found)


def _of_another(read: Label, serial: str, found: tuple[Difference, ...]) -> bool:
    return {"other serial", "other job"} <= set(found) and _alike(read.serial, serial)


def _differences(read: Label, serial: str, job: Job, head: RecordHead) -> tuple[Difference, ...]:
    found: list[Difference] = []
    if serial != job.serial:
        found.append("other serial")
    if not _alike(read.job, job.id):
        found.append("other job")
    if not _alike(read.serial, job.serial):
        found.append("other unit")
    if not found and read.code != short_code(job, head):  # of another job or unit the code can't fit
        found.append("other code")
    return tuple(found)


def _words(difference: Difference, read: Label, serial: str, job: Job) -> str:
    match difference:
        case "other serial" if _alike(serial, job.serial):
            return f"The unit reads {serial}, the job {job.serial}: they look alike. Read the unit's number again."
        case "other serial":
            return f"The unit in hand reads {serial}; {job.id} is for {job.serial}."
        case "other job":
            return f"The label is of job {read.job}, not of {job.id}."
        case "other unit":
            return f"The label is of unit {read.serial}, not of {job.serial}."
        case _:
            return (
                f"The label's code {read.code} doesn't fit the record of {job.id} as it is now. "
                f"Read it again; if it stays, 'passcheck verify {job.id}' says how the record stands."
            )


def _alike(one: str, other: str) -> bool:
    """Are these the same but for signs that a reader takes for each other? The code tells units apart that are."""
    return one.translate(_ALIKE) == other.translate(_ALIKE)


def _ending(job: Job) -> str:
    return "" if job.ended == "signed off" else f" It is no release: {job.ended}."
