"""What may an effect be at a step: in which unit is it written, and how many of its kind are there to be concerned?"""

from passcheck.practice.fault import What
from passcheck.practice.healthy import reading_limits
from passcheck.sequence import model
from passcheck.sequence.model import Sequence, Step

OWN_UNITS: dict[What, str] = {
    **dict.fromkeys(("lags", "delays", "stalls", "recovers in"), "s"),
    "draws": "A",
    "source": "Ω",
    "blinks at": "Hz",
}
"""The unit of effects that have the same one at every step."""


def unit_at(step: Step, what: What) -> str:
    """The base unit of an effect's size at this step; "" for a bare number."""
    if what in OWN_UNITS:
        return OWN_UNITS[what]
    match step:
        case model.ReadingStep():
            limits = reading_limits(step)
            return "" if limits is None else limits.unit
        case model.MarksStep():
            return step.tolerance.unit
        case model.TableStep():
            return step.rows[0].limits.unit
        case _:
            return ""


def counted_at(step: Step, what: What) -> int:
    """How many marks, rows, points, lamps or segments there are of which an effect may name one; 0 where none is."""
    match step:
        case model.MarksStep():
            return len(step.marks)
        case model.TableStep():
            return len(step.rows)
        case model.LookStep():
            return len(step.points)
        case model.LampsStep() if what in ("dark", "flickers", "looks"):
            return len(step.lamps)
        case model.SweepStep() if what == "stalls":
            return step.marks - 1
        case _:
            return 0


def codes_of(sequence: Sequence) -> frozenset[str]:
    """Every fault code that the sequence names."""
    steps = [step for step in sequence.steps if isinstance(step, model.CodesStep)]
    named = [(*step.expected, *step.absent, *(one.code for one in step.provoke)) for step in steps]
    return frozenset(code for codes in named for code in codes)
