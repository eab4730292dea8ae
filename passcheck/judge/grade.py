"""How badly did a disturbance hit the unit, in functional status classes?"""

from dataclasses import replace
from typing import Final

from passcheck.errors import OurBug
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement, judged_without_number, worst_of
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity
from passcheck.judge.reading import judge_reading

CLASSES: Final[dict[str, str]] = {
    "A": "works throughout",
    "B": "drifts, recovers alone",
    "C": "stops, recovers alone",
    "D": "needs a reset by hand",
    "E": "needs repair",
}
"""Functional status classes in the sense of ISO 16750-1, best first."""


def judge_grade(
    grade: str, worst_allowed: str, recovery: Quantity | None, recovery_limit: Limits | None, accuracy: Accuracy | None
) -> Judgement:
    """Judge a class A to E against the worst one allowed, and the recovery time where one is limited.

    Class A needs no recovery time; D and E have none, so where one is limited they fail.
    `accuracy` is that of what timed the recovery, None only where none is limited.
    Raises OurBug for other letters, or a recovery without an accuracy.
    """
    if grade not in CLASSES or worst_allowed not in CLASSES:
        raise OurBug(f"a class is one of {', '.join(CLASSES)}, not {grade!r} or {worst_allowed!r}")
    seen = f"Class {grade} ({CLASSES[grade]}), worst allowed {worst_allowed}"
    if grade > worst_allowed:
        return judged_without_number("fail", f"{seen}: worse than allowed.", "class")
    good = judged_without_number("pass", f"{seen}.", "class")
    if recovery_limit is None or grade == "A":
        return good
    if grade in {"D", "E"}:
        sentence = f"{seen}, but it never recovers alone, so not {recovery_limit.words()}."
        return judged_without_number("fail", sentence, "class")
    if recovery is None:
        sentence = f"{seen}; the recovery was not timed against {recovery_limit.words()}."
        return judged_without_number("not measured", sentence, "class")
    if accuracy is None:
        raise OurBug("a recovery time is judged with the accuracy of what timed it")
    timed = judge_reading([recovery], recovery_limit, accuracy)
    return replace(worst_of([timed, good]), sentence=f"{seen}; recovery: {timed.sentence}")
