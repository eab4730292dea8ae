"""Which unit is it that bears this serial number?

A practice unit follows from its serial number alone: the same number is the same unit with the same fault, whatever
program asks, so that nothing beside the journal has to be kept of it.
"""

import hashlib
from collections.abc import Sequence as Many
from random import Random

from passcheck.practice.fault import Fault
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence.model import Sequence

ANY_SERIAL = "9A99999"
LETTERS = "ACEFHJKLMNPQRTUVWXY"  # those that are not taken for a figure
FIGURES = "0123456789"
MOST_TRIES = 10_000


def drawn_from(serial: str, *more: object) -> Random:
    """A generator that follows from the serial number, and from whatever else is named."""
    text = "/".join((serial, *map(str, more)))
    return Random(int.from_bytes(hashlib.sha256(text.encode()).digest()[:8], "big"))


def unit_of(sequence: Sequence, faults: Many[Fault], serial: str) -> SimulatedUnit:
    """The unit with that serial number: its own values, and one of these faults; none where there are none."""
    fault = fault_of(faults, serial)
    return SimulatedUnit(sequence, () if fault is None else (fault,), drawn_from(serial, "values"))


def fault_of(faults: Many[Fault], serial: str) -> Fault | None:
    """What is broken in the unit with that serial number."""
    return drawn_from(serial, "fault").choice(list(faults)) if faults else None


def serial_by_mask(mask: str | None, draw: Random) -> str:
    """A serial number that fits the board's mask: A a letter, 9 a figure."""
    places = {"A": LETTERS, "9": FIGURES, "?": LETTERS + FIGURES}
    return "".join(draw.choice(places[place]) if place in places else place for place in mask or ANY_SERIAL)


def serial_with(sequence: Sequence, faults: Many[Fault], wanted: str, draw: Random) -> str:
    """A serial number whose unit has the wanted fault.

    Raises:
        ValueError: no fault of these bears that name.
    """
    if all(fault.name != wanted for fault in faults):
        raise ValueError(wanted)
    for _ in range(MOST_TRIES):
        serial = serial_by_mask(sequence.serial, draw)
        found = fault_of(faults, serial)
        if found is not None and found.name == wanted:
            return serial
    raise ValueError(wanted)
