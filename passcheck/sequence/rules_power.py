"""Is power applied only after what has to be known first, and within limits that protect the unit?"""

from collections.abc import Iterator
from decimal import Decimal

from passcheck.sequence.finding import Finding, error, warning
from passcheck.sequence.model import NO_SUPPLY, Step
from passcheck.sequence.sheet import Sheet

HIGHEST_EXTRA_LOW_V = 120  # ripple-free DC, IEC 61140; 50 V for AC
MOST_OVER_IDLE = 3  # a current limit further above what the unit takes protects nothing


def guarded_power(sheet: Sheet) -> Iterator[Finding]:
    """A shorted rail is found with the meter, not with the supply."""
    behind = _behind_a_guard(sheet)
    known = {step.id for step in sheet.sequence.steps}
    for number, step in sheet.steps():
        leads_nowhere = not known.issuperset(step.needs)  # a finding of its own
        if step.power != NO_SUPPLY and step.id not in behind and not leads_nowhere:
            why = "power is applied here with no unpowered check before it; full current into a short destroys the unit"
            remedy = "let 'needs' lead to an unpowered reading, or to a power-up that needs one"
            yield Finding(("steps", number, "power"), f"{why} and its evidence: {remedy}")


def _behind_a_guard(sheet: Sheet) -> set[str]:
    """Steps whose needs, or theirs, lead to something measured without power; a stand-in counts as measured."""
    waited_for: dict[str, list[str]] = {}
    for step in sheet.sequence.steps:
        for needed in step.needs:
            waited_for.setdefault(needed, []).append(step.id)
    waiting = [step.id for step in sheet.sequence.steps if _is_guard(step) or step.id in sheet.stand_ins]
    behind: set[str] = set()
    while waiting:
        for step_id in waited_for.get(waiting.pop(), ()):
            if step_id not in behind:
                behind.add(step_id)
                waiting.append(step_id)
    return behind


def _is_guard(step: Step) -> bool:
    return step.power == NO_SUPPLY and step.kind in {"reading", "table"}


def first_power_is_limited(sheet: Sheet) -> Iterator[Finding]:
    """Each supply meets the unit first in a current-limited power-up."""
    started = {step.power for _, step in sheet.every_step() if step.kind == "power-up"}
    started |= {step.power for _, step in sheet.every_step() if sheet.stand_ins.get(step.id) in {"power-up", ""}}
    for number, step in sheet.steps():
        if step.power not in {NO_SUPPLY, *started} and step.power in sheet.sequence.supplies:
            started.add(step.power)
            why = f"'{step.power}' is used here without a power-up step before it; begin it with one, current-limited"
            yield warning(why, "steps", number, "power")


def power_up_has_power(sheet: Sheet) -> Iterator[Finding]:
    """A power-up or a soak without a supply asks for nothing."""
    for number, step in sheet.steps():
        if step.kind in {"power-up", "soak"} and step.power == NO_SUPPLY:
            yield error(f"a {step.kind} step needs 'power' with the name of its supply", "steps", number)


def current_limit_fits(sheet: Sheet) -> Iterator[Finding]:
    """The limit lets a good unit run and stops a bad one."""
    for name, supply in sheet.sequence.supplies.items():
        tops = [
            step.limits.high.value
            for _, step in sheet.steps()
            if step.kind == "power-up" and step.power == name and step.limits.high is not None
        ]
        limit = supply.current_limit.value
        if tops and limit < max(tops):
            why = f"{supply.current_limit.text} is below the {max(tops).normalize():f} A that a good unit may take at"
            yield error(f"{why} power-up, so the limit would trip on it", "supplies", name, "current_limit")
            continue
        most = supply.working_current.value if supply.working_current is not None else max(tops, default=limit)
        if limit > MOST_OVER_IDLE * most:
            why = f"{supply.current_limit.text} is more than {MOST_OVER_IDLE} times what a good unit takes"
            remedy = "so it protects little; lower it, or write 'working_current'"
            yield warning(f"{why} ({most.normalize():f} A), {remedy}", "supplies", name, "current_limit")


def supply_range_holds_nominal(sheet: Sheet) -> Iterator[Finding]:
    """The nominal voltage lies in the supply's own range, and extra-low is extra-low."""
    for name, supply in sheet.sequence.supplies.items():
        if not supply.range.holds(supply.nominal.value):
            why = f"the nominal {supply.nominal.text} lies outside the range '{supply.range.text}'"
            yield error(f"{why}; one of the two is wrong", "supplies", name, "nominal")
        top = supply.range.high
        if top is None or supply.range.low is None:
            yield error(
                "a supply's range has two ends; a unit stands neither any voltage nor none", "supplies", name, "range"
            )
        elif supply.supply_class == "extra-low" and top.value > HIGHEST_EXTRA_LOW_V:
            why = f"{top.text} is above {HIGHEST_EXTRA_LOW_V} V, where extra-low voltage ends (50 V for AC)"
            yield error(f"{why}; write 'class: hazardous-live'", "supplies", name, "class")


def unplugged_is_another(sheet: Sheet) -> Iterator[Finding]:
    """A supply can't power a step and be out."""
    for number, step in sheet.steps():
        if step.power in step.unplugged:
            yield error(f"'{step.power}' can't power this step and be unplugged for it", "steps", number, "unplugged")


def set_inside_range(sheet: Sheet) -> Iterator[Finding]:
    """A power-up is made at a voltage that its supply has."""
    for number, step in sheet.steps():
        supply = sheet.sequence.supplies.get(step.power)
        if step.kind == "power-up" and step.set is not None and supply is not None:
            value: Decimal = step.set.value
            if not supply.range.holds(value):
                why = f"{step.set.text} is outside the supply's range '{supply.range.text}'"
                yield error(f"{why}, which the unit may not stand", "steps", number, "set")


RULES = (
    guarded_power,
    first_power_is_limited,
    power_up_has_power,
    current_limit_fits,
    supply_range_holds_nominal,
    unplugged_is_another,
    set_inside_range,
)
