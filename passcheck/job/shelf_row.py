"""What does the shelf show of a job without reading its journal again?"""

from dataclasses import dataclass
from typing import Literal

Waits = Literal["confirm", "rework", "accept", "burn in", "sign"]
WAITS: tuple[Waits, ...] = ("confirm", "rework", "accept", "burn in", "sign")
COMPLAINT_SHOWN = 120
"""Characters of the complaint that a row keeps; the journal keeps all of it."""
DAMAGED = "damaged"
"""`waits_for` of a job whose journal cannot be read as it stands."""


@dataclass(frozen=True, slots=True)
class SoakTag:
    """What hangs on a soaking unit, told at its last event; times in seconds, moments as ISO text in UTC.

    `due_ms` is the due time on the clock of the start of the machine that `boot_id` names. `lost_*` tell the last
    stretch in which power is not shown to have stayed on, "" where there is none.
    """

    step: str
    due_at: str
    due_ms: int
    boot_id: str
    every_s: int
    counted_s: int
    wanted_s: int
    cycles: int
    cycles_wanted: int
    still_to_pass: int
    alone: bool
    complete: bool
    lost_from: str = ""
    lost_to: str = ""
    lost_why: str = ""
    warning: str = ""
    """What a value did over the looks, where something stands out."""


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One unit with its hanging tag."""

    job: str
    serial: str
    sequence: str
    revision: str
    title: str
    waits_for: str
    complaint: str
    """The complaint's first `COMPLAINT_SHOWN` characters, as the owner said it."""
    opened_at: str
    last_at: str
    blockers: int
    ended: str | None
    """How the job ended (the event's tag); None while the unit is still on the shelf."""
    soak: SoakTag | None = None
    """What hangs on a unit that soaks."""
    practice: bool = False
    """True for a job of practice, which is no evidence of any unit."""


def damaged_row(job: str, *, practice: bool = False) -> ShelfRow:
    """The row of a job whose journal can't be read as it stands: nothing of the unit that it speaks of is shown."""
    return ShelfRow(job, "", "", "", "", DAMAGED, "", "", "", blockers=1, ended=None, practice=practice)
