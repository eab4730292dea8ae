"""What does the front of the unit in hand show now?

It shows what the step at hand shows and rests otherwise. What is broken is never asked for here, so that nobody finds
it by looking at the front: only by walking the steps.
"""

from dataclasses import dataclass, replace
from typing import Final

from passcheck.job.state import Job
from passcheck.job.steps import present
from passcheck.practice.front_parts import FrontParts, front_parts, keys_pressed
from passcheck.practice.in_hand import is_at_power
from passcheck.practice.seen import Dial, Hands, LampSeen, Panel, Row
from passcheck.sequence import model
from passcheck.sequence.model import Step

DOWN_S: Final = 0.3  # a button is seen pressed for so long
NO_FIGURES: Final = "---"
NOT_READ: Final = "not read"
DARK: Final = "dark"


@dataclass(frozen=True, slots=True)
class Key:
    """A button: is it the one that the hand presses next, and is it pressed at this moment?"""

    name: str
    wanted: bool = False
    down: bool = False


@dataclass(frozen=True, slots=True)
class Front:
    """Everything on it at once.

    Attributes:
        name: the board and its serial number.
        powered: has it a supply?
        dials: gauges with their pointers.
        figures: what is shown in figures, and how it stands.
        lamps: indicators.
        keys: buttons.
        codes: the fault codes in words; None where the unit shows none.
        next_s: seconds since the act at which a button comes up again; None where none is pressed.
    """

    name: str
    powered: bool = False
    dials: tuple[Dial, ...] = ()
    figures: tuple[Row, ...] = ()
    lamps: tuple[LampSeen, ...] = ()
    keys: tuple[Key, ...] = ()
    codes: str | None = None
    next_s: float | None = None

    @property
    def is_blank(self) -> bool:
        """Is nothing there to be drawn?"""
        return not (self.dials or self.figures or self.lamps or self.keys or self.codes is not None)


def front_for(job: Job, step: Step | None, panel: Panel, hands: Hands) -> Front:
    """The front.

    Args:
        job: the unit in hand.
        step: what lies on the bench; None where no step does.
        panel: what is to be seen at that step.
        hands: what the hand did at it since the last try.
    """
    parts = front_parts(present(job))
    name = f"{job.sequence.sequence} {job.serial}"
    on = [supply for supply in job.sequence.supplies if is_at_power(job, supply)]
    if not on:
        return _dark(name, parts)
    here = step if step is not None and step.power in (model.NO_SUPPLY, *on) else None
    keys = _keys(parts, here, panel, hands)
    return Front(
        name,
        True,
        tuple(_dial(dial, panel) for dial in parts.dials),
        tuple((figure, _figures(figure, panel)) for figure in parts.figures),
        _lamps(parts, panel),
        keys,
        _codes(here, panel) if parts.shows_codes else None,
        DOWN_S if any(key.down for key in keys) else None,
    )


def _dark(name: str, parts: FrontParts) -> Front:
    """Without a supply: nothing lights, every pointer lies at its stop."""
    return Front(
        name,
        dials=parts.dials,
        figures=tuple((figure, DARK) for figure in parts.figures),
        lamps=tuple(LampSeen(lamp.ref, lamp.colour, "dark") for lamp in parts.lamps),
        keys=tuple(map(Key, parts.keys)),
        codes=DARK if parts.shows_codes else None,
    )


def _dial(dial: Dial, panel: Panel) -> Dial:
    """Its pointer where the step at hand puts it."""
    here = panel.dial
    return dial if here is None or here.name != dial.name else replace(dial, pointer=here.pointer, reads=here.reads)


def _figures(name: str, panel: Panel) -> str:
    return panel.dial.reads or NO_FIGURES if panel.dial is not None and panel.dial.name == name else NO_FIGURES


def _lamps(parts: FrontParts, panel: Panel) -> tuple[LampSeen, ...]:
    """Dark, except those that the step at hand lights."""
    seen = {lamp.ref: lamp for lamp in panel.lamps}
    return tuple(seen.get(lamp.ref, LampSeen(lamp.ref, lamp.colour, "dark")) for lamp in parts.lamps)


def _keys(parts: FrontParts, step: Step | None, panel: Panel, hands: Hands) -> tuple[Key, ...]:
    names = () if step is None or not panel.act else keys_pressed(step)
    if step is None or not names:
        return tuple(map(Key, parts.keys))
    wanted = names[_turn(step, len(names), hands.acts)]
    down = names[_turn(step, len(names), hands.acts - 1)] if hands.acts and hands.since_s < DOWN_S else None
    return tuple(Key(name, name == wanted, name == down) for name in parts.keys)


def _turn(step: Step, names: int, acts: int) -> int:
    """Whose turn it is after so many acts: each its number of presses, or one after another and round again."""
    return min(acts // step.times, names - 1) if isinstance(step, model.PressesStep) else acts % names


def _codes(step: Step | None, panel: Panel) -> str:
    """What the code memory showed last at this step; nobody has read it at any other."""
    return panel.found[-1][1] if isinstance(step, model.CodesStep) and panel.found else NOT_READ
