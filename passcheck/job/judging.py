"""What does an answer at a step amount to?

One row a kind of step: the answer is read into values and handed to the judge's function of that kind.
"""

from dataclasses import replace

from passcheck.job import answers
from passcheck.job.answers import Answer
from passcheck.job.deriving import Operands
from passcheck.job.entry import EntryFault, quantity, readings
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.codes import judge_codes
from passcheck.judge.count import judge_count
from passcheck.judge.derived_reading import judge_derived
from passcheck.judge.grade import judge_grade
from passcheck.judge.in_circuit import judge_in_circuit
from passcheck.judge.judgement import Judgement, worst_of
from passcheck.judge.lamps import judge_lamp_rate, judge_lamps
from passcheck.judge.limits import Limits
from passcheck.judge.look import judge_look
from passcheck.judge.marks import judge_marks
from passcheck.judge.power_up import judge_power_up
from passcheck.judge.presses import judge_presses
from passcheck.judge.quantity import OverRange, Quantity
from passcheck.judge.reading import judge_reading
from passcheck.judge.response import judge_response
from passcheck.judge.sweep import judge_sweep
from passcheck.judge.table import judge_table
from passcheck.sequence import model
from passcheck.sequence.model import Step

Values = tuple[Quantity | OverRange, ...]
TIMER = "timer"
"""The role of what times a step whose author names no instrument: a timed step may always be measured."""


def needs_accuracy(step: Step) -> bool:
    """True where the answer holds a quantity that an instrument gave; what is worked out has none of its own."""
    match step:
        case model.ReadingStep(derive=model.Derive()):
            return False
        case model.ReadingStep() | model.PowerUpStep() | model.ResponseStep() | model.SweepStep() | model.TableStep():
            return True
        case model.PressesStep() | model.GradeStep():
            return step.limits is not None
        case model.LampsStep():
            return any(lamp_limits(step))
        case _:
            return False


def instrument_role(step: Step) -> str | None:
    """The role that the step's instrument fills: the author's, or for a time or a rate without one a timer.

    None where nothing is measured, and where the author named no role for a quantity that isn't a time.
    """
    timed = isinstance(
        step, model.ResponseStep | model.SweepStep | model.LampsStep | model.PressesStep | model.GradeStep
    )
    if is_derived(step):
        return None
    return step.instrument or (TIMER if timed and needs_accuracy(step) else None)


def is_derived(step: Step) -> bool:
    """True where the value is worked out from two readings and nothing is typed."""
    return isinstance(step, model.ReadingStep) and step.derive is not None


def judge_worked_out(step: Step, answer: Answer, operands: Operands) -> Judgement:
    """Judge a value that is worked out from two readings.

    Raises:
        EntryFault: something was typed, or the two don't give what the limits are in.
    """
    if not isinstance(step, model.ReadingStep) or step.derive is None or step.limits is None:
        raise EntryFault(f"{step.title} is not worked out from two readings with limits")
    if answer != answers.ReadingAnswer(()):
        raise EntryFault("this value is worked out from two readings and never typed: answer without one")
    try:
        return judge_derived(
            step.derive.form, *operands, step.limits, same_meter=step.derive.same_meter, rule=step.rule
        )
    except ValueError as fault:
        raise EntryFault(f"{fault}") from None


def lamp_limits(step: model.LampsStep) -> tuple[Limits, ...]:
    """The limits of the times or the rate that a lamp step asks for, in the order they are asked."""
    asked = (step.limits,) if step.check == "rate" else (step.on_within, step.off_after)
    return tuple(limits for limits in asked if limits is not None)


def judge_answer(  # noqa: PLR0912 - one row a kind
    step: Step, answer: Answer, accuracy: Accuracy | None, earlier: tuple[Answer, ...] = ()
) -> Judgement:
    """Judge an answer by its step's limits.

    Args:
        step: the step that was tried.
        answer: what was observed, of the shape that the step's kind takes.
        accuracy: that of the instrument; None only where no quantity was measured.
        earlier: answers of the same instrument that enter the same decision.

    Raises:
        EntryFault: the answer is of the wrong shape, or something in it can't be read.
    """
    match step, answer:
        case model.ReadingStep(), answers.ReadingAnswer():
            return _reading(step, answer, _needed(accuracy), _read_before(step, earlier))
        case model.PowerUpStep(), answers.PowerUpAnswer():
            before = (one.current for one in earlier if isinstance(one, answers.PowerUpAnswer))
            currents = readings((*before, answer.current), step.limits.unit)
            return judge_power_up(currents, step.limits, _needed(accuracy), answer.limit_light)
        case model.ResponseStep(), answers.ReadingAnswer():
            times = readings(answer.readings, step.limits.unit)
            return judge_response((*_read_before(step, earlier), *times), step.limits, _needed(accuracy))
        case model.PressesStep(), answers.PressesAnswer():
            return _presses(step, answer, accuracy)
        case model.LampsStep(), answers.ListAnswer():
            return _lamps(step, answer, accuracy, earlier)
        case model.SweepStep(), answers.SweepAnswer():
            up, down = quantity(answer.up, step.up.unit), quantity(answer.down, step.down.unit)
            return judge_sweep(up, down, step.up, step.down, _needed(accuracy), answer.hesitation)
        case model.MarksStep(), answers.MarksAnswer():
            return _marks(step, answer)
        case model.CodesStep(), answers.CodesAnswer():
            return _codes(step, answer)
        case model.GradeStep(), answers.GradeAnswer():
            return _grade(step, answer, accuracy)
        case model.LookStep(), answers.ListAnswer():
            return judge_look(step.points, _departures(answer.departures, len(step.points)))
        case model.CountStep(), answers.CountAnswer():
            return judge_count(_count(answer.counted), step.wanted)
        case model.TableStep(), answers.TableAnswer():
            return _table(step, answer, _needed(accuracy), earlier)
        case _:
            raise EntryFault(f"a {answer.shape} answer doesn't fit a {step.kind} step")


def _needed(accuracy: Accuracy | None) -> Accuracy:
    if accuracy is None:
        raise EntryFault("this step is measured: name the instrument")
    return accuracy


def _read_before(step: model.ReadingStep | model.ResponseStep, earlier: tuple[Answer, ...]) -> Values:
    """Readings of earlier tries; a component has no limits of its own and each of its tries stands alone."""
    if step.limits is None:
        return ()
    texts = tuple(text for one in earlier if isinstance(one, answers.ReadingAnswer) for text in one.readings)
    return readings(texts, step.limits.unit) if texts else ()


def _reading(step: model.ReadingStep, answer: answers.ReadingAnswer, accuracy: Accuracy, earlier: Values) -> Judgement:
    if step.component is not None:
        return _component(step.component, answer, accuracy)
    if step.limits is None:
        raise EntryFault("the sequence gives this step no limits")
    values = readings(answer.readings, step.limits.unit)
    if step.leads is None:
        return judge_reading((*earlier, *values), step.limits, accuracy, seen=step.seen, rule=step.rule)
    return _after_leads(step, step.limits, step.leads, (*earlier, *values), answer.leads, accuracy)


def _after_leads(
    step: model.ReadingStep, limits: Limits, leads: Limits, values: Values, shorted: str | None, accuracy: Accuracy
) -> Judgement:
    """Leads shorted first: that shows the meter and its leads, so over range at an upper limit is then the unit's own.

    It doesn't show that the probe touched, so over range never passes a lower limit by it.
    """
    if shorted is None:
        raise EntryFault(f"short the leads first and give what the meter shows ({leads.words()} is needed)")
    found = readings((shorted,), leads.unit)[0]
    if isinstance(found, OverRange) or not leads.holds(found.value):
        raise EntryFault(f"the shorted leads read {found.text}, not {leads.words()}: mend the leads before you measure")
    seen = step.seen if limits.high is None else Limits(None, None, None, limits.unit, "anything: the leads were tried")
    return judge_reading(values, limits, accuracy, seen=seen, rule=step.rule)


def _component(part: model.Component, answer: answers.ReadingAnswer, accuracy: Accuracy) -> Judgement:
    unit = part.nominal.unit
    forward = readings(answer.readings, unit)[0]
    reverse = readings((answer.reverse,), unit)[0] if answer.reverse is not None else None
    return judge_in_circuit(
        forward,
        reverse,
        part.nominal,
        part.tolerance.value,
        accuracy,
        parallel=part.parallel,
        parallel_tolerance_percent=part.parallel_tolerance.value if part.parallel_tolerance else None,
        expected=part.expected,
    )


def _presses(step: model.PressesStep, answer: answers.PressesAnswer, accuracy: Accuracy | None) -> Judgement:
    slowest = None
    if step.limits is not None:
        if answer.slowest is None:
            raise EntryFault("give the slowest of the responses: this step limits them")
        slowest = quantity(answer.slowest, step.limits.unit)
    wanted = step.times * len(step.press)
    return judge_presses(_count(answer.counted), wanted, slowest, step.limits, accuracy)


def _lamps(
    step: model.LampsStep, answer: answers.ListAnswer, accuracy: Accuracy | None, earlier: tuple[Answer, ...]
) -> Judgement:
    walked = walked_lamps(step, answer.departures)
    asked = lamp_limits(step)
    if len(answer.times) != len(asked):
        raise EntryFault(f"this step asks for {len(asked)} measured value(s) and {len(answer.times)} came")
    every = (*(one for one in earlier if isinstance(one, answers.ListAnswer)), answer)
    judged = [
        judge_lamp_rate(readings((one.times[nth] for one in every), limits.unit), limits, _needed(accuracy))
        for nth, limits in enumerate(asked)
    ]
    found = (walked, *judged)
    return replace(worst_of(found), sentence=" ".join(one.sentence for one in found))


def walked_lamps(step: model.LampsStep, departures: tuple[answers.Departure, ...]) -> Judgement:
    """Judge what was seen along the lamps.

    Raises:
        EntryFault: there is no such lamp, or nothing is said of it.
    """
    names = tuple(f"{lamp.ref} ({lamp.colour})" for lamp in step.lamps)
    return judge_lamps(names, _departures(departures, len(names)))


def _marks(step: model.MarksStep, answer: answers.MarksAnswer) -> Judgement:
    unit = step.tolerance.unit
    wanted = len(step.marks)
    down_wanted = wanted if step.both_ways else 0
    if len(answer.up) != wanted or len(answer.down) != down_wanted:
        raise EntryFault(f"give {wanted} marks rising and {down_wanted} falling")
    return judge_marks(
        tuple(mark.value.value for mark in step.marks),
        tuple(quantity(text, unit).value for text in answer.up),
        tuple(quantity(text, unit).value for text in answer.down),
        step.tolerance.value,
        step.readability.value,
        unit,
        tuple(mark.mark for mark in step.marks),
    )


def _codes(step: model.CodesStep, answer: answers.CodesAnswer) -> Judgement:
    came = frozenset(answer.provoked)
    provoked = {one.code: one.code in came for one in step.provoke}
    after = None if answer.after_clear is None else frozenset(answer.after_clear)
    if step.clear is not None and after is None:
        raise EntryFault("read the codes once more after clearing and a power cycle: the step asks for it")
    return judge_codes(frozenset(answer.present), frozenset(step.expected), frozenset(step.absent), provoked, after)


def _grade(step: model.GradeStep, answer: answers.GradeAnswer, accuracy: Accuracy | None) -> Judgement:
    if step.limits is None:
        return judge_grade(answer.grade, step.worst, None, None, None)
    if answer.recovery is None:
        raise EntryFault("give the time it took to come back: this step limits it")
    return judge_grade(
        answer.grade, step.worst, quantity(answer.recovery, step.limits.unit), step.limits, _needed(accuracy)
    )


def _table(
    step: model.TableStep, answer: answers.TableAnswer, accuracy: Accuracy, earlier: tuple[Answer, ...]
) -> Judgement:
    if len(answer.outputs) != len(step.rows):
        raise EntryFault(f"{len(step.rows)} outputs are asked for and {len(answer.outputs)} came")
    every = (*(one for one in earlier if isinstance(one, answers.TableAnswer)), answer)
    rows = tuple((row.put, row.limits) for row in step.rows)
    outputs = tuple(readings((one.outputs[nth] for one in every), row.limits.unit) for nth, row in enumerate(step.rows))
    return judge_table(rows, outputs, accuracy)


def _departures(departures: tuple[answers.Departure, ...], length: int) -> dict[int, str]:
    for departure in departures:
        if not 1 <= departure.number <= length:
            raise EntryFault(f"there is no line {departure.number}: the list has {length}")
        if not departure.seen.strip():
            raise EntryFault(f"say what was seen at line {departure.number}")
    return {departure.number: departure.seen for departure in departures}


def _count(counted: int) -> int:
    if counted < 0:
        raise EntryFault("a count can't be below zero")
    return counted
