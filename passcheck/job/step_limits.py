"""What is a step judged by, in the author's own figures?"""

from passcheck.job.judging import lamp_limits
from passcheck.sequence import model
from passcheck.sequence.model import Step


def judged_by(step: Step) -> str:
    """One line; of a step that has none it says so."""
    match step:
        case model.ReadingStep(component=part) if part is not None:
            return f"Limits: {part.nominal.text} ± {part.tolerance.text}"
        case model.ReadingStep() | model.PressesStep() if step.limits is not None:
            return f"Limits: {step.limits.words()}"
        case model.PowerUpStep() | model.ResponseStep():
            return f"Limits: {step.limits.words()}"
        case model.LampsStep() if lamp_limits(step):
            return f"Limits: {'; '.join(limits.words() for limits in lamp_limits(step))}"
        case model.SweepStep():
            return f"Limits: up {step.up.words()}; down {step.down.words()}"
        case model.MarksStep():
            marks = ", ".join(f"{mark.feed} at {mark.mark} ({mark.value.text})" for mark in step.marks)
            return f"Limits: ± {step.tolerance.text} of {marks}"
        case model.CodesStep():
            return f"Expected on this bench: {', '.join(step.expected) or 'none'}"
        case model.GradeStep():
            back = f", back {step.limits.words()}" if step.limits is not None else ""
            return f"Class {step.worst} or better{back}"
        case model.CountStep():
            return f"Wanted: {step.wanted}"
        case model.TableStep():
            return f"Limits: {'; '.join(f'{row.put}: {row.limits.words()}' for row in step.rows)}"
        case _:
            return "This step has no numbers: everything on it has to be as it says."
