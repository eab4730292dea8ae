"""What do the hands do in a timed step?"""

from passcheck.judge.rate_taps import EVERY, tapped_every
from passcheck.sequence import model
from passcheck.sequence.model import Step


def hands_words(step: Step, key: str) -> str:
    """What one hand presses and the other taps, and when; no limit is named: it bends the hand."""
    match step:
        case model.ResponseStep():
            return (
                f"One hand: {step.press}. The other hand or foot taps {key} at the same moment, and {key} again when "
                f"{step.watch}."
            )
        case model.PressesStep():
            return (
                f"{step.times * len(step.press)} presses of {', '.join(step.press)}, one by one. Each time the other "
                f"hand or foot taps {key} at the same moment, and {key} again when {step.watch}."
            )
        case model.SweepStep():
            return (
                f"{step.gauge}: tap {key} as the pointer passes each of {step.marks} marks, spread evenly over the "
                "arc, its first and last place included. Up, then down, twice; a third time where it is not plain."
            )
        case model.LampsStep(limits=limits) if limits is not None and (every := tapped_every(limits)) is not None:
            return f"Tap {key} once at {EVERY[every]}. Let the hand follow the light, not the rhythm."
        case _:
            return ""
