"""To which class did the unit fall, and how long did it take to come back?"""

from typing import get_args

from passcheck.app.widgets.fields import Ask, NotUnderstood, Understood, of_limits
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import GradeAnswer
from passcheck.sequence.model import Grade, GradeStep

# The five functional status classes of ISO 16750-1, in our words.
MEANING: dict[Grade, str] = {
    "A": "went on working throughout",
    "B": "drifted, and came back by itself",
    "C": "stopped, and came back by itself",
    "D": "needed somebody to reset it",
    "E": "needs repair",
}


class GradeEntry(FieldsEntry):
    """A letter, and the time to recover where the step limits it."""

    def __init__(self, step: GradeStep) -> None:
        """Args: step: the disturbance and the worst class allowed."""
        asks = [Ask("Class seen (A to E)", _read_grade)]
        if step.limits is not None:
            asks.append(of_limits("Time to come back", step.limits, over_range=False))
        lead = "; ".join(f"{letter} {words}" for letter, words in MEANING.items())
        super().__init__(tuple(asks), _made, f"{step.disturbance}. {lead}.")


def _read_grade(text: str) -> Understood:
    for grade in get_args(Grade):
        if text.upper() == grade:
            return Understood(grade, f"{grade}: {MEANING[grade]}")
    raise NotUnderstood(f"'{text}' is no class: type A, B, C, D or E")


def _made(texts: tuple[str, ...]) -> GradeAnswer:
    grades: dict[str, Grade] = {grade: grade for grade in MEANING}
    return GradeAnswer(grades[texts[0]], texts[1] if len(texts) > 1 else None)
