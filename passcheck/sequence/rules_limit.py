"""Can the limits of a reading tell a good unit from a bad one, or from a probe that never touched?"""

from collections.abc import Iterator
from decimal import Decimal

from passcheck.judge.accuracy import Accuracy, capability
from passcheck.judge.derived import derived_unit
from passcheck.judge.limits import Limits
from passcheck.judge.reading import decidable
from passcheck.sequence.capability import measured_limits, shown_digit
from passcheck.sequence.finding import Finding, error, warning
from passcheck.sequence.model import ReadingStep, Step
from passcheck.sequence.sheet import Sheet

LEAST_RATIO = 4  # tolerance over expanded uncertainty; the usual demand on a test instrument


def _readings(sheet: Sheet) -> Iterator[tuple[int, ReadingStep]]:
    for number, step in sheet.steps():
        if step.kind == "reading":
            yield number, step


def something_to_judge_by(sheet: Sheet) -> Iterator[Finding]:
    """A reading has limits, or a component whose nominal value gives them."""
    for number, step in _readings(sheet):
        if step.limits is None and step.component is None:
            why = "this reading has neither 'limits' nor 'component', so no value could fail; write 'limits'"
            yield error(why, "steps", number)
        if step.derive is None and step.at is None:
            yield warning("this reading doesn't say 'at' which two points the probes go", "steps", number)


def one_sided_limits(sheet: Sheet) -> Iterator[Finding]:
    """Nothing connected reads zero or OL, which is inside a one-sided limit."""
    for number, step in sheet.steps():
        if step.kind == "power-up" and step.limits.low is None:
            why = "a unit that isn't connected draws 0 A, which is inside; write the least current it takes as well"
            yield error(why, "steps", number, "limits")
        if step.kind == "table":
            for place, row in enumerate(step.rows):
                if row.limits.low is None or row.limits.high is None:
                    why = "a row with one limit passes a probe that doesn't touch; write both ends"
                    yield error(why, "steps", number, "rows", place, "limits")
    for number, step in _readings(sheet):
        if step.limits is not None and step.derive is None:
            yield from _one_sided(step, step.limits, number)


def _one_sided(step: ReadingStep, limits: Limits, number: int) -> Iterator[Finding]:
    loose = "0" if limits.low is None else "OL"
    if (limits.low is None) == (limits.high is None):
        return
    if step.seen is None and step.leads is None:
        why = f"a probe that doesn't touch reads {loose}, which is inside '{limits.text}'; write both ends"
        remedy = "or 'seen' with the band of a real reading ('leads' for small ohms)"
        yield error(f"{why}, {remedy}", "steps", number, "limits")
    elif step.seen is None and limits.high is None:
        why = "'leads' shows that the meter works, not that the probes touch: OL would pass"
        yield error(f"{why}; write 'seen' with the top of a real reading", "steps", number, "leads")
    elif step.seen is not None:
        yield from _seen(step.seen, limits, number)


def _seen(seen: Limits, limits: Limits, number: int) -> Iterator[Finding]:
    """The band of a real reading leaves out what a loose probe shows, and holds the limit itself."""
    if limits.high is not None and seen.holds(Decimal(0)):
        yield error(
            "zero lies inside 'seen', and zero is what a loose probe reads; write its low end", "steps", number, "seen"
        )
    if limits.low is not None and seen.high is None:
        yield error(
            "OL lies inside 'seen', and OL is what a loose probe reads; write its high end", "steps", number, "seen"
        )
    end = limits.high or limits.low
    if end is not None and not seen.holds(end.value):
        yield error(
            f"the limit {end.text} lies outside 'seen', so no reading could be judged by it", "steps", number, "seen"
        )


def typical_inside(sheet: Sheet) -> Iterator[Finding]:
    """The value of a good board lies inside its own limits."""
    for number, step in _readings(sheet):
        if step.typical is not None and step.limits is not None and not step.limits.holds(step.typical.value):
            why = f"the typical value {step.typical.text} lies outside '{step.limits.text}'; one of the two is wrong"
            yield warning(why, "steps", number, "typical")


def decided_by_its_instrument(sheet: Sheet) -> Iterator[Finding]:
    """The least instrument that the step asks for can decide the step's limits."""
    for number, step in sheet.steps():
        for loc, limits in measured_limits(step):
            yield from _judged_with(sheet, step, limits, "steps", number, *loc)


def _judged_with(sheet: Sheet, step: Step, limits: Limits, *loc: str | int) -> Iterator[Finding]:
    role = step.instrument
    if role is None:
        yield warning("no 'instrument' is named, so nothing shows that these limits can be decided", *loc)
        return
    need = sheet.sequence.instruments.get(role)
    if need is None:
        return  # an unknown name is already a finding, a faulty instrument too
    digit = shown_digit(limits)
    why = decidable(limits, need.accuracy, digit)
    if why is not None:
        yield error(f"{why[0].lower()}{why[1:].rstrip('.')}, so '{role}' won't do here", *loc)
    elif step.rule == "guarded":
        yield from _ratio(limits, need.accuracy, digit, role, *loc)


def _ratio(limits: Limits, accuracy: Accuracy, digit: Decimal, role: str, *loc: str | int) -> Iterator[Finding]:
    ratio = capability(limits, accuracy, digit)
    if ratio is not None and ratio < LEAST_RATIO:
        why = f"these limits are {ratio:.1f} times as wide as the error of '{accuracy.text}' ({LEAST_RATIO} is usual)"
        yield warning(f"{why}, so many good units will be in doubt; ask for a better {role}", *loc)


def two_readings_for_a_derived_one(sheet: Sheet) -> Iterator[Finding]:
    """A derived value is worked out from two readings that were made before it."""
    before: set[str] = set()
    for number, step in sheet.every_step():
        if step.kind == "reading" and step.derive is not None:
            for place, used in enumerate(step.derive.of):
                if used not in before and any(used == it.id for it in sheet.sequence.steps):
                    why = f"'{used}' is not a reading made before this step, so there is nothing to work with"
                    yield error(why, "steps", number, "derive", "of", place)
        if step.kind == "reading" or step.id in sheet.stand_ins:
            before.add(step.id)


def derived_in_its_unit(sheet: Sheet) -> Iterator[Finding]:
    """The limits of a derived value are in the unit that its two readings give."""
    units: dict[str, str] = {}
    for number, step in sheet.steps():
        if step.kind != "reading":
            continue
        if step.limits is not None:
            units[step.id] = step.limits.unit
        if step.derive is None or step.limits is None or not units.keys() >= set(step.derive.of):
            continue  # a reading without limits of its own, or a finding of its own
        first, second = (units[used] for used in step.derive.of)
        found = derived_unit(step.derive.form, first, second)
        if found is None or found[0] != step.limits.unit:
            gives = "no unit known here" if found is None else found[0]
            why = f"the {step.derive.form} of readings in {first} and {second} gives {gives}, not {step.limits.unit}"
            yield error(why, "steps", number, "limits")


def something_to_look_at(sheet: Sheet) -> Iterator[Finding]:
    """A list that is walked has entries."""
    for number, step in sheet.steps():
        for entry in {"look": ("points",), "lamps": ("lamps",), "marks": ("marks",), "table": ("rows",)}.get(
            step.kind, ()
        ):
            if not getattr(step, entry):
                yield error(f"this list is empty, so a {step.kind} step would pass unseen", "steps", number, entry)
        if step.kind == "lamps" and step.check == "rate" and step.limits is None:
            yield error("a blink rate is judged by 'limits' in Hz; write them", "steps", number)


RULES = (
    something_to_judge_by,
    one_sided_limits,
    typical_inside,
    decided_by_its_instrument,
    two_readings_for_a_derived_one,
    derived_in_its_unit,
    something_to_look_at,
)
