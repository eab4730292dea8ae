"""What goes wrong between an eye and the keys?

A slip changes one written figure in one of the ways people mistype: two digits change places, one is hit beside the
other on the keypad, one is typed twice or left out, the point lands elsewhere. The program is to catch those that
leave the limits, by asking once more.
"""

import re
from collections.abc import Callable
from dataclasses import replace
from random import Random
from typing import Final

from passcheck.job.answers import (
    Answer,
    CountAnswer,
    GradeAnswer,
    ListAnswer,
    MarksAnswer,
    PowerUpAnswer,
    PressesAnswer,
    ReadingAnswer,
    SweepAnswer,
    TableAnswer,
)

BESIDE = {
    "0": "12", "1": "240", "2": "135", "3": "26", "4": "157", "5": "2468", "6": "359", "7": "48", "8": "579", "9": "68",
}  # fmt: skip
"""Keys beside each other on a numeric pad."""
FIGURES = re.compile(r"\d+(?:\.\d+)?")


def slipped(answer: Answer, draw: Random) -> Answer:
    """The same answer with one figure typed wrong; an answer without figures stays as it is."""
    match answer:
        case ReadingAnswer(readings) if readings:
            return replace(answer, readings=_one_of(readings, draw))
        case TableAnswer(outputs) if outputs:
            return replace(answer, outputs=_one_of(outputs, draw))
        case MarksAnswer(up) if up:
            return replace(answer, up=_one_of(up, draw))
        case PowerUpAnswer(current):
            return replace(answer, current=mistyped(current, draw))
        case SweepAnswer(up):
            return replace(answer, up=mistyped(up, draw))
        case GradeAnswer(recovery=recovery) if recovery is not None:
            return replace(answer, recovery=mistyped(recovery, draw))
        case ListAnswer(times=times) if times:
            return replace(answer, times=_one_of(times, draw))
        case CountAnswer(counted) | PressesAnswer(counted):
            return replace(answer, counted=int(_digits(str(counted), draw)))
        case _:
            return answer


def mistyped(text: str, draw: Random) -> str:
    """The text with its number typed wrong."""
    found = FIGURES.search(text)
    if found is None:
        return text
    return f"{text[: found.start()]}{_digits(found.group(), draw)}{text[found.end() :]}"


def _digits(number: str, draw: Random) -> str:
    """One way after another until the number is another one; a nought more in front makes no other."""
    tries = (way(number, draw) for way in draw.sample(WAYS, len(WAYS)))
    wrong = (typed for typed in tries if FIGURES.fullmatch(typed) and typed.lstrip("0") != number.lstrip("0"))
    return next(wrong)  # there is one: a key beside another always makes another number


def _swapped(number: str, draw: Random) -> str:
    places = [at for at in range(len(number) - 1) if number[at].isdigit() and number[at + 1].isdigit()]
    if not places:
        return number
    at = draw.choice(places)
    return f"{number[:at]}{number[at + 1]}{number[at]}{number[at + 2 :]}"


def _beside(number: str, draw: Random) -> str:
    at = draw.choice([place for place, sign in enumerate(number) if sign.isdigit()])
    return f"{number[:at]}{draw.choice(BESIDE[number[at]])}{number[at + 1 :]}"


def _doubled(number: str, draw: Random) -> str:
    at = draw.choice([place for place, sign in enumerate(number) if sign.isdigit()])
    return f"{number[: at + 1]}{number[at]}{number[at + 1 :]}"


def _left_out(number: str, draw: Random) -> str:
    at = draw.choice([place for place, sign in enumerate(number) if sign.isdigit()])
    return f"{number[:at]}{number[at + 1 :]}"


def _point_moved(number: str, draw: Random) -> str:
    if "." not in number:
        return number
    digits, at = number.replace(".", ""), number.index(".") + draw.choice((-1, 1))
    return f"{digits[:at]}.{digits[at:]}"


def _one_of(texts: tuple[str, ...], draw: Random) -> tuple[str, ...]:
    at = draw.randrange(len(texts))
    return (*texts[:at], mistyped(texts[at], draw), *texts[at + 1 :])


WAYS: Final[tuple[Callable[[str, Random], str], ...]] = (
    _swapped,
    _beside,
    _beside,  # as often again as each other way
    _doubled,
    _left_out,
    _point_moved,
)
