"""Which part of a board's sequence is walked in practice, so that it takes minutes and not a day?

A practice sheet is the board's own text with steps left out and the soak shortened. What stays is spelt as its author
spelt it; comments go. The nodes are edited, never the data: a plain `yes` or `1.0` must not come out as something else.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from yaml import Node

from passcheck.errors import FileFault
from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity
from passcheck.practice.yaml_nodes import (
    append_words,
    cut,
    drop,
    items,
    nodes_of,
    put,
    put_first,
    spelt,
    text_of,
    value_of,
)
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import NO_SUPPLY, SoakStep, Step
from passcheck.sequence.model import Sequence as TestSequence
from passcheck.sequence.words import did_you_mean

PRACTICE_MARK: Final = "(practice sheet)"
SHORTENED_MARK: Final = "(shortened)"
_BOARD: Final = "the board's file"


@dataclass(frozen=True, slots=True)
class ShortSoak:
    """The most that a soak asks for in practice, as an author would write it; what is shorter already stays so.

    `checks` is how many of its steps a look walks: looks come again, and one step shows how they go.
    """

    hours: str = "20 min"
    every: str = "10 min"
    cycles: int = 0
    warm_up: str = "5 min"
    off: str = "60 s"
    checks: int = 1


def short_sheet(text: str, keep: Sequence[str] | None, soak: ShortSoak) -> str:
    """The text of a practice sheet: the steps of `keep` and what guards them, in the file's order, the soaks shortened.

    A guard protects a person, so none is dropped and nobody has to name one. To each step of `keep` (None: all of the
    file's) come the steps that it needs and the two that it is derived from, and theirs. As soon as one of them is
    powered, every `before-power` step comes with it, which is where a unit is shown dead and without a short, and the
    first power-up on its supply. What points to a step that was left out is taken out: `depends_on`, a soak's `check`,
    `short_round`, a symptom's steps, and a symptom without any left. Cautions, instruments, supplies and blocks stay
    whole, because a simulated fault may sit in a block that no kept step proves.

    Args:
        text: a board's file, or what a journal kept of it.
        keep: ids of steps.
        soak: the most that a soak may ask for.

    Raises:
        FileFault: the text is no sequence, there is no such step, a soak would check nothing or no two looks fit in it.
    """
    sequence = read_sequence(text, _BOARD)
    kept = kept_steps(sequence, keep)
    board = nodes_of(text)
    append_words(board, "title", PRACTICE_MARK)
    _leave_steps_out(board, kept)
    cut(board, "short_round", kept)
    _cut_symptoms(board, kept)
    limits = _Limits.of(soak)
    for row in items(board, "steps"):
        step = sequence.step(text_of(row, "id"))
        cut(row, "depends_on", kept)
        if isinstance(step, SoakStep):
            _shorten(row, step, kept, limits)
    return spelt(board)


def kept_steps(sequence: TestSequence, keep: Sequence[str] | None) -> tuple[str, ...]:
    """The ids of `keep` with those of everything that guards them, in the file's order; see `short_sheet`.

    Raises:
        FileFault: nothing is kept, or there is no such step.
    """
    steps = {step.id: step for step in sequence.steps}
    waiting = list(steps if keep is None else keep)
    if not waiting:
        raise FileFault(f"A practice sheet of {sequence.sequence} has to keep at least one step; name one.")
    kept: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name not in steps:
            hint = did_you_mean(name, sorted(steps)) or "."
            raise FileFault(f"A practice sheet can't keep step '{name}': {sequence.sequence} has none of that id{hint}")
        if name not in kept:
            kept.add(name)
            waiting.extend(_guards(sequence, steps[name]))
    return tuple(name for name in steps if name in kept)


def _guards(sequence: TestSequence, step: Step) -> Iterator[str]:
    """What can't be left out where this step stays."""
    yield from step.needs
    if step.kind == "reading" and step.derive is not None:
        yield from step.derive.of
    if step.power != NO_SUPPLY:
        yield from (one.id for one in sequence.steps if one.role == "before-power")
        yield from [one.id for one in sequence.steps if one.kind == "power-up" and one.power == step.power][:1]


def _leave_steps_out(board: Node, kept: Collection[str]) -> None:
    """Only the rows that stay; the heading of a group goes on with the first row that is left of it."""
    left, heading = [], ""
    for row in items(board, "steps"):
        heading = text_of(row, "heading") or heading
        if text_of(row, "id") in kept:
            if heading:
                put(row, "heading", heading)
            left.append(row)
            heading = ""
    items(board, "steps")[:] = left


def _cut_symptoms(board: Node, kept: Collection[str]) -> None:
    symptoms = value_of(board, "symptoms")
    if symptoms is None:
        return
    for name, symptom in tuple(symptoms.value):
        cut(symptom, "steps", kept)
        if value_of(symptom, "steps") is None:
            drop(symptoms, name.value)
    if not symptoms.value:
        drop(board, "symptoms")


@dataclass(frozen=True, slots=True)
class _Limits:
    """The most that a soak may ask for, by the entry of a step that says it."""

    times: dict[str, Quantity]
    cycles: int
    checks: int

    @classmethod
    def of(cls, soak: ShortSoak) -> "_Limits":
        written = {"hours": soak.hours, "every": soak.every, "warm_up": soak.warm_up, "off": soak.off}
        times = {entry: _time(entry, words) for entry, words in written.items()}
        if times["hours"].value < 2 * times["every"].value:
            raise FileFault(f"A soak of {soak.hours} with a look every {soak.every} has fewer than two looks.")
        return cls(times, soak.cycles, soak.checks)


def _time(entry: str, words: str) -> Quantity:
    try:
        read = parse_quantity(words)
    except QuantityError as wrong:
        raise FileFault(f"The practice soak's '{entry}' can't be read: {wrong}") from wrong
    if read.unit != "s" or read.value <= 0:
        raise FileFault(f"The practice soak's '{entry}' is '{words}', which is no time; write one such as 10 min.")
    return read


def _shorten(row: Node, step: SoakStep, kept: Collection[str], limits: _Limits) -> None:
    """Make a soak short and say on it that it is."""
    cut(row, "check", kept)
    if value_of(row, "check") is None:
        raise FileFault(f"Soak '{step.id}' would check nothing; keep one of its steps {', '.join(step.check)} as well.")
    walked = [name for name in step.check if name in kept]
    cut(row, "check", walked[: limits.checks])
    own = {"hours": step.hours, "every": step.every, "warm_up": step.warm_up, "off": step.off}
    longer = {entry for entry, time in own.items() if time is not None and time.value > limits.times[entry].value}
    for entry in longer:
        put(row, entry, limits.times[entry].text)
    if step.cycles > limits.cycles:
        put(row, "cycles", str(limits.cycles))
    if longer or step.cycles > limits.cycles or len(walked) > limits.checks:
        append_words(row, "title", SHORTENED_MARK)
        put_first(row, "do", _short_words(row))


def _short_words(row: Node) -> str:
    """What holds in place of the figures that the step's own lines still give."""
    cycles = text_of(row, "cycles")
    off = text_of(row, "off") or "60 s"
    cycled = f", power off for {off} and on {cycles} times" if cycles not in {"", "0"} else ""
    return f"Shortened for practice: {text_of(row, 'hours')} at power, a look every {text_of(row, 'every')}{cycled}."
