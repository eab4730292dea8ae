"""Which widget takes the answer to a step of this kind?"""

from collections.abc import Callable
from typing import Any

from passcheck.app.widgets.codes import CodesEntry
from passcheck.app.widgets.count import CountEntry
from passcheck.app.widgets.grade import GradeEntry
from passcheck.app.widgets.lamps import LampsEntry
from passcheck.app.widgets.look import LookEntry
from passcheck.app.widgets.marks import MarksEntry
from passcheck.app.widgets.power_up import PowerUpEntry
from passcheck.app.widgets.presses import PressesEntry
from passcheck.app.widgets.reading import ReadingEntry
from passcheck.app.widgets.response import ResponseEntry
from passcheck.app.widgets.soak import SoakEntry
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.app.widgets.sweep import SweepEntry
from passcheck.app.widgets.table import TableEntry
from passcheck.sequence.model import Kind, Step

# Each widget takes the step of its own kind; `Any` because a table can't say which belongs to which.
ENTRIES: dict[Kind, Callable[[Any], StepEntry]] = {
    "reading": ReadingEntry,
    "power-up": PowerUpEntry,
    "response": ResponseEntry,
    "presses": PressesEntry,
    "lamps": LampsEntry,
    "sweep": SweepEntry,
    "marks": MarksEntry,
    "codes": CodesEntry,
    "grade": GradeEntry,
    "look": LookEntry,
    "count": CountEntry,
    "table": TableEntry,
    "soak": SoakEntry,
}


def entry_for(step: Step) -> StepEntry:
    """The widget that takes this step's answer."""
    return ENTRIES[step.kind](step)
