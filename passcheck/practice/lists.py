"""Which faults are there for the units of this board: those that were written for it, or plain ones made from it?

A board that nobody wrote a list for, such as a shop's own, can be practised all the same: its sequence says what each
step wants, so a fault is something well outside of that.
"""

from collections.abc import Iterator
from itertools import zip_longest
from pathlib import Path

from passcheck.judge.limits import Limits
from passcheck.practice.fault import Effect, Fault
from passcheck.practice.fault_list import FaultList, read_fault_list
from passcheck.practice.healthy import reading_limits, room, typical
from passcheck.practice.sheet import PRACTICE_MARK
from passcheck.practice.shows import GRADES
from passcheck.sequence import model
from passcheck.sequence.load import read_text
from passcheck.sequence.model import Sequence, Step

UNITS = Path(__file__).parent / "units"
"""Where the lists of the demo boards lie."""
MOST_MADE = 8
OUTSIDE = 1.5  # of the room from the middle to the limit
MISSED = 0.3  # of presses


def list_for(sequence: Sequence, folder: Path = UNITS) -> FaultList:
    """A board's faults, with the steps of its practice sheets; no steps stand for the whole sheet.

    A practice sheet gets the faults of its board, all of them and in the same order, so that a serial number brings the
    same fault on either.

    Raises:
        FileFault: there is a list and it doesn't fit the sequence, or it can't be read.
    """
    path = folder / f"{sequence.sequence.lower()}.yaml"
    if path.is_file():
        is_sheet = PRACTICE_MARK in sequence.title
        return read_fault_list(read_text(path), path.name, sequence, partly=is_sheet)
    return made_from(sequence)


def made_from(sequence: Sequence) -> FaultList:
    """One plain fault each for a spread of steps: every block first, powered steps before others."""
    by_block: dict[str, list[Fault]] = {}
    for step in sorted(sequence.steps, key=_preference):
        effect = _effect_at(step)
        if effect is not None and step.variant is None and step.proves and model.ALL_BLOCKS not in step.proves:
            by_block.setdefault(step.proves[0], []).append(_fault(sequence, step, effect))
    spread = (fault for row in zip_longest(*map(_spread, by_block.values())) for fault in row if fault is not None)
    return FaultList(sequence.sequence, (), (), tuple(spread)[:MOST_MADE])


def _preference(step: Step) -> tuple[bool, int]:
    return step.power == model.NO_SUPPLY, len(step.proves)


def _spread(faults: list[Fault]) -> Iterator[Fault]:
    """One of each kind of effect before a second of any."""
    kinds: dict[str, list[Fault]] = {}
    for fault in faults:
        kinds.setdefault(fault.effects[0].what, []).append(fault)
    return (fault for row in zip_longest(*kinds.values()) for fault in row if fault is not None)


def _fault(sequence: Sequence, step: Step, effect: Effect) -> Fault:
    block = step.proves[0]
    named = next(((name, it) for name, it in sequence.symptoms.items() if step.id in it.steps), None)
    return Fault(
        name=step.id,
        says=f"something broke in {sequence.blocks[block].title}, and it shows at {step.title}",
        block=block,
        parts=tuple(sequence.blocks[block].parts[:1]),
        effects=(effect,),
        complaint="" if named is None else named[1].says,
        symptoms=() if named is None else (named[0],),
    )


def _effect_at(step: Step) -> Effect | None:  # noqa: PLR0912 - one row a kind
    """What shows there of something that broke; None where nothing of the kind can be made."""
    match step:
        case model.ReadingStep():
            limits = reading_limits(step)
            if limits is None or step.derive is not None:
                return None
            told = step.typical or (step.node.known_good if step.node is not None else None)
            return Effect(step.id, "reads", _beyond(limits, typical(limits, told, step.seen)))
        case model.PowerUpStep():
            return Effect(step.id, "draws", _beyond(step.limits))
        case model.ResponseStep():
            return Effect(step.id, "delays", _beyond(step.limits))
        case model.PressesStep():
            return Effect(step.id, "dead spots", MISSED)
        case model.LampsStep():
            return _lamp(step)
        case model.SweepStep():
            return Effect(step.id, "slow", OUTSIDE * max(_slowest(step.up), _slowest(step.down)))
        case model.MarksStep():
            return Effect(step.id, "offset", OUTSIDE * float(step.tolerance.value))
        case model.CodesStep():
            return _code(step)
        case model.GradeStep():
            return Effect(step.id, "falls to", seen=GRADES[GRADES.index(step.worst) + 1]) if step.worst != "E" else None
        case model.LookStep():
            return Effect(step.id, "looks", nth=1, seen="not as it should be")
        case model.CountStep():
            return Effect(step.id, "counts", float(step.wanted - 1 if step.wanted else 1))
        case model.TableStep():
            return Effect(step.id, "gives", _beyond(step.rows[0].limits), nth=1)
        case _:
            return None


def _lamp(step: model.LampsStep) -> Effect:
    if step.check == "rate" and step.limits is not None:
        return Effect(step.id, "blinks at", _beyond(step.limits))
    return Effect(step.lamps[0].ref, "dark")


def _code(step: model.CodesStep) -> Effect | None:
    if step.expected:
        return Effect(step.expected[0], "missing")
    if step.provoke:
        return Effect(step.provoke[0].code, "mute")
    return Effect(step.absent[0], "stuck") if step.absent else None


def _beyond(limits: Limits, middle: float | None = None) -> float:
    """Well outside, on the side of the nearer limit; what can't be under nothing stays above it."""
    at = typical(limits) if middle is None else middle
    far = OUTSIDE * room(limits, at)
    low, high = (None if end is None else float(end.value) for end in (limits.low, limits.high))
    if low is None or (high is not None and high - at <= at - low):
        return at + far
    return at - far if low <= 0 or at > far else low / 4


def _slowest(limits: Limits) -> float:
    """How many times the usual time the longest is."""
    return float(limits.high.value) / typical(limits) if limits.high is not None else 1.0
