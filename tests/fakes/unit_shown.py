"""A newcomer who knows nothing of the unit: does what the panel offers and types what it then shows, and no more."""

from collections.abc import Callable

from passcheck.app.widgets.grade import MEANING
from passcheck.job import answers
from passcheck.job.answers import Answer, Departure
from passcheck.practice.seen import Hands, Panel, Row
from passcheck.practice.seen_at_step import AFTERWARDS, AS_LISTED
from passcheck.practice.seen_moving import NO_ANSWER
from passcheck.sequence import model
from passcheck.sequence.model import Step

Look = Callable[[Hands], Panel]
"""The panel of a step after what the hand did."""
LATER_S = 3600.0


def answer_shown(step: Step, look: Look) -> Answer:  # noqa: PLR0912 - one row a kind
    """The answer that the panel gives to this step."""
    last = look(Hands(_acts(step), LATER_S))
    meters, found = _values(last.meters), _values(last.found)
    match step:
        case model.ReadingStep():
            leads = meters.pop(0) if step.leads is not None else None
            reverse = meters.pop() if step.component is not None else None
            return answers.ReadingAnswer(tuple(meters), reverse, leads)
        case model.ResponseStep():
            assert last.lamps[0].state == "LIT", NO_ANSWER
            return answers.ReadingAnswer((meters[-1],))
        case model.TableStep():
            return answers.TableAnswer(tuple(meters))
        case model.PowerUpStep():
            light = {"off": "off", "was on briefly": "brief", "ON": "on"}[last.supply[0].partition("limit light ")[2]]
            assert light in ("off", "brief", "on")
            return answers.PowerUpAnswer(meters[0], light)  # type: ignore[arg-type]
        case model.PressesStep():
            counted = sum(button.counted or 0 for button in last.buttons)
            return answers.PressesAnswer(counted, meters[0] if step.limits is not None else None)
        case model.LampsStep():
            return answers.ListAnswer(_lamps_amiss(step, look), tuple(meters))
        case model.SweepStep():
            halt = found[0] if "stopped" in found[0] else None
            return answers.SweepAnswer(meters[0], meters[1], halt)
        case model.MarksStep():
            count = len(step.marks)
            return answers.MarksAnswer(tuple(found[:count]), tuple(reversed(found[count:])))
        case model.CodesStep():
            sets = [() if value == "none" else tuple(value.split()) for value in found]
            provoked = sets.pop(1) if step.provoke else ()
            return answers.CodesAnswer(sets[0], provoked, sets[1] if step.clear is not None else None)
        case model.GradeStep():
            grade = next(letter for letter, words in AFTERWARDS.items() if words == found[0])
            assert grade in MEANING
            return answers.GradeAnswer(grade, meters[0] if meters else None)
        case model.LookStep():
            amiss = ((int(name), seen) for name, seen in last.found if seen != AS_LISTED)
            return answers.ListAnswer(tuple(Departure(*one) for one in amiss))
        case model.CountStep():
            return answers.CountAnswer(int(found[0]))
        case _:
            raise AssertionError(step.kind)


def _acts(step: Step) -> int:
    """As often as the step asks for."""
    match step:
        case model.PressesStep():
            return step.times * len(step.press)
        case model.MarksStep():
            return 2 * len(step.marks)
        case _:
            return 2


def _lamps_amiss(step: model.LampsStep, look: Look) -> tuple[Departure, ...]:
    """Every lamp that isn't lit when it should be, watched closely after the act."""
    found = {}
    for nth in range(len(step.lamps)):
        acts = nth + 1 if step.check == "alone" else 1
        states = {look(Hands(acts, tenth / 10)).lamps[nth].state for tenth in range(40)}
        seen = next((state for state in ("LIT", "flickers") if state in states), "dark")
        if seen != "LIT":
            found[nth + 1] = seen
    return tuple(Departure(number, seen) for number, seen in found.items())


def _values(rows: tuple[Row, ...]) -> list[str]:
    return [value for _name, value in rows]
