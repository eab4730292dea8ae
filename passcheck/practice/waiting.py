"""Which unit waits on the practice shelf: with which fault, which serial number, and which words of its owner?"""

from collections.abc import Sequence as Many
from dataclasses import dataclass
from random import Random
from typing import Final

from passcheck.practice.effects import concerns
from passcheck.practice.fault import Fault
from passcheck.practice.serials import serial_with
from passcheck.sequence.model import Sequence

NO_WORDS: Final = "Something is wrong with it. Please look."
"""What an owner says of a fault that shows on a bench alone."""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A unit that waits: what its owner says, the symptoms that match, and how it is fitted out."""

    serial: str
    complaint: str
    symptoms: tuple[str, ...]
    variants: tuple[str, ...]


def waiting(sheet: Sequence, faults: Many[Fault], fault: Fault, draw: Random) -> Waiting:
    """A unit with this fault.

    Args:
        sheet: the sequence that it will be walked through.
        faults: the board's whole list, which the serial number draws from.
        fault: one of them.
        draw: gives the serial number.
    """
    serial = serial_with(sheet, faults, fault.name, draw)
    symptoms = tuple(name for name in fault.symptoms if name in sheet.symptoms)
    return Waiting(serial, fault.complaint or NO_WORDS, symptoms, _variants(sheet, fault))


def drawn_fault(sheet: Sequence, faults: Many[Fault], draw: Random) -> Fault | None:
    """One of those that can be seen on the sheet and that an owner would notice; any that there is where none is so."""
    visible = [fault for fault in faults if shows_on(sheet, fault)]
    noticed = [fault for fault in visible if fault.complaint]
    choice = noticed or visible or list(faults)
    return draw.choice(choice) if choice else None


def shows_on(sheet: Sequence, fault: Fault) -> bool:
    """Can any step of the sheet show it?"""
    return any(concerns(effect, step) for effect in fault.effects for step in sheet.steps)


def _variants(sheet: Sequence, fault: Fault) -> tuple[str, ...]:
    """The variant without which the fault couldn't be seen."""
    steps = [step for step in sheet.steps if any(concerns(effect, step) for effect in fault.effects)]
    if any(step.variant is None for step in steps):
        return ()
    return tuple(dict.fromkeys(step.variant for step in steps if step.variant is not None))[:1]
