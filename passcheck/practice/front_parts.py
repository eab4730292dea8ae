"""What has a board on its front, by what its steps name?

A step looks at lamps, runs a pointer, presses a button or reads codes: so the unit has them, each once, in the order in
which the steps come to them.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from passcheck.practice.scale import scale_of
from passcheck.practice.seen import Dial
from passcheck.practice.seen_moving import sweep_dial
from passcheck.sequence import model
from passcheck.sequence.model import Lamp, Step

SWITCH: Final = re.compile(r"\b(SW?)(\d{1,3})(?: to \1(\d{1,3}))?\b")
"""A switch by its designator (class letter S, IEEE 315), or a row of them."""
FIGURES: Final = re.compile(r"\b(digits?|LCD|display|page)\b", re.IGNORECASE)
"""A gauge with one of these words in its name has no pointer: it shows figures."""


@dataclass(frozen=True, slots=True)
class FrontParts:
    """The front as it is made.

    Attributes:
        dials: gauges with a pointer, the pointer at rest.
        figures: what is shown in figures.
        lamps: indicators.
        keys: buttons by their names.
        shows_codes: does it show fault codes?
    """

    dials: tuple[Dial, ...]
    figures: tuple[str, ...]
    lamps: tuple[Lamp, ...]
    keys: tuple[str, ...]
    shows_codes: bool


def front_parts(steps: tuple[Step, ...]) -> FrontParts:
    """What these steps name."""
    gauges = dict.fromkeys(step.gauge for step in steps if isinstance(step, model.SweepStep | model.MarksStep))
    lamps: dict[str, Lamp] = {}
    for step in steps:
        for lamp in step.lamps if isinstance(step, model.LampsStep) else ():
            lamps.setdefault(lamp.ref, lamp)
    return FrontParts(
        tuple(_dial(name, steps) for name in gauges if not FIGURES.search(name)),
        tuple(name for name in gauges if FIGURES.search(name)),
        tuple(lamps.values()),
        tuple(dict.fromkeys(_all_keys(steps))),
        any(isinstance(step, model.CodesStep) for step in steps),
    )


def keys_pressed(step: Step) -> tuple[str, ...]:
    """The buttons that a step presses, in its order; what is switched, plugged or pulled elsewhere is none of them."""
    match step:
        case model.PressesStep(press=press):
            return press
        case model.ResponseStep(press=press):
            return tuple(name for found in SWITCH.finditer(press) for name in _row(found))
        case _:
            return ()


def _all_keys(steps: Iterable[Step]) -> Iterator[str]:
    for step in steps:
        yield from keys_pressed(step)


def _row(found: re.Match[str]) -> tuple[str, ...]:
    letters, first, last = found.group(1, 2, 3)
    if last is None:
        return (f"{letters}{first}",)
    return tuple(f"{letters}{nth}" for nth in range(int(first), int(last) + 1))


def _dial(name: str, steps: tuple[Step, ...]) -> Dial:
    """Its marks as they are printed; of a gauge that is only swept nobody told more than how many it has."""
    for step in steps:
        if isinstance(step, model.MarksStep) and step.gauge == name:
            return Dial(name, scale_of(step, steps).marks, 0.0)
    sweep = next(step for step in steps if isinstance(step, model.SweepStep) and step.gauge == name)
    return Dial(name, tuple((share, "") for share, _text in sweep_dial(sweep, 0.0).marks), 0.0)
