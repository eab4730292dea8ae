"""What did the unit draw at its first, limited power, and what did the supply's limit light do?"""

from typing import Literal

from passcheck.app.widgets.fields import Ask, NotUnderstood, Understood, of_limits
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import PowerUpAnswer
from passcheck.sequence.model import PowerUpStep

Light = Literal["off", "brief", "on"]
# What may be typed, and how the supply's limit light behaved then.
_LIGHTS: dict[str, Light] = {"no": "off", "brief": "brief", "stays": "on", "off": "off", "on": "on"}
_LIGHT_WORDS: dict[Light, str] = {"off": "it stayed off", "brief": "it was on briefly", "on": "it stays on"}


class PowerUpEntry(FieldsEntry):
    """The current after the stated time, and the limit light."""

    def __init__(self, step: PowerUpStep) -> None:
        """Args: step: the first power-up."""
        current = of_limits(f"Current after {step.after.text}", step.limits)
        light = Ask("Limit light lit?", _read_light, "no, brief, stays")
        super().__init__((current, light), _made)


def _read_light(text: str) -> Understood:
    """`no`, `brief` or `stays`; the first letter will do."""
    typed = text.lower()
    found = {light for word, light in _LIGHTS.items() if word == typed or word[0] == typed != "o"}
    if len(found) != 1:
        raise NotUnderstood(f"'{text}': type no, brief or stays")
    light = found.pop()
    return Understood(light, _LIGHT_WORDS[light])


def _made(texts: tuple[str, ...]) -> PowerUpAnswer:
    return PowerUpAnswer(texts[0], _LIGHTS[texts[1]])
