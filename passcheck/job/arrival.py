"""May this unit be taken in?"""

from dataclasses import dataclass

from passcheck.job.commands import Refusal
from passcheck.job.permission import stranger
from passcheck.job.serial import is_serial, read_serial
from passcheck.job.settings import BenchSettings
from passcheck.sequence.model import Sequence

LONGEST_TEXT = 12_000
LOOK_ALIKE = {"O": "0", "I": "1", "S": "5", "B": "8"}


@dataclass(frozen=True, slots=True)
class Arrive:
    """Take a unit in: what it is, what its owner says, how it came."""

    by: str
    sequence: str
    serial: str
    complaint: str
    condition: str = ""
    variants: tuple[str, ...] = ()
    with_job: str | None = None  # a job of the same arrival


def arrival_refusal(arrive: Arrive, sequence: Sequence, settings: BenchSettings) -> Refusal | None:
    """Why the unit can't be taken in with these facts, or None."""
    serial = read_serial(arrive.serial)
    if (unknown := stranger(arrive.by, settings)) is not None:
        return unknown
    if (strange := serial_refusal(serial, sequence)) is not None:
        return strange
    if not arrive.complaint.strip():
        return Refusal("entry", "The complaint is empty.", "Write down the owner's own words.")
    if len(arrive.complaint) > LONGEST_TEXT or len(arrive.condition) > LONGEST_TEXT:
        return Refusal("entry", f"A text of over {LONGEST_TEXT} characters is not kept whole.", "Shorten it.")
    unlisted = [name for name in arrive.variants if name not in sequence.variants]
    return (
        Refusal("entry", f"The sequence has no variant '{unlisted[0]}'.", "Choose one it declares.")
        if unlisted
        else None
    )


def serial_refusal(serial: str, sequence: Sequence) -> Refusal | None:
    """Why this is no serial of such a board, or None."""
    if not is_serial(serial):
        return Refusal(
            "unit",
            "That is no serial number: letters, digits and . _ / + - only, at most 40.",
            "Scan or type it again.",
        )
    if sequence.serial is not None and not fits_mask(serial, sequence.serial):
        return Refusal("unit", f"{serial} doesn't look like a {sequence.sequence} serial.", _look_alike(serial))
    return None


def fits_mask(serial: str, mask: str) -> bool:
    """Does a serial fit the author's mask: `9` a digit, `A` a letter, `?` either, anything else itself?"""
    if len(serial) != len(mask):
        return False
    return all(_fits(character, place) for character, place in zip(serial, mask, strict=True))


def _fits(character: str, place: str) -> bool:
    match place:
        case "9":
            return "0" <= character <= "9"
        case "A":
            return "A" <= character <= "Z"
        case "?":
            return character.isalnum()
        case _:
            return character == place.upper()


def _look_alike(serial: str) -> str:
    seen = [letter for letter in LOOK_ALIKE if letter in serial]
    if not seen:
        return "Scan or type it again."
    return f"Look again: {seen[0]} is easily read for {LOOK_ALIKE[seen[0]]}."
